//! What the window remembers between runs: recent jobs, place, colours, scale, widths, its own size.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use egui::{Context, ThemePreference};
use serde::{Deserialize, Serialize};

use crate::app::Window;
use crate::app::state::selection::View;
use crate::app::work::worker::{AnyWorker, Waker, Worker};
use crate::files::{bounded, save};

const RECENT_MAX: usize = 10;
const BYTES_MAX: u64 = 1 << 20;
/// Least time between two writings.
const PAUSE: Duration = Duration::from_secs(1);

const VIEWS: [(View, &str); 5] = [
    (View::Board, "board"),
    (View::Candidates, "candidates"),
    (View::Life, "life"),
    (View::Purchase, "purchase"),
    (View::Help, "help"),
];
const COLOURS: [(ThemePreference, &str); 3] =
    [(ThemePreference::System, "system"), (ThemePreference::Dark, "dark"), (ThemePreference::Light, "light")];

fn named<T: PartialEq>(table: &[(T, &'static str)], value: &T) -> Option<String> {
    table.iter().find(|(of, _)| of == value).map(|(_, name)| (*name).to_owned())
}

fn of_name<T: Copy>(table: &[(T, &'static str)], name: Option<&String>) -> Option<T> {
    let name = name?;
    table.iter().find(|(_, known)| known == name).map(|(of, _)| *of)
}

/// The settings as they stand in `settings.json`. Absent = as usual.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Settings {
    /// Job files, the latest first.
    pub recent: Vec<PathBuf>,
    /// The place that was shown: `board`, `candidates`, `life`, `purchase`, `help`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// `system`, `dark` or `light`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub colours: Option<String>,
    /// Size of everything; 1 = usual.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scale: Option<f32>,
    /// Width of the list of positions, points.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub positions_width: Option<f32>,
    /// Width of the editor, points.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub editor_width: Option<f32>,
    /// Width and height of the window, points of the desktop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub window_size: Option<[f32; 2]>,
    /// The window fills the screen.
    pub maximized: bool,
}

impl Settings {
    /// The settings in `folder`, and a word when they cannot be used.
    pub(crate) fn read(folder: &Path) -> (Self, Option<String>) {
        let path = file(folder);
        let fault = |error: String| {
            let word =
                format!("{}: the settings could not be read ({error}); the usual ones are used.", path.display());
            (Self::default(), Some(word))
        };
        match bounded::read(&path, BYTES_MAX) {
            Ok(bytes) => match serde_json::from_slice::<Self>(&bytes) {
                Ok(settings) => (settings.sound(), None),
                Err(error) => fault(error.to_string()),
            },
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => (Self::default(), None),
            Err(error) => fault(error.to_string()),
        }
    }

    /// Without figures that would make the window unusable.
    fn sound(mut self) -> Self {
        let (least, most) = crate::app::actions::dispatch::SCALE;
        self.scale = self.scale.filter(|scale| (least..=most).contains(scale));
        let usable = |side: &f32| (200.0..=20_000.0).contains(side);
        self.window_size = self.window_size.filter(|size| size.iter().all(usable));
        self.positions_width = self.positions_width.filter(usable);
        self.editor_width = self.editor_width.filter(usable);
        self.recent.truncate(RECENT_MAX);
        self
    }

    fn remember(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        self.recent.retain(|known| *known != path);
        self.recent.insert(0, path);
        self.recent.truncate(RECENT_MAX);
    }
}

fn file(folder: &Path) -> PathBuf {
    folder.join("settings.json")
}

/// The settings of a running window and their file.
pub(crate) struct SettingsFile {
    pub now: Settings,
    folder: Option<PathBuf>,
    /// As they stand in the file.
    written: Settings,
    written_at: Option<Instant>,
    worker: Worker<Result<(), String>>,
    /// Read, but the window has not drawn since.
    to_apply: bool,
    fault_told: bool,
}

impl SettingsFile {
    pub(crate) fn new(waker: &Waker) -> Self {
        Self {
            now: Settings::default(),
            folder: None,
            written: Settings::default(),
            written_at: None,
            worker: Worker::new(waker),
            to_apply: false,
            fault_told: false,
        }
    }

    pub(crate) fn wait(&self) {
        self.worker.wait();
    }
}

impl Window {
    /// Takes the settings in `folder` as they are.
    pub(crate) fn read_settings(&mut self, folder: &Path) {
        let (mut settings, word) = Settings::read(folder);
        if let Some(word) = word {
            self.session.say(word);
        }
        if let Some(view) = of_name(&VIEWS, settings.place.as_ref()) {
            self.session.selection.view = view;
        }
        let file = &mut self.keep.settings;
        file.written = settings.clone();
        // A job that is open already came before the settings were read.
        file.now.recent.iter().rev().for_each(|path| settings.remember(path));
        file.now = settings;
        file.folder = Some(folder.to_owned());
        file.to_apply = true;
    }

    /// Gives the window the looks it had.
    pub(crate) fn apply_settings(&mut self, ctx: &Context) {
        let file = &mut self.keep.settings;
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

    /// Puts a job among the recent ones.
    pub(crate) fn remember_recent(&mut self, path: &Path) {
        self.keep.settings.now.remember(path);
    }

    /// Notes how the window looks, and writes that when it changed; now and then, unless `at_once`.
    pub(crate) fn keep_settings(&mut self, at_once: bool) {
        let Some(ctx) = self.waker.get().cloned() else { return };
        let view = self.session.selection.view;
        let file = &mut self.keep.settings;
        let Some(folder) = file.folder.clone() else { return };
        file.now.place = named(&VIEWS, &view);
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
            save(&self::file(&folder), &text).map_err(|error| error.to_string())
        });
    }

    pub(crate) fn catch_up_settings(&mut self) {
        let file = &mut self.keep.settings;
        if let Some(Ok(Err(error)) | Err(error)) = file.worker.take()
            && !std::mem::replace(&mut file.fault_told, true)
        {
            self.session.say(format!("The settings are not kept: {error}"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_that_would_make_the_window_unusable_are_left_out() {
        let wild = r#"{"scale": 90, "window_size": [1e9, 3], "editor_width": -4, "positions_width": 300, "later": 1}"#;
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(file(folder.path()), wild).unwrap();
        let expected = Settings { positions_width: Some(300.0), ..Settings::default() };
        assert_eq!(Settings::read(folder.path()), (expected, None));
    }

    #[test]
    fn recent_jobs_stand_once_each_the_latest_first() {
        let mut settings = Settings::default();
        for n in 0..15 {
            settings.remember(Path::new(&format!("/jobs/{}.json", n % 12)));
        }
        assert_eq!(settings.recent.len(), RECENT_MAX);
        assert_eq!(settings.recent[0], Path::new("/jobs/2.json"));
        assert_eq!(settings.recent.iter().filter(|path| path.ends_with("2.json")).count(), 1);
    }
}
