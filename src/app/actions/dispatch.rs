//! Carrying out what the person wants: the one place where actions change anything.

use egui::{Context, ThemePreference, ViewportCommand};

use crate::app::Window;
use crate::app::actions::action::Action;
use crate::app::actions::command::Command;
use crate::app::actions::dialogs::{Answer, FilePurpose, Question};
use crate::app::actions::moving::mark_to;
use crate::app::actions::picking::proposals;
use crate::app::actions::refusal::refusal;
use crate::app::shell::sheet::Sheet;
use crate::app::state::edit::Edit;
use crate::app::state::selection::{List, PINS_MAX, View};
use crate::app::views::Step;
use crate::app::views::editor;
use crate::files::job_file::Expect;

/// Least and largest interface scale.
pub(crate) const SCALE: (f32, f32) = (0.8, 2.0);

impl Window {
    /// Carries out an action.
    pub(crate) fn dispatch(&mut self, ctx: &Context, action: Action) {
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
            Action::Buying(wish) => self.dispatch_purchase(ctx, wish),
        }
    }

    pub(crate) fn edit(&mut self, edit: Edit) {
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
                self.asking.ask(Question::File(FilePurpose::ImportList));
            }
            Command::OpenDemo => self.load(None),
            Command::Save => match session.path {
                Some(_) => self.save_here(),
                None => self.asking.ask(Question::SaveAs { then: None }),
            },
            Command::SaveAs => self.asking.ask(Question::SaveAs { then: None }),
            Command::ExportLifePicture => self.asking.ask(Question::File(FilePurpose::LifePicture)),
            Command::ExportLifeNumbers => self.asking.ask(Question::File(FilePurpose::LifeNumbers)),
            Command::ReadTemperatureLog => self.asking.ask(Question::File(FilePurpose::TemperatureLog)),
            Command::ReadScopeRecord => self.asking.ask(Question::File(FilePurpose::ScopeRecord)),
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
                    self.dispatch(ctx, Action::Pin(candidate));
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
            Command::UsePhoto => self.asking.ask(Question::File(FilePurpose::Photo)),
            Command::ExportMap => self.asking.ask(Question::File(FilePurpose::Map)),
            Command::AddOffers => self.asking.ask(Question::File(FilePurpose::Offers)),
            Command::ExportPurchase => self.asking.ask(Question::File(FilePurpose::Purchase)),
            Command::ExportSuppliers => self.asking.ask(Question::File(FilePurpose::Suppliers)),
            Command::ExportWorkbook => self.asking.ask(Question::File(FilePurpose::Workbook)),
            Command::ExportWorksheet => self.asking.ask(Question::File(FilePurpose::Worksheet)),
            Command::ExportJustification => self.asking.ask(Question::File(FilePurpose::Justification)),
            Command::ExportUnits => self.asking.ask(Question::File(FilePurpose::Units)),
            Command::Shortcuts => self.sheet = Some(Sheet::Keys),
            Command::Messages => self.sheet = Some(Sheet::Messages),
        }
    }
    /// Goes on with what the person answered.
    pub(crate) fn answer(&mut self) {
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
}

fn scale(ctx: &Context, by: f32) {
    ctx.set_zoom_factor((ctx.zoom_factor() * by).clamp(SCALE.0, SCALE.1));
}
