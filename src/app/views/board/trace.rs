//! Tracing cans on the photo: a circle drawn from the middle of a can to its rim comes to lie on the rim in the picture, is
//! corrected by hand and becomes the place and the diameter of a position. Nothing is entered that nobody confirmed.

use std::sync::Arc;

use egui::{self, Align2, FontFamily, FontId, Key, Painter, Stroke, TextEdit, Ui, vec2};

use crate::app::actions::rearrange::{names, next_name};
use crate::app::actions::{Action, LiveScene};
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::views::board::place::tenth;
use crate::app::views::board::state::{BoardState, Tool};
use crate::app::views::board::tools::{entry, length};
use crate::app::widgets::map::camera::Camera;
use crate::app::widgets::map::photo;
use crate::app::widgets::map_focus_id;
use crate::app::widgets::theme::Tokens;
use crate::app::work::worker::Worker;
use crate::domain::{Board, Mounting, Position, PositionId, Side};
use crate::files::homography::Homography;
use crate::files::photo::Photo;
use crate::files::trace::{self, Circle, Known};
use crate::sizing::reasons::figure;

/// A can is at least so wide, mm: less is a slip of the hand.
const LEAST_MM: f64 = 2.0;
/// So near to the rim a drag takes the rim, points.
const RIM: f32 = 9.0;

/// A circle as the photo shows it, on the board: a tall can seems larger and farther out than it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Seen {
    centre_mm: [f64; 2],
    r_mm: f64,
}

/// What of a circle is dragged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Grip {
    /// A new circle, from its centre.
    New([f64; 2]),
    /// The whole circle, held so far from its centre.
    Centre([f64; 2]),
    Rim,
}

/// What was looked for in the photo on another thread.
pub(super) enum Found {
    /// The rim near a rough circle, and the direction from minus to plus by the stripe, degrees.
    Rim(Seen, Option<f64>),
    /// What may be cans.
    Cans(Vec<Seen>),
}

#[derive(Default)]
pub(super) struct Trace {
    circle: Option<Seen>,
    /// The designator, once somebody typed one.
    typed: Option<String>,
    smd: bool,
    /// Height of the can; 0 is unknown.
    height_mm: f64,
    /// Direction from minus to plus that the stripe in the photo suggests, degrees, and whether the person agreed.
    stripe: Option<(f64, bool)>,
    proposals: Option<Vec<Seen>>,
    /// How high what is to be said was when it was last drawn, points.
    pub(super) panel_height: f32,
    /// Looks for circles in the photo.
    pub(super) finding: Worker<Found>,
}

impl Trace {
    /// Forgets what was drawn; what was proposed with it where another photo comes.
    pub(super) fn forget(&mut self, proposals: bool) {
        (self.circle, self.stripe) = (None, None);
        self.finding.cancel();
        if proposals {
            (self.proposals, self.typed) = (None, None);
        }
    }

    /// Takes in what was found.
    pub(super) fn poll(&mut self) {
        match self.finding.take() {
            Some(Ok(Found::Rim(circle, direction))) => {
                self.circle = Some(circle);
                self.stripe = direction.map(|degrees| (degrees, false));
            }
            Some(Ok(Found::Cans(cans))) => self.proposals = Some(cans),
            Some(Err(_)) | None => {}
        }
    }

    /// Whether what is to be said would lie over the circle at the upper edge.
    pub(super) fn is_high(&self, camera: &Camera) -> bool {
        self.circle.is_some_and(|circle| camera.at(circle.centre_mm).y < camera.rect.center().y)
    }

    /// What a drag from here takes hold of.
    pub(super) fn grip(&self, camera: &Camera, from: [f64; 2]) -> Grip {
        let Some(circle) = self.circle else { return Grip::New(from) };
        let away = [from[0] - circle.centre_mm[0], from[1] - circle.centre_mm[1]];
        let off = away[0].hypot(away[1]);
        if camera.length((off - circle.r_mm).abs()) <= RIM {
            Grip::Rim
        } else if off < circle.r_mm {
            Grip::Centre(away)
        } else {
            Grip::New(from)
        }
    }

    /// The pointer is here now.
    pub(super) fn drag(&mut self, grip: Grip, now: [f64; 2]) {
        let from = |centre: [f64; 2]| (now[0] - centre[0]).hypot(now[1] - centre[1]);
        match (grip, &mut self.circle) {
            (Grip::New(centre_mm), circle) => *circle = Some(Seen { centre_mm, r_mm: from(centre_mm) }),
            (Grip::Centre(hold), Some(circle)) => circle.centre_mm = [now[0] - hold[0], now[1] - hold[1]],
            (Grip::Rim, Some(circle)) => circle.r_mm = from(circle.centre_mm).max(LEAST_MM / 2.0),
            (_, None) => {}
        }
        if matches!(grip, Grip::New(_)) {
            self.stripe = None;
        }
    }

    /// The drag is over: a new circle looks for the rim.
    pub(super) fn release(&mut self, scene: &Scene, grip: Grip) {
        if let (Grip::New(_), Some(circle)) = (grip, self.circle) {
            if circle.r_mm < LEAST_MM / 2.0 {
                self.circle = None;
            } else {
                self.snap(scene);
            }
        }
    }

    /// A click starts at the proposal it meets.
    pub(super) fn click(&mut self, scene: &Scene, at: [f64; 2]) {
        let meets = |seen: &&Seen| (seen.centre_mm[0] - at[0]).hypot(seen.centre_mm[1] - at[1]) <= seen.r_mm;
        if let Some(&proposal) = self.proposals.iter().flatten().find(meets) {
            self.circle = Some(proposal);
            self.snap(scene);
        }
    }

    /// Looks for the rim near the circle.
    fn snap(&self, scene: &Scene) {
        let Some((circle, lens)) = self.circle.zip(Lens::of(scene)) else { return };
        let (Some(start), smd) = (lens.circle(&circle), self.smd) else { return };
        // What is known of the position says how large its can is.
        let known_mm = self.position(scene).and_then(|(_, position)| position.original.can.diameter_mm);
        let r_px = known_mm.map(|mm| [0.8, 1.3].map(|factor| factor * mm / 2.0 * start.r_px / circle.r_mm));
        self.finding.request("Looking for the rim", move |_| {
            let found = trace::snap(&lens.photo, start, &Known { smd, r_px });
            let stripe = trace::stripe(&lens.photo, found, smd);
            let direction = stripe.and_then(|degrees| lens.direction(&found, degrees));
            Found::Rim(lens.seen(&found).unwrap_or(circle), direction)
        });
    }

    /// Looks for cans all over the photo.
    fn find(&self, scene: &Scene) {
        let (Some(lens), smd) = (Lens::of(scene), self.smd) else { return };
        let side = scene.board().map(photo::side);
        let on_side = scene.board().into_iter().flat_map(|board| &board.positions);
        let on_side = on_side.filter(|position| Some(position.side.unwrap_or_default()) == side);
        let located: Vec<(f64, f64)> = on_side.filter_map(Position::centre_mm).collect();
        self.finding.request("Looking for cans in the photo", move |_| {
            let found = trace::find(&lens.photo, &Known { smd, r_px: None });
            let is_new = |seen: &Seen| {
                let off = |&(x, y): &(f64, f64)| (x - seen.centre_mm[0]).hypot(y - seen.centre_mm[1]);
                !located.iter().any(|at| off(at) < seen.r_mm)
            };
            Found::Cans(found.iter().filter_map(|circle| lens.seen(circle)).filter(is_new).collect())
        });
    }

    /// Starts at the proposal after the one taken last.
    fn next_proposal(&mut self, scene: &Scene) {
        if let Some(first) = self.proposals.as_mut().filter(|all| !all.is_empty()) {
            first.rotate_left(1);
            self.circle = first.last().copied();
            self.snap(scene);
        }
    }

    /// The designator that is offered: of the selected position or the next one without a place, else one that is free.
    fn designator(&self, scene: &Scene) -> String {
        if let Some(typed) = &self.typed {
            return typed.clone();
        }
        let Some(board) = scene.board() else { return String::new() };
        let selected =
            scene.position().filter(|(id, _)| id.board == scene.selection.board).map(|(_, position)| position);
        let open = selected.into_iter().chain(&board.positions).find(|position| position.centre_mm().is_none());
        open.map_or_else(|| next_name("C", &names(board)), |position| position.reference.clone())
    }

    /// The position of the board that bears the designator.
    fn position<'a>(&self, scene: &Scene<'a>) -> Option<(PositionId, &'a Position)> {
        let name = self.designator(scene);
        let index = scene.board()?.positions.iter().position(|position| position.reference == name.trim())?;
        let id = PositionId { board: scene.selection.board, index };
        Some((id, scene.job.position(id)?))
    }

    /// The circle on the board: without what the height of the can adds to it.
    fn on_board(&self, scene: &Scene) -> Option<Seen> {
        let seen = self.circle?;
        let board = scene.board()?;
        let middle_mm = Lens::of(scene)?.middle_mm()?;
        let nearer = board.photo_distance_mm.filter(|_| self.height_mm > 0.0);
        let share = nearer.map_or(Some(1.0), |distance_mm| trace::at_board(self.height_mm, distance_mm))?;
        let centre_mm = [0, 1].map(|n| middle_mm[n] + (seen.centre_mm[n] - middle_mm[n]) * share);
        Some(Seen { centre_mm, r_mm: seen.r_mm * share })
    }

    /// Makes the circle the place and the diameter of the position of this designator, which is added where it is new.
    fn enter(&mut self, scene: &LiveScene) {
        let (Some(found), Some(board)) = (self.on_board(scene), scene.board()) else { return };
        let name = self.designator(scene).trim().to_owned();
        if name.is_empty() {
            scene.push(Action::Say("Enter the designator of the can first, such as C12.".into()));
            return;
        }
        let [x_mm, y_mm] = found.centre_mm.map(tenth);
        let diameter_mm = tenth(2.0 * found.r_mm);
        let side = Some(photo::side(board)).filter(|side| *side != Side::Top);
        let known = self.position(scene);
        let mut position =
            known.map_or_else(|| Position { reference: name.clone(), ..Position::default() }, |k| k.1.clone());
        let can = &mut position.original.can;
        can.diameter_mm = Some(diameter_mm);
        if self.smd {
            can.mounting = can.mounting.or(Some(Mounting::Smd));
        }
        if self.height_mm > 0.0 {
            can.height_mm = can.height_mm.or(Some(self.height_mm));
        }
        (position.x_mm, position.y_mm) = (Some(x_mm), Some(y_mm));
        position.side = if side.is_some() { side } else { position.side.filter(|side| *side == Side::Top) };
        if let Some((degrees, true)) = self.stripe {
            position.rotation_deg = Some(degrees);
        }
        let photo = board.photo.as_deref().unwrap_or("photo");
        position.traced_from = Some(format!("{photo}: Ø {diameter_mm} mm at {x_mm}, {y_mm} mm, to about 1 mm"));
        scene.push(Action::EndEntry);
        let id = if let Some((id, _)) = known {
            scene.push(Action::Edit(Edit::Positions { changed: vec![(id, position)], field: "tracing".into() }));
            id
        } else {
            let board = scene.selection.board;
            scene.push(Action::Edit(Edit::Add { board, position: Box::new(position) }));
            PositionId { board, index: scene.board().map_or(0, |board| board.positions.len()) }
        };
        scene.extend([Action::EndEntry, Action::Select(id), Action::Say(format!("{name} is traced."))]);
        let mut taken = names(board);
        taken.insert(name.clone());
        let open = board.positions.iter().any(|other| other.centre_mm().is_none() && other.reference != name);
        self.typed = (!open).then(|| next_name(&name, &taken));
        if let (Some(proposals), Some(circle)) = (&mut self.proposals, self.circle) {
            proposals.retain(|other| {
                let [dx, dy] = [0, 1].map(|n| other.centre_mm[n] - circle.centre_mm[n]);
                dx.hypot(dy) > circle.r_mm
            });
        }
        self.forget(false);
    }

    /// What the keys do; whether something was done.
    pub(super) fn key(&mut self, scene: &LiveScene, camera: &Camera, key: Key, fine: bool) -> bool {
        let step_mm = if fine { 0.1 } else { 1.0 };
        let across = if camera.mirrored { -step_mm } else { step_mm };
        match (key, &mut self.circle) {
            (Key::Enter, None) => self.circle = Some(Seen { centre_mm: camera.centre_mm, r_mm: 5.0 }),
            (Key::Enter, Some(_)) => self.enter(scene),
            (Key::Space, Some(_)) => self.snap(scene),
            (Key::N, _) => self.next_proposal(scene),
            (Key::ArrowLeft, Some(circle)) => circle.centre_mm[0] -= across,
            (Key::ArrowRight, Some(circle)) => circle.centre_mm[0] += across,
            (Key::ArrowUp, Some(circle)) => circle.centre_mm[1] += step_mm,
            (Key::ArrowDown, Some(circle)) => circle.centre_mm[1] -= step_mm,
            (Key::Plus | Key::Equals, Some(circle)) => circle.r_mm += 0.25,
            (Key::Minus, Some(circle)) => circle.r_mm = (circle.r_mm - 0.25).max(LEAST_MM / 2.0),
            (Key::Escape, Some(_)) => self.forget(false),
            _ => return false,
        }
        true
    }

    /// Draws the circle and what is proposed.
    pub(super) fn draw(&self, painter: &Painter, camera: &Camera, tokens: &Tokens) {
        let faint = Stroke::new(1.5, tokens.focus.gamma_multiply(0.55));
        for seen in self.proposals.iter().flatten() {
            let [x, y] = seen.centre_mm;
            let around = (0..=48).map(|n| f64::from(n) / 48.0 * std::f64::consts::TAU);
            let points: Vec<_> =
                around.map(|a| camera.at([x + seen.r_mm * a.cos(), y + seen.r_mm * a.sin()])).collect();
            painter.extend(egui::Shape::dashed_line(&points, faint, 5.0, 4.0));
        }
        let Some(circle) = self.circle else { return };
        let (at, r) = (camera.at(circle.centre_mm), camera.length(circle.r_mm));
        painter.circle_stroke(at, r, Stroke::new(5.0, tokens.base.gamma_multiply(0.8)));
        painter.circle_stroke(at, r, Stroke::new(2.0, tokens.focus));
        for arm in [vec2(6.0, 0.0), vec2(0.0, 6.0)] {
            painter.line_segment([at - arm, at + arm], Stroke::new(2.0, tokens.focus));
        }
        for to in [vec2(r, 0.0), vec2(-r, 0.0), vec2(0.0, r), vec2(0.0, -r)] {
            painter.circle(at + to, 4.0, tokens.base, Stroke::new(2.0, tokens.focus));
        }
        if let Some((degrees, agreed)) = self.stripe {
            let (sin, cos) = degrees.to_radians().sin_cos();
            let [x, y] = circle.centre_mm;
            let minus = camera.at([x - 0.7 * circle.r_mm * cos, y - 0.7 * circle.r_mm * sin]);
            let size = (r * 0.4).clamp(10.0, 22.0);
            painter.circle(minus, size * 0.62, tokens.base, Stroke::new(if agreed { 2.5 } else { 1.0 }, tokens.focus));
            let font = FontId::new(size, FontFamily::Proportional);
            painter.text(minus, Align2::CENTER_CENTER, "−", font, tokens.text);
        }
    }
}

/// The photo and where it lies.
struct Lens {
    photo: Arc<Photo>,
    to_mm: Homography,
    to_px: Homography,
}

impl Lens {
    /// `None` where there is no photo, or one whose scale nobody set.
    fn of(scene: &Scene) -> Option<Self> {
        let (board, photo) = (scene.board()?, photo::of(scene)?);
        let [w, h] = [photo.width_px as f64, photo.height_px as f64];
        let px = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
        let mm = board.photo_corners_mm?;
        let (to_mm, to_px) = (Homography::through(px, mm)?, Homography::through(mm, px)?);
        Some(Self { photo: photo.clone(), to_mm, to_px })
    }

    /// What lies in the middle of the picture, mm.
    fn middle_mm(&self) -> Option<[f64; 2]> {
        self.to_mm.at([self.photo.width_px as f64 / 2.0, self.photo.height_px as f64 / 2.0])
    }

    fn seen(&self, circle: &Circle) -> Option<Seen> {
        let centre_mm = self.to_mm.at([circle.x_px, circle.y_px])?;
        let r_mm = reach(&self.to_mm, [circle.x_px, circle.y_px], circle.r_px)?;
        Some(Seen { centre_mm, r_mm })
    }

    fn circle(&self, seen: &Seen) -> Option<Circle> {
        let [x_px, y_px] = self.to_px.at(seen.centre_mm)?;
        Some(Circle { x_px, y_px, r_px: reach(&self.to_px, seen.centre_mm, seen.r_mm)? })
    }

    /// The direction from the stripe through the centre, degrees anticlockwise from the x axis; a right angle where it is near
    /// one, as cans mostly stand, else to five degrees.
    fn direction(&self, circle: &Circle, stripe_deg: f64) -> Option<f64> {
        let (sin, cos) = stripe_deg.to_radians().sin_cos();
        let minus = self.to_mm.at([circle.x_px + circle.r_px * cos, circle.y_px + circle.r_px * sin])?;
        let centre = self.to_mm.at([circle.x_px, circle.y_px])?;
        let degrees = (centre[1] - minus[1]).atan2(centre[0] - minus[0]).to_degrees();
        let right = (degrees / 90.0).round() * 90.0;
        let degrees = if (degrees - right).abs() <= 12.0 { right } else { (degrees / 5.0).round() * 5.0 };
        // Without a sign before a zero.
        Some(degrees.rem_euclid(360.0) + 0.0)
    }
}

/// How long a radius becomes: the mean over two directions, since a camera held at an angle makes a circle an ellipse.
fn reach(by: &Homography, [x, y]: [f64; 2], r: f64) -> Option<f64> {
    let [at, right, up] = [by.at([x, y])?, by.at([x + r, y])?, by.at([x, y + r])?];
    let far = |to: [f64; 2]| (to[0] - at[0]).hypot(to[1] - at[1]);
    Some((far(right) * far(up)).sqrt())
}

/// What to do, and the can as far as it is traced.
pub(super) fn panel(ui: &mut Ui, scene: &LiveScene, board: &Board, state: &mut BoardState) {
    if photo::of(scene).is_none() {
        ui.label("Lay a photo under the board first (Photo). Esc ends.");
        return;
    }
    if board.photo_corners_mm.is_none() {
        ui.horizontal_wrapped(|ui| {
            ui.label("The photo has no scale yet: sizes cannot be measured in it.");
            if ui.button("Calibrate scale").clicked() {
                state.take(Tool::Calibrate);
            }
        });
        return;
    }
    let trace = &mut state.trace;
    ui.horizontal_wrapped(|ui| {
        if trace.circle.is_some() {
            ui.label("Drag inside to move, the rim to resize (arrows, + −; Space looks for the rim; Enter adds it).");
        } else {
            ui.label("Press in the middle of a can and drag to its rim, or press Enter. Esc ends.");
        }
        let hover = "Bare metal up to the rim, without a sleeve.";
        if ui.checkbox(&mut trace.smd, "Surface mounted").on_hover_text(hover).changed() && trace.circle.is_some() {
            trace.snap(scene);
            ui.memory_mut(|memory| memory.request_focus(map_focus_id()));
        }
        let hover = "Proposes circles, screws and coils among them; nothing is entered. Click one to trace it.";
        if ui.button("Find cans").on_hover_text(hover).clicked() {
            trace.find(scene);
        }
        if let Some(proposals) = &trace.proposals {
            ui.label(format!("{} proposed", proposals.len()));
            let next = ui.add_enabled(!proposals.is_empty(), egui::Button::new("Next proposal"));
            if next.on_hover_text("Starts at the next circle that is proposed (N).").clicked() {
                trace.next_proposal(scene);
            }
        }
    });
    if trace.circle.is_some() {
        circle_panel(ui, scene, board, trace);
    }
}

/// The line of a circle: what it measures, what it is called, and the way into the job.
fn circle_panel(ui: &mut Ui, scene: &LiveScene, board: &Board, trace: &mut Trace) {
    ui.horizontal_wrapped(|ui| {
        let label = ui.label("Designator");
        let mut name = trace.designator(scene);
        let field = ui.add(TextEdit::singleline(&mut name).desired_width(56.0)).labelled_by(label.id);
        if field.changed() {
            trace.typed = Some(name);
        }
        if let Some(found) = trace.on_board(scene) {
            let [x, y] = found.centre_mm.map(|mm| figure(tenth(mm)));
            let diameter = figure(tenth(2.0 * found.r_mm));
            ui.label(format!("Ø {diameter} mm at {x}, {y} mm, to about 1 mm"));
        }
        let hover = "A tall can is nearer to the camera and seems larger and farther from the middle of the photo; with both \
                     heights that is taken off.";
        length(ui, "Can height", &mut trace.height_mm, 300.0).on_hover_text(hover);
        let mut distance_mm = board.photo_distance_mm.unwrap_or_default();
        let field = length(ui, "Camera above the board", &mut distance_mm, 10_000.0).on_hover_text(hover);
        let known = (distance_mm > 0.0).then_some(distance_mm);
        entry(scene, &field, "camera distance", |board| board.photo_distance_mm = known);
        if let Some((degrees, agreed)) = &mut trace.stripe {
            let words = format!("Stripe seen: rotation {}°", figure(*degrees));
            let hover = "The stripe marks the negative side. Look whether the minus in the circle lies on it, then confirm.";
            if ui.checkbox(agreed, words).on_hover_text(hover).changed() {
                // Enter adds the can, and does not take this back.
                ui.memory_mut(|memory| memory.request_focus(map_focus_id()));
            }
        }
        let words = match trace.position(scene) {
            Some((_, position)) => format!("Enter {}", position.reference),
            None => format!("Add {}", trace.designator(scene)),
        };
        if ui.button(words).on_hover_text("Enters place and diameter as measured from the photo (Enter).").clicked() {
            trace.enter(scene);
        } else if ui.button("Discard").on_hover_text("Forgets this circle (Esc).").clicked() {
            trace.forget(false);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_in_a_photo_taken_at_an_angle_leads_back_to_itself() {
        let photo = Arc::new(Photo { width_px: 400, height_px: 300, rgba: vec![0; 400 * 300 * 4] });
        let px = [[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]];
        let mm = [[2.0, 80.0], [98.0, 76.0], [101.0, -1.0], [-3.0, 2.0]];
        let lens =
            Lens { photo, to_mm: Homography::through(px, mm).unwrap(), to_px: Homography::through(mm, px).unwrap() };
        let seen = Seen { centre_mm: [60.0, 40.0], r_mm: 8.0 };
        let back = lens.seen(&lens.circle(&seen).unwrap()).unwrap();
        assert!((back.r_mm - 8.0).abs() < 0.1 && (back.centre_mm[0] - 60.0).abs() < 1e-6, "{back:?}");
    }
}
