//! What to order: the chosen parts and how many of each the whole job needs.

use std::collections::BTreeMap;

use eframe::egui::{Grid, ScrollArea, Ui};

use crate::app::action::Action;
use crate::app::scene::Scene;
use crate::domain::PartId;
use crate::sizing::Place;
use crate::sizing::reasons::figure;

/// What the order remembers.
#[derive(Debug, Default)]
pub(crate) struct State {}

/// Need of one part over the job.
#[derive(Debug, Default, PartialEq)]
struct Need {
    pieces: f64,
    references: Vec<String>,
}

/// Pieces of every chosen part, by part number; and the positions without a part.
fn needs(scene: &Scene) -> (BTreeMap<PartId, Need>, Vec<String>) {
    let mut needs: BTreeMap<PartId, Need> = BTreeMap::new();
    let mut without = Vec::new();
    for sized in &scene.sizing.positions {
        let reference = scene.reference(sized.id).to_owned();
        match (sized.choice.part, Place::new(scene.job, scene.catalog, sized.id)) {
            (Some(part), Some(place)) => {
                let need = needs.entry(part.id).or_default();
                need.pieces += place.need_qty();
                need.references.push(reference);
            }
            _ => without.push(reference),
        }
    }
    (needs, without)
}

/// Draws the place.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, _state: &mut State, _out: &mut Vec<Action>) {
    let (needs, without) = needs(scene);
    if needs.is_empty() {
        ui.label("Nothing to order yet: no position has a part.");
        return;
    }
    if !without.is_empty() {
        ui.label(format!("Without a part: {}.", without.join(", ")));
    }
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        Grid::new("needs").num_columns(4).striped(true).spacing([20.0, 4.0]).show(ui, |ui| {
            for heading in ["Part", "Pieces needed", "Price of one", "Positions"] {
                ui.strong(heading);
            }
            ui.end_row();
            for (id, need) in &needs {
                ui.label(scene.catalog.part_number(*id));
                ui.label(figure(need.pieces));
                let price = scene.catalog.small_price(*id);
                let currency = scene.catalog.currency(*id);
                ui.label(price.map_or_else(|| "unknown".to_owned(), |price| format!("{price:.3} {currency}")));
                ui.label(need.references.join(", "));
                ui.end_row();
            }
        });
    });
}
