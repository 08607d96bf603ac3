//! The sizing of a job as a table for the terminal.

use refarad::domain::{Catalog, Job};
use refarad::files::export::limiting_check;
use refarad::sizing::reasons::figure;
use refarad::sizing::{Interval, PositionSizing, Sizing, Source};

/// Prints a line for each position and one for each board.
pub(super) fn print(job: &Job, catalog: &Catalog, sizing: &Sizing) {
    let rows: Vec<[String; 7]> = sizing.positions.iter().filter_map(|p| row(job, catalog, p)).collect();
    let headings = ["position", "old part", "new part", "", "verdict", "life", "limited by; assumed"].map(String::from);
    let width =
        |column: usize| rows.iter().chain([&headings]).map(|row| row[column].chars().count()).max().unwrap_or_default();
    let widths: [usize; 7] = std::array::from_fn(width);
    for row in [&headings].into_iter().chain(&rows) {
        let cells: Vec<String> = row.iter().zip(widths).map(|(cell, width)| format!("{cell:width$}")).collect();
        println!("{}", cells.join("  ").trim_end());
    }
    println!();
    for (board, sized) in job.boards.iter().zip(&sizing.boards) {
        let built = interval(job, &sized.as_built);
        println!("{}: as chosen {}; with the original parts new, {built}", board.name, interval(job, &sized.as_chosen));
    }
}

fn row(job: &Job, catalog: &Catalog, sized: &PositionSizing) -> Option<[String; 7]> {
    let position = job.position(sized.id)?;
    let board = &job.boards.get(sized.id.board)?.name;
    let choice = &sized.choice;
    let part = match (&choice.part, &position.pick) {
        (Some(part), _) => catalog.part_number(part.id).to_owned(),
        (None, Some(pick)) => format!("{pick} (not in the catalogue)"),
        (None, None) => "no part holds".to_owned(),
    };
    let source = if choice.source == Source::None { "" } else { choice.source.word() };
    let figures = choice.part.map(|part| part.evaluation.figures).unwrap_or_default();
    let life = match (figures.life_h, figures.calendar_years) {
        (Some(hours), Some(years)) => format!("{} h, {} years", figure(hours), figure(years)),
        (Some(hours), None) => format!("{} h", figure(hours)),
        (None, _) => "unknown".to_owned(),
    };
    let mut limit = limiting_check(job, catalog, sized).map_or("", |check| check.word()).to_owned();
    let assumed = choice.part.map(|part| part.evaluation.assumed).unwrap_or_default();
    if !assumed.is_empty() {
        limit.push_str(&format!("; {}", assumed.names().collect::<Vec<_>>().join(", ")));
    }
    Some([
        format!("{board} {}", position.reference),
        position.original.label.clone().unwrap_or_default(),
        part,
        source.to_owned(),
        choice.verdict.word().to_owned(),
        life,
        limit,
    ])
}

/// An interval in words.
fn interval(job: &Job, interval: &Interval) -> String {
    let limit = interval.limiting.and_then(|id| job.position(id)).map_or("", |position| &position.reference);
    let known = match interval.years {
        Some(years) => format!("{} years, limited by {limit}", figure(years)),
        None => "unknown".to_owned(),
    };
    match interval.unknown.len() {
        0 => known,
        unknown => format!("{known} ({unknown} positions unknown)"),
    }
}
