//! The map as a file: a drawing (SVG) or a picture (PNG), both to scale.

use std::path::Path;
use std::sync::Arc;

use egui::{Align2, FontFamily, FontId, Rect, pos2, vec2};

use crate::app::widgets::map::camera::{Camera, scale_bar};
use crate::app::widgets::map::photo;
use crate::app::widgets::theme::LIGHT;
use crate::app::widgets::{raster, shapes};
use crate::domain::{Catalog, Job, PositionId, Side};
use crate::files::board_colours::Colours;
use crate::files::board_drawing::{self, Drawing};
use crate::files::board_svg;
use crate::files::photo::Photo;
use crate::sizing::{BoardMap, Sizing};

pub(crate) struct Export {
    pub(super) board: usize,
    pub(super) side: Side,
    pub(super) colours: Colours,
    pub(super) photo: Option<Arc<Photo>>,
    /// Where the stress entered is too low by what the old part suffered.
    pub(super) underestimated: Vec<PositionId>,
}

impl Export {
    /// The bytes of the file at `path`: its ending says which kind.
    ///
    /// # Errors
    /// In words, when the ending is neither `.svg` nor `.png`, or the picture cannot be drawn.
    pub(crate) fn draw(&self, job: &Job, catalog: &Catalog, sizing: &Sizing, path: &Path) -> Result<Vec<u8>, String> {
        let ending = path.extension().unwrap_or_default().to_string_lossy().to_ascii_lowercase();
        match ending.as_str() {
            "svg" => {
                board_svg::document(job, catalog, sizing, self.board, self.side, self.colours, &self.underestimated)
                    .map(String::into_bytes)
                    .ok_or_else(|| "The job has no such board.".into())
            }
            "png" => self.picture(job, catalog, sizing),
            _ => Err(format!("{}: the map is written as *.svg or *.png; choose one of them", path.display())),
        }
    }

    fn picture(&self, job: &Job, catalog: &Catalog, sizing: &Sizing) -> Result<Vec<u8>, String> {
        /// Width of the picture without its margins, points; two pixels to a point.
        const WIDTH: f64 = 1000.0;
        const HEAD: f32 = 34.0;
        const FOOT: f32 = 56.0;
        let missing = || "The job has no such board.".to_owned();
        let board = job.boards.get(self.board).ok_or_else(missing)?;
        let map = BoardMap::new(job, catalog, sizing, self.board, self.side).ok_or_else(missing)?;
        let [left, bottom, right, top] = map.extent_mm;
        #[expect(clippy::cast_possible_truncation, reason = "clamped to a few thousand points")]
        let height = (WIDTH * (top - bottom) / (right - left).max(1.0)).clamp(200.0, 2400.0) as f32;
        let size = vec2(1052.0, height + 52.0 + HEAD + FOOT);
        let frame = Rect::from_min_size(pos2(0.0, HEAD), vec2(size.x, height + 52.0));
        let camera = Camera::fit(frame, map.extent_mm, self.side == Side::Bottom);
        raster::png(size, |painter| {
            let tokens = &LIGHT;
            painter.rect_filled(painter.clip_rect(), 0.0, tokens.base);
            let title = FontId::new(16.0, FontFamily::Proportional);
            let side = if self.side == Side::Bottom { "bottom side, seen from below" } else { "top side" };
            let name = format!("{}, {side}", board.name);
            painter.text(pos2(26.0, 22.0), Align2::LEFT_CENTER, name, title, tokens.text);
            let page = camera.page(1.0, frame);
            let drawing = Drawing {
                board,
                map: &map,
                catalog,
                colours: self.colours,
                underestimated: &self.underestimated,
                first: &[],
                all_references: true,
                over_photo: self.photo.is_some(),
                width: &|text, size| shapes::width(painter, text, size),
            };
            let ground: Vec<_> = board_drawing::ground(board, &page).into_iter().collect();
            painter.extend(shapes::painted(painter, &ground, tokens));
            if let Some(picture) = self.photo.as_ref().filter(|_| photo::side(board) == self.side) {
                let texture = photo::load(painter.ctx(), picture);
                let opacity = board.photo_opacity_pct.unwrap_or(photo::OPACITY_PCT);
                painter.extend(photo::draw(&camera, photo::corners_mm(board, picture), opacity, texture.id()));
            }
            painter.extend(shapes::painted(painter, &drawing.shapes(&page, Vec::new()), tokens));
            let foot = frame.bottom() + 14.0;
            scale_bar(painter, &camera, pos2(26.0, foot), tokens);
            let mut x = 190.0;
            for (mark, word, count) in self.colours.legend(&map) {
                let square = Rect::from_center_size(pos2(x + 7.0, foot), vec2(13.0, 13.0));
                shapes::paint_mark(painter, square, mark, tokens);
                let font = FontId::new(12.0, FontFamily::Proportional);
                let at = pos2(x + 18.0, foot);
                x = painter.text(at, Align2::LEFT_CENTER, format!("{count} {word}"), font, tokens.text).right() + 14.0;
            }
            let small = FontId::new(12.0, FontFamily::Proportional);
            let note = if map.in_grid > 0 {
                "filled: new part; dashed: original; cans without coordinates stand in a grid, not where they sit"
            } else {
                "filled: new part; dashed: original; bar: negative side; bodies at their largest"
            };
            painter.text(pos2(26.0, foot + 22.0), Align2::LEFT_CENTER, note, small, tokens.weak);
        })
    }
}
