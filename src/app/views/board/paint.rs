//! What a board looks like: the same strokes on the screen and in an exported picture.

use egui::{
    Align2, Color32, CornerRadius, FontFamily, FontId, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2,
};

use crate::app::views::board::camera::Camera;
use crate::app::views::board::colours::{Colours, condition_outcome};
use crate::app::widgets;
use crate::app::widgets::theme::{Tokens, space};
use crate::domain::{Board, Outcome, PositionId};
use crate::files::board_svg::{gap_words, negative_band};
use crate::physics::condition::Condition;
use crate::sizing::{BoardMap, CanOnMap, Footprint, Gap, Placed};

/// Corners of the polygon a circle is drawn as where it is dashed.
const ROUND_CORNERS: u16 = 72;

/// The board without its cans: outline, keep-outs, holes.
pub(super) fn ground(painter: &Painter, camera: &Camera, board: &Board, tokens: &Tokens) {
    if let Some([width_mm, height_mm]) = board.outline_mm {
        let outline = camera.area([0.0, 0.0], [width_mm, height_mm]);
        painter.rect(outline, 3.0, tokens.panel, Stroke::new(1.5, tokens.weak), StrokeKind::Middle);
    }
}

/// What is fixed on the board, over its photo.
pub(super) fn fixtures(painter: &Painter, camera: &Camera, board: &Board, tokens: &Tokens) {
    for &[x_mm, y_mm, width_mm, height_mm] in &board.keepouts_mm {
        let area = camera.area([x_mm, y_mm], [x_mm + width_mm, y_mm + height_mm]);
        painter.rect_filled(area, CornerRadius::ZERO, tokens.line.gamma_multiply(0.25));
        hatch(painter, area, Stroke::new(1.0, tokens.line));
        painter.rect_stroke(area, 0.0, Stroke::new(1.0, tokens.weak), StrokeKind::Inside);
        let font = FontId::new(11.0, FontFamily::Proportional);
        let size = painter.layout_no_wrap("keep out".to_owned(), font.clone(), tokens.weak).size();
        if size.x + 8.0 < area.width() && size.y + 4.0 < area.height() {
            let at = area.left_top() + vec2(4.0, 2.0);
            haloed(painter, at, Align2::LEFT_TOP, "keep out", font, tokens.weak, tokens);
        }
    }
    for &[x_mm, y_mm, diameter_mm] in &board.holes_mm {
        let (centre, radius) = (camera.at([x_mm, y_mm]), camera.length(diameter_mm / 2.0));
        painter.circle(centre, radius, tokens.base, Stroke::new(1.5, tokens.weak));
    }
}

fn hatch(painter: &Painter, area: Rect, stroke: Stroke) {
    const STEP: f32 = 9.0;
    let painter = painter.with_clip_rect(area.intersect(painter.clip_rect()));
    let mut x = area.left() - area.height();
    // A keep-out larger than a screen is cut to it, so the number of lines stays small.
    let (from, to) = (painter.clip_rect().left() - area.height(), painter.clip_rect().right());
    if from > x {
        x += ((from - x) / STEP).floor() * STEP;
    }
    while x < area.right().min(to) {
        painter.line_segment([pos2(x, area.bottom()), pos2(x + area.height(), area.top())], stroke);
        x += STEP;
    }
}

/// The shadow of a body.
pub(super) fn shadow(painter: &Painter, camera: &Camera, placed: &Placed, fill: Color32, stroke: Stroke, dashed: bool) {
    let centre = camera.at(placed.centre_mm);
    match placed.footprint {
        Footprint::Round { diameter_mm } => {
            let radius = camera.length(diameter_mm / 2.0);
            painter.circle_filled(centre, radius, fill);
            if dashed {
                let step = std::f32::consts::TAU / f32::from(ROUND_CORNERS);
                let path: Vec<Pos2> =
                    (0..=ROUND_CORNERS).map(|n| centre + Vec2::angled(f32::from(n) * step) * radius).collect();
                painter.extend(Shape::dashed_line(&path, stroke, 4.0, 3.0));
            } else {
                painter.circle_stroke(centre, radius, stroke);
            }
        }
        Footprint::Lying { .. } => {
            let mut path: Vec<Pos2> = placed.corners_mm().map(|corner| camera.at(corner)).to_vec();
            painter.add(Shape::convex_polygon(path.clone(), fill, Stroke::NONE));
            path.push(path[0]);
            if dashed {
                painter.extend(Shape::dashed_line(&path, stroke, 4.0, 3.0));
            } else {
                painter.add(Shape::line(path, stroke));
            }
        }
    }
}

/// A can of the other side: faint, as seen through the board.
pub(super) fn behind(painter: &Painter, camera: &Camera, can: &CanOnMap, tokens: &Tokens) {
    shadow(painter, camera, &can.body(), Color32::TRANSPARENT, Stroke::new(1.0, tokens.line), true);
}

/// One can: the chosen part filled, the original outlined, its polarity and its mark.
pub(super) fn can(painter: &Painter, camera: &Camera, can: &CanOnMap, colours: Colours, tokens: &Tokens) {
    let (shown, _) = colours.of(can);
    let look = tokens.outcome(shown);
    if let Some(chosen) = can.chosen {
        let fill = look.fill.gamma_multiply(0.30);
        // Over a photo the colours need a ground of their own.
        let ground = tokens.panel.gamma_multiply(0.6);
        shadow(painter, camera, &can.placed(chosen), ground, Stroke::NONE, false);
        shadow(painter, camera, &can.placed(chosen), fill, Stroke::new(1.5, look.ink), false);
    }
    let outline = can.original.or_else(|| can.chosen.is_none().then(|| can.body().footprint));
    if let Some(original) = outline {
        let stroke = Stroke::new(1.25, tokens.text);
        shadow(painter, camera, &can.placed(original), Color32::TRANSPARENT, stroke, true);
    }
    let body = can.body();
    polarity(painter, camera, can, &body, tokens);
    let (centre, across) = (camera.at(can.centre_mm), camera.length(body.footprint.size_mm()[1]));
    let mark = (across * 0.5).clamp(7.0, space::MARK + 3.0);
    let lift = if is_inside(camera, can) { -10.0 } else { 0.0 };
    widgets::paint_mark(painter, Rect::from_center_size(centre + vec2(0.0, lift), Vec2::splat(mark)), shown, tokens);
}

/// Where the reference of a can stands, with its letters.
struct Label {
    rect: Rect,
    font: FontId,
    /// Whether it stands within the can.
    inside: bool,
}

fn label(painter: &Painter, camera: &Camera, can: &CanOnMap) -> Label {
    let inside = is_inside(camera, can);
    // Below the ring of what is selected, too.
    let below = if inside { 0.0 } else { reach(camera, can) + 8.0 };
    let font = FontId::new(if inside { 14.0 } else { 12.0 }, FontFamily::Proportional);
    let size = painter.layout_no_wrap(can.reference.clone(), font.clone(), Color32::PLACEHOLDER).size();
    Label { rect: Align2::CENTER_TOP.anchor_size(camera.at(can.centre_mm) + vec2(0.0, below), size), font, inside }
}

/// Whether mark and reference have room within a can.
fn is_inside(camera: &Camera, can: &CanOnMap) -> bool {
    camera.length(can.body().footprint.size_mm()[1]) >= 46.0
}

/// The reference of a can, with its outcome in a word where there is room.
pub(super) fn reference(painter: &Painter, camera: &Camera, can: &CanOnMap, colours: Colours, tokens: &Tokens) {
    let Label { rect, font, inside } = label(painter, camera, can);
    haloed(painter, rect.center_top(), Align2::CENTER_TOP, &can.reference, font, tokens.text, tokens);
    if inside && camera.length(can.body().footprint.size_mm()[1]) >= 84.0 {
        let (shown, word) = colours.of(can);
        let font = FontId::new(12.0, FontFamily::Proportional);
        painter.text(rect.center_bottom(), Align2::CENTER_TOP, word, font, tokens.outcome(shown).ink);
    }
}

/// Half the height on the screen of everything drawn of a can, points.
fn reach(camera: &Camera, can: &CanOnMap) -> f32 {
    let original = can.original.map(|original| vertical_reach(camera, &can.placed(original)));
    vertical_reach(camera, &can.body()).max(original.unwrap_or(0.0))
}

/// Half the height of a body on the screen, points.
fn vertical_reach(camera: &Camera, body: &Placed) -> f32 {
    let centre = camera.at(body.centre_mm);
    match body.footprint {
        Footprint::Round { diameter_mm } => camera.length(diameter_mm / 2.0),
        Footprint::Lying { .. } => {
            body.corners_mm().map(|corner| camera.at(corner).y - centre.y).into_iter().fold(0.0, f32::max)
        }
    }
}

/// A bar on the negative side and a plus on the other.
fn polarity(painter: &Painter, camera: &Camera, can: &CanOnMap, body: &Placed, tokens: &Tokens) {
    let Some((from, to)) = negative_band(can, body) else { return };
    let across = camera.length(body.footprint.size_mm()[1]);
    if across < 10.0 {
        return;
    }
    let stroke = Stroke::new((across * 0.05).clamp(2.0, 5.0), tokens.text);
    painter.line_segment([camera.at(from), camera.at(to)], stroke);
    let middle = camera.at([(from[0] + to[0]) / 2.0, (from[1] + to[1]) / 2.0]);
    let centre = camera.at(can.centre_mm);
    let plus = centre + (centre - middle);
    let arm = (across * 0.06).clamp(2.5, 6.0);
    let stroke = Stroke::new(1.5, tokens.text);
    painter.line_segment([plus - vec2(arm, 0.0), plus + vec2(arm, 0.0)], stroke);
    painter.line_segment([plus - vec2(0.0, arm), plus + vec2(0.0, arm)], stroke);
}

/// A gap that falls short, with its figure.
pub(super) fn gap(painter: &Painter, camera: &Camera, gap: &Gap, tokens: &Tokens) {
    let outcome = if gap.gap_mm < 0.0 { Outcome::Fail } else { Outcome::Marginal };
    let ink = tokens.outcome(outcome).ink;
    let [from, to] = gap.ends_mm.map(|end| camera.at(end));
    painter.line_segment([from, to], Stroke::new(3.0, ink));
    for end in [from, to] {
        painter.circle_filled(end, 3.0, ink);
    }
    let font = FontId::new(12.0, FontFamily::Proportional);
    let at = from.lerp(to, 0.5) - vec2(0.0, 6.0);
    haloed(painter, at, Align2::CENTER_BOTTOM, &gap_words(gap.gap_mm), font, ink, tokens);
}

/// Text on a patch of background, so that it can be read over anything.
pub(super) fn haloed(
    painter: &Painter,
    at: Pos2,
    anchor: Align2,
    text: &str,
    font: FontId,
    ink: Color32,
    tokens: &Tokens,
) -> Rect {
    let galley = painter.layout_no_wrap(text.to_owned(), font, ink);
    let rect = anchor.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand2(vec2(2.0, 0.0)), 3.0, tokens.panel.gamma_multiply(0.8));
    painter.galley(rect.min, galley, ink);
    rect
}

/// Which references are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum References {
    /// All of them: on paper nobody comes closer.
    All,
    /// Those that do not stand on another one; the rest come with zooming in, hovering and selecting.
    Readable,
}

/// Everything but what the person is doing at the moment.
pub(super) fn map(
    painter: &Painter,
    camera: &Camera,
    map: &BoardMap,
    references: References,
    colours: Colours,
    tokens: &Tokens,
) {
    for other in &map.behind {
        behind(painter, camera, other, tokens);
    }
    // The small ones last, so that none is hidden under a large one.
    let mut cans: Vec<&CanOnMap> = map.cans.iter().collect();
    cans.sort_by(|a, b| b.reach_mm().total_cmp(&a.reach_mm()));
    for one in &cans {
        can(painter, camera, one, colours, tokens);
    }
    let mut taken: Vec<Rect> = Vec::new();
    for one in cans {
        let rect = label(painter, camera, one).rect;
        if references == References::Readable {
            let seen = painter.clip_rect().intersects(rect);
            if !seen || taken.iter().any(|other| other.intersects(rect)) {
                continue;
            }
            taken.push(rect);
        }
        reference(painter, camera, one, colours, tokens);
    }
    for short in &map.short_gaps {
        gap(painter, camera, short, tokens);
    }
}

/// A word above each can whose old part says that the stress entered is too low.
pub(super) fn underestimated(painter: &Painter, camera: &Camera, map: &BoardMap, ids: &[PositionId], tokens: &Tokens) {
    let font = FontId::new(11.0, FontFamily::Proportional);
    let ink = tokens.outcome(Outcome::Fail).ink;
    for can in map.cans.iter().filter(|can| ids.contains(&can.id)) {
        let top = camera.at(can.centre_mm) - vec2(0.0, reach(camera, can) + 3.0);
        haloed(painter, top, Align2::CENTER_BOTTOM, "stress underestimated", font.clone(), ink, tokens);
    }
}

/// A line of 10 mm, for the scale.
pub(super) fn scale_bar(painter: &Painter, camera: &Camera, at: Pos2, tokens: &Tokens) {
    let mm = [1.0, 5.0, 10.0, 50.0, 100.0].into_iter().find(|&mm| camera.length(mm) >= 36.0).unwrap_or(100.0);
    let end = at + vec2(camera.length(mm), 0.0);
    let stroke = Stroke::new(1.5, tokens.weak);
    painter.line_segment([at, end], stroke);
    for tip in [at, end] {
        painter.line_segment([tip - vec2(0.0, 4.0), tip + vec2(0.0, 4.0)], stroke);
    }
    let font = FontId::new(12.0, FontFamily::Proportional);
    painter.text(end + vec2(6.0, 0.0), Align2::LEFT_CENTER, format!("{mm} mm"), font, tokens.weak);
}

/// The marks of the colours in use, each with its word and how many cans bear it; from left to right, returns where it ends.
pub(super) fn legend(painter: &Painter, at: Pos2, map: &BoardMap, colours: Colours, tokens: &Tokens) -> f32 {
    let font = FontId::new(12.0, FontFamily::Proportional);
    let mut x = at.x;
    for (outcome, word, count) in legend_entries(map, colours) {
        let mark = Rect::from_center_size(pos2(x + 7.0, at.y), Vec2::splat(space::MARK));
        widgets::paint_mark(painter, mark, outcome, tokens);
        let text = format!("{count} {word}");
        x = painter.text(pos2(x + 18.0, at.y), Align2::LEFT_CENTER, text, font.clone(), tokens.text).right() + 14.0;
    }
    x
}

/// Every mark that occurs: what it looks like, its word, how many cans bear it.
pub(super) fn legend_entries(map: &BoardMap, colours: Colours) -> Vec<(Outcome, &'static str, usize)> {
    let count = |is: &dyn Fn(&CanOnMap) -> bool| map.cans.iter().filter(|can| is(can)).count();
    let entries: Vec<_> = match colours {
        Colours::Outcome => {
            Outcome::ALL.iter().map(|&o| (o, o.word(), count(&|can: &CanOnMap| can.verdict == o))).collect()
        }
        Colours::OldPart => [Condition::Sound, Condition::Ageing, Condition::Unknown, Condition::WornOut]
            .into_iter()
            .map(|c| {
                let (outcome, word) = condition_outcome(c);
                (outcome, word, count(&|can: &CanOnMap| can.condition == c))
            })
            .collect(),
    };
    entries.into_iter().filter(|entry| entry.2 > 0).collect()
}
