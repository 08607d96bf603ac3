//! Somebody with nothing but the printed justification works out every figure again.

use std::collections::HashMap;
use std::sync::Arc;

use refarad::domain::Job;
use refarad::files::demo;
use refarad::files::sheets::{Provenance, justification};
use refarad::sizing::{self, CatalogIndex};

/// What is seen of a piece of the page.
fn seen(html: &str) -> String {
    let mut text = String::new();
    let mut inside = false;
    for c in html.chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => text.push(c),
            _ => {}
        }
    }
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&#39;", "'").replace("&quot;", "\"").replace("&amp;", "&")
}

/// The first number of a text.
fn number(text: &str) -> f64 {
    let text = text.replace('\u{a0}', "").replace('−', "-");
    let text = text.trim_start_matches(|c: char| !c.is_ascii_digit() && c != '-');
    let end = text.find(|c: char| !c.is_ascii_digit() && !"-.e".contains(c)).unwrap_or(text.len());
    text[..end].parse().unwrap_or_else(|_| panic!("no number: {text:.40}"))
}

fn after<'a>(text: &'a str, mark: &str) -> &'a str {
    text.split_once(mark).unwrap_or_else(|| panic!("{mark} is missing: {text:.200}")).1
}

fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    after(text, from).split_once(to).unwrap_or_else(|| panic!("{to} is missing")).0
}

fn rows(table: &str) -> Vec<Vec<String>> {
    let cells =
        |row: &str| row.split("<td").skip(1).map(|cell| seen(&format!("<td{cell}")).trim().to_owned()).collect();
    table.split("<tr>").skip(1).map(cells).filter(|row: &Vec<String>| !row.is_empty()).collect()
}

/// A frequency or another figure with its unit: `66 kHz`, `65 °C`.
fn hertz(text: &str) -> f64 {
    number(text)
        * if text.contains("kHz") {
            1e3
        } else if text.contains("MHz") {
            1e6
        } else {
            1.0
        }
}

/// Between the points of a printed table, over `scale` of what it counts; its ends hold beyond them.
fn interpolated(points: &[(f64, f64)], at: f64, scale: fn(f64) -> f64) -> f64 {
    let after = points.iter().position(|point| point.0 >= at);
    match after {
        None => points.last().unwrap().1,
        Some(0) => points[0].1,
        Some(n) => {
            let ((x0, y0), (x1, y1)) = (points[n - 1], points[n]);
            y0 + (y1 - y0) * (scale(at) - scale(x0)) / (scale(x1) - scale(x0))
        }
    }
}

/// Whether a printed figure is the one worked out; five digits were printed.
fn assert_close(what: &str, printed: f64, found: f64) {
    assert!((printed - found).abs() <= 5e-4 * found.abs().max(1e-3), "{what}: printed {printed}, worked out {found}");
}

/// The shares and years of the row of a position in the overview of its board, rounded to three digits there.
fn assert_overview(what: &str, printed: &str, found: f64) {
    let printed = number(printed);
    assert!((printed - found).abs() <= 6e-3 * found.abs().max(1e-3), "{what}: overview {printed}, worked out {found}");
}

/// The limits of the policy as the first page prints them, shares.
struct Policy {
    voltage: [f64; 3],
    ripple: f64,
    life: f64,
}

impl Policy {
    fn printed(page: &str) -> Self {
        let share = |mark: &str| number(between(page, mark, " %")) / 100.0;
        let voltage = [share("voltage up to "), share("below 160 V), "), share("from 160 V), ")];
        Self { voltage, ripple: share("ripple up to "), life: number(between(page, "margin factor ", ";")) }
    }
}

/// The figures of the checks and the margins, from the data above them.
fn checks(place: &str, text: &str, given: &HashMap<String, f64>, row: &[String], policy: &Policy) {
    let check =
        |name: &str| text.split_once(&format!("{name} ")).map_or("", |(_, rest)| rest.split(".  ").next().unwrap());
    let told = |name: &str, from: &str, to: &str| Some(number(check(name).split_once(from)?.1.split_once(to)?.0));
    // Printed to three digits and worked out from such: shares to 0.6 of a percent.
    let close = |what: &str, printed: Option<f64>, found: f64, of: f64| {
        let right = printed.is_none_or(|printed| (printed - found).abs() <= 6e-3 * found.abs().max(of));
        assert!(right, "{place} {what}: {printed:?}, worked out {found}");
        printed.is_some()
    };
    let near = |what: &str, printed: Option<f64>, found: f64| close(what, printed, found, 100.0);
    let of = |name: &str| given.get(name).copied();
    let mut margins = Vec::new();
    if let (Some(peak), Some(rated)) = (of("U peak"), of("U_R")) {
        let used = peak / rated;
        assert!(near("voltage used", told("voltage", "used ", " %"), 100.0 * used));
        // Which of the three limits counts is that of the kind of part and its rating.
        let margin = told("voltage", "margin ", " %").unwrap();
        let fits = |most: &&f64| (100.0 * (1.0 - used / **most) - margin).abs() < 0.6;
        assert!(policy.voltage.iter().find(fits).is_some(), "{place} voltage margin {margin}");
        margins.push(margin);
    }
    if let (Some(current), Some(allowed)) = (told("ripple", ": ", " A at"), told("ripple", "allowed ", " A")) {
        assert!(near("ripple used", told("ripple", "used ", " %"), 100.0 * current / allowed));
        let margin = 100.0 * (1.0 - current / allowed / policy.ripple);
        assert!(near("ripple margin", told("ripple", "margin ", " %"), margin));
        margins.push(margin);
    }
    if let (Some(life), Some(target)) = (told("life", ": ", " h"), of("Target")) {
        let margin = 100.0 * (1.0 - policy.life * target / life);
        assert!(near("life margin", told("life", "margin ", " %"), margin));
        margins.push(margin);
    }
    if let (Some(esr), Some(most)) = (of("ESR"), of("ESR limit")) {
        let margin = 100.0 * (1.0 - esr / most);
        assert!(near("ESR margin", told("ESR", "margin ", " %"), margin));
        close(
            "ESR in the cold",
            told("ESR", "; ", " mΩ in the cold"),
            esr * of("ESR cold / 20 °C").unwrap_or(f64::NAN),
            0.0,
        );
        assert_overview(&format!("{place} ESR"), &row[9], esr);
        margins.push(margin);
    }
    for (what, room, body) in [("diameter", "Max. diameter", "Largest Ø"), ("height", "Max. height", "Largest height")]
    {
        if let (Some(room), Some(body)) = (of(room), of(body)) {
            close(what, told("fit", &format!("{what} "), " mm to spare"), room - body, 1.0);
        }
    }
    if let Some(least) = margins.into_iter().reduce(f64::min) {
        assert!(near("least margin", Some(number(&row[10])), least));
    }
}

/// The least and the largest life of a phase by the laws the page prints, for every rise at rated ripple that counts.
fn band([l0, t0, ambient, rise, rated, test, base]: [f64; 7], rises: &[f64]) -> (f64, f64) {
    let lives = rises.iter().flat_map(|&of| {
        let (rise, test) = (rise * of / rated, test * of / rated);
        let two = |power: f64| 2f64.powf((t0 - ambient) / 10.0 + power);
        let slow = |k: f64| k / (10.0 - 0.25 * k);
        let core = |c: f64| 1.0 / (c + 273.15);
        [
            Some(two((test - rise.min(of)) / 10.0) * base.powf(-(rise - of).max(0.0) / 10.0)),
            Some(two((test - rise) / 5.0)),
            (rise <= 25.0 && test <= 25.0).then(|| two(slow(test) - slow(rise))),
            Some((0.68 / 8.617_333e-5 * (core(ambient + rise) - core(t0 + test))).exp()),
            Some(two((test - rise) / 10.0)),
        ]
    });
    lives
        .flatten()
        .map(|life| l0 * life)
        .fold((f64::INFINITY, 0.0), |(low, high), life| (low.min(life), high.max(life)))
}

/// Rise of the core for a watt of a can, K/W.
fn rise_per_watt(across_mm: f64, high_mm: f64, screw: bool) -> f64 {
    let (across, high) = (across_mm / 10.0, high_mm / 10.0);
    let surface = std::f64::consts::FRAC_PI_4 * across * (across + 4.0 * high);
    if screw && across_mm >= 50.0 {
        return 1.0 / (0.00144 * surface) + 0.65;
    }
    let steps = [(8.0, 1.0), (12.5, 1.1), (18.0, 1.2), (22.0, 1.3), (25.0, 1.4), (30.0, 1.5)];
    let alpha = steps.into_iter().find(|step| across_mm <= step.0).map_or(1.6, |step| step.1);
    alpha / ((0.0023 * surface.powf(-0.2)).max(0.0011) * surface)
}

/// Factor on the ESR of liquid electrolyte in the cold.
fn cold_factor(given: &HashMap<String, f64>) -> f64 {
    let (at, ratio, ratio_at) = (given["Ta lowest"], given["Z ratio"], given["Z ratio at"]);
    let step: f64 = if (50.0..=100.0).contains(&given["U_R"]) { 1.5 } else { 2.0 };
    let by_ratio =
        ratio.powf((20.0 - at.max(ratio_at)) / (20.0 - ratio_at)) * step.powf((ratio_at - at).max(0.0) / 15.0);
    let floor = interpolated(
        &[(-40.0, 8.0), (-25.0, 4.0), (-10.0, 2.0), (20.0, 1.0)].map(|(t, z): (f64, f64)| (t, z.ln())),
        at,
        |t| t,
    );
    if given["ESR limit at"] > 1e3 { by_ratio.max(floor.exp()) } else { by_ratio }
}

/// The ESR limit by what is printed of the original; `None` where it was given.
fn limit_of_the_original(section: &str, hz: Option<f64>) -> Option<f64> {
    let (original, rest) = after(section, "Original: ").split_once(". Role: ")?;
    let (original, table) = original.split_once(", F of the original ")?;
    assert!(between(rest, "ESR limit ", "ESR limit at").trim_end().ends_with('o'));
    let table: Vec<(f64, f64)> = table
        .split(", ")
        .filter_map(|one| one.split_once(": "))
        .map(|(at, factor)| (hertz(at), number(factor)))
        .collect();
    let (mohm, own_hz) = if let Some((_, own)) = original.split_once("own ESR ") {
        (number(own), hertz(after(own, "own ESR at ")))
    } else {
        let farad = number(original.split_once(" µF ")?.0.rsplit(' ').next()?) * 1e-6;
        (number(after(original, "tan δ ")) / (240.0 * std::f64::consts::PI * farad) * 1e3, 120.0)
    };
    let factor_at = |hz: f64| interpolated(&table, hz, f64::ln);
    Some(mohm * (factor_at(own_hz) / factor_at(hz?)).powi(2))
}

fn page_of(job: &Job) -> String {
    let catalog_index = CatalogIndex::new(Arc::new(demo::parts().unwrap().catalog));
    let sizing = sizing::size(job, &catalog_index);
    justification(job, &catalog_index, &sizing, &Provenance::of(None, job, &[], false), "2026-11-25".parse().ok())
}

#[test]
#[expect(clippy::too_many_lines, reason = "goes down the page in its order")]
fn every_figure_of_the_justification_can_be_worked_out_from_the_paper_alone() {
    let page = page_of(&demo::job().unwrap().job);
    let cap_years = number(between(&page, "calendar life limit ", ";"));
    let policy = Policy::printed(&page);
    for formula in ["I_allow = I_R · M", "2^((T0 − Ta') / 10)", "10^((T0 − Ta' − ΔT + ΔTt) / 20)", "1 / Σ(share / L)"]
    {
        assert!(between(&page, "formulas\">", "</p>").contains(formula), "{formula}");
    }
    let mut overview: HashMap<String, Vec<String>> = HashMap::new();
    for board in page.split("<h2>Board ").skip(1) {
        for row in rows(board.split("</table>").next().unwrap()) {
            overview.insert(row[0].clone(), row);
        }
    }
    let (mut worked_out, mut balances, mut resistances, mut colds, mut limits) = (0, 0, 0, 0, 0);
    for section in page.split("<section class=\"position\"><h3>").skip(1) {
        let heading = seen(section.split("</h3>").next().unwrap());
        let Some((place, _)) = heading.split_once(": ") else { continue };
        let row = &overview[place.rsplit(' ').next().unwrap()];
        let given: HashMap<String, f64> = between(section, "<p class=\"given\">", "</p>")
            .split("<span>")
            .filter_map(|one| one.split_once(" <b>"))
            .filter(|(_, value)| !value.starts_with("unknown"))
            .map(|(name, value)| (name.to_owned(), hertz(value)))
            .collect();
        if section.contains("small checks") {
            checks(place, &seen(between(section, "<p class=\"small checks\">", "</p>")), &given, row, &policy);
        }
        if let Some(limit) = limit_of_the_original(&seen(section), given.get("ESR limit at").copied()) {
            assert_close(&format!("{place} ESR limit"), given["ESR limit"], limit);
            limits += 1;
        }
        if let (Some(peak), Some(rated)) = (given.get("U peak"), given.get("U_R")) {
            assert_overview(&format!("{place} voltage"), &row[5], 100.0 * peak / rated);
            if let (Some(dc), Some(ripple)) = (given.get("U dc"), given.get("U ripple peak")) {
                // A bipolar part is stressed by its lowest voltage, too.
                let lowest = given.get("U lowest").copied().unwrap_or(0.0);
                assert_close(&format!("{place} peak"), *peak, (dc + ripple).max(-lowest));
            }
        }
        if !section.contains("I_eq = ") {
            continue;
        }
        let sum = seen(&section.replace("</p>", " "));
        // √( (a / f)² [Hz] + … ) = I A
        let equivalent: f64 = between(&sum, "I_eq = √( ", " ) = ")
            .split(" + ")
            .map(|line| line.split_once(" / ").map_or(0.0, |(a, factor)| (number(a) / number(factor)).powi(2)))
            .sum::<f64>()
            .sqrt();
        assert_close(&format!("{place} I_eq"), number(between(&sum, " ) = ", " A")), equivalent);
        // The multiplier of each line from the printed table, linear in the logarithm of the frequency.
        let table = |from: &str, to: &str| -> Vec<(f64, f64)> {
            let points = between(&sum, from, to).split(", ").filter_map(|point| point.split_once(": "));
            points.map(|(at, factor)| (hertz(at), number(factor))).collect()
        };
        let (by_frequency, by_ambient) = (table("F(f): ", "; M(Ta)"), table("M(Ta): ", ". I_eq"));
        for line in between(&sum, "I_eq = √( ", " ) = ").split(" + ").filter(|line| line.contains(" / ")) {
            let (hz, factor) = (hertz(between(line, "[", "]")), number(line.split_once(" / ").unwrap().1));
            let wanted = if hz == given["f_R"] {
                1.0
            } else {
                interpolated(&by_frequency, hz, f64::ln) / interpolated(&by_frequency, given["f_R"], f64::ln)
            };
            assert_close(&format!("{place} F({hz})"), factor, wanted);
        }
        let (rated_a, rated_rise) = (given["I_R"], number(between(&sum, "ΔT0 = ", ";")));
        let test_rise = number(between(&sum, "ΔTt = ", " K;"));
        let air = sum.split_once("moving air: ΔT / ").map_or(1.0, |(_, air)| number(air));
        let (base, factor) = (number(between(&sum, "B = ", ";")), number(after(&sum, "K_V = ")));
        let polymer = sum.contains("Polymer law");
        let assumed_rise = between(&sum, "ΔT0 = ", ";").ends_with('a');
        let rises = match given["T0"] {
            _ if !assumed_rise => vec![rated_rise],
            t if t < 100.0 => vec![10.0, 5.0],
            t if t < 120.0 => vec![5.0, 3.5],
            _ => vec![5.0, 3.0],
        };
        let factor_at = |hz: f64| interpolated(&by_frequency, hz, f64::ln);
        let own = given.get("own ESR").map(|mohm| (*mohm, given["own ESR at"]));
        let own =
            own.or_else(|| Some((given.get("tan δ")? / (240.0 * std::f64::consts::PI * given["C"]) * 1e9, 120.0)));
        let esr_at = |hz: f64| own.map(|(mohm, own_hz)| mohm * (factor_at(own_hz) / factor_at(hz)).powi(2));
        if let Some(esr) = esr_at(given["ESR limit at"]).filter(|_| !by_frequency.is_empty()) {
            assert_close(&format!("{place} ESR"), given["ESR"], esr);
            resistances += 1;
        }
        if given.contains_key("Z ratio") && given.contains_key("ESR cold / 20 °C") && !polymer {
            assert_close(&format!("{place} cold"), given["ESR cold / 20 °C"], cold_factor(&given));
            colds += 1;
        }
        let (mut damage, mut usage, mut hottest) = (0.0, 0.0_f64, 0.0_f64);
        let (mut most, mut least) = (0.0, 0.0);
        for phase in rows(between(section, "<table class=\"tight phases\">", "</table>")) {
            let value = |at: usize| number(&phase[at]);
            let what = format!("{place} {}", phase[0]);
            assert_close(&what, value(4), equivalent * value(3));
            assert_close(&what, value(5), interpolated(&by_ambient, value(2), |ambient| ambient));
            assert_close(&what, value(6), rated_a * value(5));
            let rise = rated_rise * (value(4) / rated_a).powi(2) / air.powi(2);
            assert_close(&what, value(7), rise);
            let ambient = value(2).max(40.0);
            let life = if polymer {
                given["L0"] * 10f64.powf((given["T0"] - ambient - rise + test_rise) / 20.0)
            } else {
                given["L0"]
                    * 2f64.powf((given["T0"] - ambient) / 10.0)
                    * 2f64.powf((test_rise - rise.min(rated_rise)) / 10.0)
                    * base.powf(-(rise - rated_rise).max(0.0) / 10.0)
                    * factor
            };
            assert_close(&what, value(8), life);
            damage += value(1) / 100.0 / life;
            let figures = [given["L0"], given["T0"], ambient, rise, rated_rise, test_rise, base];
            let (low, high) = if polymer { (life, life) } else { band(figures, &rises) };
            most += value(1) / 100.0 / low;
            least += value(1) / 100.0 / high;
            usage = usage.max(value(4) / value(6));
            hottest = hottest.max(rise);
        }
        let life = damage.recip();
        assert_close(&format!("{place} life"), number(between(&sum, "Σ(share / L) = ", " h")), life);
        let printed = between(&sum, "(published laws ", " h)");
        assert_close(&format!("{place} low"), number(printed), 1.0 / most);
        assert_close(&format!("{place} high"), number(after(printed, " to ")), 1.0 / least);
        let believed = life.min(131_400.0);
        assert_close(&format!("{place} believed"), number(between(&sum, "limited to ", " h")), believed);
        let running = believed / given["Hours a year"];
        let years = running.min(cap_years);
        assert_close(&format!("{place} years of running"), number(between(&sum, " h = ", " years")), running);
        let counts = sum.split_once("more than the calendar life: ").map(|(_, rest)| number(rest));
        assert_close(&format!("{place} years"), counts.unwrap_or(running), years);
        if let Some((_, balance)) = sum.split_once("Heat balance at scale ") {
            let lines = between(balance, "scale² · ( ", " )").split(" + ");
            let loss: f64 = lines
                .map(|line| line.split_once("² · ").map_or(0.0, |(a, mohm)| number(a).powi(2) * number(mohm) * 1e-3))
                .sum();
            let loss = loss * number(balance).powi(2);
            assert_close(&format!("{place} loss"), number(between(balance, "mΩ A² = ", " W")), loss);
            let across = number(after(&sum, "Ø "));
            let (_, high) = after(&sum, "Ø ").split_once(" × ").unwrap();
            let resistance = number(between(balance, "ΔT = P · ", " K/W"));
            assert_close(
                &format!("{place} R"),
                resistance,
                rise_per_watt(across, number(high), high.split(';').next().unwrap().contains("screw")),
            );
            let rise = loss * number(between(balance, "ΔT = P · ", " K/W")) / air.powi(2);
            assert_close(&format!("{place} balance"), number(after(after(balance, " K/W"), " = ")), rise);
            balances += 1;
        }
        assert_overview(&format!("{place} core rise"), &row[7], hottest);
        assert_overview(&format!("{place} years"), &row[8], years);
        assert_overview(&format!("{place} ripple"), &row[6], 100.0 * usage);
        worked_out += 1;
    }
    let counts = [worked_out, balances, resistances, colds, limits];
    assert!(counts.into_iter().zip([25, 20, 20, 15, 5]).all(|(found, least)| found > least), "{counts:?}");
}

#[test]
fn the_title_names_version_files_and_who_answers_and_every_note_is_there() {
    let mut job = demo::job().unwrap().job;
    job.boards[0].positions[0].note = Some("seat <loose>".into());
    let page = page_of(&job);
    for wanted in
        ["Prepared", "Checked", "Approved", "Revision", env!("CARGO_PKG_VERSION"), "observatory.json", "parts.csv"]
    {
        assert!(page.contains(wanted), "{wanted}");
    }
    assert!(page.matches("class=\"digest\"").count() == 2 && page.contains("seat &lt;loose&gt;"));
    assert!(page.contains("Not taken (cost of this position's need): <b>"), "alternatives are named");
}
