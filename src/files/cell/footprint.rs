//! Footprint names with dimensions in them that follow a rule of their library instead of labels.

use super::body::Size;
use super::words;

/// Words in size cells and footprint names that say nothing about a dimension.
pub(crate) fn is_known_word(word: &str) -> bool {
    let lower = word.to_lowercase();
    words::list("words of footprints").any(|known| known == lower)
}

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

/// The size a footprint name follows from its library's rule: KiCad's `CP_Elec_8x6.2` (diameter × height), `E5-10,5` (lead spacing, diameter), and the IPC-7351 names
/// `CAPAE830X1050N` (base × height) and `CAPPRD500W60D1000H1250B` (pitch, lead, diameter, height), both in hundredths of a millimetre;
/// rules from memory. `None` when the name follows none of them.
pub(crate) fn read(text: &str) -> Option<Size> {
    let name = text.rsplit(':').next()?.trim();
    kicad_smd(name)
        .or_else(|| ipc_smd(name))
        .or_else(|| ipc_radial(name))
        .or_else(|| lettered(name))
        .or_else(|| dashed(name))
}

fn possible(mm: f64) -> Option<f64> {
    (0.1..=300.0).contains(&mm).then_some(mm)
}

fn kicad_smd(name: &str) -> Option<Size> {
    let rest = name.strip_prefix("CP_Elec_").or_else(|| name.strip_prefix("C_Elec_"))?;
    let rest = rest.split('_').next()?;
    let (diameter, height) = rest.split_once('x')?;
    let figure = |text: &str| {
        let plain = !text.is_empty() && text.len() <= 6 && text.chars().all(|c| c.is_ascii_digit() || c == '.');
        plain.then(|| text.parse::<f64>().ok()).flatten().and_then(possible)
    };
    Some(Size { diameter_mm: Some(figure(diameter)?), height_mm: Some(figure(height)?), ..Size::default() })
}

/// Whole hundredths of a millimetre at the start of `text`, and what follows them.
fn hundredths(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    if !(1..=5).contains(&end) {
        return None;
    }
    let mm = format!("{}e-2", &text[..end]).parse().ok().and_then(possible)?;
    Some((mm, &text[end..]))
}

fn ipc_smd(name: &str) -> Option<Size> {
    let upper = name.to_uppercase();
    let (base_mm, rest) = hundredths(upper.strip_prefix("CAPAE")?)?;
    let (height_mm, rest) = hundredths(rest.strip_prefix('X')?)?;
    matches!(rest, "" | "N" | "M" | "L").then_some(Size {
        base_mm: Some(base_mm),
        height_mm: Some(height_mm),
        ..Size::default()
    })
}

/// `E5-10,5`: the letter of the electrolytics, lead spacing and diameter in mm (common practice of board libraries, no source).
fn lettered(name: &str) -> Option<Size> {
    let (pitch, diameter) = name.strip_prefix('E')?.split_once('-')?;
    let figure = |text: &str| {
        let plain =
            !text.is_empty() && text.len() <= 5 && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
        plain.then(|| text.replace(',', ".").parse::<f64>().ok()).flatten().and_then(possible)
    };
    let (pitch_mm, diameter_mm) = (figure(pitch)?, figure(diameter)?);
    (pitch_mm < diameter_mm).then_some(Size {
        diameter_mm: Some(diameter_mm),
        pitch_mm: Some(pitch_mm),
        ..Size::default()
    })
}

/// `RB7.6-15` (lead spacing, diameter) and `CAPPR5-10x20` (lead spacing, diameter, height), in mm: names of two board libraries, from
/// memory.
fn dashed(name: &str) -> Option<Size> {
    let upper = name.to_uppercase();
    let (rest, with_height) = match (upper.strip_prefix("RB"), upper.strip_prefix("CAPPR")) {
        (Some(rest), _) => (rest, false),
        (_, Some(rest)) => (rest, true),
        _ => return None,
    };
    let figure = |text: &str| {
        let plain = !text.is_empty() && text.len() <= 5 && text.chars().all(|c| c.is_ascii_digit() || c == '.');
        plain.then(|| text.parse::<f64>().ok()).flatten().and_then(possible)
    };
    let (pitch, body) = rest.split_once('-')?;
    let (diameter, height) = match body.split_once('X') {
        Some((diameter, height)) if with_height => (diameter, Some(figure(height)?)),
        None if !with_height => (body, None),
        _ => return None,
    };
    let (pitch_mm, diameter_mm) = (figure(pitch)?, figure(diameter)?);
    (pitch_mm < diameter_mm).then_some(Size {
        diameter_mm: Some(diameter_mm),
        height_mm: height,
        pitch_mm: Some(pitch_mm),
        ..Size::default()
    })
}

fn ipc_radial(name: &str) -> Option<Size> {
    let upper = name.to_uppercase();
    let rest = upper.strip_prefix("CAPPRD").or_else(|| upper.strip_prefix("CAPRD"))?;
    let (pitch_mm, rest) = hundredths(rest)?;
    let (lead_d_mm, rest) = hundredths(rest.strip_prefix('W')?)?;
    let (diameter_mm, rest) = hundredths(rest.strip_prefix('D')?)?;
    let (height_mm, rest) = hundredths(rest.strip_prefix('H')?)?;
    matches!(rest, "" | "A" | "B" | "C").then_some(Size {
        diameter_mm: Some(diameter_mm),
        height_mm: Some(height_mm),
        pitch_mm: Some(pitch_mm),
        lead_d_mm: Some(lead_d_mm),
        base_mm: None,
    })
}
