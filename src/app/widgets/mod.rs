//! Small pieces every view is made of.

pub(crate) mod asked;
mod beside;
pub(crate) mod can_picture;
pub(crate) mod caution;
pub(crate) mod cells;
mod choice;
mod command;
pub(crate) mod drafts;
pub(crate) mod entry;
pub(crate) mod explain;
pub(crate) mod field;
mod figure;
mod focus;
mod folded;
mod headroom;
pub(crate) mod icon;
pub(crate) mod map;
mod mark;
mod pick_changes;
pub(crate) mod raster;
mod row;
mod said;
pub(crate) mod shapes;
pub(crate) mod theme;
pub(crate) mod wording;

pub(crate) use beside::{Beside, Edge, main_then_panel};
pub(crate) use choice::{choice, listed, pills, tabs};
pub(crate) use command::{OF_CANDIDATE, OF_POSITION, button, context_menu, menu_item, primary};
pub(crate) use figure::{figure, figure_text};
pub(crate) use focus::{
    begin_here, follow_focus, keep_arrows, lead_tab, map_focus_id, map_has_enter, map_takes_enter, outline_focus,
    scroll_by_keys, tab_begins,
};
pub(crate) use folded::{folded, menu};
pub(crate) use headroom::paint_headroom;
pub(crate) use mark::{mark, marked, outcome};
pub(crate) use pick_changes::{ChangeList, Ticks, pick_changes};
pub(crate) use row::{Row, focus_id, row, row_at};
pub(crate) use said::{link, named, picture, px, right};
pub(crate) use shapes::paint_mark;
