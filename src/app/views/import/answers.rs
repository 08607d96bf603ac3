//! What nothing in the file decides: a person has to.

use egui::{RichText, Ui};
use strum::VariantArray;

use super::{files::heading, state::ImportState};
use crate::app::actions::{Action, LiveScene};
use crate::app::widgets::{self, theme};
use crate::domain::{Mounting, Outcome, schema::spoken, style::counted};
use crate::files::{cell::unit::Unit, import::Answer};

/// Draws the open questions of the table shown; the first one gets the keyboard where it is its turn.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState, mut keyboard: bool, scene: &LiveScene) {
    let Some(report) = state.gave().map(|gave| &gave.report) else { return };
    let tokens = theme::tokens(ui);
    let (questions, no_mounting) = (report.questions.clone(), report.no_mounting);
    let mut answer: Option<Answer> = None;
    if !questions.is_empty() {
        let hover = "What neither header, cell nor the other rows decide. Until it is answered the figure stays unknown; nothing is guessed.";
        heading(ui, &format!("Open questions: {}", questions.len()), hover);
    }
    for question in &questions {
        let ink = tokens.outcome(Outcome::Marginal).ink;
        let about = if question.column.is_empty() { String::new() } else { format!("{}: ", question.column) };
        ui.label(RichText::new(sentence(&format!("{about}{}", question.what))).color(ink));
        let rows = counted(question.rows, "row", "rows");
        let first = if question.line > 0 { format!(", first in line {}", question.line) } else { String::new() };
        ui.colored_label(tokens.weak, format!("{rows}{first}: {}", shortened(&question.example)));
        ui.horizontal_wrapped(|ui| {
            for choice in &question.choices {
                let name = format!("Answer {about}{}", choice.label);
                let button = widgets::named(ui.button(sentence(&choice.label)), name);
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
    mounting(ui, no_mounting, &mut answer);
    if let Some(answer) = answer {
        state.before_answers.push(state.files.clone());
        state.change_mapping(|mapping| {
            let refused = answer.apply(mapping).err();
            scene.extend(refused.map(|error| Action::Say(format!("That answer cannot be used: {error}."))));
        });
        state.keyboard = true;
    }
}

/// Offers to say for all rows how their cans are fixed: without it no part can be checked, yet nothing is kept out for it.
fn mounting(ui: &mut Ui, rows: usize, answer: &mut Option<Answer>) {
    if rows == 0 {
        return;
    }
    let hover =
        "Sets it for every row that does not say it; a position can be changed later. Left open, it is asked there.";
    let (said, all) =
        (counted(rows, "row does not say", "rows do not say"), if rows == 1 { "It is" } else { "All are" });
    ui.label(format!("{said} how the can is fixed. {all}:")).on_hover_text(hover);
    ui.horizontal_wrapped(|ui| {
        for of in Mounting::VARIANTS {
            let word: &str = (*of).into();
            let button = ui.button(spoken(word));
            if widgets::named(button, format!("All fixed alike: {}", spoken(word))).on_hover_text(hover).clicked() {
                *answer = Some(Answer::at(["every_row", "mounting"], word));
            }
        }
    });
    ui.add_space(6.0);
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
