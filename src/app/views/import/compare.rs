//! Before parts of a data sheet are imported: ten of its rows at random, what was read beside what is printed.

use std::hash::{BuildHasher, RandomState};

use egui::{Grid, ScrollArea, Ui};

use super::{memory::Compared, page::crop, state::ImportState};
use crate::domain::Part;
use crate::files::{import::Content, import::parts::parts};

/// Rows compared.
const ROWS: usize = 10;

/// Whether a data sheet is open whose rows nobody compared with its pages.
pub(super) fn is_due(state: &ImportState) -> bool {
    let printed = state.sheets().filter(|(_, sheet)| sheet.source.places.is_some());
    let mut serials = printed.filter_map(|((file, _), _)| state.files.get(file)).map(|file| file.serial);
    serials.any(|serial| !state.comparison.agreed.contains(&serial))
}

/// Picks rows of every data sheet that is due.
pub(super) fn begin(state: &mut ImportState) {
    let mut all: Vec<(u64, Compared)> = Vec::new();
    let random = RandomState::new();
    for ((file, _), sheet) in state.sheets() {
        let (Some(places), Some(file)) = (&sheet.source.places, state.files.get(file)) else { continue };
        if state.comparison.agreed.contains(&file.serial) {
            continue;
        }
        let import = parts(&sheet.source.table, &sheet.mapping, &sheet.source.path, &|_| true).unwrap_or_default();
        for (line, part) in &import.parts {
            let row = usize::try_from(*line).ok().and_then(|line| places.row(line)).cloned();
            let of = |row| Compared { serial: file.serial, row, read: figures(part) };
            all.extend(row.map(of).map(|row| (random.hash_one((line, &part.part_number)), row)));
        }
    }
    all.sort_by_key(|(rank, _)| *rank);
    state.comparison.rows = all.into_iter().take(ROWS).map(|(_, row)| row).collect();
    if state.comparison.rows.is_empty() {
        agree(state);
    }
}

fn agree(state: &mut ImportState) {
    let open: Vec<u64> = state.files.iter().map(|file| file.serial).collect();
    state.comparison.agreed.extend(open);
    state.comparison.rows.clear();
}

/// `TA1C101MB: 100 µF, 16 V, Ø 5 mm, 11 mm high, ripple 0.16 A`.
fn figures(part: &Part) -> String {
    let can = &part.can;
    let figure = |value: Option<f64>, before: &str, unit: &str| value.map(|value| format!("{before}{value} {unit}"));
    let all: Vec<String> = [
        figure(can.capacitance_uf, "", "µF"),
        figure(can.rated_v, "", "V"),
        figure(can.diameter_mm, "Ø ", "mm"),
        figure(can.height_mm, "height ", "mm"),
        figure(can.ripple_a.map(|amperes| amperes * 1e3), "ripple ", "mA"),
        figure(can.esr_mohm, "ESR ", "mΩ"),
        figure(can.tan_delta, "tan δ ", ""),
    ]
    .into_iter()
    .flatten()
    .collect();
    format!("{}: {}", part.part_number, all.join(", "))
}

/// Draws the rows, figure beside picture.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState) {
    ui.strong("Compare these rows, picked at random, with what is printed");
    ui.label("A file may name other letters than the ones it shows; only the eye can tell.");
    let mut done = None;
    ui.horizontal(|ui| {
        if ui.button("All rows agree").clicked() {
            done = Some(true);
        }
        if ui.button("Back").clicked() {
            done = Some(false);
        }
    });
    let rows = std::mem::take(&mut state.comparison.rows);
    let width = ui.available_width() - ui.spacing().scroll.bar_width;
    ScrollArea::both().id_salt("import comparison").auto_shrink([false, false]).show(ui, |ui| {
        Grid::new("import comparison rows").striped(true).num_columns(1).show(ui, |ui| {
            for compared in &rows {
                ui.vertical(|ui| {
                    ui.label(&compared.read);
                    printed(ui, state, compared, width);
                });
                ui.end_row();
            }
        });
    });
    match done {
        Some(true) => agree(state),
        Some(false) => {}
        None => state.comparison.rows = rows,
    }
}

fn printed(ui: &mut Ui, state: &mut ImportState, compared: &Compared, width: f32) {
    let Some(file) = state.files.iter().find(|file| file.serial == compared.serial) else { return };
    let Some(Content::Pages(pages)) = file.content.as_deref() else { return };
    let Some(page) = pages.read.iter().find(|page| page.number == compared.row.page) else { return };
    let (size, path) = ((page.width, page.height), file.path.clone());
    match state.page.picture(ui.ctx(), &path, compared.row.page) {
        Ok(texture) => {
            let rect = compared.row.rect();
            crop(ui, &texture, rect, size, (width / rect.width().max(1.0)).clamp(0.5, 2.0));
        }
        Err(reason) => _ = ui.label(reason),
    }
}
