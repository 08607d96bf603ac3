//! One can of the unit: old part, new part, lot, what was seen, and the tick.

use egui::{RichText, Ui, vec2};

use super::past::reading;
use super::shared::{above_foot, follow_enter, main_button, name};
use super::state::{BenchState, FIRST, NOT_RECORDED, Prepared, change};
use crate::app::actions::{Action, BenchAction, LiveScene};
use crate::app::widgets::field::{self, Look, Owners, no_remark};
use crate::app::widgets::{caution, entry::Basis, entry::Widths, theme, wording, wording::original, wording::percent};
use crate::domain::schema::{Field, POSITION_RECORD};
use crate::domain::{Date, Measured, Outcome, Position, PositionId, PositionRecord, Reading};
use crate::files::{
    board_colours::condition_outcome, sheets::how_to_fit, sheets::polarity, unit_record::UnitRecord, wear::wear,
};
use crate::physics::condition::Condition;
use crate::sizing::{inspection::Limits, old_part::old_part, reasons::figure};

/// The fields of a can in the order in which they are filled, by lines.
const LINES: [&[&str]; 5] = [
    &[FIRST, "bench.positions.before.esr_mohm", "bench.positions.before.leakage_ua"],
    &["bench.positions.after.capacitance_uf", "bench.positions.after.esr_mohm", "bench.positions.after.leakage_ua"],
    &["bench.positions.part_number"],
    &["bench.positions.lot", "bench.positions.date_code"],
    &["bench.positions.finding"],
];

/// Height of a window that has room for a caution in full above the fields, points.
const CAUTION_IN_FULL: f32 = 600.0;

struct Can<'a, 'j> {
    scene: &'a LiveScene<'j>,
    prepared: &'a Prepared,
    unit: usize,
    id: PositionId,
    position: &'a Position,
    record: PositionRecord,
}

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut BenchState, prepared: &Prepared) {
    let Some((id, position)) = scene.position().filter(|(id, _)| id.board == prepared.board.board) else {
        ui.label("Click a can on the map, or go to the next one that is not done (N).");
        return;
    };
    state.turn_to(Some(id));
    let record = prepared.unit.as_ref().and_then(|unit| unit.at(&prepared.board.name, &position.reference)).cloned();
    let record = record.unwrap_or_else(|| PositionRecord::of(&prepared.board.name, &position.reference));
    let can = Can { scene, prepared, unit: state.unit, id, position, record };
    let focused = ui.memory(egui::Memory::focused);
    above_foot(ui, "bench can", |ui, foot| if foot { can.tick(ui, state) } else { can.fields(ui, state) });
    follow_enter(ui, focused, state, &LINES.concat());
}

fn fields(paths: &[&str]) -> impl Iterator<Item = &'static Field<PositionRecord>> {
    paths.iter().filter_map(|path| POSITION_RECORD.iter().find(|field| field.path == *path))
}

/// How many fields have room beside each other, their names in one line, and how wide each is then, points.
fn columns(ui: &Ui, paths: &[&str], room: f32) -> (usize, f32) {
    let gap = ui.spacing().item_spacing.x;
    let width = |columns: usize| (room - gap * (columns as f32 - 1.0)) / columns as f32 - 4.0;
    let widest = fields(paths).map(|field| wording::width(ui, field.label)).fold(0.0, f32::max);
    let columns = (1..=paths.len()).rev().find(|columns| width(*columns) >= widest).unwrap_or(1);
    (columns, width(columns))
}

impl Can<'_, '_> {
    fn fields(&self, ui: &mut Ui, state: &mut BenchState) {
        let planned = self.scene.chosen().map_or("no part chosen", |part| self.scene.name(part));
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().interact_size.y = 0.0;
            ui.label(RichText::new(&self.position.reference).heading().strong());
            ui.label(original(self.position));
            ui.weak(format!("new: {planned}"));
        });
        if let Some(stored) = caution::stored(self.scene, self.id) {
            // In a lower one it must not push the fields out of sight: a press tells all of it.
            if ui.ctx().content_rect().height() < CAUTION_IN_FULL {
                caution::show(ui, &stored, caution::words(ui, &stored, ui.available_width()));
            } else {
                caution::framed(ui, &stored);
            }
        }
        let room = ui.available_width();
        for (line, paths) in LINES.iter().enumerate() {
            let (columns, width) = columns(ui, paths, room);
            for paths in paths.chunks(columns) {
                ui.horizontal_top(|ui| self.line(ui, state, paths, width));
            }
            match line {
                0 => {
                    self.condition(ui);
                    self.take_over(ui);
                    self.fitting(ui);
                }
                1 => self.limits(ui),
                3 => self.same_lot(ui),
                _ => {}
            }
        }
    }

    /// What holds between the old part and the new one: which way round, and how the new one is fitted.
    fn fitting(&self, ui: &mut Ui) {
        let chosen = self.scene.sized().and_then(|sized| sized.choice.part);
        let new = chosen.map(|part| self.scene.catalog.can(part.id));
        let mut words = format!("Polarity: {}.", polarity(self.position, new.as_ref()));
        if let (Some(part), Some(new)) = (chosen, &new) {
            words += &format!(" To fit: {}.", how_to_fit(self.position, new, &part.evaluation).join("; "));
        }
        ui.label(words);
    }

    fn line(&self, ui: &mut Ui, state: &mut BenchState, paths: &[&str], width: f32) {
        for field in fields(paths) {
            let look = Look { key: field.path, label: None, widths: Widths::over(width) };
            let owners = Owners {
                of: &[&self.record],
                derived: &|about| match (about.path, self.scene.chosen()) {
                    ("bench.positions.part_number", Some(part)) => Basis::Assumed(self.scene.name(part).to_owned()),
                    _ => Basis::Unknown,
                },
                remark: &no_remark,
                change: &|what, set| self.scene.push(self.change(what, set)),
            };
            let show = || field::show(ui, field, &look, &owners, self.scene);
            self.scene.typing(&mut state.drafts, show);
        }
    }

    fn change(&self, what: &str, set: impl FnOnce(&mut PositionRecord)) -> Action {
        let (board, reference) = (&self.prepared.board.name, &self.position.reference);
        let label = format!("{what} of {board} {reference}, {}", name(self.prepared.unit.as_ref()));
        change(self.scene, self.unit, &[self.id], label, |unit| unit.change(board, reference, set))
    }

    /// What the position holds as measured without saying on which unit: on this one, with one press.
    fn take_over(&self, ui: &mut Ui) {
        let Some(held) = self.position.measured.as_ref().filter(|held| held.unit.is_none()) else { return };
        let Measured { capacitance_uf, esr_mohm, esr_hz, .. } = *held;
        let before = Reading { capacitance_uf, esr_mohm, esr_hz, leakage_ua: None };
        if self.record.before != Reading::default() || before == Reading::default() {
            return;
        }
        let button = ui.button(format!("As entered: {}", reading(&before)));
        if button.on_hover_text("What the editor or a list says was measured here, as measured on this unit.").clicked()
        {
            self.scene.push(self.change("old part", |at| at.before = before));
            self.scene.push(Action::EndEntry);
        }
    }

    /// What the measurements say of the old part, beside what the law predicted at its age.
    fn condition(&self, ui: &mut Ui) {
        let tokens = theme::tokens(ui);
        let now = Date::today().map(Date::fractional_year);
        let Some(old) = old_part(&self.prepared.found, self.scene.catalog, self.id, now) else { return };
        let assessment = old.assessment;
        let before = &self.record.before;
        if before.capacitance_uf.is_none() && before.esr_mohm.is_none() {
            match before.leakage_ua {
                Some(leak) => ui.weak(format!("Leaks {} µA; capacitance and ESR not measured.", figure(leak))),
                None => ui.weak("Not measured yet."),
            };
            return;
        }
        let share = assessment.capacitance_share.map(|share| format!("{} of its capacitance", percent(share)));
        let no_hz = before.esr_mohm.is_some()
            && before.at_hz(self.prepared.unit.as_ref().and_then(|u| u.esr_hz)).esr_hz.is_none();
        let ratio = match assessment.esr_ratio {
            Some(ratio) => Some(format!("{} times its ESR limit", figure(ratio))),
            None if no_hz => Some("ESR without its frequency (see the unit)".to_owned()),
            None => None,
        };
        let facts: Vec<String> = share.into_iter().chain(ratio).collect();
        let (outcome, word) = condition_outcome(assessment.condition);
        let word = if assessment.condition == Condition::Unknown { "not enough measured" } else { word };
        let words = if facts.is_empty() { word.to_owned() } else { format!("{word}: {}", facts.join(", ")) };
        ui.colored_label(tokens.outcome(outcome).ink, words);
        let law = old.predicted_wear.map_or_else(String::new, |share| {
            format!("The law predicted {} of its life used at its age.", percent(share))
        });
        let since = self.since_last();
        for words in [law, since].into_iter().filter(|words| !words.is_empty()) {
            ui.weak(words).on_hover_text(old.sentence());
        }
    }

    /// How the part wore since the rebuild before, as that one measured and predicted it.
    fn since_last(&self) -> String {
        let (Some(earlier), Some(unit)) = (&self.prepared.earlier, &self.prepared.unit) else { return String::new() };
        let Some(date) = unit.date.or_else(Date::today) else { return String::new() };
        let now = PositionRecord { before: self.record.before.at_hz(unit.esr_hz), ..self.record.clone() };
        let later = UnitRecord { date, positions: vec![now], ..earlier.clone() };
        let wear = wear(std::slice::from_ref(earlier), &later).unwrap_or_default();
        wear.first().map_or_else(String::new, |wear| {
            let used = wear.by_capacitance.into_iter().chain(wear.by_esr).reduce(f64::max);
            let used = used.map_or_else(|| "unknown".to_owned(), percent);
            let predicted = wear.predicted.map_or_else(|| "unknown".to_owned(), percent);
            format!("Since {}: {used} of its life used, predicted {predicted}: {}.", earlier.date, wear.pace.word())
        })
    }

    /// Whether the new part is within the limits of its sheet.
    fn limits(&self, ui: &mut Ui) {
        let tokens = theme::tokens(ui);
        let fitted = Some(self.record.part_number.as_str()).filter(|number| !number.is_empty());
        let part = fitted.and_then(|number| self.scene.catalog.find(number));
        let part = part.or_else(|| self.scene.sized().and_then(|sized| sized.choice.part).map(|part| part.id));
        let Some(limits) = part.map(|id| Limits::of(&self.scene.catalog.can(id))) else { return };
        if let Some((leak, most)) =
            self.record.after.leakage_ua.zip(limits.leakage_max_ua).filter(|(ua, most)| ua > most)
        {
            let words =
                format!("It leaks {} µA, at most {} µA are allowed: do not fit it.", figure(leak), figure(most));
            ui.colored_label(tokens.outcome(Outcome::Fail).ink, words);
        }
        let Some((least, most)) = limits.capacitance_uf else { return };
        let range = format!("{} to {} µF", figure(least), figure(most));
        match self.record.after.capacitance_uf {
            Some(uf) if !(least..=most).contains(&uf) => {
                let words = format!("Outside its tolerance, {range}: do not fit it.");
                ui.colored_label(tokens.outcome(Outcome::Fail).ink, words);
            }
            Some(_) => {
                _ = ui.colored_label(tokens.outcome(Outcome::Pass).ink, format!("Within its tolerance, {range}."));
            }
            None => _ = ui.weak(format!("A new one has {range}.")),
        }
    }

    /// Lot and date code of the same part at another can of the unit, to be taken over with one press.
    fn same_lot(&self, ui: &mut Ui) {
        let planned = self.scene.chosen().map(|part| self.scene.name(part));
        let part = if self.record.part_number.is_empty() { planned } else { Some(self.record.part_number.as_str()) };
        let known = self.prepared.unit.iter().flat_map(|unit| unit.positions.iter().rev());
        let mut known = known.filter(|other| Some(other.part_number.as_str()) == part && !other.lot.is_empty());
        if !self.record.lot.is_empty() || !self.record.date_code.is_empty() {
            return;
        }
        let Some(other) = known.next() else { return };
        let words = format!("As at {}: {}", other.reference, [&*other.lot, &*other.date_code].join(" ").trim());
        if ui.button(words).on_hover_text("Takes over lot and date code of the same part.").clicked() {
            self.scene.push(self.change("lot", |at| {
                other.lot.clone_into(&mut at.lot);
                other.date_code.clone_into(&mut at.date_code);
            }));
            self.scene.push(Action::EndEntry);
        }
    }

    fn tick(&self, ui: &mut Ui, state: &mut BenchState) {
        if self.record.is_done() {
            let unnamed = self.record.is_done_unnamed();
            let words = if unnamed { format!("Done, {NOT_RECORDED}") } else { "Done".to_owned() };
            let outcome = if unnamed { Outcome::Marginal } else { Outcome::Pass };
            let ink = theme::tokens(ui).outcome(outcome).ink;
            ui.horizontal(|ui| {
                ui.label(RichText::new(words).heading().color(ink));
                let back = ui.add(egui::Button::new("Not done").min_size(vec2(90.0, 0.0)));
                if back.on_hover_text("Takes the tick back.").clicked() {
                    self.scene.push(Action::Bench(BenchAction::Done(false)));
                }
            });
        }
        let unnamed = self.record.part_number.is_empty() && self.scene.chosen().is_none();
        let words = match self.record.is_done() {
            true => "Next",
            // Of a can that nobody chose a part for it has to be said which one went in.
            false if unnamed => "Done, part not recorded",
            false => "Done, next",
        };
        let hover = "Ticks this can, names the part that went in, and goes to the next one that is not done. Enter in the last field leads here.";
        let button = main_button(ui, state, words, true).on_hover_text(hover);
        if button.clicked() {
            self.scene.push(Action::Bench(if self.record.is_done() {
                BenchAction::Next
            } else {
                BenchAction::Done(true)
            }));
        }
    }
}
