//! What the bench remembers, and its work on another thread: the record of the units.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::actions::{Action, BenchAction, LiveScene};
use crate::app::state::{Edit, Reveal, Same, Scene, Session, Snapshot, View};
use crate::app::widgets::{drafts::Drafts, map::Drawn, map::camera::Camera, map::photo};
use crate::app::work::{AnyWorker, Worker};
use crate::domain::{
    BoardOfUnit, Date, Job, PositionId, PositionRecord, Side, UnitAtBench, boards_of_unit, others_of_unit,
};
use crate::files::{unit_record, unit_record::RecordsRead, unit_record::UnitRecord};
use crate::sizing::{AtBench, BoardMap, bench::as_found, bench::kept, reasons::figure, size};

/// What a can is called that is done and of which nobody said what went in.
pub(super) const NOT_RECORDED: &str = "part not recorded";
/// The field one begins with.
pub(super) const FIRST: &str = "bench.positions.before.capacitance_uf";
/// The first field of the unit.
pub(super) const SERIAL: &str = "bench.serial";

/// What the button at the foot of the panel is called for the keyboard.
pub(super) const FOOT: &str = "foot";

/// The record as read, and the unit whose rebuild was just added.
type RecordsDone = Result<(RecordsRead, Option<(UnitAtBench, String)>), String>;

/// What the panel shows.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Sheet {
    #[default]
    Can,
    Unit,
    /// The record of the units, in place of the map.
    Records,
}

#[derive(PartialEq)]
struct Of {
    job: Same<Job>,
    snapshot: Same<Snapshot>,
    records: Same<RecordsRead>,
    unit: usize,
    copy: usize,
    side: Side,
}

/// Everything the view shows of a unit, worked out once per change.
pub(super) struct Prepared {
    /// What it was worked out for.
    of: Of,
    /// The unit; `None` while none is at the bench.
    pub unit: Option<UnitAtBench>,
    pub board: BoardOfUnit,
    /// Every board of the unit with how many of its positions are done, of how many.
    pub progress: Vec<(BoardOfUnit, usize, usize)>,
    /// The job as the unit was found.
    pub found: Job,
    pub map: Arc<BoardMap>,
    /// Its other parts and test points, with the part that is planned.
    pub others: Vec<PositionRecord>,
    /// The rebuild before this one.
    pub earlier: Option<UnitRecord>,
}

#[derive(Default)]
pub(crate) struct BenchState {
    pub(super) prepared: Option<Arc<Prepared>>,
    pub(super) sheet: Sheet,
    /// Which of the units at the bench.
    pub(super) unit: usize,
    /// Which board of the unit.
    pub(super) copy: usize,
    pub(super) drafts: Drafts,
    /// What the drafts belong to.
    pub(super) for_whom: (usize, usize, Option<PositionId>),
    pub(super) camera: Option<Camera>,
    pub(super) texture: photo::Texture,
    pub(super) drawn: Drawn,
    /// The field that gets the keyboard when next drawn.
    pub(super) keyboard_to: Option<&'static str>,
    /// A second rebuild on one day is meant.
    pub(super) again: bool,
    /// The unit of the record that is looked at.
    pub(super) selected: Option<String>,
    asked: Option<PathBuf>,
    work: Worker<RecordsDone>,
}

impl BenchState {
    /// The work on other threads.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 1] {
        [&self.work]
    }

    /// Another job is opened: forgets everything of the one before.
    pub(crate) fn start_anew(&mut self) {
        self.work.cancel();
        (self.prepared, self.asked, self.selected, self.camera) = (None, None, None, None);
        (self.unit, self.copy, self.sheet, self.again) = (0, 0, Sheet::Can, false);
        self.drafts.clear();
    }

    /// What is typed from now on is of this can of the unit, or of the unit itself.
    pub(super) fn turn_to(&mut self, can: Option<PositionId>) {
        let now = (self.unit, self.copy, can);
        if std::mem::replace(&mut self.for_whom, now) != now {
            self.drafts.clear();
        }
    }

    /// Shows a unit; the one that is shown already by its number and day.
    pub(super) fn show_unit(&mut self, at: usize) {
        self.sheet = if self.unit == at && self.sheet == Sheet::Can { Sheet::Unit } else { Sheet::Can };
        (self.unit, self.again) = (at, false);
    }

    pub(super) fn show_board(&mut self, at: usize, prepared: &Prepared, scene: &LiveScene) {
        self.copy = at;
        self.sheet = if self.sheet == Sheet::Records { Sheet::Can } else { self.sheet };
        scene.extend(prepared.progress.get(at).map(|(of, ..)| Action::SelectBoard(of.board)));
    }

    /// Takes in the record once it is read or added to, and asks for it while the bench is shown.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        if let Some((read, added)) = session.arrived(self.work.take().map(Result::flatten)) {
            session.records = Arc::new(read);
            if let Some((unit, said)) = added {
                session.say(said);
                self.selected = Some(unit.serial.trim().to_owned());
                self.sheet = Sheet::Records;
                // Unless somebody went on with it meanwhile.
                let mut units = session.job().bench.clone();
                units.retain(|known| *known != unit);
                session.edit(Edit::Bench { units, measured: Vec::new(), field: format!("{} recorded", unit.serial) });
                session.history.close_entry();
            }
        }
        let wanted = session.path.as_deref().map(unit_record::path_beside);
        if session.selection.view != View::Bench || wanted == self.asked {
            return;
        }
        self.asked.clone_from(&wanted);
        session.records = Arc::default();
        let Some(path) = wanted else { return };
        self.work.request("Reading the record of the units", move |_| {
            Ok((unit_record::read(&path).map_err(|error| error.to_string())?, None))
        });
    }

    /// Works out what is shown, once per change.
    pub(crate) fn prepare(&mut self, session: &Session) {
        let scene = session.scene();
        if scene.selection.view != View::Bench {
            return;
        }
        self.unit = self.unit.min(scene.job.bench.len().saturating_sub(1));
        let of_type = scene.job.bench.get(self.unit).cloned().unwrap_or_default().type_in(scene.job);
        let boards = boards_of_unit(scene.job, &of_type);
        if boards.get(self.copy).is_none_or(|of| of.board != scene.selection.board) {
            self.copy = boards.iter().position(|of| of.board == scene.selection.board).unwrap_or(0);
        }
        let of = Of {
            job: Same(session.job().clone()),
            snapshot: Same(session.snapshot.clone()),
            records: Same(session.records.clone()),
            unit: self.unit,
            copy: self.copy,
            side: scene.position().and_then(|(_, position)| position.side).unwrap_or_default(),
        };
        if self.prepared.as_deref().is_some_and(|known| known.of == of) {
            return;
        }
        if self.prepared.as_deref().is_some_and(|known| known.board.board != scene.selection.board) {
            self.camera = None;
        }
        self.prepared =
            boards.get(self.copy).cloned().and_then(|board| prepared(&scene, of, boards, board)).map(Arc::new);
    }

    /// Does what the view asks for.
    pub(crate) fn dispatch(&mut self, session: &mut Session, action: BenchAction) {
        match action {
            BenchAction::NewUnit => {
                let mut units = session.job().bench.clone();
                // One meter measures all of them.
                let esr_hz = units.last().and_then(|unit| unit.esr_hz);
                let technician = units.last().map(|unit| unit.technician.clone()).unwrap_or_default();
                let serial = self.selected.take().filter(|_| self.sheet == Sheet::Records).unwrap_or_default();
                units.push(UnitAtBench { serial, technician, esr_hz, ..UnitAtBench::default() });
                self.show_unit(units.len() - 1);
                (self.sheet, self.keyboard_to) = (Sheet::Unit, Some(SERIAL));
                edit(session, units, "new unit at the bench");
            }
            BenchAction::RemoveUnit => {
                let mut units = session.job().bench.clone();
                if self.unit < units.len() {
                    units.remove(self.unit);
                    edit(session, units, "unit taken off the bench");
                }
            }
            BenchAction::Done(done) => self.set_done(session, done),
            BenchAction::Next => self.next_open(session),
            BenchAction::AddRecord => self.add_record(session),
        }
    }

    /// Ticks the selected can, naming the part that is planned where none was entered, and goes on.
    fn set_done(&mut self, session: &mut Session, done: bool) {
        let scene = session.scene();
        let (Some((_, position)), Some(prepared)) = (scene.position(), self.prepared.clone()) else { return };
        let mut units = scene.job.bench.clone();
        if units.is_empty() {
            units.push(UnitAtBench::default());
        }
        let planned = scene.chosen().map(|part| scene.name(part).to_owned()).or_else(|| position.pick.clone());
        let reference = position.reference.clone();
        units[self.unit].change(&prepared.board.name, &reference, |at| {
            at.done = done.then_some(true);
            if done && at.part_number.is_empty() {
                at.part_number = planned.unwrap_or_default();
            }
        });
        edit(session, units, &format!("{reference} {}", if done { "done" } else { "not done" }));
        if done {
            self.prepare(session);
            self.next_open(session);
        }
    }

    /// Selects the next can of the unit that is not done, on this board, else on the next one; where all are done the unit.
    pub(crate) fn next_open(&mut self, session: &mut Session) {
        let Some(prepared) = &self.prepared else { return };
        let boards: Vec<&BoardOfUnit> = prepared.progress.iter().map(|(of, ..)| of).collect();
        let here = session.selection.position.filter(|id| id.board == prepared.board.board).map(|id| id.index);
        let job = session.job().clone();
        let open = |of: &BoardOfUnit, after: Option<usize>| {
            let done = |reference: &str| {
                prepared
                    .unit
                    .as_ref()
                    .and_then(|unit| unit.at(&of.name, reference))
                    .is_some_and(PositionRecord::is_done)
            };
            let positions = job.boards.get(of.board).map_or(&[][..], |board| &board.positions);
            let first = after.map_or(0, |after| after + 1);
            positions.iter().enumerate().skip(first).find(|(_, position)| !done(&position.reference)).map(|(at, _)| at)
        };
        let count = boards.len();
        // On this board after the selected can, on the boards after it, and last on this one from its beginning.
        let turns = (0..=count).map(|turn| ((self.copy + turn) % count.max(1), if turn == 0 { here } else { None }));
        let found = turns.into_iter().find_map(|(at, after)| Some((at, open(boards.get(at)?, after)?)));
        if let Some((at, index)) = found {
            let board = boards[at].board;
            (self.copy, self.sheet) = (at, Sheet::Can);
            self.keyboard_to = Some(FIRST);
            session.selection.reveal = Some(Reveal::InSight);
            session.select(Some(PositionId { board, index }));
        } else {
            (self.sheet, self.keyboard_to) = (Sheet::Unit, Some(SERIAL));
            session.say("Every can of this unit is done: add its rebuild to the record.");
        }
    }

    fn add_record(&mut self, session: &mut Session) {
        let Some(path) = session.path.as_deref().map(unit_record::path_beside) else {
            return session.say("Save the job first: the units are recorded beside its file.");
        };
        let Some(unit) = session.job().bench.get(self.unit).cloned() else { return };
        let Some(today) = Date::today().or(unit.date) else {
            return session.say("The clock of this machine is off: enter the day.");
        };
        let (job, catalog_index, again) = (session.job().clone(), session.catalog_index.clone(), self.again);
        self.again = false;
        self.work.request("Recording the unit", move |_| {
            let sizing = size(&job, &catalog_index);
            let record = UnitRecord::of_bench(&job, catalog_index.catalog(), &sizing, &unit, today);
            unit_record::append(&path, &record, again, Date::today()).map_err(|error| error.to_string())?;
            let read = unit_record::read(&path).map_err(|error| error.to_string())?;
            let said = format!("{} of {} was added to {}.", record.serial, record.date, path.display());
            Ok((read, Some((unit, said))))
        });
    }
}

/// Changes what is at the bench, and nothing of what positions keep.
fn edit(session: &mut Session, units: Vec<UnitAtBench>, field: &str) {
    session.history.close_entry();
    session.edit(Edit::Bench { units, measured: Vec::new(), field: field.to_owned() });
    session.history.close_entry();
}

/// The change of what is at the bench, with what the positions then keep as measured.
pub(super) fn change(
    scene: &Scene,
    unit: usize,
    ids: &[PositionId],
    field: String,
    set: impl FnOnce(&mut UnitAtBench),
) -> Action {
    let mut units = scene.job.bench.clone();
    if units.is_empty() {
        units.push(UnitAtBench::default());
    }
    if let Some(unit) = units.get_mut(unit) {
        set(unit);
    }
    let measured =
        ids.iter().filter_map(|&id| Some((id, kept(scene.job, scene.job.position(id)?, id.board, &units)))).collect();
    Action::Edit(Edit::Bench { units, measured, field })
}

fn prepared(scene: &Scene, of: Of, boards: Vec<BoardOfUnit>, board: BoardOfUnit) -> Option<Prepared> {
    let unit = scene.job.bench.get(of.unit).cloned();
    let empty = UnitAtBench::default();
    let at_bench = unit.as_ref().unwrap_or(&empty);
    let serial = at_bench.serial.trim();
    let same_unit = |record: &&UnitRecord| !serial.is_empty() && record.serial.trim() == serial;
    let earlier = of.records.records.iter().filter(same_unit).max_by_key(|record| record.date).cloned();
    let then = earlier.as_ref().map(|record| (record.date, &record.positions[..]));
    let found = as_found(scene.job, scene.catalog, at_bench, &board, then);
    let mut map = BoardMap::new(&found, scene.catalog, scene.sizing, board.board, of.side)?;
    // Gaps between new bodies say nothing of a board on which old and new ones stand side by side.
    map.short_gaps.clear();
    map.keepout_violations.clear();
    for can in &mut map.cans {
        let record = at_bench.at(&board.name, &can.reference);
        let done = record.is_some_and(PositionRecord::is_done);
        if !done {
            can.chosen = None;
        }
        let original = found.position(can.id).and_then(|position| position.original.can.capacitance_uf);
        let measured = record.and_then(|record| record.before.capacitance_uf);
        let words = measured.map(|uf| match original {
            Some(nominal) => format!("{} of {} µF", figure(uf), figure(nominal)),
            None => format!("{} µF", figure(uf)),
        });
        let leak = record.and_then(|record| record.before.leakage_ua);
        let words = words.or(leak.map(|leak| format!("leaks {} µA", figure(leak))));
        let unnamed = record.is_some_and(PositionRecord::is_done_unnamed).then(|| NOT_RECORDED.to_owned());
        can.at_bench = Some(AtBench { done, words: unnamed.or(words) });
    }
    let mut others: Vec<PositionRecord> =
        boards.iter().flat_map(|of| others_of_unit(scene.job, Some(of.board), &of.name)).collect();
    others.extend(others_of_unit(scene.job, None, scene.job.board_name(None)));
    let progress = boards.into_iter().map(|of| {
        let is_other = |at: &PositionRecord| others.iter().any(|other| other.is_of(&at.board, &at.reference));
        let done = at_bench.positions.iter().filter(|at| at.is_done() && at.board == of.name && !is_other(at)).count();
        let all = scene.job.boards.get(of.board).map_or(0, |board| board.positions.len());
        (of, done, all)
    });
    let progress = progress.collect();
    Some(Prepared { of, unit, board, progress, found, map: Arc::new(map), others, earlier })
}
