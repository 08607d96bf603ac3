//! How long candidates last, and everything an engineer has to answer for: curves on the left, panels on the right.

mod answers;
mod curves;
mod export;
mod legend;
mod overview;
mod panels;
mod plot;
mod reading;
mod state;

use egui::{self, DragValue, Panel, Ui};

use crate::app::actions::{Action, Command, LiveScene};
use crate::app::state::Scene;
use crate::app::widgets::{self, Beside, Edge, theme, theme::space};
use crate::sizing::{curves::Axis, curves::CurveSet, reasons::figure};
use answers::Answers;
use curves::unit;
pub(crate) use reading::Reading;
pub(crate) use state::{Arrangement, LifeState};

/// Width of the panels beside the plots: a share of the place, within bounds, points.
const PANELS_SHARE: f32 = 0.3;
const PANELS_USUAL: std::ops::RangeInclusive<f32> = 396.0..=560.0;

/// Draws the place, its controls only where the panels stand beside the plots: else they stand above what is scrolled here.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, arrangement: Arrangement, state: &mut LifeState) {
    if scene.position().is_none() {
        ui.label("Select a position on the left; the life of its candidates is then drawn here.");
        return;
    }
    let line = |ui: &mut Ui, state: &mut LifeState| {
        if arrangement == Arrangement::Beside {
            ui.horizontal_wrapped(|ui| controls(ui, scene, false, state));
        }
    };
    if state.every_pick {
        line(ui, state);
        let of_board =
            |answers: &&Answers| Some(answers.question.position.board) == scene.position().map(|p| p.0.board);
        overview::show(ui, scene, arrangement, state.answers.as_ref().filter(of_board));
        return;
    }
    if arrangement == Arrangement::Below {
        plots(ui, scene, arrangement, state);
        ui.separator();
        panels(ui, scene, state);
        return;
    }
    let usual = (ui.available_width() * PANELS_SHARE).clamp(*PANELS_USUAL.start(), *PANELS_USUAL.end());
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: space::PANEL, ..egui::Margin::ZERO });
    let panel = Panel::right("life panels").frame(frame).resizable(true).size_range(300.0..=640.0);
    widgets::main_then_panel(ui, Beside { edge: Edge::Right, id: "life panels", panel, usual }, |ui, main| {
        if main {
            line(ui, state);
            return plots(ui, scene, arrangement, state);
        }
        egui::ScrollArea::vertical().id_salt("life panels").auto_shrink([false, false]).show(ui, |ui| {
            panels(ui, scene, state);
        });
    });
}

fn panels(ui: &mut Ui, scene: &LiveScene, state: &mut LifeState) {
    let position = scene.position().map(|(id, _)| id);
    let current =
        |a: &&Answers| Some(a.question.position) == position && Some(a.question.candidate) == scene.candidate();
    let answers = state.answers.as_ref().filter(current);
    panels::show(ui, scene, answers, &mut state.forms);
}

/// What is shown, and how: the content of a line; where it is `folded`, what is wanted seldom stands behind a button.
pub(crate) fn controls(ui: &mut Ui, scene: &LiveScene, folded: bool, state: &mut LifeState) {
    ui.spacing_mut().item_spacing.x = 6.0;
    let overview = "A row for each position of the board: what its part stands, how long it lasts, what that rests on.";
    let sheets =
        [(false, "Curves", "Curves and answers for the selected position."), (true, "Board overview", overview)];
    widgets::tabs(ui, &mut state.every_pick, sheets);
    if state.every_pick {
        return;
    }
    if folded {
        reading(ui, scene, state);
    }
    widgets::folded(ui, folded, ("More…", "Axes, the second plot, what of it goes to files."), |ui| {
        let log = ui.checkbox(&mut state.log, "Log");
        widgets::named(log, "Log years").on_hover_text("Years on a logarithmic axis: equal factors at equal distance.");
        let uncapped = ui.checkbox(&mut state.uncapped, "Uncapped");
        uncapped.on_hover_text(
            "Years before the calendar life limit, so that parts above it differ; on screen and on paper.",
        );
        let axes = [Axis::Ripple, Axis::Voltage, Axis::Hours];
        let entries = axes.map(|axis| (axis, axis == state.second, axis.word().to_owned()));
        state.second = widgets::listed(ui, ("Second plot", ""), 66.0, entries).unwrap_or(state.second);
        if state.read.is_some_and(|(axis, _)| axis != Axis::Ambient && axis != state.second) {
            state.read = None;
        }
        if !folded {
            reading(ui, scene, state);
        }
        for (text, command) in [("Plot…", Command::ExportLifePicture), ("Data…", Command::ExportLifeNumbers)] {
            let info = command.info();
            if widgets::named(ui.button(text), info.label).on_hover_text(info.hover).clicked() {
                scene.push(Action::Run(command));
            }
        }
    });
}

/// Where one reads: the hottest phase until something else is typed.
fn reading(ui: &mut Ui, scene: &Scene, state: &mut LifeState) {
    let (axis, mut x) =
        state.read.or_else(|| Some((Axis::Ambient, scene.hottest_c()?))).unwrap_or((Axis::Ambient, 60.0));
    let name = format!("Read at {}", axis.word());
    ui.label("Read at").on_hover_text(name.as_str());
    let drag = DragValue::new(&mut x).speed(if axis == Axis::Ripple { 0.01 } else { 0.5 }).max_decimals(2);
    let drag = widgets::named(ui.add(drag.suffix(format!(" {}", unit(axis)))), name);
    let drag = drag.on_hover_text("The table below tells every curve's years there. Pointing into a plot reads at the pointer; a click keeps the reading.");
    if drag.changed() || state.read.is_none() {
        state.read = Some((axis, x));
    }
}

/// Heights of the large and the small plot where the place is scrolled, points.
const BELOW_EACH_OTHER: [f32; 2] = [240.0, 130.0];

/// A heading of a plot with its distance, points.
const HEADING: f32 = 22.0;

/// The large plot, what is drawn in it as a table, and the small plot against another condition.
fn plots(ui: &mut Ui, scene: &LiveScene, arrangement: Arrangement, state: &mut LifeState) {
    let Some([first, second]) = state.curves.sets.as_ref() else { return };
    let tokens = theme::tokens(ui);
    let reading = state.pointer.or(state.read);
    // A row for each curve, the heading and the offers.
    let rows = (state.curves.shown.len() as f32).min(5.0);
    let list = 74.0 + rows * 22.0;
    let [large, small] = match arrangement {
        Arrangement::Beside => {
            let left = ui.available_height() - list - 2.0 * HEADING - 8.0;
            let small = (0.25 * left).clamp(76.0, 240.0);
            [(left - small).clamp(150.0, 1000.0), small]
        }
        Arrangement::Below => BELOW_EACH_OTHER,
    };
    let mut pointer = None;
    let mut draw = |ui: &mut Ui, set: &CurveSet, height: f32| {
        let text = state.text(scene, set.axis, reading);
        let found = plot::show(ui, set, &text, height);
        pointer = pointer.or(found.map(|(x, clicked)| (set.axis, x, clicked)));
        text
    };
    let text = draw(ui, first, large);
    let read = reading.and_then(|(axis, x)| Some(([first, second].into_iter().find(|set| set.axis == axis)?, x)));
    legend::show(ui, scene, (arrangement, list), state, &text, read);
    draw(ui, second, small);
    for remark in [first, second].into_iter().flat_map(|set| &set.remarks).collect::<std::collections::BTreeSet<_>>() {
        ui.colored_label(tokens.weak, *remark);
    }
    if [first, second].iter().all(|set| set.curves.iter().all(|curve| curve.points.iter().all(|p| p.years.is_none()))) {
        ui.label("No life is known here. It takes the load profile, the ripple and the hours in a year, and of the part its endurance, upper temperature and rated ripple; the panels on the right say which is missing.");
    }
    if let Some((axis, x, true)) = pointer {
        state.read = Some((axis, rounded(x)));
    }
    let pointer = pointer.map(|(axis, x, _)| (axis, x));
    if state.pointer != pointer {
        ui.ctx().request_repaint();
    }
    state.pointer = pointer;
}

/// Three significant digits: a pointer cannot be placed better.
fn rounded(x: f64) -> f64 {
    figure(x).parse().unwrap_or(x)
}
