//! The table: headings that sort, the original, and of a million candidates those in sight. The first column stays while
//! the others are scrolled sideways.

use egui::scroll_area::ScrollBarVisibility;
use egui::{self, Id, Popup, Rect, Response, ScrollArea, Stroke, Ui, UiBuilder, pos2, vec2};

use super::{
    columns::Subject, columns::TableColumn, detail, entry::Entry, row, row::Look, row::PAD, state::CandidatesState,
};
use crate::app::actions::{Action, Command, LiveScene};
use crate::app::state::{Candidate, List, Scene};
use crate::app::widgets::{self, Row, cells, cells::Heading, theme, theme::space};

/// Where each column stands.
struct Layout {
    columns: Vec<(usize, &'static TableColumn)>,
    /// Left edge of each column from the left edge of the table, unscrolled.
    lefts: Vec<f32>,
    /// Width of all of them.
    width: f32,
    /// How far all but the first are scrolled sideways.
    scrolled: f32,
    /// How much larger than usual everything is.
    growth: f32,
    row: f32,
}

impl Layout {
    fn new(columns: Vec<(usize, &'static TableColumn)>, scrolled: f32, growth: f32) -> Self {
        let mut width = 0.0;
        let lefts = columns.iter().map(|(_, column)| (width, width += column.width * growth).0).collect();
        Self { columns, lefts, width, scrolled, growth, row: space::ROW * growth }
    }

    fn first_width(&self) -> f32 {
        self.columns.first().map_or(0.0, |(_, column)| column.width * self.growth)
    }

    /// The cells of a row in sight, with the part of each that is not behind the first column.
    fn cells(&self, row: Rect) -> impl Iterator<Item = (Rect, Rect, usize, &'static TableColumn)> + '_ {
        self.all_cells(row).filter(|(_, seen, ..)| seen.width() > 0.0)
    }

    /// The same with the cells out of sight, of which nothing is seen.
    fn all_cells(&self, row: Rect) -> impl Iterator<Item = (Rect, Rect, usize, &'static TableColumn)> + '_ {
        let behind = row.with_min_x(row.left() + self.first_width());
        self.columns.iter().zip(&self.lefts).enumerate().map(move |(at, ((index, column), left))| {
            let scrolled = if at == 0 { 0.0 } else { self.scrolled };
            let corner = pos2(row.left() + left - scrolled, row.top());
            let cell = Rect::from_min_size(corner, vec2(column.width * self.growth, row.height()));
            let seen = if at == 0 { cell.intersect(row) } else { cell.intersect(behind) };
            (cell, seen, *index, *column)
        })
    }
}

/// Draws the table into the rest of `ui`.
pub(crate) fn show(ui: &mut Ui, scene: &LiveScene, state: &mut CandidatesState, growth: f32) {
    let tokens = theme::tokens(ui);
    let all = ui.available_rect_before_wrap();
    let layout = Layout::new(state.columns(), state.offset.x, growth);
    let line = |at: f32| {
        let top = all.top() + at * layout.row;
        Rect::from_min_max(pos2(all.left(), top), pos2(all.right(), top + layout.row))
    };
    headings(ui, line(0.0), &layout, state);
    let selected = scene.candidate();
    let table = Table { scene, layout: &layout };
    table.row(ui, line(1.0), 0, Candidate::Original, selected == Some(Candidate::Original), state);
    let body = all.with_min_y(line(2.0).top() + 2.0);
    for y in [line(0.0).bottom(), body.top() - 1.0] {
        ui.painter().hline(all.x_range(), y, Stroke::new(1.0, tokens.line));
    }
    ui.scope_builder(UiBuilder::new().max_rect(body), |ui| {
        rows(ui, &table, body, selected, state);
    });
    state.next.reveal = false;
    state.next.to_top = false;
}

fn rows(ui: &mut Ui, table: &Table, body: Rect, selected: Option<Candidate>, state: &mut CandidatesState) {
    let count = state.count(table.scene) - 1;
    let mut area = ScrollArea::both()
        .id_salt("candidates")
        .auto_shrink([false, false])
        .scroll_bar_visibility(ScrollBarVisibility::VisibleWhenNeeded);
    let row = table.layout.row;
    if let Some(y) = offset_wanted(table.scene, state, (row, body.height()), selected) {
        area = area.vertical_scroll_offset(y);
    }
    if let Some(x) = state.next.to_x.take() {
        area = area.horizontal_scroll_offset(x);
    }
    let output = area.show_viewport(ui, |ui, viewport| {
        ui.set_width(table.layout.width);
        ui.set_height(count as f32 * row);
        // Single precision cannot hold the place of row 900 000 to a point, so rows are placed from the edge of what is in sight.
        let (row_height, from_y) = (f64::from(row), f64::from(viewport.min.y.max(0.0)));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "rows in sight, counted from 0")]
        let (first, last) = ((from_y / row_height) as usize, (f64::from(viewport.max.y) / row_height).ceil() as usize);
        let view = ui.clip_rect().intersect(body);
        for at in first..last.min(count) {
            #[expect(clippy::cast_possible_truncation, reason = "within what is in sight")]
            let top = body.top() + (at as f64 * row_height - from_y) as f32;
            let rect = Rect::from_min_max(pos2(view.left(), top), pos2(view.right(), top + row));
            let Some(candidate) = state.nth(table.scene, at + 1) else { break };
            table.row(ui, rect, at + 1, candidate, selected == Some(candidate), state);
        }
    });
    if output.state.clamped_offset().x != state.offset.x {
        ui.ctx().request_repaint();
    }
    state.offset = output.state.clamped_offset();
}

/// Where the table is to be scrolled to.
fn offset_wanted(
    scene: &Scene,
    state: &CandidatesState,
    (row, height): (f32, f32),
    selected: Option<Candidate>,
) -> Option<f32> {
    if state.next.reveal
        && let Some(at) = selected.and_then(|selected| state.index_of(scene, selected)?.checked_sub(1))
    {
        // The scroll bar may cover the last row.
        let (top, seen) = (at as f32 * row, (height - row).max(row));
        let lowest = (top + row - seen).max(0.0);
        return (top < state.offset.y || lowest > state.offset.y).then_some(if top < state.offset.y {
            top
        } else {
            lowest
        });
    }
    state.next.to_top.then_some(0.0)
}

struct Table<'s, 'a> {
    scene: &'s LiveScene<'a>,
    layout: &'s Layout,
}

impl Table<'_, '_> {
    fn row(
        &self,
        ui: &Ui,
        rect: Rect,
        index: usize,
        candidate: Candidate,
        selected: bool,
        state: &mut CandidatesState,
    ) {
        let Some(entry) = Entry::new(self.scene, candidate) else { return };
        let marked = state.marked.contains(&candidate);
        let name = entry.spoken(marked);
        let response = widgets::row(ui, rect, &Row { list: List::Candidates, index, selected, name: &name });
        let look = Look::new(ui, selected);
        let painter = ui.painter_at(rect);
        cells::ground(&painter, rect, (selected, response.hovered(), index.is_multiple_of(2)), look.tokens);
        // A figure of which only some digits are seen would be read as another one.
        for (cell, seen, _, column) in
            self.layout.cells(rect).filter(|(cell, seen, ..)| seen.width() > cell.width() - 2.0)
        {
            row::cell(
                &painter.with_clip_rect(seen.intersect(painter.clip_rect())),
                cell,
                column,
                &entry,
                marked,
                &look,
            );
        }
        self.react(ui, rect, response, &entry, index, state);
    }

    fn react(&self, ui: &Ui, rect: Rect, response: Response, entry: &Entry, index: usize, state: &mut CandidatesState) {
        let candidate = entry.candidate;
        if response.hovered() {
            self.scene.push(Action::Hover(candidate));
        }
        if widgets::context_menu(&response, self.scene, candidate, &widgets::OF_CANDIDATE) {
            self.scene.push(Action::SelectCandidate(candidate));
        }
        if response.double_clicked() && candidate != Candidate::Original {
            self.scene.push(Action::SelectCandidate(candidate));
            self.scene.push(Action::Run(Command::Pick));
        } else if response.clicked() {
            let modifiers = ui.input(|input| input.modifiers);
            if modifiers.command {
                state.toggle_mark(candidate);
            } else if modifiers.shift {
                let from = self.scene.candidate().and_then(|selected| state.index_of(self.scene, selected));
                let from = from.unwrap_or(index);
                let between = from.min(index)..=from.max(index);
                let marked: Vec<Candidate> = between.filter_map(|at| state.nth(self.scene, at)).collect();
                state.marked.extend(marked);
            } else {
                self.scene.push(Action::SelectCandidate(candidate));
            }
        }
        let verdict = self.layout.cells(rect).find(|(.., column)| matches!(column.subject, Subject::Verdict));
        let pointer = ui.input(|input| input.pointer.interact_pos());
        let on_arrow = verdict.is_some_and(|(cell, ..)| pointer.is_some_and(|at| row::arrow(cell).contains(at)));
        let checks = Popup::from_toggle_button_response(&response).at_pointer_fixed();
        let checks = checks.open_memory((response.clicked() && on_arrow).then_some(egui::SetOpenCommand::Toggle));
        checks.show(|ui| detail::all_checks(ui, entry));
        response.on_hover_ui_at_pointer(|ui| {
            let pointer = ui.input(|input| input.pointer.hover_pos());
            let over = |seen: Rect| pointer.is_some_and(|at| seen.expand2(vec2(0.0, 1.0)).contains(at));
            let column = self.layout.cells(rect).find(|(_, seen, ..)| over(*seen)).map(|(.., column)| column);
            let check = column.and_then(|c| if let Subject::Check(check) = c.subject { Some(check) } else { None });
            detail::hover(ui, entry, check);
        });
    }
}

/// The headings: buttons that sort.
fn headings(ui: &Ui, line: Rect, layout: &Layout, state: &mut CandidatesState) {
    let mut clicked = None;
    for (cell, seen, index, column) in layout.all_cells(line) {
        let heading = Heading {
            id: Id::unique("candidates by").with(index),
            seen,
            inside: cell.shrink2(vec2(PAD, 0.0)),
            text: column.heading,
            does: &format!("Sort by {}", spoken(column)),
            number: column.is_number(),
            descending: state.ask.sort.filter(|sort| sort.column == index).map(|sort| sort.descending),
        };
        let response = cells::heading(ui, &heading);
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_description(column.hover));
        // A heading reached by key comes into sight.
        if response.gained_focus() && seen.width() < cell.width() {
            state.next.to_x = Some((cell.left() + layout.scrolled - line.left() - layout.first_width()).max(0.0));
            ui.ctx().request_repaint();
        }
        if response.clicked() {
            clicked = Some(index);
        }
        response.on_hover_ui(|ui| {
            ui.set_max_width(420.0);
            ui.strong(spoken(column));
            ui.label(column.hover);
            ui.weak(format!("In the filter: {}. Click to sort.", column.words.join(" or ")));
        });
    }
    if let Some(index) = clicked {
        state.sort_by(index);
    }
}

/// What a column is called aloud.
fn spoken(column: &TableColumn) -> String {
    match column.subject {
        Subject::Check(_) => format!("{} check", column.name),
        _ if column.unit().is_empty() => column.name.to_lowercase(),
        _ => format!("{} ({})", column.name, column.unit()),
    }
}
