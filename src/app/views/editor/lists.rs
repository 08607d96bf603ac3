//! The ripple spectrum and the duty: lists in a position.

use egui::Ui;

use crate::app::actions::action::Action;
use crate::app::views::editor::entry::{self, Basis, Drafts, Entry};
use crate::app::views::editor::position::AtHand;
use crate::app::widgets::explain;
use crate::domain::{Bounds, Phase, RippleLine};
use crate::files::fields::{FACTOR, LINE_A, LINE_HZ, Measure, PHASE_C};
use crate::sizing::ripple_origin::sentence;

/// One figure of the rows of a list.
struct ListColumn<T> {
    name: &'static str,
    measure: Measure,
    bounds: Bounds,
    slot: fn(&mut T) -> &mut Option<f64>,
    /// What counts where nothing is entered.
    absent: Option<&'static str>,
}

/// Draws the ripple spectrum.
pub(super) fn ripple(ui: &mut Ui, at_hand: &AtHand, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let columns = [
        ListColumn {
            name: "stress.ripple.hz",
            measure: LINE_HZ,
            bounds: Bounds::Positive,
            slot: |l: &mut RippleLine| &mut l.hz,
            absent: None,
        },
        ListColumn {
            name: "stress.ripple.a",
            measure: LINE_A,
            bounds: Bounds::NotNegative,
            slot: |l| &mut l.a,
            absent: None,
        },
    ];
    explain::heading(ui, "Ripple spectrum", "stress.ripple");
    let Some(lines) = at_hand.shared(|p| p.stress.ripple.clone()) else {
        different(ui, "spectra", out, |out| at_hand.change("stress.ripple", out, |p| p.stress.ripple = None));
        return;
    };
    let set = |lines: Option<Vec<RippleLine>>, out: &mut Vec<Action>| {
        at_hand.change("stress.ripple", out, |p| p.stress.ripple.clone_from(&lines));
    };
    match &lines {
        None => _ = ui.label("unknown: ripple and life cannot be checked"),
        Some(lines) if lines.is_empty() => _ = ui.label("no ripple"),
        Some(_) => {}
    }
    if let Some(Some(from)) = at_hand.shared(|p| p.stress.ripple_from.as_ref().and_then(|_| sentence(&p.stress))) {
        ui.horizontal_wrapped(|ui| {
            explain::on(ui.label(from), "stress.ripple_from");
            let forget = ui.button("Forget where the ripple came from");
            if forget.on_hover_text("The lines stay, as if they had been typed in.").clicked() {
                at_hand.change("stress.ripple_from", out, |p| p.stress.ripple_from = None);
                out.push(Action::EndEntry);
            }
        });
    }
    rows(ui, "line", lines.as_deref().unwrap_or_default(), &columns, drafts, out, |lines, out| set(Some(lines), out));
    ui.horizontal_wrapped(|ui| {
        if ui.button("Add a line").clicked() {
            let mut lines = lines.clone().unwrap_or_default();
            lines.push(RippleLine::default());
            set(Some(lines), out);
            out.push(Action::EndEntry);
        }
        if lines.as_ref().is_none_or(|lines| !lines.is_empty()) && ui.button("There is no ripple").clicked() {
            set(Some(Vec::new()), out);
            out.push(Action::EndEntry);
        }
        if lines.is_some() && ui.button("Ripple is not known").clicked() {
            set(None, out);
            out.push(Action::EndEntry);
        }
    });
}

/// Draws the duty.
pub(super) fn phases(ui: &mut Ui, at_hand: &AtHand, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let columns = [
        ListColumn {
            name: "stress.phases.share",
            measure: FACTOR,
            bounds: Bounds::NotNegative,
            slot: |p: &mut Phase| &mut p.share,
            absent: None,
        },
        ListColumn {
            name: "stress.phases.ambient_c",
            measure: PHASE_C,
            bounds: Bounds::Celsius,
            slot: |p| &mut p.ambient_c,
            absent: None,
        },
        ListColumn {
            name: "stress.phases.ripple_scale",
            measure: FACTOR,
            bounds: Bounds::NotNegative,
            slot: |p| &mut p.ripple_scale,
            absent: Some("1"),
        },
    ];
    explain::heading(ui, "Duty", "stress.phases");
    let Some(phases) = at_hand.shared(|p| p.stress.phases.clone()) else {
        different(ui, "duties", out, |out| at_hand.change("stress.phases", out, |p| p.stress.phases = None));
        return;
    };
    let set = |phases: Vec<Phase>, out: &mut Vec<Action>| {
        let phases = (!phases.is_empty()).then_some(phases);
        at_hand.change("stress.phases", out, |p| p.stress.phases.clone_from(&phases));
    };
    let phases = phases.unwrap_or_default();
    if phases.is_empty() {
        ui.label("unknown: the ambient is needed for ripple, life and temperature");
    }
    rows(ui, "phase", &phases, &columns, drafts, out, set);
    if ui.button("Add a phase").clicked() {
        let mut phases = phases.clone();
        phases.push(Phase { share: Some(1.0).filter(|_| phases.is_empty()), ..Phase::default() });
        set(phases, out);
        out.push(Action::EndEntry);
    }
}

fn different(ui: &mut Ui, what: &str, out: &mut Vec<Action>, clear: impl FnOnce(&mut Vec<Action>)) {
    ui.label(format!("The positions have different {what}."));
    if ui.button(format!("Start anew for all of them: {what}")).clicked() {
        clear(out);
        out.push(Action::EndEntry);
    }
}

fn rows<T: Clone>(
    ui: &mut Ui,
    what: &str,
    rows: &[T],
    columns: &[ListColumn<T>],
    drafts: &mut Drafts,
    out: &mut Vec<Action>,
    set: impl Fn(Vec<T>, &mut Vec<Action>),
) {
    for (at, row) in rows.iter().enumerate() {
        for column in columns {
            let value = *(column.slot)(&mut row.clone());
            let (text, basis) = match (value, column.absent) {
                (Some(value), _) => (column.measure.print(value), Basis::Given),
                (None, Some(absent)) => (String::new(), Basis::Assumed(absent.to_owned())),
                (None, None) => (String::new(), Basis::Unknown),
            };
            let label = explain::of(column.name).map_or(column.name, |e| e.label);
            let label = format!("{label}, {what} {}", at + 1);
            let key = format!("{} {at}", column.name);
            let symbol = column.measure.symbol;
            let entry = Entry { name: column.name, key: &key, label: Some(&label), text, basis, symbol };
            entry::show(ui, drafts, &entry, out, |typed, out| {
                let value = column.measure.read(typed, column.bounds)?;
                let mut rows = rows.to_vec();
                *(column.slot)(&mut rows[at]) = value;
                set(rows, out);
                Ok(())
            });
        }
        if ui.button(format!("Remove {what} {}", at + 1)).clicked() {
            let mut rows = rows.to_vec();
            rows.remove(at);
            set(rows, out);
            out.push(Action::EndEntry);
            drafts.clear();
        }
    }
}
