//! What the buyer wants of an order of few lines: parts that must or must not be used, makers, a second source.

use egui::{ComboBox, TextEdit, Ui};

use crate::app::actions::action::Action;
use crate::app::state::scene::Scene;
use crate::app::views::purchase::answer::Answer;
use crate::app::views::purchase::detail::toggle;
use crate::app::views::purchase::settings::{change, field_of_job};
use crate::app::widgets::entry::Drafts;
use crate::app::widgets::{choice, explain, named, theme};
use crate::domain::{Job, Outcome};

/// What is being entered.
#[derive(Debug, Default)]
pub(super) struct Form {
    number: String,
    refused: String,
}

pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene,
    answer: Option<&Answer>,
    form: &mut Form,
    drafts: &mut Drafts,
    out: &mut Vec<Action>,
) {
    let job = scene.job;
    explain::strong(ui, "Parts", "order wishes");
    ui.horizontal(|ui| {
        let label = ui.label("Part number");
        ui.add(TextEdit::singleline(&mut form.number).desired_width(150.0)).labelled_by(label.id);
    });
    ui.horizontal(|ui| {
        for (must, name) in [(true, "Required"), (false, "Excluded")] {
            if ui.add_enabled(!form.number.trim().is_empty(), egui::Button::new(name)).clicked() {
                add_part(scene, form, must, out);
            }
        }
    });
    if !form.refused.is_empty() {
        ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, form.refused.as_str());
    }
    for (word, list, must) in [("required", &job.must_use, true), ("excluded", &job.never_use, false)] {
        for number in list {
            taken_away(ui, &format!("{number} {word}"), || {
                let field = if must { "required parts" } else { "excluded parts" };
                change(job, field, out, |job| {
                    toggle(if must { &mut job.must_use } else { &mut job.never_use }, number, false);
                });
            });
        }
    }
    for both in job.must_use.iter().filter(|must| job.never_use.contains(must)) {
        let text = format!("{both} is both required and excluded: remove one of the two.");
        ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, text);
    }
    ui.add_space(4.0);
    explain::strong(ui, "Makers", "preferred makers");
    let makers = answer.map_or(&[][..], |answer| &answer.makers);
    let list = ComboBox::from_id_salt("preferred maker").selected_text("Prefer a maker").width(180.0);
    let others = makers.iter().filter(|maker| !job.prefer_makers.contains(maker));
    let (response, chosen) = choice(ui, list, others.map(|maker| (maker, false, maker.clone())));
    if let Some(maker) = chosen {
        change(job, "preferred makers", out, |job| toggle(&mut job.prefer_makers, maker, true));
    }
    named(response, "Prefer a maker");
    for maker in &job.prefer_makers {
        taken_away(ui, &format!("{maker} preferred"), || {
            change(job, "preferred makers", out, |job| toggle(&mut job.prefer_makers, maker, false));
        });
    }
    worth(ui, job, drafts, out);
    let mut second = job.second_source.unwrap_or(false);
    let hover = "Every part of the order must have a part of another maker that passes wherever it is used.";
    if ui.checkbox(&mut second, "A second source for every part").on_hover_text(hover).changed() {
        change(job, "second source", out, |job| job.second_source = second.then_some(true));
    }
}

fn add_part(scene: &Scene, form: &mut Form, must: bool, out: &mut Vec<Action>) {
    let number = form.number.trim().to_owned();
    if scene.catalog.find(&number).is_none() {
        form.refused = format!("Refused: {number} is not in the catalogue.");
        return;
    }
    change(scene.job, if must { "required parts" } else { "excluded parts" }, out, |job| {
        toggle(&mut job.must_use, &number, must);
        toggle(&mut job.never_use, &number, !must);
    });
    *form = Form::default();
}

/// An entry of a list with the button that takes it out.
fn taken_away(ui: &mut Ui, text: &str, away: impl FnOnce()) {
    ui.horizontal(|ui| {
        ui.label(text);
        if named(ui.small_button("Remove"), format!("Remove: {text}")).clicked() {
            away();
        }
    });
}

fn worth(ui: &mut Ui, job: &Job, drafts: &mut Drafts, out: &mut Vec<Action>) {
    if job.prefer_makers.is_empty() {
        return;
    }
    field_of_job(ui, job, "job.prefer_worth", drafts, out);
    if job.prefer_worth.is_none() && job.line_cost.is_none() {
        ui.weak("Without a premium and without a cost per line the preference does not count.");
    }
}
