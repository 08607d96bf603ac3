//! One row of the table, painted cell by cell: a widget for every cell of every row would cost more than all the rest.

use egui::{Align2, Color32, FontId, Painter, Rect, Shape, Stroke, TextStyle, Ui, Vec2, pos2, vec2};

use super::columns::{Subject, TableColumn, Text};
use super::entry::Entry;
use crate::app::widgets::{self, cells, theme, theme::Tokens, theme::space, wording::UNKNOWN};
use crate::sizing::reasons::check_name;

/// Between a cell's edge and its contents, points.
pub(crate) const PAD: f32 = 5.0;

/// Columns at least this wide say "unknown" in full, points.
const ROOM_FOR_UNKNOWN: f32 = 68.0;

/// How a row is painted.
pub(crate) struct Look {
    /// What is painted on, the row's own background apart.
    pub ink: Color32,
    /// For what is of less weight.
    pub weak: Color32,
    /// For most cells.
    pub font: FontId,
    /// For remarks.
    pub small: FontId,
    pub tokens: &'static Tokens,
}

impl Look {
    /// The look of a row in this `ui`.
    pub(crate) fn new(ui: &Ui, selected: bool) -> Self {
        let tokens = theme::tokens(ui);
        Self {
            ink: if selected { tokens.selected_text } else { tokens.text },
            weak: tokens.weak,
            font: TextStyle::Body.resolve(ui.style()),
            small: TextStyle::Small.resolve(ui.style()),
            tokens,
        }
    }
}

pub(crate) fn cell(painter: &Painter, rect: Rect, column: &TableColumn, entry: &Entry, marked: bool, look: &Look) {
    let inside = rect.shrink2(vec2(PAD, 0.0));
    match column.subject {
        Subject::Text(Text::Number) => part(painter, inside, entry, marked, look),
        Subject::Verdict => {
            let outcome = entry.evaluation.verdict;
            let square = Align2::LEFT_CENTER.anchor_size(inside.left_center(), Vec2::splat(space::MARK));
            widgets::paint_mark(painter, square, &entry.evaluation, look.tokens);
            let at = pos2(square.right() + 5.0, rect.center().y);
            let ink = look.tokens.outcome(outcome).ink;
            let word = painter.text(at, Align2::LEFT_CENTER, outcome.word(), look.font.clone(), ink);
            // The one check that limits or fails; the arrow opens all of them.
            if let Some(check) = entry.limiting() {
                let at = pos2(word.right() + 6.0, rect.center().y);
                painter.text(at, Align2::LEFT_CENTER, check_name(check), look.small.clone(), look.weak);
            }
            let tip = arrow(rect).center();
            let corners = vec![tip + vec2(-3.0, -4.0), tip + vec2(3.0, 0.0), tip + vec2(-3.0, 4.0)];
            painter.add(Shape::convex_polygon(corners, look.weak, Stroke::NONE));
        }
        Subject::Check(check) => {
            let square = Rect::from_center_size(rect.center(), Vec2::splat(space::MARK));
            widgets::paint_mark(painter, square, entry.evaluation.outcome(check), look.tokens);
        }
        Subject::Number(..) if column.is_headroom() => {
            widgets::paint_headroom(painter, inside, entry.number(column), look.ink, look.tokens, &look.font);
        }
        _ => {
            let words = entry.words(column);
            let colour = if words.is_some() { look.ink } else { look.weak };
            // In a narrow column "unknown" would be cut to something nobody understands.
            let unknown = if column.width < ROOM_FOR_UNKNOWN { "?" } else { UNKNOWN };
            let (known, words) = (words.is_some(), words.as_deref().unwrap_or(unknown));
            if column.is_number() {
                let (at, currency) = (inside.right_center(), entry.currency(column));
                let mut room = inside;
                if known && !currency.is_empty() {
                    let drawn = painter.text(at, Align2::RIGHT_CENTER, currency, look.small.clone(), look.weak);
                    room.set_right(drawn.left() - 4.0);
                }
                cells::number(painter, room, words, &[&look.font, &look.small], colour);
            } else {
                cells::words(painter, inside, words, &look.font, colour);
            }
        }
    }
}

/// Where the arrow stands in the cell of a verdict that opens all checks.
pub(crate) fn arrow(cell: Rect) -> Rect {
    cell.with_min_x(cell.right() - 18.0)
}

/// The part number, and beside it what was made of the part.
fn part(painter: &Painter, inside: Rect, entry: &Entry, marked: bool, look: &Look) {
    let name = painter.layout_no_wrap(entry.name.to_owned(), look.font.clone(), look.ink).size().x;
    let mut right = inside.right();
    let words = entry.default_value().into_iter().chain(marked.then_some("marked"));
    let mut words: Vec<&str> = words.collect();
    // Which part it is comes before what was made of it: of several words the last ones give way.
    while !words.is_empty() {
        let galley = painter.layout_no_wrap(words.join(", "), look.small.clone(), look.weak);
        let size = galley.size();
        if words.len() == 1 || name + 6.0 + size.x <= inside.width() {
            let at = pos2(right - size.x, inside.center().y - size.y / 2.0);
            right = at.x - 6.0;
            painter.galley(at, galley, look.weak);
            break;
        }
        words.pop();
    }
    cells::words(painter, inside.with_max_x(right), entry.name, &look.font, look.ink);
}
