//! The engineer's sheet: for each position what it goes through, its limits, every figure of the chosen part, its life with
//! the band of the published laws, and where the methods come from.

use super::fitting::{Charge, charges, rating, size};
use super::html::{Orientation, blank, escape, known, page};
use crate::domain::safety::WHO_DECIDES;
use crate::domain::schema::{self, contradictions};
use crate::domain::style;
use crate::domain::{Can, Check, Date, Job, Outcome, Position};
use crate::sizing::assumed::assumed_words;
use crate::sizing::reasons::{check_name, duty_words, figure, nearest, reason};
use crate::sizing::{CatalogIndex, Contexts, Due, Evaluation, PositionContext, PositionSizing, Sizing};

/// Where the method of each check comes from.
const SOURCES: [(Check, &str); Check::ALL.len()] = [
    (
        Check::Voltage,
        "Peak over rated voltage against the limits of the policy: common practice, no source. Surge 1.15 or 1.10 times rated: IEC 60384-1 as quoted by Wikipedia, where the part has no value of its own. Reverse voltage: makers print 1 to 1.5 V.",
    ),
    (
        Check::Ripple,
        "Currents combined by the part's frequency multipliers, else Vishay BCcomponents documents 28340 (table 4) and 28321 (table 4). Allowed over ambient: the part's table, else Rubycon's points for 85 and 105 °C parts, shifted to other temperatures.",
    ),
    (
        Check::Life,
        "Double life for each 10 K of ambient, core rise by the square of the ripple (Rubycon life sheet); 20 K for a factor of ten in solid polymer. Ambient counted from 40 °C. Phases by linear damage (Cosel technical information). Cap 131 400 h (Beckhoff PS9011 manual and makers' sheets). Band: DB Lectro data sheet, Rubycon life sheet, Arrhenius with 0.68 eV. The band is the spread of the published laws, not a guarantee.",
    ),
    (
        Check::Esr,
        "The part's value, else tan delta over 2 pi 120 C (KEMET A4001), else the tan delta ladder of Nichicon HE and UPW data sheets; to other frequencies by equal heat.",
    ),
    (Check::Capacitance, "Windows by role: common practice, no source."),
    (
        Check::Fit,
        "Largest bodies: Panasonic SU, Vishay 056/057, else from memory. Vent space: KEMET ESC A4006. Holes: IPC-2222 as quoted. Gaps: common practice, no source.",
    ),
    (
        Check::Temperature,
        "Category temperatures of the part; 5 K below the upper one to pass: common practice, no source.",
    ),
    (Check::Leakage, "The part's value, else 0.01 CU and its kin (Panasonic SU and NHG); polymer from memory."),
    (Check::Supply, "Market status and stock as the catalogue gives them."),
];

/// `justification.html`. `today` is printed as the day of the calculation.
#[must_use]
pub fn justification(job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing, today: Option<Date>) -> String {
    let mut body = head(job, sizing, today);
    let (places, charges) =
        (Contexts::new(job, catalog_index.catalog()), charges(job, catalog_index.catalog(), sizing));
    for (sized, charge) in sizing.positions.iter().zip(&charges) {
        body.push_str(&position_section(&places, catalog_index, charge.as_ref(), sized).unwrap_or_default());
    }
    body.push_str(&sources());
    page(&format!("Justification: {}", job.name), Orientation::Portrait, &body)
}

fn head(job: &Job, sizing: &Sizing, today: Option<Date>) -> String {
    let day = today.map_or_else(|| "day unknown".to_owned(), |today| today.to_string());
    let count = |outcome: Outcome| {
        sizing.positions.iter().filter(|p| p.choice.part.is_some() && p.choice.verdict == outcome).count()
    };
    let without = sizing.positions.iter().filter(|p| p.choice.part.is_none()).count();
    let policy = &job.policy;
    let due = Due::of(job, sizing);
    let limit = due
        .limited_by
        .and_then(|id| job.position(id))
        .map_or_else(String::new, |position| format!(", set by {}", escape(&position.reference)));
    let boards = job
        .boards
        .iter()
        .zip(&sizing.boards)
        .map(|(board, sized)| {
            let interval = |interval: &crate::sizing::Interval| {
                let at = interval
                    .limiting
                    .and_then(|id| job.position(id))
                    .map_or_else(String::new, |position| format!(" ({})", escape(&position.reference)));
                let unknown = match interval.unknown.len() {
                    0 => String::new(),
                    count => format!("; {count} unknown"),
                };
                format!("{}{at}{unknown}", known(interval.years, "years"))
            };
            format!(
                "<tr><td>{}</td><td>{}</td><td>{}</td></tr>",
                escape(&board.name),
                interval(&sized.as_chosen),
                interval(&sized.as_built)
            )
        })
        .collect::<Vec<_>>()
        .concat();
    let derating = if policy.count_voltage_derating { "counted" } else { "not counted" };
    format!(
        "<h1>{}</h1>\n<p>Why each part holds. Calculated {day}. Target {} of {} hours a year, that is {}.</p>\n\
<p>Positions: {} pass, {} marginal, {} unknown, {} fail, {without} without a part. Next rebuild due after {}{limit}.</p>\n\
<table><thead><tr><th>Board</th><th>Lasts, as chosen (limited by)</th><th>With the original parts, new</th></tr></thead><tbody>{boards}</tbody></table>\n\
<p>Policy: voltage up to {} of rated (wet below 160 V), {} (wet from 160 V), {} (hybrid, polymer); ripple up to {} of allowed; life {} times the target; calendar life at most {} years; lower voltage {derating} as longer life.</p>\n\
<div class=\"sign\"><span>Approved by {}</span><span>Date {}</span></div>\n",
        escape(&job.name),
        known(job.interval_years, "years"),
        job.hours_per_year.map_or_else(|| "unknown".into(), figure),
        known(job.interval_h(), "h"),
        count(Outcome::Pass),
        count(Outcome::Marginal),
        count(Outcome::Unknown),
        count(Outcome::Fail),
        known(due.years, "years"),
        policy.voltage_use_max_wet_lv,
        policy.voltage_use_max_wet_hv,
        policy.voltage_use_max_polymer,
        policy.ripple_use_max,
        policy.life_margin,
        policy.calendar_cap_years,
        blank(60),
        blank(38)
    )
}

fn position_section(
    places: &Contexts,
    catalog_index: &CatalogIndex,
    charge: Option<&Charge>,
    sized: &PositionSizing,
) -> Option<String> {
    let (job, catalog) = (places.job(), catalog_index.catalog());
    let (board, position) = (job.boards.get(sized.id.board)?, job.position(sized.id)?);
    let place = places.at(sized.id)?;
    let title = format!("{} {}", escape(&board.name), escape(&position.reference));
    let stress = stress_list(position, &place, charge);
    let Some(part) = sized.choice.part else {
        let pick = position.pick.as_deref().map_or_else(
            || match nearest(&place, catalog, sized) {
                Some(why) => format!("no part holds; nearest: {}", escape(&why)),
                None => "no part holds; none comes near".to_owned(),
            },
            |pick| format!("{} is not in the catalogue and was not checked", escape(pick)),
        );
        return Some(format!(
            "<section class=\"position\"><h3>{title}: <span class=\"danger\">{pick}</span></h3>{stress}</section>\n"
        ));
    };
    let can = catalog.can(part.id);
    let whole = catalog.part(part.id);
    let sheet = match whole.datasheet.as_str() {
        "" => "no data sheet named".to_owned(),
        sheet => format!("data sheet {}", escape(sheet)),
    };
    let margins: Vec<_> = place.margins(&can, &part.evaluation).collect();
    let rows = Check::ALL
        .into_iter()
        .map(|check| {
            let outcome = part.evaluation.outcome(check);
            let word =
                if outcome == Outcome::Pass { outcome.word().to_owned() } else { format!("<b>{}</b>", outcome.word()) };
            let margin = margins.iter().find(|(of, _)| *of == check).map_or_else(String::new, |(_, margin)| {
                if margin.is_finite() { format!("{} %", figure(margin * 100.0)) } else { "none".into() }
            });
            format!(
                "<tr><td>{}</td><td>{word}</td><td>{}</td><td>{margin}</td></tr>",
                check_name(check),
                escape(&reason(&place, &can, &part.evaluation, check))
            )
        })
        .collect::<Vec<_>>()
        .concat();
    Some(format!(
        "<section class=\"position\"><h3>{title}: {} ({}), {}</h3>\n<p><b>{}</b>, {}, {}, {} mm; {sheet}. {}</p>\n<div class=\"small\">{stress}</div>\n<table class=\"small checks\"><colgroup><col style=\"width:14%\"><col style=\"width:12%\"><col style=\"width:62%\"><col style=\"width:12%\"></colgroup><thead><tr><th>Check</th><th>Outcome</th><th>Figures</th><th>Margin</th></tr></thead><tbody>{rows}</tbody></table>\n<p class=\"small\">{}</p></section>\n",
        escape(&whole.part_number),
        sized.choice.source.word(),
        sized.choice.verdict.word(),
        escape(&whole.maker),
        escape(&whole.series),
        rating(&can),
        size(&can),
        life(&part.evaluation),
        assumed(&place, &catalog.can(part.id), &part.evaluation)
    ))
}

fn life(evaluation: &Evaluation) -> String {
    let figures = &evaluation.figures;
    let band = match (figures.life_low_h, figures.life_high_h) {
        (Some(low), Some(high)) => format!(", published laws {} to {} h", figure(low), figure(high)),
        _ => String::new(),
    };
    let uncapped = figures.life_uncapped_h.filter(|h| figures.life_h.is_some_and(|capped| capped < *h));
    let uncapped = uncapped.map_or_else(String::new, |h| format!(" (capped from {} h)", figure(h)));
    format!("Life {}{uncapped}, {}{band}.", known(figures.life_h, "h"), known(figures.calendar_years, "years"))
}

fn assumed(place: &PositionContext, can: &Can, evaluation: &Evaluation) -> String {
    let named = escape(&assumed_words(place, can, evaluation).join(", "));
    match (named.as_str(), evaluation.passes_on_assumed_stress()) {
        ("", _) => "Nothing assumed.".to_owned(),
        (named, false) => format!("Assumed: {named}."),
        (named, true) => format!("<b>Passes only on assumed stress: measure it.</b> Assumed: {named}."),
    }
}

/// What the position goes through, what it asks, and the part it had.
fn stress_list(position: &Position, place: &PositionContext, charge: Option<&Charge>) -> String {
    let stress = &position.stress;
    let ripple = match &stress.ripple {
        None => "not entered".to_owned(),
        Some(lines) if lines.is_empty() => "none".to_owned(),
        Some(lines) => {
            let line = |line: &crate::domain::RippleLine| {
                format!("{} at {}", known(line.a, "A"), line.hz.map_or_else(|| "unknown".to_owned(), style::hertz))
            };
            lines.iter().map(line).collect::<Vec<_>>().join(" + ")
        }
    };
    let (diameter, height) = place.room_mm();
    let (esr_hz, esr_max) = place.esr_limit();
    let role = position.role.map_or_else(|| "unknown".to_owned(), |role| schema::spoken(role.into()));
    let energy = charge.map_or_else(
        || "unknown".to_owned(),
        |charge| {
            format!("{} at {} V ({}), {}", charge.energy(), figure(charge.volt), charge.volt_of, charge.discharge())
        },
    );
    let wrong: String = contradictions(position)
        .into_iter()
        .map(|(_, words)| format!(" <b>Contradiction:</b> {}.", escape(&words)))
        .collect();
    format!(
        "<div class=\"two\"><div><b>Stress</b> {} dc, ripple voltage (peak) {}, transient {}, lowest {}. Ripple {ripple}. Load profile {}. Lowest ambient {}. Stored {energy}.{wrong}</div><div><b>Limits</b> role {role}; target {}; ESR at {} at most {}; room {} × {}. <b>Original</b> {}, {}.</div></div>",
        entered(stress.dc_v),
        entered(stress.ripple_peak_v),
        entered(stress.transient_v),
        entered(stress.min_v),
        duty_words(place),
        known(place.coldest_c(), "°C"),
        known(place.target_h(), "h"),
        style::hertz(esr_hz),
        known(esr_max, "mΩ"),
        known(diameter, "mm"),
        known(height, "mm"),
        escape(position.original.label.as_deref().unwrap_or("no label")),
        rating(&position.original.can)
    )
}

fn entered(value: Option<f64>) -> String {
    value.map_or_else(|| "not entered".to_owned(), |value| format!("{} V", figure(value)))
}

fn sources() -> String {
    let rows = SOURCES
        .iter()
        .map(|(check, source)| format!("<tr><td>{}</td><td>{source}</td></tr>", check.word()))
        .collect::<Vec<_>>()
        .concat();
    format!(
        "<section class=\"position\"><h2>Where the methods come from</h2><table class=\"small checks\"><colgroup><col style=\"width:16%\"><col style=\"width:84%\"></colgroup><tbody>{rows}</tbody></table>\n<p class=\"small\">The figures are an aid to judgement. {WHO_DECIDES}</p></section>\n"
    )
}
