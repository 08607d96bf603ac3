//! The columns of the table of candidates: heading, explanation, width and how a cell is drawn.

use eframe::egui::{self, Align, Layout, Response, Ui};

use crate::app::scene::Scene;
use crate::app::selection::Candidate;
use crate::app::wording::{UNKNOWN, percent};
use crate::app::{theme, widgets};
use crate::domain::{Can, Check};
use crate::sizing::Evaluation;
use crate::sizing::reasons::figure;

/// One candidate with everything a cell may show.
pub(crate) struct Entry<'a> {
    /// What it is called.
    pub name: &'a str,
    /// Its figures.
    pub can: Can,
    /// How it fares.
    pub evaluation: Evaluation,
    /// Price of one piece.
    pub price: Option<f64>,
    /// Whether it is picked here.
    pub picked: bool,
    /// Whether it is pinned.
    pub pinned: bool,
}

impl<'a> Entry<'a> {
    /// `None` when no position is selected or the original is not checked yet.
    pub(crate) fn new(scene: &Scene<'a>, candidate: Candidate) -> Option<Self> {
        let (_, position) = scene.position()?;
        let name = scene.name(candidate);
        let price = match candidate {
            Candidate::Original => None,
            Candidate::Part(id) => scene.catalog.small_price(id),
        };
        Some(Self {
            name,
            can: scene.can(candidate)?,
            evaluation: scene.evaluation(candidate)?,
            price,
            picked: position.pick.as_deref() == Some(name),
            pinned: scene.selection.pinned.contains(&candidate),
        })
    }

    /// The row in words, for screen readers.
    pub(crate) fn spoken(&self) -> String {
        let checks: Vec<String> = Check::ALL
            .into_iter()
            .filter(|&check| self.evaluation.outcome(check) != crate::domain::Outcome::Pass)
            .map(|check| format!("{} {}", check.word(), self.evaluation.outcome(check).word()))
            .collect();
        let picked = if self.picked { ", picked" } else { "" };
        let pinned = if self.pinned { ", pinned" } else { "" };
        let but = if checks.is_empty() { String::new() } else { format!("; {}", checks.join(", ")) };
        format!("{}{picked}{pinned}: {}{but}", self.name, self.evaluation.verdict.word())
    }
}

/// A column of the table.
pub(crate) struct Column {
    /// What stands over it.
    pub heading: &'static str,
    /// What it means.
    pub hover: &'static str,
    /// Points.
    pub width: f32,
    /// Numbers stand on the right, everything else on the left.
    pub number: bool,
    /// Draws a cell.
    pub cell: fn(&mut Ui, &Entry) -> Response,
}

const fn text(heading: &'static str, hover: &'static str, width: f32, cell: fn(&mut Ui, &Entry) -> Response) -> Column {
    Column { heading, hover, width, number: false, cell }
}

const fn number(
    heading: &'static str,
    hover: &'static str,
    width: f32,
    cell: fn(&mut Ui, &Entry) -> Response,
) -> Column {
    Column { heading, hover, width, number: true, cell }
}

/// A column of marks of one check.
macro_rules! check {
    ($check:ident, $heading:literal, $hover:literal) => {
        text($heading, $hover, 20.0, |ui, entry| {
            let outcome = entry.evaluation.outcome(Check::$check);
            let name = format!("{} {}", Check::$check.word(), outcome.word());
            widgets::mark(ui, outcome, &name).on_hover_text(name)
        })
    };
}

/// Every column, from left to right.
pub(crate) const COLUMNS: &[Column] = &[
    text("Part", "Part number; the part that was built in stands first.", 178.0, |ui, entry| {
        let tokens = theme::tokens(ui);
        let response = ui.add(egui::Label::new(entry.name).truncate().selectable(false));
        if entry.picked {
            ui.colored_label(tokens.weak, "picked");
        }
        if entry.pinned {
            ui.colored_label(tokens.weak, "pinned");
        }
        response
    }),
    text("Verdict", "The worst of all checks; an unknown supply alone does not count.", 84.0, |ui, entry| {
        widgets::outcome(ui, entry.evaluation.verdict)
    }),
    check!(Voltage, "V", "Voltage: peak, transient and reverse voltage against the rating."),
    check!(Ripple, "I", "Ripple: equivalent current against what is allowed at the ambient."),
    check!(Life, "L", "Life under the duty against the target."),
    check!(Esr, "R", "ESR against its limits, also in the cold."),
    check!(Capacitance, "C", "Capacitance and tolerance against what the circuit takes."),
    check!(Fit, "F", "Fit: body, vent space, leads, neighbours."),
    check!(Temperature, "T", "Category temperatures against the ambient."),
    check!(Leakage, "A", "Leakage current against its limit."),
    check!(Supply, "S", "Supply: whether it can be bought."),
    text(
        "Headroom",
        "The least known margin of voltage, ripple, life and ESR, as a share of its limit.",
        104.0,
        |ui, entry| widgets::headroom(ui, entry.evaluation.figures.headroom),
    ),
    number("Ripple used", "Equivalent over allowed ripple current, in the worst phase.", 72.0, |ui, entry| {
        label(ui, entry.evaluation.figures.ripple_usage.map(percent))
    }),
    number("Years", "Years until the life is used up, capped by the policy.", 44.0, |ui, entry| {
        label(ui, entry.evaluation.figures.calendar_years.map(figure))
    }),
    number("ESR mΩ", "Equivalent series resistance at the frequency of the limit, milliohm.", 56.0, |ui, entry| {
        label(ui, entry.evaluation.figures.esr_mohm.map(figure))
    }),
    number("µF", "Nominal capacitance, microfarad.", 44.0, |ui, entry| {
        label(ui, entry.can.capacitance_uf.map(figure))
    }),
    number("V", "Rated voltage, volt.", 40.0, |ui, entry| label(ui, entry.can.rated_v.map(figure))),
    number("Size mm", "Nominal diameter and height, millimetre.", 74.0, |ui, entry| {
        let size = entry.can.diameter_mm.zip(entry.can.height_mm);
        label(ui, size.map(|(diameter_mm, height_mm)| format!("{} × {}", figure(diameter_mm), figure(height_mm))))
    }),
    number("Price", "Price of one piece when few are bought.", 60.0, |ui, entry| {
        label(ui, entry.price.map(|price| format!("{price:.2}")))
    }),
];

fn label(ui: &mut Ui, text: Option<String>) -> Response {
    let tokens = theme::tokens(ui);
    match text {
        Some(text) => ui.add(egui::Label::new(text).selectable(false)),
        None => ui.add(egui::Label::new(egui::RichText::new(UNKNOWN).color(tokens.weak)).selectable(false).truncate()),
    }
}

/// Numbers on the right, everything else on the left.
pub(crate) fn aligned<R>(ui: &mut Ui, column: &Column, contents: impl FnOnce(&mut Ui) -> R) {
    let layout =
        if column.number { Layout::right_to_left(Align::Center) } else { Layout::left_to_right(Align::Center) };
    ui.with_layout(layout, contents);
}
