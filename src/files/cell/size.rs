//! Body and land dimensions, in mm.
//!
//! `D6.3xL5.4mm`, `Ø10 × 12.5`, `0.394" Dia (10.00mm)`, `D125 H350 P050`; names of footprints go through [`super::footprint`]. Two bare
//! dimensions (`11x5`) have no order of their own: the column decides, or they are asked.

use super::body::Size;
use super::digits::Number;
use super::scan::{Join, Token, scan};
use super::unit::{Kind, Unit};
use super::words;
use super::{Column, Decimal, Doubt, Order, Reading, ask, choose, decide, footprint, length};

/// Dimensions of parts that exist, in mm.
const POSSIBLE_MM: std::ops::RangeInclusive<f64> = 0.1..=300.0;

/// One dimension with the letters before and after it.
#[derive(Debug, Clone)]
struct Dim {
    number: Number,
    label: Option<Label>,
    unit: Option<Unit>,
    bracketed: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Label {
    Diameter,
    BodyDiameter,
    Length,
    Height,
    Width,
    Pitch,
    Lead,
    /// Known and of no use here (land spans).
    Other,
}

impl Label {
    pub(crate) fn parse(word: &str) -> Option<Label> {
        let names = [
            ("diameters", Label::Diameter),
            ("body diameters", Label::BodyDiameter),
            ("lengths of bodies", Label::Length),
            ("heights", Label::Height),
            ("widths", Label::Width),
            ("lead spacings", Label::Pitch),
            ("leads", Label::Lead),
            ("other dimensions", Label::Other),
        ];
        names.into_iter().find(|(of, _)| words::says(of, word)).map(|(_, label)| label)
    }
}

/// Reads a size cell or the name of a footprint.
pub fn read(text: &str, column: &Column) -> Reading<Size> {
    let text = &length::without_fractions(text, column.unit);
    decide(text, column, |text, decimal| match footprint::read(text) {
        Some(size) => Reading::Value(size),
        None => read_dimensions(text, decimal, column),
    })
}

/// Takes glued words apart: `MMX` and `xL` hold the multiplication sign.
fn split_words(tokens: Vec<Token>) -> Vec<Token> {
    let mut out = Vec::with_capacity(tokens.len());
    for token in tokens {
        let Token::Word(word) = &token else {
            out.push(token);
            continue;
        };
        let lower = word.to_lowercase();
        if let Some(unit) =
            lower.strip_suffix('x').filter(|unit| Unit::parse(unit).is_some_and(|unit| unit.kind() == Kind::Length))
        {
            out.extend([Token::Word(unit.to_string()), Token::Mark('x')]);
        } else if let Some(label) = lower.strip_prefix('x').filter(|label| Label::parse(label).is_some()) {
            out.extend([Token::Mark('x'), Token::Word(label.to_string())]);
        } else if let Some(label) = lower.strip_suffix('x').filter(|label| Label::parse(label).is_some()) {
            out.extend([Token::Word(label.to_string()), Token::Mark('x')]);
        } else if lower == "x" {
            out.push(Token::Mark('x'));
        } else {
            out.push(token);
        }
    }
    out
}

fn collect(text: &str, decimal: Decimal) -> Result<(Vec<Dim>, Vec<String>), String> {
    // `D10P5`: a letter between figures begins the next dimension, it is no decimal mark.
    let mut apart = String::with_capacity(text.len());
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        let between = apart.ends_with(|c: char| c.is_ascii_digit()) && chars.peek().is_some_and(char::is_ascii_digit);
        apart.extend(Some(' ').filter(|_| between && c.is_alphabetic() && c != 'x'));
        apart.push(c);
    }
    let tokens = split_words(scan(&apart, decimal, Join::Never));
    let (mut dims, mut words): (Vec<Dim>, Vec<String>) = (Vec::new(), Vec::new());
    let mut pending = None;
    let mut bracketed = false;
    let mut at = 0;
    // `10 dia 20 high`: figures first, and behind the last of them its name.
    let named = |token: Option<&Token>| matches!(token, Some(Token::Word(word)) if Label::parse(word).is_some());
    let behind = matches!(tokens.first(), Some(Token::Number(_))) && named(tokens.last());
    while at < tokens.len() {
        match &tokens[at] {
            Token::Number(number) => {
                let mut dim = Dim { number: number.clone(), label: pending.take(), unit: None, bracketed };
                if let Some(Token::Word(word)) = tokens.get(at + 1)
                    && let Some(unit) = Unit::parse(word).filter(|unit| unit.kind() == Kind::Length)
                {
                    dim.unit = Some(unit);
                    at += 1;
                }
                // A label behind its number (`0.394" Dia`) is followed by no number of its own.
                if let (None, Some(Token::Word(word)), false) =
                    (dim.label, tokens.get(at + 1), !behind && matches!(tokens.get(at + 2), Some(Token::Number(_))))
                    && let Some(label) = Label::parse(word)
                {
                    dim.label = Some(label);
                    at += 1;
                }
                // `10(D)x20(L)`: the label in brackets belongs to the number before it.
                if let (None, Some(Token::Mark('(')), Some(Token::Word(word)), Some(Token::Mark(')'))) =
                    (dim.label, tokens.get(at + 1), tokens.get(at + 2), tokens.get(at + 3))
                    && let Some(label) = Label::parse(word)
                {
                    dim.label = Some(label);
                    at += 3;
                }
                dims.push(dim);
            }
            Token::Word(word) => {
                if let Some(label) = Label::parse(word) {
                    pending = Some(label);
                } else {
                    pending = None;
                    words.push(word.clone());
                }
            }
            Token::Mark('(') => bracketed = true,
            Token::Mark(')') => bracketed = false,
            Token::Mark('x' | '=' | '.' | ':') => {}
            Token::Mark(_) => pending = None,
            Token::Broken(reason) => return Err(reason.clone()),
        }
        at += 1;
    }
    Ok((dims, words))
}

/// Dimensions given in inches with the millimetres in brackets: the millimetres with the labels of the inches.
fn fold_brackets(text: &str, dims: Vec<Dim>) -> Result<Vec<Dim>, String> {
    let (inside, mut outside): (Vec<Dim>, Vec<Dim>) = dims.into_iter().partition(|dim| dim.bracketed);
    if inside.is_empty() {
        return Ok(outside);
    }
    if inside.len() != outside.len() {
        return Err(format!("`{text}`: the figures in brackets do not match those before"));
    }
    for (outer, inner) in outside.iter_mut().zip(inside) {
        let (Some(outer_unit), Some(inner_unit)) = (outer.unit, inner.unit) else {
            return Err(format!("`{text}`: figures in brackets without a unit"));
        };
        let (a, b) = (length::millimetres(&outer.number, outer_unit), length::millimetres(&inner.number, inner_unit));
        if !matches!((a, b), (Some(a), Some(b)) if length::agree(a, b)) {
            return Err(format!("`{text}`: the figures in brackets differ from those before"));
        }
        if inner_unit == Unit::Millimetre {
            (outer.number, outer.unit) = (inner.number, inner.unit);
        }
    }
    Ok(outside)
}

/// Whether a can on a board may have these dimensions, mm (common practice, no source: screw terminals stand 32 mm apart at most, the
/// largest cans are 100 mm wide, the lowest 1 mm high).
fn is_can(size: &Size) -> bool {
    let within = |mm: Option<f64>, least: f64, most: f64| mm.is_none_or(|mm| (least..=most).contains(&mm));
    let pitch_fits = size.pitch_mm.zip(size.diameter_mm).is_none_or(|(pitch, diameter)| pitch < diameter);
    within(size.diameter_mm, 2.5, 101.0)
        && within(size.height_mm, 1.0, 260.0)
        && within(size.pitch_mm, 0.8, 40.0)
        && pitch_fits
}

/// A footprint's name without the count of its library (`..._D10.0_P5.00_1`): a whole number of one or two digits behind the last line,
/// where the dimensions before it have their letters.
fn without_count(name: &str) -> &str {
    let Some((rest, count)) = name.rsplit_once('_') else { return name };
    let is_count = (1..=2).contains(&count.len()) && count.bytes().all(|c| c.is_ascii_digit());
    let lettered = |letter: char| {
        rest.match_indices(letter).any(|(at, _)| rest[at + 1..].starts_with(|c: char| c.is_ascii_digit()))
    };
    if is_count && lettered('D') && lettered('P') { rest } else { name }
}

fn read_dimensions(text: &str, decimal: Decimal, column: &Column) -> Reading<Size> {
    let text = &footprint::without_volts(without_count(footprint::own_name(text)));
    let (dims, words) = match collect(text, decimal) {
        Ok(collected) => collected,
        Err(reason) => return Reading::Bad { reason },
    };
    let dims = match fold_brackets(text, dims) {
        Ok(dims) => dims,
        Err(reason) => return Reading::Bad { reason },
    };
    let unknown = words.iter().find(|word| !words::says("words of footprints", word));
    match (dims.is_empty(), unknown) {
        (true, _) => return Reading::bad(format!("no dimension in `{text}`")),
        (_, Some(word)) => {
            return Reading::bad(format!("`{word}` in `{text}` is not understood (a maker's size name?)"));
        }
        _ => {}
    }
    // `C050-025X075`: the sides of a box in tenths, in the manner of board libraries; a can has a diameter.
    let padded = |dim: &Dim| dim.label.is_none() && dim.unit.is_none() && dim.number.digits().starts_with('0');
    if dims.len() > 1 && dims.iter().any(|dim| padded(dim) && dim.number.is_whole() && dim.number.digits().len() == 3) {
        return Reading::bad(format!("`{text}` are the sides of a box, not of a can"));
    }
    if let [Dim { label: Some(Label::Length | Label::Height | Label::Width), unit: None, number, .. }] = dims.as_slice()
        && number.is_whole()
        && words.is_empty()
        && text.chars().all(char::is_alphanumeric)
    {
        return Reading::bad(format!("`{text}` may be a maker's code for a size"));
    }
    // `CAP_EL_10_5`: diameter and height, or diameter and lead spacing.
    if text.contains('_')
        && !text.to_lowercase().contains(['x', '/'])
        && dims.iter().filter(|dim| dim.label.is_none()).count() > 1
    {
        return Reading::bad(format!("`{text}`: it is not clear which dimension is which"));
    }
    // `D8` alone is a diameter, or one of the letters with a figure that makers of SMD cans give their sizes.
    let coded = match dims.as_slice() {
        [Dim { label: Some(Label::Diameter), unit: None, number, .. }] => {
            let plain = text.len() <= 3 && text.starts_with('D') && words.is_empty();
            number.value().filter(|mm| plain && number.is_whole() && *mm < 10.0)
        }
        _ => None,
    };
    if coded == Some(0.0) {
        return Reading::bad("expected a diameter above 0 mm".to_owned());
    }
    if let (Some(mm), None) = (coded, column.unit) {
        let diameter = Size { diameter_mm: Some(mm), ..Size::default() };
        return ask("a diameter, or a maker's code for a size", vec![diameter]);
    }
    // The last unit holds for the numbers before it: `12.5 x 20 mm`.
    let common = dims
        .iter()
        .rev()
        .find_map(|dim| dim.unit)
        .or(column.unit.filter(|unit| unit.kind() == Kind::Length))
        .unwrap_or(Unit::Millimetre);
    let scaled = |shift: i32| -> Option<Vec<(Option<Label>, f64)>> {
        dims.iter()
            .map(|dim| {
                let unit = dim.unit.unwrap_or(common);
                let mm = if unit == Unit::Millimetre {
                    dim.number.shifted(shift)?
                } else {
                    length::millimetres(&dim.number, unit)?
                };
                POSSIBLE_MM.contains(&mm).then_some((dim.label, mm))
            })
            .collect()
    };
    let in_tenths = dims.len() > 1
        && dims.iter().all(|dim| {
            dim.label.is_some() && dim.unit.is_none() && dim.number.is_whole() && dim.number.digits().len() <= 3
        })
        && dims.iter().any(|dim| dim.number.digits().len() == 3);
    // D125 H350 P050: three digits are tenths of a millimetre; a leading zero settles it, otherwise what cans exist, else both are possible.
    let certain_tenths = in_tenths && dims.iter().any(|dim| dim.number.digits().starts_with('0'));
    let mut options = Vec::new();
    let mut what = Doubt::SizeOrder;
    if in_tenths && !certain_tenths {
        what = "whole or tenths of a millimetre".into();
    }
    for shift in if certain_tenths {
        vec![-1]
    } else if in_tenths {
        vec![-1, 0]
    } else {
        vec![0]
    } {
        if let Some(labelled) = scaled(shift) {
            match assemble(&labelled, column.order) {
                Ok(sizes) => options.extend(sizes),
                Err(reason) if options.is_empty() && shift == 0 => return Reading::bad(format!("`{text}`: {reason}")),
                Err(_) => {}
            }
        }
    }
    keep_cans(&mut options, dims.iter().all(|dim| dim.unit.is_none()));
    if options.is_empty() { Reading::bad(format!("`{text}` is no possible size")) } else { choose(what, options) }
}

/// Keeps the sizes a can may have, where some are; without units the lead spacing may be in other steps.
fn keep_cans(options: &mut Vec<Size>, steps_open: bool) {
    if options.iter().any(is_can) {
        options.retain(is_can);
    }
    // `D8P35`: whatever the steps, the can is not narrower than its leads.
    for size in options.iter_mut().filter(|_| steps_open) {
        size.pitch_mm = size.pitch_mm.filter(|pitch| size.diameter_mm.is_none_or(|diameter| *pitch < diameter));
    }
}

/// Every size that the labelled dimensions can mean.
fn assemble(dims: &[(Option<Label>, f64)], order: Order) -> Result<Vec<Size>, String> {
    let has = |label: Label| dims.iter().any(|dim| dim.0 == Some(label));
    let body = has(Label::BodyDiameter);
    let boxed = has(Label::Length) && has(Label::Width);
    let mut size = Size::default();
    let mut bare = Vec::new();
    let mut pitches = Vec::new();
    for &(label, mm) in dims {
        let slot = match label {
            None => {
                bare.push(mm);
                continue;
            }
            // Beside a body diameter or a box, D is the lead: CAP-TH_BD8.0-P3.50-D0.6-FD.
            Some(Label::Diameter) if body || boxed => &mut size.lead_d_mm,
            Some(Label::BodyDiameter | Label::Diameter) => &mut size.diameter_mm,
            Some(Label::Lead) => &mut size.lead_d_mm,
            Some(Label::Length | Label::Width) if body || boxed => {
                size.base_mm = Some(size.base_mm.map_or(mm, |base| base.max(mm)));
                continue;
            }
            Some(Label::Height | Label::Length) => &mut size.height_mm,
            Some(Label::Pitch) => {
                pitches.push(mm);
                continue;
            }
            Some(Label::Width) => return Err("a width that may be the diameter".to_owned()),
            Some(Label::Other) => continue,
        };
        if slot.is_some_and(|before| before != mm) {
            return Err("the same dimension twice with different figures".to_string());
        }
        *slot = Some(mm);
    }
    let sizes = match (bare.as_slice(), size.diameter_mm, size.height_mm) {
        ([], ..) => vec![size],
        (&[height], Some(_), None) => vec![Size { height_mm: Some(height), ..size }],
        (&[diameter], None, Some(_)) => vec![Size { diameter_mm: Some(diameter), ..size }],
        (&[a, b], None, None) => {
            let diameter_first = Size { diameter_mm: Some(a), height_mm: Some(b), ..size };
            let height_first = Size { diameter_mm: Some(b), height_mm: Some(a), ..size };
            match order {
                Order::DiameterFirst => vec![diameter_first],
                Order::HeightFirst => vec![height_first],
                Order::Unknown => vec![diameter_first, height_first],
            }
        }
        // `D x L x P`: the third figure is the lead spacing.
        (&[diameter, height, pitch], None, None) if order == Order::DiameterFirst && pitch < diameter => {
            vec![Size { diameter_mm: Some(diameter), height_mm: Some(height), pitch_mm: Some(pitch), ..size }]
        }
        // Two equal sides first: the base plate of an SMD can.
        (&[a, b, height], None, None) if a == b => vec![Size { base_mm: Some(a), height_mm: Some(height), ..size }],
        _ => return Err("it is not clear which dimension is which".to_string()),
    };
    if pitches.is_empty() {
        return Ok(sizes);
    }
    Ok(pitches
        .iter()
        .flat_map(|&pitch| sizes.iter().map(move |size| Size { pitch_mm: Some(pitch), ..*size }))
        .collect())
}

/// `D10mm H12.5mm P5mm`: labelled, so that it reads back in any column; beside a base plate (`L10.3mm W10.3mm`) the diameter is `BD`.
pub fn print(size: &Size) -> String {
    let diameter = if size.base_mm.is_some() { "BD" } else { "D" };
    [
        (diameter, size.diameter_mm),
        ("H", size.height_mm),
        ("P", size.pitch_mm),
        ("lead", size.lead_d_mm),
        ("L", size.base_mm),
        ("W", size.base_mm),
    ]
    .iter()
    .filter_map(|(name, mm)| mm.map(|mm| format!("{name}{mm}mm")))
    .collect::<Vec<_>>()
    .join(" ")
}
