//! What a table is: a placement, the parts list of a board, a list of parts, offers.

use super::field::{Field, Target};
use super::pairs;
use super::propose::{Proposal, propose};
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

/// The columns of a table as what it most probably is: coordinates make a placement, designators a list of positions, part numbers
/// with prices or stock and no figure of a part a list of offers, anything else a list of parts.
pub(super) fn detect(table: &Table) -> Proposal {
    let fields = |of: &Proposal| -> Vec<Option<Field>> { of.columns.iter().map(|column| column.field).collect() };
    let has = |fields: &[Option<Field>], field| fields.contains(&Some(field));
    let as_positions = propose(table, Target::Positions);
    let positions = fields(&as_positions);
    // Values in columns of their own are more than a placement file has: such a list is a board with its places.
    let value = has(&positions, Field::Capacitance) || has(&positions, Field::Value);
    let valued = value && has(&positions, Field::RatedV);
    if !valued {
        let as_placement = propose(table, Target::Placement);
        let placement = fields(&as_placement);
        if [Field::X, Field::Y, Field::Designator].into_iter().all(|field| has(&placement, field)) {
            return as_placement;
        }
    }
    let Some(at) = positions.iter().position(|field| *field == Some(Field::Designator)) else {
        let as_parts = propose(table, Target::Parts);
        return if is_of_offers(table, &fields(&as_parts)) { propose(table, Target::Offers) } else { as_parts };
    };
    // Part numbers can look like designators (`VX10`, `S-220`); a list of figures that names no capacitor is one of parts.
    let cells = samples(table, at);
    if cells.is_empty() || is_counter(&table.header[at]) || cells.iter().any(|cell| capacitors_in(cell)) {
        return as_positions;
    }
    let as_parts = propose(table, Target::Parts);
    // Boards' lists have no such figures of a part, and no shelf.
    let figures =
        [Field::Ripple, Field::Esr, Field::Endurance, Field::TanDelta].into_iter().any(|f| has(&positions, f));
    let of_parts = figures || has(&fields(&as_parts), Field::Stock);
    let told = || {
        let texts = |field| positions.iter().enumerate().filter(move |(_, of)| **of == Some(field)).map(|(at, _)| at);
        let described = |at| share(&samples(table, at), |cell| pairs::in_text(cell).is_some()) >= 0.8;
        texts(Field::Value).any(|at| share(&samples(table, at), tells_capacitance) >= 0.8)
            || texts(Field::Description).any(|at| share(&samples(table, at), tells_capacitance) >= 0.8 || described(at))
    };
    let numbered = !of_parts && bare_numbers(&cells);
    if !numbered && (valued || value && of_parts || told()) { as_parts } else { as_positions }
}
