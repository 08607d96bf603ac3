//! Footprint names with dimensions in them that follow a rule of their library instead of labels.

use super::body::Size;
use super::words;

/// The rated voltage in a footprint's name, a piece of its own (`ELKO_35V_D10_P5`), V.
pub(crate) fn rated_v(name: &str) -> Option<f64> {
    let mut found = name.split(['_', '-', ' ', '/']).filter_map(volts);
    let first = found.next()?;
    found.all(|other| other == first).then_some(first)
}

/// The name without the pieces that are voltages.
pub(crate) fn without_volts(name: &str) -> String {
    let pieces: Vec<&str> = name.split('_').filter(|piece| volts(piece).is_none()).collect();
    pieces.join("_")
}

fn volts(piece: &str) -> Option<f64> {
    let upper = piece.to_ascii_uppercase();
    let figure = upper.strip_suffix("VDC").or_else(|| upper.strip_suffix('V'))?;
    let plain = !figure.is_empty() && figure.chars().all(|c| c.is_ascii_digit() || c == '.');
    plain.then(|| figure.parse().ok()).flatten().filter(|volts| (2.0..=1000.0).contains(volts))
}

/// The size a footprint's name says by the rule of its library, one of the `names of footprints` in `words.txt` (IPC-7351, and common
/// practice of board libraries; from memory): letters as they stand, `{d}` a diameter in mm, `{h}` a height, `{p}` a lead spacing, `{w}` a
/// lead, `{b}` a base, `{d%}` in hundredths of a millimetre. `None` when the name follows none of them.
pub(crate) fn read(text: &str) -> Option<Size> {
    let name = own_name(text).to_lowercase();
    words::list("names of footprints").find_map(|rule| by_rule(&name, rule))
}

/// A name without the library or folder it stands in: `Capacitors_THT:CP_Radial_D10.0mm_P5.00mm`.
pub(crate) fn own_name(text: &str) -> &str {
    let own = text.rsplit([':', '\\']).next().unwrap_or(text).trim();
    if own.starts_with(char::is_alphabetic) && own.contains(['_', '-']) { own } else { text.trim() }
}

fn by_rule(name: &str, rule: &str) -> Option<Size> {
    let mut pieces = rule.split('{');
    let mut rest = name.strip_prefix(pieces.next()?)?;
    let mut size = Size::default();
    for piece in pieces {
        let (slot, letters) = piece.split_once('}')?;
        let end = rest.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(rest.len());
        let (figure, behind) = rest.split_at(end);
        let (slot, power) = slot.strip_suffix('%').map_or((slot, ""), |slot| (slot, "e-2"));
        let mm = format!("{}{power}", figure.replace(',', ".")).parse().ok()?;
        let possible = end <= 6 && (0.1..=300.0).contains(&mm);
        let place = match slot {
            "d" => &mut size.diameter_mm,
            "h" => &mut size.height_mm,
            "p" => &mut size.pitch_mm,
            "w" => &mut size.lead_d_mm,
            _ => &mut size.base_mm,
        };
        *place = Some(mm).filter(|_| possible);
        place.as_ref()?;
        rest = behind.strip_prefix(letters)?;
    }
    let ends = rest.starts_with('_') || ["", "n", "m", "l", "a", "b", "c"].contains(&rest);
    let fits = size.pitch_mm.zip(size.diameter_mm).is_none_or(|(pitch, diameter)| pitch < diameter);
    (ends && fits).then_some(size)
}
