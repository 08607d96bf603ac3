//! What holds for every row of the file that does not say it itself: the head of a data sheet's table.

use egui::{Grid, ScrollArea, TextEdit, Ui};
use strum::VariantArray;

use super::{files::choose, state::ImportState};
use crate::app::actions::LiveScene;
use crate::app::widgets::entry::{Basis, Entry, Widths, line};
use crate::app::widgets::theme;
use crate::domain::schema::{self, Field, Kind, spoken};
use crate::domain::{Can, Outcome};
use crate::files::entry;
use crate::files::import::{EveryRow, Mapping, Target};

/// Figures a data sheet's table has in its head, by their names among the catalogue's columns.
const NUMBERS: &str = "endurance_h temp_max_c temp_min_c ripple_hz esr_hz rated_v tolerance_pct core_rise_k \
                       f50 f120 f300 f1k f10k f100k";

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
    let texts = [&every.maker, &every.series, &every.supplier, &every.currency];
    let mut all: Vec<String> = texts.into_iter().flatten().cloned().collect();
    let words = [every.technology.map(<&str>::from), every.mounting.map(<&str>::from)];
    all.extend(words.into_iter().flatten().map(spoken));
    let figures = NUMBERS.split(' ').filter_map(|name| Some((label(name), print(name, *every.numbers.get(name)?))));
    all.extend(figures.map(|(label, text)| format!("{} {text}", label.to_lowercase())));
    if all.is_empty() { "nothing set".to_owned() } else { all.join(", ") }
}

fn field(name: &str) -> Option<&'static Field<Can>> {
    schema::of_part().find(|field| field.path == name)
}

fn label(name: &'static str) -> &'static str {
    field(name).map_or(name, |field| field.label)
}

fn print(name: &str, value: f64) -> String {
    match field(name).map(|field| field.kind) {
        Some(Kind::Number(unit, _)) => entry::print(unit, value),
        _ => value.to_string(),
    }
}

fn read(name: &str, text: &str) -> Result<Option<f64>, String> {
    match field(name).map(|field| field.kind) {
        Some(Kind::Number(unit, bounds)) => entry::read(unit, bounds, text),
        _ => Err("unknown figure".into()),
    }
}

/// Draws the values.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut ImportState) {
    let Some(mapping) = state.sheet().map(|sheet| sheet.mapping.clone()) else { return };
    if mapping.target == Target::Placement {
        ui.colored_label(theme::tokens(ui).weak, "A placement file needs nothing more.");
        return;
    }
    ui.horizontal(|ui| {
        let text = if state.every_open { "Hide" } else { "Values for all rows…" };
        let hover = "Maker, series, endurance and what else stands over a data sheet's table and not in its rows.";
        if ui.button(text).on_hover_text(hover).clicked() {
            state.every_open = !state.every_open;
        }
        let label = format!("Values for all rows that do not say it themselves: {}", set(&mapping.every_row));
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
            // What decides whether a part can be sized comes first, what belongs to buying last.
            let (named, bought) = match mapping.target {
                Target::Parts => texts.split_at(2),
                Target::Offers => (&[][..], &texts[2..]),
                Target::Positions | Target::Placement => (&[][..], &[][..]),
            };
            for (name, slot) in named {
                text_entry(ui, state, &mapping, name, *slot);
                next(ui);
            }
            if mapping.target != Target::Offers {
                words(ui, state, "Technology", |every| &mut every.technology);
                next(ui);
                words(ui, state, "Mounting", |every| &mut every.mounting);
                next(ui);
                words(ui, state, "Endurance basis", |every| &mut every.endurance_basis);
                next(ui);
                for name in NUMBERS.split(' ') {
                    number_entry(ui, scene, state, &mapping, name);
                    next(ui);
                }
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
    // A grid of nothing but such entries gives them no room of its own.
    let edit = TextEdit::singleline(&mut text).desired_width(WIDTH).min_size(egui::vec2(WIDTH, 0.0));
    let edit = ui.add(edit).labelled_by(label.id);
    if edit.changed() {
        state.change_mapping(|mapping| {
            *slot(&mut mapping.every_row) = Some(text).filter(|text| !text.trim().is_empty());
        });
    }
}

fn words<T: VariantArray + PartialEq + Copy + Into<&'static str>>(
    ui: &mut Ui,
    state: &mut ImportState,
    name: &str,
    slot: fn(&mut EveryRow) -> &mut Option<T>,
) {
    let Some(now) = state.sheet().map(|sheet| *slot(&mut sheet.mapping.every_row.clone())) else { return };
    let all = T::VARIANTS.iter().map(|&value| (Some(value), spoken(value.into())));
    let options: Vec<_> = std::iter::once((None, "not said".to_owned())).chain(all).collect();
    ui.label(name);
    if let Some(value) = choose(ui, (name, WIDTH), now, &options) {
        state.change_mapping(|mapping| *slot(&mut mapping.every_row) = value);
    }
}

fn number_entry(ui: &mut Ui, scene: &LiveScene, state: &mut ImportState, mapping: &Mapping, name: &'static str) {
    let own = mapping.every_row.numbers.get(name).copied();
    let text = own.map_or_else(String::new, |value| print(name, value));
    let field = Entry { name, key: name, label: Some(label(name)), text, basis: Basis::Free, symbol: "" };
    let widths = Widths { label: 0.0, entry: WIDTH, fills: false, over: false };
    let mut value = own;
    ui.label(label(name));
    ui.horizontal(|ui| {
        let refused = scene.typing(&mut state.drafts, || {
            line(ui, &field, widths, scene, |typed| {
                value = read(name, typed)?;
                Ok(())
            })
        });
        if let Some(reason) = refused {
            let ink = theme::tokens(ui).outcome(Outcome::Fail).ink;
            ui.colored_label(ink, "not taken").on_hover_text(format!("Refused: {reason}"));
        }
    });
    if !state.drafts.holds(name) && value != own {
        state.change_mapping(|mapping| match value {
            Some(value) => _ = mapping.every_row.numbers.insert(name.to_owned(), value),
            None => _ = mapping.every_row.numbers.remove(name),
        });
    }
}
