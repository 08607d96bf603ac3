//! The file of the settings: read at the start, applied to the window, written when something changed.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use egui::Context;

use crate::app::state::selection::View;
use crate::app::state::session::Session;
use crate::app::state::settings::{self, COLOURS, Settings, VIEWS, named, of_name};
use crate::app::work::worker::Worker;
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
        let file = self;
        file.written = settings.clone();
        // A job that is open already came before the settings were read.
        file.now.recent.iter().rev().for_each(|path| settings.remember(path));
        file.now = settings;
        file.folder = Some(folder.to_owned());
        file.to_apply = true;
    }

    /// Gives the window the looks it had.
    pub(crate) fn apply(&mut self, ctx: &Context) {
        let file = self;
        if !std::mem::take(&mut file.to_apply) {
            return;
        }
        if let Some(colours) = of_name(&COLOURS, file.now.colours.as_ref()) {
            ctx.set_theme(colours);
        }
        if let Some(scale) = file.now.scale {
            ctx.set_zoom_factor(scale);
        }
    }

    /// Notes how the window looks, and writes that when it changed; now and then, unless `at_once`.
    pub(crate) fn keep(&mut self, ctx: &Context, view: View, at_once: bool) {
        let file = self;
        let Some(folder) = file.folder.clone() else { return };
        file.now.place = named(&VIEWS, &view).or(file.now.place.take());
        file.now.colours = named(&COLOURS, &ctx.options(|options| options.theme_preference));
        let scale = ctx.zoom_factor();
        file.now.scale = ((scale - 1.0).abs() > 0.005).then_some(scale);
        let (size, maximized, held) = ctx.input(|input| {
            let viewport = input.viewport();
            (viewport.inner_rect.map(|rect| rect.size()), viewport.maximized, input.pointer.any_down())
        });
        file.now.maximized = maximized.unwrap_or(file.now.maximized);
        if let Some(size) = size.filter(|_| !file.now.maximized) {
            // Whole points of the desktop, so that rounding is no change.
            file.now.window_size = Some([size.x, size.y].map(|side| (side * scale).round()));
        }
        if file.now == file.written || (held && !at_once) {
            return;
        }
        let wait = file.written_at.map_or(Duration::ZERO, |at| PAUSE.saturating_sub(at.elapsed()));
        if !at_once && !wait.is_zero() {
            ctx.request_repaint_after(wait);
            return;
        }
        file.written = file.now.clone();
        file.written_at = Some(Instant::now());
        let settings = file.now.clone();
        file.worker.request("Keeping the settings", move |_| {
            std::fs::create_dir_all(&folder).map_err(|error| format!("{}: {error}", folder.display()))?;
            let text = serde_json::to_vec_pretty(&settings).map_err(|error| error.to_string())?;
            save(&settings::file(&folder), &text).map_err(|error| error.to_string())
        });
    }

    /// Says when the settings could not be kept.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        let file = self;
        if let Some(Ok(Err(error)) | Err(error)) = file.worker.take()
            && !std::mem::replace(&mut file.fault_told, true)
        {
            session.say(format!("The settings are not kept: {error}"));
        }
    }
}
