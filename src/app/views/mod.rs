//! The middle of the window: the selected position, and one of four places that look at it.

pub(crate) mod bench;
pub(crate) mod board;
pub(crate) mod candidates;
pub(crate) mod changes;
pub(crate) mod editor;
mod header;
pub(crate) mod help;
pub(crate) mod import;
pub(crate) mod life;
pub(crate) mod purchase;
pub(crate) mod start;
mod what_if;

use std::path::PathBuf;

use egui::{ScrollArea, Ui, Vec2, vec2};

use crate::app::actions::{Command, LiveScene};
use crate::app::state::{Session, View, settings::Settings};
use crate::app::widgets::{self, drafts::Drafts};
use crate::app::work::AnyWorker;

/// What each view remembers; none knows of another's.
#[derive(Default)]
pub(crate) struct Views {
    pub start: start::StartState,
    pub board: board::BoardState,
    pub candidates: candidates::CandidatesState,
    pub life: life::LifeState,
    pub purchase: purchase::PurchaseState,
    pub bench: bench::BenchState,
    pub import: import::ImportState,
    pub help: help::HelpState,
    /// The line about other conditions.
    pub what_if: what_if::WhatIfState,
    /// What changed since the job was saved.
    pub changes: changes::ChangesState,
    /// What is typed into the line of the position.
    needed: Drafts,
    /// Moves of positions and changes of the catalogue seen so far.
    seen: (u64, u64),
}

impl Views {
    /// The work of all views on other threads.
    pub(crate) fn work(&self) -> impl Iterator<Item = &dyn AnyWorker> {
        let Self { start, board, candidates, life, purchase, bench, import, what_if, changes, .. } = self;
        let first = start.work().into_iter().chain(board.work()).chain(what_if.work()).chain(bench.work());
        let first = first.chain(changes.work());
        first.chain(candidates.work()).chain(life.work()).chain(purchase.work()).chain(import.work())
    }

    /// Forgets what no longer holds since positions moved or other parts were loaded.
    pub(crate) fn follow(&mut self, session: &Session) {
        let now = (session.moves, session.catalogs_seen);
        if self.seen.0 != now.0 {
            self.candidates.forget_marks();
        }
        if self.seen.1 != now.1 {
            self.candidates.forget_parts();
            self.life.forget_parts();
            self.purchase.forget_parts();
        }
        self.seen = now;
    }

    /// Takes what other threads have finished for the views, and asks them for what is missing.
    pub(crate) fn poll(&mut self, session: &mut Session, recent: &[PathBuf]) {
        self.follow(session);
        self.start.poll(session, recent);
        self.candidates.poll(session);
        self.life.poll(session);
        self.purchase.poll(session);
        self.bench.poll(session);
        self.import.poll(session);
        self.what_if.poll(session);
        self.changes.poll(session);
    }
}

/// Every view with the command that shows it, in the order of the bar.
pub(crate) const VIEWS: [(View, Command); 7] = [
    (View::Board, Command::ShowBoard),
    (View::Candidates, Command::ShowCandidates),
    (View::Life, Command::ShowLife),
    (View::Purchase, Command::ShowPurchase),
    (View::Bench, Command::ShowBench),
    (View::Import, Command::ShowImport),
    (View::Help, Command::ShowHelp),
];

/// Draws the middle.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, settings: &Settings, places: &mut Views) {
    if scene.selection.view != View::Bench || !has_content(scene) {
        widgets::begin_here(ui.ctx());
    }
    if scene.selection.view == View::Start {
        start::show(ui, scene, settings, &mut places.start);
        return;
    }
    if scene.selection.view == View::Help {
        help::show(ui, &mut places.help, scene);
        return;
    }
    if scene.selection.view == View::Import {
        import::show(ui, scene, &mut places.import);
        return;
    }
    if !has_content(scene) {
        return nothing_yet(ui, scene);
    }
    if scene.selection.view == View::Bench {
        bench::show(ui, scene, &mut places.bench);
        return;
    }
    let compares = scene.selection.view == View::Candidates && places.candidates.compares();
    let room = ui.available_size();
    let tight = room.y < SHORT_PLACE;
    // What is compared has its own scrolling.
    let least = if compares { vec2(200.0, 160.0) } else { least(scene.selection.view, tight) };
    if room.x >= least.x && room.y >= least.y {
        one(ui, scene, places, tight);
        return;
    }
    if scene.selection.view == View::Life {
        // Plots, legend and panels below each other need no scrolling of their own, and none sideways.
        ScrollArea::vertical().id_salt("life").auto_shrink([false, false]).show(ui, |ui| {
            scene.typing(&mut places.needed, || header::show(ui, scene));
            // In a narrow window one line is for both.
            let folded = ui.available_width() < UNFOLDED;
            ui.horizontal_wrapped(|ui| {
                what_if::show(ui, scene, &mut places.what_if, folded);
                if folded {
                    life::controls(ui, scene, folded, &mut places.life);
                }
            });
            if !folded {
                ui.horizontal_wrapped(|ui| life::controls(ui, scene, folded, &mut places.life));
            }
            life::show(ui, scene, life::Arrangement::Below, &mut places.life);
            widgets::follow_focus(ui);
        });
        return;
    }
    let scroll = ScrollArea::both().id_salt("place").auto_shrink([false, false]);
    scroll.show(ui, |ui| {
        ui.allocate_ui(room.max(least), |ui| {
            ui.set_min_size(room.max(least));
            one(ui, scene, places, tight);
        });
        widgets::follow_focus(ui);
    });
}

/// From this height on the map shares its place with the line of other conditions, points.
const ROOMY_BOARD: f32 = 760.0;

/// From this width on other conditions and the controls of the plots stand in lines, not behind buttons, points.
const UNFOLDED: f32 = 620.0;

/// Below this height a place is drawn tight, points.
const SHORT_PLACE: f32 = 320.0;

/// Width and height a place needs, points; in a smaller window it is scrolled instead of squeezed.
fn least(view: View, tight: bool) -> Vec2 {
    match view {
        View::Board => vec2(200.0, 120.0),
        View::Candidates => vec2(430.0, 480.0),
        // The legend and the panels beside it each keep their width.
        View::Life => vec2(860.0, 480.0),
        // Above a short table the fields are folded.
        View::Purchase if tight => vec2(440.0, 420.0),
        View::Start | View::Purchase | View::Bench | View::Import | View::Help => vec2(440.0, 480.0),
    }
}

/// What to do first where the job has no positions.
fn nothing_yet(ui: &mut Ui, scene: &LiveScene) {
    ui.heading(if scene.job.boards.is_empty() { "The job is empty" } else { "No positions yet" });
    let ways = [
        (Command::ImportList, "Bill of materials, placement file or both; or paste rows of a spreadsheet (Ctrl+V)."),
        (Command::UsePhoto, "Then each can is traced on it: press in its middle, drag to its rim."),
        (Command::AddPosition, "One can after another, by what is printed on it (Insert)."),
        (Command::Open, "A job that exists. A job, a list or a photo can also be dropped on the window."),
    ];
    let widths = ways.iter().map(|(command, _)| widgets::wording::width(ui, command.info().label));
    let column = widths.fold(0.0, f32::max) + 2.0 * ui.spacing().button_padding.x;
    for (command, words) in ways {
        ui.add_space(4.0);
        ui.horizontal_wrapped(|ui| {
            let from = ui.cursor().left();
            let button = widgets::button(ui, scene, command);
            ui.add_space((from + column - button.rect.right()).max(0.0));
            ui.weak(words);
        });
    }
}

/// Whether a view has something to show: the order also lists other parts, and on the map the first cans are traced.
fn has_content(scene: &LiveScene) -> bool {
    let job = scene.job;
    match scene.selection.view {
        View::Start | View::Import | View::Help => true,
        View::Board => !job.boards.is_empty(),
        View::Purchase if job.all_other_parts().next().is_some() => true,
        _ => job.positions().next().is_some(),
    }
}

/// Draws a place under the selected position.
fn one(ui: &mut Ui, scene: &LiveScene, places: &mut Views, tight: bool) {
    // The order is about the whole job; the selected position keeps its place in the list on the left.
    if scene.selection.view != View::Purchase {
        let gap = std::mem::replace(&mut ui.spacing_mut().item_spacing.y, 2.0);
        scene.typing(&mut places.needed, || header::show(ui, scene));
        ui.spacing_mut().item_spacing.y = gap;
    }
    // On the board the map has the room: other conditions are told there once they are tried out, and in a large window.
    let asked = match scene.selection.view {
        View::Life => true,
        View::Board => places.what_if.is_asked() || ui.available_height() > ROOMY_BOARD,
        _ => false,
    };
    if asked && !tight {
        ui.horizontal_wrapped(|ui| what_if::show(ui, scene, &mut places.what_if, false));
    }
    match scene.selection.view {
        View::Board => board::show(ui, scene, &mut places.board),
        View::Candidates => candidates::show(ui, scene, tight, &mut places.candidates),
        View::Life => life::show(ui, scene, life::Arrangement::Beside, &mut places.life),
        View::Purchase => purchase::show(ui, scene, &mut places.purchase),
        View::Start | View::Bench | View::Import | View::Help => {}
    }
}
