//! The program's own way to choose a file, where the desktop offers no dialog: folders, files, a path that can be typed.

use std::path::{Path, PathBuf};

use egui::text::CCursorRange;
use egui::text_edit::TextEditState;
use egui::{Button, Context, Id, Key, Modal, ScrollArea, TextEdit, Ui};

use super::{Question, wording::Wording};

/// Entries listed of a folder; more are found by typing.
const LISTED_MAX: usize = 500;

/// A file being chosen.
pub(super) struct Browser {
    question: Question,
    /// Why it is asked here and not by the desktop.
    why: &'static str,
    folder: PathBuf,
    /// What is typed: a name in the folder, or a path.
    text: String,
    listed: Vec<Entry>,
    /// Why the folder cannot be listed, or what is typed not be opened.
    trouble: Option<String>,
    /// A file that is there and would be replaced; the person is asked.
    replaces: Option<PathBuf>,
    /// Name of a folder to be made, while it is typed.
    new_folder: Option<String>,
}

struct Entry {
    name: String,
    is_folder: bool,
}

/// The files that were chosen; none where the question was given up.
type Done = (Question, Vec<PathBuf>);

impl Browser {
    /// Shows `folder`, else the home; a file to be written is proposed under the name `proposed`.
    pub(super) fn new(question: Question, why: &'static str, folder: Option<&Path>, proposed: &str) -> Self {
        let home = || directories::BaseDirs::new().map(|dirs| dirs.home_dir().to_owned());
        let folder = folder.map(Path::to_owned).filter(|folder| folder.is_dir()).or_else(home).unwrap_or_default();
        let writes = !why.is_empty() && question.wording().file_name.is_some();
        let text = if writes { proposed.to_owned() } else { String::new() };
        let mut browser =
            Self { question, why, folder, text, listed: Vec::new(), trouble: None, replaces: None, new_folder: None };
        browser.list();
        browser
    }

    fn list(&mut self) {
        let (_, endings) = self.question.wording().filter;
        (self.listed, self.trouble) = match std::fs::read_dir(&self.folder) {
            Ok(entries) => {
                let mut listed: Vec<Entry> = entries
                    .flatten()
                    .map(|entry| Entry {
                        name: entry.file_name().to_string_lossy().into_owned(),
                        is_folder: entry.path().is_dir(),
                    })
                    .filter(|entry| !entry.name.starts_with('.') && (entry.is_folder || fits(&entry.name, endings)))
                    .collect();
                listed.sort_by_key(|entry| (!entry.is_folder, entry.name.to_lowercase()));
                (listed, None)
            }
            Err(error) => (Vec::new(), Some(format!("{}: {error}", self.folder.display()))),
        };
    }

    fn go(&mut self, folder: PathBuf) {
        self.folder = folder;
        self.list();
    }

    /// Draws it; what the person chose, once.
    pub(super) fn show(&mut self, ctx: &Context, places: &[PathBuf]) -> Option<Done> {
        let wording = self.question.wording();
        let (mut ready, mut given_up) = (false, false);
        let height = (ctx.content_rect().height() - 260.0).clamp(80.0, 360.0);
        let shown = Modal::new(Id::unique("path")).show(ctx, |ui| {
            ui.set_width((ctx.content_rect().width() - 60.0).min(620.0));
            ui.heading(wording.title);
            if !self.why.is_empty() {
                ui.label(self.why);
                self.folders(ui, places);
                egui::Frame::new().fill(ui.visuals().extreme_bg_color).inner_margin(4).show(ui, |ui| {
                    let list = ScrollArea::vertical().max_height(height).auto_shrink([false, false]);
                    list.show(ui, |ui| ready = self.entries(ui));
                });
            }
            let label = ui.label(wording.prompt);
            let entry = ui.add(TextEdit::singleline(&mut self.text).desired_width(f32::INFINITY));
            let entry = entry.labelled_by(label.id);
            if !entry.lost_focus() && ui.memory(|memory| memory.focused().is_none()) {
                entry.request_focus();
                // What is typed takes the place of what is proposed.
                let mut state = TextEditState::load(ui.ctx(), entry.id).unwrap_or_default();
                state.cursor.set_char_range(Some(CCursorRange::select_all_str(&self.text)));
                state.store(ui.ctx(), entry.id);
            }
            if entry.changed() {
                (self.replaces, self.trouble) = (None, None);
            }
            let entered = entry.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
            if let Some(trouble) = &self.trouble {
                ui.strong(trouble);
            }
            if let Some(path) = &self.replaces {
                ui.strong(format!("{} is there already and would be replaced.", path.display()));
            }
            ui.horizontal(|ui| {
                // Nothing typed stands for the folder that is shown.
                let shown = self.question.takes_a_folder() && !self.why.is_empty();
                let typed = shown || !self.text.trim().is_empty();
                let verb = if self.replaces.is_some() { "Replace it" } else { wording.verb };
                ready |= ui.add_enabled(typed, Button::new(verb)).clicked() || (entered && typed);
                given_up = ui.button("Cancel").clicked();
            });
        });
        if given_up || shown.should_close() {
            return Some((self.question, Vec::new()));
        }
        if ready { self.choose(&wording) } else { None }
    }

    /// The folder shown, the way up and places to go to.
    fn folders(&mut self, ui: &mut Ui, places: &[PathBuf]) {
        let mut to = None;
        ui.horizontal_wrapped(|ui| {
            let above = self.folder.parent().map(Path::to_owned);
            if ui.add_enabled(above.is_some(), Button::new("Up")).on_hover_text("To the folder above.").clicked() {
                to.clone_from(&above);
            }
            if ui.button("Home").clicked() {
                to = directories::BaseDirs::new().map(|dirs| dirs.home_dir().to_owned());
            }
            if self.question.writes() && ui.button("New folder…").on_hover_text("Made in the folder shown.").clicked()
            {
                self.new_folder = Some(String::new());
            }
            let mut seen: Vec<&Path> = Vec::new();
            for folder in places.iter().filter_map(|place| place.parent()) {
                if seen.contains(&folder) || seen.len() == 4 {
                    continue;
                }
                seen.push(folder);
                let name = folder.file_name().unwrap_or(folder.as_os_str()).to_string_lossy().into_owned();
                if ui.button(name).on_hover_text(folder.display().to_string()).clicked() {
                    to = Some(folder.to_owned());
                }
            }
            ui.label(self.folder.display().to_string());
        });
        if let Some(folder) = to {
            self.go(folder);
        }
        let Some(name) = &mut self.new_folder else { return };
        let mut made = false;
        ui.horizontal(|ui| {
            let label = ui.label("Name of the new folder");
            let entry = ui.add(TextEdit::singleline(name).desired_width(220.0)).labelled_by(label.id);
            if name.is_empty() && !entry.lost_focus() {
                entry.request_focus();
            }
            made = entry.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
            made |= ui.add_enabled(!name.trim().is_empty(), Button::new("Make it")).clicked();
        });
        if made {
            self.make_folder();
        }
    }

    /// Makes the folder that is named in the one shown, and goes into it.
    fn make_folder(&mut self) {
        let Some(name) = self.new_folder.take().filter(|name| !name.trim().is_empty()) else { return };
        let folder = self.folder.join(name.trim());
        match std::fs::create_dir(&folder) {
            Ok(()) => self.go(folder),
            Err(error) => self.trouble = Some(format!("{}: {error}", folder.display())),
        }
    }

    /// The folder's entries; `true`: one of them was chosen by a double click.
    fn entries(&mut self, ui: &mut Ui) -> bool {
        if self.listed.is_empty() {
            ui.label("Nothing here that can be used.");
        }
        ui.spacing_mut().item_spacing.y = 0.0;
        let (mut into, mut chosen) = (None, false);
        let named: Vec<String> = self.text.split(';').map(|name| name.trim().to_owned()).collect();
        for entry in self.listed.iter().take(LISTED_MAX) {
            let name = if entry.is_folder { format!("{}/", entry.name) } else { entry.name.clone() };
            let at = named.iter().position(|known| *known == entry.name);
            let row = Button::selectable(at.is_some(), name).truncate().min_size(egui::vec2(ui.available_width(), 0.0));
            let row = ui.add(row);
            if row.double_clicked() && !entry.is_folder {
                self.text.clone_from(&entry.name);
                chosen = true;
            } else if row.clicked() && entry.is_folder {
                into = Some(self.folder.join(&entry.name));
            } else if row.clicked() {
                self.replaces = None;
                self.text = match at {
                    _ if !self.question.takes_several() || self.text.trim().is_empty() => entry.name.clone(),
                    // A second click takes it out again.
                    Some(at) => {
                        let others = named.iter().enumerate().filter(|(other, _)| *other != at);
                        others.map(|(_, name)| name.as_str()).collect::<Vec<_>>().join("; ")
                    }
                    None => format!("{}; {}", self.text.trim(), entry.name),
                };
            }
        }
        if self.listed.len() > LISTED_MAX {
            ui.label(format!("{} more; type the name.", self.listed.len() - LISTED_MAX));
        }
        if let Some(folder) = into {
            self.go(folder);
        }
        chosen
    }

    /// The files that are named, once nothing has to be asked about them any more.
    fn choose(&mut self, wording: &Wording) -> Option<Done> {
        let whole = self.full(self.text.trim());
        let several = self.question.takes_several() && self.text.contains(';') && !whole.exists();
        let mut paths: Vec<PathBuf> = if several {
            self.text.split(';').map(str::trim).filter(|name| !name.is_empty()).map(|name| self.full(name)).collect()
        } else {
            vec![whole]
        };
        let (writes, a_folder) = (wording.file_name.is_some(), self.question.takes_a_folder());
        if let Some(gone) = paths.iter().find(|path| !writes && !a_folder && !path.exists()) {
            self.trouble = Some(format!("There is no {}.", gone.display()));
            return None;
        }
        if let [path] = paths.as_mut_slice()
            && !a_folder
        {
            if path.is_dir() && !self.why.is_empty() {
                let folder = path.clone();
                self.text.clear();
                self.go(folder);
                return None;
            }
            if writes && path.extension().is_none() {
                path.set_extension(wording.filter.1[0]);
            }
            if let Some(gone) =
                path.parent().filter(|folder| writes && !folder.as_os_str().is_empty() && !folder.exists())
            {
                self.trouble = Some(format!("There is no folder {}.", gone.display()));
                return None;
            }
            // A job that would be replaced is asked about when it is saved.
            let asked_later = matches!(self.question, Question::SaveAs { .. });
            if writes && !asked_later && path.exists() && self.replaces.as_ref() != Some(path) {
                self.replaces = Some(path.clone());
                return None;
            }
        }
        Some((self.question, paths))
    }

    /// A typed name or path as a path: `~` is the home, a name lies in the folder shown.
    fn full(&self, typed: &str) -> PathBuf {
        let path = match typed.strip_prefix('~').map(|rest| rest.trim_start_matches(['/', '\\'])) {
            Some(rest) => {
                directories::BaseDirs::new().map_or_else(|| PathBuf::from(typed), |dirs| dirs.home_dir().join(rest))
            }
            None => PathBuf::from(typed),
        };
        // Without a list of the folder what is typed is meant from where the program runs.
        if self.why.is_empty() || path.is_absolute() { path } else { self.folder.join(path) }
    }
}

/// Whether a name has one of the endings; `*` stands for any.
fn fits(name: &str, endings: &[&str]) -> bool {
    let ending = Path::new(name).extension().map(|ending| ending.to_string_lossy().to_lowercase());
    endings.iter().any(|known| *known == "*" || ending.as_deref() == Some(known))
}

#[cfg(test)]
#[path = "../../../../tests/window/inside/browser.rs"]
mod tests;
