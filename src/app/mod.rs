//! The window. Views read a `LiveScene` and push `Action`s to it; [`Window`] carries them out.
//!
//! | room | what is in it |
//! |---|---|
//! | `state` | session, selection, history, snapshot, settings |
//! | `widgets` | small pieces of every view, theme, wording, hover texts |
//! | `actions` | commands, actions, why one is refused, dialogs |
//! | `work` | threads and what they answer |
//! | `storage` | open, save, recovery, export, photos, catalogues |
//! | `views` | a folder for each view |
//! | `shell` | bar, list, status line, sheets; the dispatch of actions |
//!
//! A view never computes physics, never changes the session and never reaches into another view's state.

mod actions;
mod shell;
mod state;
mod storage;
mod views;
mod widgets;
mod work;

use egui;
use std::path::PathBuf;
use std::sync::{Arc, OnceLock};

use actions::dialogs::Dialogs;
use actions::paste_drop::FileKind;
use actions::{LiveScene, action, command, paste_drop, shortcuts};
use shell::{bar, list, panic_recovery, sheet, status, system_font};
use state::selection::{Reveal, View};
use state::session::Session;
use state::settings;
use storage::opening::{self, Opened};
use storage::recovery::Keep;
use views::Views;
use views::editor;
use views::start::Origin;
use widgets::theme;
use widgets::theme::space;
use work::Progress;
use work::worker::AnyWorker;
use work::workers::Workers;

use crate::domain::Job;
use crate::files::companions::Held;
use crate::files::job_file::Stamp;
use crate::files::life_plot::{self, PlotText};
use crate::files::load::Loaded;
use crate::sizing::curves::CurveSet;

/// What the window opens with.
#[derive(Debug, Clone, Default)]
pub struct Start {
    /// A job file, which is opened, or a list, which is opened in Import. Without one the start is shown, or the job worked
    /// on last where the person wants that.
    pub path: Option<PathBuf>,
}

pub use shell::icon;
pub use storage::recovery::Folders;

/// The whole window, free of any windowing system: [`ui`](Self::ui) draws it into any egui area.
#[derive(Default)]
pub struct Window {
    session: Session,
    views: Views,
    editor: editor::EditorState,
    workers: Workers,
    dialogs: Dialogs,
    /// Once it has drawn.
    ctx: OnceLock<egui::Context>,
    leaving: bool,
    /// Frames in which something may still lose the keyboard because it is no longer shown.
    changed: u8,
    keep: Keep,
    /// The window stumbled, and the person has not said yet how to go on.
    mishap: Option<panic_recovery::PanicRecovery>,
    /// The next drawing fails.
    #[cfg(test)]
    trips: bool,
    /// The file to be opened once unsaved work is seen to.
    opening: Option<PathBuf>,
    /// A job with fields that cannot be used, until the person has said whether it is wanted so.
    doubtful: Option<Opened>,
    /// What the window was started with, until the settings are read.
    start: Start,
}

impl Window {
    /// A window that loads its job while it already draws.
    pub fn new(start: Start) -> Self {
        let mut window = Self::default();
        window.views.import.memory = crate::files::import::mapping::own_folder();
        match &start.path {
            None => window.session.selection.view = View::Start,
            Some(path) if paste_drop::kind_of(path, View::Start) == FileKind::Job => {
                opening::load(&window.workers.loading, start.path.clone());
            }
            Some(path) => window.views.start.add(Origin::List, path.clone()),
        }
        if window.views.start.draft.is_some() {
            window.session.selection.view = View::Start;
        }
        window.start = start;
        window
    }

    /// A window with a job at hand; file dialogs are replaced by typing the path. For tests and pictures.
    pub fn holding(loaded: Loaded, path: Option<PathBuf>) -> Self {
        let mut window = Self::default();
        window.dialogs.type_paths();
        let stamp = path.as_deref().and_then(Stamp::of_file);
        window.hold_opened(Opened { loaded, path, stamp, saved: None, held: Held::new() });
        window
    }

    /// A window at its start; file dialogs are replaced by typing the path. For tests and pictures.
    pub fn at_start() -> Self {
        let mut window = Self::default();
        window.dialogs.type_paths();
        window.session.selection.view = View::Start;
        window
    }

    /// Remembers in `folder` what the columns of imported lists mean.
    pub fn remember_mappings_in(&mut self, folder: PathBuf) {
        self.views.import.memory = Some(folder);
    }

    /// Keeps settings and unsaved work in `folders`, and offers what was left there.
    #[must_use]
    pub fn keeping_in(mut self, folders: Folders) -> Self {
        let view = self.session.selection.view;
        self.keep.keep_in(folders, &mut self.session);
        let settings = &self.keep.settings.now;
        if view == View::Start {
            self.session.selection.view = view;
            if let Some(last) = settings.recent.first().filter(|_| settings.reopen_last && self.start.path.is_none()) {
                opening::load(&self.workers.loading, Some(last.clone()));
            }
        }
        self
    }

    /// All work on other threads.
    fn work(&self) -> impl Iterator<Item = &dyn AnyWorker> {
        self.workers.all().chain(self.views.work())
    }

    fn keep_settings(&mut self, at_once: bool) {
        if let Some(ctx) = self.ctx.get() {
            self.keep.settings.keep(ctx, self.session.selection.view, at_once);
        }
    }

    /// The job as it is now.
    pub fn job(&self) -> &Job {
        self.session.job()
    }

    /// Whether the job differs from its file.
    pub fn has_unsaved_changes(&self) -> bool {
        self.session.is_dirty()
    }

    /// Whether there is work on other threads.
    pub fn is_working(&self) -> bool {
        self.work().any(|worker| worker.busy().is_some())
    }

    /// Waits for the work on other threads, as a test or a picture has to.
    pub fn settle(&mut self) {
        self.poll_workers();
        self.keep.keep_work(&self.session, true);
        self.keep_settings(true);
        self.keep.wait();
        self.poll_workers();
        // One piece of work may ask for the next one, a few times over.
        for _ in 0..16 {
            if !self.is_working() {
                break;
            }
            self.work().for_each(AnyWorker::wait);
            self.poll_workers();
        }
        // What was saved meanwhile needs no recovery any more.
        self.keep.keep_work(&self.session, true);
        self.keep.wait();
        self.poll_workers();
    }

    /// Draws everything and carries out what the person wants.
    pub fn ui(&mut self, ui: &mut egui::Ui) {
        let ctx = ui.ctx().clone();
        let workers = self.work().chain([self.dialogs.worker()]).chain(self.keep.workers());
        workers.for_each(|worker| worker.wake(&ctx));
        if self.ctx.set(ctx.clone()).is_ok() {
            theme::apply(&ctx);
            ctx.options_mut(|options| options.zoom_with_keyboard = false);
        }
        self.keep.settings.apply(&ctx);
        self.draw_safely(ui);
        self.keep_settings(false);
    }

    fn draw(&mut self, ui: &mut egui::Ui) {
        #[cfg(test)]
        assert!(!std::mem::take(&mut self.trips), "by intent");
        let ctx = ui.ctx().clone();
        self.poll_workers();
        if let Some(list) = self.session.selection.keyboard_to.take() {
            ctx.memory_mut(|memory| memory.request_focus(widgets::focus_id(list)));
        }
        widgets::keep_arrows(&ctx);
        let elsewhere = matches!(self.session.selection.view, View::Bench | View::Import | View::Help);
        let no_list = elsewhere || self.session.job().positions().next().is_none();
        widgets::lead_tab(&ctx, no_list && !self.is_asking());
        let was_shown = self.shown();
        let mut wanted: Vec<action::Action> = Vec::new();
        // While a file dialog of the desktop is awaited, keys are meant for it.
        if !self.is_asking() && !self.dialogs.has_answer() {
            match self.session.selection.view {
                View::Import => self.views.import.take_keys(&ctx),
                View::Start => self.views.start.take_keys(&ctx),
                _ => {}
            }
            wanted.extend(shortcuts::pressed(&ctx).into_iter().map(action::Action::Run));
            wanted.extend(paste_drop::arrived(&ctx));
        }
        self.views.life.prepare(&self.session, self.views.what_if.variant());
        self.views.board.prepare(&self.session);
        self.views.bench.prepare(&self.session);
        if !wanted.is_empty() || ctx.input(|input| input.viewport().close_requested()) {
            // What is being typed is entered first, so that it is saved, too.
            if let Some(id) = ctx.memory(egui::Memory::focused).filter(|_| ctx.text_edit_focused()) {
                ctx.memory_mut(|memory| memory.surrender_focus(id));
            }
        }
        let focused = ctx.memory(egui::Memory::focused);
        let asking = self.is_asking();
        let laid_over = egui::Id::unique("something is laid over the window");
        let before = ctx.data_mut(|data| std::mem::replace(data.get_temp_mut_or_default(laid_over), asking));
        let opens = asking && !before;
        if opens {
            // For this one frame: a hover text that stands open would otherwise stay in front of what is laid over the window.
            ui.disable();
        }
        let mut out = self.show(ui);
        widgets::outline_focus(&ctx);
        if let (true, Some(id)) = (opens, focused)
            && ctx.memory(egui::Memory::focused).is_none()
        {
            ctx.memory_mut(|memory| memory.request_focus(id));
        }
        self.session.selection.hovered = None;
        out.extend(wanted);
        for action in out {
            self.dispatch(&ctx, action);
        }
        self.keep_keyboard(&ctx, was_shown);
        if ctx.input(|input| input.viewport().close_requested()) && !self.leaving && self.session.is_dirty() {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.dispatch(&ctx, action::Action::Run(command::Command::Quit));
        }
        self.poll_workers();
    }

    fn is_asking(&self) -> bool {
        self.session.selection.overlay.is_some() || self.dialogs.is_open()
    }

    fn show(&mut self, ui: &mut egui::Ui) -> Vec<action::Action> {
        let tokens = theme::tokens(ui);
        let margin = frame_margin(ui);
        let frame = egui::Frame::new().fill(tokens.panel).inner_margin(margin);
        let line = frame.inner_margin(egui::Margin::symmetric(space::PANEL, space::PANEL_SHORT));
        let Self { session, views, editor, keep, workers, dialogs, .. } = self;
        let looks = &mut keep.settings.now;
        editor.follow(session);
        views.follow(session);
        let reveal = session.selection.reveal.take();
        let scene = LiveScene::new(session);
        egui::Panel::top("bar").frame(line).show(ui, |ui| bar::show(ui, &scene, &looks.recent));
        if session.is_invented() && session.selection.view != View::Start {
            let slim = line.fill(tokens.selected).inner_margin(egui::Margin::symmetric(space::PANEL, 1));
            egui::Panel::top("invented").frame(slim).show(ui, |ui| invented(ui, &scene));
        }
        if views.changes.is_open() && session.selection.view != View::Start {
            let changes = &mut views.changes;
            egui::Panel::top("changes").frame(line).show(ui, |ui| views::changes::show(ui, &scene, changes));
        }
        // Its place is taken now, yet it is drawn last: so the Tab key reaches it last.
        let low = line.inner_margin(egui::Margin::symmetric(space::PANEL, 1));
        let status_line = egui::Panel::bottom("status").frame(low).show(ui, |ui| {
            let line = egui::vec2(ui.available_width(), ui.spacing().interact_size.y);
            ui.allocate_exact_size(line, egui::Sense::hover()).0
        });
        body(ui, &scene, (reveal, workers.loading.busy()), (looks, views, editor));
        ui.scope_builder(egui::UiBuilder::new().max_rect(status_line.inner), |ui| {
            let busy = workers.all().chain(views.work()).filter_map(AnyWorker::busy);
            let oldest = busy.min_by_key(|progress| progress.since);
            if let Some(unwanted) = status::show(ui, &scene, &mut views.changes, oldest.as_ref()) {
                // Only its own work: the lists stay as they are when something else was to be stopped.
                if views.import.busy().is_some_and(|own| Arc::ptr_eq(&own, &unwanted)) {
                    scene.push(action::Action::Import(action::ImportAction::Stop));
                }
                workers.all().chain(views.work()).for_each(|worker| worker.stop(&unwanted));
                scene.push(action::Action::Say(format!("Stopped: {}.", unwanted.what)));
            }
        });
        let closed = session.selection.overlay.is_some_and(|shown| sheet::show(ui.ctx(), shown, &scene));
        let wanted = scene.into_wanted();
        if closed {
            session.selection.overlay = None;
        }
        dialogs.show(ui.ctx(), &keep.settings.now.recent);
        paste_drop::show_hovering(ui.ctx());
        wanted
    }
}

/// Draws list, view and editor; the start has the window to itself.
fn body(
    ui: &mut egui::Ui,
    scene: &LiveScene,
    (reveal, opening): (Option<Reveal>, Option<Arc<Progress>>),
    (looks, views, editor): (&mut settings::Settings, &mut Views, &mut editor::EditorState),
) {
    let tokens = theme::tokens(ui);
    let margin = frame_margin(ui);
    let frame = egui::Frame::new().fill(tokens.panel).inner_margin(margin);
    let middle = egui::Frame::new().fill(tokens.base).inner_margin(margin);
    if scene.selection.view == View::Start {
        egui::CentralPanel::no_frame().frame(middle).show(ui, |ui| {
            views::show(ui, scene, looks, views);
        });
        return;
    }
    if let Some(opening) = opening.filter(|_| scene.job.boards.is_empty()) {
        // What is on its way is not an empty job.
        egui::CentralPanel::no_frame().frame(middle).show(ui, |ui| ui.heading(format!("{}…", opening.what)));
        return;
    }
    // At the bench the board of the unit has the room.
    let at_bench = scene.selection.view == View::Bench;
    let window = ui.available_width();
    let narrow = window < space::ALL_THREE;
    let edits = scene.selection.editor.is_some();
    if !(at_bench || edits && narrow) {
        let widths = *space::LIST_WIDTH.start()..=space::LIST_WIDTH_ROOMY;
        let usual = egui::remap_clamp(window, space::LIST_GROWS_FROM..=space::ROOMY, widths).round();
        let list = egui::Panel::left(if narrow { "positions, narrow" } else { "positions" });
        let list = list.frame(frame.inner_margin(egui::Margin::symmetric(space::PANEL_SHORT, space::PANEL_SHORT)));
        let own = looks.positions_width.filter(|_| !narrow);
        let before = egui::Id::unique("usual width of the positions");
        let before = ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or(before, usual), usual));
        // What nobody has changed follows the size of the window, whatever the panel remembers.
        let follows = own.is_none() && before != usual;
        let list = list.default_size(own.unwrap_or(usual));
        let list = list.size_range(if follows { usual..=usual } else { space::LIST_WIDTH });
        let shown = list.show(ui, |ui| list::show(ui, scene, reveal));
        let now = shown.response.rect.width().round();
        if !narrow && (own.is_some() || (now - usual).abs() > 2.0) {
            looks.positions_width = Some(now);
        }
    }
    if edits && window < space::EDITOR_BESIDE {
        egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
            editor::show(ui, scene, editor);
        });
        return;
    }
    if edits {
        // At most a third of the window, and the view keeps its share of it.
        let most = (ui.available_width() - space::VIEW_SHARE * window).min(window / 3.0).max(space::EDITOR_WIDTH);
        let usual = (window * space::EDITOR_SHARE).clamp(space::EDITOR_WIDTH, 440.0_f32.min(most));
        let wanted = looks.editor_width.unwrap_or(usual);
        // An identity for each window width: what one remembers is too wide for another.
        let side = egui::Panel::right(format!("editor {most:.0}")).frame(frame).default_size(wanted.min(most));
        let side = side.size_range(space::EDITOR_WIDTH..=most);
        let shown = side.show(ui, |ui| editor::show(ui, scene, editor));
        let now = shown.response.rect.width().round();
        if (now - wanted.min(most)).abs() > 2.0 {
            looks.editor_width = Some(now);
        }
    }
    let margin = if matches!(scene.selection.view, View::Board | View::Bench) {
        egui::Margin { left: 6, right: 6, top: 2, bottom: 0 }
    } else {
        egui::Margin::symmetric(space::PANEL, space::PANEL_SHORT)
    };
    egui::CentralPanel::no_frame().frame(middle.inner_margin(margin)).show(ui, |ui| {
        views::show(ui, scene, looks, views);
    });
}

/// Around bars and panels; less above and below in a short window.
fn frame_margin(ui: &egui::Ui) -> egui::Margin {
    let above = if ui.ctx().content_rect().height() < space::SHORT { space::PANEL_SHORT } else { space::PANEL };
    egui::Margin::symmetric(space::PANEL, above)
}

/// Says as long as an invented job is open that nothing of it can be bought; in as little height as it can be read.
fn invented(ui: &mut egui::Ui, scene: &LiveScene) {
    let small = |words: &str, ink| egui::RichText::new(words).small().color(ink);
    let tokens = theme::tokens(ui);
    ui.spacing_mut().interact_size.y = 0.0;
    ui.horizontal(|ui| {
        ui.label(small("Demo: everything in it is invented and cannot be bought.", tokens.selected_text));
        let own = egui::Button::new(small("Start my own…", tokens.selected_text).underline()).frame(false);
        if ui.add(own).clicked() {
            scene.push(action::Action::Run(command::Command::ShowStart));
        }
    });
}

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        Self::ui(self, ui);
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.keep_settings(true);
        self.keep.farewell(&self.session, self.leaving);
    }
}

/// A plot of life for paper as the bytes of a PNG file; it takes no display.
///
/// # Errors
/// In words, when the picture cannot be encoded.
pub fn life_plot_png(set: &CurveSet, text: &PlotText) -> Result<Vec<u8>, String> {
    widgets::shapes::png(life_plot::PAPER, |wide| life_plot::paper(set, text, wide))
}

/// Whether there is a display to open a window on.
pub fn display_is_there() -> bool {
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    !cfg!(all(unix, not(target_os = "macos"))) || set("DISPLAY") || set("WAYLAND_DISPLAY") || set("WAYLAND_SOCKET")
}

/// Of the icon in title bars and lists of windows, pixels.
const ICON_SIDE: u32 = 128;

/// Opens the window and stays until it is closed.
///
/// # Errors
/// In words, when there is no display or no way to draw on it.
pub fn run(start: Start) -> Result<(), String> {
    panic_recovery::report_without_personal_paths();
    let folders = Folders::of_desktop();
    let looks = folders.as_ref().map(|folders| settings::Settings::read(&folders.settings).0).unwrap_or_default();
    let viewport = egui::ViewportBuilder::default()
        .with_title("Refarad")
        .with_app_id("refarad")
        .with_icon(egui::IconData { rgba: icon::rgba(ICON_SIDE), width: ICON_SIDE, height: ICON_SIDE })
        .with_inner_size(looks.window_size.unwrap_or([1280.0, 720.0]))
        .with_maximized(looks.maximized)
        .with_min_inner_size([760.0, 480.0]);
    let options = eframe::NativeOptions { viewport, ..eframe::NativeOptions::default() };
    eframe::run_native(
        "Refarad",
        options,
        Box::new(|creation| {
            system_font::add_when_found(creation.egui_ctx.clone());
            let window = Window::new(start);
            Ok(Box::new(match folders {
                Some(folders) => window.keeping_in(folders),
                None => window,
            }))
        }),
    )
    .map_err(|error| {
        // The windowing library puts source positions before the cause.
        let error = error.to_string();
        let cause = error.rsplit(": ").next().unwrap_or(&error);
        format!("The window could not be opened ({cause})")
    })
}
