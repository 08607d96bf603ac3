//! The order lines as a table: headings that sort, a row for each part, the selected one told in full below.

use std::cmp::Ordering;

use egui::{Align2, FontId, Id, Key, Rect, ScrollArea, Stroke, TextStyle, Ui, pos2, vec2};

use super::{answer::Answer, shared::money};
use crate::app::widgets::{cells, cells::Heading, explain, row_at, theme, theme::space, wording::UNKNOWN};
use crate::domain::{Outcome, style};
use crate::sizing::{Purchase, PurchaseLine, reasons::figure};

const PAD: f32 = 4.0;
const PAD_WORDS: f32 = 8.0;

enum Cell {
    Text(String),
    /// A figure as it is written, with what it sorts by; unknown where there is none.
    Number(Option<(f64, String)>),
}

struct OrderColumn {
    heading: &'static str,
    /// Name of its explanation.
    explained: &'static str,
    /// Least width, points.
    width: f32,
    /// Its share of the width that is left over.
    grows: f32,
    /// In small letters: what one looks up, but does not compare down the column.
    small: bool,
    cell: fn(&PurchaseLine) -> Cell,
}

fn count(qty: Option<u64>) -> Cell {
    Cell::Number(qty.map(|qty| (qty as f64, qty.to_string())))
}

fn plain(value: Option<f64>) -> Cell {
    Cell::Number(value.map(|value| (value, figure(value))))
}

const fn column(
    heading: &'static str,
    explained: &'static str,
    [width, grows]: [f32; 2],
    cell: fn(&PurchaseLine) -> Cell,
) -> OrderColumn {
    OrderColumn { heading, explained, width, grows, small: false, cell }
}

impl OrderColumn {
    const fn small(mut self) -> Self {
        self.small = true;
        self
    }
}

/// Together they fit beside the list of positions in a window of 1280 points.
const COLUMNS: [OrderColumn; 15] = [
    column("Part", "order part", [160.0, 1.0], |line| Cell::Text(line.told.clone())),
    column("Supplier", "order supplier", [128.0, 1.5], |line| {
        let other = line.offers.len().saturating_sub(1);
        let more = if other == 0 { String::new() } else { format!(" +{other}") };
        match line.supplier() {
            "" => Cell::Text(UNKNOWN.into()),
            name => Cell::Text(format!("{name}{more}")),
        }
    })
    .small(),
    column("Positions", "order positions", [84.0, 3.0], |line| Cell::Text(line.names.clone())).small(),
    column("Required", "need", [52.0, 0.3], |line| count(line.need_qty)),
    column("Own\nstock", "order shelf", [38.0, 0.3], |line| {
        count(Some(line.from_shelf.iter().map(|used| used.qty).sum()))
    }),
    column("Order\nqty", "order quantity", [42.0, 0.3], |line| count(line.order_qty)),
    column("MOQ /\nmultiple", "order minimum", [60.0, 0.3], |line| {
        let (moq, pack) = (line.trade().moq, line.trade().pack);
        let word = |value: Option<f64>| value.map_or_else(|| "1?".to_owned(), figure);
        Cell::Number(Some((moq.unwrap_or(1.0), format!("{} / {}", word(moq), word(pack)))))
    })
    .small(),
    column("Unit\nprice", "order price", [66.0, 0.3], |line| {
        Cell::Number(line.unit_price.map(|price| (price, style::price(price))))
    }),
    column("Price\nfrom", "order break", [40.0, 0.3], |line| count(line.price_from_qty)).small(),
    column("Total", "order total", [72.0, 0.5], |line| {
        Cell::Number(line.line_total.map(|sum| (sum, style::money(sum))))
    }),
    column("Currency", "order currency", [58.0, 0.3], |line| match line.currency() {
        "" => Cell::Text("?".into()),
        code => Cell::Text(code.to_owned()),
    }),
    column("Next price break", "order next", [124.0, 1.0], |line| match line.next_break {
        Some(next) => {
            Cell::Text(format!("{} at {}: {}", next.qty, style::price(next.unit_price), style::money(next.line_total)))
        }
        None => Cell::Text(String::new()),
    })
    .small(),
    column("Lead\ntime (d)", "order lead", [48.0, 0.3], |line| plain(line.trade().lead_time_d)).small(),
    column("Supplier\nstock", "order stock", [54.0, 0.5], |line| plain(line.trade().stock)).small(),
    column("Manufacturer", "order maker", [84.0, 1.5], |line| match line.maker.as_str() {
        "" => Cell::Text(UNKNOWN.into()),
        maker => Cell::Text(maker.to_owned()),
    })
    .small(),
];

/// The column of totals, whose heading names the currency where all lines have the same; and that of the currencies, shown
/// where they have not.
const TOTAL: &str = "Total";
const CURRENCY: &str = "Currency";

/// From so much room beside the least on small columns need not be small, points.
const ROOMY: f32 = 420.0;

/// How much wider than at the least the table gets, points.
const GROWTH_MAX: f32 = 900.0;

/// The columns shown, each with its number, its heading and its width in a table as wide as `room`.
struct Layout {
    columns: Vec<(usize, String, f32)>,
    width: f32,
    /// There is room for letters of full size in every column.
    roomy: bool,
}

impl Layout {
    fn new(ui: &Ui, purchase: &Purchase, room: f32) -> Self {
        let mut codes: Vec<&str> = purchase.lines.iter().map(PurchaseLine::currency).collect();
        codes.sort_unstable();
        codes.dedup();
        let common = match codes.as_slice() {
            [code] if !code.is_empty() => Some(*code),
            _ => None,
        };
        let shown = || COLUMNS.iter().enumerate().filter(|(_, column)| common.is_none() || column.heading != CURRENCY);
        let heading = |column: &OrderColumn| match common {
            Some(code) if column.heading == TOTAL => format!("{TOTAL} {code}"),
            _ => column.heading.to_owned(),
        };
        let needs = shown().map(|(_, column)| {
            let head = text_width(ui, heading(column), &TextStyle::Small) + left_pad(column) + PAD;
            column.width.max(words_width(ui, column, purchase)).max(head)
        });
        let needs: Vec<f32> = needs.collect();
        let least: f32 = needs.iter().sum();
        let shares: f32 = shown().map(|(_, column)| column.grows).sum();
        let spare = (room - least).clamp(0.0, GROWTH_MAX);
        let columns = shown()
            .zip(needs)
            .map(|((at, column), needs)| (at, heading(column), needs + spare * column.grows / shares));
        Self { columns: columns.collect(), width: least + spare, roomy: spare > ROOMY }
    }
}

/// Words wider than this are told in full below the table only, points.
const WORDS_MAX: f32 = 320.0;

/// How wide a column is with the longest of its words in it; 0 of a column of figures.
fn words_width(ui: &Ui, column: &OrderColumn, purchase: &Purchase) -> f32 {
    let words = purchase.lines.iter().filter_map(|line| match (column.cell)(line) {
        Cell::Text(words) => Some(words),
        Cell::Number(_) => None,
    });
    let Some(longest) = words.max_by_key(|words| words.chars().count()) else { return 0.0 };
    let style = if column.small { TextStyle::Small } else { TextStyle::Body };
    (text_width(ui, longest, &style) + PAD_WORDS + PAD + 2.0).min(WORDS_MAX)
}

/// How wide a text is, of several lines the longest.
fn text_width(ui: &Ui, text: String, style: &TextStyle) -> f32 {
    let galley = ui.painter().layout_no_wrap(text, style.resolve(ui.style()), egui::Color32::PLACEHOLDER);
    galley.size().x
}

/// What the table remembers.
#[derive(Debug, Default)]
pub(super) struct State {
    /// OrderColumn and whether the largest stands first.
    sort: (usize, bool),
    /// Number of the selected part.
    selected: Option<String>,
}

impl State {
    /// The selected line, else the first.
    pub(super) fn selected<'a>(&self, purchase: &'a Purchase) -> Option<&'a PurchaseLine> {
        let wanted = self.selected.as_ref();
        let found = purchase.lines.iter().find(|line| Some(&line.part_number) == wanted);
        found.or_else(|| purchase.lines.first())
    }

    fn order<'a>(&self, purchase: &'a Purchase) -> Vec<&'a PurchaseLine> {
        let mut lines: Vec<&PurchaseLine> = purchase.lines.iter().collect();
        let (at, descending) = self.sort;
        let Some(column) = COLUMNS.get(at) else { return lines };
        let compare = |a: &&PurchaseLine, b: &&PurchaseLine| {
            let turned = |order: Ordering| if descending { order.reverse() } else { order };
            match ((column.cell)(a), (column.cell)(b)) {
                (Cell::Text(a), Cell::Text(b)) => turned(a.cmp(&b)),
                // What is not known stands last, whatever the direction.
                (Cell::Number(a), Cell::Number(b)) => match (a, b) {
                    (Some(a), Some(b)) => turned(a.0.total_cmp(&b.0)),
                    (a, b) => a.is_none().cmp(&b.is_none()),
                },
                _ => Ordering::Equal,
            }
        };
        lines.sort_by(compare);
        lines
    }
}

/// The selected line: the one stop of the table for the Tab key, whose identity stays while the selection moves.
fn focus_id() -> Id {
    Id::unique("selected order line")
}

/// What a line is called aloud.
fn spoken(line: &PurchaseLine) -> String {
    let order = line.order_qty.map_or_else(|| UNKNOWN.to_owned(), |qty| qty.to_string());
    let need = line.need_qty.map_or_else(|| UNKNOWN.to_owned(), |qty| qty.to_string());
    let supplier = if line.supplier().is_empty() { "nobody" } else { line.supplier() };
    let short = if line.stock_short() { ", more than the supplier has in stock" } else { "" };
    format!(
        "{}: need {need}, order {order} from {supplier}{short}, total {}, for {}",
        line.told,
        money(line.line_total, line.currency()),
        line.names
    )
}

/// Draws the table into the rest of `ui`.
pub(super) fn show(ui: &mut Ui, answer: &Answer, state: &mut State) {
    let layout = Layout::new(ui, &answer.purchase, ui.available_width());
    ScrollArea::horizontal().id_salt("order columns").auto_shrink([false, false]).show(ui, |ui| {
        ui.set_min_width(layout.width);
        ui.spacing_mut().item_spacing.y = 0.0;
        headings(ui, &layout, state);
        let lines = state.order(&answer.purchase);
        let selected = state.selected(&answer.purchase).map(|line| line.part_number.clone());
        let mut wanted = None;
        ScrollArea::vertical().id_salt("order lines").auto_shrink([false, false]).show(ui, |ui| {
            for (at, line) in lines.iter().enumerate() {
                let is_selected = selected.as_ref() == Some(&line.part_number);
                if let Some(to) = row(ui, &layout, line, at, is_selected) {
                    wanted = lines.get(to.min(lines.len() - 1)).map(|line| line.part_number.clone());
                }
            }
        });
        if wanted.is_some() {
            state.selected = wanted;
        }
    });
}

fn is_number(column: &OrderColumn) -> bool {
    matches!((column.cell)(&PurchaseLine::default()), Cell::Number(_))
}

/// Words stand further from the figures before them than figures from each other.
fn left_pad(column: &OrderColumn) -> f32 {
    if is_number(column) || column.explained == "order part" { PAD } else { PAD_WORDS }
}

/// What of a cell is written in.
fn inside(cell: Rect, column: &OrderColumn) -> Rect {
    Rect::from_min_max(cell.min + vec2(left_pad(column), 0.0), cell.max - vec2(PAD, 0.0))
}

/// Draws a row; the row a click or an arrow leads to.
fn row(ui: &mut Ui, layout: &Layout, line: &PurchaseLine, at: usize, selected: bool) -> Option<usize> {
    let tokens = theme::tokens(ui);
    let (_, rect) = ui.allocate_space(vec2(layout.width.max(ui.available_width()), space::ROW));
    let response = row_at(ui, rect, focus_id(), at, selected, &spoken(line));
    if response.clicked() {
        ui.memory_mut(|memory| memory.request_focus(focus_id()));
    }
    if !ui.is_rect_visible(rect) && !response.has_focus() {
        return response.clicked().then_some(at);
    }
    cells::ground(ui.painter(), rect, (selected, response.hovered(), at % 2 == 1), tokens);
    let ink = if selected { tokens.selected_text } else { tokens.text };
    let [body, small] = [TextStyle::Body, TextStyle::Small].map(|style| style.resolve(ui.style()));
    let mut left = rect.left();
    for &(column, _, width) in &layout.columns {
        let column = &COLUMNS[column];
        let cell = Rect::from_min_size(pos2(left, rect.top()), vec2(width, rect.height()));
        left += width;
        let inside = inside(cell, column);
        let painter = ui.painter_at(cell.intersect(ui.clip_rect()));
        let font = if column.small && !layout.roomy { &small } else { &body };
        match (column.cell)(line) {
            Cell::Text(text) => {
                let unknown = text == UNKNOWN || text == "?";
                let ink = if unknown { tokens.outcome(Outcome::Unknown).ink } else { ink };
                cells::words(&painter, inside, text, font, ink);
            }
            Cell::Number(Some((_, text))) => {
                let shrunk = FontId { size: small.size * 0.8, ..small.clone() };
                let short = column.explained == "order stock" && line.stock_short();
                let ink = if short { tokens.outcome(Outcome::Fail).ink } else { ink };
                let text = if short { format!("! {text}") } else { text };
                cells::number(&painter, inside, &text, &[font, &small, &shrunk], ink);
            }
            Cell::Number(None) => {
                let word = if column.width < 60.0 { "?" } else { UNKNOWN };
                let ink = tokens.outcome(Outcome::Unknown).ink;
                _ = painter.text(inside.right_center(), Align2::RIGHT_CENTER, word, font.clone(), ink);
            }
        }
    }
    if !response.has_focus() {
        return response.clicked().then_some(at);
    }
    ui.scroll_to_rect(rect, None);
    let pressed = |key| ui.input(|input| input.key_pressed(key));
    let up = pressed(Key::ArrowUp).then(|| at.saturating_sub(1));
    up.or_else(|| pressed(Key::ArrowDown).then_some(at + 1))
}

fn headings(ui: &mut Ui, layout: &Layout, state: &mut State) {
    // Two short lines of heading keep the columns as narrow as their figures.
    let (_, line) = ui.allocate_space(vec2(layout.width, 1.5 * space::ROW));
    let mut left = line.left();
    for (at, text, width) in &layout.columns {
        let (at, column) = (*at, &COLUMNS[*at]);
        let cell = Rect::from_min_size(pos2(left, line.top()), vec2(*width, line.height()));
        left += width;
        let sorted = (state.sort.0 == at).then_some(state.sort.1);
        let heading = Heading {
            id: Id::unique("order by").with(at),
            seen: cell,
            inside: inside(cell, column),
            text,
            does: &format!("Sort the order by {}", column.heading.to_lowercase().replace('\n', " ")),
            number: is_number(column),
            descending: sorted,
        };
        let response = cells::heading(ui, &heading);
        if response.clicked() {
            state.sort = (at, sorted == Some(false));
        }
        explain::on(response, column.explained);
    }
    ui.painter().hline(line.x_range(), line.bottom(), Stroke::new(1.0, theme::tokens(ui).line));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_heading_is_explained() {
        for column in &COLUMNS {
            assert!(explain::of(column.explained).is_some(), "{}", column.explained);
        }
    }

    #[test]
    fn every_column_has_room_for_its_heading() {
        let output = egui::Context::default().run_ui(egui::RawInput::default(), |ui| {
            let layout = Layout::new(ui, &Purchase::default(), 0.0);
            for (at, heading, width) in &layout.columns {
                let cell = Rect::from_min_size(pos2(0.0, 0.0), vec2(*width, 1.0));
                let needs = text_width(ui, heading.clone(), &TextStyle::Small);
                assert!(needs <= inside(cell, &COLUMNS[*at]).width() + 0.01, "{heading}: {needs}");
                assert!(needs > 10.0, "{heading} is not laid out");
            }
        });
        output.drop_without_applying_deltas();
    }

    #[test]
    fn an_unknown_total_stands_last_in_both_directions() {
        let line = |number: &str, line_total| PurchaseLine {
            part_number: number.into(),
            line_total,
            ..PurchaseLine::default()
        };
        let purchase = Purchase {
            lines: vec![line("A", None), line("B", Some(2.0)), line("C", Some(1.0))],
            ..Purchase::default()
        };
        let at = COLUMNS.iter().position(|column| column.heading == TOTAL).unwrap();
        let order = |descending| {
            let state = State { sort: (at, descending), selected: None };
            let lines = state.order(&purchase);
            lines.iter().map(|line| line.part_number.clone()).collect::<Vec<_>>()
        };
        assert_eq!(order(false), ["C", "B", "A"]);
        assert_eq!(order(true), ["B", "C", "A"]);
    }
}
