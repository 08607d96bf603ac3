//! What limits a board, and the parts that take it further: a step at a time, or every board at once until the target.

use std::sync::Arc;

use egui::{Button, Ui};

use super::context::PanelContext;
use crate::app::actions::Action;
use crate::app::state::{Edit, Scene, Snapshot};
use crate::app::views::life::answers::Answers;
use crate::app::widgets::{ChangeList, Ticks, pick_changes};
use crate::domain::{Outcome, Place};
use crate::sizing::pick_change::{BoardLimits, LimitStays, LimitStep, PickChange, interval_with};
use crate::sizing::{Interval, other_parts::lasts, reasons::figure};

/// The limits of every board, as they were found for a sized job.
pub(crate) struct Found {
    pub snapshot: Arc<Snapshot>,
    /// The steps of each board.
    pub boards: Vec<BoardLimits>,
    pub changes: Vec<PickChange>,
}

/// What is asked of all boards together.
#[derive(Default)]
pub(crate) struct AllBoards {
    /// Somebody asked, and nobody works on it yet.
    pub wanted: bool,
    /// It is being worked out.
    pub running: bool,
    /// What came out.
    pub found: Option<Found>,
    ticks: Ticks,
}

/// The limit of the board at hand with the part that moves it, and what does the same for every board.
pub(super) fn show(ui: &mut Ui, desk: &mut PanelContext, answers: &Answers, money: &dyn Fn(f64) -> String) {
    let scene = desk.scene;
    let target = answers.board.base.target_years;
    match &answers.board.limit {
        Ok(step) => {
            if let Some(target) = target.filter(|&target| step.now.years.is_some_and(|years| years >= target)) {
                ui.label(format!("The target of {} years {}.", figure(target), reached(scene, &step.now)));
            }
            ui.label(told(scene, step, money));
            let part = step.change.then.part_number.clone().unwrap_or_default();
            let lost = match step.change.lost.as_slice() {
                [] => "Nothing gets worse.".to_owned(),
                lost => format!("Lost: {}.", lost.join("; ")),
            };
            let hover = format!("Picks {part} for {}. {lost}", scene.reference(step.change.position));
            if ui.add_enabled(scene.fresh, Button::new("Remove the limit")).on_hover_text(hover).clicked() {
                desk.scene.push(Action::Edit(Edit::pick(step.change.position, &part)));
            }
        }
        Err(why) => {
            if let Some(why) = stays(scene, why) {
                ui.weak(why);
            }
        }
    }
    all_boards(ui, desk, money);
}

/// `C6 limits at 13.4 years; PART (+1.20 EUR) takes the board to 13.9 years (then C10).`
fn told(scene: &Scene, step: &LimitStep, money: &dyn Fn(f64) -> String) -> String {
    let name = |place: Option<Place>| place.map_or("", |place| scene.job.name_of(place));
    let years = |years: Option<f64>| years.map_or_else(|| "unknown".to_owned(), figure);
    let extra = step.extra.map_or_else(
        || "cost unknown".to_owned(),
        |extra| format!("{}{}", if extra < 0.0 { "−" } else { "+" }, money(extra.abs())),
    );
    format!(
        "{} limits at {} years; {} ({extra}{}) takes the board to {} years (then {}).{}",
        name(step.now.limiting),
        years(step.now.years),
        step.change.then.part_number.as_deref().unwrap_or_default(),
        if step.change.then.verdict == Outcome::Pass { "" } else { ", marginal" },
        years(step.then.years),
        name(step.then.limiting),
        if step.change.picked { " It replaces a pick." } else { "" }
    )
}

/// `is reached`, or but for what: the positions without a part and whatever else lasts nobody knows how long.
pub(super) fn reached(scene: &Scene, interval: &Interval) -> String {
    let open = |place: &&Place| match place {
        Place::Position(id) => scene.sizing.position(*id).is_none_or(|sized| sized.choice.part.is_none()),
        Place::Other(_) => false,
    };
    let (open, unknown): (Vec<&Place>, Vec<&Place>) = interval.unknown.iter().partition(open);
    let parts = [(open, "no part"), (unknown, "life not known")].into_iter().filter(|(places, _)| !places.is_empty());
    let told = |(places, why): (Vec<&Place>, &str)| {
        let places: Vec<Place> = places.into_iter().copied().collect();
        format!("{} ({why})", scene.job.references(&places, ", "))
    };
    match parts.map(told).collect::<Vec<_>>().join(" and ") {
        none if none.is_empty() => "is reached".to_owned(),
        except => format!("is reached except at {except}"),
    }
}

/// Why a limit stays, as a sentence; `None` where that goes without saying.
fn stays(scene: &Scene, why: &LimitStays) -> Option<String> {
    match why {
        LimitStays::OtherPart(id) => {
            let name = scene.job.name_of(Place::Other(*id));
            Some(format!("{name} limits, it {}: no capacitor changes that.", lasts(scene.job.other_part(*id)?)?))
        }
        LimitStays::NoPart(id) => {
            Some(format!("The limit stays: no part that may be taken lasts longer at {}.", scene.reference(*id)))
        }
        LimitStays::Unknown | LimitStays::Reached => None,
    }
}

/// Every board step by step to the target, then one list to agree to.
fn all_boards(ui: &mut Ui, desk: &mut PanelContext, money: &dyn Fn(f64) -> String) {
    let (scene, all) = (desk.scene, &mut desk.forms.all_boards);
    if scene.job.boards.len() > 1 || all.found.is_some() {
        let button = ui.add_enabled(scene.fresh && !all.running, Button::new("Remove the limits of all boards…"));
        let hover = "Works out the cheapest part for whatever limits, board by board, until the target or the calendar life limit; the list below is applied only when you say so.";
        all.wanted |= button.on_hover_text(hover).clicked();
    }
    if all.running {
        ui.weak("Being worked out…");
    }
    let Some(found) = &all.found else { return };
    for BoardLimits { board, steps, stays: why } in &found.boards {
        ui.strong(scene.job.board_name(Some(*board)));
        for step in steps {
            ui.label(told(scene, step, money));
        }
        match why {
            None => {
                let end =
                    steps.last().map_or_else(|| interval_with(scene.sizing, Some(*board), &[]), |s| s.then.clone());
                ui.weak(format!("The target {}.", reached(scene, &end)));
            }
            Some(why) => drop(ui.weak(stays(scene, why).unwrap_or_else(|| format!("{why}.")))),
        }
    }
    if found.changes.is_empty() {
        return;
    }
    let list = ChangeList {
        id: "limits of all boards",
        job: scene.job,
        sizing: scene.sizing,
        board: None,
        currency: scene.job.currency.as_deref().unwrap_or_default(),
        changes: &found.changes,
        button: "Apply for all boards",
        refusal: (!scene.fresh).then_some("The job changed: work it out anew."),
    };
    let edit = pick_changes(ui, &list, &mut all.ticks);
    desk.scene.extend(edit.map(Action::Edit));
}
