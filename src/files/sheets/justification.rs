//! The engineer's sheet: an overview of each board, then for each position what it has to stand, the data of its part, the sum that leads to its
//! life, each check, what was not taken, and where the methods come from.

use super::fitting::charges;
use super::html::{blank, escape, known, page, table};
use super::position_page::{FORMULAS, position_page, share};
use super::provenance::Provenance;
use crate::domain::safety::WHO_DECIDES;
use crate::domain::{Board, Check, Date, Job, Outcome, Side};
use crate::files::board_svg::{self, SHEET_WIDTH_MM};
use crate::sizing::other_parts::lasts;
use crate::sizing::reasons::{check_name, figure};
use crate::sizing::{BoardSizing, CatalogIndex, Contexts, Due, PositionSizing, Sizing};

/// Where the method of each check comes from, a line each: its word, then the sources.
const SOURCES: &str = include_str!("sources.txt");

/// `justification.html`. `today` is printed as the day of the calculation, `provenance` names the files it rests on.
pub fn justification(
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    provenance: &Provenance,
    today: Option<Date>,
) -> String {
    let mut body = title(job, provenance, today);
    body.push_str(&summary(job, sizing));
    let mut used_mm = FIRST_MM - LATER_MM;
    for (at, (board, sized)) in job.boards.iter().zip(&sizing.boards).enumerate() {
        body.push_str(&board_table(job, catalog_index, sizing, (at, board, sized), &mut used_mm));
    }
    body.push_str(LEGEND);
    body.push_str(FORMULAS);
    body.push_str(&sources());
    let places = Contexts::new(job, catalog_index.catalog());
    let charges = charges(job, catalog_index.catalog(), sizing);
    for (sized, charge) in sizing.positions.iter().zip(&charges) {
        body.push_str(&position_page(&places, catalog_index, charge.as_ref(), sized).unwrap_or_default());
    }
    page(&format!("Justification: {}", job.name), body)
}

/// What this paper is: versions, files, dates, names.
fn title(job: &Job, provenance: &Provenance, today: Option<Date>) -> String {
    let day = today.map_or_else(|| "unknown".to_owned(), |today| today.to_string());
    let file = |file: &super::provenance::SourceFile| {
        let digest = file.sha256.as_deref().unwrap_or("could not be read");
        format!("<tr><td>{}</td><td>{}</td><td class=\"digest\">{digest}</td></tr>", file.kind, escape(&file.name))
    };
    let files: String = provenance.files.iter().map(file).collect();
    let unsaved = if provenance.unsaved {
        "<p class=\"danger\">The job was changed after it was saved: its file is not what was calculated.</p>"
    } else {
        ""
    };
    let blanks =
        ["Revision", "Prepared", "Checked", "Approved"].map(|name| format!("<td>{name}<br>{}</td>", blank(30)));
    format!(
        "<h1>{}</h1>\n<p>Justification of the replacement capacitors. The figures are an aid to judgement. {WHO_DECIDES}</p>\n<table class=\"small\"><tr><td class=\"date\">Calculated<br>{day}</td><td class=\"date\">Refarad<br>{}</td>{}</tr></table>\n<table class=\"small\"><thead><tr><th>File</th><th>Name</th><th>SHA-256</th></tr></thead><tbody>{files}</tbody></table>{unsaved}\n",
        escape(&job.name),
        env!("CARGO_PKG_VERSION"),
        blanks.concat()
    )
}

/// Target, verdicts, policy.
fn summary(job: &Job, sizing: &Sizing) -> String {
    let count = |outcome: Outcome| {
        sizing.positions.iter().filter(|p| p.choice.part.is_some() && p.choice.verdict == outcome).count()
    };
    let without = sizing.positions.iter().filter(|p| p.choice.part.is_none()).count();
    let policy = &job.policy;
    let due = Due::of(job, sizing);
    let limit = due.limited_by.map_or_else(String::new, |id| format!(", set by {}", escape(job.name_of(id))));
    let derating = if policy.count_voltage_derating { "credited" } else { "not credited" };
    format!(
        "<p>Target {} of {} h a year, {}. Positions: {} pass, {} marginal, {} unknown, {} fail, {without} without a part. Next rebuild due after {}{limit}.</p>\n\
<p class=\"small\">Policy: voltage up to {} of rated (liquid electrolyte below 160 V), {} (from 160 V), {} (hybrid, solid polymer); ripple up to {} of allowed; life margin factor {}; calendar life limit {}; voltage derating {derating} in life.</p>\n",
        known(job.interval_years, "years"),
        job.hours_per_year.map_or_else(|| "unknown".into(), figure),
        known(job.interval_h(), "h"),
        count(Outcome::Pass),
        count(Outcome::Marginal),
        count(Outcome::Unknown),
        count(Outcome::Fail),
        known(due.years, "years"),
        share(Some(policy.voltage_use_max_wet_lv)),
        share(Some(policy.voltage_use_max_wet_hv)),
        share(Some(policy.voltage_use_max_polymer)),
        share(Some(policy.ripple_use_max)),
        figure(policy.life_margin),
        known(Some(policy.calendar_cap_years), "years"),
    )
}

/// The other parts that end a board, each with the sum of its years.
fn worn(job: &Job, sizing: &Sizing, board: usize) -> String {
    let told = |(id, _)| {
        let part = job.other_part(id)?;
        Some(format!("{} {}", escape(&part.reference), lasts(part)?))
    };
    let all: Vec<String> = sizing.others_of(Some(board)).filter_map(told).collect();
    if all.is_empty() { String::new() } else { format!(" Other parts that wear: {}.", all.join("; ")) }
}

/// Every position of a board in a row, and its picture in what is left of the page, on a new page where that would be too little;
/// `used_mm` of the page are taken.
fn board_table(
    job: &Job,
    catalog_index: &CatalogIndex,
    sizing: &Sizing,
    (at, board, sized): (usize, &Board, &BoardSizing),
    used_mm: &mut f64,
) -> String {
    let rows: String = sizing
        .positions
        .iter()
        .filter(|sized| sized.id.board == at)
        .filter_map(|sized| board_row(job, catalog_index, sized))
        .collect();
    let catalog = catalog_index.catalog();
    let worn = worn(job, sizing, at);
    let lines_mm = LINE_MM * (worn.chars().count() / CHARS_A_LINE) as f64;
    let own_mm = LATER_MM + lines_mm + rows.matches("<tr>").count() as f64 * ROW_MM;
    let last = job.boards[at + 1..].iter().all(|board| board.positions.is_empty());
    let left_mm = PAGE_MM - own_mm - if last { SOURCES_MM } else { 0.0 };
    let high_mm = |used_mm: f64| (left_mm - used_mm).clamp(LEAST_PICTURE_MM, PICTURE_MM);
    let maps = |high_mm: f64| -> Vec<String> {
        let room_mm = [SHEET_WIDTH_MM, high_mm];
        let sides = [Side::Top, Side::Bottom];
        let maps = sides.map(|side| board_svg::for_sheet(job, catalog, sizing, (at, side), room_mm, None));
        maps.into_iter().flatten().map(|svg| format!("<div class=\"map\">{svg}</div>\n")).collect()
    };
    let (mut class, mut pictures) = ("first", maps(high_mm(*used_mm)));
    if at > 0 && !pictures.is_empty() && left_mm - *used_mm < LEAST_PICTURE_MM {
        *used_mm = 0.0;
        (class, pictures) = ("board", maps(high_mm(0.0)));
    }
    *used_mm += own_mm + pictures.len() as f64 * high_mm(*used_mm);
    let maps = pictures.concat();
    format!(
        "<section class=\"{class}\"><h2>Board {}</h2><p class=\"small\">As chosen it {}. With new original parts it {}.{}</p>\n{}{maps}</section>\n",
        escape(&board.name),
        escape(&sized.as_chosen.told(job)),
        escape(&sized.as_built.told(job)),
        worn,
        table("tight overview", "", &COLUMNS, &rows)
    )
}

/// What is printed of a page of Letter, what stands on it above the table of the first and of a later board, a row of the table
/// at most, a line of small text and its letters, the legend and the sources below the last, and the lowest and highest picture, mm.
const PAGE_MM: f64 = 256.0;
const FIRST_MM: f64 = 106.0;
const LATER_MM: f64 = 32.0;
const ROW_MM: f64 = 4.6;
const LINE_MM: f64 = 4.2;
const CHARS_A_LINE: usize = 115;
const SOURCES_MM: f64 = 125.0;
const LEAST_PICTURE_MM: f64 = 70.0;
const PICTURE_MM: f64 = 150.0;

const COLUMNS: [(&str, u32); 11] = [
    ("Position", 8),
    ("Original", 17),
    ("Part", 19),
    ("Source", 9),
    ("Verdict", 8),
    ("Voltage", 7),
    ("Ripple", 7),
    ("Core rise K", 6),
    ("Life, years", 6),
    ("ESR mΩ", 6),
    ("Margin", 7),
];

fn board_row(job: &Job, catalog_index: &CatalogIndex, sized: &PositionSizing) -> Option<String> {
    let position = job.position(sized.id)?;
    let figures = sized.choice.part.map(|part| part.evaluation.figures).unwrap_or_default();
    let part = sized.choice.part.map(|part| catalog_index.catalog().told(job, part.id)).or(position.pick.clone());
    let verdict = sized.choice.verdict;
    let bold = if verdict == Outcome::Pass { "" } else { " class=\"part\"" };
    let number = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), figure);
    let word = if part.is_some() { verdict.word() } else { "no part" };
    Some(format!(
        "<tr><td class=\"part\">{}</td><td class=\"words\">{}</td><td>{}</td><td>{}</td><td{bold}>{word}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n",
        escape(&position.reference),
        escape(position.original.label.as_deref().unwrap_or_default()),
        escape(part.as_deref().unwrap_or("–")),
        sized.choice.source.word(),
        share(figures.voltage_usage),
        share(figures.ripple_usage),
        number(figures.core_rise_k),
        number(figures.calendar_years),
        number(figures.esr_mohm),
        share(figures.headroom)
    ))
}

/// What the letters beside the figures mean.
const LEGEND: &str = "<p class=\"small\">Where a figure comes from: <b>g</b> given in the job, <b>m</b> measured or worked out from a measurement, <b>c</b> from the part's row in the catalogue and from the data sheet named above the table, <b>o</b> from the original part, <b>a</b> assumed by the methods, <b>d</b> derived from the figures beside it. Symbols: U_R rated voltage, T0 upper category temperature, L0 endurance at T0, I_R rated ripple at f_R, ΔT0 core temperature rise at rated ripple, ΔTt the same during the endurance test, Ta ambient, I_eq equivalent ripple at f_R, M factor on I_R at Ta, ΔT core temperature rise.</p>\n";

fn sources() -> String {
    let row = |check: Check| {
        let source = SOURCES.lines().filter_map(|line| line.split_once(": ")).find(|(of, _)| *of == check.word());
        let source = source.map_or("", |(_, source)| source);
        format!("<tr><td>{}</td><td class=\"words\">{source}</td></tr>", check_name(check))
    };
    let rows: String = Check::ALL.into_iter().map(row).collect();
    format!(
        "<section class=\"position\"><h2>Where the methods come from</h2>{}</section>\n",
        table("small checks tight", "", &[("Check", 16), ("Source", 84)], &rows)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_check_has_its_source() {
        let of: Vec<&str> = SOURCES.lines().filter_map(|line| Some(line.split_once(": ")?.0)).collect();
        assert_eq!(of, Check::ALL.map(Check::word));
    }
}
