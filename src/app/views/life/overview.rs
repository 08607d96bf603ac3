//! Every pick of the board on one screen: stress, rise, life with its spread, what it rests on, what limits the board.

use egui::{Grid, Response, RichText, ScrollArea, Ui};

use super::{answers::Answers, panels::context::assumed, state::Arrangement};
use crate::app::actions::{Action, LiveScene};
use crate::app::state::Scene;
use crate::app::widgets::{self, explain, theme, wording, wording::UNKNOWN, wording::percent};
use crate::domain::Outcome;
use crate::sizing::{PositionSizing, Source, heat_opinion::HeatOpinions, reasons::figure, spread::in_words, years_of};

/// Draws the table; `answers` are those of the board, `None` while they are worked out.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene, arrangement: Arrangement, answers: Option<&Answers>) {
    let Some(board) = scene.board() else { return };
    board_line(ui, scene, &board.name, answers);
    let rows: Vec<&PositionSizing> =
        scene.sizing.positions.iter().filter(|p| p.id.board == scene.selection.board).collect();
    let limiting = scene.board_sized().and_then(|sized| sized.as_chosen.limiting_position());
    // A table is scrolled sideways where it must be; up and down it goes with its place when that is scrolled.
    let upright = arrangement == Arrangement::Beside;
    ScrollArea::new([true, upright]).id_salt("every pick").auto_shrink([false, !upright]).show(ui, |ui| {
        let weak = theme::tokens(ui).weak;
        // Links and marks as high as text: every pick of a board is to stand on one screen.
        ui.spacing_mut().interact_size.y = 18.0;
        Grid::new("every pick")
            .num_columns(11)
            .spacing([10.0, 2.0])
            .min_row_height(20.0)
            .min_col_width(30.0)
            .striped(true)
            .show(ui, |ui| {
                for (at, (head, explained)) in HEADS.into_iter().enumerate() {
                    let cell = right(ui, at, RichText::new(head).color(weak).size(12.0));
                    if !head.is_empty() {
                        explain::titled(cell, head, explained);
                    }
                }
                ui.end_row();
                for sized in rows {
                    row(ui, scene, sized, answers, limiting == Some(sized.id));
                    ui.end_row();
                }
            });
    });
}

/// The columns, each with the name its explanation goes by.
const HEADS: [(&str, &str); 11] = [
    ("", ""),
    ("Part", "order part"),
    ("Verdict", "verdict"),
    ("Voltage", "voltage"),
    ("Ripple", "ripple"),
    ("Core rise", "core rise"),
    ("Life, years", "years with the load profile"),
    ("P10 / P50 / P90", "spread"),
    ("On target", "on target"),
    ("Heat balance", "heat balance"),
    ("Assumptions", "rests on"),
];

/// How long the board lasts, what limits it and what comes next, its spread.
fn board_line(ui: &mut Ui, scene: &Scene, name: &str, answers: Option<&Answers>) {
    let weak = theme::tokens(ui).weak;
    let Some(answers) = answers else {
        ui.label(RichText::new("Being worked out…").color(weak));
        return;
    };
    if let Some(interval) = scene.board_sized().map(|sized| &sized.as_chosen) {
        let next = wording::shortest(scene, interval).map_or_else(String::new, |next| format!(" {next}."));
        let target = scene.job.interval_years;
        let target = target.map_or_else(String::new, |years| format!(" Target {} years.", figure(years)));
        ui.label(format!("As chosen {name} {}.{next}{target}", interval.told(scene.job)));
    }
    let spread = match &answers.board.spread {
        Ok(spread) => {
            let reached = spread.reaches_target.map(|share| format!(", the target reached in {}", percent(share)));
            let without = match answers.board.open.as_slice() {
                [] => String::new(),
                ids => {
                    let have = if ids.len() == 1 { "has" } else { "have" };
                    format!(" as chosen, without {}, which {have} no part", scene.job.references(ids, ", "))
                }
            };
            format!(
                "Spread of the board{without}: {} years{}; {} samples, seed {}.",
                in_words(spread.years),
                reached.unwrap_or_default(),
                answers.settings.samples,
                answers.settings.seed
            )
        }
        Err(unknown) => {
            format!("The board has no spread while the life of {} is not known.", scene.job.references(unknown, ", "))
        }
    };
    ui.label(RichText::new(spread).color(weak));
    ui.add_space(4.0);
}

fn row(ui: &mut Ui, scene: &LiveScene, sized: &PositionSizing, answers: Option<&Answers>, limits: bool) {
    let reference = scene.reference(sized.id);
    let selected = scene.selection.position == Some(sized.id);
    let name = if selected { RichText::new(reference).strong() } else { RichText::new(reference) };
    if ui.link(name).on_hover_text("Selects this position.").clicked() {
        scene.push(Action::Select(sized.id));
    }
    let Some(part) = sized.choice.part else {
        ui.label(sized.choice.instead_of_a_part());
        widgets::outcome(ui, sized.choice.verdict);
        for column in 3..HEADS.len() {
            right(ui, column, "–");
        }
        return;
    };
    let how = if sized.choice.source == Source::Pick { "picked" } else { "proposed" };
    ui.label(scene.catalog.part_number(part.id)).on_hover_text(how);
    widgets::outcome(ui, part.evaluation.verdict);
    let figures = &part.evaluation.figures;
    let share = |value: Option<f64>| value.map_or_else(|| UNKNOWN.into(), percent);
    right(ui, 3, share(figures.voltage_usage));
    right(ui, 4, share(figures.ripple_usage));
    right(ui, 5, kelvin(figures.core_rise_k));
    let years = |life_h: Option<f64>| years_of(scene.job.hours_per_year, &scene.job.policy, life_h?);
    let life = match (figures.calendar_years, years(figures.life_low_h), years(figures.life_high_h)) {
        (Some(nominal), Some(low), Some(high)) if figure(low) != figure(high) => {
            format!("{} ({} to {})", figure(nominal), figure(low), figure(high))
        }
        (Some(nominal), ..) => figure(nominal),
        _ => UNKNOWN.into(),
    };
    let life = if limits { RichText::new(format!("{life}, limits")).strong() } else { RichText::new(life) };
    ui.label(life);
    let each = answers.map(|answers| answers.board.each.iter().find(|each| each.id == sized.id));
    match each {
        None => {
            ui.label("…");
            ui.label("…");
            ui.label("…");
        }
        Some(each) => {
            let spread = each.and_then(|each| each.years);
            let text = spread.map(|y| format!("{} / {} / {}", figure(y.p10), figure(y.p50), figure(y.p90)));
            ui.label(text.unwrap_or_else(|| UNKNOWN.into()));
            right(ui, 8, share(each.and_then(|each| each.reaches_target)));
            balance(ui, each.and_then(|each| each.heat));
        }
    }
    let rests = assumed(part.evaluation.assumed);
    let rests = rests.strip_prefix("assumed: ").unwrap_or(&rests);
    // One line each, so that every pick stands on one screen: where there is no room for all of it their number, all on hover.
    let fits = wording::width(ui, rests) < ui.clip_rect().right() - ui.cursor().left() - 12.0;
    let count = part.evaluation.assumed.each().count();
    let words = if fits { rests.to_owned() } else { wording::count(count, "figure", "figures") };
    ui.label(words).on_hover_text(rests);
}

/// Columns of figures that are read one below the other, with their widths, points.
const FIGURES: [(usize, f32); 4] = [(3, 48.0), (4, 42.0), (5, 56.0), (8, 54.0)];

/// A cell of a column, at its right edge where it holds figures.
fn right(ui: &mut Ui, column: usize, text: impl Into<RichText>) -> Response {
    match FIGURES.iter().find(|(at, _)| *at == column) {
        Some(&(_, width)) => widgets::right(ui, width, text),
        None => ui.label(text.into()),
    }
}

/// The heat balance; where it is far from the law by how much, with a mark where it is the hotter one.
fn balance(ui: &mut Ui, heat: Option<HeatOpinions>) {
    let rise = kelvin(heat.and_then(|heat| heat.balance_rise_k));
    let Some((heat, apart)) = heat.and_then(|heat| Some((heat, heat.far_apart()?))) else {
        ui.label(rise);
        return;
    };
    let text = format!("{rise}, {apart}");
    let tokens = theme::tokens(ui);
    let told = if heat.balance_above_law_k().is_some_and(|above_k| above_k > 0.0) {
        widgets::marked(ui, Outcome::Marginal, &text, tokens.outcome(Outcome::Marginal).ink)
    } else {
        ui.label(text)
    };
    told.on_hover_text(heat.sentence());
}

fn kelvin(rise_k: Option<f64>) -> String {
    rise_k.map_or_else(|| UNKNOWN.into(), |rise_k| format!("{} K", figure(rise_k)))
}
