//! The board's interval: years as built, now and as it could be; years against cost; picks to apply.

use egui::{Ui, WidgetInfo, vec2};
use egui_plot::{AxisHints, Line, LineStyle, Plot, PlotPoints, Points, VLine};

use super::{context::PanelContext, context::remark, limits};
use crate::app::actions::Action;
use crate::app::state::Scene;
use crate::app::views::life::{answers::Answers, answers::Proposal};
use crate::app::widgets::{self, ChangeList, pick_changes, theme};
use crate::domain::{Bounds, Place, Unit, style};
use crate::sizing::{BoardSizing, interval_plan::rebuilds, reasons::figure};

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    let base = &answers.board.base;
    let currency = desk.scene.job.currency.clone().unwrap_or_default();
    let money = |value: f64| format!("{} {currency}", style::money(value)).trim_end().to_owned();
    if let Some(sized) = desk.scene.board_sized() {
        ui.label(format!("As chosen the board {}.", sized.as_chosen.told(desk.scene.job)));
        shortest(ui, desk, &sized.as_chosen.shortest);
        ui.label(format!("With the original parts new it {}.", sized.as_built.told(desk.scene.job)));
    }
    if let Some(cost) = base.chosen_cost {
        ui.label(format!("Parts as chosen cost {} for the whole job, spares included.", money(cost)));
    } else {
        ui.weak("What the chosen parts cost is not known: a position has none, or one without a price.");
    }
    for (id, why) in &base.left_out {
        ui.weak(format!("Left out of the plan: {}, {why}.", desk.scene.reference(*id)));
    }
    limits::show(ui, desk, &answers, &money);
    if base.other_currency > 0 {
        ui.weak(format!(
                "{} usable candidates have a price that does not compare (another currency without a rate) and are not in the plan.",
                base.other_currency
            ));
    }
}

/// What other picks would make of the board, for what cost.
pub(super) fn plan(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    let currency = desk.scene.job.currency.clone().unwrap_or_default();
    let money = |value: f64| format!("{} {currency}", style::money(value)).trim_end().to_owned();
    horizon(ui, desk);
    plans(ui, desk, &answers, &currency);
    picks(ui, desk, &answers, &money);
    remark(
        ui,
        "Cost of each position's own need by its best offer, with minimum, pack and stock in the shop; order lines shared between positions are the matter of Purchase. Plans take parts that pass every check; others only where ticked above.",
    );
}

/// Years against cost, of one rebuild or over the horizon.
fn plans(ui: &mut Ui, desk: &mut PanelContext, answers: &Answers, currency: &str) {
    match &answers.interval {
        Err(error) => drop(ui.weak(format!("There is no plan: {error}."))),
        Ok(found) => {
            let costed = !found.over_horizon.is_empty();
            ui.horizontal(|ui| {
                ui.label("Cost");
                let over = &mut desk.forms.over_horizon;
                let once = (false, "of one rebuild's parts", "What the picks cost once.");
                widgets::tabs(ui, over, [once]);
                let horizon = (true, "over the horizon", "Rebuilds within the horizon times teardown and parts.");
                let tab = ui.add_enabled_ui(costed, |ui| widgets::tabs(ui, over, [horizon])).response;
                tab.on_disabled_hover_text("It takes a horizon and a teardown cost.");
            });
            frontier(ui, answers, desk.scene.board_sized(), currency, desk.forms.over_horizon && costed);
        }
    }
}

/// What a plan for the target does not reach: positions it leaves out and other parts whose years are unknown.
fn except_at(scene: &Scene, answers: &Answers) -> Option<String> {
    let left_out = answers.board.base.left_out.iter().map(|(id, _)| Place::from(*id));
    let others = scene.sizing.others_of(answers.question.scope.board).filter(|(_, years)| years.is_none());
    let open: Vec<Place> = left_out.chain(others.map(|(id, _)| Place::from(id))).collect();
    (!open.is_empty()).then(|| scene.job.references(&open, ", "))
}

/// What reaches the target and what costs least over the horizon, each with the button that picks it.
fn picks(ui: &mut Ui, desk: &mut PanelContext, answers: &Answers, money: &dyn Fn(f64) -> String) {
    let base = &answers.board.base;
    match (&answers.for_target, base.target_years) {
        (Some(plan), Some(target)) => {
            let extra = answers.interval.as_ref().ok().and_then(|found| found.extra_for_target);
            let extra = extra.map_or_else(String::new, |extra| {
                let word = if extra < 0.0 { "less" } else { "more" };
                format!(", {} {word} than the chosen ones", money(extra.abs()))
            });
            let what = match base.ended_before_target() {
                None => {
                    let (target, cost) = (figure(target), money(plan.parts_cost));
                    match except_at(desk.scene, answers) {
                        None => format!("The target of {target} years, reached for {cost}{extra}"),
                        Some(names) => {
                            format!("The target of {target} years is reached except at {names}, for {cost}{extra}")
                        }
                    }
                }
                Some((id, years)) => format!(
                    "No choice of capacitors reaches the target of {} years: {} is used up after {} years. For capacitors that last so long all the same, {}{extra}",
                    figure(target),
                    desk.scene.job.name_of(Place::Other(id)),
                    figure(years),
                    money(plan.parts_cost)
                ),
            };
            proposal(ui, desk, 0, "Apply the picks for the target", &what, plan);
        }
        (None, Some(target)) => {
            let ceiling = base.ceilings();
            let why = ceiling.first().map_or_else(String::new, |(id, years)| {
                format!(
                    ": no part that may be taken lasts longer than {} years at {}",
                    figure(*years),
                    desk.scene.reference(*id)
                )
            });
            ui.weak(format!("No choice of parts reaches the target of {} years{why}.", figure(target)));
        }
        (_, None) => drop(ui.weak("The job has no target: set its interval in Job and policy.")),
    }
    let total = answers.interval.as_ref().ok().and_then(|found| found.best.as_ref());
    if let (Some(plan), Some(total), Some(horizon)) = (&answers.best, total, answers.question.horizon_years) {
        let what = format!(
            "Cheapest over {} years: {} rebuilds, {} with teardown and parts",
            figure(horizon),
            figure(total.rebuilds),
            money(total.total_cost)
        );
        proposal(ui, desk, 1, "Apply the cheapest picks", &what, plan);
    } else if base.teardown_cost.is_none() {
        ui.weak("The cost over the horizon is not known: the job says nothing of the teardown cost.");
    }
}

/// What limits and the next three, each a link.
fn shortest(ui: &mut Ui, desk: &mut PanelContext, list: &[(Place, f64)]) {
    ui.horizontal_wrapped(|ui| {
        for (at, (place, years)) in list.iter().enumerate() {
            ui.label(["First to be used up:", "then", "and"][at.min(2)]);
            let text = format!("{} ({} years)", desk.scene.job.name_of(*place), figure(*years));
            if widgets::link(ui, text).on_hover_text("Selects it.").clicked() {
                desk.scene.push(Action::select_place(*place));
            }
        }
    });
}

fn horizon(ui: &mut Ui, desk: &mut PanelContext) {
    ui.horizontal(|ui| {
        ui.label("Horizon");
        desk.figure(ui, "horizon", |forms| &mut forms.horizon_years, (Unit::Year, Bounds::Positive), 44.0);
        ui.label("years");
    });
    desk.refusals(ui);
    ui.checkbox(&mut desk.forms.scope.accept_marginal, "Also marginal parts").on_hover_text(
        "The plan then also takes parts that hold with less margin than asked for; the list below names them.",
    );
    ui.checkbox(&mut desk.forms.scope.short_lived, "Also parts that fail only the target life").on_hover_text(
        "Shorter intervals may cost less: the plan then also takes parts that pass every check but that of the target life.",
    );
}

/// Years against the cost of parts, or against the cost over the horizon, with the target; the chosen parts as a square.
fn frontier(ui: &mut Ui, answers: &Answers, sized: Option<&BoardSizing>, currency: &str, over_horizon: bool) {
    let Ok(found) = &answers.interval else { return };
    let tokens = theme::tokens(ui);
    let base = &answers.board.base;
    let steps: Vec<[f64; 2]> = if over_horizon {
        found.over_horizon.iter().map(|costed| [costed.plan.interval_years, costed.total_cost]).collect()
    } else {
        found.frontier.iter().map(|plan| [plan.interval_years, plan.parts_cost]).collect()
    };
    let lasts = sized.filter(|sized| sized.as_chosen.unknown.is_empty()).and_then(|sized| sized.as_chosen.years);
    let chosen = lasts.zip(base.chosen_cost).and_then(|(years, cost)| {
        if !over_horizon {
            return Some([years, cost]);
        }
        let rebuilds = rebuilds(answers.question.horizon_years?, years)?;
        Some([years, rebuilds * (base.teardown_cost? + cost)])
    });
    let ys = || steps.iter().chain(&chosen).map(|point| point[1]);
    let xs = || steps.iter().chain(&chosen).map(|point| point[0]).chain(base.target_years);
    let (Some(low), Some(high)) = (ys().reduce(f64::min), ys().reduce(f64::max)) else { return };
    let room = ((high - low) * 0.12).max(high * 0.02).max(1e-6);
    let right = xs().fold(1.0, f64::max) * 1.05;
    let left = (xs().fold(f64::INFINITY, f64::min) * 0.9).min(right * 0.9);
    let salt = (low.to_bits(), high.to_bits(), right.to_bits(), over_horizon);
    let plot = Plot::new(egui::Id::unique(("frontier", salt)))
        .height(132.0)
        .allow_scroll(false)
        .allow_drag(false)
        .allow_zoom(false)
        .default_x_bounds(left, right)
        .default_y_bounds(low - room, high + room)
        .set_margin_fraction(vec2(0.0, 0.0))
        .grid_color(tokens.line)
        .custom_x_axes(vec![AxisHints::new_x().label_spacing(26.0..=40.0)])
        .custom_y_axes(vec![AxisHints::new_y().label_spacing(16.0..=24.0)])
        .label_formatter(|at| {
            let egui_plot::HoverPosition::NearDataPoint { position, plot_name, .. } = at else { return None };
            Some(format!("{plot_name}\n{} years for {}", figure(position.x), style::money(position.y)))
        });
    let shown = plot.show(ui, |plot| {
        // A longer interval is to be had only from the next point on: between them the cost is that of the next. Over a horizon the cost jumps with the
        // number of rebuilds, so only the picks themselves are drawn.
        for pair in steps.windows(2).filter(|_| !over_horizon) {
            let corner = [pair[0][0], pair[1][1]];
            for piece in [[pair[0], corner], [corner, pair[1]]] {
                let piece = Line::new("", PlotPoints::from(piece.to_vec())).color(tokens.series[0]).width(1.5);
                plot.line(piece.allow_hover(false));
            }
        }
        plot.points(Points::new("cheapest picks", steps.clone()).radius(3.0).color(tokens.series[0]));
        if let Some(point) = chosen {
            let square = Points::new("as chosen", vec![point]).shape(egui_plot::MarkerShape::Square).radius(5.0);
            plot.points(square.color(tokens.text).filled(false));
        }
        if let Some(target) = base.target_years {
            let line = VLine::new("target", target).color(tokens.target).width(1.5);
            plot.vline(line.style(LineStyle::Dashed { length: 6.0 }));
        }
    });
    let what = if over_horizon { "years against cost over the horizon" } else { "years against cost" };
    let name = steps.first().zip(steps.last()).map_or_else(String::new, |(first, last)| {
        format!(
            "{what}: from {} years for {} to {} years for {}",
            figure(first[0]),
            style::money(first[1]),
            figure(last[0]),
            style::money(last[1])
        )
    });
    shown.response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &name));
    let unit = if currency.is_empty() { "cost".to_owned() } else { format!("cost in {currency}") };
    let of = if over_horizon { "of all rebuilds within the horizon" } else { "of its parts" };
    remark(ui, format!("Across: years of its capacitors; upwards: {unit} {of}. Square: as chosen; dashed: target."));
}

/// What a plan brings, and the list of its changes to be applied as one step.
fn proposal(ui: &mut Ui, desk: &mut PanelContext, at: usize, button: &str, what: &str, plan: &Proposal) {
    ui.separator();
    ui.label(format!("{what}; its capacitors then last {} years.", figure(plan.interval_years)));
    if !plan.spoiled.is_empty() {
        let names = desk.scene.job.references(&plan.spoiled, ", ");
        ui.weak(format!(
            "Once all are made these are worse beside their new neighbours: {names}. Look at them afterwards."
        ));
    }
    let currency = desk.scene.job.currency.clone().unwrap_or_default();
    let list = ChangeList {
        id: button,
        job: desk.scene.job,
        sizing: desk.scene.sizing,
        board: desk.scene.position().map(|(id, _)| id.board),
        currency: &currency,
        changes: &plan.changes,
        button,
        refusal: (!desk.scene.fresh).then_some("The job changed; the plan is being worked out anew."),
    };
    let edit = pick_changes(ui, &list, &mut desk.forms.ticks[at]);
    desk.scene.extend(edit.map(Action::Edit));
}
