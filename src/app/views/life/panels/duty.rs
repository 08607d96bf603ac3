//! The duty: a drawing of its phases, and a table to change them.

use egui::{Align, Align2, FontId, Grid, Label, Layout, Rect, RichText, Stroke, StrokeKind, TextStyle, Ui, pos2, vec2};

use super::{context::PanelContext, context::remark};
use crate::app::widgets::{self, explain, px, right, theme, wording::UNKNOWN, wording::percent};
use crate::domain::{Phase, schema::PHASE, style};
use crate::sizing::{duty::DutyDamage, reasons::figure};

/// Height of the drawing, points.
const HEIGHT: f32 = 74.0;

pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext) {
    let Some((_, position)) = desk.scene.position() else { return };
    let (phases, of) = desk.scene.phases();
    let (own, phases_known) = (of.is_none(), !phases.is_empty());
    if phases.is_empty() {
        ui.weak("The load profile is not known, so no life can be worked out. Add a phase: its share of the energised time and the ambient beside the can, or import a temperature log below.");
    } else {
        let damage = desk.answers.and_then(|answers| answers.damage.clone());
        let damage = damage.filter(|damage| damage.phases.len() == phases.len());
        drawing(ui, &phases, damage.as_ref());
        match of {
            None => table(ui, desk, &phases, damage.as_ref()),
            Some(of) => drop(ui.weak(format!(
                "These are the phases of the whole {}; they hold here as long as the position has none of its own.",
                <&str>::from(of)
            ))),
        }
        match &damage {
            Some(damage) => {
                ui.label(damage.sentence());
            }
            None if desk.answers.is_some() => {
                ui.weak("Which phase eats the life is not known: a figure of the load profile, the ripple or the part is missing.");
            }
            None => {}
        }
    }
    desk.refusals(ui);
    ui.horizontal(|ui| {
        let (name, hover) = if own {
            ("Add a phase", "Adds a phase; what is not known stays unknown until it is entered.")
        } else {
            ("Phases of its own", "Gives the position these phases as its own, to be changed.")
        };
        if ui.button(name).on_hover_text(hover).clicked() {
            desk.edit("add a phase", |position| {
                let at_first = if own { Vec::new() } else { phases };
                let own_phases = position.stress.phases.get_or_insert(at_first);
                if own {
                    own_phases.push(Phase::default());
                }
            });
        }
        if own && !phases_known {
            desk.forms.changes_phases = true;
        } else if own {
            let change = egui::Button::selectable(desk.forms.changes_phases, "Change").frame_when_inactive(true);
            let change = ui.add(change).on_hover_text("Share, ambient and ripple of each phase become fields.");
            desk.forms.changes_phases ^= change.clicked();
        }
        if let Some(air) = position.stress.airflow_lfm {
            remark(ui, air_words(air));
        }
    });
}

/// The moving air, in the unit of the job file and in metres per second.
fn air_words(airflow_lfm: f64) -> String {
    /// One foot is 0.3048 m (exact, international foot).
    const M_PER_S_OF_LFM: f64 = 0.3048 / 60.0;
    if airflow_lfm <= 0.0 {
        return "still air".to_owned();
    }
    format!("air at {} m/s ({} ft/min)", figure(airflow_lfm * M_PER_S_OF_LFM), figure(airflow_lfm))
}

/// Bars as wide as a phase is long and as high as it is warm; below each the share of the life it uses.
fn drawing(ui: &mut Ui, phases: &[Phase], damage: Option<&DutyDamage>) {
    let tokens = theme::tokens(ui);
    let share = |phase: &Phase| phase.share.unwrap_or(0.0).max(0.0);
    let total: f64 = phases.iter().map(share).sum();
    let spoken: Vec<String> = phases.iter().enumerate().map(|(at, phase)| spoken(at, phase, total, damage)).collect();
    let name = format!("drawing of the load profile: {}", spoken.join("; "));
    let (rect, response) = widgets::picture(ui, vec2(ui.available_width(), HEIGHT), &name);
    response.on_hover_text(spoken.join("\n"));
    let ambients = || phases.iter().filter_map(|phase| phase.ambient_c);
    let (Some(cool), Some(warm)) = (ambients().reduce(f64::min), ambients().reduce(f64::max)) else { return };
    if total <= 0.0 {
        return;
    }
    let painter = ui.painter();
    let font = FontId::proportional(11.0);
    let strip = 17.0;
    let floor = rect.bottom() - strip;
    let mut left = rect.left();
    let worst = damage.map(|damage| damage.eats_most);
    for (at, phase) in phases.iter().enumerate() {
        let width = rect.width() * px(share(phase) / total);
        let Some(ambient_c) = phase.ambient_c else {
            left += width;
            continue;
        };
        // The coolest phase keeps a third of the height, so that it can be seen.
        let span = (warm - cool).max(1.0);
        let high = px(0.34 + 0.5 * ((ambient_c - cool) / span)) * (floor - rect.top());
        let bar = Rect::from_min_max(pos2(left, floor - high), pos2((left + width - 1.5).max(left + 1.0), floor));
        let colour = tokens.series[at % tokens.series.len()];
        painter.rect_filled(bar, 1.0, colour.gamma_multiply(0.3));
        let stroke = Stroke::new(if worst == Some(at) { 2.0 } else { 1.0 }, colour);
        painter.rect_stroke(bar, 1.0, stroke, StrokeKind::Inside);
        // The first of the words that has room.
        let middle = |words: &[String], bottom: f32, ink| {
            let mut galleys = words.iter().map(|text| painter.layout_no_wrap(text.clone(), font.clone(), ink));
            if let Some(galley) = galleys.find(|galley| galley.size().x < bar.width()) {
                let at = Align2::CENTER_BOTTOM.anchor_size(pos2(bar.center().x, bottom), galley.size());
                painter.galley(at.min, galley, ink);
            }
        };
        middle(&[format!("{} °C", figure(ambient_c))], bar.top() - 1.0, tokens.text);
        if let Some(eaten) = damage.and_then(|damage| damage.phases.get(at)) {
            let share = percent(eaten.damage_share);
            middle(&[format!("{share} of life"), share], rect.bottom(), tokens.weak);
        }
        left += width;
    }
    painter.hline(rect.x_range(), floor, Stroke::new(1.0, tokens.line));
}

fn spoken(at: usize, phase: &Phase, total: f64, damage: Option<&DutyDamage>) -> String {
    let share = phase.share.filter(|_| total > 0.0).map_or_else(|| UNKNOWN.into(), |share| percent(share / total));
    let ambient = phase.ambient_c.map_or_else(|| UNKNOWN.into(), |ambient| format!("{} °C", figure(ambient)));
    let eaten = damage.and_then(|damage| damage.phases.get(at));
    let eaten = eaten.map_or_else(String::new, |eaten| format!(", {} of the life", percent(eaten.damage_share)));
    format!("{} {share} at {ambient}{eaten}", title(at, phase))
}

fn title(at: usize, phase: &Phase) -> String {
    phase.name.clone().unwrap_or_else(|| format!("phase {}", at + 1))
}

/// The fields of a phase, and what counts where one is empty.
const FIELDS: [(&str, &str, Option<f64>); 3] = [
    ("share", "stress.phases.share", None),
    ("ambient", "stress.phases.ambient_c", None),
    ("ripple factor", "stress.phases.ripple_scale", Some(1.0)),
];

/// The columns of figures nobody types, with their widths, points.
const FIGURES: [(usize, f32); 2] = [(4, 38.0), (5, 40.0)];

/// What everything but the name of a phase takes, points; what the word for a figure nobody knows takes more, and the button that removes a
/// phase. Were it too little, the names would grow with the panel and the panel with the names.
const BESIDE_NAME: f32 = 296.0;
const MORE_WITH_UNKNOWN: f32 = 18.0;
const MORE_WITH_BUTTON: f32 = 24.0;

fn table(ui: &mut Ui, desk: &mut PanelContext, phases: &[Phase], damage: Option<&DutyDamage>) {
    let weak = theme::tokens(ui).weak;
    // The names take what the figures leave.
    let is_unknown = |phase: &Phase| {
        let of_phase = |path: &str| PHASE.iter().find(|field| field.path == path)?.figure(phase);
        FIELDS.iter().any(|(_, path, absent)| of_phase(path).or(*absent).is_none())
    };
    let more = match desk.forms.changes_phases {
        true => MORE_WITH_BUTTON,
        false if phases.iter().any(is_unknown) => MORE_WITH_UNKNOWN,
        false => 0.0,
    };
    let name_width = (ui.available_width() - BESIDE_NAME - more).clamp(70.0, 220.0);
    Grid::new("phases").num_columns(7).spacing([6.0, 3.0]).show(ui, |ui| {
        let heads = [
            ("Phase", "phase"),
            ("Share", "phase share"),
            ("Amb. °C", "phase ambient"),
            ("Ripple ×", "phase ripple"),
            ("Rise K", "core rise"),
            ("Life", "phase life"),
            ("", ""),
        ];
        for (at, (text, explained)) in heads.into_iter().enumerate() {
            let shown = RichText::new(text).color(weak).size(12.0);
            let head = match FIGURES.iter().find(|(column, _)| *column == at) {
                Some(&(_, width)) => right(ui, width, shown),
                None => ui.label(shown),
            };
            if !text.is_empty() {
                explain::titled(head, text, explained);
            }
        }
        ui.end_row();
        for (at, phase) in phases.iter().enumerate() {
            let number = at + 1;
            let name = title(at, phase);
            // A name of several lines makes its row higher: the grid sets what it is asked for in the middle of a row.
            let font = TextStyle::Body.resolve(ui.style());
            let lines = ui.painter().layout(name.clone(), font, weak, name_width).size().y;
            ui.allocate_ui_with_layout(vec2(name_width, lines.max(20.0)), Layout::top_down(Align::Min), |ui| {
                ui.set_width(name_width);
                ui.add(Label::new(&name).wrap());
            });
            for (what, path, absent) in FIELDS {
                let Some(field) = PHASE.iter().find(|field| field.path == path) else { continue };
                let mut value = field.figure(phase).or(absent);
                if !desk.forms.changes_phases {
                    right(ui, 44.0, value.map_or_else(|| UNKNOWN.to_owned(), figure));
                    continue;
                }
                if !desk.field(ui, &format!("phase {number} {what}"), path, &mut value, 44.0) {
                    continue;
                }
                desk.edit(&format!("{what} of a phase"), |position| {
                    let phase = position.stress.phases.as_mut().and_then(|phases| phases.get_mut(at));
                    phase.into_iter().for_each(|phase| field.set_figure(phase, value));
                });
            }
            let worn = damage.and_then(|damage| damage.phases.get(at));
            let figures = [
                worn.map_or_else(|| "–".into(), |worn| style::rise(worn.rise_k)),
                worn.map_or_else(|| "–".into(), |worn| percent(worn.damage_share)),
            ];
            for ((_, width), text) in FIGURES.iter().zip(figures) {
                right(ui, *width, RichText::new(text));
            }
            if !desk.forms.changes_phases {
                ui.end_row();
                continue;
            }
            let remove = widgets::named(ui.small_button("×"), format!("Remove phase {number}"));
            if remove.on_hover_text(format!("Removes {name}.")).clicked() {
                desk.edit("remove a phase", |position| {
                    let phases = &mut position.stress.phases;
                    phases.as_mut().filter(|phases| at < phases.len()).map(|phases| phases.remove(at));
                    phases.take_if(|phases| phases.is_empty());
                });
            }
            ui.end_row();
        }
    });
}
