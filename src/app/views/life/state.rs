//! What the life view remembers and asks other threads for.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::{
    answers::Answers, answers::Question, curves::Curves, panels::OSCILLOSCOPE, panels::TEMPERATURE_LOG,
    panels::context::Forms, panels::limits::AllBoards, panels::limits::Found, panels::record::RecordForm,
    reading::Reading,
};
use crate::app::state::{Same, Session, Snapshot, View};
use crate::app::work::{AnyWorker, Worker};
use crate::domain::{PositionId, Variant};
use crate::sizing::{board_plan::PlanScope, curves::Axis, pick_change::remove_limits};

/// What the place remembers.
#[derive(Default)]
pub(crate) struct LifeState {
    pub(super) curves: Curves,
    /// Whether every pick of the board is shown instead of the curves of one position.
    pub(super) every_pick: bool,
    /// Condition of the second plot.
    pub(super) second: Axis,
    /// Whether years stand on a logarithmic axis.
    pub(super) log: bool,
    /// Whether the plots show years before the cap.
    pub(super) uncapped: bool,
    /// Where one reads when the pointer is elsewhere: the condition and its value.
    pub(super) read: Option<(Axis, f64)>,
    /// Where the pointer was in the last frame.
    pub(super) pointer: Option<(Axis, f64)>,
    pub(super) forms: Forms,
    pub(super) answers: Option<Answers>,
    pub(super) asked: Option<Question>,
    /// The position the forms are about.
    pub(super) of: Option<PositionId>,
    /// Other conditions the curves are drawn under.
    pub(super) variant: Variant,
    /// Works out what the panels show.
    answering: Worker<Option<Answers>>,
    /// Works out what takes all boards past their limits.
    limits: Worker<Option<Found>>,
    /// Reads a record or a log.
    readings: Worker<Result<Reading, String>>,
}

impl LifeState {
    /// The work on other threads.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 3] {
        [&self.answering, &self.limits, &self.readings]
    }

    /// Takes what was worked out and read, and asks for what is missing.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        if let Some(answers) = session.arrived(self.answering.take()) {
            self.answers = answers;
        }
        if let Some(reading) = session.arrived(self.readings.take().map(Result::flatten)) {
            session.say(self.take_reading(reading));
        }
        if let Some((answers, (path, _))) = self.forms.log_answers.take().zip(self.forms.log.clone()) {
            self.read(path, move |path| Reading::answered_log(path, &answers));
        }
        self.remove_limits(session);
        let Some(question) = self.next_question(session) else { return };
        // What is known of the board is kept while it holds.
        let board = self.answers.as_ref().map(|answers| answers.board.clone());
        self.answering.request("Working out the answers", move |_| Answers::of(question, board.as_ref()));
    }

    /// What takes all boards past their limits, once somebody asked; it is forgotten with the job it was for.
    fn remove_limits(&mut self, session: &mut Session) {
        let all = &mut self.forms.all_boards;
        if let Some(found) = self.limits.take() {
            (all.running, all.found) = (false, session.arrived(Some(found)).flatten());
        }
        all.found.take_if(|found| !Arc::ptr_eq(&found.snapshot, &session.snapshot));
        if std::mem::take(&mut all.wanted) {
            all.running = true;
            let snapshot = session.snapshot.clone();
            let marginal = self.forms.scope.accept_marginal;
            self.limits.request("Removing the limits of all boards", move |progress| {
                let Snapshot { job, catalog_index, sizing } = &*snapshot;
                let (boards, changes) = remove_limits(job, catalog_index, sizing, marginal, progress)?;
                Some(Found { snapshot, boards, changes })
            });
        }
    }

    /// Reads a file of measurements.
    pub(crate) fn read(&self, path: PathBuf, read: impl FnOnce(&Path) -> Result<Reading, String> + Send + 'static) {
        self.readings.request(format!("Reading {}", path.display()), move |_| read(&path));
    }

    /// Forgets what was found out: the parts are others now.
    pub(crate) fn forget_parts(&mut self) {
        self.answering.cancel();
        self.limits.cancel();
        self.forms.all_boards = AllBoards::default();
        (self.answers, self.asked) = (None, None);
        self.curves = Curves::default();
    }

    /// Makes ready what the place draws from what it shows, under `variant`.
    pub(crate) fn prepare(&mut self, session: &Session, variant: &Variant) {
        if session.selection.view != View::Life {
            return;
        }
        if self.of != session.selection.position {
            self.of = session.selection.position;
            let position = session.scene().position().map(|(_, position)| position);
            self.forms.start_anew(position);
        }
        self.variant.clone_from(variant);
        self.curves.provide(session, self.second, variant);
    }

    /// What is to be worked out and was not asked for yet.
    fn next_question(&mut self, session: &Session) -> Option<Question> {
        let scene = session.scene();
        let (id, _) = scene.position()?;
        if session.selection.view != View::Life || !scene.fresh {
            return None;
        }
        let forms = &self.forms;
        let question = Question {
            snapshot: Same(session.snapshot.clone()),
            position: id,
            candidate: scene.candidate()?,
            circuit: (!forms.circuit.figures.is_empty()).then(|| forms.circuit.clone()),
            case_rise_k: forms.here.case_rise_k,
            case_hz: forms.here.case_hz,
            record: forms.record.clone(),
            log: forms.log.clone().map(|(_, log)| (Same(log), forms.log_phases)),
            horizon_years: forms.horizon_years,
            scope: PlanScope { board: Some(id.board), ..forms.scope },
        };
        if self.asked.as_ref() == Some(&question) {
            return None;
        }
        self.asked = Some(question.clone());
        Some(question)
    }

    /// Takes in what was read from a file, and says what it was.
    fn take_reading(&mut self, reading: Reading) -> String {
        match reading {
            Reading::Log(path, log) => {
                let said = match &log.column {
                    Some(column) => format!("Read as a temperature log, column {column}."),
                    None => "Read as a temperature log; say which column stands beside the can.".to_owned(),
                };
                self.forms.log = Some((path, Arc::new(log)));
                self.forms.reveal = Some(TEMPERATURE_LOG);
                said
            }
            Reading::Record(name, record) => {
                let said = format!("Read as an oscilloscope record of {} samples.", record.time_s.len());
                self.forms.record = Some(RecordForm::new(name, record));
                self.forms.reveal = Some(OSCILLOSCOPE);
                said
            }
        }
    }
}

/// Where plots, legend and panels stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Arrangement {
    /// The panels beside the plots; what is longer than the window is scrolled in itself.
    Beside,
    /// One below the other, as long as they are: whoever draws the place scrolls it.
    Below,
}
