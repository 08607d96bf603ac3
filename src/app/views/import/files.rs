//! Which file is shown, and how it is laid out: detected, and open to be overruled.

use egui::{ComboBox, Label, RichText, Ui};

use super::state::{File, ImportState, Known};
use crate::app::actions::{Action, Command, ImportAction, LiveScene};
use crate::app::widgets::{self, theme, wording};
use crate::domain::style::counted;
use crate::files::table::{Encoding, Layout, Options, Separator};
use crate::files::{cell::Decimal, cell::Order, import::Mapping, import::Target, import::source::Origin};

const TARGETS: [(Target, &str); 4] = [
    (Target::Parts, "component catalogue"),
    (Target::Positions, "bill of materials (BOM)"),
    (Target::Placement, "placement (centroid)"),
    (Target::Offers, "offers of suppliers"),
];

const SEPARATORS: [(Separator, &str); 6] = [
    (Separator::Comma, "comma"),
    (Separator::Semicolon, "semicolon"),
    (Separator::Tab, "tab"),
    (Separator::Pipe, "bar |"),
    (Separator::Blanks, "blanks, fixed width"),
    (Separator::Markup, "Markdown or wiki"),
];

const ALL_SHEETS: &str = "all sheets";

/// Lines among which the header can be chosen.
const HEADER_CHOICES: usize = 20;

/// A choice under its name, so wide: what holds now, what may hold; the new value when another one is chosen.
pub(super) fn choose<T: PartialEq + Copy>(
    ui: &mut Ui,
    name_width: (&str, f32),
    now: T,
    options: &[(T, String)],
) -> Option<T> {
    let shown = options.iter().find(|(known, _)| *known == now).map_or("", |option| option.1.as_str());
    choose_showing(ui, name_width, shown, now, options)
}

/// The same where something else is shown for what holds.
fn choose_showing<T: PartialEq + Copy>(
    ui: &mut Ui,
    (name, width): (&str, f32),
    shown: &str,
    now: T,
    options: &[(T, String)],
) -> Option<T> {
    let list = ComboBox::from_id_salt(name).width(width).selected_text(shown).truncate();
    let entries = options.iter().map(|(value, label)| (*value, *value == now, label.clone()));
    let (response, chosen) = widgets::choice(ui, list, entries);
    widgets::named(response, name);
    chosen.filter(|value| *value != now)
}

/// Draws a choice behind its name.
fn labelled<R>(ui: &mut Ui, (name, width): (&str, f32), choice: impl FnOnce(&mut Ui, (&str, f32)) -> R) -> R {
    // A label and its choice stay in one line.
    let both = wording::width(ui, name) + width + 4.0 * ui.spacing().item_spacing.x;
    if ui.cursor().left() > ui.max_rect().left() + 1.0 && ui.available_size_before_wrap().x < both {
        ui.end_row();
    }
    ui.horizontal(|ui| {
        ui.add(Label::new(name).extend());
        choice(ui, (name, width))
    })
    .inner
}

/// The files at hand.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState, scene: &LiveScene) {
    let mut close = None;
    ui.horizontal_wrapped(|ui| {
        if !state.is_empty() {
            widgets::button(ui, scene, Command::ImportList);
        }
        for (at, file) in state.files.iter().enumerate() {
            let tables = file.sheets().len().max(1);
            for table in 0..tables {
                let (file_name, sheet) = (state.name(at), file.sheets().get(table));
                let several = file.sheets_named.len() > 1;
                let titled = sheet.filter(|sheet| several || sheet.mapping.only_board.is_some());
                let name = match titled {
                    _ if tables == 1 => file_name,
                    Some(sheet) => format!("{file_name}, {}", sheet.source.title),
                    None => format!("{file_name}, table {}", table + 1),
                };
                let broken = matches!(file.known, Known::Refused(_));
                let shown = match (broken, state.open_questions((at, table))) {
                    (true, _) => format!("{name} (cannot be read)"),
                    (false, 0) => name.clone(),
                    (false, 1) => format!("{name} (1 question)"),
                    (false, open) => format!("{name} ({open} questions)"),
                };
                let tab = ui.selectable_label(state.shown == (at, table), shown);
                if tab.on_hover_text(file.path.display().to_string()).clicked() {
                    state.shown = (at, table);
                    state.drafts.clear();
                }
                let cross = widgets::named(ui.small_button("×"), format!("Close {name}"));
                if cross.on_hover_text("Leaves this file out.").clicked() {
                    close = Some((at, table));
                }
                ui.add_space(4.0);
            }
        }
    });
    if let Some((file, table)) = close {
        state.close(file, table);
    }
}

/// How the file shown is laid out.
pub(super) fn layout(ui: &mut Ui, state: &mut ImportState, scene: &LiveScene) {
    let Some(sheet) = state.sheet().cloned() else { return };
    let Some(file) = state.files.get(state.shown.0).cloned() else { return };
    let found = &sheet.source.table.found;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let options = TARGETS.map(|(target, word)| (target, word.to_owned()));
        let chosen = labelled(ui, ("Content", 138.0), |ui, name| choose(ui, name, sheet.mapping.target, &options));
        if let Some(target) = chosen {
            state.reread(|file| file.target = Some(target));
        }
        if found.layout == Layout::Sheet {
            sheet_choice(ui, &file, state);
            return;
        }
        if found.layout == Layout::Printed {
            return;
        }
        let encodings = Encoding::ALL.iter().map(|of| (*of, of.label().to_owned()));
        detected(ui, state, ("Encoding", 120.0), found.encoding, encodings, |options| &mut options.encoding);
        let separators = SEPARATORS.map(|(of, word)| (of, word.to_owned()));
        detected(ui, state, ("Separator", 120.0), found.separator, separators, |options| &mut options.separator);
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        // No line of the file is the line 0: there is no header.
        let line = found.header_line.unwrap_or(0);
        let lines = (1..=HEADER_CHOICES.max(line)).map(|line| (line, format!("line {line}")));
        let lines = std::iter::once((0, "none".to_owned())).chain(lines);
        detected(ui, state, ("Header", 108.0), line, lines, |options| &mut options.header_line);
        let marks = [
            (None, "from the cells".to_owned()),
            (Some(Decimal::Dot), "dot".to_owned()),
            (Some(Decimal::Comma), "comma".to_owned()),
        ];
        rule(ui, state, ("Decimal mark", 96.0), &marks, |mapping| &mut mapping.decimal);
        rules(ui, state);
    });
    let words = match sheet.origin {
        Origin::Proposed => "Meanings are proposed from headers and cells.".to_owned(),
        Origin::Remembered => {
            let remembered = sheet.source.remembered.join("; ");
            format!("Remembered from a file with the same headers: {remembered}.")
        }
        Origin::Given => "Meanings as you set them; remembered for these headers when taken in.".to_owned(),
    };
    // A line of its own, however long: what is set must not move the table.
    let words = format!("{}. {words}", counted(sheet.source.table.rows.len(), "row", "rows"));
    let weak = theme::tokens(ui).weak;
    ui.add(Label::new(RichText::new(&words).color(weak)).truncate()).on_hover_text(words);
    ui.horizontal_wrapped(|ui| {
        if sheet.mapping.target == Target::Parts {
            let mut invented = sheet.mapping.invented;
            let hover = "Nobody can buy them: the catalogue says so, and they go on no order without a question.";
            if ui.checkbox(&mut invented, "Invented parts").on_hover_text(hover).changed() {
                state.change_mapping(|mapping| mapping.invented = invented);
            }
        }
        if sheet.origin != Origin::Proposed && ui.small_button("Back to the proposal").clicked() {
            state.propose_again();
        }
        if ui
            .small_button("Save mapping…")
            .on_hover_text("Writes the meanings to a file (*.json), for a colleague or for the command line.")
            .clicked()
        {
            scene.push(Action::Import(ImportAction::WriteMapping));
        }
        if ui.small_button("Use a mapping…").on_hover_text("Takes the meanings from a file saved before.").clicked() {
            scene.push(Action::Import(ImportAction::ReadMapping));
        }
    });
}

/// The sheets of a workbook of several.
fn sheet_choice(ui: &mut Ui, file: &File, state: &mut ImportState) {
    let names: Vec<String> =
        file.content.iter().flat_map(|content| content.sheets()).map(|name| name.to_owned()).collect();
    if names.len() < 2 {
        return;
    }
    // Without a choice the sheet that can be meant is read.
    let read = match file.sheets_named.as_slice() {
        [one] => names.iter().position(|name| name == one),
        _ => None,
    };
    let shown = match (read, file.sheets_named.len()) {
        (Some(at), _) => names[at].clone(),
        (None, 0) => "the one with a list".to_owned(),
        (None, _) => ALL_SHEETS.to_owned(),
    };
    let mut options: Vec<(Option<usize>, String)> =
        names.iter().cloned().enumerate().map(|(at, n)| (Some(at), n)).collect();
    options.push((Some(names.len()), ALL_SHEETS.to_owned()));
    let chosen = labelled(ui, ("Sheet", 160.0), |ui, name| choose_showing(ui, name, &shown, read, &options));
    if let Some(Some(at)) = chosen {
        let named = names.get(at).map_or_else(|| names.clone(), |name| vec![name.clone()]);
        state.reread(|file| file.sheets_named = named);
    }
}

/// Asks which sheet of a workbook is meant.
pub(super) fn which_sheet(ui: &mut Ui, state: &mut ImportState, names: &[String]) {
    ui.add_space(8.0);
    ui.strong("Which sheet is the list?");
    ui.label("This workbook has several sheets that may be meant. Sheets of several boards can be read together.");
    ui.add_space(6.0);
    let mut named = None;
    ui.horizontal_wrapped(|ui| {
        for name in names {
            if ui.button(name).clicked() {
                named = Some(vec![name.clone()]);
            }
        }
        if ui.button(ALL_SHEETS).clicked() {
            named = Some(names.to_vec());
        }
    });
    if let Some(named) = named {
        state.reread(|file| file.sheets_named = named);
    }
}

/// Something of the layout that is found in the file, open to be overruled: what was found, and what may be.
fn detected<T: PartialEq + Copy>(
    ui: &mut Ui,
    state: &mut ImportState,
    name: (&str, f32),
    found: T,
    all: impl IntoIterator<Item = (T, String)>,
    slot: fn(&mut Options) -> &mut Option<T>,
) {
    let Some(now) = state.files.get(state.shown.0).map(|file| *slot(&mut file.options.clone())) else { return };
    let all = all.into_iter().map(|(value, word)| (Some(value), word));
    let options: Vec<_> = std::iter::once((None, "as detected".to_owned())).chain(all).collect();
    let word = options.iter().find(|(known, _)| *known == Some(found)).map_or("", |option| option.1.as_str());
    let shown = if now.is_none() { word.to_owned() } else { format!("{word} (set)") };
    if let Some(chosen) = labelled(ui, name, |ui, name| choose_showing(ui, name, &shown, now, &options)) {
        state.reread(|file| *slot(&mut file.options) = chosen);
    }
}

/// Answers of the person that hold for the whole file, to be taken back.
fn rules(ui: &mut Ui, state: &mut ImportState) {
    let Some(mapping) = state.sheet().map(|sheet| sheet.mapping.clone()) else { return };
    let yes_no = |ask: &str, yes: &str, no: &str| {
        [(None, ask.to_owned()), (Some(true), yes.to_owned()), (Some(false), no.to_owned())]
    };
    if mapping.size_order.is_some() {
        let options = [
            (None, "as the cells say".to_owned()),
            (Some(Order::DiameterFirst), "diameter first".to_owned()),
            (Some(Order::HeightFirst), "height first".to_owned()),
        ];
        rule(ui, state, ("Sizes such as 11x5", 110.0), &options, |mapping| &mut mapping.size_order);
    }
    if mapping.unsaid_are_electrolytic.is_some() {
        let options = yes_no("ask", "keep", "skipped");
        rule(ui, state, ("Kind not said", 84.0), &options, |mapping| &mut mapping.unsaid_are_electrolytic);
    }
    if mapping.part_number_codes.is_some() {
        let options = yes_no("ask", "used", "not used");
        rule(ui, state, ("Codes in part numbers", 84.0), &options, |mapping| &mut mapping.part_number_codes);
    }
    if mapping.target == Target::Placement {
        // Where a mapping says upwards, it is the same as nothing said.
        let up = mapping.y_down.filter(|down| !down);
        let options = [(up, "upwards".to_owned()), (Some(true), "downwards".to_owned())];
        rule(ui, state, ("y grows", 90.0), &options, |mapping| &mut mapping.y_down);
    }
}

/// One of them: name and width of its choice, what may hold, and where the mapping keeps it.
fn rule<T: PartialEq + Copy>(
    ui: &mut Ui,
    state: &mut ImportState,
    name: (&str, f32),
    options: &[(Option<T>, String)],
    slot: fn(&mut Mapping) -> &mut Option<T>,
) {
    let Some(now) = state.sheet().map(|sheet| *slot(&mut sheet.mapping.clone())) else { return };
    if let Some(chosen) = labelled(ui, name, |ui, name| choose(ui, name, now, options)) {
        state.change_mapping(|mapping| *slot(mapping) = chosen);
    }
}

/// A small heading with its explanation.
pub(super) fn heading(ui: &mut Ui, text: &str, meaning: &str) {
    ui.add_space(2.0);
    ui.label(RichText::new(text).strong()).on_hover_text(meaning);
}
