//! What the shop has already, lot by lot, and the lists of offers the job names.

use egui::{Grid, ScrollArea, TextEdit, Ui};

use super::answer::Answer;
use crate::app::actions::LiveScene;
use crate::app::widgets::entry::{Basis, Entry, Widths, show_sized};
use crate::app::widgets::{asked::change_job as change, explain, field, field::Look, field::Owners, named, theme};
use crate::domain::{Bounds, Date, Job, Outcome, ShelfStock, Unit, schema::SHELF};
use crate::files::entry;
use crate::sizing::before_use;

/// A lot being entered.
#[derive(Debug, Default)]
pub(super) struct State {
    number: String,
    qty: String,
    code: String,
    refused: String,
}

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, answer: Option<&Answer>, state: &mut State) {
    let today = answer.and_then(|answer| answer.today);
    ScrollArea::both().id_salt("shelf").auto_shrink([false, false]).show(ui, |ui| {
        explain::strong(ui, "On the shelf", "order shelf");
        if scene.job.shelf.is_empty() {
            ui.weak("Nothing is entered: everything is bought. Enter a lot below and it is taken off the order, oldest first.");
        } else {
            lots(ui, scene, today);
        }
        new_lot(ui, scene, today, state);
        ui.add_space(10.0);
        explain::strong(ui, "Offers of further suppliers", "order supplier");
        offers(ui, scene.job, answer, scene);
    });
}

fn lots(ui: &mut Ui, scene: &LiveScene, today: Option<Date>) {
    let job = scene.job;
    Grid::new("lots").num_columns(5).spacing([14.0, 4.0]).show(ui, |ui| {
        explain::column(ui, "Part number", "order part");
        explain::column(ui, "Pieces", "shelf.qty");
        explain::column(ui, "Date code", "shelf.date_code");
        explain::column(ui, "Before use", "before use");
        ui.label("");
        ui.end_row();
        for (at, lot) in job.shelf.iter().enumerate() {
            let known = scene.catalog.find(lot.part_number.trim());
            let number = ui.label(lot.part_number.as_str());
            if known.is_none() {
                number.on_hover_text("Not in the catalogue.");
            }
            let lot_change = |field: &str, set: &dyn Fn(&mut ShelfStock)| {
                change(scene, field, |job| job.shelf.get_mut(at).into_iter().for_each(set));
            };
            let (key, label) = (format!("shelf qty {at}"), format!("Pieces of {}, lot {}", lot.part_number, at + 1));
            let owners = Owners { of: &[lot], ..Owners::plain(&lot_change) };
            if let Some(field) = SHELF.iter().find(|field| field.path == "shelf.qty") {
                let widths = Widths { label: 0.0, entry: 60.0, fills: false, over: false };
                field::show(ui, field, &Look { key: &key, label: Some(&label), widths }, &owners, scene);
            }
            let (key, label) =
                (format!("shelf code {at}"), format!("Date code of {}, lot {}", lot.part_number, at + 1));
            let text = lot.date_code.clone().unwrap_or_default();
            let code =
                Entry { name: "shelf.date_code", key: &key, label: Some(&label), text, basis: Basis::Free, symbol: "" };
            show_sized(ui, &code, Widths { label: 0.0, entry: 80.0, fills: false, over: false }, scene, |typed| {
                let code = date_code(typed, today)?;
                lot_change("date code on the shelf", &|lot| lot.date_code.clone_from(&code));
                Ok(())
            });
            let can = known.map(|id| scene.catalog.can(id));
            let words = before_use(can.as_ref(), lot.date_code.as_deref().unwrap_or_default(), today).words();
            let unused = if known.is_none() { "not in the catalogue" } else { "nothing to do" };
            let other = known.is_none()
                && job.all_other_parts().any(|(_, part)| part.part_number() == Some(lot.part_number.trim()));
            if other {
                ui.weak("another part: not re-formed");
            } else if words.is_empty() {
                ui.weak(unused);
            } else {
                ui.colored_label(theme::tokens(ui).outcome(Outcome::Marginal).ink, words);
            }
            let name = format!("Remove lot {} of {}", at + 1, lot.part_number);
            if named(ui.button("Remove"), name).clicked() {
                change(scene, "remove a lot from the shelf", |job| _ = job.shelf.remove(at));
                scene.drafts.borrow_mut().clear();
            }
            ui.end_row();
        }
    });
}

/// A date code as typed; nothing is unknown.
fn date_code(typed: &str, today: Option<Date>) -> Result<Option<String>, String> {
    let code = typed.trim();
    if code.is_empty() {
        return Ok(None);
    }
    let readable = today.is_none_or(|today| Date::of_date_code(code, today).is_some());
    if readable {
        Ok(Some(code.to_owned()))
    } else {
        Err(format!("{code}; expected year and week as 2319, or year and month as 2023-05"))
    }
}

fn new_lot(ui: &mut Ui, scene: &LiveScene, today: Option<Date>, state: &mut State) {
    ui.horizontal_wrapped(|ui| {
        for (name, text, width) in [
            ("New lot: part number", &mut state.number, 160.0),
            ("pieces", &mut state.qty, 60.0),
            ("date code", &mut state.code, 80.0),
        ] {
            let label = ui.label(name);
            ui.add(TextEdit::singleline(text).desired_width(width)).labelled_by(label.id);
        }
        let ready = !state.number.trim().is_empty();
        if ui.add_enabled(ready, egui::Button::new("Add to stock")).clicked() {
            let pieces = entry::read(Unit::Piece, Bounds::Pieces, &state.qty);
            let read = pieces.and_then(|qty| Ok((qty, date_code(&state.code, today)?)));
            match read {
                Ok((None, _)) => state.refused = "Refused: how many pieces? An unknown number helps nobody.".into(),
                Ok((qty, date_code)) => {
                    let part_number = state.number.trim().to_owned();
                    let lot = ShelfStock { part_number, qty, date_code, ..ShelfStock::default() };
                    change(scene, "add a lot to the shelf", |job| job.shelf.push(lot));
                    *state = State::default();
                }
                Err(reason) => state.refused = format!("Refused: {reason}."),
            }
        }
    });
    if !state.refused.is_empty() {
        ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, state.refused.as_str());
    }
    let number = state.number.trim();
    if !number.is_empty() && scene.catalog.find(number).is_none() {
        ui.weak(format!("{number} is not in the catalogue; the lot counts once it is."));
    }
}

fn offers(ui: &mut Ui, job: &Job, answer: Option<&Answer>, scene: &LiveScene) {
    if job.offers.is_empty() {
        ui.weak("No list of offers is named. Drop one on the window or add it by the button above: any table of part numbers with a supplier's prices, stock, minimum or lead time.");
        return;
    }
    for (at, name) in job.offers.iter().enumerate() {
        ui.horizontal(|ui| {
            ui.label(name.as_str());
            let remove = named(ui.button("Remove"), format!("Remove the offers {name}"));
            if remove.on_hover_text("The job no longer names the list; the file stays.").clicked() {
                change(scene, "offers", |job| _ = job.offers.remove(at));
            }
        });
    }
    let Some(answer) = answer else { return };
    let read = &answer.offers;
    let parts = if read.book.len() == 1 { "part" } else { "parts" };
    ui.label(format!("Offers for {} {parts}.", read.book.len()));
    for rejected in &read.rejected {
        let text = format!(
            "Not used: {} line {}, {}: \"{}\": {}.",
            rejected.file.file_name().map(|name| name.to_string_lossy()).unwrap_or_default(),
            rejected.line,
            rejected.field,
            rejected.value,
            rejected.reason
        );
        ui.colored_label(theme::tokens(ui).outcome(Outcome::Marginal).ink, text);
    }
}
