//! What `size` writes: a row per position, a row per position and part, and what was not used.

use std::io;

use super::Rejected;
use super::columns::{Cell, Column, add, begin, csv, text};
use crate::domain::{Catalog, Check, Job, Position};
use crate::physics::energy::stored_j;
use crate::sizing::assumed::assumed_values;
use crate::sizing::{
    CatalogIndex, Contexts, Figures, PositionContext, PositionSizing, Ranked, Sizing, Terms, best_at, better,
    evaluate_all, evaluate_excluded,
};

/// A position of the selection.
struct Selected<'a> {
    places: &'a Contexts<'a>,
    catalog: &'a Catalog,
    sized: &'a PositionSizing,
    position: &'a Position,
}

impl Selected<'_> {
    fn figures(&self) -> Figures {
        self.sized.choice.part.map(|part| part.evaluation.figures).unwrap_or_default()
    }

    fn assumed_values(&self) -> Option<String> {
        let (part, place) = (self.sized.choice.part?, self.places.at(self.sized.id)?);
        Some(assumed_values(&place, &self.catalog.can(part.id), &part.evaluation))
    }

    fn part_number(&self) -> &str {
        match (&self.sized.choice.part, &self.position.pick) {
            (Some(part), _) => self.catalog.part_number(part.id),
            (None, pick) => pick.as_deref().unwrap_or_default(),
        }
    }
}

/// Columns of `selection.csv`.
fn selection_columns<'a>() -> [Column<Selected<'a>>; 15] {
    use Cell::Computed;
    [
        ("board", |row| text(row.places.job().board_name(Some(row.sized.id.board)))),
        ("ref", |row| text(&row.position.reference)),
        ("original", |row| text(row.position.original.label.as_deref().unwrap_or_default())),
        ("part_number", |row| text(row.part_number())),
        ("source", |row| text(row.sized.choice.source.word())),
        ("verdict", |row| text(row.sized.choice.verdict.word())),
        ("limiting_check", |row| text(limiting_check(row.places, row.catalog, row.sized).map_or("", Check::word))),
        ("headroom_pct", |row| Computed(row.figures().headroom.map(|share| share * 100.0))),
        ("life_h", |row| Computed(row.figures().life_h)),
        ("life_low_h", |row| Computed(row.figures().life_low_h)),
        ("life_high_h", |row| Computed(row.figures().life_high_h)),
        ("calendar_years", |row| Computed(row.figures().calendar_years)),
        ("stored_energy_j", |row| Computed(energy_j(row.places.job(), row.catalog, row.sized))),
        ("assumed", |row| text(row.sized.choice.part.map(|part| part.evaluation.assumed.list()).unwrap_or_default())),
        ("assumed_values", |row| text(row.assumed_values().unwrap_or_default())),
    ]
}

/// Writes `selection.csv`: a row per position.
///
/// # Errors
/// When `out` cannot be written.
pub fn selection(out: impl io::Write, job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing) -> csv::Result<()> {
    let catalog = catalog_index.catalog();
    let places = Contexts::new(job, catalog);
    let row = |sized| Some(Selected { places: &places, catalog, sized, position: job.position(sized.id)? });
    csv(out, &selection_columns(), sizing.positions.iter().filter_map(row))
}

/// The check that limits the chosen part, or without one the check that most of the looked-at parts fail.
pub fn limiting_check(places: &Contexts, catalog: &Catalog, sized: &PositionSizing) -> Option<Check> {
    if let Some(part) = &sized.choice.part {
        let place = places.at(sized.id)?;
        return part.evaluation.limiting_check(place.margins(&catalog.can(part.id), &part.evaluation));
    }
    let worst = Check::ALL.into_iter().zip(sized.failing?).max_by_key(|&(_, count)| count);
    worst.filter(|&(_, count)| count > 0).map(|(check, _)| check)
}

/// Energy stored at the operating voltage, J: of the chosen part, else of the original. The caution goes by the highest voltage
/// instead ([`crate::sizing::stored_energy`]).
pub fn energy_j(job: &Job, catalog: &Catalog, sized: &PositionSizing) -> Option<f64> {
    let position = job.position(sized.id)?;
    let capacitance_uf = match &sized.choice.part {
        Some(part) => catalog.can(part.id).capacitance_uf,
        None => position.original.can.capacitance_uf,
    };
    stored_j(capacitance_uf? * 1e-6, position.stress.dc_v?.abs())
}

/// A part at a position.
struct Candidate<'a> {
    place: &'a PositionContext<'a>,
    board: &'a str,
    position: &'a Position,
    catalog: &'a Catalog,
    part: &'a Ranked,
}

impl Candidate<'_> {
    fn figures(&self) -> &Figures {
        &self.part.evaluation.figures
    }

    /// The terms of the offer that gives the cost of the need, else of the row of the catalogue.
    fn terms(&self) -> Terms<'_> {
        Terms::of(self.catalog, self.part.id, self.part.offer)
    }

    fn check(&self, check: Check) -> Cell {
        text(self.part.evaluation.outcome(check).word())
    }
}

/// Columns of `candidates.csv`.
fn candidate_columns<'a>() -> [Column<Candidate<'a>>; 26 + Check::ALL.len()] {
    use Cell::Computed;
    [
        ("board", |row| text(row.board)),
        ("ref", |row| text(&row.position.reference)),
        ("part_number", |row| text(row.catalog.part_number(row.part.id))),
        ("verdict", |row| text(row.part.evaluation.verdict.word())),
        (Check::Voltage.word(), |row| row.check(Check::Voltage)),
        (Check::Ripple.word(), |row| row.check(Check::Ripple)),
        (Check::Life.word(), |row| row.check(Check::Life)),
        (Check::Esr.word(), |row| row.check(Check::Esr)),
        (Check::Capacitance.word(), |row| row.check(Check::Capacitance)),
        (Check::Fit.word(), |row| row.check(Check::Fit)),
        (Check::Temperature.word(), |row| row.check(Check::Temperature)),
        (Check::Leakage.word(), |row| row.check(Check::Leakage)),
        (Check::Supply.word(), |row| row.check(Check::Supply)),
        ("voltage_usage", |row| Computed(row.figures().voltage_usage)),
        ("ripple_eq_a", |row| Computed(row.figures().ripple_eq_a)),
        ("ripple_allowed_a", |row| Computed(row.figures().ripple_allowed_a)),
        ("ripple_usage", |row| Computed(row.figures().ripple_usage)),
        ("core_rise_k", |row| Computed(row.figures().core_rise_k)),
        ("life_uncapped_h", |row| Computed(row.figures().life_uncapped_h)),
        ("life_h", |row| Computed(row.figures().life_h)),
        ("life_low_h", |row| Computed(row.figures().life_low_h)),
        ("life_high_h", |row| Computed(row.figures().life_high_h)),
        ("calendar_years", |row| Computed(row.figures().calendar_years)),
        ("esr_at_hz", |row| Computed(Some(row.place.esr_limit().0))),
        ("esr_mohm", |row| Computed(row.figures().esr_mohm)),
        ("esr_max_mohm", |row| Computed(row.place.esr_limit().1)),
        ("diameter_slack_mm", |row| Computed(row.figures().diameter_slack_mm)),
        ("height_slack_mm", |row| Computed(row.figures().height_slack_mm)),
        ("pitch_error_mm", |row| Computed(row.figures().pitch_error_mm)),
        ("unit_price", |row| Computed(row.terms().small_price)),
        ("headroom_pct", |row| Computed(row.figures().headroom.map(|share| share * 100.0))),
        ("assumed", |row| text(row.part.evaluation.assumed.list())),
        ("assumed_values", |row| text(assumed_values(row.place, &row.catalog.can(row.part.id), &row.part.evaluation))),
        ("currency", |row| text(row.terms().currency)),
        ("need_cost", |row| Computed(row.part.cost)),
    ]
}

/// Writes `candidates.csv`: the best parts of each position, or with `all` every part, best first.
///
/// # Errors
/// When `out` cannot be written.
pub fn candidates(
    out: impl io::Write,
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    all: bool,
) -> csv::Result<()> {
    let catalog = catalog_index.catalog();
    let places = Contexts::new(job, catalog);
    let mut writer = csv::Writer::from_writer(out);
    begin(&mut writer, &candidate_columns())?;
    for sized in &sizing.positions {
        let (Some(place), Some(position)) = (places.at(sized.id), job.position(sized.id)) else { continue };
        let ranked = if all { every_part(&place, catalog_index) } else { best_at(&place, catalog_index, sized) };
        let board = job.board_name(Some(sized.id.board));
        let rows = ranked.iter().map(|part| Candidate { place: &place, board, position, catalog, part });
        add(&mut writer, &candidate_columns(), rows)?;
    }
    Ok(writer.flush()?)
}

/// Every part of the catalogue at a position, best first.
fn every_part(place: &PositionContext, catalog_index: &CatalogIndex) -> Vec<Ranked> {
    let catalog = catalog_index.catalog();
    let mut ranked = evaluate_all(place, catalog, &catalog_index.admitted(place));
    ranked.extend(catalog_index.excluded(place).into_iter().map(|part| evaluate_excluded(place, catalog, part)));
    ranked.sort_unstable_by(|a, b| better(catalog, a, b));
    ranked
}

/// Writes `rejected.csv`: rows and cells that were not used.
///
/// # Errors
/// When `out` cannot be written.
pub fn rejected(out: impl io::Write, rejected: &[Rejected]) -> csv::Result<()> {
    let columns: [Column<&Rejected>; 5] = [
        ("file", |row| text(row.file.display().to_string())),
        ("line", |row| Cell::Number(Some(row.line as f64))),
        ("field", |row| text(&row.field)),
        ("value", |row| text(&row.value)),
        ("reason", |row| text(&row.reason)),
    ];
    csv(out, &columns, rejected)
}
