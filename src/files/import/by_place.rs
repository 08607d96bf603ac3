//! What the columns of a table without header hold, by their places behind the designator.

use super::field::{Field, Target};
use super::pairs;
use super::shape::{self, is_capacitance, is_coordinate, is_number, share};
use crate::files::cell::Column;

/// Why a column of bare figures was taken.
pub(super) const BARE: &str = "by its place in a table without header; a capacitance in µF";

/// Why a column of a placement was taken.
const PLACED: &str = "by its place in a table without header";

/// Which column holds what, and why, where `known` are the fields found so far: behind the designator stand two coordinates and a
/// rotation, or a capacitance and a voltage.
pub(super) fn fields(
    known: &[Option<Field>],
    cells: &[Vec<&str>],
    target: Target,
) -> Vec<(usize, Field, &'static str)> {
    let Some(first) = known.iter().position(|field| *field == Some(Field::Designator)) else { return Vec::new() };
    let all = |at: usize, share_of: f64, is: &dyn Fn(&str) -> bool| {
        at < cells.len() && !cells[at].is_empty() && share(&cells[at], is) >= share_of
    };
    let numeric = |at: usize| all(at, 0.95, &is_coordinate);
    let right = |cell: &str| {
        cell.trim_start_matches('R').parse::<f64>().is_ok_and(|deg| deg.abs() <= 360.0 && deg % 15.0 == 0.0)
    };
    if numeric(first + 1) && numeric(first + 2) && all(first + 3, 0.9, &right) {
        let place = [(first + 1, Field::X), (first + 2, Field::Y), (first + 3, Field::Rotation)];
        // Value and package follow.
        let words = [(first + 4, Field::Value), (first + 5, Field::Footprint)].into_iter().filter(|&(at, _)| {
            at < cells.len() && !numeric(at) && share(&cells[at], |cell| shape::side(cell).is_some()) < 0.5
        });
        let place = place.into_iter().filter(|_| target != Target::Parts);
        return place.chain(words).map(|(at, field)| (at, field, PLACED)).collect();
    }
    if target == Target::Placement || first + 1 >= cells.len() {
        return Vec::new();
    }
    let figures = |at: usize| all(at, 0.95, &is_number);
    let bare = |at: usize| figures(at) || share(&cells[at], is_capacitance) >= 0.5;
    let free = |field| !known.contains(&Some(field));
    // `C1;16;1000`: what the figures can be says which of two columns is the capacitance, else a person has to.
    let (mut uf, mut volts) = (first + 1, first + 2);
    if free(Field::Value) && free(Field::RatedV) && figures(uf) && figures(volts) {
        let pairs: Vec<String> = cells[uf].iter().zip(&cells[volts]).map(|(a, b)| format!("{a}/{b}")).collect();
        let pairs: Vec<&str> = pairs.iter().map(String::as_str).collect();
        match pairs::of_column("", &pairs, &Column::dot()).and_then(|pairs| pairs.capacitance_first) {
            Some(true) => {}
            Some(false) => std::mem::swap(&mut uf, &mut volts),
            None => return Vec::new(),
        }
    }
    let capacitance = (free(Field::Value) && bare(uf)).then_some((uf, Field::Capacitance));
    let rated = free(Field::RatedV) && figures(volts) && bare(uf);
    let voltage = rated.then_some((volts, Field::RatedV));
    let open = capacitance.into_iter().chain(voltage).filter(|&(at, _)| known[at].is_none());
    open.map(|(at, field)| (at, field, BARE)).collect()
}
