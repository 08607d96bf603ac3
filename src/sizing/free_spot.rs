//! A free spot on the board beside a place.

use super::compare::at_least;
use super::footprint::{Footprint, Placed};
use crate::domain::{Board, Can, Catalog};

/// Farthest the second can may stand from the first, mm (common practice, no source: short connections).
const FARTHEST_MM: f64 = 40.0;

/// Step outward, mm, and directions tried on each ring.
const STEP_MM: f64 = 0.5;
const DIRECTIONS: u32 = 72;

/// A free spot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Centre from the board's lower left corner, mm.
    pub x_mm: f64,
    /// Centre from the board's lower left corner, mm.
    pub y_mm: f64,
    /// Distance to the centre of the place, mm.
    pub distance_mm: f64,
}

/// The spot nearest to position `index` where a body of `diameter_mm` stands clear of the edge, mounting holes, keep-outs and every body on the same
/// side, by `gap_mm` from bodies and from the can of the same diameter at the place itself. `Ok(None)` where there is none within 40 mm.
///
/// The map shows what was entered: parts that are not capacitors are only seen as keep-outs.
///
/// # Errors
/// What is missing on the map, in a sentence.
pub fn free_spot(
    board: &Board,
    index: usize,
    diameter_mm: f64,
    gap_mm: f64,
    catalog: &Catalog,
) -> Result<Option<Spot>, String> {
    let position = board.positions.get(index).ok_or("Expected a position of the board.")?;
    let centre = position.centre_mm().ok_or_else(|| format!("{} is not located on the map.", position.reference))?;
    let [width_mm, height_mm] = board.outline_mm.ok_or("The outline of the board is not known.")?;
    let side = position.side.unwrap_or_default();
    let round = |x: f64, y: f64| Placed::at(Footprint::Round { diameter_mm }, [x, y], None);
    let mut bodies = vec![round(centre.0, centre.1)];
    for (at, other) in board.positions.iter().enumerate() {
        if at == index || other.side.unwrap_or_default() != side {
            continue;
        }
        let place = other.centre_mm().ok_or_else(|| format!("{} is not located on the map.", other.reference))?;
        let shadow = |can: &Can| Placed::of(can, [place.0, place.1], other.rotation_deg);
        let body = match &other.pick {
            Some(pick) => catalog.find(pick).and_then(|id| shadow(&catalog.can(id))),
            None => shadow(&other.original.can),
        };
        bodies.push(body.ok_or_else(|| format!("The body of {} is not known.", other.reference))?);
    }
    let radius_mm = diameter_mm / 2.0;
    let clear = |x: f64, y: f64| {
        let inside = x >= radius_mm && y >= radius_mm && x <= width_mm - radius_mm && y <= height_mm - radius_mm;
        inside
            && bodies.iter().all(|body| at_least(body.gap_mm(&round(x, y)), gap_mm))
            && board.holes_mm.iter().all(|&[hx, hy, d]| (x - hx).hypot(y - hy) >= d / 2.0 + radius_mm)
            && board.keepouts_mm.iter().all(|&[kx, ky, kw, kh]| {
                let (nearest_x, nearest_y) = (x.clamp(kx, kx + kw.max(0.0)), y.clamp(ky, ky + kh.max(0.0)));
                (x - nearest_x).hypot(y - nearest_y) >= radius_mm
            })
    };
    let mut distance_mm = diameter_mm + gap_mm;
    while distance_mm <= FARTHEST_MM.max(diameter_mm + gap_mm) {
        for direction in 0..DIRECTIONS {
            let (sine, cosine) = (std::f64::consts::TAU * f64::from(direction) / f64::from(DIRECTIONS)).sin_cos();
            let (x_mm, y_mm) = (centre.0 + distance_mm * cosine, centre.1 + distance_mm * sine);
            if clear(x_mm, y_mm) {
                return Ok(Some(Spot { x_mm, y_mm, distance_mm }));
            }
        }
        distance_mm += STEP_MM;
    }
    Ok(None)
}

#[cfg(test)]
mod tests {
    use super::super::testing_duty::{duty, position};
    use super::*;

    fn board() -> Board {
        let mut positions = ["C1", "C2"].map(|name| position(name, duty(&[(1.0, 60.0, 1.0)])));
        (positions[0].x_mm, positions[0].y_mm) = (Some(10.0), Some(10.0));
        (positions[1].x_mm, positions[1].y_mm) = (Some(22.0), Some(10.0));
        Board { outline_mm: Some([40.0, 20.0]), positions: positions.to_vec(), ..Board::default() }
    }

    #[test]
    fn the_spot_is_clear_of_edge_bodies_holes_and_keep_outs() {
        let mut board = board();
        board.holes_mm = vec![[10.0, 3.0, 3.0]];
        let spot = free_spot(&board, 0, 6.0, 1.0, &Catalog::default()).unwrap().unwrap();
        // its neighbour has a largest body of 10.5 mm
        assert!((spot.x_mm - 22.0).hypot(spot.y_mm - 10.0) >= 5.25 + 3.0 + 1.0 - 1e-9);
        assert!((spot.distance_mm - 7.0).abs() < 1e-9 && spot.y_mm >= 3.0 && spot.y_mm <= 17.0);
        board.keepouts_mm = vec![[0.0, 0.0, 40.0, 4.0], [0.0, 16.0, 40.0, 4.0]];
        let narrow = free_spot(&board, 0, 6.0, 1.0, &Catalog::default()).unwrap();
        assert!(narrow.is_none_or(|spot| spot.y_mm >= 7.0 && spot.y_mm <= 13.0));
    }

    #[test]
    fn a_full_board_has_none_and_a_map_with_gaps_is_not_trusted() {
        let mut board = board();
        assert_eq!(free_spot(&board, 0, 19.0, 1.0, &Catalog::default()), Ok(None));
        board.positions[1].x_mm = None;
        assert!(free_spot(&board, 0, 6.0, 1.0, &Catalog::default()).unwrap_err().contains("C2"));
        board.positions.remove(1);
        board.outline_mm = None;
        assert!(free_spot(&board, 0, 6.0, 1.0, &Catalog::default()).unwrap_err().contains("outline"));
    }
}
