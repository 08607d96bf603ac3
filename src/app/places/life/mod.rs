//! How long candidates last against the ambient, with the target.

use eframe::egui::Ui;
use egui_plot::{Corner, HLine, Legend, Line, LineStyle, Plot, PlotPoints, VLine};

use crate::app::action::Action;
use crate::app::scene::Scene;
use crate::app::selection::Candidate;
use crate::app::theme;
use crate::sizing::LifePoint;
use crate::sizing::reasons::figure;

/// What the plot remembers; its zoom is kept by the plot itself.
#[derive(Debug, Default)]
pub(crate) struct State {}

/// Draws the place.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, _state: &mut State, _out: &mut Vec<Action>) {
    let Some((_, position)) = scene.position() else {
        ui.label("Select a position on the left; the life of its candidates is then drawn here.");
        return;
    };
    let tokens = theme::tokens(ui);
    let shown = shown(scene);
    ui.label(reading(scene));
    let target = scene.place().and_then(|place| place.target_years());
    let plot = Plot::new("life")
        .legend(Legend::default().position(Corner::RightTop))
        .x_axis_label("Ambient beside the can, °C")
        .y_axis_label("Years until the life is used up")
        .include_y(0.0)
        .allow_scroll(false)
        .grid_color(tokens.line)
        .label_formatter(|at| {
            let (name, value) = match at {
                egui_plot::HoverPosition::NearDataPoint { plot_name, position, .. } => (*plot_name, *position),
                egui_plot::HoverPosition::Elsewhere { position } => ("", *position),
            };
            Some(format!("{name}\n{:.0} °C, {} years", value.x, figure(value.y.max(0.0))))
        });
    plot.show(ui, |plot| {
        for (index, &candidate) in shown.iter().enumerate() {
            let Some(curve) = scene.curves.get(candidate) else { continue };
            let original = candidate == Candidate::Original;
            let colour = if original { tokens.weak } else { tokens.series[index % tokens.series.len()] };
            let style = if original { LineStyle::dashed_loose() } else { LineStyle::Solid };
            plot.line(Line::new(scene.name(candidate), points(curve)).color(colour).width(2.0).style(style));
        }
        if let Some(target) = target {
            plot.hline(HLine::new("target", target).color(tokens.target).style(LineStyle::dashed_dense()).width(1.5));
        }
        for phase in position.stress.phases.iter().flatten() {
            if let Some(ambient_c) = phase.ambient_c {
                plot.vline(
                    VLine::new("phases of the duty", ambient_c).color(tokens.line).style(LineStyle::dotted_dense()),
                );
            }
        }
    });
}

/// The candidate in question, the hovered, the pinned, the original; each once.
fn shown(scene: &Scene) -> Vec<Candidate> {
    let mut shown: Vec<Candidate> = Vec::new();
    let selection = scene.selection;
    let wanted = scene.candidate().into_iter().chain(selection.pinned.iter().copied()).chain(selection.hovered);
    for candidate in wanted.chain([Candidate::Original]) {
        if !shown.contains(&candidate) {
            shown.push(candidate);
        }
    }
    shown
}

fn points(curve: &[LifePoint]) -> PlotPoints<'static> {
    curve.iter().filter_map(|point| Some([point.ambient_c, point.years?])).collect()
}

/// What the plot says of the candidate in question, in words.
fn reading(scene: &Scene) -> String {
    let Some(candidate) = scene.candidate() else { return "No candidate is selected.".to_owned() };
    let name = scene.name(candidate);
    let years = scene.evaluation(candidate).and_then(|e| e.figures.calendar_years);
    let target = scene.place().and_then(|place| place.target_years());
    let target = target.map_or_else(|| "no target is set".to_owned(), |t| format!("the target is {} years", figure(t)));
    match years {
        Some(years) => format!("{name} lasts {} years under the duty of this position; {target}.", figure(years)),
        None => {
            format!("The life of {name} is not known here: a figure of the part or of the duty is missing; {target}.")
        }
    }
}
