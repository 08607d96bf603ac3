//! Where it goes, and taking it in: one step.

use egui::{Button, TextEdit, Ui};

use super::state::{Done, ImportState, Into, stem};
use super::{compare, files::choose, outcome::row_of, reading::ImportOutcome};
use crate::app::actions::{Action, Command, ImportAction, LiveScene};
use crate::app::state::Scene;
use crate::app::widgets::{self, theme};
use crate::domain::{Job, PositionId, schema, style::counted};

/// Rows listed after taking in.
const LISTED_MOST: usize = 200;

/// What taking in would do, in words; empty when it would do nothing.
fn summary(outcome: &ImportOutcome, job: &Job) -> Vec<String> {
    let gathered = &outcome.gathered;
    let mut all = Vec::new();
    if !gathered.parts.is_empty() {
        all.push(format!("{} into the catalogue", counted(gathered.parts.len(), "part", "parts")));
    }
    if !gathered.offers.is_empty() {
        all.push(format!("{} of suppliers", counted(gathered.offers.len(), "offer", "offers")));
    }
    if let Some(board) = &gathered.board {
        let first = Some((gathered.added, &board.name)).filter(|(added, _)| *added > 0);
        let further = outcome.further.iter().map(|board| (board.positions.len(), &board.name));
        all.extend(onto(first.into_iter().chain(further), ["position", "positions"]));
        let others = outcome.further.iter().map(|board| (board.other_parts.len(), &board.name));
        let others = std::iter::once((gathered.others, &board.name)).chain(others).filter(|(others, _)| *others > 0);
        all.extend(onto(others, ["other part", "other parts"]));
        if gathered.completed > 0 {
            all.push(format!("{} of {} completed", counted(gathered.completed, "position", "positions"), board.name));
        }
        let placed: usize = gathered.files.iter().filter_map(|file| file.placed).sum();
        if placed > 0 {
            all.push(format!("{} placed", counted(placed, "position", "positions")));
        }
        let same = matches!(outcome.into, Into::Board(at) if job.boards.get(at) == Some(board));
        if same {
            all.retain(|line| !line.ends_with("placed"));
        }
    }
    all
}

/// `7 positions onto Power, 5 onto Drive and 1 onto Fan`.
fn onto<'a>(boards: impl Iterator<Item = (usize, &'a String)>, [one, many]: [&str; 2]) -> Option<String> {
    let words = |(at, (count, name)): (usize, (usize, &String))| {
        if at == 0 { format!("{} onto {name}", counted(count, one, many)) } else { format!("{count} onto {name}") }
    };
    let mut all: Vec<String> = boards.enumerate().map(words).collect();
    let last = all.pop()?;
    Some(if all.is_empty() { last } else { format!("{} and {last}", all.join(", ")) })
}

/// Rows of other parts that are not ticked, in words, and how they are taken in.
pub(super) fn left_in_words(state: &ImportState) -> Option<String> {
    let (mut rows, mut kinds) = (0, Vec::new());
    for ((file, _), left) in state.others_left().filter(|(_, left)| !left.is_empty()) {
        rows += left.iter().map(|(_, rows)| rows).sum::<usize>();
        let words: Vec<String> = left.iter().map(|(kind, _)| schema::spoken((*kind).into())).collect();
        kinds.push(format!("{} in {}", words.join(", "), state.name(file)));
    }
    let what = counted(rows, "row of other parts was left", "rows of other parts were left");
    let how =
        "open the list in Import again, choose its board as the target and tick them under \"Other parts to take in\"";
    (rows > 0).then(|| format!("{what} ({}). To take them in, {how}.", kinds.join("; ")))
}

/// Draws the target and the button; `true`: the first open question gets the keyboard.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut ImportState) -> bool {
    let tokens = theme::tokens(ui);
    let of_boards = state.sheets().any(|(_, sheet)| sheet.mapping.target.is_of_board());
    if of_boards {
        target(ui, scene, state);
    }
    let outcome = state
        .outcome
        .clone()
        .filter(|outcome| std::ptr::eq(&raw const *outcome.job, scene.job) && state.is_current(&outcome.job));
    let Some(outcome) = outcome else {
        ui.horizontal(|ui| {
            ui.add_enabled(false, Button::new("Import now"));
            ui.label("being read…");
        });
        return false;
    };
    let lines = summary(&outcome, scene.job);
    let open: usize = state.questions().map(|(_, open)| open).sum();
    // Nothing is taken from what is being typed.
    let keyboard = std::mem::take(&mut state.keyboard) && !ui.ctx().text_edit_focused();
    let asked = std::mem::take(&mut state.import_asked) && !lines.is_empty();
    if keyboard && state.open_questions(state.shown) == 0 {
        // What nobody has said anything about yet comes to the front before it is imported or left.
        let unsaid = |at| state.sheets().any(|(of, sheet)| of == at && sheet.mapping.other_parts.is_empty());
        let others = || state.others_left().find(|(at, left)| !left.is_empty() && unsaid(*at)).map(|(at, _)| at);
        let next = state.questions().find(|(_, open)| *open > 0).map(|(at, _)| at).or_else(others);
        state.shown = next.unwrap_or(state.shown);
    }
    ui.horizontal_wrapped(|ui| {
        let button = |ui: &mut Ui| widgets::primary(ui, "Import now");
        let button = ui.add_enabled_ui(!lines.is_empty(), button).inner;
        let button =
            button.on_hover_text("One change of the job; undo takes it back. Ctrl+Enter imports from anywhere.");
        if keyboard && open == 0 {
            button.request_focus();
        }
        if button.on_disabled_hover_text("There is nothing to import yet.").clicked() || asked {
            // What was printed is compared once before it is relied on.
            if compare::is_due(state) {
                compare::begin(state);
            } else {
                scene.push(Action::Import(ImportAction::TakeIn));
            }
        }
        let words = if lines.is_empty() { "nothing to import yet".to_owned() } else { lines.join(", ") };
        // In one line, as a second would move everything below it; where several boards are made all are named.
        let label = egui::Label::new(words.as_str());
        ui.add(if outcome.further.is_empty() { label.truncate() } else { label.wrap() }).on_hover_text(words);
    });
    if open > 0 {
        let text = format!("{} open: what is asked stays unknown or out.", counted(open, "question", "questions"));
        ui.colored_label(tokens.outcome(crate::domain::Outcome::Marginal).ink, text);
    }
    keyboard && open > 0
}

fn target(ui: &mut Ui, scene: &Scene, state: &mut ImportState) {
    let into = state.target_board(scene.job);
    let name = state.board_name(scene.job);
    let several = state.makes_several();
    let mut options = vec![(Into::New, if several { "a new board each" } else { "a new board" }.to_owned())];
    options.extend(several.then(|| (Into::One, "one new board".to_owned())));
    options.extend(scene.job.boards.iter().enumerate().map(|(at, board)| (Into::Board(at), board.name.clone())));
    ui.horizontal_wrapped(|ui| {
        ui.label("Target board");
        if let Some(into) = choose(ui, ("Target board", 120.0), into, &options) {
            state.into = Some(into);
            state.changed();
        }
        if !matches!(into, Into::Board(_)) {
            let label = ui.label(if several && into == Into::New { "the first called" } else { "called" });
            let mut text = state.new_name.clone().unwrap_or(name);
            // Under the label where beside it a name could not be read.
            let field = TextEdit::singleline(&mut text).desired_width(ui.available_width().max(140.0));
            if ui.add(field).labelled_by(label.id).changed() {
                state.new_name = Some(text);
                state.changed();
            }
        }
    });
}

/// The job with everything taken in; `catalogues` and `offers` are the names of the parts' catalogues and of the lists of offers.
/// With it what to say about it.
pub(super) fn taken_job(
    outcome: &ImportOutcome,
    job: &Job,
    [catalogues, offers]: [Vec<String>; 2],
    left: Option<String>,
) -> (Job, String, Done) {
    let mut new = job.clone();
    let mut summary = summary(outcome, job);
    match catalogues.as_slice() {
        [] => {}
        [one] => summary.push(format!("the catalogue is called {one}")),
        all => summary.push(format!("the catalogues are called {}", all.join(", "))),
    }
    new.catalogs.extend(catalogues);
    new.offers.extend(offers.into_iter().filter(|name| !job.offers.contains(name)));
    let mut board = None;
    if let Some(taken) = outcome.gathered.board.clone() {
        let before = match outcome.into {
            Into::Board(at) => job.boards.get(at).map_or(0, |board| board.positions.len()),
            Into::New | Into::One => 0,
        };
        let references = taken.positions.len().saturating_sub(before);
        let at = match outcome.into {
            Into::Board(at) if at < new.boards.len() => {
                new.boards[at] = taken;
                at
            }
            _ => {
                new.boards.push(taken);
                new.boards.len() - 1
            }
        };
        let mut ids: Vec<_> = (before..before + references).map(|index| PositionId { board: at, index }).collect();
        for further in &outcome.further {
            let board = new.boards.len();
            ids.extend((0..further.positions.len()).map(|index| PositionId { board, index }));
            new.boards.push(further.clone());
        }
        board = Some((at, ids));
    }
    let what = match outcome.names.as_slice() {
        [one] => format!("import of {}", stem(one)),
        all => format!("import of {} lists", all.len()),
    };
    // A row of another board is used where that board is taken in, too.
    let used: Vec<String> = outcome.boards_read.iter().map(|board| format!("on the board {board}")).collect();
    let rejected = outcome.gathered.files.iter().flat_map(|file| file.report.rejected.clone());
    let rejected = rejected.filter(|row| !used.iter().any(|used| row.reason.ends_with(used))).collect();
    (new, what, Done { summary, left, rejected, board })
}

/// What was taken in, and what to do next.
pub(super) fn done(ui: &mut Ui, scene: &LiveScene, state: &mut ImportState) {
    let Some(done) = state.done.clone() else { return };
    let keyboard = std::mem::take(&mut state.keyboard);
    let tokens = theme::tokens(ui);
    ui.add_space(8.0);
    ui.heading("Imported");
    for line in &done.summary {
        ui.label(line.as_str());
    }
    if let Some(left) = &done.left {
        ui.colored_label(tokens.outcome(crate::domain::Outcome::Marginal).ink, left.as_str());
    }
    ui.colored_label(tokens.weak, "Undo (Ctrl+Z) takes all of it back in one step.");
    ui.add_space(6.0);
    let candidates = done.board.is_none() && scene.job.positions().next().is_some();
    if candidates {
        let button = ui.button("Show the candidates");
        if keyboard {
            button.request_focus();
        }
        if button.clicked() {
            scene.push(Action::Run(Command::ShowCandidates));
        }
    }
    // After undo there may be nothing to show.
    let there = |id: &PositionId| scene.job.position(*id).is_some();
    if let Some((board, ids)) =
        done.board.as_ref().filter(|(at, ids)| *at < scene.job.boards.len() && ids.iter().all(there))
    {
        ui.horizontal_wrapped(|ui| {
            let board_there = ui.button("Show the board");
            if keyboard {
                board_there.request_focus();
            }
            if board_there.clicked() {
                scene.push(Action::SelectBoard(*board));
                scene.push(Action::Run(Command::ShowBoard));
            }
            if !ids.is_empty() {
                let text = format!("Set the role of {}…", counted(ids.len(), "position", "positions"));
                if ui
                    .button(text)
                    .on_hover_text("Marks them and opens the editor, which then changes all of them at once.")
                    .clicked()
                {
                    scene.push(Action::SelectBoard(*board));
                    scene.push(Action::Mark(ids.clone()));
                    scene.push(Action::Import(ImportAction::EditMarked));
                }
            }
        });
        if !ids.is_empty() {
            ui.label("Their role is \"decoupling, assumed\": it decides how far the capacitance may differ, and no list says it. Operating voltage, ripple and ambient are unknown until you enter them; the editor changes all marked positions at once.");
        }
    }
    if done.rejected.is_empty() {
        return;
    }
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        ui.strong(format!("Rows and cells not used: {}", done.rejected.len()))
            .on_hover_text("Everything that was skipped or rejected, each with its line and the reason.");
        if ui.small_button("Save as CSV…").clicked() {
            scene.push(Action::Import(ImportAction::WriteRejected));
        }
    });
    let several = done.rejected.iter().any(|listed| listed.file != done.rejected[0].file);
    for listed in done.rejected.iter().take(LISTED_MOST) {
        let name = listed.file.file_name().unwrap_or_default().to_string_lossy();
        row_of(ui, listed, &if several { format!("{name} ") } else { String::new() });
    }
}
