//! A list that opens to choose one of several.

use egui::{ComboBox, Response, Ui};

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
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_label(name));
    chosen
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
