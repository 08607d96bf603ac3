//! A row of a list: one stop for the Tab key, the selected row; arrow keys move the selection.

use egui::{EventFilter, Id, Rect, Response, Role, Sense, Ui, WidgetInfo};

use crate::app::state::List;

/// What a row is to the list it stands in.
pub(crate) struct Row<'a> {
    pub list: List,
    /// Its place in the list.
    pub index: usize,
    pub selected: bool,
    /// What it is called in the accessibility tree: everything it tells in words.
    pub name: &'a str,
}

/// The widget that has the keyboard while a list is in use: always its selected row.
pub(crate) fn focus_id(list: List) -> Id {
    match list {
        List::Positions => Id::unique("selected position"),
        List::Candidates => Id::unique("selected candidate"),
    }
}

/// Makes `rect` a row: clickable, named, reached by Tab while it is selected. Draws nothing.
pub(crate) fn row(ui: &Ui, rect: Rect, row: &Row) -> Response {
    row_at(ui, rect, focus_id(row.list), row.index, row.selected, row.name)
}

/// The same in any list; its selected row has the identity `focus`.
pub(crate) fn row_at(ui: &Ui, rect: Rect, focus: Id, index: usize, selected: bool, name: &str) -> Response {
    // Only the selected row can be reached by Tab; its identity stays while the selection moves, and the focus with it.
    let response = if selected {
        ui.interact(rect, focus, Sense::click())
    } else {
        ui.interact(rect, ui.scope_id().with(("row", index)), Sense::CLICK)
    };
    response.widget_info(|| WidgetInfo::labeled(Role::ListBoxOption, true, name));
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_selected(selected));
    if response.has_focus() {
        let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
    }
    response
}
