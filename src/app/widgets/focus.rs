//! The keyboard stays in sight.

use egui::{Context, FocusDirection, Id, Key, Memory, Response, Stroke, StrokeKind, Ui};

use crate::app::state::List;
use crate::app::widgets::{focus_id, theme, theme::space};

/// The control that has the keyboard. Asked for in the frame of a click beside it, it would lose the keyboard it was just given.
fn focused(ctx: &Context) -> Option<Response> {
    let clicked = ctx.input(|input| input.pointer.any_click() || input.pointer.any_pressed());
    ctx.memory(Memory::focused).filter(|_| !clicked).and_then(|id| ctx.read_response(id))
}

/// At the end of what is scrolled: brings the control that has just got the keyboard into sight.
pub(crate) fn follow_focus(ui: &Ui) {
    let Some(response) = focused(ui.ctx()).filter(Response::gained_focus) else { return };
    // What is seen elsewhere is none of what is scrolled here, however far that reaches under it.
    let elsewhere = response.interact_rect.is_positive() && !ui.clip_rect().intersects(response.interact_rect);
    let inside = !elsewhere && response.layer_id == ui.layer_id() && ui.min_rect().contains_rect(response.rect);
    if inside && !ui.clip_rect().contains_rect(response.rect) {
        ui.scroll_to_rect(response.rect, None);
        ui.ctx().request_repaint();
    }
}

/// At the end of what is scrolled and only read: the page keys move it, since nothing in it leads the keyboard there.
pub(crate) fn scroll_by_keys(ui: &Ui) {
    /// Farther than any text reaches, points.
    const END: f32 = 1e6;
    if ui.ctx().text_edit_focused() {
        return;
    }
    let page = ui.clip_rect().height() * 0.9;
    for (key, by) in [(Key::PageDown, -page), (Key::PageUp, page), (Key::End, -END), (Key::Home, END)] {
        if ui.input(|input| input.key_pressed(key)) {
            ui.scroll_with_delta_animation(egui::vec2(0.0, by), egui::style::ScrollAnimation::none());
        }
    }
}

/// Arrows move within a list and on the map. That they are theirs the library knows only from the second frame on: pressed at once
/// they would lead out.
pub(crate) fn keep_arrows(ctx: &Context) {
    let own = [focus_id(List::Positions), focus_id(List::Candidates), map_focus_id()];
    let tab = ctx.input(|input| input.key_pressed(Key::Tab));
    if !tab && ctx.memory(Memory::focused).is_some_and(|id| own.contains(&id)) {
        ctx.memory_mut(|memory| memory.move_focus(FocusDirection::None));
    }
}

/// An edge of a panel, which only the pointer moves: both ways it is as thin as can be grasped.
fn is_edge(ctx: &Context, id: Id, last: bool) -> bool {
    let grasp = 2.0 * ctx.global_style().interaction.resize_grab_radius_side + 1.0;
    ctx.viewport(|viewport| {
        let pass = if last { &viewport.prev_pass } else { &viewport.this_pass };
        let widget = pass.widgets.get(id);
        widget.is_some_and(|widget| widget.sense.senses_drag() && widget.rect.size().min_elem() <= grasp)
    })
}

/// Before anything is drawn: the Tab key passes over the edges of panels, and from nowhere it begins `in_view`, not in the bar.
pub(crate) fn lead_tab(ctx: &Context, in_view: bool) {
    let tab = ctx.input(|input| input.key_pressed(Key::Tab).then_some(input.modifiers.shift));
    let back = Id::unique("the Tab key goes back");
    if let Some(shift) = tab {
        ctx.data_mut(|data| data.insert_temp(back, shift));
    }
    let focused = ctx.memory(Memory::focused);
    if focused.is_some_and(|id| is_edge(ctx, id, true)) {
        let back = ctx.data(|data| data.get_temp(back)).unwrap_or(false);
        let way = if back { FocusDirection::Previous } else { FocusDirection::Next };
        ctx.memory_mut(|memory| memory.move_focus(way));
    }
    let begins = in_view && focused.is_none() && tab == Some(false);
    if begins {
        ctx.memory_mut(|memory| memory.move_focus(FocusDirection::None));
    }
    ctx.data_mut(|data| data.insert_temp(Id::unique("the Tab key begins"), begins));
}

/// Whether the Tab key begins in the view in this frame.
pub(crate) fn tab_begins(ctx: &Context) -> bool {
    ctx.data(|data| data.get_temp(Id::unique("the Tab key begins"))).unwrap_or(false)
}

/// Where the Tab key begins, if it does: what is drawn next has the keyboard first.
pub(crate) fn begin_here(ctx: &Context) {
    if tab_begins(ctx) {
        ctx.memory_mut(|memory| memory.move_focus(FocusDirection::Next));
    }
}

/// Outlines what has the keyboard, after everything is drawn: in one place, so that every control shows it alike. The ground
/// between the control and its outline keeps the two apart where they have one colour.
pub(crate) fn outline_focus(ctx: &Context) {
    // What is being typed into has an outline of its own.
    let Some(response) = focused(ctx).filter(|_| !ctx.text_edit_focused()) else { return };
    if is_edge(ctx, response.id, false) {
        // The keyboard goes on from there in the next frame.
        return ctx.request_repaint();
    }
    if !ctx.viewport(|viewport| viewport.this_pass.widgets.get(response.id).is_some()) {
        // It went with the view that was left: its outline would stay where it stood.
        return;
    }
    let tokens = theme::of(ctx.theme());
    let (painter, rect) = (ctx.layer_painter(response.layer_id), response.interact_rect);
    painter.rect_stroke(rect, 3.0, Stroke::new(1.0, tokens.base), StrokeKind::Inside);
    painter.rect_stroke(rect, 3.0, Stroke::new(space::FOCUS, tokens.focus), StrokeKind::Outside);
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_longer_drawn_has_no_outline() {
        let ctx = Context::default();
        let outlined = |shown: bool| {
            let mut output = ctx.run_ui(egui::RawInput::default(), |ui| {
                if shown {
                    ui.button("Next").request_focus();
                }
                outline_focus(ui.ctx());
            });
            output.textures_delta.clear();
            output
                .shapes
                .iter()
                .filter(|shape| matches!(&shape.shape, egui::Shape::Rect(rect) if rect.stroke.width == space::FOCUS))
                .count()
        };
        outlined(true);
        assert_eq!(outlined(true), 1);
        assert_eq!(outlined(false), 0);
    }
}
