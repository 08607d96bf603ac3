//! Why a part does not fit, in the drawing: the part that is looked at over the place, with the length that is missing.

use egui::Ui;

use crate::app::actions::command::Command;
use crate::app::actions::{Action, LiveScene};
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::state::selection::Candidate;
use crate::domain::{Outcome, Position};
use crate::files::board_drawing;
use crate::files::board_page::Page;
use crate::files::drawing::{self, Anchor, Ink, Line, Shape};
use crate::sizing::reasons::figure;
use crate::sizing::why_not::{self, Relax, mounting_word};
use crate::sizing::{BoardMap, FitFault, Footprint};

/// Draws it; returns the areas its words take (left, top, right, bottom).
pub(super) fn on_map(
    out: &mut Vec<Shape>,
    scene: &Scene,
    map: &BoardMap,
    page: &Page,
    width: &dyn Fn(&str, f64) -> f64,
) -> Vec<[f64; 4]> {
    let shown = || {
        let can = map.can(scene.selection.position?)?;
        let candidate = scene.selection.hovered.or_else(|| scene.candidate())?;
        let (part, evaluation) = (scene.can(candidate)?, scene.evaluation(candidate)?);
        let footprint = Footprint::of(&part)?;
        Some((can, candidate, part, evaluation, can.placed(footprint)))
    };
    let Some((can, candidate, part, evaluation, placed)) = shown() else { return Vec::new() };
    let line = |ink, points: f64| Line { ink, width: points * page.point, dashes: None };
    if Some(candidate) != scene.chosen() && candidate != Candidate::Original {
        let ink = Ink::Of(evaluation.verdict);
        board_drawing::body(out, page, &placed, Some((ink, 0.25)), Some(line(ink, 2.0)));
    }
    let lengths = scene.place().and_then(|context| why_not::lengths(context, &part, &evaluation));
    let Some(lengths) = lengths else { return Vec::new() };
    let fails = evaluation.outcome(crate::domain::Check::Fit) == Outcome::Fail;
    let ink = Ink::Of(if fails { Outcome::Fail } else { Outcome::Marginal });
    let ([rx, ry], _) = placed.axes();
    let [_, across_mm] = placed.footprint.size_mm();
    // Two lengths below the can: what the part takes, and what is there for it.
    let lies = matches!(lengths.fault, FitFault::Diameter | FitFault::Pitch);
    let down = can.original.map_or(0.0, |original| original.size_mm()[1]).max(across_mm) / 2.0 * page.scale;
    let [x, y] = page.at(can.centre_mm);
    let mut base = y + down + 10.0 * page.point;
    if lies {
        let level = |length_mm: f64, at: f64| {
            let half = length_mm / 2.0 * page.scale;
            let turn = if page.mirrored { -1.0 } else { 1.0 };
            // Along the leads where they lie on the board, else straight across.
            let (dx, dy) = if lengths.fault == FitFault::Pitch { (rx * turn, -ry) } else { (1.0, 0.0) };
            let (dx, dy, sx, sy) = if dy.abs() > dx.abs() { (0.0, 1.0, at, 0.0) } else { (1.0, 0.0, 0.0, at) };
            [[x - dx * half + sx, y - dy * half + sy], [x + dx * half + sx, y + dy * half + sy]]
        };
        for (n, length_mm) in [lengths.own_mm, lengths.room_mm].into_iter().enumerate() {
            let at = down + (14.0 + 9.0 * n as f64) * page.point;
            let own = if n == 0 { ink } else { Ink::Text };
            drawing::dimension(out, level(length_mm, at), 5.0 * page.point, line(own, 1.5));
        }
        base += 18.0 * page.point;
    }
    let size = 12.0 * page.point;
    let half = width(&lengths.words, size) / 2.0 + 4.0 * page.point;
    let [left, _, right, bottom] = page.sight;
    let at = [x.clamp((left + half).min(right - half), (right - half).max(left + half)), base.min(bottom - size * 1.3)];
    let (text, anchor) = (lengths.words, Anchor::Top);
    out.push(Shape::Text { at, anchor, size, text, ink, on_ground: true });
    vec![[at[0] - half, y + down, at[0] + half, at[1] + size * 1.3]]
}

/// Offers what may be relaxed so that the part looked at fits.
pub(super) fn relax(ui: &mut Ui, scene: &LiveScene, candidate: Candidate) {
    let offered = || {
        let (part, evaluation) = (scene.can(candidate)?, scene.evaluation(candidate)?);
        why_not::relax(scene.place()?, &part, &evaluation)
    };
    let (Some(may), Some((id, position))) = (offered(), scene.position()) else { return };
    let (name, hover) = match &may {
        Relax::LeadReach(mm) => (
            format!("Form leads up to {} mm", figure(*mm)),
            "Allows leads to be formed this far at this position. Bend them away from the seal.",
        ),
        Relax::Accept(mounting) => (
            format!("Accept {} here", mounting_word(*mounting)),
            "Accepts this mounting at this position, too: it counts as work to do.",
        ),
        Relax::Diameter(mm) => (
            format!("Measure: Ø {} mm free?", figure(*mm)),
            "Opens the editor: measure the room beside the can and enter it.",
        ),
        Relax::Height(mm) => (
            format!("Measure: {} mm high?", figure(*mm)),
            "Opens the editor: measure the room above the board and enter it.",
        ),
        Relax::Neighbour(name) => {
            (format!("Go to {name}"), "A smaller part there, or more exact places of both, may give the gap.")
        }
    };
    if !ui.button(name).on_hover_text(hover).clicked() {
        return;
    }
    let mut changed: Position = position.clone();
    match may {
        Relax::LeadReach(mm) => changed.space.pitch_reach_mm = Some(mm),
        Relax::Accept(mounting) => changed.space.accepts.get_or_insert_default().push(mounting),
        Relax::Diameter(_) | Relax::Height(_) => return scene.push(Action::Run(Command::EditPosition)),
        Relax::Neighbour(name) => {
            let here = scene.job.positions().filter(|(other, _)| other.board == id.board);
            let found = here.into_iter().find(|(_, position)| position.reference == name);
            return scene.extend(found.map(|(id, _)| Action::Select(id)));
        }
    }
    scene.extend(Action::once(Edit::Positions { changed: vec![(id, changed)], field: "room".into() }));
}
