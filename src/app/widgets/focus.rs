//! The keyboard stays in sight.

use egui::{Context, Id, Memory, Ui};

/// At the end of what is scrolled: brings the control that has just got the keyboard into sight.
pub(crate) fn follow_focus(ui: &Ui) {
    // Asked for in the frame of a click beside it, a control would lose the keyboard it was just given.
    if ui.input(|input| input.pointer.any_click()) {
        return;
    }
    let Some(id) = ui.memory(Memory::focused) else { return };
    let Some(response) = ui.ctx().read_response(id).filter(egui::Response::gained_focus) else { return };
    let inside = response.layer_id == ui.layer_id() && ui.min_rect().contains_rect(response.rect);
    if inside && !ui.clip_rect().contains_rect(response.rect) {
        ui.scroll_to_rect(response.rect, None);
        ui.ctx().request_repaint();
    }
}

/// What has the keyboard while the map of the board is in use.
pub(crate) fn map_focus_id() -> Id {
    Id::unique("board map")
}

/// Says whether Enter is the map's own, as while something is drawn on it, or picks the part.
pub(crate) fn map_takes_enter(ctx: &Context, own: bool) {
    ctx.data_mut(|data| data.insert_temp(map_focus_id(), own));
}

/// Whether Enter is the map's own.
pub(crate) fn map_has_enter(ctx: &Context) -> bool {
    ctx.data(|data| data.get_temp(map_focus_id())).unwrap_or_default()
}
