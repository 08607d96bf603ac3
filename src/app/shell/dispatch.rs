//! Carrying out what the person wants: the one place where actions change anything.

use egui::{Context, Memory, ThemePreference, ViewportCommand};

use crate::app::Window;
use crate::app::actions::dialogs::{Answer, Choice, FilePurpose, Question};
use crate::app::actions::{
    Action, Command, ImportAction, moving, moving::mark_to, paste_drop, picking, picking::proposals,
    rearrange::rearrange, refusal::refusal,
};
use crate::app::state::{Edit, EditorSheet, History, List, Overlay, PINS_MAX, Step, View, settings::SCALE};
use crate::app::storage::{catalog_sources, opening, saving};
use crate::app::views;
use crate::app::views::start::Origin;
use crate::app::widgets::{map_focus_id, wording::count};
use crate::domain::Place;
use crate::files::job_file::Expect;

impl Window {
    /// Carries out an action.
    pub(crate) fn dispatch(&mut self, ctx: &Context, action: Action) {
        let session = &mut self.session;
        self.dialogs.follow_job(session.path.as_deref(), &session.job().name);
        match action {
            Action::Run(command) => match refusal(session, command) {
                Some(reason) => session.say(reason),
                None => self.run_command(ctx, command),
            },
            Action::Edit(edit) => picking::edit(session, edit),
            Action::EndEntry => session.history.close_entry(),
            Action::Select(id) => {
                session.select(Some(id));
                // The editor of another part follows to what was chosen instead.
                let of_other = session.selection.editor.filter(|sheet| *sheet == EditorSheet::Others);
                session.selection.editor = of_other.map(|_| EditorSheet::Position).or(session.selection.editor);
                session.selection.list = List::Positions;
                // The keyboard goes with the click, unless the map has it.
                if ctx.memory(Memory::focused) != Some(map_focus_id()) {
                    moving::use_list(session, ctx, List::Positions);
                }
            }
            Action::SelectOther(id) => session.selection.edit_other(id, true),
            Action::SelectTestPoint(id) => session.selection.edit_other(id, false),
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
            Action::Paste(text) => {
                if paste_drop::paste(session, &text) {
                    self.views.import.open_text(&text);
                }
            }
            Action::TakeFile(path) => self.take_file(ctx, path),
            Action::Import(ImportAction::TakeIn) if session.is_invented() => {
                session.say("The demo stays as it is: what is imported goes into a job of your own.");
                self.views.start.begin(Origin::List);
            }
            Action::Import(ImportAction::TakeIn) => {
                self.views.import.dispatch(session, &mut self.dialogs, ImportAction::TakeIn);
                if self.views.import.is_empty() {
                    self.ask_conditions();
                }
            }
            Action::ShowDatasheet(mark) => self.show_datasheet(&mark),
            Action::Import(action) => self.views.import.dispatch(session, &mut self.dialogs, action),
            Action::CloseEditor => session.selection.editor = None,
            Action::EditField(path) => {
                let of_job = path.starts_with("job.");
                session.selection.editor = Some(if of_job { EditorSheet::Job } else { EditorSheet::Position });
                self.editor.take_keyboard(Some(path));
            }
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
                if session.selection.view == View::Candidates {
                    // The keyboard goes with the click.
                    session.selection.keyboard_to = Some(List::Candidates);
                    ctx.request_repaint();
                }
            }
            Action::Hover(candidate) => session.selection.hovered = Some(candidate),
            Action::Pin(candidate) => {
                if !session.selection.toggle_pin(candidate) {
                    session.say(format!("{PINS_MAX} candidates are pinned already; unpin one first."));
                }
            }
            Action::Show(View::Bench) => self.run_command(ctx, Command::ShowBench),
            Action::Show(view) => session.selection.view = view,
            Action::BeginJob(job) => {
                self.views.start.ready = Some(job);
                self.run_command(ctx, Command::NewJob);
            }
            Action::UseCatalog(name, used) => catalog_sources::set_used(session, &self.workers.catalogs, &name, used),
            Action::ForgetCatalog(name) => {
                catalog_sources::set_used(session, &self.workers.catalogs, &name, false);
                session.stock.listed.retain(|known| known.name != name);
                session.stock.removed.push(name);
            }
            Action::ReloadCatalogs => catalog_sources::reload(session, &self.workers.catalogs),
            Action::ReopenLast(reopen) => self.keep.settings.now.reopen_last = reopen,
            Action::Say(message) => session.say(message),
            Action::Buying(action) => self.views.purchase.dispatch(session, ctx, &action),
            Action::Bench(action) => self.views.bench.dispatch(session, action),
        }
    }

    /// What is shown: the view, whether the editor is open, and whether something is asked.
    pub(crate) fn shown(&self) -> (View, bool, bool) {
        (self.session.selection.view, self.session.selection.editor.is_some(), self.dialogs.is_open())
    }

    /// Gives the keyboard to the list in use where what had it went with the view, the editor or the dialog that was `before`:
    /// from nowhere the Tab key would begin at the menus.
    pub(crate) fn keep_keyboard(&mut self, ctx: &Context, before: (View, bool, bool)) {
        /// So many frames later at most what is no longer drawn has lost the keyboard.
        const FRAMES: u8 = 3;
        if self.shown() != before {
            self.changed = FRAMES;
        }
        let Some(left) = self.changed.checked_sub(1) else { return };
        self.changed = left;
        ctx.request_repaint();
        let selection = &mut self.session.selection;
        // In the frame after a dialog nothing behind it can have the keyboard yet.
        let free = left < FRAMES - 1 && ctx.memory(Memory::focused).is_none();
        if free && !self.dialogs.is_open() && selection.overlay.is_none() {
            self.changed = 0;
            let has_list = !matches!(selection.view, View::Start | View::Bench);
            // In other views the candidates are no list.
            let both = matches!(selection.view, View::Board | View::Candidates);
            let list = if both { selection.list } else { List::Positions };
            selection.keyboard_to = selection.keyboard_to.or(has_list.then_some(list));
        }
    }

    #[expect(clippy::too_many_lines, reason = "one arm for each command, nothing else")]
    fn run_command(&mut self, ctx: &Context, command: Command) {
        let session = &mut self.session;
        match command {
            Command::Open | Command::OpenDemo | Command::Quit if session.is_dirty() => {
                self.dialogs.ask(Question::Leave { then: command });
            }
            Command::NewJob if session.is_dirty() && self.views.start.ready.is_some() => {
                self.dialogs.ask(Question::Leave { then: command });
            }
            Command::NewJob => {
                if let Some(job) = self.views.start.ready.take() {
                    self.begin(*job);
                } else {
                    session.selection.view = View::Start;
                    self.views.start.begin(Origin::Empty);
                }
            }
            Command::NewFromList => self.dialogs.ask(Question::File(FilePurpose::NewFromList)),
            Command::NewFromPhoto => self.dialogs.ask(Question::File(FilePurpose::NewFromPhoto)),
            Command::ShowStart => {
                session.selection.view = View::Start;
                self.views.start.draft = None;
            }
            Command::ShowCatalogs => {
                session.selection.overlay = Some(Overlay::Catalogs);
                catalog_sources::look(session, &self.workers.catalogs);
            }
            Command::Open => match self.opening.take() {
                Some(path) => opening::load(&self.workers.loading, Some(path)),
                None => self.dialogs.ask(Question::Open),
            },
            Command::ImportList => {
                session.selection.view = View::Import;
                self.dialogs.ask(Question::File(FilePurpose::ImportList));
            }
            Command::OpenDemo => opening::load(&self.workers.loading, None),
            Command::Save => match session.path {
                Some(_) => saving::save_here(session, &self.workers.saving, &mut self.dialogs),
                None => self.dialogs.ask(Question::SaveAs { then: None }),
            },
            Command::SaveAs => self.dialogs.ask(Question::SaveAs { then: None }),
            Command::ExportLifePicture => self.dialogs.ask(Question::File(FilePurpose::LifePicture)),
            Command::ExportLifeNumbers => self.dialogs.ask(Question::File(FilePurpose::LifeNumbers)),
            Command::ReadTemperatureLog => self.dialogs.ask(Question::File(FilePurpose::TemperatureLog)),
            Command::ReadScopeRecord => self.dialogs.ask(Question::File(FilePurpose::ScopeRecord)),
            Command::Quit => {
                self.leaving = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            Command::Undo => {
                if let Some(label) = session.step_history(History::undo) {
                    session.say(format!("Undone: {label}."));
                }
            }
            Command::Redo => {
                if let Some(label) = session.step_history(History::redo) {
                    session.say(format!("Redone: {label}."));
                }
            }
            Command::Pick => picking::pick(session, &mut self.dialogs),
            Command::Unpick => {
                if let Some(position) = session.selection.position {
                    session.edit(Edit::unpick(position));
                }
            }
            Command::PickProposals => {
                let picks = proposals(session);
                session.edit(Edit::Pick { picks });
            }
            Command::Pin => {
                if let Some(candidate) = session.scene().candidate() {
                    self.dispatch(ctx, Action::Pin(candidate));
                }
            }
            Command::Compare => {
                session.selection.view = View::Candidates;
                // The rows of the table go and come: what has the keyboard must be there.
                let list = if self.views.candidates.toggle_comparison() { List::Positions } else { List::Candidates };
                session.selection.keyboard_to = Some(list);
                ctx.request_repaint();
            }
            Command::Filter => {
                session.selection.view = View::Candidates;
                self.views.candidates.use_filter();
                ctx.request_repaint();
            }
            Command::Mark => {
                if let Some(candidate) = session.scene().candidate() {
                    self.views.candidates.toggle_mark(candidate);
                }
            }
            Command::MarkAll if session.selection.list == List::Positions => {
                let board = session.selection.board;
                let all = session.job().positions().map(|(id, _)| id).filter(|id| id.board == board).collect();
                session.selection.marked = all;
            }
            Command::MarkAll => {
                let said = self.views.candidates.mark_all(&session.scene());
                session.say(said);
            }
            Command::CopyRows => {
                if let Some((table, rows)) = self.views.candidates.copied(&session.scene()) {
                    ctx.copy_text(table);
                    session.say(format!("Copied as a table: {rows} {}.", if rows == 1 { "row" } else { "rows" }));
                }
            }
            Command::EditPosition => session.selection.toggle_editor(EditorSheet::Position),
            Command::EditOthers => session.selection.toggle_editor(EditorSheet::Others),
            Command::EditBoard => session.selection.toggle_editor(EditorSheet::Board),
            Command::EditJob => session.selection.toggle_editor(EditorSheet::Job),
            Command::RemoveBoard => {
                let board = session.scene().board();
                let (name, positions) = board.map_or(("", 0), |board| (board.name.as_str(), board.positions.len()));
                let closed = Answer::Nothing("The board stays.".into());
                self.dialogs.choose(Choice {
                    heading: format!("Remove {name}?"),
                    text: format!("It has {}; undo brings it back.", count(positions, "position", "positions")),
                    options: vec![("Keep it", closed.clone()), ("Remove it", Answer::RemoveBoard)],
                    closed,
                });
            }
            Command::AddPosition
            | Command::DuplicatePosition
            | Command::RemovePosition
            | Command::AddBoard
            | Command::DuplicateBoard => rearrange(session, command),
            Command::MarkNext => moving::mark_step(session, Step::Next),
            Command::MarkPrevious => moving::mark_step(session, Step::Previous),
            Command::Next => self.step(Step::Next),
            Command::Previous => self.step(Step::Previous),
            Command::First => self.step(Step::First),
            Command::Last => self.step(Step::Last),
            // At the bench there is one list: the arrows lead from can to can.
            Command::ToCandidates if session.selection.view == View::Bench => self.step(Step::Next),
            Command::ToPositions if session.selection.view == View::Bench => self.step(Step::Previous),
            Command::ToCandidates => {
                if matches!(session.selection.view, View::Purchase | View::Import | View::Help) {
                    session.selection.view = View::Candidates;
                }
                moving::use_list(session, ctx, List::Candidates);
            }
            Command::ToPositions => moving::use_list(session, ctx, List::Positions),
            Command::NextOpen if session.selection.view == View::Bench => self.views.bench.next_open(session),
            Command::NextOpen => {
                moving::select_next_open(session);
                if session.selection.editor == Some(EditorSheet::Position) {
                    self.editor.take_keyboard(None);
                }
            }
            Command::Limiting => {
                let limiting = session.scene().board_sized().and_then(|board| board.as_chosen.limiting);
                match limiting {
                    Some(Place::Position(id)) => session.select(Some(id)),
                    Some(Place::Other(id)) => session.selection.edit_other(id, true),
                    None => session.say("No position is known to limit this board."),
                }
            }
            Command::ShowBoard => session.selection.view = View::Board,
            Command::ShowCandidates => session.selection.view = View::Candidates,
            Command::ShowLife => session.selection.view = View::Life,
            Command::ShowPurchase => session.selection.view = View::Purchase,
            Command::ShowBench => {
                session.selection.view = View::Bench;
                session.selection.list = List::Positions;
            }
            Command::ShowImport => session.selection.view = View::Import,
            Command::ShowHelp => session.selection.view = View::Help,
            Command::ThemeSystem => ctx.set_theme(ThemePreference::System),
            Command::ThemeDark => ctx.set_theme(ThemePreference::Dark),
            Command::ThemeLight => ctx.set_theme(ThemePreference::Light),
            Command::Larger => scale(ctx, 1.1),
            Command::Smaller => scale(ctx, 1.0 / 1.1),
            Command::UsualSize => ctx.set_zoom_factor(1.0),
            Command::UsePhoto => self.dialogs.ask(Question::File(FilePurpose::Photo)),
            Command::ExportMap => self.dialogs.ask(Question::File(FilePurpose::Map)),
            Command::AddOffers => self.dialogs.ask(Question::File(FilePurpose::Offers)),
            Command::ExportPurchase => self.ask_for_order(FilePurpose::Purchase),
            Command::ExportSuppliers => self.ask_for_order(FilePurpose::Suppliers),
            Command::ExportWorkbook => self.ask_for_order(FilePurpose::Workbook),
            Command::ExportWorksheet => self.dialogs.ask(Question::File(FilePurpose::Worksheet)),
            Command::ExportInspection => self.dialogs.ask(Question::File(FilePurpose::Inspection)),
            Command::ExportPacking => self.dialogs.ask(Question::File(FilePurpose::Packing)),
            Command::ExportJustification => self.dialogs.ask(Question::File(FilePurpose::Justification)),
            Command::ExportUnits => self.dialogs.ask(Question::File(FilePurpose::Units)),
            Command::Shortcuts => session.selection.overlay = Some(Overlay::Keys),
            Command::Messages => session.selection.overlay = Some(Overlay::Messages),
        }
    }

    /// Moves the selection in the list in use.
    fn step(&mut self, step: Step) {
        if self.session.selection.list == List::Positions {
            return moving::step_positions(&mut self.session, step);
        }
        let scene = self.session.scene();
        let candidate = if scene.selection.view == View::Board {
            self.views.board.step(&scene, step)
        } else {
            views::candidates::step(&mut self.views.candidates, &scene, step)
        };
        if let Some(candidate) = candidate {
            self.session.selection.candidate = Some(candidate);
        }
    }

    /// Goes on with what the person answered.
    pub(crate) fn answer(&mut self) {
        let Self { session, workers, dialogs, keep, .. } = self;
        match dialogs.take_answer(session.is_dirty()) {
            None => {}
            Some(Answer::Open(path) | Answer::ReadAgain(path)) => opening::load(&workers.loading, Some(path)),
            Some(Answer::Save(path, expected)) => saving::save_as(session, &workers.saving, dialogs, path, expected),
            Some(Answer::Overwrite(path)) => saving::request(session, &workers.saving, path, Expect::Anything),
            Some(Answer::SaveElsewhere) => dialogs.ask_for_place_to_save(),
            Some(Answer::SaveHere(_)) => saving::save_here(session, &workers.saving, dialogs),
            Some(Answer::Recover) => keep.recover(&workers.loading),
            Some(Answer::DropRecovered) => keep.drop_recovered(session),
            Some(Answer::RecoverLater) => keep.recover_later(session),
            Some(Answer::PickFor(why)) => picking::pick_for(session, Some(why)),
            Some(Answer::WriteInvented(purpose)) => dialogs.ask(Question::File(purpose)),
            Some(Answer::RemoveBoard) => rearrange(session, Command::RemoveBoard),
            Some(Answer::Do(command)) => {
                if let Some(ctx) = self.ctx.get().cloned() {
                    self.run_command(&ctx, command);
                }
            }
            Some(Answer::OpenDoubtful) => self.hold_doubtful(),
            Some(Answer::LeaveDoubtful) => self.leave_doubtful(),
            Some(Answer::File(purpose, path)) => {
                self.use_file(purpose, path);
                // Of several files chosen together the next one is due.
                if let Some(ctx) = self.ctx.get() {
                    ctx.request_repaint();
                }
            }
            Some(Answer::Proceed(command)) => {
                // What is not to be kept must not be asked about again.
                let job = session.job().clone();
                session.count_as_saved(job);
                if let Some(ctx) = self.ctx.get().cloned() {
                    self.run_command(&ctx, command);
                }
            }
            Some(Answer::Nothing(message)) => {
                self.opening = None;
                self.views.start.give_up();
                session.say(message);
            }
        }
    }

    /// Asks where an order goes; before that, whether it may name parts that are invented.
    fn ask_for_order(&mut self, purpose: FilePurpose) {
        let session = &self.session;
        let catalog = session.catalog_index.catalog();
        let chosen = session.snapshot.sizing.positions.iter().filter_map(|position| position.choice.part);
        let invented = chosen.filter(|part| catalog.is_invented(part.id)).count();
        if invented == 0 || session.is_invented() {
            return self.dialogs.ask(Question::File(purpose));
        }
        let closed = Answer::Nothing("The order was not written.".into());
        self.dialogs.choose(Choice {
            heading: "Parts of this order are invented".into(),
            text: format!(
                "{} a part from a catalogue that says it is invented: nobody can buy it.",
                count(invented, "position has", "positions have")
            ),
            options: vec![
                ("Write it all the same", Answer::WriteInvented(purpose)),
                ("Catalogues…", Answer::Do(Command::ShowCatalogs)),
                ("Cancel", closed.clone()),
            ],
            closed,
        });
    }
}

fn scale(ctx: &Context, by: f32) {
    ctx.set_zoom_factor((ctx.zoom_factor() * by).clamp(SCALE.0, SCALE.1));
}
