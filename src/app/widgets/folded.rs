//! A line that stands behind a button where it has no room.

use egui::{Popup, PopupCloseBehavior, Response, Ui};

/// Draws `content` in place, or where it is `folded` behind a button of that name; what was pressed stays open until one clicks beside it.
pub(crate) fn folded(ui: &mut Ui, folded: bool, (name, hover): (&str, &str), content: impl FnOnce(&mut Ui)) {
    if folded {
        menu(&ui.button(name).on_hover_text(hover), content);
    } else {
        content(ui);
    }
}

/// Opens `content` below a button that was clicked; it stays open until one clicks beside it.
pub(crate) fn menu(button: &Response, content: impl FnOnce(&mut Ui)) {
    Popup::menu(button).close_behavior(PopupCloseBehavior::CloseOnClickOutside).show(content);
}
