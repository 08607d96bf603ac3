//! What the window remembers between runs: recent jobs, place, colours, scale, widths, its own size.

use std::path::{Path, PathBuf};

use egui::ThemePreference;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use crate::app::state::selection::View;
use crate::files::{bounded, set_aside};

const RECENT_MAX: usize = 10;
const BYTES_MAX: u64 = 1 << 20;

/// Least and largest interface scale.
pub(crate) const SCALE: (f32, f32) = (0.8, 2.0);

pub(crate) const VIEWS: [(View, &str); 6] = [
    (View::Board, "board"),
    (View::Candidates, "candidates"),
    (View::Life, "life"),
    (View::Purchase, "purchase"),
    (View::Bench, "bench"),
    (View::Help, "help"),
];
pub(crate) const COLOURS: [(ThemePreference, &str); 3] =
    [(ThemePreference::System, "system"), (ThemePreference::Dark, "dark"), (ThemePreference::Light, "light")];

/// The name of a value in such a table.
pub(crate) fn named<T: PartialEq>(table: &[(T, &'static str)], value: &T) -> Option<String> {
    table.iter().find(|(of, _)| of == value).map(|(_, name)| (*name).to_owned())
}

/// The value of a name in such a table.
pub(crate) fn of_name<T: Copy>(table: &[(T, &'static str)], name: Option<&String>) -> Option<T> {
    let name = name?;
    table.iter().find(|(_, known)| known == name).map(|(of, _)| *of)
}

/// The settings as they stand in `settings.json`. Absent = as usual.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Settings {
    /// Whether the job worked on last opens at the start.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub reopen_last: bool,
    /// Job files, the latest first.
    pub recent: Vec<PathBuf>,
    /// The place that was shown: `board`, `candidates`, `life`, `purchase`, `bench`, `help`.
    pub place: Option<String>,
    /// `system`, `dark` or `light`.
    pub colours: Option<String>,
    /// Size of everything; 1 = usual.
    pub scale: Option<f32>,
    /// Width of the list of positions, points.
    pub positions_width: Option<f32>,
    /// Width of the editor, points.
    pub editor_width: Option<f32>,
    /// Width and height of the window, points of the desktop.
    pub window_size: Option<[f32; 2]>,
    /// The window fills the screen.
    pub maximized: bool,
}

impl Settings {
    /// The settings in `folder`, and a word when they cannot be used.
    pub(crate) fn read(folder: &Path) -> (Self, Option<String>) {
        let path = file(folder);
        let fault = |error: String| {
            // The usual ones will be written there.
            let aside = set_aside(&path)
                .map_or_else(|_| String::new(), |aside| format!("; they are kept as {}", aside.display()));
            let word = format!(
                "{}: the settings could not be read ({error}); the usual ones are used{aside}.",
                path.display()
            );
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
        let (least, most) = SCALE;
        self.scale = self.scale.filter(|scale| (least..=most).contains(scale));
        let usable = |side: &f32| (200.0..=20_000.0).contains(side);
        self.window_size = self.window_size.filter(|size| size.iter().all(usable));
        self.positions_width = self.positions_width.filter(usable);
        self.editor_width = self.editor_width.filter(usable);
        self.recent.truncate(RECENT_MAX);
        self
    }

    /// Puts a job among the recent ones.
    pub(crate) fn remember(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        self.recent.retain(|known| *known != path);
        self.recent.insert(0, path);
        self.recent.truncate(RECENT_MAX);
    }
}

pub(crate) fn file(folder: &Path) -> PathBuf {
    folder.join("settings.json")
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
    fn broken_settings_are_set_aside_and_said() {
        let folder = tempfile::tempdir().unwrap();
        for broken in ["{", "[1, 2]", "{\"scale\": \"big\"}", "\u{0}"] {
            std::fs::write(file(folder.path()), broken).unwrap();
            let (settings, word) = Settings::read(folder.path());
            assert_eq!(settings, Settings::default());
            let word = word.unwrap();
            let aside = word.split("kept as ").nth(1).unwrap().trim_end_matches('.');
            assert_eq!(std::fs::read_to_string(aside).unwrap(), broken, "{word}");
            assert!(!file(folder.path()).exists());
        }
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
