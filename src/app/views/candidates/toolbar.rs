//! Above the table: the filter with its examples, what is listed, and which columns.

use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{self, Grid, Id, Key, Modifiers, PopupCloseBehavior, RichText, TextEdit, Ui};

use super::columns::{COLUMNS, Subject, TableColumn};
use super::{filter::EXAMPLES, filter::Filter, state::Below, state::CandidatesState};
use crate::app::actions::{Action, Command, LiveScene};
use crate::app::state::{Candidate, Scene};
use crate::app::widgets::{self, wording};
use crate::domain::Outcome;

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, tight: bool, state: &mut CandidatesState) {
    ui.horizontal_wrapped(|ui| {
        filter(ui, scene, tight, state);
        columns(ui, state);
        ui.checkbox(&mut state.ask.ruled_out, "Show excluded parts").on_hover_text(
            "Also lists the parts that are excluded by capacitance, operating voltage, mounting or size, after all others. \
             Their figures are worked out when they come into sight, so only what the data sheet says can be filtered and sorted.",
        );
        let copy = if state.marked.len() < 2 { "Copy row".to_owned() } else { format!("Copy {} rows", state.marked.len()) };
        let info = Command::CopyRows.info();
        let keys = info.keys.first().map_or_else(String::new, |keys| ui.ctx().format_shortcut(keys));
        if ui.button(copy).on_hover_text(format!("{} ({keys})", info.hover)).clicked() {
            scene.push(Action::Run(Command::CopyRows));
        }
    });
    caption(ui, scene, state);
}

fn filter(ui: &mut Ui, scene: &LiveScene, tight: bool, state: &mut CandidatesState) {
    let id = Id::unique("filter of the candidates");
    // Told by what stands in the field where there is no room for its name; the examples have a tab below the table, too.
    let label = (!tight).then(|| ui.label("Filter"));
    let typing = ui.memory(|memory| memory.has_focus(id));
    let down = typing && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::ArrowDown));
    let room = (ui.available_width() - 540.0).clamp(if tight { 120.0 } else { 180.0 }, 460.0);
    let edit = TextEdit::singleline(&mut state.ask.filter)
        .id(id)
        .desired_width(room)
        .hint_text(if tight || room < 290.0 { "Filter: h < 20" } else { "words, or h < 20   life > 10   price <= 1" });
    let response = ui.add(edit);
    let response = match label {
        Some(label) => response.labelled_by(label.id),
        None => widgets::named(response, "Filter"),
    };
    let response = response.on_hover_text(
        "Lists only candidates that hold everything typed here. Enter or the down arrow goes on to the list, Escape clears.",
    );
    if std::mem::take(&mut state.next.to_filter) {
        response.request_focus();
    }
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    if response.lost_focus() && pressed(Key::Escape) {
        state.ask.filter.clear();
    }
    if down || (response.lost_focus() && pressed(Key::Enter)) {
        to_list(scene, state);
    }
    if !state.ask.filter.is_empty()
        && ui.button("Clear").on_hover_text("Clears the filter (Escape in the field).").clicked()
    {
        state.ask.filter.clear();
    }
    let shown = state.below == Below::Examples;
    if !tight
        && ui
            .add(egui::Button::new("Examples").selected(shown))
            .on_hover_text("What can be typed into the filter.")
            .clicked()
    {
        state.below = if shown { Below::Reasons } else { Below::Examples };
    }
}

/// On to the list, at a row that is listed.
fn to_list(scene: &LiveScene, state: &CandidatesState) {
    let listed = scene.candidate().is_some_and(|candidate| state.index_of(scene, candidate).is_some());
    let first = state.listed(scene).and_then(|listing| listing.ids.first());
    if let (false, Some(&id)) = (listed, first) {
        scene.push(Action::SelectCandidate(Candidate::Part(id)));
    }
    scene.push(Action::Run(Command::ToCandidates));
}

/// What can be typed into the filter; a click adds an example.
pub(super) fn examples(ui: &mut Ui, state: &mut CandidatesState) {
    /// Narrower than this, the examples stand in one list instead of two side by side, points.
    const TWO_LISTS: f32 = 900.0;
    ui.label("All that is typed must hold. Click an example to add it to the filter.");
    let lines = if ui.available_width() < TWO_LISTS { EXAMPLES.len() } else { EXAMPLES.len().div_ceil(2) };
    ui.spacing_mut().interact_size.y = 0.0;
    Grid::new("examples").num_columns(4).spacing([12.0, 3.0]).show(ui, |ui| {
        for at in 0..lines {
            for (text, meaning) in EXAMPLES.iter().skip(at).step_by(lines) {
                if widgets::link(ui, RichText::new(*text).monospace()).clicked() {
                    let gap = if state.ask.filter.is_empty() { "" } else { " " };
                    state.ask.filter = format!("{}{gap}{text}", state.ask.filter.trim_end());
                }
                ui.weak(*meaning);
            }
            ui.end_row();
        }
    });
    for (kind, names) in names() {
        ui.add(egui::Label::new(RichText::new(format!("{kind}: {names}")).weak()).wrap());
    }
}

/// What can stand in front of a comparison, by kind; figures with what they mean where the word does not say it.
fn names() -> [(&'static str, String); 3] {
    let of = |wanted: fn(&Subject) -> bool| {
        let named = COLUMNS.iter().filter(|column| wanted(&column.subject)).map(|column| match column.words[0] {
            word if word == column.name.to_lowercase() || !matches!(column.subject, Subject::Number(..)) => {
                word.to_owned()
            }
            word => format!("{word} ({})", column.name),
        });
        named.collect::<Vec<_>>().join(", ")
    };
    [
        ("Figures", of(|subject| matches!(subject, Subject::Number(..)))),
        ("Checks", of(|subject| matches!(subject, Subject::Verdict | Subject::Check(_)))),
        ("Texts", of(|subject| matches!(subject, Subject::Text(_)))),
    ]
}

fn columns(ui: &mut Ui, state: &mut CandidatesState) {
    let config = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let (response, _) = MenuButton::new("Columns").config(config).ui(ui, |ui| {
        ui.set_min_width(240.0);
        if ui.button("Default columns").on_hover_text("Shows the columns the program came with.").clicked() {
            state.unusual.clear();
        }
        ui.separator();
        // Side by side, so that all are seen at once.
        let per_column = (COLUMNS.len() - 1).div_ceil(3);
        Grid::new("columns").num_columns(3).spacing([20.0, 2.0]).show(ui, |ui| {
            for line in 0..per_column {
                for at in (1 + line..COLUMNS.len()).step_by(per_column) {
                    let mark = ui.checkbox(&mut state.shows(at), in_chooser(&COLUMNS[at]));
                    if mark.on_hover_text(COLUMNS[at].hover).changed() && !state.unusual.remove(&at) {
                        state.unusual.insert(at);
                    }
                }
                ui.end_row();
            }
        });
    });
    response.on_hover_text("Which columns are shown, and what they mean.");
}

fn in_chooser(column: &TableColumn) -> String {
    let name = wording::capital(column.name);
    if matches!(column.subject, Subject::Check(_)) { format!("{name} check") } else { name }
}

/// What is listed, in which order; what of the filter could not be understood.
fn caption(ui: &mut Ui, scene: &Scene, state: &CandidatesState) {
    let faults = Filter::parse(&state.ask.filter).faults;
    if let Some(first) = faults.first() {
        ui.horizontal_wrapped(|ui| {
            widgets::mark(ui, Outcome::Marginal, "filter not understood");
            let more = if faults.len() > 1 { " There is more that is not understood." } else { "" };
            ui.label(format!("{first} Left out until then.{more}"));
        });
    }
    let text = match state.listed(scene) {
        None => "The candidates are being checked.".to_owned(),
        Some(listing) => {
            let of_all = listing.candidates.len();
            let candidates = listing.ids.len() - listing.ruled_out;
            let found = if listing.ask.filter.trim().is_empty() {
                wording::count(of_all, "candidate", "candidates")
            } else {
                format!("{candidates} of {}", wording::count(of_all, "candidate", "candidates"))
            };
            let order = match listing.ask.sort {
                None => "best first".to_owned(),
                Some(sort) => format!(
                    "by {}, {} first",
                    COLUMNS[sort.column].name.to_lowercase(),
                    if sort.descending { "largest" } else { "smallest" }
                ),
            };
            let others = listing.candidates.ruled_out;
            let others = if listing.candidates.lists_excluded(listing.ask.ruled_out) {
                let nearest = if listing.candidates.any_usable() { "" } else { ", the nearest first" };
                format!("{} of {others} excluded parts are listed after them{nearest}", listing.ruled_out)
            } else {
                format!("{others} others are excluded by capacitance, operating voltage, mounting or size")
            };
            let full = format!("{found}, {order}; {others}.");
            if wording::width(ui, &full) < ui.available_width() { full } else { format!("{found}, {order}.") }
        }
    };
    ui.weak(text);
}
