//! Pieces on the shelf and spares: whether they have to be re-formed before use.

use egui::{TextEdit, Ui};

use super::{context::PanelContext, context::remark};
use crate::app::state::Candidate;
use crate::domain::Date;
use crate::sizing::{lots_of, reforming_advice};

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let scene = desk.scene;
    let Some(candidate) = scene.candidate() else { return };
    let can = scene.can(candidate);
    let name = scene.name(candidate);
    let today = Date::today();
    if let Candidate::Part(_) = candidate {
        let mut lots = lots_of(scene.job, name).peekable();
        if lots.peek().is_none() {
            ui.weak(format!("The job lists no {name} on the shelf."));
        }
        for (qty, code) in lots {
            ui.label(format!("On the shelf: {qty} × {name}. {}", reforming_advice(can.as_ref(), &code, today)));
        }
    }
    ui.horizontal(|ui| {
        let label = ui.label("Date code on a part");
        ui.add(TextEdit::singleline(&mut desk.forms.here.date_code).desired_width(96.0).hint_text("such as 2319"))
            .labelled_by(label.id)
            .on_hover_text("Year and week as 2319 or 23W19, or 2023-05, or a year.");
    });
    if desk.forms.here.date_code.trim().is_empty() {
        ui.weak("Enter the code of a spare or of stock to see what it needs before use.");
    } else {
        ui.label(reforming_advice(can.as_ref(), &desk.forms.here.date_code, today));
    }
    remark(
        ui,
        "Spares bought now and stored for more than 2 years need it, too. Recipe: ECA/EIA-815 abstract (published); the limit of 2 years: a drive maker's bulletin, second-hand.",
    );
}
