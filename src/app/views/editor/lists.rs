//! The ripple spectrum and the load profile: lists in a position.

use egui::Ui;

use crate::app::actions::{Action, LiveScene};
use crate::app::widgets::asked::Selected;
use crate::app::widgets::entry::Widths;
use crate::app::widgets::explain;
use crate::app::widgets::field::{self, Look, Owners};
use crate::domain::schema::{Field, PHASE, RIPPLE_LINE, Section};
use crate::domain::{Phase, RippleLine};
use crate::sizing::ripple_origin::sentence;

/// Draws the ripple spectrum.
pub(super) fn ripple(ui: &mut Ui, selected: &Selected, scene: &LiveScene) {
    explain::heading(ui, "Ripple spectrum", "stress.ripple");
    let Some(lines) = selected.shared(|p| p.stress.ripple.clone()) else {
        different(ui, "spectra", scene, || selected.change("ripple spectrum", |p| p.stress.ripple = None));
        return;
    };
    let set = |lines: Option<Vec<RippleLine>>| {
        selected.change("ripple spectrum", |p| p.stress.ripple.clone_from(&lines));
        scene.push(Action::EndEntry);
    };
    match &lines {
        None => _ = ui.label("unknown: the original's rating counts, where it is known"),
        Some(lines) if lines.is_empty() => _ = ui.label("no ripple"),
        Some(_) => {}
    }
    if let Some(Some(from)) = selected.shared(|p| p.stress.ripple_from.as_ref().and_then(|_| sentence(&p.stress))) {
        ui.horizontal_wrapped(|ui| {
            explain::on(ui.label(from), "stress.ripple_from");
            let forget = ui.button("Forget where the ripple came from");
            if forget.on_hover_text("The lines stay, as if they had been typed in.").clicked() {
                selected.change("origin of the ripple", |p| p.stress.ripple_from = None);
                scene.push(Action::EndEntry);
            }
        });
    }
    rows(ui, "line", lines.as_deref().unwrap_or_default(), RIPPLE_LINE, scene, |lines| {
        set(Some(lines));
    });
    ui.horizontal_wrapped(|ui| {
        if ui.button("Add a line").clicked() {
            let mut lines = lines.clone().unwrap_or_default();
            lines.push(RippleLine::default());
            set(Some(lines));
        }
        if lines.as_ref().is_none_or(|lines| !lines.is_empty()) && ui.button("There is no ripple").clicked() {
            set(Some(Vec::new()));
        }
        if lines.is_some() && ui.button("Ripple is not known").clicked() {
            set(None);
        }
    });
}

/// Draws the load profile.
pub(super) fn phases(ui: &mut Ui, selected: &Selected, scene: &LiveScene) {
    let Some(phases) = selected.shared(|p| p.stress.phases.clone()) else {
        explain::heading(ui, "Load profile", "stress.phases");
        different(ui, "load profiles", scene, || selected.change("load profile", |p| p.stress.phases = None));
        return;
    };
    let set = |phases: Option<Vec<Phase>>| {
        selected.change("load profile", |p| p.stress.phases.clone_from(&phases));
    };
    let none = "None of its own: that of the board or the job counts.";
    profile(ui, ("stress.phases", none), phases.as_deref().unwrap_or_default(), set, scene);
}

/// Draws a load profile of anything; `told` has the path of the field and what to say where there is none.
pub(super) fn profile(
    ui: &mut Ui,
    told: (&str, &str),
    phases: &[Phase],
    set: impl Fn(Option<Vec<Phase>>),
    scene: &LiveScene,
) {
    explain::heading(ui, "Load profile", told.0);
    let set = |phases: Vec<Phase>| {
        set((!phases.is_empty()).then_some(phases));
        scene.push(Action::EndEntry);
    };
    if phases.is_empty() {
        ui.label(told.1);
    }
    rows(ui, "phase", phases, PHASE, scene, set);
    if ui.button("Add a phase").clicked() {
        let mut phases = phases.to_vec();
        phases.push(Phase { share: Some(1.0).filter(|_| phases.is_empty()), ..Phase::default() });
        set(phases);
    }
}

fn different(ui: &mut Ui, what: &str, scene: &LiveScene, clear: impl FnOnce()) {
    ui.label(format!("The positions have different {what}."));
    if ui.button(format!("Start anew for all of them: {what}")).clicked() {
        clear();
        scene.push(Action::EndEntry);
    }
}

fn rows<T: Clone + Default>(
    ui: &mut Ui,
    what: &str,
    rows: &[T],
    fields: &'static [Field<T>],
    scene: &LiveScene,
    set: impl Fn(Vec<T>),
) {
    for (at, row) in rows.iter().enumerate() {
        let change = |_: &str, change: &dyn Fn(&mut T)| {
            let mut rows = rows.to_vec();
            change(&mut rows[at]);
            set(rows);
        };
        let owners = Owners { of: &[row], ..Owners::plain(&change) };
        for field in fields.iter().filter(|field| field.section != Section::Elsewhere) {
            let (label, key) = (format!("{}, {what} {}", field.label, at + 1), format!("{} {at}", field.path));
            let look = Look { key: &key, label: Some(&label), widths: Widths::EDITOR };
            field::show(ui, field, &look, &owners, scene);
        }
        if ui.button(format!("Remove {what} {}", at + 1)).clicked() {
            let mut rows = rows.to_vec();
            rows.remove(at);
            set(rows);
            scene.drafts.borrow_mut().clear();
        }
    }
}
