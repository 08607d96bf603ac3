//! Outlines of the new parts in their true size.

use std::collections::BTreeMap;

use super::html::escape;
use crate::domain::{Can, Catalog, Job, Mounting, Technology};
use crate::physics::body;
use crate::sizing::PositionSizing;

/// The new parts of a board from above in their true size, for a part to be laid on.
pub(super) fn true_sizes(job: &Job, catalog: &Catalog, of_board: &[&PositionSizing]) -> String {
    let mut by_part: BTreeMap<&str, (Can, Vec<String>)> = BTreeMap::new();
    for sized in of_board {
        let (Some(part), Some(position)) = (sized.choice.part, job.position(sized.id)) else { continue };
        let (_, references) =
            by_part.entry(catalog.part_number(part.id)).or_insert_with(|| (catalog.can(part.id), Vec::new()));
        references.push(escape(&position.reference));
    }
    let mut by_part: Vec<_> = by_part.into_iter().collect();
    // Those of one height stand beside each other.
    by_part.sort_by(|(_, (a, _)), (_, (b, _))| f64::total_cmp(&across_mm(b), &across_mm(a)));
    let drawn: String = by_part
        .iter()
        .filter_map(|(number, (can, references))| {
            let svg = outline(can)?;
            Some(format!("<div>{svg}<b>{}</b><br>{}</div>\n", references.join(", "), escape(number)))
        })
        .collect();
    if drawn.is_empty() {
        return String::new();
    }
    format!(
        "<h3>True size, largest bodies: lay the part on its outline (printed at 100 %)</h3>\n<div class=\"sizes\">\n{drawn}</div>\n"
    )
}

fn across_mm(can: &Can) -> f64 {
    body::of(can).diameter_max_mm.unwrap_or_default()
}

/// The largest body of a can from above, a unit for each millimetre; the bar is the negative side.
fn outline(can: &Can) -> Option<String> {
    let body = body::of(can);
    let across = body.diameter_max_mm.filter(|mm| *mm > 0.0)?;
    let lies = can.mounting == Some(Mounting::Axial);
    let long = if lies { body.height_max_mm.filter(|mm| *mm > 0.0)? } else { across };
    let (wide, high) = (long + 1.0, across + 1.0);
    let shape = if lies {
        format!("<rect x=\"0.5\" y=\"0.5\" width=\"{long}\" height=\"{across}\"")
    } else {
        format!("<circle cx=\"{0}\" cy=\"{0}\" r=\"{1}\"", wide / 2.0, across / 2.0)
    };
    let bar = if can.technology == Some(Technology::NonPolar) {
        String::new()
    } else {
        let (x, reach) = (0.5 + long * 0.12, if lies { across / 2.0 } else { across * 0.32 });
        let (top, bottom) = (high / 2.0 - reach, high / 2.0 + reach);
        format!("<path d=\"M{x} {top}V{bottom}\" stroke=\"#000\" stroke-width=\"0.9\"/>")
    };
    Some(format!(
        "<svg width=\"{wide}mm\" height=\"{high}mm\" viewBox=\"0 0 {wide} {high}\">{shape} fill=\"none\" stroke=\"#000\" stroke-width=\"0.3\"/>{bar}</svg>"
    ))
}
