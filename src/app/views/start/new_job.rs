//! What holds for the whole of a new job: six questions on one page, each of which may be skipped. Before anything else, or once
//! the lists are in that the job begins with.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use egui::{Key, RichText, TextEdit, Ui, vec2};

use crate::app::actions::{Action, LiveScene};
use crate::app::state::edit::Edit;
use crate::app::state::selection::View;
use crate::app::views::start::centred;
use crate::app::widgets::{self, theme};
use crate::domain::{Job, Outcome, Policy};
use crate::files::new_job;

/// What a new job begins from.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Origin {
    /// A bill of materials, a placement file, a component catalogue: they are opened in Import at once.
    List,
    /// The same after they were imported.
    Imported,
    /// A photo, on which the cans are marked.
    Photo,
    /// Nothing.
    #[default]
    Empty,
}

/// A new job while it is filled in.
#[derive(Debug, Clone, Default)]
pub(crate) struct Draft {
    pub(crate) origin: Origin,
    /// The lists, or the photo.
    pub(crate) files: Vec<PathBuf>,
    /// What the lists hold that was not imported, and how it is; in words.
    pub(crate) left_out: Option<String>,
    name: String,
    /// Share of the operating time and ambient of each phase, as typed.
    phases: Vec<[String; 2]>,
    /// What was typed into the fields of [`QUESTIONS`], by the field of the job.
    typed: BTreeMap<&'static str, String>,
    /// The field drawn next is to get the keyboard.
    begins: bool,
    /// The person goes on by a key.
    pub(super) goes_on: bool,
    /// Something had the keyboard when it was drawn last.
    typing: bool,
    refused: Option<String>,
}

impl Draft {
    pub(super) fn new(origin: Origin) -> Self {
        Self { origin, phases: vec![<[String; 2]>::default()], begins: true, ..Self::default() }
    }

    /// The answers once more after the person went back, for another origin; its files are chosen anew.
    pub(super) fn again(self, origin: Origin) -> Self {
        let of_file = self.files.iter().any(|path| stem(path) == self.name);
        let name = if of_file { String::new() } else { self.name };
        Self { origin, files: Vec::new(), left_out: None, name, begins: true, refused: None, ..self }
    }

    /// Adds a file; the first one names the job.
    pub(crate) fn add(&mut self, path: PathBuf) {
        if self.name.is_empty() {
            self.name = stem(&path);
        }
        if !self.files.contains(&path) {
            self.files.push(path);
        }
    }

    /// The job as what was said makes it.
    ///
    /// # Errors
    /// In words, when something typed is no figure or out of its bounds.
    pub(super) fn job(&self) -> Result<Job, String> {
        let mut job = Job::default();
        for [share, ambient] in &self.phases {
            new_job::add_phase(&mut job, share, ambient)?;
        }
        new_job::say(&mut job, "name", &self.name).map_err(|why| format!("name: {why}"))?;
        let asked = QUESTIONS.iter().flat_map(|(.., rows)| rows.concat()).chain([LOWEST]);
        for (label, field, ..) in asked {
            let Some(typed) = self.typed.get(field).filter(|typed| !typed.trim().is_empty()) else { continue };
            new_job::say(&mut job, field, typed).map_err(|why| format!("{}: {why}", label.to_lowercase()))?;
        }
        Ok(job)
    }
}

fn stem(path: &Path) -> String {
    path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default()
}

/// Width of the page where the window has room for it, points.
const WIDTH: f32 = 900.0;
const FIELD: f32 = 76.0;

/// Draws the page; `true`: the person leaves it.
pub(super) fn show(ui: &mut Ui, job: &Job, draft: &mut Draft, scene: &LiveScene) -> bool {
    let mut left = false;
    let mut goes_on = std::mem::take(&mut draft.goes_on);
    centred(ui, WIDTH, |ui| {
        ui.spacing_mut().item_spacing.y = 5.0;
        ui.heading(match draft.origin {
            Origin::List | Origin::Imported => "What holds for the whole job",
            Origin::Photo => "New job from a photo",
            Origin::Empty => "New job",
        });
        files(ui, draft);
        if let Some(left) = &draft.left_out {
            ui.colored_label(theme::tokens(ui).outcome(Outcome::Marginal).ink, left.as_str());
        }
        questions(ui, draft);
        // After the last field there is none for Enter to go to.
        goes_on |= std::mem::take(&mut draft.begins);
        ui.add_space(8.0);
        ui.horizontal_wrapped(|ui| {
            let next = match draft.origin {
                Origin::List | Origin::Imported | Origin::Photo => "Continue to the board",
                Origin::Empty => "Create the job",
            };
            let primary = widgets::primary(ui, next).on_hover_text("Enter in the last field, or Ctrl+Enter.");
            if primary.clicked() || goes_on {
                left = finish(job, draft, scene);
                if !left {
                    primary.request_focus();
                }
            }
            let (word, hover) = match draft.origin {
                Origin::Imported => ("Skip", "All of it stays unknown until it is entered."),
                _ => ("Back", "What was answered is kept for the next new job."),
            };
            // Escape in a field is the field's: it has lost the keyboard by now.
            let typing = std::mem::replace(&mut draft.typing, ui.memory(|memory| memory.focused().is_some()));
            let escaped = !typing && ui.input(|input| input.key_pressed(Key::Escape));
            if ui.button(word).on_hover_text(hover).clicked() || escaped {
                left = true;
                scene.extend((draft.origin == Origin::Imported).then(|| to_board(job)));
            }
            ui.weak("Everything can be left empty and changed later under Edit > Job and policy.");
        });
        if let Some(reason) = &draft.refused {
            ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, format!("Not accepted: {reason}"));
        }
    });
    left
}

/// Goes on with what was said; `true`: nothing more is to come of the page.
fn finish(job: &Job, draft: &mut Draft, scene: &LiveScene) -> bool {
    match draft.job() {
        Ok(new) if draft.origin == Origin::Imported => {
            scene.push(Action::Edit(Edit::settings(job, "conditions", |job| {
                job.units = new.units.or(job.units);
                job.spare_pct = new.spare_pct.or(job.spare_pct);
                job.hours_per_year = new.hours_per_year.or(job.hours_per_year);
                job.interval_years = new.interval_years.or(job.interval_years);
                job.currency = new.currency.or(job.currency.take());
                if new.policy != Policy::default() {
                    job.policy = new.policy;
                }
                if !new.conditions.is_empty() {
                    job.conditions = new.conditions;
                }
            })));
            scene.extend([Action::EndEntry, to_board(job)]);
            return true;
        }
        Ok(new) => scene.push(Action::BeginJob(Box::new(new))),
        Err(reason) => draft.refused = Some(reason),
    }
    false
}

/// To the board where the lists made one.
fn to_board(job: &Job) -> Action {
    Action::Show(if job.boards.is_empty() { View::Import } else { View::Board })
}

fn files(ui: &mut Ui, draft: &mut Draft) {
    let mut gone = None;
    ui.horizontal_wrapped(|ui| {
        for (at, path) in draft.files.iter().enumerate() {
            let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
            ui.strong(&name).on_hover_text(path.display().to_string());
            let remove = widgets::named(ui.small_button("×"), format!("Leave out {name}"));
            let remove = remove.on_hover_text("Leaves this file out.");
            gone = gone.or(remove.clicked().then_some(at));
            ui.add_space(8.0);
        }
    });
    if let Some(at) = gone {
        draft.files.remove(at);
    }
}

/// A field of a question: its name, the field of the job it fills, what counts while it is empty (of a margin the default of the
/// field), and what stands behind it.
type Asked = (&'static str, &'static str, &'static str, &'static str);

const LOWEST: Asked = ("Lowest ambient", "conditions.ambient_min_c", "unknown", "°C at its coldest");

/// The questions: number and words, what it does, its fields in rows.
const QUESTIONS: [(&str, &str, &[&[Asked]]); 6] = [
    (
        "1  Where does the machine stand?",
        "Ambient beside the boards while it runs, and the coldest it gets. Life, ripple and temperature are checked \
         against it; without it they stay unknown. Several phases where it runs hot only part of the time.",
        &[],
    ),
    (
        "2  How many hours a year does it run?",
        "Turns operating hours into years. A year has 8760 h.",
        &[&[("Hours a year", "hours_per_year", "unknown", "h a year")]],
    ),
    (
        "3  How long until the next rebuild?",
        "Every part has to last this long, by the hours above.",
        &[&[("Interval", "interval_years", "unknown", "years")]],
    ),
    (
        "4  How many units, and how many spares?",
        "Multiplies what is ordered.",
        &[&[("Units", "units", "1", "units,"), ("Spares", "spare_pct", "0", "% spares")]],
    ),
    (
        "5  In which currency do you buy?",
        "Of the costs of the job; prices keep their own.",
        &[&[("Currency", "currency", "unknown", "as EUR")]],
    ),
    (
        "6  Which margins does the shop keep?",
        "How close to its ratings a part may be used. Where nothing is typed the usual figures count (assumed, in grey).",
        &[
            &[
                ("Voltage below 160 V", "policy.voltage_use_max_wet_lv", "", "of the rated voltage <160 V,"),
                ("Voltage from 160 V", "policy.voltage_use_max_wet_hv", "", "from 160 V"),
            ],
            &[
                ("Ripple", "policy.ripple_use_max", "", "of the rated ripple,"),
                ("Life margin", "policy.life_margin", "", "times the interval"),
            ],
        ],
    ),
];

/// A field and its unit; `begins`: it gets the keyboard, and after Enter in it the field that is drawn next.
fn field(ui: &mut Ui, name: &str, (text, begins): (&mut String, &mut bool), hint: &str, unit: &str) {
    let response = widgets::named(ui.add(TextEdit::singleline(text).desired_width(FIELD).hint_text(hint)), name);
    ui.label(unit);
    hand_on(ui, &response, begins);
}

fn hand_on(ui: &Ui, field: &egui::Response, begins: &mut bool) {
    if std::mem::take(begins) {
        field.request_focus();
    }
    *begins = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
}

fn questions(ui: &mut Ui, draft: &mut Draft) {
    if draft.origin != Origin::Imported {
        ui.horizontal(|ui| {
            let label = ui.label("Name of the job");
            let name = ui.add(TextEdit::singleline(&mut draft.name).desired_width(320.0)).labelled_by(label.id);
            hand_on(ui, &name, &mut draft.begins);
        });
    }
    for (title, does, rows) in QUESTIONS {
        ui.separator();
        ui.horizontal_top(|ui| {
            let text = (ui.available_width() * 0.46).max(220.0);
            ui.allocate_ui_with_layout(vec2(text, 0.0), egui::Layout::top_down(egui::Align::LEFT), |ui| {
                ui.set_width(text);
                ui.strong(title);
                ui.label(RichText::new(does).weak().small());
            });
            ui.vertical(|ui| {
                if rows.is_empty() {
                    phases(ui, draft);
                }
                for row in rows {
                    ui.horizontal(|ui| row.iter().for_each(|asked| ask(ui, draft, asked)));
                }
            });
        });
    }
}

fn ask(ui: &mut Ui, draft: &mut Draft, &(name, path, empty, unit): &Asked) {
    let text = draft.typed.entry(path).or_default();
    let hint = if empty.is_empty() { new_job::usual(path) } else { empty.to_owned() };
    field(ui, name, (text, &mut draft.begins), &hint, unit);
}

fn phases(ui: &mut Ui, draft: &mut Draft) {
    let several = draft.phases.len() > 1;
    for (at, [share, ambient]) in draft.phases.iter_mut().enumerate() {
        ui.horizontal(|ui| {
            let nth = if several { format!(" {}", at + 1) } else { String::new() };
            field(ui, &format!("Ambient{nth}"), (ambient, &mut draft.begins), "unknown", "°C while it runs");
            if several {
                let share = (share, &mut draft.begins);
                field(ui, &format!("Share of the time{nth}"), share, "1", "parts of the time");
            }
        });
    }
    ui.horizontal(|ui| {
        ask(ui, draft, &LOWEST);
        if ui.button("Another phase").on_hover_text("Where it runs hotter or cooler part of the time.").clicked() {
            draft.phases.push(<[String; 2]>::default());
        }
    });
}
