//! The selected line in full: every offer with what it comes to, the notes, the positions, and the constraints about the part.

use egui::{Grid, ScrollArea, Ui};

use super::answer::Answer;
use super::constraints::{PREFERRED, WISHES, Wish};
use super::shared::{money, place_links, right, right_column};
use crate::app::actions::LiveScene;
use crate::app::widgets::{asked::change_job as change, explain, wording, wording::UNKNOWN};
use crate::domain::{Job, style};
use crate::sizing::{OfferChoice, PurchaseLine, reasons::figure};

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, answer: &Answer, line: &PurchaseLine) {
    ScrollArea::vertical().id_salt("order line").auto_shrink([false, false]).show(ui, |ui| {
        ui.horizontal_wrapped(|ui| {
            ui.strong(line.part_number.as_str());
            if !line.maker.is_empty() {
                ui.label(format!("by {}", line.maker));
            }
            ui.weak("serves");
            place_links(ui, &answer.snapshot.job, &line.places, scene);
        });
        let own = answer.purchase.currency.code.as_deref().unwrap_or_default();
        if !line.offers.is_empty() {
            offers(ui, scene.job, line, own, scene);
        }
        for note in &line.notes {
            ui.weak(format!("{}.", wording::capital(note)));
        }
        ui.horizontal_wrapped(|ui| constraints(ui, scene.job, line, scene));
    });
}

/// The figures of an offer with the names their explanations go by and their room, points.
const FIGURES: [(&str, &str, f32); 6] = [
    ("Order", "order quantity", 50.0),
    ("Unit price", "order price", 60.0),
    ("Total", "order total", 100.0),
    (IN_OWN, "own currency", 136.0),
    ("Lead time (d)", "order lead", 84.0),
    ("Stock", "order stock", 90.0),
];

/// Told where an offer is in another currency.
const IN_OWN: &str = "In the job's currency";

fn offers(ui: &mut Ui, job: &Job, line: &PurchaseLine, own: &str, scene: &LiveScene) {
    let number = &line.part_number;
    let several = line.offers.len() > 1;
    Grid::new("offers of the line").num_columns(8).spacing([16.0, 3.0]).show(ui, |ui| {
        let foreign = line.offers.iter().any(|choice| !choice.supplier.currency.trim().eq_ignore_ascii_case(own));
        explain::column(ui, "Supplier", "order supplier");
        for (heading, explained, width) in FIGURES.into_iter().filter(|(heading, ..)| foreign || *heading != IN_OWN) {
            right_column(ui, width, heading, explained);
        }
        explain::column(ui, "Price list", "price list");
        ui.end_row();
        for choice in &line.offers {
            let name = choice.supplier.supplier.trim();
            let taken = line.offer.as_ref().is_some_and(|offer| offer.supplier == choice.supplier.supplier);
            let shown = if name.is_empty() { "supplier unknown" } else { name };
            if several && !name.is_empty() {
                let hover = "Orders the part here whatever it costs elsewhere.";
                if ui.radio(taken, shown).on_hover_text(hover).clicked() {
                    let name = name.to_owned();
                    change(scene, &format!("supplier of {number}"), |job| {
                        job.suppliers.insert(number.clone(), name);
                    });
                }
            } else {
                ui.label(shown);
            }
            cells(ui, choice, own, foreign);
            ui.end_row();
        }
    });
    if line.chosen_by_buyer || job.suppliers.contains_key(number) {
        ui.horizontal(|ui| {
            ui.weak("The supplier was chosen by the buyer.");
            if ui.button("Take the cheapest again").clicked() {
                change(scene, &format!("supplier of {number}"), |job| _ = job.suppliers.remove(number));
            }
        });
    } else if several {
        ui.weak("Taken: the cheapest in total among those with enough stock.");
    }
}

fn cells(ui: &mut Ui, choice: &OfferChoice, own: &str, foreign: bool) {
    let currency = choice.supplier.currency.trim();
    let trade = &choice.supplier.trade;
    let rate_missing = choice.order.is_some() && choice.total_job.is_none() && !currency.is_empty();
    let in_own = if rate_missing { format!("no rate for {currency}") } else { money(choice.total_job, own) };
    let stock = trade.stock.map_or_else(|| UNKNOWN.to_owned(), figure);
    let cells = [
        choice.order.map_or_else(|| UNKNOWN.to_owned(), |order| order.qty.to_string()),
        choice.order.map_or_else(|| UNKNOWN.to_owned(), |order| style::price(order.unit_price)),
        money(choice.order.map(|order| order.total), currency),
        in_own,
        trade.lead_time_d.map_or_else(|| UNKNOWN.to_owned(), figure),
        if choice.stock_short { format!("{stock}, too few") } else { stock },
    ];
    for (text, (heading, _, width)) in cells.into_iter().zip(FIGURES) {
        if foreign || heading != IN_OWN {
            right(ui, width, text);
        }
    }
    let listed = choice.supplier.price_breaks.iter().flat_map(|breaks| breaks.pairs().to_vec());
    let list: Vec<String> = listed.map(|(from, price)| format!("{}: {price}", figure(from))).collect();
    ui.label(if list.is_empty() {
        trade.unit_price.map_or_else(|| UNKNOWN.to_owned(), |price| format!("1: {price}"))
    } else {
        list.join("; ")
    });
}

/// What the buyer may wish of the part when few lines are looked for.
fn constraints(ui: &mut Ui, job: &Job, line: &PurchaseLine, scene: &LiveScene) {
    ui.weak("For Consolidate order:");
    for Wish { field, word, of, list } in &WISHES {
        let maker = *field == PREFERRED;
        let name = if maker { &line.maker } else { &line.part_number };
        let label = if maker { format!("prefer {name}") } else { (*word).to_owned() };
        let mut wanted = of(job).contains(name);
        if !name.is_empty() && ui.checkbox(&mut wanted, label).changed() {
            change(scene, field, |job| toggle(list(job), name, wanted));
        }
    }
}

/// Puts a name into a list or takes it out.
pub(super) fn toggle(list: &mut Vec<String>, name: &str, wanted: bool) {
    list.retain(|known| known != name);
    if wanted {
        list.push(name.to_owned());
    }
}
