//! Few lines: the constraints, the search with its progress, and what it found against the present picks.

use std::sync::Arc;
use std::time::Duration;

use egui::{self, Button, Grid, Panel, ProgressBar, ScrollArea, Ui};

use super::shared::{money, place_links, right, right_column};
use super::{answer::Answer, constraints, search::Found, search::Search};
use crate::app::actions::{Action, LiveScene, PurchaseAction};
use crate::app::state::{Edit, Scene};
use crate::app::widgets::{ChangeList, Ticks, explain, pick_changes, theme, wording::UNKNOWN, wording::with_unit};
use crate::domain::{Job, Names, Outcome, Place, PositionId, style};
use crate::sizing::{
    Interval, Order, OrderOptions, Totals, few_lines::Ended, order::OtherOrder, order::OtherPick,
    pick_change::PickChange, reasons::figure,
};

/// How often progress is drawn anew.
const EVERY: Duration = Duration::from_millis(120);

/// What the sheet remembers.
#[derive(Default)]
pub(super) struct State {
    form: constraints::Form,
    options: OrderOptions,
    ticks: Ticks,
    running: Option<Search>,
    found: Option<Found>,
}

impl State {
    pub(super) fn start(&mut self) -> Search {
        self.stop();
        self.found = None;
        self.running.insert(Search::default()).clone()
    }

    pub(super) fn stop(&self) {
        if let Some(search) = &self.running {
            search.stop();
        }
    }

    /// No search goes on any more, with or without a result.
    pub(super) fn ended(&mut self) {
        self.running = None;
    }

    /// The parts or their offers are others now.
    pub(super) fn outdate(&mut self) {
        if let Some(found) = &mut self.found {
            found.outdated = true;
        }
    }

    pub(super) fn found(&mut self, found: Found) {
        self.running = None;
        self.found = Some(found);
    }
}

pub(super) fn show(ui: &mut Ui, scene: &LiveScene, answer: Option<&Answer>, state: &mut State) {
    let frame = egui::Frame::new().inner_margin(egui::Margin { right: 10, ..egui::Margin::ZERO });
    Panel::left("constraints").frame(frame).default_size(290.0).size_range(250.0..=420.0).show(ui, |ui| {
        ScrollArea::vertical().id_salt("constraints").auto_shrink([false, false]).show(ui, |ui| {
            constraints::show(ui, scene, answer, &mut state.form);
            ui.add_space(4.0);
            run(ui, state, scene);
        });
    });
    let frame = egui::Frame::new().inner_margin(egui::Margin { left: 10, ..egui::Margin::ZERO });
    egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
        let room = ui.available_width();
        ScrollArea::both().id_salt("few lines").auto_shrink([false, false]).show(ui, |ui| match &state.found {
            Some(found @ Found { order: Ok(order), .. }) => {
                result(ui, scene, found, order, &mut state.ticks);
            }
            Some(Found { order: Err(why), .. }) => {
                ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, format!("There is no order: {why}."));
            }
            None if state.running.is_none() => {
                ui.set_max_width(room.min(560.0));
                ui.label("Every order line costs handling, and small lines pay the price for few. Where several parts pass, positions can share one.");
                ui.weak("The search takes one passing part for each position so that parts and line handling cost least together, says how sure that is, and what each step costs and gives. Nothing changes until you apply it.");
            }
            None => {}
        });
    });
}

fn run(ui: &mut Ui, state: &mut State, scene: &LiveScene) {
    explain::strong(ui, "Search", "order search");
    ui.checkbox(&mut state.options.replace_picks, "Replace picks where that costs less").on_hover_text(
        "Otherwise positions with a pick keep it. Either way a pick is replaced only once it is ticked in the list.",
    );
    ui.checkbox(&mut state.options.accept_marginal, "Use marginal parts too")
        .on_hover_text("Parts that hold with less margin than asked for; the list names them before anything changes.");
    ui.horizontal(|ui| {
        let label = ui.label("Time limit");
        let time = &mut state.options.limits.time;
        let mut seconds = time.as_secs();
        let shown = ui.add(egui::DragValue::new(&mut seconds).range(1..=600).suffix(" s"));
        *time = Duration::from_secs(seconds);
        shown
            .labelled_by(label.id)
            .on_hover_text("After this time the best found so far is shown with what is still open.");
    });
    let Some(search) = &state.running else {
        if ui.button("Find fewest-cost order").clicked() {
            scene.push(Action::Buying(PurchaseAction::FindOrder(state.options)));
        }
        return;
    };
    ui.horizontal(|ui| {
        let stop = ui.add_enabled(!search.is_stopped(), Button::new("Stop and take the best"));
        if stop.clicked() {
            scene.push(Action::Buying(PurchaseAction::StopOrder));
        }
        ui.add(ProgressBar::new(0.0).desired_width(80.0).animate(true));
    });
    match search.progress() {
        None => drop(ui.weak("Getting the parts together…")),
        Some(progress) => {
            let best = progress.best.map_or_else(|| "none yet".to_owned(), style::money);
            ui.label(format!("Best {best}, cannot be below {}", style::money(progress.lower_bound)));
            ui.weak(format!("{} branches looked at, {} waiting", progress.nodes, progress.waiting));
        }
    }
    ui.ctx().request_repaint_after(EVERY);
}

/// Whether the job is still what the order was found for, the parts chosen by it apart.
fn still_for(now: &Job, then: &Arc<Job>) -> bool {
    let unchosen = |of: &Job| {
        let mut job = of.clone();
        for board in &mut job.boards {
            board.positions.iter_mut().for_each(|position| position.pick = None);
            board.other_parts.iter_mut().for_each(|part| part.taken = None);
        }
        job.other_parts.iter_mut().for_each(|part| part.taken = None);
        job
    };
    unchosen(now) == unchosen(then)
}

fn result(ui: &mut Ui, scene: &LiveScene, found: &Found, order: &Order, ticks: &mut Ticks) {
    let (job, currency) = (&found.job, order.currency.code.clone().unwrap_or_default());
    let current = !found.outdated && still_for(scene.job, job);
    if !current {
        ui.strong("The job changed since this was found: search again. Grey is what held then, with the part numbers of then.");
        ui.set_opacity(0.5);
    }
    let tokens = theme::tokens(ui);
    let (ink, proof) = match order.ended {
        Ended::Proven => {
            (tokens.outcome(Outcome::Pass).ink, "Proven: no choice of passing parts costs less.".to_owned())
        }
        ended => {
            let why = match ended {
                Ended::Time => "Time limit reached",
                Ended::Nodes => "Memory limit reached",
                _ => "Stopped",
            };
            let gap = order.gap * 100.0;
            let text = format!(
                "{why}: best found; none can be more than {gap:.2} % cheaper (below {} {currency}).",
                style::money(order.lower_bound)
            );
            (tokens.outcome(Outcome::Marginal).ink, text)
        }
    };
    if order.picks.is_empty() {
        ui.strong("No position has a part in this order: only other parts are ordered.");
    } else {
        ui.colored_label(ink, proof);
        comparison(ui, scene, found.now.as_ref(), order, &currency);
    }
    ui.add_space(6.0);
    // What was applied meanwhile is no change any more.
    let is_open = |change: &&PickChange| {
        scene.job.position(change.position).is_some_and(|position| position.pick != change.then.part_number)
    };
    let changes: Vec<PickChange> = found.changes.iter().filter(is_open).cloned().collect();
    let list = ChangeList {
        id: "changes of the order",
        job: scene.job,
        sizing: scene.sizing,
        board: None,
        currency: &currency,
        changes: &changes,
        button: "Apply what is ticked",
        refusal: (!current).then_some("The job changed: search again."),
    };
    scene.extend(pick_changes(ui, &list, ticks).map(Action::Edit));
    if let Some(others) = &order.others {
        other_parts(ui, scene, others, &currency, current);
    }
    if !order.picks.is_empty() {
        let names = Names::of(job);
        steps(ui, &names, order, &currency);
        lines(ui, &names, order, &currency);
    }
    for (reason, left_out) in order.left_out_by_reason() {
        ui.horizontal_wrapped(|ui| {
            ui.weak(format!("Not in the order, since {reason}:"));
            place_links(ui, job, &left_out, scene);
        });
    }
    for note in &order.notes {
        ui.weak(note.as_str());
    }
}

fn comparison(ui: &mut Ui, scene: &Scene, totals: Option<&Totals>, order: &Order, currency: &str) {
    ui.add_space(6.0);
    explain::strong(ui, "Against the present parts", "order comparison");
    // Only positions of the order are compared: those left out would count on one side alone.
    let in_order = |id: PositionId| order.picks.iter().any(|pick| pick.position == id);
    let of_order = scene.sizing.positions.iter().filter(|sized| in_order(sized.id));
    let present =
        Interval::of(of_order.map(|sized| (sized.id, sized.chosen_years()))).and(scene.sizing.others_of(None));
    let now = totals.and_then(Totals::certain_job);
    Grid::new("comparison").num_columns(4).striped(true).spacing([22.0, 4.0]).show(ui, |ui| {
        ui.weak("");
        right_column(ui, 44.0, "Lines", "order lines");
        right_column(ui, 110.0, "Parts and lines", "order cost");
        right_column(ui, 110.0, "First failure after", "first to go");
        ui.end_row();
        let lines = totals.map_or_else(|| "unknown".to_owned(), |totals| totals.lines.to_string());
        let own = money(now, currency);
        let rows = [
            ("Present picks and proposals", lines, own, present.years),
            (
                "Each position's cheapest part",
                order.separate_lines.to_string(),
                money(Some(order.separate_total), currency),
                order.intervals.0.years,
            ),
            (
                "Consolidate order",
                order.ordered_lines().to_string(),
                money(Some(order.total), currency),
                order.intervals.1.years,
            ),
        ];
        for (name, lines, cost, years) in rows {
            ui.label(name);
            right(ui, 44.0, lines);
            right(ui, 110.0, cost);
            right(ui, 110.0, with_unit(years, "years"));
            ui.end_row();
        }
    });
    if let Some(now) = now {
        let saves = now - order.total;
        let word = if saves >= 0.0 { "less" } else { "more" };
        ui.label(format!("{} {currency} {word} than the present parts.", style::money(saves.abs())));
    }
}

/// What the other parts change to, where a person gave alternatives, to be taken as one step.
fn other_parts(ui: &mut Ui, scene: &LiveScene, others: &OtherOrder, currency: &str, current: bool) {
    ui.add_space(6.0);
    explain::strong(ui, "Other parts", "board.other_parts");
    let told = format!(
        "With their lines they cost {}, now {}.",
        money(Some(others.total), currency),
        money(others.now, currency)
    );
    ui.label(told);
    let open =
        |pick: &&OtherPick| scene.job.other_part(pick.other).is_some_and(|part| part.part_number() != Some(&pick.then));
    for pick in others.changes.iter().filter(open) {
        ui.label(format!("{}: {} instead of {}", scene.job.full_name(Place::Other(pick.other)), pick.then, pick.now));
    }
    if !others.left_out.is_empty() {
        let names: Vec<&str> = others.left_out.iter().map(|&id| scene.job.name_of(Place::Other(id))).collect();
        ui.weak(format!("Not compared, without a price that compares: {}.", names.join(", ")));
    }
    let some = others.changes.iter().any(|pick| open(&pick));
    let take = ui.add_enabled(current && some, Button::new("Take these for the other parts"));
    let why = if current { "These are the parts already." } else { "The job changed: search again." };
    if take.on_hover_text("As one change that can be undone.").on_disabled_hover_text(why).clicked() {
        let job = Box::new(others.applied(scene.job));
        scene.push(Action::Edit(Edit::Whole { job, what: "alternatives of other parts".into() }));
    }
}

/// Calendar years without their unit.
fn bare(years: Option<f64>) -> String {
    years.map_or_else(|| UNKNOWN.to_owned(), figure)
}

fn steps(ui: &mut Ui, names: &Names, order: &Order, currency: &str) {
    ui.add_space(6.0);
    explain::strong(ui, "Steps away from each position's cheapest part", "order steps");
    if order.steps.is_empty() {
        ui.weak("None: the cheapest parts are the order.");
        return;
    }
    Grid::new("steps").num_columns(5).striped(true).spacing([18.0, 4.0]).show(ui, |ui| {
        explain::column(ui, "Positions", "order positions");
        explain::column(ui, "Part", "step take");
        right_column(ui, 90.0, "Costs", "step costs");
        right_column(ui, 100.0, "Life there", "step years");
        right_column(ui, 110.0, "First failure after", "first to go");
        ui.end_row();
        for step in &order.steps {
            ui.label(names.list(&step.positions, " "));
            ui.label(order.name(step.part));
            right(ui, 90.0, format!("{:+.2} {currency}", step.cost));
            right(ui, 100.0, format!("{} to {}", bare(step.years.0), bare(step.years.1)));
            right(ui, 110.0, with_unit(step.interval_years, "years"));
            ui.end_row();
        }
    });
}

fn lines(ui: &mut Ui, names: &Names, order: &Order, currency: &str) {
    ui.add_space(6.0);
    explain::strong(ui, "Lines", "order lines");
    Grid::new("few lines found").num_columns(5).striped(true).spacing([18.0, 4.0]).show(ui, |ui| {
        explain::column(ui, "Part", "order part");
        right_column(ui, 44.0, "Order", "order quantity");
        right_column(ui, 90.0, "Total", "order total");
        explain::column(ui, "Second source", "second source");
        explain::column(ui, "Positions", "order positions");
        ui.end_row();
        for line in &order.lines {
            ui.label(order.name(line.part));
            right(ui, 44.0, line.order_qty.to_string());
            right(ui, 90.0, money(Some(line.total), currency));
            ui.label(line.alternative.map_or("none", |id| order.name(id)));
            ui.label(names.list(&line.positions, " "));
            ui.end_row();
        }
    });
}
