//! A list that opens to choose one of several.

use egui::{ComboBox, Response, Ui};

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
