//! Questions the program has to ask: which file, and what to do with unsaved work.
//!
//! File dialogs are the system's own and run on a thread. A system without them (no desktop portal) is noticed, and the
//! path is typed into the window instead.

mod browser;
mod wording;

use std::collections::VecDeque;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use egui::{self, Context, Id, Modal};

use crate::app::actions::command::Command;
use crate::app::work::{AnyWorker, Worker};
use crate::files::{Fault, job_file::Expect};
use browser::Browser;
pub(crate) use wording::FilePurpose;
use wording::Wording;

/// Nobody closes a dialog this fast: an answer that comes sooner means that none was shown.
const FASTER_THAN_A_PERSON: Duration = Duration::from_millis(400);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Question {
    Open,
    /// Where to save the job, and what to do afterwards.
    SaveAs {
        /// What the person wanted when unsaved work came in the way.
        then: Option<Command>,
    },
    /// Which file to read or write beside the job.
    File(FilePurpose),
    /// What to do with unsaved work.
    Leave {
        /// What the person wanted.
        then: Command,
    },
}

impl Question {
    /// Whether a folder is asked for.
    fn takes_a_folder(self) -> bool {
        matches!(self, Self::File(FilePurpose::Suppliers | FilePurpose::Packing))
    }

    /// Whether something is written, so that a folder may have to be made for it.
    fn writes(self) -> bool {
        self.takes_a_folder() || self.wording().file_name.is_some()
    }

    /// Whether several files may be chosen at once.
    fn takes_several(self) -> bool {
        matches!(self, Self::File(FilePurpose::ImportList | FilePurpose::NewFromList))
    }
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Answer {
    /// Open this file.
    Open(PathBuf),
    /// Save to this file, where this is thought to stand.
    Save(PathBuf, Expect),
    /// Save to this file, whatever stands there.
    Overwrite(PathBuf),
    /// Ask where to save.
    SaveElsewhere,
    /// Read this file again; what was changed is not wanted.
    ReadAgain(PathBuf),
    /// Take up the work that was left behind.
    Recover,
    /// Throw the work away that was left behind.
    DropRecovered,
    /// Leave it where it is.
    RecoverLater,
    /// Open the job with the fields unknown that cannot be used.
    OpenDoubtful,
    /// Do not open it.
    LeaveDoubtful,
    /// Use this file as wished.
    File(FilePurpose, PathBuf),
    /// Save to the file the job came from, then go on with this.
    SaveHere(Command),
    /// Go on with this; changes that are not saved are not wanted.
    Proceed(Command),
    /// Pick the selected candidate for this reason, though it is not known to be suitable.
    PickFor(String),
    /// Ask where to write this, though it names invented parts.
    WriteInvented(FilePurpose),
    RemoveBoard,
    /// Carry the command out.
    Do(Command),
    /// Nothing is to be done; the reason.
    Nothing(String),
}

/// A pick that needs a reason.
#[derive(Debug, Clone)]
pub(crate) struct Reasoning {
    pub heading: String,
    /// Why the part is not known to be suitable.
    pub lines: Vec<String>,
    pub typed: String,
}

/// A question with a few answers, each a button.
#[derive(Debug, Clone)]
pub(crate) struct Choice {
    pub heading: String,
    /// What the person needs to know to answer.
    pub text: String,
    /// The answers; the keyboard begins at the first, so that it is none that destroys anything.
    pub options: Vec<(&'static str, Answer)>,
    /// What it means to close the question without an answer.
    pub closed: Answer,
}

impl Choice {
    /// A job with fields that cannot be used.
    pub(crate) fn doubtful(faults: &[Fault]) -> Self {
        /// Faults that the question has room for.
        const SHOWN: usize = 12;
        let shown: String = faults.iter().take(SHOWN).map(|fault| format!("\n{fault}")).collect();
        let more = match faults.len().saturating_sub(SHOWN) {
            0 => String::new(),
            more => format!("\nand {more} more, listed under Messages once it is open"),
        };
        let fields = if faults.len() == 1 { "field of the job" } else { "fields of the job" };
        Self {
            heading: format!("{} {fields} cannot be used", faults.len()),
            text: format!(
                "It can be opened with them unknown. The file stays as it is until you save; the version before is \
                 kept then.{shown}{more}"
            ),
            options: vec![("Open with these unknown", Answer::OpenDoubtful), ("Cancel", Answer::LeaveDoubtful)],
            closed: Answer::LeaveDoubtful,
        }
    }

    fn unsaved(then: Command) -> Self {
        let stay = Answer::Nothing("Nothing was closed.".into());
        Self {
            heading: "The job has changes that are not saved".into(),
            text: "They are lost unless the job is saved first.".into(),
            options: vec![
                ("Save", Answer::SaveHere(then)),
                ("Discard", Answer::Proceed(then)),
                ("Cancel", stay.clone()),
            ],
            closed: stay,
        }
    }
}

struct Chosen {
    question: Question,
    paths: Vec<PathBuf>,
    took: Duration,
}

/// The questions that are open.
#[derive(Default)]
pub(crate) struct Dialogs {
    system: Worker<Chosen>,
    types_paths: bool,
    /// Why the system's dialogs are not used; empty where paths are only typed.
    why: &'static str,
    browser: Option<Browser>,
    reasoning: Option<Reasoning>,
    /// The folder a file was chosen in last.
    folder: Option<PathBuf>,
    job_name: String,
    choosing: Option<Choice>,
    /// What to do once the job is saved.
    next: Option<Command>,
    answer: Option<Answer>,
    /// Files that were chosen together with the one of the answer.
    further: VecDeque<Answer>,
}

impl Dialogs {
    /// The thread a dialog of the system is awaited on.
    pub(crate) fn worker(&self) -> &dyn AnyWorker {
        &self.system
    }

    /// Paths are typed from now on; the system's dialogs are not used.
    pub(crate) fn type_paths(&mut self) {
        self.types_paths = true;
    }

    /// Whether a question covers the window.
    pub(crate) fn is_open(&self) -> bool {
        self.browser.is_some() || self.choosing.is_some() || self.reasoning.is_some()
    }

    pub(crate) fn ask(&mut self, question: Question) {
        match question {
            Question::Leave { then } => self.choosing = Some(Choice::unsaved(then)),
            _ if self.types_paths => self.browse(question),
            _ => self.ask_system(question),
        }
    }

    fn browse(&mut self, question: Question) {
        self.browser = Some(Browser::new(question, self.why, self.folder.as_deref(), &self.proposed(question)));
    }

    fn ask_system(&mut self, question: Question) {
        let proposed = self.proposed(question);
        self.system.request("Waiting for the file dialog", move |_| {
            let since = Instant::now();
            let paths = system_dialog(question, &proposed);
            Chosen { question, paths, took: since.elapsed() }
        });
    }

    /// The job lies in this folder and has this name: what is written goes there by its name, until the person goes elsewhere.
    pub(crate) fn follow_job(&mut self, path: Option<&Path>, name: &str) {
        if self.folder.is_none() {
            let whole = path.and_then(|path| std::path::absolute(path).ok());
            self.folder = whole.as_deref().and_then(Path::parent).map(Path::to_owned);
        }
        let stem = path.and_then(Path::file_stem).map(|stem| stem.to_string_lossy().into_owned());
        self.job_name = stem.unwrap_or_else(|| name.to_owned());
    }

    /// The name proposed for a file to write: a job by its own.
    fn proposed(&self, question: Question) -> String {
        let usual = question.wording().file_name.unwrap_or_default();
        let keep = |c: char| if c.is_alphanumeric() || "-_ ".contains(c) { c } else { '_' };
        let clean: String = self.job_name.trim().chars().map(keep).collect();
        match question {
            Question::SaveAs { .. } if !clean.is_empty() => format!("{clean}.json"),
            _ => usual.to_owned(),
        }
    }

    /// Asks why a part is picked that is not known to be suitable.
    pub(crate) fn reason(&mut self, heading: String, lines: Vec<String>) {
        self.reasoning = Some(Reasoning { heading, lines, typed: String::new() });
    }

    /// Asks a question that has its answers with it.
    pub(crate) fn choose(&mut self, choice: Choice) {
        self.choosing = Some(choice);
    }

    /// Whether an answer is still to be taken, or a file dialog is open.
    pub(crate) fn has_answer(&self) -> bool {
        self.answer.is_some() || !self.further.is_empty() || self.system.busy().is_some()
    }

    /// Asks where to save; what was to come after stays to come.
    pub(crate) fn ask_for_place_to_save(&mut self) {
        self.ask(Question::SaveAs { then: self.next });
    }

    /// Saving failed: what was to come after it does not come.
    pub(crate) fn forget_next(&mut self) {
        self.next = None;
    }

    /// What was answered, once. Work that waited for saving goes on when the job is no longer `dirty`.
    pub(crate) fn take_answer(&mut self, dirty: bool) -> Option<Answer> {
        if let Some(done) = self.system.take() {
            match done {
                Err(error) => return Some(Answer::Nothing(error)),
                Ok(chosen) => self.chosen(chosen),
            }
        }
        if self.answer.is_none() {
            self.answer = self.further.pop_front();
        }
        if self.answer.is_none() && self.choosing.is_none() && !dirty {
            return self.next.take().map(Answer::Proceed);
        }
        self.answer.take()
    }

    fn chosen(&mut self, chosen: Chosen) {
        if chosen.paths.is_empty() && chosen.took < FASTER_THAN_A_PERSON {
            self.types_paths = true;
            self.why = "This desktop offers no file dialog (no portal answered), so the program shows its own.";
            self.browse(chosen.question);
        } else {
            // The system's dialog asks itself before a file is replaced.
            self.give(chosen.question, chosen.paths, Expect::Anything);
        }
    }

    /// The first file is the answer; others chosen together with it follow, one after the other.
    fn give(&mut self, question: Question, paths: Vec<PathBuf>, expected: Expect) {
        let mut paths = paths.into_iter();
        let Some(path) = paths.next() else {
            self.next = None;
            self.answer = Some(Answer::Nothing("No file was chosen.".into()));
            return;
        };
        self.answer = Some(match question {
            Question::SaveAs { then } => {
                self.next = then;
                Answer::Save(path, expected)
            }
            Question::File(wish) => {
                self.further.extend(paths.map(|path| Answer::File(wish, path)));
                Answer::File(wish, path)
            }
            Question::Open | Question::Leave { .. } => Answer::Open(path),
        });
    }

    /// Draws the question that is open.
    pub(crate) fn show(&mut self, ctx: &Context, places: &[PathBuf]) {
        self.show_browser(ctx, places);
        self.show_reasoning(ctx);
        self.show_choice(ctx);
    }

    fn show_browser(&mut self, ctx: &Context, places: &[PathBuf]) {
        let Some((question, paths)) = self.browser.as_mut().and_then(|browser| browser.show(ctx, places)) else {
            return;
        };
        self.browser = None;
        if let Some(first) = paths.first() {
            let folder = if question.takes_a_folder() { Some(&**first) } else { first.parent() };
            self.folder = folder.map(Path::to_owned);
        }
        self.give(question, paths, Expect::Nothing);
    }

    fn show_reasoning(&mut self, ctx: &Context) {
        let Some(reasoning) = &mut self.reasoning else { return };
        let (mut done, mut given_up) = (false, false);
        let shown = Modal::new(Id::unique("reasoning")).show(ctx, |ui| {
            ui.set_width(520.0);
            ui.heading(reasoning.heading.as_str());
            for line in &reasoning.lines {
                ui.label(line);
            }
            let label = ui.label("Your reason, kept as the note of the position");
            let entry = egui::TextEdit::singleline(&mut reasoning.typed).desired_width(f32::INFINITY);
            let entry = ui.add(entry).labelled_by(label.id);
            if !entry.lost_focus() && ui.memory(|memory| memory.focused().is_none()) {
                entry.request_focus();
            }
            let entered = entry.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
            ui.horizontal(|ui| {
                let ready = !reasoning.typed.trim().is_empty();
                let pick = egui::Button::new("Pick it all the same");
                done = ui.add_enabled(ready, pick).clicked() || (entered && ready);
                given_up = ui.button("Cancel").clicked();
            });
        });
        if done {
            self.answer = Some(Answer::PickFor(reasoning.typed.trim().to_owned()));
        }
        if done || given_up || shown.should_close() {
            self.reasoning = None;
        }
    }

    fn show_choice(&mut self, ctx: &Context) {
        let Some(choice) = &self.choosing else { return };
        let mut answer = None;
        let shown = Modal::new(Id::unique("choice")).show(ctx, |ui| {
            ui.set_width(460.0);
            ui.heading(choice.heading.as_str());
            ui.label(choice.text.as_str());
            ui.horizontal(|ui| {
                for (at, (label, means)) in choice.options.iter().enumerate() {
                    let button = ui.button(*label);
                    if at == 0 && ui.memory(|memory| memory.focused().is_none()) {
                        button.request_focus();
                    }
                    if button.clicked() {
                        answer = Some(means.clone());
                    }
                }
            });
        });
        let Some(answer) = answer.or_else(|| shown.should_close().then(|| choice.closed.clone())) else { return };
        self.choosing = None;
        match &answer {
            Answer::SaveHere(then) => self.next = Some(*then),
            // What waits for saving goes on waiting.
            Answer::Save(..) | Answer::Overwrite(_) | Answer::SaveElsewhere => {}
            _ => self.next = None,
        }
        self.answer = Some(answer);
    }
}

/// The system's own dialog; waits for the person, so never on the window's thread. Nothing when there is none, or nothing was
/// chosen.
fn system_dialog(question: Question, proposed: &str) -> Vec<PathBuf> {
    let Wording { title, filter: (name, endings), file_name, .. } = question.wording();
    let dialog = rfd::FileDialog::new().set_title(title);
    if question.takes_a_folder() {
        return dialog.pick_folder().into_iter().collect();
    }
    let dialog = dialog.add_filter(name, endings);
    match file_name {
        Some(_) => dialog.set_file_name(proposed).save_file().into_iter().collect(),
        None if question.takes_several() => dialog.pick_files().unwrap_or_default(),
        None => dialog.pick_file().into_iter().collect(),
    }
}
