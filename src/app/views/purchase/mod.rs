//! The buyer's place: the order, few lines, the shelf with the offers.

mod answer;
mod constraints;
mod detail;
mod few_lines;
mod lines;
mod search;
mod settings;
mod shared;
mod shelf;
mod state;
mod totals;

use egui::Ui;

use crate::app::actions::{Action, Command, LiveScene, PurchaseAction};
use crate::app::widgets::{self, theme, theme::space};
use answer::Answer;
pub(crate) use state::PurchaseState;
use state::Tab;

const TABS: [(Tab, &str, &str); 3] = [
    (Tab::Order, "Order", "What to order, from whom, and what it comes to."),
    (
        Tab::FewLines,
        "Consolidate order",
        "Parts shared between positions, so that parts and order lines cost least together.",
    ),
    (Tab::Shelf, "Stock and quotes", "What the shop has already, and offers of further suppliers."),
];

/// Room right of the tabs from which copying has a button of its own, points.
const COPY_APART: f32 = 230.0;

/// Draws the place.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut PurchaseState) {
    ui.horizontal_wrapped(|ui| {
        // A button goes to the next line whole.
        ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Extend);
        widgets::tabs(ui, &mut state.tab, TABS);
        ui.separator();
        // Where there is no room beside each other, copying is an entry of the menu.
        let narrow = ui.available_size_before_wrap().x < COPY_APART;
        let copy = |ui: &mut Ui| {
            let copy = ui.add_enabled(state.answer.is_some(), egui::Button::new("Copy as table"));
            if copy.on_hover_text("Copies every line of the order for a spreadsheet.").clicked() {
                scene.push(Action::Buying(PurchaseAction::CopyList));
                ui.close();
            }
        };
        match state.tab {
            Tab::Order | Tab::FewLines => {
                if !narrow {
                    copy(ui);
                }
                ui.menu_button("Export…", |ui| {
                    ui.set_min_width(230.0);
                    if narrow {
                        copy(ui);
                    }
                    for command in [
                        Command::ExportPurchase,
                        Command::ExportSuppliers,
                        Command::ExportWorkbook,
                        Command::ExportWorksheet,
                        Command::ExportInspection,
                        Command::ExportPacking,
                        Command::ExportJustification,
                    ] {
                        widgets::menu_item(ui, scene, command, command.info().label);
                    }
                });
            }
            Tab::Shelf => {
                widgets::button(ui, scene, Command::AddOffers);
            }
        }
    });
    if ui.ctx().content_rect().height() >= space::SHORT {
        ui.separator();
    }
    let PurchaseState { answer, lines, few_lines, shelf, drafts, .. } = state;
    let answer = answer.as_ref();
    scene.typing(drafts, || match state.tab {
        Tab::Order => order(ui, scene, answer, lines),
        Tab::FewLines => few_lines::show(ui, scene, answer, few_lines),
        Tab::Shelf => shelf::show(ui, scene, answer, shelf),
    });
}

fn order(ui: &mut Ui, scene: &LiveScene, answer: Option<&Answer>, lines: &mut lines::State) {
    // In a short window the lines of the order have the room.
    let short = ui.ctx().content_rect().height() < space::SHORT;
    if short {
        ui.horizontal_wrapped(|ui| {
            let button = ui.button("Quantities…").on_hover_text(settings::heading(scene.job));
            widgets::menu(&button, |ui| settings::fields(ui, scene, answer));
            answer.into_iter().for_each(|answer| totals::show(ui, answer, scene, true));
        });
    } else {
        settings::show(ui, scene, answer);
        answer.into_iter().for_each(|answer| totals::show(ui, answer, scene, false));
    }
    let Some(answer) = answer else {
        ui.label("The order is being added up…");
        return;
    };
    totals::notes(ui, answer);
    if answer.purchase.lines.is_empty() {
        ui.add_space(8.0);
        ui.label(
            "Nothing to order yet: no position has a part. Pick one under Candidates, or let Consolidate order propose them.",
        );
        return;
    }
    let heading = egui::Frame::new().fill(theme::tokens(ui).panel).inner_margin(8);
    let panel = egui::Panel::bottom("purchase line").frame(heading).resizable(true);
    let beside = widgets::Beside { edge: widgets::Edge::Bottom, id: "purchase line", panel, usual: 150.0 };
    widgets::main_then_panel(ui, beside, |ui, main| {
        if main {
            lines::show(ui, answer, lines);
        } else if let Some(line) = lines.selected(&answer.purchase) {
            detail::show(ui, scene, answer, line);
        }
    });
}
