//! How far the years spread: percentiles, a small histogram, and which input matters most.

use egui::{CollapsingHeader, Grid, Rect, RichText, Stroke, Ui, pos2, vec2};

use super::{context::PanelContext, context::remark};
use crate::app::widgets::{self, asked::change_job, explain, px, theme, wording::percent};
use crate::domain::schema::{Field, JOB, Kind};
use crate::domain::{Job, Unit};
use crate::files::entry;
use crate::sizing::reasons::figure;
use crate::sizing::spread::{Settings, YearsSpread, in_words};

/// Bars of the histogram.
const BARS: u32 = 30;
const HEIGHT: f32 = 64.0;

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let Some(answers) = desk.answers(ui).cloned() else { return };
    match &answers.spread {
        Some(spread) => {
            let name = desk.scene.name(answers.question.candidate);
            percentiles(ui, &format!("{name} lasts"), spread);
            histogram(ui, "of this part", spread, desk.scene.place().and_then(|place| place.target_years()));
            importance(ui, spread);
        }
        None => drop(ui.weak(
            "What is unknown has no spread: the life of this part is not known here, or the hours in a year are not.",
        )),
    }
    match &answers.board.spread {
        Ok(spread) => {
            percentiles(ui, "The board, as chosen, lasts", spread);
            histogram(ui, "of the board", spread, desk.scene.job.interval_years);
            let without = &answers.board.open;
            if !without.is_empty() {
                let names = desk.scene.job.references(without, ", ");
                ui.weak(format!("It counts the chosen parts; still without a part and not counted: {names}."));
            }
            let limited = spread.limited_by.iter().take(4);
            let limited: Vec<String> =
                limited.map(|(id, share)| format!("{} {}", desk.scene.reference(*id), percent(*share))).collect();
            if !limited.is_empty() {
                ui.label(format!("Limited by {}.", limited.join(", ")));
            }
        }
        Err(unknown) if unknown.is_empty() => {
            ui.weak("The board has no spread: no position has a part, or the hours in a year are not known.");
        }
        Err(unknown) => {
            ui.weak(format!(
                "The board has no spread while the life of {} is not known.",
                desk.scene.job.references(unknown, ", ")
            ));
        }
    }
    CollapsingHeader::new("Uncertainties of the job").show_unindented(ui, |ui| inputs(ui, desk, &answers.settings));
}

fn percentiles(ui: &mut Ui, what: &str, spread: &YearsSpread) {
    let (years, raw) = (spread.years, spread.uncapped_years);
    let text = format!("{what} {} years", in_words(years));
    let capped = raw.p90 > spread.cap_years;
    let text = if capped { format!("{text}, capped at {}", figure(spread.cap_years)) } else { text };
    ui.label(format!("{text}.")).on_hover_text(format!("Before the cap: {} years.", in_words(raw)));
}

/// The inputs by what they do to the years, the most first: word, share, bar.
fn importance(ui: &mut Ui, spread: &YearsSpread) {
    let Some(ranked) = &spread.importance else { return };
    let tokens = theme::tokens(ui);
    ui.label(format!("What matters most: {}.", ranked[0].input.word()));
    Grid::new("what matters").num_columns(3).spacing([8.0, 0.0]).show(ui, |ui| {
        for (at, each) in ranked.iter().enumerate() {
            ui.label(format!("{}. {}", at + 1, each.input.word()));
            ui.label(percent(each.share));
            let name = format!("{}. {} {}", at + 1, each.input.word(), percent(each.share));
            let (rect, _) = widgets::picture(ui, vec2((ui.available_width() - 12.0).max(40.0), 9.0), &name);
            let width = rect.width() * px(each.share.clamp(0.0, 1.0));
            let bar = Rect::from_min_size(rect.min, vec2(width.max(1.0), rect.height()));
            ui.painter().rect_filled(bar, 1.0, tokens.series[0].gamma_multiply(0.55));
            ui.end_row();
        }
    });
}

fn histogram(ui: &mut Ui, of: &str, spread: &YearsSpread, target_years: Option<f64>) {
    let tokens = theme::tokens(ui);
    let raw = spread.uncapped_years;
    let most = (raw.p90 * 1.35).max(target_years.unwrap_or(0.0) * 1.1);
    let bars = spread.histogram(BARS, most);
    let tallest = bars.iter().map(|bar| bar.count).max().unwrap_or(1).max(1);
    let name =
        format!("histogram of the years {of} before the cap, P10 {} to P90 {}", figure(raw.p10), figure(raw.p90));
    let (rect, response) = widgets::picture(ui, vec2(ui.available_width(), HEIGHT), &name);
    response.on_hover_text("Years of the samples before the cap; the last bar holds whatever is longer. Dark line: target. Thin lines: P10, P50, P90.");
    let painter = ui.painter();
    let label_height = 14.0;
    let floor = rect.bottom() - label_height;
    let x = |years: f64| rect.left() + rect.width() * px((years / most).clamp(0.0, 1.0));
    for bar in &bars {
        let high = (floor - rect.top()) * bar.count as f32 / tallest as f32;
        let area = Rect::from_min_max(pos2(x(bar.from_years) + 0.5, floor - high), pos2(x(bar.to_years) - 0.5, floor));
        painter.rect_filled(area, 0.0, tokens.series[0].gamma_multiply(0.55));
    }
    painter.hline(rect.x_range(), floor, Stroke::new(1.0, tokens.line));
    let font = egui::FontId::proportional(11.0);
    let mark = |years: f64, width: f32, colour, text: &str| {
        painter.vline(x(years), rect.top()..=floor, Stroke::new(width, colour));
        let half = painter.layout_no_wrap(text.to_owned(), font.clone(), colour).size().x / 2.0;
        let at = x(years).clamp(rect.left() + half, rect.right() - half);
        painter.text(pos2(at, rect.bottom()), egui::Align2::CENTER_BOTTOM, text, font.clone(), colour);
    };
    mark(raw.p10, 1.0, tokens.text, "P10");
    // Where they stand close the middle one goes without its word.
    let apart = x(raw.p50) - x(raw.p10) > 24.0 && x(raw.p90) - x(raw.p50) > 24.0;
    mark(raw.p50, 1.0, tokens.text, if apart { "P50" } else { "" });
    mark(raw.p90, 1.0, tokens.text, "P90");
    if let Some(target) = target_years {
        painter.vline(x(target), rect.top()..=floor, Stroke::new(2.5, tokens.target));
    }
}

/// How uncertain the inputs are; what nobody said is shown as assumed.
fn inputs(ui: &mut Ui, desk: &mut PanelContext, settings: &Settings) {
    let known = settings.uncertainty;
    let inputs = [
        ("uncertainty.ambient_sigma_k", known.ambient_k),
        ("uncertainty.ripple_sigma_rel", known.ripple),
        ("uncertainty.endurance_sigma_rel", known.endurance),
    ];
    let fields = inputs.iter().filter_map(|(path, used)| Some((JOB.iter().find(|field| field.path == *path)?, *used)));
    Grid::new("uncertainty").num_columns(3).spacing([8.0, 3.0]).show(ui, |ui| {
        fields.for_each(|(field, used)| row(ui, desk, field, used));
    });
    desk.refusals(ui);
    remark(
        ui,
        format!(
            "Standard deviations of the whole job. {} samples, seed {}: the same seed gives the same figures.",
            settings.samples, settings.seed
        ),
    );
}

fn row(ui: &mut Ui, desk: &mut PanelContext, field: &'static Field<Job>, used: f64) {
    explain::on(ui.label(field.label), field.path);
    let given = field.figure(desk.scene.job);
    let mut value = given;
    let entered = desk.field(ui, field.label, field.path, &mut value, 68.0);
    let unit = match field.kind {
        Kind::Number(unit, _) => unit,
        _ => Unit::Number,
    };
    if given.is_none() {
        ui.label(RichText::new(format!("{} assumed", entry::print(unit, used))).italics());
    } else {
        ui.label(unit.symbol());
    }
    ui.end_row();
    let set = |job: &mut Job| field.set_figure(job, value);
    if entered {
        change_job(desk.scene, &field.label.to_lowercase(), set);
    }
}
