//! The buyer's place: the order, few lines, the shelf with the offers, and the record of the rebuilt units.

mod answer;
mod constraints;
mod detail;
mod few_lines;
mod lines;
mod search;
mod settings;
mod shelf;
mod totals;
mod units;

use egui::{Align, Layout, Response, RichText, TextStyle, Ui, vec2};

use crate::app::actions::action::Action;
use crate::app::actions::command::Command;
use crate::app::state::scene::Scene;
use crate::app::views::editor::entry::Drafts;
use crate::app::widgets;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::app::widgets::wording;
use crate::domain::{Job, PositionId};
use crate::files::unit_record::{RecordsRead, UnitRecord};
use crate::sizing::OrderOptions;
pub(crate) use answer::Answer;
pub(crate) use search::{Found, Search};

/// What the place asks for beside edits and commands.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum PurchaseAction {
    /// Looks for an order of few lines.
    FindOrder(OrderOptions),
    /// Stops looking; the best found so far counts.
    StopOrder,
    /// Adds a rebuild to the record of the units.
    AddRecord(Box<UnitRecord>),
    /// Copies the order as a table.
    CopyList,
}

/// The sheets of the place.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Tab {
    #[default]
    Order,
    FewLines,
    Shelf,
    Units,
}

const TABS: [(Tab, &str, &str); 4] = [
    (Tab::Order, "Order", "What to order, from whom, and what it comes to."),
    (Tab::FewLines, "Few lines", "Parts shared between positions, so that parts and order lines cost least together."),
    (Tab::Shelf, "Shelf and offers", "What the shop has already, and offers of further suppliers."),
    (Tab::Units, "Units", "What was done to each serial number, when it is due, and how its parts wore."),
];

/// What the place remembers.
#[derive(Default)]
pub(crate) struct PurchaseState {
    tab: Tab,
    drafts: Drafts,
    answer: Option<Answer>,
    lines: lines::State,
    few_lines: few_lines::State,
    shelf: shelf::State,
    units: units::State,
}

impl PurchaseState {
    /// Forgets everything but the sheet that is shown.
    pub(crate) fn start_anew(&mut self) {
        *self = Self { tab: self.tab, ..Self::default() };
    }

    /// The order as it was added up last.
    pub(crate) fn known(&self) -> Option<&Answer> {
        self.answer.as_ref()
    }

    /// Forgets the order: the parts are others now.
    pub(crate) fn forget_parts(&mut self) {
        self.answer = None;
    }

    /// Takes in an order that was added up.
    pub(crate) fn answer(&mut self, answer: Answer) {
        self.answer = Some(answer);
    }

    /// Starts a search; what it finds belongs to the handle.
    pub(crate) fn start_search(&mut self) -> Search {
        self.few_lines.start()
    }

    /// Stops the search, if one goes on.
    pub(crate) fn stop_search(&self) {
        self.few_lines.stop();
    }

    /// No search goes on any more: it may have been given up without a result.
    pub(crate) fn search_ended(&mut self) {
        self.few_lines.ended();
    }

    /// Takes in what a search found.
    pub(crate) fn found(&mut self, found: Found) {
        self.few_lines.found(found);
    }

    /// Takes in the record of the units; after a rebuild was added the form is put away.
    pub(crate) fn take_units(&mut self, read: RecordsRead, added: bool) {
        self.units.take(read, added);
    }
}

/// Draws the place.
pub(crate) fn show(
    ui: &mut Ui,
    scene: &Scene,
    state: &mut PurchaseState,
    refusal: &dyn Fn(Command) -> Option<String>,
    out: &mut Vec<Action>,
) {
    ui.horizontal_wrapped(|ui| {
        for (tab, name, hover) in TABS {
            if ui.selectable_label(state.tab == tab, name).on_hover_text(hover).clicked() {
                state.tab = tab;
            }
        }
        ui.separator();
        match state.tab {
            Tab::Order | Tab::FewLines => {
                let copy = ui.add_enabled(state.answer.is_some(), egui::Button::new("Copy as table"));
                if copy.on_hover_text("Copies every line of the order for a spreadsheet.").clicked() {
                    out.push(Action::Buying(PurchaseAction::CopyList));
                }
                ui.menu_button("Export", |ui| {
                    ui.set_min_width(230.0);
                    for command in [
                        Command::ExportPurchase,
                        Command::ExportSuppliers,
                        Command::ExportWorkbook,
                        Command::ExportWorksheet,
                        Command::ExportJustification,
                    ] {
                        widgets::menu_item(ui, command, command.info().label, refusal(command).as_deref(), out);
                    }
                });
            }
            Tab::Shelf => {
                widgets::button(ui, Command::AddOffers, refusal(Command::AddOffers).as_deref(), out);
            }
            Tab::Units => {
                widgets::button(ui, Command::ExportUnits, refusal(Command::ExportUnits).as_deref(), out);
            }
        }
    });
    ui.separator();
    match state.tab {
        Tab::Order => order(ui, scene, state, out),
        Tab::FewLines => {
            few_lines::show(ui, scene, state.answer.as_ref(), &mut state.few_lines, &mut state.drafts, out);
        }
        Tab::Shelf => shelf::show(ui, scene, state.answer.as_ref(), &mut state.shelf, &mut state.drafts, out),
        Tab::Units => units::show(ui, scene, &mut state.units, refusal, out),
    }
}

fn order(ui: &mut Ui, scene: &Scene, state: &mut PurchaseState, out: &mut Vec<Action>) {
    let PurchaseState { answer, lines, drafts, .. } = state;
    settings::show(ui, scene, answer.as_ref(), drafts, out);
    let Some(answer) = answer.as_ref() else {
        ui.label("The order is being added up…");
        return;
    };
    totals::show(ui, answer, out);
    if answer.purchase.lines.is_empty() {
        ui.add_space(8.0);
        ui.label(
            "Nothing to order yet: no position has a part. Pick one under Candidates, or let Few lines propose them.",
        );
        return;
    }
    let heading = egui::Frame::new().fill(theme::tokens(ui).panel).inner_margin(8);
    let panel = egui::Panel::bottom("purchase line").frame(heading).resizable(true);
    let main = |ui: &mut Ui, lines: &mut lines::State| lines::show(ui, answer, lines);
    let aside = |ui: &mut Ui, lines: &mut lines::State| {
        if let Some(line) = lines.selected(&answer.purchase) {
            detail::show(ui, scene, answer, line, out);
        }
    };
    let beside = widgets::Beside { edge: widgets::Edge::Bottom, id: "purchase line", panel, usual: 150.0 };
    widgets::main_then_panel(ui, beside, lines, main, aside);
}

/// The positions in words; each a link that selects it.
fn position_links(ui: &mut Ui, job: &Job, ids: &[PositionId], out: &mut Vec<Action>) {
    for id in ids {
        let (Some(board), Some(position)) = (job.boards.get(id.board), job.position(*id)) else { continue };
        let text = format!("{} {}", board.name, position.reference);
        if ui.link(text).on_hover_text("Selects this position.").clicked() {
            out.push(Action::Select(*id));
        }
    }
}

/// Money with its currency; unknown where it is not known.
fn money(amount: Option<f64>, currency: &str) -> String {
    match amount {
        Some(amount) if currency.is_empty() => format!("{amount:.2}, currency unknown"),
        Some(amount) => format!("{amount:.2} {currency}"),
        None => wording::UNKNOWN.to_owned(),
    }
}

/// A figure, or the heading above one, at the right edge of a cell of a grid.
fn right(ui: &mut Ui, width: f32, text: impl Into<RichText>) -> Response {
    let size = vec2(width, ui.text_style_height(&TextStyle::Body));
    let cell = ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.label(text.into())
    });
    cell.inner
}

/// The heading above figures, which explains itself.
fn right_column(ui: &mut Ui, width: f32, text: &str, explained: &str) {
    let colour = theme::tokens(ui).weak;
    explain::titled(right(ui, width, RichText::new(text).color(colour)), text, explained);
}

fn weak(ui: &mut Ui, text: impl Into<String>) {
    let colour = theme::tokens(ui).weak;
    ui.label(RichText::new(text).color(colour));
}
