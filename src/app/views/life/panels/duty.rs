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

/// Widths of the columns, points: of a field, of the word for one nobody knows, and the least that a grid gives a column.
const FIELD: f32 = 44.0;
const UNKNOWN_FIELD: f32 = 58.0;
const LEAST: f32 = 40.0;
const GAP: f32 = 6.0;

fn known(phase: &Phase, path: &str, absent: Option<f64>) -> Option<f64> {
    PHASE.iter().find(|field| field.path == path)?.figure(phase).or(absent)
}

fn table(ui: &mut Ui, desk: &mut PanelContext, phases: &[Phase], damage: Option<&DutyDamage>) {
    let weak = theme::tokens(ui).weak;
    let changes = desk.forms.changes_phases;
    let is_whole = |phase: &Phase| FIELDS.iter().all(|(_, path, absent)| known(phase, path, *absent).is_some());
    let field_width = if changes || phases.iter().all(is_whole) { FIELD } else { UNKNOWN_FIELD };
    // The names take what the columns leave. Were more left than there is, the panel would grow with the names and the names with the panel.
    let figures = if changes { 3.0 } else { 2.0 };
    let beside_name = 3.0 * (field_width + GAP) + figures * (LEAST + GAP);
    let name_width = (ui.available_width() - beside_name).clamp(70.0, 220.0);
    // A grid keeps the widths it had: one for each arrangement, else the widest of them would widen the panel for good.
    Grid::new(("phases", changes, field_width > FIELD)).spacing([GAP, 3.0]).show(ui, |ui| {
        let heads = [
            ("Share", "phase share", field_width),
            ("Amb. °C", "phase ambient", field_width),
            ("Ripple ×", "phase ripple", field_width),
            ("Rise K", "core rise", LEAST),
            ("Life", "phase life", LEAST),
        ];
        let shown = |text: &str| RichText::new(text).color(weak).size(12.0);
        explain::titled(ui.label(shown("Phase")), "Phase", "phase");
        for (text, explained, width) in heads {
            explain::titled(right(ui, width, shown(text)), text, explained);
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
                let mut value = known(phase, path, absent);
                if !changes {
                    right(ui, field_width, value.map_or_else(|| UNKNOWN.to_owned(), figure));
                    continue;
                }
                if !desk.field(ui, &format!("phase {number} {what}"), path, &mut value, field_width) {
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
            figures.into_iter().for_each(|text| drop(right(ui, LEAST, text)));
            if !changes {
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
