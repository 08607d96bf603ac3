//! The file of the settings: read at the start, applied to the window, written when something changed.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use egui::Context;

use crate::app::state::settings::{self, COLOURS, Settings, VIEWS, named, of_name};
use crate::app::state::{Session, View};
use crate::app::work::Worker;
use crate::files::save;

/// Least time between two writings.
const PAUSE: Duration = Duration::from_secs(1);

/// The settings of a running window and their file.
#[derive(Default)]
pub(crate) struct SettingsFile {
    pub now: Settings,
    folder: Option<PathBuf>,
    /// As they stand in the file.
    written: Settings,
    written_at: Option<Instant>,
    pub(super) worker: Worker<Result<(), String>>,
    /// Read, but the window has not drawn since.
    to_apply: bool,
    fault_told: bool,
}

impl SettingsFile {
    /// Takes the settings in `folder` as they are.
    pub(crate) fn read_from(&mut self, folder: &Path, session: &mut Session) {
        let (mut settings, word) = Settings::read(folder);
        if let Some(word) = word {
            session.say(word);
        }
        if let Some(view) = of_name(&VIEWS, settings.place.as_ref()) {
            session.selection.view = view;
        }
        self.written = settings.clone();
        // A job that is open already came before the settings were read.
        self.now.recent.iter().rev().for_each(|path| settings.remember(path));
        self.now = settings;
        self.folder = Some(folder.to_owned());
        self.to_apply = true;
    }

    /// Gives the window the looks it had.
    pub(crate) fn apply(&mut self, ctx: &Context) {
        if !std::mem::take(&mut self.to_apply) {
            return;
        }
        if let Some(colours) = of_name(&COLOURS, self.now.colours.as_ref()) {
            ctx.set_theme(colours);
        }
        if let Some(scale) = self.now.scale {
            ctx.set_zoom_factor(scale);
        }
    }

    /// Notes how the window looks, and writes that when it changed; now and then, unless `at_once`.
    pub(crate) fn keep(&mut self, ctx: &Context, view: View, at_once: bool) {
        let Some(folder) = self.folder.clone() else { return };
        self.now.place = named(&VIEWS, &view).or(self.now.place.take());
        self.now.colours = named(&COLOURS, &ctx.options(|options| options.theme_preference));
        let scale = ctx.zoom_factor();
        self.now.scale = ((scale - 1.0).abs() > 0.005).then_some(scale);
        let (size, maximized, held) = ctx.input(|input| {
            let viewport = input.viewport();
            (viewport.inner_rect.map(|rect| rect.size()), viewport.maximized, input.pointer.any_down())
        });
        self.now.maximized = maximized.unwrap_or(self.now.maximized);
        if let Some(size) = size.filter(|_| !self.now.maximized) {
            // Whole points of the desktop, so that rounding is no change.
            self.now.window_size = Some([size.x, size.y].map(|side| (side * scale).round()));
        }
        if self.now == self.written || (held && !at_once) {
            return;
        }
        let wait = self.written_at.map_or(Duration::ZERO, |at| PAUSE.saturating_sub(at.elapsed()));
        if !at_once && !wait.is_zero() {
            ctx.request_repaint_after(wait);
            return;
        }
        self.written = self.now.clone();
        self.written_at = Some(Instant::now());
        let settings = self.now.clone();
        self.worker.request("Keeping the settings", move |_| {
            std::fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
            let text = serde_json::to_vec_pretty(&settings).map_err(|error| error.to_string())?;
            save(&settings::file(&folder), &text).map_err(|error| error.to_string())
        });
    }

    /// Says when the settings could not be kept.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        if let Some(Ok(Err(error)) | Err(error)) = self.worker.take()
            && !std::mem::replace(&mut self.fault_told, true)
        {
            session.say(format!("The settings are not kept: {error}"));
        }
    }
}
