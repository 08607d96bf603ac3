//! Carrying out what the person wants: the one place where actions change anything.

use std::path::PathBuf;
use std::sync::Arc;

use eframe::egui::{Context, ThemePreference, ViewportCommand};

use super::Window;
use super::action::Action;
use super::ask::{Answer, FileWish, Question};
use super::candidates::Candidates;
use super::command::Command;
use super::edit::Edit;
use super::editor;
use super::keep::Opened;
use super::places::{self, Step};
use super::selection::{Candidate, List, PINS_MAX, View};
use super::session::{BoardPhoto, PhotoName, Session};
use super::sheet::Sheet;
use super::snapshot::Snapshot;
use super::stock::Stock;
use super::wording;
use super::worker::{AnyLane, in_front};
use crate::domain::PositionId;
use crate::files::companions::Held;
use crate::files::job_file::{Expect, Stamp};
use crate::files::load::{Loaded, load_demo, load_mapped};
use crate::files::photo;
use crate::sizing::reasons::figure;
use crate::sizing::{self, Interval, Source};

/// Least and largest interface scale.
pub(super) const SCALE: (f32, f32) = (0.8, 2.0);

/// Why a command cannot be carried out now; `None` when it can.
pub(super) fn refusal(session: &Session, command: Command) -> Option<String> {
    let scene = session.scene();
    let position = scene.position().map(|(_, position)| position);
    let no_position = position.is_none().then_some("No position is selected.");
    let reason = match command {
        Command::Undo => session.history.undo_label().is_none().then_some("Nothing was changed yet."),
        Command::Redo => session.history.redo_label().is_none().then_some("Nothing was taken back."),
        Command::Pick => no_position.or(match scene.candidate() {
            Some(Candidate::Part(_)) => None,
            Some(Candidate::Original) => Some("The original part cannot be bought; select a part of the catalogue."),
            None => Some("No candidate is selected."),
        }),
        Command::Unpick => {
            no_position.or(position.is_some_and(|p| p.pick.is_none()).then_some("Nothing is picked here."))
        }
        Command::Pin | Command::Mark | Command::MarkAll | Command::CopyRows => {
            no_position.or(scene.candidate().is_none().then_some("No candidate is selected."))
        }
        Command::PickProposals => proposals(session).is_empty().then_some("There is no open proposal."),
        Command::RemovePosition
        | Command::DuplicatePosition
        | Command::ExportLifeNumbers
        | Command::ReadTemperatureLog
        | Command::ReadScopeRecord => no_position,
        Command::AddPosition | Command::DuplicateBoard | Command::RemoveBoard => {
            scene.board().is_none().then_some("The job has no board yet.")
        }
        Command::Save if session.newer => {
            Some("The file was written by a later version; save it under another name instead.")
        }
        Command::ExportLifePicture if scene.selection.view != View::Life => {
            Some("The picture shows the life place; go there first.")
        }
        Command::UsePhoto if session.path.is_none() => Some("Save the job first: the photo is kept beside its file."),
        Command::AddOffers if session.path.is_none() => {
            Some("Save the job first: lists of offers are kept beside its file.")
        }
        Command::ExportUnits if session.path.is_none() => {
            Some("Save the job first: the units are recorded beside its file.")
        }
        Command::ExportPurchase
        | Command::ExportSuppliers
        | Command::ExportWorkbook
        | Command::ExportWorksheet
        | Command::ExportJustification
            if session.job().positions().next().is_none() =>
        {
            Some("The job has no position yet.")
        }
        Command::UsePhoto | Command::ExportMap if scene.board().is_none() => Some("The job has no board yet."),
        _ => None,
    };
    reason.map(str::to_owned)
}

/// Every proposal that is not picked yet.
fn proposals(session: &Session) -> Vec<(PositionId, Option<String>)> {
    let proposed = session.snapshot.sizing.positions.iter().filter(|p| p.choice.source == Source::Proposed);
    let number = |p: &sizing::PositionSizing| Some(session.market.catalog().part_number(p.choice.part?.id).to_owned());
    proposed.filter_map(|p| Some((p.id, Some(number(p)?)))).collect()
}

impl Window {
    /// Carries out an action.
    pub(super) fn carry_out(&mut self, ctx: &Context, action: Action) {
        let session = &mut self.session;
        match action {
            Action::Run(command) => match refusal(session, command) {
                Some(reason) => session.say(reason),
                None => self.run_command(ctx, command),
            },
            Action::Edit(edit) => self.edit(edit),
            Action::EndEntry => session.history.close_entry(),
            Action::Select(id) => {
                session.selection.marked.clear();
                session.select(Some(id));
                session.selection.list = List::Positions;
            }
            Action::Mark(ids) => {
                let selected = session.selection.position.filter(|id| ids.contains(id));
                let first = selected.or(ids.first().copied());
                session.select(first.or(session.selection.position));
                session.selection.marked = ids;
            }
            Action::ToggleMark(id) => {
                session.selection.toggle_mark(id);
                session.selection.list = List::Positions;
            }
            Action::MarkTo(id) => mark_to(session, id),
            Action::Paste(text) => self.paste(&text),
            Action::TakeFile(path) => self.take_file(ctx, path),
            Action::Import(wish) => self.import(wish),
            Action::CloseEditor => self.editor.open = None,
            Action::SelectBoard(board) => {
                let first = session.job().positions().find(|(id, _)| id.board == board).map(|(id, _)| id);
                let elsewhere = session.selection.position.is_none_or(|id| id.board != board);
                session.selection.board = board;
                if elsewhere {
                    session.select(first);
                    session.selection.board = board;
                }
            }
            Action::SelectCandidate(candidate) => {
                session.selection.candidate = Some(candidate);
                session.selection.list = List::Candidates;
            }
            Action::Hover(candidate) => session.selection.hovered = Some(candidate),
            Action::Pin(candidate) => {
                if !session.selection.toggle_pin(candidate) {
                    session.say(format!("{PINS_MAX} candidates are pinned already; unpin one first."));
                }
            }
            Action::Show(view) => session.selection.view = view,
            Action::Say(message) => session.say(message),
            Action::Buying(wish) => self.carry_out_buying(ctx, wish),
        }
    }

    pub(super) fn edit(&mut self, edit: Edit) {
        let structural = matches!(edit, Edit::Add { .. } | Edit::Remove(_) | Edit::Whole { .. });
        self.session.keeping_marks(|session| session.history.edit(edit));
        if structural {
            self.editor.forget_drafts();
            self.places.candidates.forget_marks();
        }
    }

    #[expect(clippy::too_many_lines, reason = "one arm for each command, nothing else")]
    fn run_command(&mut self, ctx: &Context, command: Command) {
        let session = &mut self.session;
        match command {
            Command::Open | Command::OpenDemo | Command::Quit if session.is_dirty() => {
                self.asking.ask(Question::Leave { then: command });
            }
            Command::Open => match self.opening.take() {
                Some(path) => self.load(Some(path)),
                None => self.asking.ask(Question::Open),
            },
            Command::ImportList => {
                session.selection.view = View::Import;
                self.asking.ask(Question::File(FileWish::ImportList));
            }
            Command::OpenDemo => self.load(None),
            Command::Save => match session.path {
                Some(_) => self.save_here(),
                None => self.asking.ask(Question::SaveAs { then: None }),
            },
            Command::SaveAs => self.asking.ask(Question::SaveAs { then: None }),
            Command::ExportLifePicture => self.asking.ask(Question::File(FileWish::LifePicture)),
            Command::ExportLifeNumbers => self.asking.ask(Question::File(FileWish::LifeNumbers)),
            Command::ReadTemperatureLog => self.asking.ask(Question::File(FileWish::TemperatureLog)),
            Command::ReadScopeRecord => self.asking.ask(Question::File(FileWish::ScopeRecord)),
            Command::Quit => {
                self.leaving = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            Command::Undo => {
                if let Some(label) = session.keeping_marks(|session| session.history.undo()) {
                    self.places.candidates.forget_marks();
                    session.say(format!("Taken back: {label}."));
                }
            }
            Command::Redo => {
                if let Some(label) = session.keeping_marks(|session| session.history.redo()) {
                    self.places.candidates.forget_marks();
                    session.say(format!("Done again: {label}."));
                }
            }
            Command::Pick => self.pick(),
            Command::Unpick => {
                if let Some(position) = session.selection.position {
                    self.edit(Edit::unpick(position));
                }
            }
            Command::PickProposals => {
                let picks = proposals(session);
                self.edit(Edit::Pick { picks });
            }
            Command::Pin => {
                if let Some(candidate) = session.scene().candidate() {
                    self.carry_out(ctx, Action::Pin(candidate));
                }
            }
            Command::Compare => {
                session.selection.view = View::Candidates;
                self.places.candidates.toggle_comparison();
            }
            Command::Filter => {
                session.selection.view = View::Candidates;
                self.places.candidates.use_filter();
                ctx.request_repaint();
            }
            Command::Mark => {
                if let Some(candidate) = session.scene().candidate() {
                    self.places.candidates.toggle_mark(candidate);
                }
            }
            Command::MarkAll if session.selection.list == List::Positions => {
                let board = session.selection.board;
                let all = session.job().positions().map(|(id, _)| id).filter(|id| id.board == board).collect();
                session.selection.marked = all;
            }
            Command::MarkAll => {
                let said = self.places.candidates.mark_all(&session.scene());
                session.say(said);
            }
            Command::CopyRows => {
                if let Some((table, rows)) = self.places.candidates.copied(&session.scene()) {
                    ctx.copy_text(table);
                    session.say(format!("Copied as a table: {rows} {}.", if rows == 1 { "row" } else { "rows" }));
                }
            }
            Command::EditPosition => self.editor.toggle(editor::Sheet::Position),
            Command::EditBoard => self.editor.toggle(editor::Sheet::Board),
            Command::EditJob => self.editor.toggle(editor::Sheet::Job),
            Command::AddPosition
            | Command::DuplicatePosition
            | Command::RemovePosition
            | Command::AddBoard
            | Command::DuplicateBoard
            | Command::RemoveBoard => self.rearrange(command),
            Command::MarkNext => self.mark_step(Step::Next),
            Command::MarkPrevious => self.mark_step(Step::Previous),
            Command::Next => self.step(Step::Next),
            Command::Previous => self.step(Step::Previous),
            Command::First => self.step(Step::First),
            Command::Last => self.step(Step::Last),
            Command::ToCandidates => {
                if matches!(session.selection.view, View::Board | View::Purchase | View::Import | View::Help) {
                    session.selection.view = View::Candidates;
                }
                self.use_list(ctx, List::Candidates);
            }
            Command::ToPositions => self.use_list(ctx, List::Positions),
            Command::NextOpen => self.select_next_open(),
            Command::Limiting => {
                let limiting = session.scene().board_sized().and_then(|board| board.as_chosen.limiting);
                match limiting {
                    Some(id) => session.select(Some(id)),
                    None => session.say("No position is known to limit this board."),
                }
            }
            Command::ShowBoard => session.selection.view = View::Board,
            Command::ShowCandidates => session.selection.view = View::Candidates,
            Command::ShowLife => session.selection.view = View::Life,
            Command::ShowPurchase => session.selection.view = View::Purchase,
            Command::ShowImport => session.selection.view = View::Import,
            Command::ShowHelp => session.selection.view = View::Help,
            Command::ThemeSystem => ctx.set_theme(ThemePreference::System),
            Command::ThemeDark => ctx.set_theme(ThemePreference::Dark),
            Command::ThemeLight => ctx.set_theme(ThemePreference::Light),
            Command::Larger => scale(ctx, 1.1),
            Command::Smaller => scale(ctx, 1.0 / 1.1),
            Command::UsualSize => ctx.set_zoom_factor(1.0),
            Command::UsePhoto => self.asking.ask(Question::File(FileWish::Photo)),
            Command::ExportMap => self.asking.ask(Question::File(FileWish::Map)),
            Command::AddOffers => self.asking.ask(Question::File(FileWish::Offers)),
            Command::ExportPurchase => self.asking.ask(Question::File(FileWish::Purchase)),
            Command::ExportSuppliers => self.asking.ask(Question::File(FileWish::Suppliers)),
            Command::ExportWorkbook => self.asking.ask(Question::File(FileWish::Workbook)),
            Command::ExportWorksheet => self.asking.ask(Question::File(FileWish::Worksheet)),
            Command::ExportJustification => self.asking.ask(Question::File(FileWish::Justification)),
            Command::ExportUnits => self.asking.ask(Question::File(FileWish::Units)),
            Command::Shortcuts => self.sheet = Some(Sheet::Keys),
            Command::Messages => self.sheet = Some(Sheet::Messages),
        }
    }

    fn pick(&mut self) {
        let scene = self.session.scene();
        let (Some((id, _)), Some(candidate @ Candidate::Part(_))) = (scene.position(), scene.candidate()) else {
            return;
        };
        let edit = Edit::pick(id, scene.name(candidate));
        let before = scene.sizing.boards.get(id.board).map(|board| board.as_chosen.clone()).filter(|_| scene.fresh);
        self.edit(edit);
        self.picked = Some((id, before));
    }

    /// After a pick was sized: what it does to the board.
    fn tell_what_was_picked(&mut self) {
        let scene = self.session.scene();
        if !scene.fresh {
            return;
        }
        let Some((id, before)) = self.picked.take() else { return };
        let Some(part) = scene.job.position(id).and_then(|position| position.pick.as_deref()) else { return };
        let (Some(board), Some(sized)) = (scene.job.boards.get(id.board), scene.sizing.boards.get(id.board)) else {
            return;
        };
        let after = &sized.as_chosen;
        let change = match before {
            Some(before) if before == *after => " as before".to_owned(),
            Some(Interval { years: Some(years), .. }) => format!(" (before: {} years)", figure(years)),
            _ => String::new(),
        };
        let words = wording::interval(&scene, after);
        let said = format!("{part} picked for {}: {} {words}{change}.", scene.reference(id), board.name);
        self.session.say(said);
    }

    fn use_list(&mut self, ctx: &Context, list: List) {
        self.session.selection.list = list;
        if list == List::Candidates && self.session.selection.candidate.is_none() {
            self.session.selection.candidate = self.session.scene().candidate();
        }
        self.keyboard_to = Some(list);
        ctx.request_repaint();
    }

    fn step(&mut self, step: Step) {
        let scene = self.session.scene();
        match self.session.selection.list {
            List::Candidates => {
                if let Some(candidate) = places::candidates::step(&mut self.places.candidates, &scene, step) {
                    self.session.selection.candidate = Some(candidate);
                }
            }
            List::Positions => {
                let ids: Vec<PositionId> = scene.job.positions().map(|(id, _)| id).collect();
                let at = ids.iter().position(|&id| Some(id) == scene.selection.position);
                if let Some(to) = step.from(at, ids.len()) {
                    self.positions.reveal();
                    self.session.select(Some(ids[to]));
                }
            }
        }
    }

    fn select_next_open(&mut self) {
        let session = &mut self.session;
        let open = |p: &&sizing::PositionSizing| p.choice.part.is_none() || !p.choice.verdict.usable();
        let positions = &session.snapshot.sizing.positions;
        let after = positions.iter().filter(open).find(|p| Some(p.id) > session.selection.position);
        match after.or_else(|| positions.iter().find(open)).map(|p| p.id) {
            Some(id) => {
                self.positions.reveal();
                session.select(Some(id));
            }
            None => session.say("Every position has a part that may be used."),
        }
    }

    /// Takes in what other threads have finished, and asks them for what is missing.
    pub(super) fn catch_up(&mut self) {
        match self.lanes.loading.take() {
            Some(Ok(Ok(opened))) => self.hold_opened(opened),
            Some(Ok(Err(error)) | Err(error)) => self.session.say(error),
            None => {}
        }
        match self.lanes.saving.take() {
            Some(Ok(done)) => self.take_saved(done),
            Some(Err(error)) => {
                self.asking.forget_next();
                self.session.say(error);
            }
            None => {}
        }
        match self.lanes.parts.take() {
            Some(Ok(read)) => self.take_stock(read),
            Some(Err(error)) => self.session.say(error),
            None => {}
        }
        match self.lanes.bringing.take() {
            Some(Ok(brought)) => self.take_brought(brought),
            Some(Err(error)) => self.session.say(error),
            None => {}
        }
        self.catch_up_import();
        match self.lanes.sizing.take() {
            Some(Ok(Some(snapshot))) => {
                self.session.snapshot = Arc::new(snapshot);
                self.tell_what_was_picked();
            }
            Some(Err(error)) => self.session.say(error),
            Some(Ok(None)) | None => {}
        }
        match self.lanes.candidates.take() {
            Some(Ok(candidates)) => self.session.candidates = candidates,
            Some(Err(error)) => self.session.say(error),
            None => {}
        }
        let candidates = self.session.candidates.as_ref().map(|(_, candidates)| candidates);
        if let Err(error) = self.places.candidates.follow(candidates, &self.session.market, &self.lanes.listing) {
            self.session.say(error);
        }
        self.catch_up_beside();
        match self.lanes.photo.take() {
            Some(Ok(photo)) => {
                if let Err(message) = &photo.picture {
                    self.session.say(format!("The photo is not shown: {message}"));
                }
                self.session.photo = Some(photo);
            }
            Some(Err(error)) => self.session.say(error),
            None => {}
        }
        if let Some(Ok(Ok(message) | Err(message)) | Err(message)) = self.lanes.map.take() {
            self.session.say(message);
        }
        self.catch_up_keeping();
        self.catch_up_buying();
        self.answer();
        self.keep_work(false);
        self.request();
        self.request_photo();
    }

    /// Asks for the photo of the selected board where another one is at hand.
    fn request_photo(&mut self) {
        let board = self.session.scene().board();
        let named = board.and_then(|board| board.photo.clone()).zip(self.session.path.clone());
        let wanted = named.map(|(photo, job)| PhotoName { job, photo });
        if wanted == self.photo_asked_for {
            return;
        }
        self.photo_asked_for.clone_from(&wanted);
        self.session.photo = None;
        let Some(name) = wanted else { return };
        let side_max_px = self.waker.get().map_or(2048, |ctx| ctx.input(|input| input.max_texture_side)).min(4096);
        self.lanes.photo.request(format!("Reading {}", name.photo), move |_| {
            let read = || {
                let path = photo::locate(&name.job, &name.photo)?;
                photo::read(&path, u32::try_from(side_max_px).unwrap_or(2048))
            };
            let picture = read().map(Arc::new).map_err(|error| error.to_string());
            BoardPhoto { picture }
        });
    }

    pub(super) fn use_photo(&mut self, from: &std::path::Path) {
        let (at, Some(job_path)) = (self.session.selection.board, self.session.path.clone()) else { return };
        let Some(board) = self.session.scene().board().cloned() else { return };
        match photo::bring(&job_path, from) {
            Ok(name) => {
                let side = Some(self.places.board.side()).filter(|&side| side != crate::domain::Side::Top);
                let board =
                    crate::domain::Board { photo: Some(name), photo_corners_mm: None, photo_side: side, ..board };
                self.edit(Edit::Board { at, board: Box::new(board), field: "photo".into() });
                self.session.history.close_entry();
            }
            Err(error) => self.session.say(error.to_string()),
        }
    }

    pub(super) fn export_map(&mut self, path: PathBuf) {
        let request = self.places.board.export(&self.session.scene());
        let (job, market) = (self.session.job().clone(), self.session.market.clone());
        self.lanes.map.request(format!("Drawing {}", path.display()), move |_| {
            let sizing = sizing::size(&job, &market);
            let drawn = request.draw(&job, market.catalog(), &sizing, &path)?;
            crate::files::save(&path, &drawn).map_err(|error| error.to_string())?;
            Ok(format!("The map is written to {}.", path.display()))
        });
    }

    /// Asks for the sizing of a changed job and for the candidates of a changed selection.
    fn request(&mut self) {
        self.request_stock();
        self.request_import();
        self.ask_for_answers();
        let job = self.session.job().clone();
        let position = self.session.selection.position;
        let (known_job, known_position) = match &self.asked_for {
            Some((known, position)) => (Arc::ptr_eq(known, &job), *position),
            None => (false, None),
        };
        if !known_job {
            self.lanes.sizing.cancel();
            self.sizing_is_due = true;
        }
        if !known_job || known_position != position {
            self.asked_for = Some((job.clone(), position));
            if let Some(position) = position {
                let (job, market) = (job.clone(), self.session.market.clone());
                self.lanes.candidates.request("Checking the candidates", move |progress| {
                    let candidates = in_front(|| Candidates::of(&job, &market, position, progress))?;
                    Some((job, Arc::new(candidates)))
                });
            }
        }
        // What is looked at comes first.
        if self.sizing_is_due && self.lanes.candidates.busy().is_none() {
            self.sizing_is_due = false;
            let market = self.session.market.clone();
            self.lanes.sizing.request("Sizing the job", move |progress| {
                let sizing = sizing::size_watched(&job, &market, progress)?;
                Some(Snapshot { job, sizing })
            });
        }
    }

    fn answer(&mut self) {
        match self.asking.take_answer(self.session.is_dirty()) {
            None => {}
            Some(Answer::Open(path) | Answer::ReadAgain(path)) => self.load(Some(path)),
            Some(Answer::Save(path, expected)) => self.save_as(path, expected),
            Some(Answer::Overwrite(path)) => self.request_saving(path, Expect::Anything),
            Some(Answer::SaveElsewhere) => self.asking.ask_for_place_to_save(),
            Some(Answer::SaveHere(_)) => self.save_here(),
            Some(Answer::Recover) => self.recover(),
            Some(Answer::DropRecovered) => self.drop_recovered(),
            Some(Answer::RecoverLater) => self.recover_later(),
            Some(Answer::File(wish, path)) => {
                self.use_file(wish, path);
                // Of several files chosen together the next one is due.
                if let Some(ctx) = self.waker.get() {
                    ctx.request_repaint();
                }
            }
            Some(Answer::Proceed(command)) => {
                // What is not to be kept must not be asked about again.
                let job = self.session.job().clone();
                self.session.forget_changes(job);
                if let Some(ctx) = self.waker.get().cloned() {
                    self.run_command(&ctx, command);
                }
            }
            Some(Answer::Nothing(message)) => {
                self.opening = None;
                self.session.say(message);
            }
        }
    }

    pub(super) fn load(&self, path: Option<PathBuf>) {
        let what = path.as_ref().map_or_else(|| "Opening the demo".to_owned(), |p| format!("Opening {}", p.display()));
        self.lanes.loading.request(what, move |progress| {
            // Before it is read: what comes in between is noticed at saving.
            let stamp = path.as_deref().and_then(Stamp::of_file);
            let loaded = match &path {
                Some(path) => load_mapped(path, &[], &[], progress),
                None => load_demo(),
            };
            loaded
                .map(|loaded| Opened { loaded, path, stamp, saved: None, held: Held::new() })
                .map_err(|error| error.to_string())
        });
    }

    /// Takes a job in hand that was opened or recovered.
    pub(super) fn hold_opened(&mut self, Opened { loaded, path, stamp, saved, held }: Opened) {
        if let Some(path) = &path {
            self.remember_recent(path);
        }
        self.hold(loaded, path);
        self.session.stamp = stamp;
        if !held.is_empty() {
            self.session.stock = Stock::of(&self.session.job().catalogs, held);
        }
        if let Some(saved) = saved {
            self.session.mark_recovered(saved);
            self.session.say("The unsaved work is back; save the job to keep it.");
        }
    }

    /// Takes a job in hand; the view stays where it is.
    pub(super) fn hold(&mut self, loaded: Loaded, path: Option<PathBuf>) {
        let view = self.session.selection.view;
        // What was asked for the job before must not arrive for this one: its parts would replace these.
        self.lanes.parts.cancel();
        self.forget_buying();
        self.forget_parts();
        self.session = Session::new(loaded, path);
        self.session.selection.view = view;
        let rejected = self.session.rejected.len();
        if rejected > 0 {
            self.session.say(format!("{rejected} cells or rows of the catalogue were not used."));
        }
        self.request();
    }
}

/// Marks every position between the selected one and `id`.
fn mark_to(session: &mut Session, id: PositionId) {
    let from = session.selection.position.unwrap_or(id);
    let (first, last) = (from.min(id), from.max(id));
    let between = session.job().positions().map(|(id, _)| id).filter(|id| (first..=last).contains(id));
    session.selection.marked = between.filter(|id| *id != from).collect();
    session.selection.list = List::Positions;
}

fn scale(ctx: &Context, by: f32) {
    ctx.set_zoom_factor((ctx.zoom_factor() * by).clamp(SCALE.0, SCALE.1));
}
