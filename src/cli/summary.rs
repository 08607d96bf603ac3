//! The sizing of a job as a table for the terminal.

use rayon::prelude::*;

use super::terminal::{cell, padded};
use crate::domain::style::{counted, money};
use crate::domain::{Catalog, Job};
use crate::files::export::limiting_check;
use crate::sizing::assumed::assumed_words;
use crate::sizing::reasons::{check_name, figure, nearest};
use crate::sizing::{Contexts, PositionSizing, Purchase, Sizing, Source};

/// Prints a line for each position and one for each board.
pub(super) fn print(job: &Job, catalog: &Catalog, sizing: &Sizing) {
    let places = Contexts::new(job, catalog);
    let rows: Vec<[String; 7]> = sizing.positions.par_iter().filter_map(|p| row(job, &places, catalog, p)).collect();
    let headings = ["position", "original", "new part", "", "verdict", "life", "limited by; assumed"].map(String::from);
    let width =
        |column: usize| rows.iter().chain([&headings]).map(|row| row[column].chars().count()).max().unwrap_or_default();
    let widths: [usize; 7] = std::array::from_fn(width);
    for row in [&headings].into_iter().chain(&rows) {
        let cells: Vec<String> = row.iter().zip(widths).map(|(cell, width)| padded(cell, width)).collect();
        say!("{}", cells.join("  ").trim_end());
    }
    say!();
    say!("{}", sizing.counts().words());
    for (board, sized) in job.boards.iter().zip(&sizing.boards) {
        let (chosen, built) = (sized.as_chosen.told(job), sized.as_built.told(job));
        say!("{} as chosen {chosen}. With new original parts it {built}.", board.name);
    }
}

/// Prints what the purchase list comes to and what is open in it.
pub(super) fn print_purchase(job: &Job, purchase: &Purchase) {
    let totals = &purchase.totals;
    let sums: Vec<String> =
        totals.per_currency.iter().map(|(code, total)| format!("{} {code}", money(*total))).collect();
    let sums = if sums.is_empty() { "no known price".to_owned() } else { sums.join(" and ") };
    say!("To order: {}, {sums}", counted(totals.lines, "line", "lines"));
    let own = purchase.currency.code.as_deref().unwrap_or_default();
    for (code, rate) in purchase.rates.iter().filter(|(code, _)| !code.eq_ignore_ascii_case(own)) {
        say!("1 {code} counts as {rate} {own}, as entered in the job");
    }
    if totals.unknown_lines > 0 {
        tell!(
            "note: not added, without a known total{}: {}.",
            if own.is_empty() { String::new() } else { format!(" in {own}") },
            counted(totals.unknown_lines, "line", "lines")
        );
    }
    for note in &purchase.notes {
        tell!("note: {note}");
    }
    let missing: Vec<String> = purchase.without_part.iter().map(|&place| job.full_name(place)).collect();
    if !missing.is_empty() {
        tell!("note: not on the purchase list, because still without a part: {}.", missing.join(", "));
    }
}

fn row(job: &Job, places: &Contexts, catalog: &Catalog, sized: &PositionSizing) -> Option<[String; 7]> {
    let position = job.position(sized.id)?;
    let board = &job.boards.get(sized.id.board)?.name;
    let choice = &sized.choice;
    let part = match (&choice.part, &position.pick) {
        (Some(part), _) => catalog.part_number(part.id).to_owned(),
        (None, Some(pick)) => format!("{pick} (not in the catalogue)"),
        (None, None) => choice.instead_of_a_part().to_owned(),
    };
    let source = if choice.source == Source::None { "" } else { choice.source.word() };
    let figures = choice.part.map(|part| part.evaluation.figures).unwrap_or_default();
    let life = match (figures.life_h, figures.calendar_years) {
        (Some(hours), Some(years)) => format!("{} h, {} years", figure(hours), figure(years)),
        (Some(hours), None) => format!("{} h", figure(hours)),
        (None, _) => "unknown".to_owned(),
    };
    let mut limit = limiting_check(places, catalog, sized).map_or("", check_name).to_owned();
    if choice.part.is_none() {
        let nearest = || Some(format!("nearest: {}", nearest(&places.at(sized.id)?, catalog, sized)?));
        limit = if position.pick.is_some() { "not checked".to_owned() } else { nearest().unwrap_or_default() };
    }
    if let Some((part, context)) = choice.part.zip(places.at(sized.id)) {
        for assumed in assumed_words(&context, &catalog.can(part.id), &part.evaluation) {
            limit.push_str(&format!("; {assumed}"));
        }
    }
    let verdict = if choice.passes_on_assumed_stress() { "pass on assumed stress" } else { choice.verdict.word() };
    let [position, label, part] =
        [&format!("{board} {}", position.reference), position.original.label.as_deref().unwrap_or_default(), &part]
            .map(cell);
    Some([position, label, part, source.to_owned(), verdict.to_owned(), life, limit])
}
