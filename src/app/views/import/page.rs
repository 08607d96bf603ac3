//! The page of a data sheet beside its table: where the table was found, a box drawn where it was not, the place of a row.

use std::collections::HashMap;
use std::path::PathBuf;

use egui::{Color32, ColorImage, Context, PointerButton, Pos2, Rect, ScrollArea, Sense, Stroke, StrokeKind, TextEdit};
use egui::{TextureHandle, TextureOptions, Ui, pos2, vec2};

use super::state::ImportState;
use crate::app::widgets::theme;
use crate::app::work::{AnyWorker, Worker};
use crate::domain::Outcome;
use crate::files::datasheet::{self, Area, PictureReader, PrintedRow, PrintedTable};
use crate::files::{child, import::Content};
use crate::progress::Progress;

/// Pixels per inch of the pictures.
const DPI: u32 = 130;
/// How near the pointer must be to a line to take it, points of the screen.
const NEAR: f32 = 5.0;
/// Smallest box, points of the page.
const BOX_PT_MIN: f32 = 12.0;
/// Most pictures kept.
const PICTURES_MOST: usize = 30;

type Key = (PathBuf, usize);

/// What is known of the picture of a page.
enum Picture {
    Here(TextureHandle),
    Refused(String),
}

/// What of a box the pointer holds.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Grip {
    Left,
    Right,
    Top,
    Bottom,
    Column(usize),
    /// A new box from this point of the page.
    New(f32, f32),
}

/// What the view of the page remembers.
#[derive(Default)]
pub(super) struct PageView {
    pictures: HashMap<Key, Picture>,
    asked: Option<Key>,
    worker: Worker<(Key, Result<ColorImage, String>)>,
    /// The page turned to; else that of the row marked, else the table's first.
    turned: Option<usize>,
    /// Line of the row marked.
    pub(super) line: Option<usize>,
    /// Text of the cell marked in it.
    pub(super) text: Option<String>,
    /// A place of a page somebody came for.
    place: Option<(usize, datasheet::Rect)>,
    /// Whether what is marked is still to be scrolled to.
    reveal: bool,
    grip: Option<Grip>,
    /// The box while it is drawn.
    drawn: Option<Area>,
    letters: HashMap<String, String>,
}

impl PageView {
    pub(super) fn worker(&self) -> &dyn AnyWorker {
        &self.worker
    }

    /// Marks a row, or a cell of it, and turns to its page.
    pub(super) fn mark(&mut self, line: usize, text: Option<String>) {
        (self.line, self.text, self.turned) = (Some(line), text, None);
        (self.place, self.reveal) = (None, true);
    }

    /// Turns to a page and marks a place on it.
    pub(super) fn turn_to(&mut self, page: usize, place: Option<datasheet::Rect>) {
        (self.line, self.text, self.turned) = (None, None, Some(page));
        (self.place, self.reveal) = (place.map(|rect| (page, rect)), true);
    }

    /// The picture of a page, asked for when it is not there; `Err` says why there is none yet.
    pub(super) fn picture(
        &mut self,
        ctx: &Context,
        path: &std::path::Path,
        page: usize,
    ) -> Result<TextureHandle, String> {
        if let Some(Ok((key, image))) = self.worker.take() {
            self.asked = None;
            let picture = match image {
                Ok(image) => Picture::Here(ctx.load_texture("page of a data sheet", image, TextureOptions::LINEAR)),
                Err(reason) => Picture::Refused(reason),
            };
            if self.pictures.len() >= PICTURES_MOST {
                self.pictures.clear();
            }
            self.pictures.insert(key, picture);
        }
        let key = (path.to_owned(), page);
        match self.pictures.get(&key) {
            Some(Picture::Here(texture)) => return Ok(texture.clone()),
            Some(Picture::Refused(reason)) => return Err(reason.clone()),
            None => {}
        }
        if self.asked.is_none() {
            self.asked = Some(key.clone());
            self.worker.request(format!("Drawing page {page}"), move |progress| (key.clone(), drawn(&key, progress)));
        }
        Err(format!("Page {page} is being drawn…"))
    }
}

fn drawn((path, page): &Key, progress: &Progress) -> Result<ColorImage, String> {
    let asked = format!("{page} {DPI}");
    let picture = child::read_asked::<PictureReader>(path, &asked, progress).map_err(|error| error.to_string())?;
    let image = image::load_from_memory_with_format(&picture.png, image::ImageFormat::Png);
    let image = image.map_err(|error| error.to_string())?.into_rgba8();
    let size = [image.width() as usize, image.height() as usize];
    Ok(ColorImage::from_rgba_unmultiplied(size, image.as_raw()))
}

/// Draws the page of the table shown.
pub(super) fn show(ui: &mut Ui, state: &mut ImportState) {
    let Some((path, table)) = shown(state) else { return };
    let first = table.outlines.first().map_or(1, |(page, _)| *page);
    let of_row = state.page.line.and_then(|line| table.row(line)).map(|row| row.page);
    let number = state.page.turned.or(of_row).unwrap_or(first);
    let Some((width, height, pages)) = size_of(state, number) else { return };
    ui.horizontal_wrapped(|ui| {
        if ui.add_enabled(number > 1, egui::Button::new("Previous page")).clicked() {
            state.page.turned = Some(number - 1);
        }
        if ui.add_enabled(number < pages, egui::Button::new("Next page")).clicked() {
            state.page.turned = Some(number + 1);
        }
        ui.label(format!("Page {number} of {pages}"));
        tools(ui, state, &table, number);
    });
    letters(ui, state, &path, &table);
    let picture = state.page.picture(ui.ctx(), &path, number);
    let texture = match picture {
        Ok(texture) => texture,
        Err(reason) => {
            ui.label(reason);
            return;
        }
    };
    ScrollArea::vertical().id_salt("import page").auto_shrink([false, false]).show(ui, |ui| {
        let scale = ui.available_width() / width;
        let size = vec2(width * scale, height * scale);
        let (response, painter) = ui.allocate_painter(size, Sense::click_and_drag());
        let origin = response.rect.min;
        painter.image(texture.id(), response.rect, Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0)), Color32::WHITE);
        let on_screen = |rect: datasheet::Rect| {
            Rect::from_min_max(origin + vec2(rect.x0, rect.y0) * scale, origin + vec2(rect.x1, rect.y1) * scale)
        };
        let tokens = theme::tokens(ui);
        let (found, marked) = (tokens.outcome(Outcome::Pass).ink, tokens.outcome(Outcome::Marginal).ink);
        for (_, rect) in table.outlines.iter().filter(|(page, _)| *page == number) {
            painter.rect_stroke(on_screen(*rect), 0.0, Stroke::new(2.0, found), StrokeKind::Outside);
        }
        let row = state.page.line.and_then(|line| table.row(line)).filter(|row| row.page == number);
        let place = state.page.place.filter(|(page, _)| *page == number).map(|(_, rect)| rect);
        if let Some(rect) = row.map(PrintedRow::rect).or(place) {
            painter.rect_stroke(on_screen(rect), 0.0, Stroke::new(2.0, marked), StrokeKind::Outside);
            if std::mem::take(&mut state.page.reveal) {
                ui.scroll_to_rect(on_screen(rect), Some(egui::Align::Center));
            }
        }
        let text = row.and(state.page.line.zip(state.page.text.as_deref()));
        if let Some(cell) = text.and_then(|(line, text)| table.place_of_text(line, text)) {
            painter.rect_filled(on_screen(cell), 0.0, marked.gamma_multiply(0.25));
        }
        let area = state.page.drawn.clone().or_else(|| areas(state).into_iter().find(|area| area.page == number));
        if let Some(area) = &area {
            painter.rect_stroke(on_screen(area.rect), 0.0, Stroke::new(2.0, marked), StrokeKind::Outside);
            for x in &area.columns {
                let x = origin.x + x * scale;
                painter.vline(x, on_screen(area.rect).y_range(), Stroke::new(1.0, marked));
            }
        }
        let at = |pos: Pos2| ((pos.x - origin.x) / scale, (pos.y - origin.y) / scale);
        if response.clicked()
            && let Some(pos) = response.interact_pointer_pos()
        {
            let hit = table.rows.iter().position(|row| row.page == number && row.rect().has(at(pos)));
            let cells = hit.into_iter().flat_map(|row| &table.rows[row].cells);
            let cell = cells.into_iter().find(|cell| cell.rect.has(at(pos)));
            state.page.text = cell.map(|cell| cell.text.trim().to_owned());
            state.page.line = hit.map(|at| at + 2);
            (state.page.turned, state.page.place) = (Some(number), None);
        }
        drag(&response, state, area, number, &at, NEAR / scale);
    });
}

/// Whether the file shown is a data sheet.
pub(super) fn is_printed(state: &ImportState) -> bool {
    let content = state.files.get(state.shown.0).and_then(|file| file.content.as_deref());
    matches!(content, Some(Content::Pages(_)))
}

/// The file and the printed table shown; an empty one where none was found.
fn shown(state: &ImportState) -> Option<(PathBuf, std::sync::Arc<PrintedTable>)> {
    let file = state.files.get(state.shown.0)?;
    let table = state.sheet().and_then(|sheet| sheet.source.places.clone());
    Some((file.path.clone(), table.unwrap_or_default()))
}

/// Width and height of a page in points, and how many there are.
fn size_of(state: &ImportState, number: usize) -> Option<(f32, f32, usize)> {
    let Some(Content::Pages(pages)) = state.files.get(state.shown.0)?.content.as_deref() else { return None };
    let page = pages.read.iter().find(|page| page.number == number).or_else(|| pages.read.first())?;
    Some((page.width, page.height, page.pages))
}

fn areas(state: &ImportState) -> Vec<Area> {
    state.files.get(state.shown.0).map_or_else(Vec::new, |file| file.printed.areas.clone())
}

fn tools(ui: &mut Ui, state: &mut ImportState, table: &PrintedTable, number: usize) {
    let own = areas(state).into_iter().find(|area| area.page == number);
    match own {
        None => {
            ui.colored_label(theme::tokens(ui).weak, "Drag over the page to say where its table is.");
        }
        Some(area) => {
            if ui.button("Find tables again").on_hover_text("Forgets the box drawn on this page.").clicked() {
                state.reread(|file| file.printed.areas.retain(|area| area.page != number));
            }
            let lines = ui.button("Move column lines");
            if area.columns.is_empty() && lines.on_hover_text("Shows the column lines, to be dragged.").clicked() {
                let mut columns = vec![area.rect.x0];
                columns.extend(table.column_edges().into_iter().filter(|x| *x > area.rect.x0 && *x < area.rect.x1));
                columns.push(area.rect.x1);
                set_area(state, Area { columns, ..area });
            }
        }
    }
}

fn set_area(state: &mut ImportState, area: Area) {
    state.page.turned = Some(area.page);
    (state.page.line, state.page.text, state.page.place) = (None, None, None);
    state.reread(|file| {
        file.printed.areas.retain(|known| known.page != area.page);
        file.printed.areas.push(area);
    });
}

/// A box is drawn, or the side or column line of one is moved; when it is let go, the page is read by it.
fn drag(
    response: &egui::Response,
    state: &mut ImportState,
    area: Option<Area>,
    page: usize,
    at: &dyn Fn(Pos2) -> (f32, f32),
    near: f32,
) {
    if response.drag_started_by(PointerButton::Primary)
        && let Some(pos) = response.ctx.input(|input| input.pointer.press_origin())
    {
        let (x, y) = at(pos);
        state.page.grip = Some(area.as_ref().and_then(|area| grip(area, x, y, near)).unwrap_or(Grip::New(x, y)));
        state.page.drawn = area;
    }
    let (Some(grip), Some(pos)) = (state.page.grip, response.interact_pointer_pos()) else { return };
    let (x, y) = at(pos);
    let mut area = state.page.drawn.clone().unwrap_or_default();
    let rect = &mut area.rect;
    match grip {
        Grip::Left => rect.x0 = x.min(rect.x1 - BOX_PT_MIN),
        Grip::Right => rect.x1 = x.max(rect.x0 + BOX_PT_MIN),
        Grip::Top => rect.y0 = y.min(rect.y1 - BOX_PT_MIN),
        Grip::Bottom => rect.y1 = y.max(rect.y0 + BOX_PT_MIN),
        Grip::Column(index) => {
            if let Some(line) = area.columns.get_mut(index) {
                *line = x.clamp(rect.x0, rect.x1);
            }
        }
        Grip::New(from_x, from_y) => {
            *rect = datasheet::Rect { x0: from_x.min(x), y0: from_y.min(y), x1: from_x.max(x), y1: from_y.max(y) };
            area.columns.clear();
        }
    }
    area.page = page;
    if response.drag_stopped() {
        (state.page.grip, state.page.drawn) = (None, None);
        area.columns.sort_by(f32::total_cmp);
        if area.rect.width() >= BOX_PT_MIN && area.rect.height() >= BOX_PT_MIN {
            set_area(state, area);
        }
    } else {
        state.page.drawn = Some(area);
    }
}

/// What of a box lies at a point.
fn grip(area: &Area, x: f32, y: f32, near: f32) -> Option<Grip> {
    let rect = area.rect;
    let beside = (rect.y0 - near..=rect.y1 + near).contains(&y);
    let over = (rect.x0 - near..=rect.x1 + near).contains(&x);
    let close = |a: f32, b: f32| (a - b).abs() <= near;
    let line =
        area.columns.iter().position(|line| beside && close(x, *line) && !close(x, rect.x0) && !close(x, rect.x1));
    let sides = [
        (beside && close(x, rect.x0), Grip::Left),
        (beside && close(x, rect.x1), Grip::Right),
        (over && close(y, rect.y0), Grip::Top),
        (over && close(y, rect.y1), Grip::Bottom),
    ];
    line.map(Grip::Column).or_else(|| sides.into_iter().find(|(here, _)| *here).map(|(_, grip)| grip))
}

/// Asks once for each sign what letter it is, with its picture.
fn letters(ui: &mut Ui, state: &mut ImportState, path: &std::path::Path, table: &PrintedTable) {
    let mut said: Option<(String, String)> = None;
    for (page, sign, text) in &table.signs {
        ui.horizontal(|ui| {
            let label =
                ui.label(format!("What letter is this sign, in “{}”?", text.chars().take(40).collect::<String>()));
            if let Some((width, height, _)) = size_of(state, *page)
                && let Ok(texture) = state.page.picture(ui.ctx(), path, *page)
            {
                crop(ui, &texture, sign.rect, (width, height), 3.0);
            }
            let draft = state.page.letters.entry(sign.key.clone()).or_default();
            ui.add(TextEdit::singleline(draft).desired_width(40.0)).labelled_by(label.id);
            if ui.add_enabled(!draft.trim().is_empty(), egui::Button::new("Use it")).clicked() {
                said = Some((sign.key.clone(), draft.trim().to_owned()));
            }
        });
    }
    if let Some((key, letter)) = said {
        state.reread(|file| {
            file.printed.letters.insert(key, letter);
        });
    }
}

/// A part of a page's picture, enlarged; `page` is the size of the page in points.
pub(super) fn crop(ui: &mut Ui, texture: &TextureHandle, rect: datasheet::Rect, page: (f32, f32), scale: f32) {
    const AROUND_PT: f32 = 2.0;
    let (x0, y0) = ((rect.x0 - AROUND_PT).max(0.0), (rect.y0 - AROUND_PT).max(0.0));
    let (x1, y1) = ((rect.x1 + AROUND_PT).min(page.0), (rect.y1 + AROUND_PT).min(page.1));
    let uv = Rect::from_min_max(pos2(x0 / page.0, y0 / page.1), pos2(x1 / page.0, y1 / page.1));
    let size = vec2((x1 - x0) * scale, (y1 - y0) * scale);
    ui.add(egui::Image::new((texture.id(), size)).uv(uv));
}
