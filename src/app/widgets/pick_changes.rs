//! The list of what a proposal changes, with a tick for each position: nothing is applied that nobody has seen.

use std::collections::BTreeSet;

use egui::{Button, Grid, RichText, ScrollArea, Ui};

use crate::app::state::Edit;
use crate::app::widgets::{wording::UNKNOWN, wording::count};
use crate::domain::{Job, Names, PositionId, style::money};
use crate::sizing::{Sizing, pick_change::PickChange, pick_change::interval_with, reasons::figure};

#[derive(Debug, Clone, Default)]
pub(crate) struct Ticks {
    of: Vec<PickChange>,
    ticked: BTreeSet<PositionId>,
}

impl Ticks {
    /// Ticks anew where the list is another one: what passes and replaces nobody's pick, and what stays as it is.
    fn follow(&mut self, changes: &[PickChange]) {
        if self.of != changes {
            let ticked = |change: &&PickChange| change.is_free() || change.keeps_part();
            self.ticked = changes.iter().filter(ticked).map(|change| change.position).collect();
            self.of = changes.to_vec();
        }
    }
}

/// A list of changes and what it is judged against.
pub(crate) struct ChangeList<'a> {
    /// Tells lists apart.
    pub id: &'a str,
    pub job: &'a Job,
    /// What came out for it.
    pub sizing: &'a Sizing,
    /// The board whose interval is told; `None` tells that of the job.
    pub board: Option<usize>,
    pub currency: &'a str,
    pub changes: &'a [PickChange],
    /// On the button, before the number of changes.
    pub button: &'a str,
    /// Why nothing can be applied now.
    pub refusal: Option<&'a str>,
}

/// From this width on the list is a table; below, a paragraph for each change, points.
const TABLE_FROM: f32 = 640.0;

/// Draws the list; the edit once somebody applies what is ticked.
pub(crate) fn pick_changes(ui: &mut Ui, list: &ChangeList, ticks: &mut Ticks) -> Option<Edit> {
    ticks.follow(list.changes);
    let kept = list.changes.iter().filter(|change| change.picked && !ticks.ticked.contains(&change.position)).count();
    // What only becomes a pick is told by its number; the list has what changes.
    let (same, other): (Vec<&PickChange>, Vec<&PickChange>) =
        list.changes.iter().partition(|change| change.keeps_part());
    let marginal = other.iter().filter(|change| !change.is_free() && !change.picked).count();
    let mut told = count(other.len(), "position would get another part", "positions would get another part");
    if !same.is_empty() {
        told += &format!("; {}", count(same.len(), "proposal becomes a pick", "proposals become picks"));
    }
    if kept > 0 {
        told += &format!("; {} until ticked", count(kept, "pick is kept", "picks are kept"));
    }
    if marginal > 0 {
        told += &format!("; {}", count(marginal, "new part does not pass", "new parts do not pass"));
    }
    ui.label(told + ".");
    let chosen: Vec<&PickChange> =
        list.changes.iter().filter(|change| ticks.ticked.contains(&change.position)).collect();
    let picks: Vec<(PositionId, Option<String>)> =
        chosen.iter().map(|change| (change.position, change.then.part_number.clone())).collect();
    let interval = interval_with(list.sizing, list.board, &chosen);
    if !chosen.is_empty() {
        let of = if list.board.is_some() { "the board" } else { "the first board" };
        ui.label(format!("With what is ticked {of} {}.", interval.told(list.job)));
    }
    let text = format!("{} ({})", list.button, count(picks.len(), "pick", "picks"));
    let button = ui.add_enabled(list.refusal.is_none() && !picks.is_empty(), Button::new(text));
    let button = button.on_hover_text("Picks what is ticked, as one change that can be undone.");
    let why = list.refusal.unwrap_or(if list.changes.is_empty() {
        "These are the parts already."
    } else {
        "Nothing is ticked."
    });
    let applied = button.on_disabled_hover_text(why).clicked();
    if !other.is_empty() {
        let of = (list, &Names::of(list.job));
        if ui.available_width() >= TABLE_FROM {
            table(ui, of, &other, ticks);
        } else {
            paragraphs(ui, of, &other, ticks);
        }
    }
    applied.then_some(Edit::Pick { picks })
}

const HEADINGS: [&str; 7] = ["Position", "Now", "Then", "Verdict", "Years", "Cost", "What is lost"];

fn table(ui: &mut Ui, (list, names): (&ChangeList, &Names), changes: &[&PickChange], ticks: &mut Ticks) {
    let height = 26.0 * (changes.len() as f32 + 1.0);
    ScrollArea::both().id_salt(list.id).max_height(height.min(300.0)).auto_shrink([false, true]).show(ui, |ui| {
        Grid::new(list.id).num_columns(HEADINGS.len()).striped(true).spacing([14.0, 4.0]).show(ui, |ui| {
            HEADINGS.iter().for_each(|heading| {
                ui.weak(*heading);
            });
            ui.end_row();
            for &change in changes {
                tick(ui, names, change, ticks);
                for text in cells(change, list.currency) {
                    ui.label(text);
                }
                ui.label(change.lost.join("; "));
                ui.end_row();
            }
        });
    });
}

fn paragraphs(ui: &mut Ui, (list, names): (&ChangeList, &Names), changes: &[&PickChange], ticks: &mut Ticks) {
    for &change in changes {
        let [now, then, verdict, years, cost] = cells(change, list.currency);
        ui.horizontal_wrapped(|ui| {
            tick(ui, names, change, ticks);
            ui.label(format!("{now} to {then}"));
        });
        ui.label(RichText::new(format!("{verdict} · {years} years · {cost}")).weak());
        if !change.lost.is_empty() {
            ui.label(RichText::new(format!("Lost: {}", change.lost.join("; "))).weak());
        }
    }
}

fn tick(ui: &mut Ui, names: &Names, change: &PickChange, ticks: &mut Ticks) {
    let mut ticked = ticks.ticked.contains(&change.position);
    let name = names.name(change.position);
    let hover = if change.picked {
        "A person picked what is there now; ticked, it is replaced."
    } else {
        "Applied when ticked."
    };
    if ui.checkbox(&mut ticked, name).on_hover_text(hover).changed() {
        if ticked {
            ticks.ticked.insert(change.position)
        } else {
            ticks.ticked.remove(&change.position)
        };
    }
}

fn cells(change: &PickChange, currency: &str) -> [String; 5] {
    let PickChange { now, then, picked, .. } = change;
    let name = |number: &Option<String>| number.clone().unwrap_or_else(|| "no part".into());
    let years = |years: Option<f64>| years.map_or_else(|| UNKNOWN.to_owned(), figure);
    let cost = |cost: Option<f64>| cost.map_or_else(|| UNKNOWN.to_owned(), money);
    let from_to = |from: String, to: String| if from == to { from } else { format!("{from} to {to}") };
    [
        format!("{}{}", name(&now.part_number), if *picked { " (picked)" } else { "" }),
        name(&then.part_number),
        from_to(now.verdict.word().into(), then.verdict.word().into()),
        from_to(years(now.years), years(then.years)),
        format!("{} {currency}", from_to(cost(now.cost), cost(then.cost))).trim_end().to_owned(),
    ]
}
