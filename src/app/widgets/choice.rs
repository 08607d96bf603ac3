//! A list that opens to choose one of several.

use egui::{ComboBox, Response, Ui};

use crate::app::widgets::named;

/// One of several by its words: side by side where they have room `apart`, else folded into a list called `name`. Returns what was
/// pressed, or chosen anew.
pub(crate) fn pills(
    ui: &mut Ui,
    name: &str,
    words: &[String],
    present: Option<usize>,
    (apart, hover): (bool, &str),
) -> Option<usize> {
    if apart {
        let pressed = words.iter().enumerate().filter_map(|(at, words)| {
            let pill = ui.selectable_label(present == Some(at), words).on_hover_text(hover);
            pill.clicked().then_some(at)
        });
        return pressed.last();
    }
    let shown = present.and_then(|at| words.get(at)).map_or("", String::as_str);
    let list = ComboBox::from_id_salt(name).width(60.0).selected_text(shown);
    let entries = words.iter().enumerate().map(|(at, words)| (at, present == Some(at), words.clone()));
    let (response, chosen) = choice(ui, list, entries);
    named(response, name);
    chosen
}

/// Which of several sheets is shown, each with what it is called and what it shows.
pub(crate) fn tabs<T: PartialEq, S: Into<String>>(
    ui: &mut Ui,
    shown: &mut T,
    all: impl IntoIterator<Item = (T, S, &'static str)>,
) {
    for (tab, name, hover) in all {
        if ui.selectable_label(*shown == tab, name.into()).on_hover_text(hover).clicked() {
            *shown = tab;
        }
    }
}

/// A list to choose from behind its name; what was chosen anew.
pub(crate) fn listed<T>(
    ui: &mut Ui,
    (name, hover): (&str, &str),
    width: f32,
    entries: impl IntoIterator<Item = (T, bool, String)>,
) -> Option<T> {
    let entries: Vec<_> = entries.into_iter().collect();
    let label = ui.label(name);
    let label = if hover.is_empty() { label } else { label.on_hover_text(hover) };
    let shown = entries.iter().find(|(_, present, _)| *present).map_or("choose…", |(.., text)| text).to_owned();
    let list = ComboBox::from_id_salt(name).width(width).selected_text(shown);
    let (response, chosen) =
        choice(ui, list, entries.into_iter().map(|(value, present, text)| ((value, present), present, text)));
    response.labelled_by(label.id);
    chosen.and_then(|(value, present)| (!present).then_some(value))
}

/// Draws the list; each entry is a value, whether it is the present one, and its label. Returns the closed list and the value
/// that was chosen.
pub(crate) fn choice<T>(
    ui: &mut Ui,
    list: ComboBox,
    entries: impl IntoIterator<Item = (T, bool, String)>,
) -> (Response, Option<T>) {
    let shown = list.show_ui(ui, |ui| {
        let mut chosen = None;
        for (value, present, label) in entries {
            if ui.selectable_label(present, label).clicked() {
                chosen = Some(value);
                // A click closes the list by itself; a key or a screen reader does not.
                ui.close();
            }
        }
        chosen
    });
    let chosen = shown.inner.flatten();
    if chosen.is_some() && !ui.input(|input| input.pointer.any_click()) {
        shown.response.request_focus();
    }
    (shown.response, chosen)
}
