//! What `size` writes: a row per position, a row per position and part, and what was not used.

use std::io;

use super::notation::computed;
use super::{Rejected, neutral_text};
use crate::domain::{Catalog, Check, Job, Outcome, PartId, PositionId};
use crate::physics::energy::stored_j;
use crate::sizing::assumed::assumed_values;
use crate::sizing::{
    CatalogIndex, Contexts, Evaluation, PositionContext, PositionSizing, Ranked, Sizing, best_at, better, evaluate_part,
};

/// Columns of `selection.csv`.
const SELECTION: [&str; 15] = [
    "board",
    "ref",
    "original",
    "part_number",
    "source",
    "verdict",
    "limiting_check",
    "headroom_pct",
    "life_h",
    "life_low_h",
    "life_high_h",
    "calendar_years",
    "stored_energy_j",
    "assumed",
    "assumed_values",
];

/// Columns of `candidates.csv` after board, ref, part number, verdict and the checks.
const FIGURES: [&str; 20] = [
    "voltage_usage",
    "ripple_eq_a",
    "ripple_allowed_a",
    "ripple_usage",
    "core_rise_k",
    "life_uncapped_h",
    "life_h",
    "life_low_h",
    "life_high_h",
    "calendar_years",
    "esr_at_hz",
    "esr_mohm",
    "esr_max_mohm",
    "diameter_slack_mm",
    "height_slack_mm",
    "pitch_error_mm",
    "unit_price",
    "headroom_pct",
    "assumed",
    "assumed_values",
];

/// Writes `selection.csv`: a row per position.
///
/// # Errors
/// When `out` cannot be written.
pub fn selection(out: impl io::Write, job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing) -> csv::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record(SELECTION)?;
    let places = Contexts::new(job, catalog_index.catalog());
    for position in &sizing.positions {
        writer.write_record(selection_row(job, &places, catalog_index.catalog(), position).unwrap_or_default())?;
    }
    Ok(writer.flush()?)
}

fn selection_row(
    job: &Job,
    places: &Contexts,
    catalog: &Catalog,
    sized: &PositionSizing,
) -> Option<[String; SELECTION.len()]> {
    let position = job.position(sized.id)?;
    let choice = &sized.choice;
    let values = || {
        let (part, place) = (choice.part?, places.at(sized.id)?);
        Some(assumed_values(&place, &catalog.can(part.id), &part.evaluation))
    };
    let figures = choice.part.map(|part| part.evaluation.figures).unwrap_or_default();
    let part_number = match (&choice.part, &position.pick) {
        (Some(part), _) => catalog.part_number(part.id),
        (None, Some(pick)) => pick,
        (None, None) => "",
    };
    Some([
        neutral_text(&job.boards.get(sized.id.board)?.name),
        neutral_text(&position.reference),
        neutral_text(position.original.label.as_deref().unwrap_or_default()),
        neutral_text(part_number),
        choice.source.word().into(),
        choice.verdict.word().into(),
        limiting_check(places, catalog, sized).map_or("", Check::word).into(),
        computed(figures.headroom.map(|h| h * 100.0)),
        computed(figures.life_h),
        computed(figures.life_low_h),
        computed(figures.life_high_h),
        computed(figures.calendar_years),
        computed(energy_j(job, catalog, sized)),
        choice.part.map(|part| part.evaluation.assumed.list()).unwrap_or_default(),
        values().unwrap_or_default(),
    ])
}

/// The check that limits the chosen part, or without one the check that most of the looked-at parts fail.
#[must_use]
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
#[must_use]
pub fn energy_j(job: &Job, catalog: &Catalog, sized: &PositionSizing) -> Option<f64> {
    let position = job.position(sized.id)?;
    let capacitance_uf = match &sized.choice.part {
        Some(part) => catalog.can(part.id).capacitance_uf,
        None => position.original.can.capacitance_uf,
    };
    stored_j(capacitance_uf? * 1e-6, position.stress.dc_v?.abs())
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
    let mut writer = csv::Writer::from_writer(out);
    let checks = Check::ALL.map(Check::word);
    writer.write_record(["board", "ref", "part_number", "verdict"].iter().chain(&checks).chain(&FIGURES))?;
    let places = Contexts::new(job, catalog_index.catalog());
    for sized in &sizing.positions {
        let Some(place) = places.at(sized.id) else { continue };
        let ranked = if all { every_part(&place, catalog_index) } else { best_at(&place, catalog_index, sized) };
        for part in &ranked {
            writer.write_record(candidate_row(job, sized.id, &place, catalog_index.catalog(), part))?;
        }
    }
    Ok(writer.flush()?)
}

/// Every part of the catalogue at a position, best first.
fn every_part(place: &PositionContext, catalog_index: &CatalogIndex) -> Vec<Ranked> {
    let catalog = catalog_index.catalog();
    let mut admitted = vec![false; catalog.len()];
    for PartId(row) in catalog_index.admitted(place) {
        admitted[row as usize] = true;
    }
    let mut ranked: Vec<Ranked> =
        catalog.ids().zip(&admitted).map(|(id, &admitted)| evaluate_part(place, catalog, id, !admitted)).collect();
    ranked.sort_unstable_by(|a, b| better(catalog, a, b));
    ranked
}

fn candidate_row(job: &Job, id: PositionId, place: &PositionContext, catalog: &Catalog, part: &Ranked) -> Vec<String> {
    let Evaluation { outcomes, figures: f, assumed, verdict, .. } = &part.evaluation;
    let (esr_hz, esr_max_mohm) = place.esr_limit();
    let board = job.boards.get(id.board).map_or("", |board| &board.name);
    let reference = job.position(id).map_or("", |position| &position.reference);
    let texts = [board, reference, catalog.part_number(part.id)].map(neutral_text);
    let words = std::iter::once(verdict).chain(outcomes).map(|outcome: &Outcome| outcome.word().to_owned());
    let figures = [
        f.voltage_usage,
        f.ripple_eq_a,
        f.ripple_allowed_a,
        f.ripple_usage,
        f.core_rise_k,
        f.life_uncapped_h,
        f.life_h,
        f.life_low_h,
        f.life_high_h,
        f.calendar_years,
        Some(esr_hz),
        f.esr_mohm,
        esr_max_mohm,
        f.diameter_slack_mm,
        f.height_slack_mm,
        f.pitch_error_mm,
        part.price,
        f.headroom.map(|h| h * 100.0),
    ];
    let values = assumed_values(place, &catalog.can(part.id), &part.evaluation);
    texts.into_iter().chain(words).chain(figures.map(computed)).chain([assumed.list(), values]).collect()
}

/// Writes `rejected.csv`: rows and cells that were not used.
///
/// # Errors
/// When `out` cannot be written.
pub fn rejected(out: impl io::Write, rejected: &[Rejected]) -> csv::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record(["file", "line", "field", "value", "reason"])?;
    for row in rejected {
        let [file, field, value, reason] =
            [&row.file.display().to_string(), &row.field, &row.value, &row.reason].map(|text| neutral_text(text));
        writer.write_record([file, row.line.to_string(), field, value, reason])?;
    }
    Ok(writer.flush()?)
}
