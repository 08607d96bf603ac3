//! A board on the screen, the same for every view that shows one: the camera, the photo under it, rings around cans.

pub(crate) mod camera;
pub(crate) mod photo;

use std::sync::Arc;

use egui::epaint::{TessellationOptions, Tessellator};
use egui::{Align, Layout, Mesh, Painter, Pos2, Rect, Stroke, Theme, Ui, UiBuilder, Vec2, vec2};

use crate::app::state::scene::Scene;
use crate::app::widgets::theme::{Tokens, space};
use crate::app::widgets::{self, explain, shapes, theme, wording};
use crate::domain::PositionId;
use crate::files::board_colours::Colours;
use crate::files::board_drawing::{self, Drawing};
use crate::files::board_page::Page;
use crate::files::drawing::{Mark, Shape};
use crate::sizing::{BoardMap, CanOnMap, Footprint};
use camera::{Camera, scale_bar};

/// A can is never harder to hit than this, points.
const LEAST_TARGET: f32 = 9.0;

/// The board without its cans: its outline and, where it shows this side, the photo.
pub(crate) fn ground(
    painter: &Painter,
    camera: &Camera,
    scene: &Scene,
    map: &BoardMap,
    page: &Page,
    texture: &mut photo::Texture,
) -> Vec<egui::Shape> {
    let Some(board) = scene.board() else { return Vec::new() };
    let tokens = theme::of(painter.ctx().theme());
    let outline: Vec<_> = board_drawing::ground(board, page).into_iter().collect();
    let mut below = shapes::painted(painter, &outline, tokens);
    if let Some(picture) = photo::of(scene).filter(|_| photo::side(board) == map.side) {
        let opacity = board.photo_opacity_pct.unwrap_or(photo::OPACITY_PCT);
        let texture = texture.of(painter.ctx(), picture);
        below.extend(photo::draw(camera, photo::corners_mm(board, picture), opacity, texture));
    }
    below
}

/// The cans as they were drawn last: as long as nothing changes nothing is laid out or cut into triangles anew, which for ten
/// thousand cans takes longer than everything else of a frame.
#[derive(Default)]
pub(crate) struct Drawn {
    of: Option<(Arc<BoardMap>, Of)>,
    layers: Vec<Layer>,
}

/// What a drawing of cans depends on beside the map.
#[derive(PartialEq)]
struct Of {
    page: Page,
    colours: Colours,
    over_photo: bool,
    first: Vec<PositionId>,
    underestimated: Vec<PositionId>,
    taken: Vec<[f64; 4]>,
    theme: Theme,
    pixels_per_point: f32,
}

/// A stretch of a drawing.
enum Layer {
    /// Lines and areas, as triangles.
    Solid(Arc<Mesh>),
    /// Words: where their letters lie in the font's picture is known only for the frame at hand.
    Words(Vec<Shape>),
}

impl Layer {
    fn of(painter: &Painter, shapes: &[Shape], is_words: bool, tokens: &Tokens) -> Self {
        if is_words {
            return Self::Words(shapes.to_vec());
        }
        // Discs would be taken from the font's picture as well.
        let options = TessellationOptions { prerasterized_discs: false, ..TessellationOptions::default() };
        let mut tessellator = Tessellator::new(painter.pixels_per_point(), options, [0; 2], Vec::new());
        let mut mesh = Mesh::default();
        for shape in shapes::painted(painter, shapes, tokens) {
            tessellator.tessellate_shape(shape, &mut mesh);
        }
        Self::Solid(Arc::new(mesh))
    }
}

impl Drawn {
    /// The shapes over the photo; words keep clear of what is `taken`.
    pub(crate) fn painted(
        &mut self,
        painter: &Painter,
        map: &Arc<BoardMap>,
        drawing: &Drawing,
        page: Page,
        taken: Vec<[f64; 4]>,
    ) -> Vec<egui::Shape> {
        let Drawing { colours, over_photo, .. } = *drawing;
        let (first, underestimated) = (drawing.first.to_vec(), drawing.underestimated.to_vec());
        let (theme, pixels_per_point) = (painter.ctx().theme(), painter.pixels_per_point());
        let tokens = theme::of(theme);
        let of = Of { page, colours, over_photo, first, underestimated, taken, theme, pixels_per_point };
        if !self.of.as_ref().is_some_and(|(known, before)| Arc::ptr_eq(known, map) && *before == of) {
            let shapes = drawing.shapes(&page, of.taken.clone());
            let is_words = |shape: &Shape| matches!(shape, Shape::Text { .. });
            let stretches = shapes.chunk_by(|a, b| is_words(a) == is_words(b));
            let layer = |stretch: &[Shape]| Layer::of(painter, stretch, is_words(&stretch[0]), tokens);
            self.layers = stretches.map(layer).collect();
            self.of = Some((map.clone(), of));
        }
        let painted = |layer: &Layer| match layer {
            Layer::Solid(mesh) => vec![egui::Shape::Mesh(mesh.clone())],
            Layer::Words(shapes) => shapes::painted(painter, shapes, tokens),
        };
        self.layers.iter().flat_map(painted).collect()
    }
}

/// The cans in sight, the largest first, as many as are told one by one to who cannot see them; the others are in the list.
pub(crate) fn told<'a>(map: &'a BoardMap, camera: &'a Camera) -> impl Iterator<Item = &'a CanOnMap> {
    const TOLD_MAX: usize = 300;
    let in_sight =
        |can: &&CanOnMap| camera.rect.expand(camera.length(can.reach_mm())).contains(camera.at(can.centre_mm));
    map.largest_first.iter().map(|&at| &map.cans[at]).filter(in_sight).take(TOLD_MAX)
}

/// What of the screen a click on a can has to hit.
pub(crate) fn target_of(camera: &Camera, can: &CanOnMap) -> Rect {
    let [width, height] = can.body().footprint.size_mm().map(|mm| camera.length(mm).max(LEAST_TARGET * 2.0));
    let (sin, cos) = can.body().rotation_deg.to_radians().sin_cos();
    let (sin, cos) = (widgets::px(sin.abs()), widgets::px(cos.abs()));
    let size = if matches!(can.body().footprint, Footprint::Round { .. }) {
        Vec2::splat(width)
    } else {
        vec2(width * cos + height * sin, width * sin + height * cos)
    };
    Rect::from_center_size(camera.at(can.centre_mm), size).intersect(camera.rect)
}

/// The can at a point of the screen, the smallest where several lie over each other.
pub(crate) fn hit<'a>(map: &'a BoardMap, camera: &Camera, at: Pos2) -> Option<&'a CanOnMap> {
    let within = |can: &&CanOnMap| {
        let reach = camera.length(can.body().footprint.size_mm().into_iter().fold(0.0, f64::max) / 2.0);
        camera.at(can.centre_mm).distance(at) <= reach.max(LEAST_TARGET)
    };
    map.largest_first.iter().rev().map(|&at| &map.cans[at]).find(within)
}

pub(crate) fn ring(painter: &Painter, camera: &Camera, can: &CanOnMap, stroke: Stroke) {
    /// Between the body and the ring, points.
    const ROOM: f32 = 5.0;
    match can.body().footprint {
        Footprint::Round { diameter_mm } => {
            let original_mm = can.original.map_or(0.0, |original| original.size_mm()[1]);
            let radius = camera.length(diameter_mm.max(original_mm) / 2.0) + ROOM;
            painter.circle_stroke(camera.at(can.centre_mm), radius, stroke);
        }
        Footprint::Lying { length_mm, diameter_mm } => {
            let more_mm = 2.0 * f64::from(ROOM) / camera.scale;
            let larger = Footprint::Lying { length_mm: length_mm + more_mm, diameter_mm: diameter_mm + more_mm };
            let corners = can.placed(larger).corners_mm().map(|corner| camera.at(corner));
            painter.add(egui::Shape::closed_line(corners.to_vec(), stroke));
        }
    }
}

/// Height of the foot below a map, points.
pub(crate) const FOOT: f32 = 24.0;

/// The foot: the scale, what the marks mean and how many cans bear each, and what else there is to know of the drawing.
pub(crate) fn foot(ui: &mut Ui, rect: Rect, camera: &Camera, legend: Vec<(Mark, &str, usize)>, note: &str) {
    let tokens = theme::tokens(ui);
    ui.painter().hline(rect.x_range(), rect.top(), Stroke::new(1.0, tokens.line));
    let bar = scale_bar(ui.painter(), camera, rect.left_center() + vec2(12.0, 0.0), tokens);
    let area = rect.with_min_x(bar.right() + 16.0).shrink2(vec2(8.0, 0.0));
    ui.scope_builder(UiBuilder::new().max_rect(area).layout(Layout::left_to_right(Align::Center)), |ui| {
        for (mark, word, count) in legend {
            let words = format!("{count} {word}");
            if wording::width(ui, &words) + space::MARK + 6.0 > ui.available_width() {
                break;
            }
            explain::on(widgets::marked(ui, mark, &words, tokens.text), word).on_hover_text(note);
        }
        if wording::width(ui, note) + 8.0 < ui.available_width() {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| ui.weak(note));
        }
    });
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use egui::{Context, RawInput};

    use super::*;
    use crate::domain::{Board, Catalog, Job, Position, Side};
    use crate::sizing::Sizing;

    #[test]
    fn nothing_is_laid_out_anew_while_nothing_changes() {
        let at = |n: u32| Position {
            reference: format!("C{n}"),
            x_mm: Some(f64::from(n) * 20.0),
            y_mm: Some(10.0),
            ..Position::default()
        };
        let board = Board { positions: (0..3).map(at).collect(), ..Board::default() };
        let job = Job { boards: vec![board.clone()], ..Job::default() };
        let map = Arc::new(BoardMap::new(&job, &Catalog::default(), &Sizing::default(), 0, Side::Top).unwrap());
        let measured = Cell::new(0);
        let drawing = Drawing {
            board: &board,
            map: &map,
            catalog: &Catalog::default(),
            colours: Colours::default(),
            underestimated: &[],
            first: &[],
            all_references: true,
            over_photo: false,
            width: &|text, size| {
                measured.set(measured.get() + 1);
                text.len() as f64 * size
            },
        };
        let camera = Camera::fit(Rect::from_min_size(Pos2::ZERO, vec2(400.0, 300.0)), map.extent_mm, false);
        let page = camera.page(1.0, camera.rect);
        let mut drawn = Drawn::default();
        let mut output = Context::default().run_ui(RawInput::default(), |ui| {
            let mut draw = |page| drawn.painted(ui.painter(), &map, &drawing, page, Vec::new());
            let first = draw(page);
            let once = measured.get();
            assert!(once > 0);
            assert_eq!(draw(page), first);
            assert_eq!(measured.get(), once);
            draw(Page { scale: page.scale * 2.0, ..page });
            assert!(measured.get() > once, "what is seen has changed");
        });
        // There is no screen to give them to.
        output.textures_delta.clear();
    }
}
