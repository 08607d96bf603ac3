//! Letters put together to words.

use super::page::{Rect, UNKNOWN_SIGN, Word};

/// Widest gap within a word, in sizes of its letters.
const GAP: f32 = 0.22;
/// Most that base lines within a word differ, in sizes of its letters.
const BASE: f32 = 0.12;
/// Share of a letter under another one from which on both cannot be read.
const OVERPRINT: f32 = 0.6;

/// A letter of a page.
pub(super) struct Letter {
    pub(super) text: String,
    /// Start and end of its advance on the base line.
    pub(super) from: (f32, f32),
    pub(super) to: (f32, f32),
    pub(super) size: f32,
}

/// A letter turned so that its word runs to the right.
struct Turned<'a> {
    letter: &'a Letter,
    turn: u8,
    from: f32,
    to: f32,
    base: f32,
}

/// The words of the letters that run along or across the page; slanting ones belong to drawings.
pub(super) fn of(letters: &[Letter]) -> Vec<Word> {
    let mut all: Vec<Turned> = letters.iter().filter(|letter| !letter.text.is_empty()).filter_map(turned).collect();
    all.sort_by(|a, b| {
        (a.turn, line_of(a)).cmp(&(b.turn, line_of(b))).then(a.base.total_cmp(&b.base)).then(a.from.total_cmp(&b.from))
    });
    let mut words = Vec::new();
    for line in lines(all) {
        chain(&line, &mut words);
    }
    words
}

/// How most letters of a page run, in quarter turns clockwise; 0 where no direction has most of them.
pub(super) fn turn<'a>(letters: impl Iterator<Item = &'a Letter>) -> u8 {
    let mut counts = [0_usize; 4];
    letters
        .filter(|letter| !letter.text.trim().is_empty())
        .filter_map(turned)
        .for_each(|letter| counts[usize::from(letter.turn)] += 1);
    let all: usize = counts.iter().sum();
    (1..4).find(|&turn| counts[usize::from(turn)] * 10 > all * 6).unwrap_or(0)
}

/// Base lines in steps that are finer than any size of letters.
#[expect(clippy::cast_possible_truncation, reason = "a place on a page")]
fn line_of(glyph: &Turned) -> i64 {
    (glyph.base * 2.0).round() as i64
}

fn turned(letter: &Letter) -> Option<Turned<'_>> {
    let (dx, dy) = (letter.to.0 - letter.from.0, letter.to.1 - letter.from.1);
    let flat = dx.abs().max(dy.abs());
    // Marks without advance run as their neighbours do.
    if dx.abs().min(dy.abs()) > 0.05 * flat.max(0.01) {
        return None;
    }
    let (turn, from, to, base) = if dx.abs() >= dy.abs() {
        if dx >= 0.0 {
            (0, letter.from.0, letter.to.0, letter.from.1)
        } else {
            (2, -letter.from.0, -letter.to.0, -letter.from.1)
        }
    } else if dy > 0.0 {
        (1, letter.from.1, letter.to.1, -letter.from.0)
    } else {
        (3, -letter.from.1, -letter.to.1, letter.from.0)
    };
    Some(Turned { letter, turn, from, to, base })
}

/// Glyphs on one base line, from left to right.
fn lines(sorted: Vec<Turned<'_>>) -> Vec<Vec<Turned<'_>>> {
    let mut lines: Vec<Vec<Turned>> = Vec::new();
    for glyph in sorted {
        let near = |last: &Turned| {
            last.turn == glyph.turn && (glyph.base - last.base).abs() <= BASE * glyph.letter.size.min(last.letter.size)
        };
        match lines.last_mut().filter(|line| line.last().is_some_and(near)) {
            Some(line) => line.push(glyph),
            None => lines.push(vec![glyph]),
        }
    }
    for line in &mut lines {
        line.sort_by(|a, b| a.from.total_cmp(&b.from));
    }
    lines
}

fn chain(line: &[Turned], words: &mut Vec<Word>) {
    let mut current: Option<(Word, f32)> = None;
    let mut last: Option<&Turned> = None;
    for glyph in line {
        if glyph.letter.text.trim().is_empty() {
            words.extend(current.take().map(|(word, _)| word));
            last = None;
            continue;
        }
        let own = plain(glyph.letter.text.trim());
        let over = last.is_some_and(|last| overlap(last, glyph) > OVERPRINT);
        if let (true, Some(before)) = (over, last) {
            // The same letter twice is how bold is faked; another letter makes both unreadable.
            if before.letter.text == glyph.letter.text {
                continue;
            }
            let readable = |text: &str| text.chars().any(char::is_alphanumeric);
            let digit = |text: &str| text.chars().any(|c| c.is_ascii_digit());
            if readable(&before.letter.text)
                && readable(&glyph.letter.text)
                && (digit(&before.letter.text) || digit(&glyph.letter.text))
                && let Some((word, _)) = &mut current
            {
                word.text.push(UNKNOWN_SIGN);
            }
        }
        let size = glyph.letter.size;
        let joins = |word: &Word, end: f32| {
            let base = if matches!(glyph.turn, 1 | 2) { -word.base } else { word.base };
            glyph.from - end <= GAP * size.max(word.size)
                && glyph.from - end >= -1.5 * size
                && (size - word.size).abs() <= 0.15 * size.max(word.size)
                && (glyph.base - base).abs() <= BASE * size
        };
        match &mut current {
            Some((word, end)) if joins(word, *end) => {
                word.text.push_str(&own);
                word.rect = word.rect.with(around(glyph));
                *end = end.max(glyph.to);
            }
            _ => {
                words.extend(current.take().map(|(word, _)| word));
                let base = if glyph.turn == 1 || glyph.turn == 2 { -glyph.base } else { glyph.base };
                let word = Word { text: own, rect: around(glyph), size, base, turn: glyph.turn };
                current = Some((word, glyph.to));
            }
        }
        last = Some(glyph);
    }
    words.extend(current.map(|(word, _)| word));
}

/// Letters for signs that join several.
fn plain(text: &str) -> String {
    let ligatures = [("ﬃ", "ffi"), ("ﬄ", "ffl"), ("ﬀ", "ff"), ("ﬁ", "fi"), ("ﬂ", "fl")];
    ligatures.iter().fold(text.to_owned(), |text, (sign, letters)| text.replace(sign, letters))
}

fn overlap(a: &Turned, b: &Turned) -> f32 {
    let shared = a.to.min(b.to) - a.from.max(b.from);
    shared / (a.to - a.from).min(b.to - b.from).max(0.01)
}

/// The advance of a glyph, as high as its ink at least reaches for any letter of its size.
fn around(glyph: &Turned) -> Rect {
    let Letter { from, to, size, .. } = glyph.letter;
    let (up, down) = (0.72 * size, 0.2 * size);
    let (x, y) = ((from.0.min(to.0), from.0.max(to.0)), (from.1.min(to.1), from.1.max(to.1)));
    match glyph.turn {
        0 => Rect { x0: x.0, y0: y.0 - up, x1: x.1, y1: y.1 + down },
        1 => Rect { x0: x.0 - down, y0: y.0, x1: x.1 + up, y1: y.1 },
        2 => Rect { x0: x.0, y0: y.0 - down, x1: x.1, y1: y.1 + up },
        _ => Rect { x0: x.0 - up, y0: y.0, x1: x.1 + down, y1: y.1 },
    }
}
