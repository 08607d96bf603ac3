//! What holds for every row of the file that does not say it itself: the head of a data sheet's table.

use egui::{Grid, ScrollArea, TextEdit, Ui};

use crate::app::views::import::files::choose;
use crate::app::views::import::state::ImportState;
use crate::app::widgets::theme;
use crate::domain::{CAN_NUMBERS, EnduranceBasis, Mounting, Outcome, Technology};
use crate::files::fields::POSITION;
use crate::files::import::{EveryRow, Mapping, Target};

/// A figure: its name among the catalogue's columns, its name for people.
const NUMBERS: [(&str, &str); 14] = [
    ("endurance_h", "Endurance"),
    ("temp_max_c", "Upper temperature"),
    ("temp_min_c", "Lower temperature"),
    ("ripple_hz", "Frequency of the ripple"),
    ("esr_hz", "Frequency of the ESR"),
    ("rated_v", "Rated voltage"),
    ("tolerance_pct", "Tolerance"),
    ("core_rise_k", "Core rise at rated ripple"),
    ("f50", "Multiplier at 50 Hz"),
    ("f120", "Multiplier at 120 Hz"),
    ("f300", "Multiplier at 300 Hz"),
    ("f1k", "Multiplier at 1 kHz"),
    ("f10k", "Multiplier at 10 kHz"),
    ("f100k", "Multiplier at 100 kHz"),
];

const WIDTH: f32 = 104.0;
/// Room of a name with its entry, points.
const PAIR: f32 = 285.0;

/// Room it takes below the table.
pub(super) fn height(ui: &Ui, state: &ImportState) -> f32 {
    let all = ui.available_height();
    let of_places = state.sheet().is_some_and(|sheet| sheet.mapping.target == Target::Placement);
    if state.every_open && !of_places { (all * 0.45).clamp(120.0, 236.0) } else { 30.0 }
}

/// What is set, in words.
fn set(every: &EveryRow) -> String {
    let mut all: Vec<String> = [&every.maker, &every.series].into_iter().flatten().cloned().collect();
    let word = |word: Option<&str>| word.map(|word| word.replace('_', "-"));
    all.extend(word(name(&Technology::NAMES, every.technology)));
    all.extend(word(name(&Mounting::NAMES, every.mounting)));
    let figures = NUMBERS.iter().filter_map(|(of, label)| Some((label, print(of, *every.numbers.get(*of)?))));
    all.extend(figures.map(|(label, text)| format!("{} {text}", label.to_lowercase())));
    if all.is_empty() { "nothing set".to_owned() } else { all.join(", ") }
}

fn name<T: PartialEq + Copy>(names: &[(T, &'static str)], value: Option<T>) -> Option<&'static str> {
    names.iter().find(|(known, _)| Some(*known) == value).map(|(_, word)| *word)
}

fn print(name: &str, value: f64) -> String {
    let field = POSITION.iter().find(|field| field.name.strip_prefix("original.") == Some(name));
    field.map_or_else(|| value.to_string(), |field| field.measure.print(value))
}

fn read(name: &str, text: &str) -> Result<Option<f64>, String> {
    let bounds = CAN_NUMBERS.iter().find(|field| field.name == name).map(|field| field.bounds);
    let field = POSITION.iter().find(|field| field.name.strip_prefix("original.") == Some(name));
    let (Some(bounds), Some(field)) = (bounds, field) else { return Err("unknown figure".into()) };
    field.measure.read(text, bounds)
}

/// Draws the values.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState) {
    let Some(mapping) = state.sheet().map(|sheet| sheet.mapping.clone()) else { return };
    if mapping.target == Target::Placement {
        ui.colored_label(theme::tokens(ui).weak, "A placement file needs nothing more.");
        return;
    }
    ui.horizontal(|ui| {
        let text = if state.every_open { "Hide" } else { "For every row…" };
        let hover = "Maker, series, endurance and what else stands over a data sheet's table and not in its rows.";
        if ui.button(text).on_hover_text(hover).clicked() {
            state.every_open = !state.every_open;
        }
        let label = format!("For every row that does not say it itself: {}", set(&mapping.every_row));
        ui.add(egui::Label::new(label).truncate());
    });
    if !state.every_open {
        return;
    }
    ScrollArea::both().id_salt("import every row").auto_shrink([false, false]).show(ui, |ui| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small number of columns")]
        let side_by_side = ((ui.available_width() / PAIR) as usize).clamp(2, 6);
        let grid = Grid::new(("import every row", side_by_side)).num_columns(2 * side_by_side);
        grid.spacing([10.0, 4.0]).show(ui, |ui| {
            let texts: [(&str, Slot); 4] = [
                ("Maker", |every| &mut every.maker),
                ("Series", |every| &mut every.series),
                ("Supplier", |every| &mut every.supplier),
                ("Currency", |every| &mut every.currency),
            ];
            let mut at = 0;
            let mut next = |ui: &mut Ui| {
                at += 1;
                if at % side_by_side == 0 {
                    ui.end_row();
                }
            };
            let of_parts = if mapping.target == Target::Parts { &texts[..] } else { &[] };
            // What decides whether a part can be sized comes first, what belongs to buying last.
            let (named, bought) = of_parts.split_at(of_parts.len().min(2));
            for (name, slot) in named {
                text_entry(ui, state, &mapping, name, *slot);
                next(ui);
            }
            words(ui, state, &mapping, "Technology", &Technology::NAMES, |every| &mut every.technology);
            next(ui);
            words(ui, state, &mapping, "Mounting", &Mounting::NAMES, |every| &mut every.mounting);
            next(ui);
            words(ui, state, &mapping, "Endurance basis", &EnduranceBasis::NAMES, |every| &mut every.endurance_basis);
            next(ui);
            for (name, label) in NUMBERS {
                number_entry(ui, state, &mapping, name, label);
                next(ui);
            }
            for (name, slot) in bought {
                text_entry(ui, state, &mapping, name, *slot);
                next(ui);
            }
        });
    });
}

type Slot = fn(&mut EveryRow) -> &mut Option<String>;

fn text_entry(ui: &mut Ui, state: &mut ImportState, mapping: &Mapping, name: &str, slot: Slot) {
    let mut every = mapping.every_row.clone();
    let mut text = slot(&mut every).clone().unwrap_or_default();
    let label = ui.label(name);
    let edit = ui.add(TextEdit::singleline(&mut text).desired_width(WIDTH)).labelled_by(label.id);
    if edit.changed() {
        state.change_mapping(|mapping| {
            *slot(&mut mapping.every_row) = Some(text).filter(|text| !text.trim().is_empty());
        });
    }
}

fn words<T: PartialEq + Copy>(
    ui: &mut Ui,
    state: &mut ImportState,
    mapping: &Mapping,
    name: &str,
    names: &[(T, &'static str)],
    slot: fn(&mut EveryRow) -> &mut Option<T>,
) {
    ui.label(name);
    let current = *slot(&mut mapping.every_row.clone());
    let mut options = vec![(None, "not said".to_owned())];
    options.extend(names.iter().map(|&(value, word)| (Some(value), word.replace('_', "-"))));
    let shown = options.iter().find(|(value, _)| *value == current).map_or("", |option| option.1.as_str());
    if let Some(value) = choose(ui, name, WIDTH, shown, current, &options) {
        state.change_mapping(|mapping| *slot(&mut mapping.every_row) = value);
    }
}

fn number_entry(ui: &mut Ui, state: &mut ImportState, mapping: &Mapping, name: &'static str, label: &str) {
    let own = mapping.every_row.numbers.get(name).copied();
    let kept = own.map_or_else(String::new, |value| print(name, value));
    let mut text = state.drafts.get(name).cloned().unwrap_or(kept);
    let caption = ui.label(label);
    ui.horizontal(|ui| {
        let edit = ui.add(TextEdit::singleline(&mut text).desired_width(WIDTH)).labelled_by(caption.id);
        if edit.changed() {
            state.drafts.insert(name, text.clone());
        }
        let Some(draft) = state.drafts.get(name).cloned() else { return };
        match read(name, &draft) {
            // While it is being typed an entry changes nothing: half a figure is another figure.
            Ok(value) if edit.lost_focus() => {
                state.drafts.remove(name);
                state.change_mapping(|mapping| match value {
                    Some(value) => _ = mapping.every_row.numbers.insert(name.to_owned(), value),
                    None => _ = mapping.every_row.numbers.remove(name),
                });
            }
            Ok(_) => {}
            Err(reason) => {
                let ink = theme::tokens(ui).outcome(Outcome::Fail).ink;
                ui.colored_label(ink, "not taken").on_hover_text(format!("Not taken: {reason}"));
            }
        }
    });
}
