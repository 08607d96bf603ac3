//! The sheet for incoming goods: for every order a page, for every part on it the limits and boxes to fill.

use super::html::{blank, escape, page, table};
use crate::domain::{Catalog, Date, Job};
use crate::sizing::Purchase;
use crate::sizing::inspection::{Inspection, Limits, MEASURING_HZ, inspections, usual_words};
use crate::sizing::reasons::figure;

/// `inspection.html`. `today` is printed as the day of the plan.
pub fn inspection(job: &Job, catalog: &Catalog, purchase: &Purchase, today: Option<Date>) -> String {
    let all = inspections(purchase, catalog);
    let planned = today.map_or_else(|| "day unknown".to_owned(), |today| today.to_string());
    let mut body = format!("<h1>{}</h1>\n<p>Incoming inspection. Planned {planned}.</p>\n{CAUTION}", escape(&job.name));
    if all.is_empty() {
        body.push_str("<p>Nothing is on order.</p>\n");
    }
    for (at, order) in all.chunk_by(|a, b| a.supplier == b.supplier).enumerate() {
        let class = if at == 0 { "first" } else { "board" };
        let supplier = order.first().map_or("", |line| &line.supplier);
        let supplier = if supplier.is_empty() { "supplier not known".to_owned() } else { escape(supplier) };
        body.push_str(&format!(
            "<section class=\"{class}\"><h2>Order: {supplier}</h2>\n<div class=\"head\"><span>Delivery note {}</span><span>Date {}</span><span>Inspected by {}</span></div>\n",
            blank(40),
            blank(24),
            blank(36)
        ));
        order.iter().for_each(|line| body.push_str(&part(line)));
        body.push_str("</section>\n");
    }
    page(&format!("Incoming inspection: {}", job.name), body)
}

const CAUTION: &str = "<p class=\"small\">Measure capacitance and loss at 120 Hz and room temperature. Leakage: at the rated voltage through 1 kΩ, \
read after the maker's time (2 or 5 minutes); the part is charged, so discharge it and verify with a meter before it is touched. All pieces up to \
10 are measured, else 10 taken at random (common practice, no source). A part that is out of a limit sends its whole lot back to be asked about. \
A can that is lighter than the published weight of its case, smudged marks, or differing date codes in one bag are warning signs of a \
counterfeit.</p>\n";

fn part(line: &Inspection) -> String {
    let Inspection { limits, sample, .. } = line;
    let qty = line.order_qty.map_or_else(|| "quantity not known".to_owned(), |qty| format!("{qty} ordered"));
    let numbers: Vec<String> = (1..=*sample).map(|n| n.to_string()).collect();
    let boxes = "<td></td>".repeat(numbers.len());
    let mut columns = vec![("What", 21), ("Limit", 29)];
    columns.extend(numbers.iter().map(|n| (n.as_str(), 5)));
    let rows: String = rows(limits)
        .into_iter()
        .map(|(what, limit)| format!("<tr><td>{what}</td><td>{limit}</td>{boxes}</tr>\n"))
        .collect();
    let usual = usual_words(limits.assumed);
    let usual = if usual.is_empty() {
        String::new()
    } else {
        format!("<p class=\"small\">Usual figures, not the part's own (assumed): {usual}.</p>")
    };
    format!(
        "<div class=\"position\"><div class=\"line\"><span><b>{}</b> {}: {qty}, {sample} to measure</span><span>Lot, date code {}</span><span class=\"box\"></span></div>\n{}{usual}</div>\n",
        escape(&line.part_number),
        escape(&line.maker),
        blank(50),
        table("checks goods", "", &columns, &rows)
    )
}

/// What is measured, and its limit in words.
fn rows(limits: &Limits) -> Vec<(String, String)> {
    let unknown = || "not known: see the data sheet".to_owned();
    let at_most = |value: Option<f64>, unit: &str| value.map(|value| format!("at most {} {unit}", figure(value)));
    let capacitance = limits.capacitance_uf.map(|(low, high)| format!("{} to {} µF", figure(low), figure(high)));
    let mut rows = vec![(format!("Capacitance at {MEASURING_HZ} Hz, µF"), capacitance.unwrap_or_else(unknown))];
    if let Some(tan_delta) = limits.tan_delta_max {
        rows.push((format!("Dissipation factor at {MEASURING_HZ} Hz"), format!("at most {}", figure(tan_delta))));
    }
    if let Some((mohm, hz)) = limits.esr_max {
        rows.push((format!("ESR at {} Hz, mΩ", figure(hz)), format!("at most {}", figure(mohm))));
    }
    if limits.tan_delta_max.is_none() && limits.esr_max.is_none() {
        rows.push(("Dissipation factor or ESR".to_owned(), unknown()));
    }
    let at = limits.rated_v.map_or_else(String::new, |rated_v| format!(" at {} V", figure(rated_v)));
    rows.push((format!("Leakage{at}, µA"), at_most(limits.leakage_max_ua, "").unwrap_or_else(unknown)));
    rows.push(("Diameter, mm".to_owned(), at_most(limits.diameter_max_mm, "").unwrap_or_else(unknown)));
    rows.push(("Height or length, mm".to_owned(), at_most(limits.height_max_mm, "").unwrap_or_else(unknown)));
    let weight = limits.weight_g.map(|g| format!("{} g is published for such a case", figure(g)));
    rows.push(("Weight, g".to_owned(), weight.unwrap_or_else(|| "no published weight: compare the pieces".to_owned())));
    rows
}
