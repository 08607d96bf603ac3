//! Figures in words, as the window writes them.

use crate::app::state::{Candidate, Scene};
use crate::domain::{Can, Check, OtherPart, Outcome, Place, Position, Status};
use crate::sizing::{Evaluation, Interval, Supply, other_parts::own_years, reasons::figure, why_not};

/// What to do while the job has no parts.
pub(crate) const NO_PARTS: &str =
    "There are no parts yet. Import a component catalogue (Ctrl+I), or drop a catalogue (*.csv) on the window.";

/// Shown where a figure is not known.
pub(crate) const UNKNOWN: &str = "unknown";

pub(crate) use crate::domain::style::{counted as count, percent};

/// Width of a text in a line, points.
pub(crate) fn width(ui: &egui::Ui, text: &str) -> f32 {
    let style = ui.style().override_text_style.clone().unwrap_or(egui::TextStyle::Body);
    let font = style.resolve(ui.style());
    ui.painter().layout_no_wrap(text.to_owned(), font, egui::Color32::PLACEHOLDER).size().x
}

/// A figure with its unit, or that it is not known.
pub(crate) fn with_unit(value: Option<f64>, unit: &str) -> String {
    value.map_or_else(|| UNKNOWN.to_owned(), |value| format!("{} {unit}", figure(value)))
}

/// A text with its first letter large.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// How a part fares, after its name in a sentence.
pub(crate) fn verdict(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Pass => "passes",
        Outcome::Marginal => "is marginal",
        Outcome::Unknown => "is unknown",
        Outcome::Fail => "fails",
    }
}

/// What limits a board and what comes next, with their years: `C7 8.3 years limits it; then C1 9, K2 12`; `None` where nothing is known.
pub(crate) fn shortest(scene: &Scene, interval: &Interval) -> Option<String> {
    let named = |(place, years): &(Place, f64)| format!("{} {}", scene.job.name_of(*place), figure(*years));
    let named: Vec<String> = interval.shortest.iter().map(named).collect();
    let (first, next) = named.split_first()?;
    let then = if next.is_empty() { String::new() } else { format!("; then {}", next.join(", ")) };
    Some(format!("{first} years limits it{then}"))
}

/// The same in full, shorter and as short as it can be, for lines of different length.
pub(crate) fn intervals(scene: &Scene, interval: &Interval) -> Vec<String> {
    let full = interval.told(scene.job);
    match (interval.years, interval.limiting) {
        (Some(years), Some(limiting)) => {
            let (years, limiting) = (figure(years), scene.job.name_of(limiting));
            let at_most = if interval.unknown.is_empty() { "" } else { "at most " };
            vec![full, format!("{at_most}{years} years, {limiting} limits"), format!("{years} years ({limiting})")]
        }
        _ => vec![full, "life unknown".to_owned()],
    }
}

/// Another part in one line: what it is, what goes in, how long it lasts.
pub(crate) fn other_part(part: &OtherPart) -> String {
    let new = part.part_number().unwrap_or("no part yet");
    let lasts = own_years(part).map_or_else(String::new, |(years, _)| format!(", lasts {} years", figure(years)));
    format!("{}, {}: {new}{lasts}", part.reference, part.kind_word())
}

/// What is printed on the original, else its figures.
pub(crate) fn original(position: &Position) -> String {
    let can = &position.original.can;
    let figures = || format!("{}, {}", with_unit(can.capacitance_uf, "µF"), with_unit(can.rated_v, "V"));
    position.original.label.clone().unwrap_or_else(figures)
}

/// The one reason against a part; of one that is hard to buy what makes it so.
pub(crate) fn against(scene: &Scene, candidate: Candidate, can: &Can, evaluation: &Evaluation) -> Option<String> {
    let place = scene.place()?;
    let (check, words) = why_not::against(place, can, evaluation)?;
    let Candidate::Part(id) = candidate else { return Some(words) };
    if check != Check::Supply || evaluation.verdict != Outcome::Marginal {
        return Some(words);
    }
    let Supply { status, stock } = Supply::of(place, scene.catalog, id);
    let phased_out = (status == Some(Status::Nrnd)).then(|| "not for new designs".to_owned());
    let short = stock.filter(|stock| *stock < place.need_qty);
    let short = short.map(|stock| format!("stock {}, {} needed", figure(stock), figure(place.need_qty)));
    let told: Vec<String> = phased_out.into_iter().chain(short).collect();
    Some(if told.is_empty() { words } else { told.join("; ") })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unknown_figure_is_called_so_and_never_zero() {
        assert_eq!(with_unit(None, "mΩ"), "unknown");
        assert_eq!(with_unit(Some(0.0), "mΩ"), "0 mΩ");
        assert_eq!(percent(0.756), "76 %");
    }
}
