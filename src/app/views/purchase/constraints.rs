//! What the buyer wants of an order of few lines: parts that must or must not be used, makers, a second source.

use egui::{ComboBox, TextEdit, Ui};

use super::{answer::Answer, detail::toggle, settings::field_of_job};
use crate::app::actions::LiveScene;
use crate::app::widgets::{asked::change_job as change, choice, explain, named, theme};
use crate::domain::{Job, Outcome};

/// What is being entered.
#[derive(Debug, Default)]
pub(super) struct Form {
    number: String,
    refused: String,
}

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, answer: Option<&Answer>, form: &mut Form) {
    let job = scene.job;
    explain::strong(ui, "Parts", "order wishes");
    ui.horizontal(|ui| {
        let label = ui.label("Part number");
        ui.add(TextEdit::singleline(&mut form.number).desired_width(150.0)).labelled_by(label.id);
    });
    ui.horizontal(|ui| {
        for (must, name) in [(true, "Required"), (false, "Excluded")] {
            if ui.add_enabled(!form.number.trim().is_empty(), egui::Button::new(name)).clicked() {
                add_part(scene, form, must);
            }
        }
    });
    if !form.refused.is_empty() {
        ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, form.refused.as_str());
    }
    let (parts, makers) = WISHES.split_at(2);
    named_so(ui, job, parts, scene);
    for both in job.must_use.iter().filter(|must| job.never_use.contains(must)) {
        let text = format!("{both} is both required and excluded: remove one of the two.");
        ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, text);
    }
    ui.add_space(4.0);
    explain::strong(ui, "Makers", "preferred makers");
    let known = answer.map_or(&[][..], |answer| &answer.makers);
    let list = ComboBox::from_id_salt("preferred maker").selected_text("Prefer a maker").width(180.0);
    let others = known.iter().filter(|maker| !job.prefer_makers.contains(maker));
    let (response, chosen) = choice(ui, list, others.map(|maker| (maker, false, maker.clone())));
    if let Some(maker) = chosen {
        change(scene, PREFERRED, |job| toggle(&mut job.prefer_makers, maker, true));
    }
    named(response, "Prefer a maker");
    named_so(ui, job, makers, scene);
    worth(ui, job, scene);
    let mut second = job.second_source.unwrap_or(false);
    let hover = "Every part of the order must have a part of another maker that passes wherever it is used.";
    if ui.checkbox(&mut second, "A second source for every part").on_hover_text(hover).changed() {
        change(scene, "second source", |job| job.second_source = second.then_some(true));
    }
}

fn add_part(scene: &LiveScene, form: &mut Form, must: bool) {
    let number = form.number.trim().to_owned();
    if scene.catalog.find(&number).is_none() {
        form.refused = format!("Refused: {number} is not in the catalogue.");
        return;
    }
    change(scene, if must { "required parts" } else { "excluded parts" }, |job| {
        toggle(&mut job.must_use, &number, must);
        toggle(&mut job.never_use, &number, !must);
    });
    *form = Form::default();
}

/// A list of names in the job that the search for few lines goes by.
pub(super) struct Wish {
    /// Its name for undo.
    pub field: &'static str,
    /// What a name in it is.
    pub word: &'static str,
    /// The names.
    pub of: fn(&Job) -> &Vec<String>,
    /// The same, to change them.
    pub list: fn(&mut Job) -> &mut Vec<String>,
}

/// The list of makers; the others are of parts.
pub(super) const PREFERRED: &str = "preferred makers";

/// All of them, that of makers last.
pub(super) const WISHES: [Wish; 3] = [
    Wish { field: "required parts", word: "required", of: |job| &job.must_use, list: |job| &mut job.must_use },
    Wish { field: "excluded parts", word: "excluded", of: |job| &job.never_use, list: |job| &mut job.never_use },
    Wish { field: PREFERRED, word: "preferred", of: |job| &job.prefer_makers, list: |job| &mut job.prefer_makers },
];

/// The names in lists, each with the button that takes it out.
fn named_so(ui: &mut Ui, job: &Job, wishes: &[Wish], scene: &LiveScene) {
    for Wish { field, word, of, list } in wishes {
        for name in of(job) {
            let text = format!("{name} {word}");
            ui.horizontal(|ui| {
                ui.label(&text);
                if named(ui.small_button("Remove"), format!("Remove: {text}")).clicked() {
                    change(scene, field, |job| toggle(list(job), name, false));
                }
            });
        }
    }
}

fn worth(ui: &mut Ui, job: &Job, scene: &LiveScene) {
    if job.prefer_makers.is_empty() {
        return;
    }
    field_of_job(ui, job, "job.prefer_worth", scene);
    if job.prefer_worth.is_none() && job.line_cost.is_none() {
        ui.weak("Without a premium and without a cost per line the preference does not count.");
    }
}
