//! What is looked at first beside what is told about it: drawn, and reached by the Tab key, in this order.

use egui::{Id, Panel, Ui, UiBuilder};

/// The edge a panel stands at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Edge {
    Right,
    Bottom,
}

/// A panel beside what is looked at first.
pub(crate) struct Beside {
    pub edge: Edge,
    /// The identity it was made with.
    pub id: &'static str,
    pub panel: Panel,
    /// Its width or height before anybody changed it, points.
    pub usual: f32,
}

/// Draws what comes first (`true`) into what the panel leaves, then what is told about it into the panel. A panel drawn first, as is
/// usual, would have the keyboard first.
pub(crate) fn main_then_panel(
    ui: &mut Ui,
    Beside { edge, id, panel, usual }: Beside,
    mut draw: impl FnMut(&mut Ui, bool),
) {
    let full = ui.available_rect_before_wrap();
    let known = Id::unique(id).with("size");
    let size = ui.data(|data| data.get_temp::<f32>(known)).unwrap_or(usual);
    let rest = match edge {
        Edge::Right => full.with_max_x((full.right() - size).max(full.left())),
        Edge::Bottom => full.with_max_y((full.bottom() - size).max(full.top())),
    };
    let mut first = ui.new_child(UiBuilder::new().id_salt((id, "main")).max_rect(rest));
    draw(&mut first, true);
    let mut second = ui.new_child(UiBuilder::new().id_salt((id, "aside")).max_rect(full));
    let shown = panel.default_size(usual).show(&mut second, |ui| draw(ui, false)).response.rect;
    let now = match edge {
        Edge::Right => full.right() - shown.left(),
        Edge::Bottom => full.bottom() - shown.top(),
    };
    if (now - size).abs() > 0.5 {
        ui.data_mut(|data| data.insert_temp(known, now));
        ui.ctx().request_repaint();
    }
    ui.advance_cursor_after_rect(full);
}
