//! The chapters that are plain text.

type Paragraphs = &'static [(&'static str, &'static str)];

pub(super) const START: Paragraphs = &[
    (
        "Choose",
        "Select a position on the left (arrow keys). Candidates lists what can be bought, best first, each with its outcome and the reason in words. Right arrow, then Enter, picks one; N goes to the next position that has no usable part.",
    ),
    (
        "See why",
        "Life draws how long the candidate, the original and what you pinned last against the ambient. Every heading explains itself while the pointer rests on it: meaning, formula, source.",
    ),
    (
        "Enter",
        "Ctrl+E opens everything that is known about a position, Ctrl+B the board, Ctrl+J the job with its margins. Each field says whether its figure was given, is assumed, or is unknown.",
    ),
    ("Order", "Purchase adds up what to order for all units with spares."),
    (
        "Taking back",
        "Every change can be taken back (Ctrl+Z) and done again (Ctrl+Y). Closing or opening another job asks about changes that are not saved.",
    ),
    ("The demo is invented", "The observatory job, its makers and its parts are invented."),
];

pub(super) const OUTCOMES: Paragraphs = &[
    (
        "Voltage fails or is marginal",
        "Take the next higher rated voltage if it fits the hole and the lid. Check that the working voltage was measured at the highest mains.",
    ),
    (
        "Ripple fails or is marginal",
        "Take a larger can, a part with lower ESR, or a higher temperature class; or share the current between two cans. Measure the ambient beside the can: 10 K less help more than a bigger part.",
    ),
    (
        "Life is too short",
        "Take longer endurance or a higher temperature class. If every part is capped by the calendar limit, shorten the interval.",
    ),
    (
        "ESR fails",
        "Too high: take a low-ESR series. Too low where a regulator needs some: do not take a polymer part, or add the missing resistance on purpose.",
    ),
    (
        "Capacitance fails",
        "Stay near the original for timing and coupling. Much more at a rectifier strains the rectifier and the fuse at switch-on.",
    ),
    (
        "Fit fails",
        "Look at the reason: diameter, height with vent space, pitch or neighbour. Accept another mounting in the editor only if you can make it hold mechanically.",
    ),
    ("Temperature fails", "The category must cover the coldest start as well as the hottest day."),
    ("Leakage fails", "Take a low-leakage series; polymer parts leak more."),
    (
        "Supply is marginal or fails",
        "Obsolete parts cannot be counted on; look for a successor series, or buy the need of all units at once.",
    ),
    (
        "Something is unknown",
        "The reason names the figure. Measure it, read it off the part or its data sheet, and enter it: the ripple spectrum, the ambient and the room are what is missing most often.",
    ),
];

pub(super) const TYPING: Paragraphs = &[
    (
        "Figures",
        "Type them with or without unit: 470u, 4u7, 2.2 mF, 35V, 850mA, 1.2 A, 80 mohm, 100 kHz, 58 °C, 0.5\". A number without a unit is taken in the unit of the field. 4,700 could be two things and is asked about. Empty means unknown.",
    ),
    (
        "A refused entry",
        "stays where it was typed with the reason below it; the job keeps its old value. Escape brings the old value back.",
    ),
    (
        "Several positions at once",
        "Ctrl+click or Shift+click in the list, Shift+arrows, or Ctrl+A mark positions. What is typed in the editor then goes into all of them; fields that are not touched stay as they are.",
    ),
    (
        "Pasting rows",
        "Copy rows in a spreadsheet and press Ctrl+V outside a field. Columns are known by their header (ref, capacitance, voltage, ripple, ambient ...), or guessed from what stands in them. A known reference is changed, a new one is added; cells that cannot be used are listed under Messages. It is one step to take back.",
    ),
    (
        "Dropping files",
        "Drop a job (*.json), a catalogue (*.csv) or a photo of the board (*.png, *.jpg) on the window.",
    ),
    ("Filtering candidates", "The field above the candidates says what can be typed into it."),
];

pub(super) const CAUTIONS: Paragraphs = &[
    (
        "Stored energy",
        "A can holds its charge for minutes or days after switching off. Above 60 V or 10 J the position says how much energy and how long a discharge takes. Discharge through a resistor, never by a short; verify with a meter at the terminals; leave the short or the bleeder in place, as the voltage comes back by itself.",
    ),
    (
        "Polarity",
        "A reversed part heats, vents or bursts at once. Mark the board before the old part comes out and check again before power. Only nonpolar parts may be reversed.",
    ),
    (
        "Vent",
        "Keep the space above the vent free and keep faces away during the first power-up. Raise the voltage slowly on parts that were stored for years.",
    ),
    (
        "What the figures are worth",
        "Life formulas are rules of the makers, good to a factor of about two. They are no guarantee and say nothing about a part of doubtful origin.",
    ),
    (
        "Who decides",
        "This program informs. Local codes, the safety rules of the site and people licensed for the work decide.",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Check;

    #[test]
    fn every_check_has_advice() {
        for check in Check::ALL {
            let word = check.word();
            assert!(OUTCOMES.iter().any(|(heading, _)| heading.to_lowercase().starts_with(word)), "{word}");
        }
    }
}
