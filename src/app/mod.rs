//! The window. Views read a [`Scene`] and push [`Action`]s; [`Window`] carries them out.
//!
//! | layer | modules |
//! |---|---|
//! | what is there | `session` (job, messages), `selection`, `snapshot` and `candidates` (what was found out), `scene` (all of it, to read) |
//! | what is wanted | `command` (named wishes with keys), `action` (wishes with particulars), `edit`, `history` |
//! | carrying it out | `carry`, `worker` (other threads), `ask` (file dialogs, unsaved work), `export` (pictures and tables) |
//! | drawing | `theme`, `wording`, `explain`, `widgets`, `bar`, `positions`, `editor`, `status`, `sheet`, `places` (one folder each) |
//!
//! A view never computes physics, never changes the session and never reaches into another view's state.

mod action;
mod ask;
mod bar;
mod candidates;
mod carry;
mod command;
mod edit;
mod editor;
mod explain;
mod export;
mod history;
mod intake;
mod places;
mod positions;
mod rearrange;
mod scene;
mod selection;
mod session;
mod sheet;
mod shortcuts;
mod snapshot;
mod status;
mod stock;
mod take;
mod theme;
mod widgets;
mod wording;
mod worker;

use eframe::egui;
use std::path::PathBuf;
use std::sync::Arc;

use ask::Asking;
use candidates::Candidates;
use places::Places;
use places::candidates::Listing;
use session::Session;
use sheet::Sheet;
use snapshot::Snapshot;
use theme::space;
use worker::{Lane, Waker};

use crate::domain::Job;
use crate::files::load::Loaded;
use crate::files::temperature_log::TemperatureLog;

/// What the window opens with.
#[derive(Debug, Clone, Default)]
pub struct Start {
    /// The job file; without one the built-in demo.
    pub job_path: Option<PathBuf>,
}

type LoadDone = Result<(Loaded, Option<PathBuf>), String>;
type SaveDone = Result<(PathBuf, Arc<Job>), String>;

/// Work on other threads.
struct Lanes {
    sizing: Lane<Snapshot>,
    candidates: Lane<Option<(Arc<Job>, Arc<Candidates>)>>,
    listing: Lane<Option<Listing>>,
    loading: Lane<LoadDone>,
    saving: Lane<SaveDone>,
    answering: Lane<Option<places::life::Answers>>,
    exporting: Lane<Result<String, String>>,
    logs: Lane<Result<TemperatureLog, String>>,
    photo: Lane<session::BoardPhoto>,
    /// Exports of the map: what to say about each.
    map: Lane<Result<String, String>>,
    /// The parts of the catalogues the job names.
    parts: Lane<Result<stock::StockRead, String>>,
    /// A catalogue from elsewhere.
    bringing: Lane<Result<(PathBuf, Vec<u8>), String>>,
    /// Lists that are being opened.
    lists: Lane<Vec<places::import::Opened>>,
    /// Lists that are being read.
    gathering: Lane<Option<places::import::Outcome>>,
}

/// The whole window, free of any windowing system: [`ui`](Self::ui) draws it into any egui area.
pub struct Window {
    session: Session,
    places: Places,
    positions: positions::State,
    editor: editor::State,
    lanes: Lanes,
    asking: Asking,
    sheet: Option<Sheet>,
    waker: Waker,
    /// The job and position the candidates were asked for last.
    asked_for: Option<(Arc<Job>, Option<crate::domain::PositionId>)>,
    /// The photo asked for last.
    photo_asked_for: Option<session::PhotoName>,
    leaving: bool,
    /// A picture of the life place that is to be taken in the next frame, or is on its way.
    picture: export::Picture,
    /// The file to be opened once unsaved work is seen to.
    opening: Option<PathBuf>,
    /// The list that gets the keyboard in the next frame: an arrow key of this frame would carry it on at once.
    keyboard_to: Option<selection::List>,
}

impl Window {
    /// A window that loads its job while it already draws.
    #[must_use]
    pub fn new(start: Start) -> Self {
        let mut window = Self::empty();
        window.places.import.memory = crate::files::import::mapping::own_folder();
        window.load(start.job_path);
        window
    }

    /// A window with a job at hand; file dialogs are replaced by typing the path. For tests and pictures.
    #[must_use]
    pub fn holding(loaded: Loaded, path: Option<PathBuf>) -> Self {
        let mut window = Self::empty();
        window.asking.type_paths();
        window.hold(loaded, path);
        window
    }

    /// Remembers in `folder` what the columns of imported lists mean.
    pub fn remember_mappings_in(&mut self, folder: PathBuf) {
        self.places.import.memory = Some(folder);
    }

    fn empty() -> Self {
        let waker = Waker::default();
        let lanes = Lanes {
            sizing: Lane::new(&waker),
            candidates: Lane::new(&waker),
            listing: Lane::new(&waker),
            loading: Lane::new(&waker),
            saving: Lane::new(&waker),
            answering: Lane::new(&waker),
            exporting: Lane::new(&waker),
            logs: Lane::new(&waker),
            photo: Lane::new(&waker),
            map: Lane::new(&waker),
            parts: Lane::new(&waker),
            bringing: Lane::new(&waker),
            lists: Lane::new(&waker),
            gathering: Lane::new(&waker),
        };
        Self {
            session: Session::default(),
            places: Places::default(),
            positions: positions::State::default(),
            editor: editor::State::default(),
            lanes,
            asking: Asking::new(&waker),
            sheet: None,
            waker,
            asked_for: None,
            photo_asked_for: None,
            leaving: false,
            picture: export::Picture::default(),
            opening: None,
            keyboard_to: None,
        }
    }

    /// The job as it is now.
    #[must_use]
    pub fn job(&self) -> &Job {
        self.session.job()
    }

    /// Whether the job differs from its file.
    #[must_use]
    pub fn has_unsaved_changes(&self) -> bool {
        self.session.is_dirty()
    }

    /// Waits for the work on other threads, as a test or a picture has to.
    pub fn settle(&mut self) {
        for _ in 0..4 {
            self.lanes.loading.wait();
            self.lanes.saving.wait();
            self.lanes.bringing.wait();
            self.lanes.lists.wait();
            self.lanes.gathering.wait();
            self.lanes.parts.wait();
            self.lanes.sizing.wait();
            self.lanes.candidates.wait();
            self.lanes.listing.wait();
            self.lanes.answering.wait();
            self.lanes.exporting.wait();
            self.lanes.logs.wait();
            self.lanes.photo.wait();
            self.lanes.map.wait();
            self.catch_up();
        }
    }

    /// Draws everything and carries out what the person wants.
    pub fn ui(&mut self, ui: &mut egui::Ui) {
        let ctx = ui.ctx().clone();
        if self.waker.set(ctx.clone()).is_ok() {
            theme::apply(&ctx);
            ctx.options_mut(|options| options.zoom_with_keyboard = false);
        }
        self.catch_up();
        if let Some(list) = self.keyboard_to.take() {
            ctx.memory_mut(|memory| memory.request_focus(widgets::focus_id(list)));
        }
        let mut wanted: Vec<action::Action> = Vec::new();
        if !self.is_asking() {
            wanted.extend(shortcuts::pressed(&ctx).into_iter().map(action::Action::Run));
            wanted.extend(take::arrived(&ctx));
        }
        self.places.life.prepare(&self.session);
        self.take_picture(&ctx);
        if !wanted.is_empty() || ctx.input(|input| input.viewport().close_requested()) {
            // What is being typed is entered first, so that it is saved, too.
            if let Some(id) = ctx.memory(egui::Memory::focused).filter(|_| ctx.text_edit_focused()) {
                ctx.memory_mut(|memory| memory.surrender_focus(id));
            }
        }
        let mut out = Vec::new();
        self.show(ui, &mut out);
        self.session.selection.hovered = None;
        out.extend(wanted);
        for action in out {
            self.carry_out(&ctx, action);
        }
        if ctx.input(|input| input.viewport().close_requested()) && !self.leaving && self.session.is_dirty() {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.carry_out(&ctx, action::Action::Run(command::Command::Quit));
        }
        self.catch_up();
    }

    fn is_asking(&self) -> bool {
        self.sheet.is_some() || self.asking.is_open()
    }

    fn show(&mut self, ui: &mut egui::Ui, out: &mut Vec<action::Action>) {
        let tokens = theme::tokens(ui);
        let frame = egui::Frame::new().fill(tokens.panel).inner_margin(space::PANEL);
        let Self { session, places, positions, editor, lanes, sheet, asking, .. } = self;
        let scene = session.scene();
        let refusal = |command| carry::refusal(session, command);
        egui::Panel::top("bar").frame(frame).show(ui, |ui| bar::show(ui, session, &scene, &refusal, out));
        let busy = [
            lanes.loading.busy(),
            lanes.saving.busy(),
            lanes.sizing.busy(),
            lanes.candidates.busy(),
            lanes.listing.busy(),
            lanes.answering.busy(),
            lanes.exporting.busy(),
            lanes.logs.busy(),
            lanes.photo.busy(),
            lanes.map.busy(),
            lanes.parts.busy(),
            lanes.bringing.busy(),
            lanes.lists.busy(),
            lanes.gathering.busy(),
        ];
        places.import.busy = lanes.lists.busy().or_else(|| lanes.gathering.busy());
        egui::Panel::bottom("status").frame(frame).show(ui, |ui| {
            if status::show(ui, session, busy.into_iter().flatten(), out) {
                lanes.loading.cancel();
                if places.import.busy.is_some() {
                    out.push(action::Action::Import(places::import::Wish::Stop));
                }
            }
        });
        egui::Panel::left("positions").frame(frame).size_range(space::LIST_WIDTH).show(ui, |ui| {
            positions::show(ui, &scene, positions, out);
        });
        if editor.open.is_some() {
            egui::Panel::right("editor").frame(frame).size_range(space::EDITOR_WIDTH).show(ui, |ui| {
                editor::show(ui, &scene, editor, &refusal, out);
            });
        }
        let middle = egui::Frame::new().fill(tokens.base).inner_margin(space::PANEL);
        egui::CentralPanel::no_frame().frame(middle).show(ui, |ui| {
            places::show(ui, &scene, places, &refusal, out);
        });
        if let Some(shown) = sheet
            && sheet::show(ui.ctx(), *shown, session)
        {
            *sheet = None;
        }
        asking.show(ui.ctx());
        take::show_hovering(ui.ctx());
    }
}

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        Self::ui(self, ui);
    }
}

/// Whether there is a display to open a window on.
#[must_use]
pub fn display_is_there() -> bool {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    !cfg!(all(unix, not(target_os = "macos"))) || set("DISPLAY") || set("WAYLAND_DISPLAY") || set("WAYLAND_SOCKET")
}

/// Opens the window and stays until it is closed.
///
/// # Errors
/// In words, when there is no display or no way to draw on it.
pub fn run(start: Start) -> Result<(), String> {
    let viewport = egui::ViewportBuilder::default()
        .with_title("Refarad")
        .with_app_id("refarad")
        .with_inner_size([1280.0, 720.0])
        .with_min_inner_size([760.0, 480.0]);
    let options = eframe::NativeOptions { viewport, ..eframe::NativeOptions::default() };
    eframe::run_native("Refarad", options, Box::new(|_| Ok(Box::new(Window::new(start))))).map_err(|error| {
        // The windowing library puts source positions before the cause.
        let error = error.to_string();
        let cause = error.rsplit(": ").next().unwrap_or(&error);
        format!("The window could not be opened ({cause})")
    })
}
