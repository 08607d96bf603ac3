//! What nothing in the file decides: a person has to.

use egui::{RichText, Ui};

use super::{files::heading, state::ImportState};
use crate::app::actions::{Action, LiveScene};
use crate::app::widgets::theme;
use crate::domain::{Outcome, style::counted};
use crate::files::{cell::unit::Unit, import::Answer};

/// Draws the open questions of the table shown; the first one gets the keyboard where it is its turn.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState, mut keyboard: bool, scene: &LiveScene) {
    let Some(report) = state.gave().map(|gave| &gave.report) else { return };
    if report.questions.is_empty() {
        return;
    }
    let tokens = theme::tokens(ui);
    let questions = report.questions.clone();
    let mut answer: Option<Answer> = None;
    heading(
        ui,
        &format!("Open questions: {}", questions.len()),
        "What neither header, cell nor the other rows decide. Until it is answered the figure stays unknown; nothing is guessed.",
    );
    for question in &questions {
        let ink = tokens.outcome(Outcome::Marginal).ink;
        let about = if question.column.is_empty() { String::new() } else { format!("{}: ", question.column) };
        ui.label(RichText::new(sentence(&format!("{about}{}", question.what))).color(ink));
        let rows = counted(question.rows, "row", "rows");
        let first = if question.line > 0 { format!(", first in line {}", question.line) } else { String::new() };
        ui.colored_label(tokens.weak, format!("{rows}{first}: {}", shortened(&question.example)));
        ui.horizontal_wrapped(|ui| {
            for choice in &question.choices {
                let button = ui.button(sentence(&choice.label));
                let name = format!("Answer {about}{}", choice.label);
                ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(name));
                if std::mem::take(&mut keyboard) {
                    button.request_focus();
                }
                if button.clicked() {
                    answer = Some(choice.answer.clone());
                }
            }
            if question.choices.is_empty() {
                ui.label("Only the file itself can be corrected; until then the figure stays unknown.");
            }
        });
        ui.add_space(6.0);
    }
    if let Some(answer) = answer {
        state.before_answers.push(state.files.clone());
        state.change_mapping(|mapping| {
            let refused = answer.apply(mapping).err();
            scene.extend(refused.map(|error| Action::Say(format!("That answer cannot be used: {error}."))));
        });
        state.keyboard = true;
    }
}

/// With a capital in front, unless the first word is a unit or a mark.
fn sentence(text: &str) -> String {
    let word = text.split([' ', ',', ':']).next().unwrap_or_default();
    if Unit::parse(word).is_some() || word.chars().count() < 2 {
        return text.to_owned();
    }
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

fn shortened(text: &str) -> String {
    const MOST: usize = 90;
    let line = text.replace(['\n', '\r'], " ");
    if line.chars().count() > MOST { format!("{}…", line.chars().take(MOST).collect::<String>()) } else { line }
}
