//! What to do before a charged capacitor is touched: one text for guide, window and sheets.

/// Voltage to which a capacitor is discharged, V (IEC 60204-1 6.2.4, quoted).
pub const SAFE_V: f64 = 60.0;

/// Time for it, s (same clause).
pub const WITHIN_S: f64 = 5.0;

/// Resistor that discharge times are told for, Ω: a few watts of it suffice for most parts (common practice, no source).
pub const DISCHARGE_OHM: f64 = 10_000.0;

/// The steps in their order: a word, and what it means.
pub const STEPS: [(&str, &str); 7] = [
    ("Isolate.", "Switch off, lock off and prove dead; other boards in the machine may feed this one."),
    ("Discharge", "through a suitably rated resistor; never short a charged capacitor."),
    ("Verify", "below 60 V at the terminals, with a meter proved on a known source before and after."),
    (
        "Keep it discharged.",
        "Leave the discharge resistor (or, once verified, a shorting link) connected while you work; voltage recovers.",
    ),
    (
        "Polarity.",
        "A reversed capacitor heats, vents or bursts at once. Mark the board before the old part comes out, check again \
         before power; only bipolar (non-polar) parts may be reversed.",
    ),
    (
        "Vent.",
        "Keep the space above the vent free and faces away from it; first power-up behind a shield, current limited, the \
         voltage raised slowly on parts that were stored for years.",
    ),
    ("Electrolyte", "irritates: gloves, glasses, wipe the board clean."),
];

/// Before potting is dug out (common practice, no source).
pub const DIG_OUT: &str = "Potting: find out first what it is; old compounds may hold lead, asbestos or amines, and none is cut or \
    heated unknown. Dig it out by hand, cold, a little at a time, away from tracks and glass. Its dust is not for lungs, eyes or \
    skin: extraction at the spot, a mask for fine dust (P3), goggles, gloves; wipe wet, never blow. Solvents and strippers only \
    as their safety sheet allows, with fresh air and no flame or hot iron near, never on a charged board, never near the seal of \
    a can that stays.";

/// What the absence of a caution means.
pub const NO_CAUTION: &str = "No caution does not mean safe: other parts and the mains share the board.";

/// Who decides.
pub const WHO_DECIDES: &str =
    "Local codes, the safety rules of the site and people licensed for the work decide, not this program.";

/// The steps on the voltage in one paragraph, for the window.
pub fn before_touching() -> String {
    let steps: Vec<String> = STEPS[..4].iter().map(|(word, text)| format!("{word} {text}")).collect();
    format!("{} {WHO_DECIDES}", steps.join(" "))
}
