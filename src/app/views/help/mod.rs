//! The help: the guide of the repository with its chapters to jump to and a field to search it, and what every heading means.

mod draw;
mod guide;

use egui::{Frame, Margin, Panel, RichText, ScrollArea, TextEdit, Ui};

use crate::app::actions::{Command, LiveScene};
use crate::app::widgets::{self, explain};
use guide::{Block, Chapter, chapters};

/// Of the title of a chapter, points.
const TITLE: f32 = 18.0;

/// The chapter made from the explanations of headings, behind those of the guide.
const HEADINGS: &str = "Headings on screen";
/// Width of the list of chapters, points.
const CONTENTS_WIDTH: f32 = 212.0;
/// Longer lines are hard to read, points.
const TEXT_WIDTH: f32 = 860.0;

#[derive(Debug, Default)]
pub(crate) struct HelpState {
    /// Index of the open chapter; one more than the last is [`HEADINGS`].
    chapter: usize,
    search: String,
    /// The heading to bring into view in the next frame.
    scroll_to: Option<String>,
}

/// Draws the contents and the chapter that is open, or what was found.
pub(crate) fn show(ui: &mut Ui, state: &mut HelpState, scene: &LiveScene) {
    Panel::left("contents").exact_size(CONTENTS_WIDTH).show(ui, |ui| contents(ui, state, scene));
    let words: Vec<String> = state.search.to_lowercase().split_whitespace().map(str::to_owned).collect();
    let scroll_to = state.scroll_to.take();
    let id = ("help", state.chapter, words.is_empty());
    ScrollArea::vertical().id_salt(id).auto_shrink([false, false]).show(ui, |ui| {
        let frame = Frame::new().inner_margin(Margin { left: 14, right: 8, top: 0, bottom: 12 });
        frame.show(ui, |ui| text(ui, state, &words, scroll_to.as_deref()));
        widgets::scroll_by_keys(ui);
    });
}

/// The chapter that is open, or what was found.
fn text(ui: &mut Ui, state: &mut HelpState, words: &[String], scroll_to: Option<&str>) {
    ui.set_max_width(TEXT_WIDTH.min(ui.available_width()));
    if !words.is_empty() {
        found(ui, state, words);
    } else if let Some(chapter) = chapters().get(state.chapter) {
        draw::heading(ui, &chapter.title, TITLE);
        ui.add_space(6.0);
        chapter.blocks.iter().for_each(|block| draw::block(ui, block, &[], scroll_to));
    } else {
        draw::heading(ui, HEADINGS, TITLE);
        ui.add_space(6.0);
        headings(ui);
    }
}

fn contents(ui: &mut Ui, state: &mut HelpState, scene: &LiveScene) {
    let field = TextEdit::singleline(&mut state.search).hint_text("Search the help").desired_width(f32::INFINITY);
    widgets::named(ui.add(field), "Search the help");
    ui.add_space(4.0);
    ScrollArea::vertical().id_salt("contents").auto_shrink([false, false]).show(ui, |ui| {
        let titles = chapters().iter().map(|chapter| chapter.title.as_str()).chain([HEADINGS]);
        for (at, title) in titles.enumerate() {
            let open = state.search.trim().is_empty() && state.chapter == at;
            if ui.selectable_label(open, title).clicked() {
                open_at(state, at, None);
            }
            if open && let Some(chapter) = chapters().get(at) {
                sections(ui, state, chapter);
            }
        }
        ui.add_space(8.0);
        widgets::button(ui, scene, Command::Shortcuts);
    });
}

/// The headings of the open chapter, to jump to.
fn sections(ui: &mut Ui, state: &mut HelpState, chapter: &Chapter) {
    for block in &chapter.blocks {
        if let Block::Heading(heading) = block {
            ui.indent(heading, |ui| {
                if ui.link(heading).clicked() {
                    state.scroll_to = Some(heading.clone());
                }
            });
        }
    }
}

fn open_at(state: &mut HelpState, chapter: usize, heading: Option<String>) {
    *state = HelpState { chapter, search: String::new(), scroll_to: heading };
}

/// What holds every searched word, under links to where it stands.
fn found(ui: &mut Ui, state: &mut HelpState, words: &[String]) {
    let mut wanted = None;
    let mut count = 0;
    for (at, chapter) in chapters().iter().enumerate() {
        let mut heading: Option<&String> = None;
        // The place last named above a find.
        let mut named: Option<Option<&String>> = None;
        for block in &chapter.blocks {
            if let Block::Heading(text) = block {
                heading = Some(text);
            }
            let Some(part) = block.holding(words) else { continue };
            count += 1;
            if named != Some(heading) {
                named = Some(heading);
                let place = match heading {
                    Some(heading) => format!("{}: {heading}", chapter.title),
                    None => chapter.title.clone(),
                };
                ui.push_id((at, count), |ui| {
                    if ui.link(RichText::new(place).strong()).clicked() {
                        wanted = Some((at, heading.cloned()));
                    }
                });
            }
            if !matches!(part, Block::Heading(_)) {
                draw::block(ui, &part, words, None);
            }
        }
    }
    if count == 0 {
        ui.label("Nothing in the guide holds all of these words. Fewer or shorter words find more.");
    }
    if let Some((chapter, heading)) = wanted {
        open_at(state, chapter, heading);
    }
}

fn headings(ui: &mut Ui) {
    for explanation in explain::headings() {
        draw::heading(ui, explanation.label, 14.0);
        explain::show(ui, explanation);
        ui.add_space(8.0);
    }
}
