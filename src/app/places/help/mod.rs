//! The help: methods, outcomes, cautions, sources, what every heading means, how to type, keys.

mod methods;
mod text;

use eframe::egui::{Grid, ScrollArea, Ui};

use crate::app::action::Action;
use crate::app::command::Command;
use crate::app::places::caution::BEFORE_TOUCHING;
use crate::app::{explain, theme, widgets};
use crate::domain::Outcome;

/// A chapter.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Chapter {
    #[default]
    Start,
    Outcomes,
    Methods,
    Words,
    Typing,
    Cautions,
    Sources,
}

const CHAPTERS: [(Chapter, &str); 7] = [
    (Chapter::Start, "Where to start"),
    (Chapter::Outcomes, "Outcomes and what to do"),
    (Chapter::Methods, "Methods"),
    (Chapter::Words, "Headings"),
    (Chapter::Typing, "Typing, pasting, filtering"),
    (Chapter::Cautions, "Cautions"),
    (Chapter::Sources, "Sources"),
];

/// What the help remembers.
#[derive(Debug, Default)]
pub(crate) struct State {
    chapter: Chapter,
}

/// Draws the chapters and the one that is open.
pub(crate) fn show(ui: &mut Ui, state: &mut State, out: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        for (chapter, name) in CHAPTERS {
            if ui.selectable_label(state.chapter == chapter, name).clicked() {
                state.chapter = chapter;
            }
        }
        widgets::button(ui, Command::Shortcuts, None, out);
    });
    ui.separator();
    ScrollArea::vertical().id_salt(("help", state.chapter as u8)).auto_shrink([false, false]).show(ui, |ui| {
        // Longer lines are hard to read.
        ui.set_max_width(760.0_f32.min(ui.available_width()));
        match state.chapter {
            Chapter::Start => paragraphs(ui, text::START),
            Chapter::Outcomes => outcomes(ui),
            Chapter::Methods => methods(ui),
            Chapter::Words => words(ui),
            Chapter::Typing => paragraphs(ui, text::TYPING),
            Chapter::Cautions => {
                ui.strong(BEFORE_TOUCHING);
                ui.add_space(6.0);
                paragraphs(ui, text::CAUTIONS);
            }
            Chapter::Sources => sources(ui),
        }
        ui.add_space(12.0);
    });
}

fn paragraphs(ui: &mut Ui, paragraphs: &[(&str, &str)]) {
    for (heading, text) in paragraphs {
        ui.strong(*heading);
        ui.label(*text);
        ui.add_space(8.0);
    }
}

fn outcomes(ui: &mut Ui) {
    for outcome in Outcome::ALL {
        widgets::outcome(ui, outcome);
        if let Some(explained) = explain::of(outcome.word()) {
            ui.label(explained.text);
        }
        ui.add_space(8.0);
    }
    paragraphs(ui, text::OUTCOMES);
}

fn methods(ui: &mut Ui) {
    let tokens = theme::tokens(ui);
    for method in methods::ALL {
        ui.strong(method.heading);
        ui.label(method.text);
        for formula in method.formulas {
            ui.monospace(*formula);
        }
        ui.colored_label(tokens.weak, format!("Source: {}", method.source));
        ui.add_space(8.0);
    }
}

fn words(ui: &mut Ui) {
    for explanation in explain::headings() {
        ui.strong(explanation.label);
        explain::show(ui, explanation);
        ui.add_space(8.0);
    }
}

fn sources(ui: &mut Ui) {
    ui.label(
        "Published: the figure stands in the named document. Quoted: in another document that names it. \
         Common practice: a rule of the trade without a source. From memory: recalled, not looked up.",
    );
    ui.add_space(6.0);
    Grid::new("sources").num_columns(2).spacing([18.0, 6.0]).striped(true).show(ui, |ui| {
        for method in methods::ALL {
            ui.label(method.heading);
            ui.label(method.source);
            ui.end_row();
        }
    });
}
