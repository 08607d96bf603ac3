//! What sits at a position: the chosen part, else the original.

use super::checks::Supply;
use super::position_context::PositionContext;
use super::size::Sizing;
use crate::domain::{Can, Catalog, Job, PartId, PositionId};

/// The can at a position.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Part number, or what is printed on the original.
    pub name: String,
    /// Its figures.
    pub can: Can,
    /// The part; `None` for the original, for want of a chosen part.
    pub part: Option<PartId>,
}

impl Fitted {
    /// A part of the catalogue.
    pub fn part(catalog: &Catalog, id: PartId) -> Self {
        Self { name: catalog.part_number(id).to_owned(), can: catalog.can(id), part: Some(id) }
    }

    /// What is known of its supply.
    pub fn supply(&self, context: &PositionContext, catalog: &Catalog) -> Supply {
        self.part.map_or_else(Supply::default, |id| Supply::of(context, catalog, id))
    }
}

/// The chosen part at a position, else the original; `None` when the job has no such position.
pub fn fitted(job: &Job, catalog: &Catalog, sizing: &Sizing, id: PositionId) -> Option<Fitted> {
    let chosen = sizing.position(id).and_then(|sized| sized.choice.part);
    if let Some(part) = chosen {
        return Some(Fitted::part(catalog, part.id));
    }
    let original = &job.position(id)?.original;
    let name = original.label.clone().unwrap_or_else(|| "original".into());
    Some(Fitted { name, can: original.can.clone(), part: None })
}
