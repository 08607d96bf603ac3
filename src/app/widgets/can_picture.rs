//! A can beside the one it replaces, to scale: from above on the left, from the side on the right, with the room there is and the
//! length that is missing.

use egui::{Label, Painter, Rect, Ui, vec2};

use crate::app::state::{Candidate, Scene};
use crate::app::widgets::{explain, picture, shapes, theme, theme::Tokens, wording};
use crate::domain::{Can, Check, Mounting, Outcome};
use crate::files::drawing::{Anchor, Ink, Line, Shape, dimension};
use crate::physics::body;
use crate::sizing::{Evaluation, FitFault, Footprint, reasons::figure, why_not, why_not::Lengths};

/// What is drawn.
pub(crate) struct CanPicture<'a> {
    /// The new part.
    pub new: &'a Can,
    /// The one that was built in.
    pub original: &'a Can,
    /// Room beside the can and above the board, mm.
    pub room_mm: (Option<f64>, Option<f64>),
    /// Height of the lid, mm.
    pub lid_mm: Option<f64>,
    /// The lengths that decide the fit.
    pub lengths: Option<&'a Lengths>,
    /// How the fit came out.
    pub fit: Outcome,
    /// The verdict: the colour of the can.
    pub verdict: Outcome,
    /// Largest sizes the scale must hold, mm: the same for pictures that are compared. From above, and in height.
    pub largest_mm: [f64; 2],
    /// Size of a point of the names of its heights; `None` where they are not named.
    pub names: Option<f64>,
}

/// The largest sizes of some cans, mm, from above and in height.
pub(crate) fn largest_mm<'a>(cans: impl Iterator<Item = &'a Can>) -> [f64; 2] {
    cans.fold([4.0, 4.0], |[across, up], can| {
        let body = body::of(can);
        let width = Footprint::of(can).map_or(0.0, |footprint| footprint.size_mm().into_iter().fold(0.0, f64::max));
        let height = body.height_max_mm.unwrap_or_default() + body.vent_mm.unwrap_or_default();
        [across.max(width), up.max(height)]
    })
}

/// Width at the right edge where the names of the heights stand, points of theirs.
const NAMES: f64 = 98.0;

/// Draws the selected position's candidate beside the original, large and with its heights named, under a heading; below it in words
/// what stands against it, else how its height fits. Returns where the words begin, points.
pub(crate) fn show(ui: &mut Ui, scene: &Scene, candidate: Candidate, height: f32) -> f32 {
    let top = ui.cursor().top();
    let (Some((_, position)), Some(place)) = (scene.position(), scene.place()) else { return top };
    let (Some(can), Some(evaluation)) = (scene.can(candidate), scene.evaluation(candidate)) else { return top };
    explain::heading(ui, format!("{} from the side", position.reference), "side view");
    let against = wording::against(scene, candidate, &can, &evaluation);
    let words = against.unwrap_or_else(|| height_in_words(&can, place.room_mm().1));
    let spoken = format!("{} from the side: {}: {words}", position.reference, scene.name(candidate));
    let (rect, _) = picture(ui, vec2(ui.available_width(), height), &spoken);
    let largest = largest_mm([&can, &position.original.can].into_iter());
    let lengths = why_not::lengths(place, &can, &evaluation);
    if let Some(picture) = CanPicture::of(scene, &can, &evaluation, lengths.as_ref(), largest) {
        CanPicture { names: Some(theme::growth(ui)), ..picture }.paint(ui.painter(), rect, theme::tokens(ui));
    }
    let top = ui.cursor().top();
    ui.add(Label::new(words).wrap());
    top
}

impl<'a> CanPicture<'a> {
    /// A part beside the original of the selected position; heights are not named.
    pub(crate) fn of(
        scene: &'a Scene,
        new: &'a Can,
        evaluation: &Evaluation,
        lengths: Option<&'a Lengths>,
        largest_mm: [f64; 2],
    ) -> Option<Self> {
        Some(Self {
            new,
            original: &scene.position()?.1.original.can,
            room_mm: scene.place()?.room_mm(),
            lid_mm: scene.board().and_then(|board| board.lid_mm),
            lengths,
            fit: evaluation.outcome(Check::Fit),
            verdict: evaluation.verdict,
            largest_mm,
            names: None,
        })
    }

    /// Draws it into a rectangle.
    pub(crate) fn paint(&self, painter: &Painter, rect: Rect, tokens: &Tokens) {
        let mut out = Vec::new();
        let [left, top, right, bottom] = [rect.left(), rect.top(), rect.right(), rect.bottom()].map(f64::from);
        let names = self.names.map_or(0.0, |point| NAMES * point);
        let (width, height) = (right - left - names - 10.0, bottom - top - 8.0);
        let [across_mm, up_mm] = self.largest_mm;
        let up_mm = up_mm.max(self.names.and(self.room_mm.1).unwrap_or_default() * 1.05);
        let tall = height / (up_mm * 1.06).max(1.0);
        let scale = (width / (2.2 * across_mm)).min(height / (across_mm * 1.1)).min(tall);
        let centre = [left + 3.0 + across_mm * scale / 2.0, top + height / 2.0 + 2.0];
        self.plan(&mut out, centre, scale);
        let ground = bottom - 6.0;
        let middle = left + 3.0 + across_mm * scale * 1.6 + 8.0;
        let edge = (middle + across_mm * scale / 2.0 + 8.0).min(right - names);
        self.elevation(&mut out, [middle, ground], scale, edge);
        if let Some(point) = self.names {
            self.heights(&mut out, [edge, ground], (scale, point), top);
        }
        // Much room above a small can ends beyond the picture.
        let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
        painter.extend(shapes::painted(&painter, &out, tokens));
    }

    fn ink(&self) -> Ink {
        Ink::Of(self.verdict)
    }

    fn plan(&self, out: &mut Vec<Shape>, [x, y]: [f64; 2], scale: f64) {
        let mut body = |can: &Can, fill, line| match Footprint::of(can) {
            Some(Footprint::Round { diameter_mm }) => {
                out.push(Shape::Circle { at: [x, y], radius: diameter_mm / 2.0 * scale, fill, line: Some(line) });
            }
            Some(Footprint::Lying { length_mm, diameter_mm }) => {
                out.push(rectangle([x, y], length_mm * scale, diameter_mm * scale, fill, Some(line)));
            }
            None => {}
        };
        body(self.new, Some((Ink::Fill(self.verdict), 0.35)), solid(self.ink(), 1.5));
        body(self.original, None, dashed(Ink::Text));
        let Some(lengths) = self.lengths else { return };
        let reach = [self.new, self.original].map(|can| Footprint::of(can).map_or(0.0, |f| f.size_mm()[1]));
        let below = y + reach[0].max(reach[1]) / 2.0 * scale + 4.0;
        let bad = solid(Ink::Of(self.fit), 1.5);
        if matches!(lengths.fault, FitFault::Diameter | FitFault::Pitch) {
            for (n, (mm, line)) in
                [(lengths.own_mm, bad), (lengths.room_mm, solid(Ink::Text, 1.2))].into_iter().enumerate()
            {
                let (half, at) = (mm / 2.0 * scale, below + 6.0 * n as f64);
                dimension(out, [[x - half, at], [x + half, at]], 4.0, line);
            }
        }
    }

    fn elevation(&self, out: &mut Vec<Shape>, [x, ground]: [f64; 2], scale: f64, edge: f64) {
        let block = |can: &Can| {
            let (body, footprint) = (body::of(can), Footprint::of(can)?);
            Some((
                footprint.size_mm()[0] * scale,
                body.height_max_mm? * scale,
                body.vent_mm.unwrap_or_default() * scale,
            ))
        };
        let line = |points: [[f64; 2]; 2], line| Shape::Path { points: points.to_vec(), line };
        let left = x - (edge - x);
        out.push(line([[left, ground + 1.5], [edge, ground + 1.5]], solid(Ink::Line, 3.0)));
        if let Some((width, height, vent)) = block(self.new) {
            let middle = [x, ground - height / 2.0];
            out.push(rectangle(
                middle,
                width,
                height,
                Some((Ink::Fill(self.verdict), 0.35)),
                Some(solid(self.ink(), 1.5)),
            ));
            if vent > 0.0 {
                let short = Line { dashes: Some([2.0, 3.0]), ..solid(Ink::Weak, 1.0) };
                out.push(rectangle([x, ground - height - vent / 2.0], width, vent, None, Some(short)));
            }
            if let Some(lengths) = self.lengths.filter(|lengths| lengths.fault == FitFault::Height) {
                let at = x + width / 2.0 + 5.0;
                let top = ground - lengths.own_mm * scale;
                dimension(out, [[at, ground], [at, top]], 4.0, solid(Ink::Of(self.fit), 1.5));
            }
        }
        if let Some((width, height, _)) = block(self.original) {
            out.push(rectangle([x, ground - height / 2.0], width, height, None, Some(dashed(Ink::Text))));
        }
        if let Some(room_mm) = self.room_mm.1.filter(|&mm| mm <= self.largest_mm[1] * 1.5 || self.names.is_some()) {
            let y = ground - room_mm * scale;
            out.push(line([[left, y], [edge, y]], Line { dashes: Some([6.0, 4.0]), ..solid(Ink::Text, 1.2) }));
        }
    }

    /// The heights, named at their levels and apart from each other.
    fn heights(&self, out: &mut Vec<Shape>, [edge, ground]: [f64; 2], (scale, point): (f64, f64), top: f64) {
        let line = 14.5 * point;
        let body = body::of(self.new);
        let vent = body.height_max_mm.zip(body.vent_mm.filter(|&vent| vent > 0.0)).map(|(height, vent)| height + vent);
        let mut names: Vec<(f64, String, Ink)> = [
            (body.height_max_mm, "body", self.ink()),
            (vent, "vent to", Ink::Weak),
            (self.room_mm.1, "room", Ink::Text),
        ]
        .into_iter()
        .filter_map(|(mm, name, ink)| Some((ground - mm? * scale, format!("{name} {} mm", figure(mm?)), ink)))
        .collect();
        names.extend(self.lid_mm.map(|mm| (top, format!("lid {} mm", figure(mm)), Ink::Weak)));
        names.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut lowest = ground - 3.0;
        for (y, ..) in &mut names {
            *y = y.min(lowest);
            lowest = *y - line;
        }
        // What would stand above the picture is pushed down with all below it.
        let mut highest = top + line / 2.0;
        for (y, text, ink) in names.into_iter().rev() {
            let y = y.max(highest);
            highest = y + line;
            out.push(Shape::Text {
                at: [edge + 4.0, y],
                anchor: Anchor::Left,
                size: 12.0 * point,
                text,
                ink,
                on_ground: false,
            });
        }
    }
}

fn solid(ink: Ink, width: f64) -> Line {
    Line { ink, width, dashes: None }
}

fn dashed(ink: Ink) -> Line {
    Line { dashes: Some([4.0, 3.0]), ..solid(ink, 1.0) }
}

fn rectangle([x, y]: [f64; 2], width: f64, height: f64, fill: Option<(Ink, f64)>, line: Option<Line>) -> Shape {
    let (dx, dy) = (width / 2.0, height / 2.0);
    Shape::Polygon { points: vec![[x - dx, y - dy], [x + dx, y - dy], [x + dx, y + dy], [x - dx, y + dy]], fill, line }
}

/// How a part stands to its room in height, in words: what is left over, or how much is missing.
pub(crate) fn height_in_words(can: &Can, room_mm: Option<f64>) -> String {
    use crate::app::widgets::wording::with_unit;
    let body = body::of(can);
    let length = |mm: f64| with_unit(Some((mm * 100.0).round() / 100.0), "mm");
    let high = if can.mounting == Some(Mounting::Axial) { "lying" } else { "high" };
    let height = format!("{} {high}", with_unit(body.height_max_mm, "mm"));
    match (body.height_max_mm, body.vent_mm, room_mm) {
        (Some(height_mm), _, Some(room_mm)) if height_mm > room_mm + 1e-9 => {
            format!("{height}: {} too high", length(height_mm - room_mm))
        }
        (Some(height_mm), Some(vent_mm), Some(room_mm)) => {
            let left_mm = room_mm - height_mm - vent_mm;
            let vent = if vent_mm > 0.0 { format!(" and {} vent space", length(vent_mm)) } else { String::new() };
            if left_mm < -1e-9 {
                format!("{height}: {} of its vent space is missing", length(-left_mm))
            } else {
                format!("{height}{vent}, {} to spare in height", length(left_mm))
            }
        }
        _ => format!("{height}, room {}", with_unit(room_mm, "mm")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_over_is_told_apart_from_what_is_missing() {
        let told = |height_mm, room_mm| {
            let can = Can { height_max_mm: Some(height_mm), diameter_mm: Some(20.0), ..Can::default() };
            height_in_words(&can, Some(room_mm))
        };
        assert_eq!(told(32.0, 36.0), "32 mm high and 3 mm vent space, 1 mm to spare in height");
        assert_eq!(told(34.0, 36.0), "34 mm high: 1 mm of its vent space is missing");
        assert_eq!(told(38.0, 36.0), "38 mm high: 2 mm too high");
    }
}
