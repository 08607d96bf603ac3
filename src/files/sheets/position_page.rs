//! One position of the justification: everything somebody needs to work out its figures again with pencil and paper.

use super::fitting::{Charge, rating, size};
use super::html::escape;
use crate::domain::schema::{self, contradictions};
use crate::domain::style;
use crate::domain::{Assumed, Can, Check, EnduranceBasis, Outcome, Part, Position, Technology};
use crate::physics::body;
use crate::physics::esr::{Ladder, usual_tan_delta};
use crate::physics::frequency::Multipliers;
use crate::physics::life::LIFE_CAP_H;
use crate::physics::voltage::usual_surge_v;
use crate::sizing::assumed::assumed_words;
use crate::sizing::heat_opinion::HeatOpinions;
use crate::sizing::reasons::{check_name, figure, nearest, sentence};
use crate::sizing::workings::{RippleStep, Workings, alternatives, workings};
use crate::sizing::{CatalogIndex, Contexts, Evaluation, PositionContext, PositionSizing, Ranked};

/// Parts named that were not taken.
const ALTERNATIVES: usize = 3;

/// Five significant digits: enough to work out again what was worked out from them.
pub(super) fn exact(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return figure(value);
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a handful of digits")]
    let decimals = (4.0 - value.abs().log10().floor()).clamp(0.0, 12.0) as usize;
    let text = format!("{value:.decimals$}");
    let text = if decimals == 0 { &text } else { text.trim_end_matches('0').trim_end_matches('.') };
    style::grouped(text)
}

/// A share as percent.
pub(super) fn share(value: Option<f64>) -> String {
    match value {
        Some(value) if value.is_finite() => format!("{} %", figure(100.0 * value)),
        Some(_) => "beyond".to_owned(),
        None => "–".to_owned(),
    }
}

/// The section of a position; `None` when the job has no such position.
pub(super) fn position_page(
    places: &Contexts,
    catalog_index: &CatalogIndex,
    charge: Option<&Charge>,
    sized: &PositionSizing,
) -> Option<String> {
    let (job, catalog) = (places.job(), catalog_index.catalog());
    let (board, position) = (job.boards.get(sized.id.board)?, job.position(sized.id)?);
    let place = places.at(sized.id)?;
    let title = format!("{} {}", escape(&board.name), escape(&position.reference));
    let original = original(position, charge, &place);
    let Some(part) = sized.choice.part else {
        let pick = position.pick.as_deref().map_or_else(
            || {
                let nearest = nearest(&place, catalog, sized).map_or_else(|| "none".to_owned(), |why| escape(&why));
                format!("{}; nearest: {nearest}", sized.choice.instead_of_a_part())
            },
            |pick| format!("{} is not in the catalogue and was not checked", escape(pick)),
        );
        return Some(format!(
            "<section class=\"position\"><h3>{title}: <span class=\"danger\">{pick}</span></h3><p class=\"small\">{original}</p>{}</section>\n",
            given(position, &place, None)
        ));
    };
    let whole = catalog.part(part.id);
    let sum = workings(&place, &whole.can).map_or_else(
        || "<p class=\"small\">Life and ripple cannot be worked out: a figure is missing.</p>".to_owned(),
        |sum| ripple_and_life(&place, &whole.can, &part.evaluation, &sum),
    );
    let others: String = alternatives(&place, catalog, sized, ALTERNATIVES)
        .iter()
        .map(|other| {
            // One that passes too says so itself.
            let verdict = if other.verdict == Outcome::Pass { "" } else { other.verdict.word() };
            format!("<b>{}</b> {verdict}: {}; ", escape(&other.part_number), escape(&other.why)).replace(" :", ":")
        })
        .collect();
    let others = if others.is_empty() { "none".to_owned() } else { others.trim_end_matches("; ").to_owned() };
    Some(format!(
        "<section class=\"position\"><h3>{title}: {} ({}), {}</h3>\n<p class=\"small\">{} {original}</p>{}\n{}{sum}\n<p class=\"small\">Not taken (cost of this position's need): {others}.</p></section>\n",
        escape(&whole.part_number),
        sized.choice.source.word(),
        sized.choice.verdict.word(),
        part_line(&whole, &catalog.source(part.id).name),
        given(position, &place, Some((&whole, &part.evaluation))),
        checks(&place, &whole.can, &part),
    ))
}

/// The part, and the files its figures marked `c` come from: the catalogue, the data sheet it names, where an import read them.
fn part_line(part: &Part, catalog: &str) -> String {
    let from =
        [("figures <i>c</i> from catalogue", catalog), ("data sheet", &part.datasheet), ("read from", &part.read_from)];
    let named = |(what, file): (&str, &str)| match (what, file) {
        ("read from", "") => None,
        (what, "") => Some(format!("{what}: not given")),
        (what, file) => Some(format!("{what} {}", escape(file))),
    };
    let from: Vec<String> = from.into_iter().filter_map(named).collect();
    let names: Vec<String> =
        [&*part.maker, &*part.series].into_iter().filter(|text| !text.is_empty()).map(escape).collect();
    format!("<b>{}</b> {}; {}.", names.join(", "), built(&part.can), from.join(", "))
}

/// Rating, size and mounting.
fn built(can: &Can) -> String {
    let mounting = can.mounting.map_or_else(|| "mounting not known".to_owned(), |word| schema::spoken(word.into()));
    format!("{}, {}, {mounting}", rating(can), size(can))
}

/// What was built in, what it is for, its charge, the person's note.
fn original(position: &Position, charge: Option<&Charge>, place: &PositionContext) -> String {
    let role = position.role.map_or_else(|| "unknown".to_owned(), |role| schema::spoken(role.into()));
    let wrong: String = contradictions(position)
        .into_iter()
        .map(|(_, words)| format!(" <b>Contradiction:</b> {}.", escape(&words)))
        .collect();
    let energy = charge.map_or_else(
        || "unknown, treat as charged".to_owned(),
        |charge| {
            format!("{} at {} V ({}), {}", charge.energy(), figure(charge.volt), charge.volt_of, charge.discharge())
        },
    );
    let read_from = position.original.read_from.as_deref();
    let read_from = read_from.map_or_else(String::new, |from| format!(" Read from {}.", escape(from)));
    let note = position.note.as_deref().filter(|note| !note.trim().is_empty());
    let note = note.map_or_else(String::new, |note| format!(" Note: {}.", escape(note.trim().trim_end_matches('.'))));
    let can = &position.original.can;
    format!(
        "Original: {}, {}{}{}. Role: {role}. Stored energy: {energy}.{read_from}{note}{wrong}",
        escape(position.original.label.as_deref().unwrap_or("no label")),
        built(can),
        own_esr(can, Ladder::Limit, 'g').iter().map(|figure| format!(", {}", figure.told())).collect::<String>(),
        multipliers(position, place).unwrap_or_default()
    )
}

/// The frequency multipliers that bring the original's ESR to the frequency of the limit taken from it.
fn multipliers(position: &Position, place: &PositionContext) -> Option<String> {
    let (hz, limit) = place.esr_limit();
    let can = &position.original.can;
    let from_original = limit.is_some() && position.needs.esr_max_mohm.is_none();
    let as_given = can.esr_mohm.is_some() && can.esr_hz == Some(hz);
    let own = Multipliers::of(can).filter(|_| from_original && !as_given)?;
    let from = if own.assumed { 'a' } else { 'g' };
    Some(format!(", F of the original {} <i>{from}</i>", points(own.points(), &style::hertz)))
}

/// A table with its factors: `120 Hz: 1, 1 kHz: 1.3`.
fn points(points: &[(f64, f64)], unit: &dyn Fn(f64) -> String) -> String {
    let told: Vec<String> = points.iter().map(|&(at, factor)| format!("{}: {}", unit(at), exact(factor))).collect();
    if told.is_empty() { "not needed".to_owned() } else { told.join(", ") }
}

/// A figure with its unit and the letter that says where it comes from.
struct Given(&'static str, Option<f64>, &'static str, char);

impl Given {
    fn told(&self) -> String {
        let Self(name, value, unit, from) = self;
        match *value {
            None => format!("{name} <b>unknown</b>"),
            Some(hz) if *unit == "Hz" && hz >= 1e3 => format!("{name} <b>{} kHz</b> <i>{from}</i>", exact(hz / 1e3)),
            Some(value) => format!("{name} <b>{}</b> <i>{from}</i>", format!("{} {unit}", exact(value)).trim_end()),
        }
    }
}

/// What the ESR of a can is worked out from: its value and frequency, else its dissipation factor, else the usual one.
fn own_esr(can: &Can, ladder: Ladder, own: char) -> Vec<Given> {
    if let Some((mohm, hz)) = can.esr_mohm.zip(can.esr_hz) {
        return vec![Given("own ESR", Some(mohm), "mΩ", own), Given("own ESR at", Some(hz), "Hz", own)];
    }
    let usual = || Some(usual_tan_delta(ladder, can.rated_v?, can.capacitance_uf?));
    let liquid = matches!(can.technology_or_wet(), Technology::Wet | Technology::NonPolar);
    let (tan_delta, from) = can.tan_delta.map_or_else(|| (usual().filter(|_| liquid), 'a'), |given| (Some(given), own));
    tan_delta.map(|_| Given("tan δ", tan_delta, "", from)).into_iter().collect()
}

/// Stress, limits and the part's data.
fn given(position: &Position, place: &PositionContext, part: Option<(&Part, &Evaluation)>) -> String {
    let stress = &position.stress;
    let from = |own: Option<f64>, else_from: char| if own.is_some() { 'g' } else { else_from };
    let ripple_from = if stress.ripple_from.is_some() { 'm' } else { 'g' };
    let (diameter, height) = place.room_mm();
    let (esr_hz, esr_max) = place.esr_limit();
    let mut all = vec![
        Given("U dc", stress.dc_v, "V", 'g'),
        Given("U ripple peak", stress.ripple_peak_v, "V", 'g'),
        Given("U transient", stress.transient_v, "V", 'g'),
        Given("U lowest", stress.min_v, "V", 'g'),
        Given("Ta lowest", place.coldest_c(), "°C", from(stress.ambient_min_c, 'd')),
        Given("Target", place.target_h, "h", from(position.needs.life_h, 'd')),
        Given("Hours a year", place.hours_per_year, "h", 'g'),
        Given("ESR limit", esr_max, "mΩ", from(position.needs.esr_max_mohm, 'o')),
        Given("ESR limit at", Some(esr_hz), "Hz", from(position.needs.esr_hz, 'a')),
        Given("Max. diameter", diameter, "mm", from(position.space.diameter_max_mm, 'o')),
        Given("Max. height", height, "mm", from(position.space.height_max_mm, 'o')),
    ];
    let known = |name, value: Option<f64>, unit, from| value.map(|value| Given(name, Some(value), unit, from));
    all.extend(known("Air speed", Some(place.airflow_lfm()).filter(|lfm| *lfm > 0.0), "ft/min", 'g'));
    all.extend(known("x", position.x_mm, "mm", 'g').into_iter().chain(known("y", position.y_mm, "mm", 'g')));
    if let Some((part, evaluation)) = part {
        all.extend(data(place, &part.can, evaluation));
        let ratio = place.coldest_c().is_some_and(|coldest_c| coldest_c < 20.0);
        let ratio = part.can.z_ratio.zip(part.can.z_cold_c).filter(|_| ratio);
        all.extend(ratio.map(|(ratio, _)| Given("Z ratio", Some(ratio), "", 'c')));
        all.extend(ratio.map(|(_, cold_c)| Given("Z ratio at", Some(cold_c), "°C", 'c')));
    }
    let figures: String = all.iter().map(|figure| format!("<span>{}</span> ", figure.told())).collect();
    let origin = stress.ripple_from.as_ref().map(|origin| {
        let figures = origin.figures.iter().map(|(name, value)| format!("{name} {}", exact(*value)));
        let named = [&origin.method, &origin.circuit, &origin.file, &origin.channel].into_iter().flatten().cloned();
        let all: Vec<String> = named.chain(figures).collect();
        format!("<p class=\"small\">Ripple <i>{ripple_from}</i> from {}.</p>", escape(&all.join(", ")))
    });
    format!("<p class=\"given\">{figures}</p>{}", origin.unwrap_or_default())
}

/// The part's data as the checks use it.
fn data(place: &PositionContext, can: &Can, evaluation: &Evaluation) -> Vec<Given> {
    let assumed = |figure: Assumed| if evaluation.assumed.contains(figure) { 'a' } else { 'c' };
    let surge =
        can.surge_v.or_else(|| can.rated_v.map(|rated_v| usual_surge_v(can.technology_or_wet(), rated_v).sure_v));
    let body = body::of(can);
    let figures = &evaluation.figures;
    let cold = figures.esr_cold_mohm.zip(figures.esr_mohm).map(|(cold, warm)| cold / warm);
    let peak_from = if evaluation.assumed.contains(Assumed::DC) { 'a' } else { 'd' };
    let mut all = own_esr(can, Ladder::Part, 'c');
    all.extend([
        Given("U peak", evaluation.figures.peak_v, "V", peak_from),
        Given("U_R", can.rated_v, "V", 'c'),
        Given("U surge", surge, "V", assumed(Assumed::SURGE)),
        Given("C", can.capacitance_uf, "µF", 'c'),
        Given("Tolerance", can.tolerance_pct, "%", 'c'),
        Given("T0", can.temp_max_c, "°C", 'c'),
        Given("T lowest", can.temp_min_c, "°C", 'c'),
        Given("L0", can.endurance_h, "h", 'c'),
        Given("I_R", can.ripple_a, "A", 'c'),
        Given("f_R", can.ripple_hz, "Hz", 'c'),
        Given("ESR", evaluation.figures.esr_mohm, "mΩ", assumed(Assumed::TAN_DELTA)),
        Given("ESR cold / 20 °C", cold, "", if place.cold_esr_is_assumed(can) { 'a' } else { 'd' }),
        Given("Largest Ø", body.diameter_max_mm, "mm", assumed(Assumed::DIAMETER_MAX)),
        Given("Largest height", body.height_max_mm, "mm", assumed(Assumed::HEIGHT_MAX)),
        Given("Vent space", body.vent_mm, "mm", 'd'),
        Given("Lead spacing", can.pitch_mm, "mm", 'c'),
    ]);
    all
}

fn checks(place: &PositionContext, can: &Can, part: &Ranked) -> String {
    let margins: Vec<_> = place.margins(can, &part.evaluation).collect();
    let one = |check: Check| {
        let outcome = part.evaluation.outcome(check);
        let word =
            if outcome == Outcome::Pass { outcome.word().to_owned() } else { format!("<b>{}</b>", outcome.word()) };
        let margin = margins.iter().find(|(of, _)| *of == check);
        let margin = margin.map_or_else(String::new, |(_, margin)| format!(", margin {}", share(Some(*margin))));
        let why = escape(&sentence(place, can, &part.evaluation, check));
        format!("<span class=\"check\"><b>{}</b> {word}{margin}: {why}.</span> ", check_name(check))
    };
    let all: String = Check::ALL.into_iter().map(one).collect();
    let names = assumed_words(place, can, &part.evaluation);
    let assumed = if names.is_empty() { "nothing".to_owned() } else { escape(&names.join(", ")) };
    let stress = if part.evaluation.passes_on_assumed_stress() {
        "<b>Passes only on assumed stress: measure it.</b> "
    } else {
        ""
    };
    format!("<p class=\"small checks\">{all}{stress}<b>Assumed</b>: {assumed}.</p>")
}

/// From the ripple to the life, each step with its numbers.
fn ripple_and_life(place: &PositionContext, can: &Can, evaluation: &Evaluation, sum: &Workings) -> String {
    let rated_a = can.ripple_a.unwrap_or_default();
    let lines: Vec<String> = sum
        .lines
        .iter()
        .map(|line| format!("({} / {})² [{}]", exact(line.a), exact(line.factor), style::hertz(line.hz)))
        .collect();
    let lines = if lines.is_empty() { "0".to_owned() } else { lines.join(" + ") };
    let phases: String = sum
        .duty
        .phases
        .iter()
        .zip(&sum.ambient_factors)
        .map(|(phase, factor)| {
            format!(
                "<tr><td class=\"words\">{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>",
                escape(&phase.name),
                exact(100.0 * phase.time_share),
                exact(phase.ambient_c),
                exact(phase.ripple_scale),
                exact(sum.equivalent_a * phase.ripple_scale.abs()),
                exact(*factor),
                exact(rated_a * factor),
                exact(phase.rise_k),
                exact(phase.life_h)
            )
        })
        .collect();
    let letter = |figure: Assumed| if evaluation.assumed.contains(figure) { 'a' } else { 'c' };
    let tables = format!(
        "F(f): {} <i>{}</i>; M(Ta): {} <i>{}</i>.",
        points(&sum.by_frequency, &style::hertz),
        letter(Assumed::FREQUENCY_MULTIPLIERS),
        points(&sum.by_ambient, &|ambient_c| format!("{} °C", exact(ambient_c))),
        letter(Assumed::RIPPLE_TEMP_FACTORS)
    );
    let air = if sum.air == 1.0 { String::new() } else { format!(" / {}²", exact(sum.air)) };
    format!(
        "<p class=\"sum\">{tables} I_eq = √( {lines} ) = {} A × scale. {}</p>\n\
<div class=\"two\"><table class=\"tight phases\"><thead><tr><th>Phase</th><th>%</th><th>Ta °C</th><th>Scale</th><th>I_eq A</th><th>M</th><th>I_allow A</th><th>ΔT K</th><th>L h</th></tr></thead><tbody>{phases}</tbody></table>{}</div>",
        exact(sum.equivalent_a),
        law(can, evaluation, sum),
        believed(place, sum, &air)
    )
}

/// How the figures follow from each other, printed once: the positions have the numbers.
pub(super) const FORMULAS: &str = "<p class=\"small formulas\">I_eq = √ Σ ( I / (F(f) / F(f_R)) )², F linear in log f between its points; I_allow = I_R · M, M linear in Ta; ΔT = ΔT0 · (I_eq / I_R)², in moving air divided by the square printed. Liquid: L = L0 · 2^((T0 − Ta') / 10) · 2^((ΔTt − min(ΔT, ΔT0)) / 10) · B^(−max(ΔT − ΔT0, 0) / 10) · K_V. Polymer: L = L0 · 10^((T0 − Ta' − ΔT + ΔTt) / 20). Ta' = Ta, at least 40 °C. Life = 1 / Σ(share / L). Voltage utilisation = U peak / U_R; U peak = U dc + U ripple peak, of a bipolar part at least −U lowest; ripple utilisation = the largest I_eq / I_allow; years = life / hours a year, at most the calendar life limit. Margin = 1 − utilisation / its limit; of life 1 − life margin factor · target / life; of ESR 1 − ESR / its limit.</p>\n\
<p class=\"small formulas\">Published laws: in each phase the least and the largest of the law above, of the same with 2^((ΔTt − ΔT) / 5), with 2^(ΔTt / (10 − 0.25 ΔTt) − ΔT / (10 − 0.25 ΔT)) while both are at most 25 K, or with 2^((ΔTt − ΔT) / 10) in place of its factors of ΔT, and of L0 · exp(0.68 eV / k · (1 / (Ta' + ΔT + 273.15 K) − 1 / (T0 + ΔTt + 273.15 K))) · K_V with k = 8.617333e-5 eV/K; where ΔT0 is assumed all of them with the published ΔT0 too, ΔT and ΔTt in proportion: 10 and 5 K for T0 below 100 °C, 5 and 3.5 K below 120 °C, 5 and 3 K from there. Polymer: the law alone.</p>\n\
<p class=\"small formulas\">Heat balance: ΔT = P · R, P = Σ I² · ESR(f), R = α / (β · S), S = π/4 · Ø · (Ø + 4 · height) in cm², β = 0.0023 · S^−0.2 W/(K cm²), at least 0.0011; α = 1 up to Ø 8 mm, 1.1 to 12.5, 1.2 to 18, 1.3 to 22, 1.4 to 25, 1.5 to 30, else 1.6; screw terminals from Ø 50 mm: R = 1 / (0.00144 · S) + 0.65 K/W. Moving air: factors 1, 1.15, 1.25, 1.4, 1.5, 1.6, 1.7 at 0, 50 … 300 ft/min; from Ø 35 mm 1.2 at 200 and 1.3 at 300. ESR(f) = ESR(f1) · (F(f1) / F(f))², at 120 Hz tan δ / (2π · 120 Hz · C). In the cold ESR · z, z = Z ratio^((20 °C − T) / (20 °C − its temperature)) down to that, below it · 2^(K / 15) (50 to 100 V: 1.5^(K / 15)); polymer 1.25, hybrid 1.5; of liquid electrolyte above 1 kHz at least 2 at −10 °C, 4 at −25 °C, 8 at −40 °C, 1 at 20 °C, the logarithm linear between. Stored energy C · U² / 2, discharge R · C · ln(U / 60 V).</p>\n\
<p class=\"small formulas\">Where a sheet does not say: surge 1.15 U_R up to 315 V, 1.1 U_R above; largest body Ø + 0.5 mm, height + 1 mm up to 16 mm, else + 2 mm; snap-in and screw + 1 and + 2 mm; axial Ø + 0.5 mm; SMD + 0.3 and + 0.3 mm. Vent space from Ø 6 mm 2 mm, above 16 mm 3 mm, above 40 mm 5 mm. Limits marked o: the original's largest body, with its vent space; its ESR, by ESR(f) with the F of the original. Gap = distance of the centres − half of both largest diameters.</p>\n";

/// Which law counts, with the figures of the part.
fn law(can: &Can, evaluation: &Evaluation, sum: &Workings) -> String {
    let law = if can.technology_or_wet() == Technology::Polymer { "Polymer" } else { "Liquid" };
    let from = if evaluation.assumed.contains(Assumed::CORE_RISE) { 'a' } else { 'c' };
    let air = if sum.air == 1.0 { String::new() } else { format!("; moving air: ΔT / {}²", exact(sum.air)) };
    let base = if can.temp_max_c.is_some_and(|t| t >= 100.0) { 4 } else { 2 };
    let basis = match can.endurance_basis {
        Some(EnduranceBasis::Ripple) => "with ripple",
        _ if evaluation.assumed.contains(Assumed::ENDURANCE_BASIS) => "without ripple (assumed)",
        _ => "without ripple",
    };
    format!(
        "{law} law, endurance {basis}: ΔT0 = {} K <i>{from}</i>; ΔTt = {} K; B = {base}; K_V = {}{air}.",
        exact(sum.rated_rise_k),
        exact(sum.test_rise_k),
        exact(sum.voltage_factor)
    )
}

/// From the phases to the years, and the second opinion on the heat.
fn believed(place: &PositionContext, sum: &Workings, air: &str) -> String {
    let life_h = sum.life.nominal_h.min(LIFE_CAP_H);
    let years = place.years_of(sum.life.nominal_h);
    let years = match (years, place.hours_per_year.map(|hours| life_h / hours)) {
        (Some(years), Some(running)) if running > years => {
            format!("{} years, more than the calendar life: {} years count", exact(running), exact(years))
        }
        (Some(years), _) => format!("{} years", exact(years)),
        (None, _) => "years unknown".to_owned(),
    };
    let esr = |line: &RippleStep| Some(format!("{}² · {}", exact(line.a), exact(line.esr_mohm?)));
    let lines: Option<Vec<String>> = sum.lines.iter().map(esr).collect();
    let figures = |heat: &HeatOpinions| Some((heat.loss_w?, heat.core_k_per_w?, heat.balance_rise_k?));
    let heat = sum.heat.as_ref().and_then(|heat| Some((heat, lines?, figures(heat)?)));
    let heat = heat.map_or_else(
        || "No heat balance: ESR or body not known.".to_owned(),
        |(heat, lines, (loss_w, core_k, balance_k))| {
            format!(
                "Heat balance at scale {}: P = scale² · ( {} ) mΩ A² = {} W, ΔT = P · {} K/W{air} = {} K beside {} K by the law.",
                exact(heat.scale),
                if lines.is_empty() { "0".to_owned() } else { lines.join(" + ") },
                exact(loss_w),
                exact(core_k),
                exact(balance_k),
                exact(heat.law_rise_k)
            )
        },
    );
    format!(
        "<p class=\"sum\">1 / Σ(share / L) = {} h (published laws {} to {} h), limited to {} h = {years}. {heat}</p>",
        exact(sum.life.nominal_h),
        exact(sum.life.low_h),
        exact(sum.life.high_h),
        exact(life_h)
    )
}
