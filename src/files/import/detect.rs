//! What a table is: a placement, the parts list of a board, a list of parts, offers.

use super::field::{Field, Target};
use super::pairs;
use super::propose::propose;
use super::shape::{bare_numbers, capacitors_in, is_capacitance, is_counter, samples, share, tells_capacitance};
use crate::files::table::Table;

/// Whether a list of parts with such columns says what parts cost and nothing of what they are.
fn is_of_offers(table: &Table, fields: &[Option<Field>]) -> bool {
    let has = |field| fields.contains(&Some(field));
    let tells = |at| share(&samples(table, at), |cell| is_capacitance(cell) || tells_capacitance(cell)) >= 0.2;
    has(Field::PartNumber)
        && Field::OF_OFFERS.into_iter().any(has)
        && fields.iter().flatten().all(|field| field.kind().is_none() && *field != Field::OwnName)
        && !(0..fields.len()).any(|at| fields[at] != Some(Field::PartNumber) && tells(at))
}

/// What a table most probably is: coordinates make a placement, designators a list of positions, part numbers with prices or stock and
/// no figure of a part a list of offers, anything else a list of parts.
pub(super) fn detect(table: &Table) -> Target {
    let fields =
        |target| -> Vec<Option<Field>> { propose(table, target).columns.iter().map(|column| column.field).collect() };
    let placement = fields(Target::Placement);
    let has = |fields: &[Option<Field>], field| fields.contains(&Some(field));
    let positions = fields(Target::Positions);
    // Values in columns of their own are more than a placement file has: such a list is a board with its places.
    let value = has(&positions, Field::Capacitance) || has(&positions, Field::Value);
    let valued = value && has(&positions, Field::RatedV);
    if has(&placement, Field::X) && has(&placement, Field::Y) && has(&placement, Field::Designator) && !valued {
        return Target::Placement;
    }
    let Some(at) = positions.iter().position(|field| *field == Some(Field::Designator)) else {
        return if is_of_offers(table, &fields(Target::Parts)) { Target::Offers } else { Target::Parts };
    };
    // Part numbers can look like designators (`VX10`, `S-220`); a list of figures that names no capacitor is one of parts.
    let cells = samples(table, at);
    // Boards' lists have no such figures of a part, and no shelf.
    let figures =
        [Field::Ripple, Field::Esr, Field::Endurance, Field::TanDelta].into_iter().any(|f| has(&positions, f));
    let of_parts = figures || has(&fields(Target::Parts), Field::Stock);
    let told = || {
        let texts = |field| positions.iter().enumerate().filter(move |(_, of)| **of == Some(field)).map(|(at, _)| at);
        let described = |at| share(&samples(table, at), |cell| pairs::in_text(cell).is_some()) >= 0.8;
        texts(Field::Value).any(|at| share(&samples(table, at), tells_capacitance) >= 0.8)
            || texts(Field::Description).any(|at| share(&samples(table, at), tells_capacitance) >= 0.8 || described(at))
    };
    let numbered = !of_parts && !is_counter(&table.header[at]) && bare_numbers(&cells);
    let of_parts = !numbered && (valued || value && of_parts || told());
    if !cells.is_empty() && of_parts && !is_counter(&table.header[at]) && !cells.iter().any(|cell| capacitors_in(cell))
    {
        return Target::Parts;
    }
    Target::Positions
}
