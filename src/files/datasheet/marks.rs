//! The text of a cell: its lines, and its footnote marks apart from its figures.

use super::gaps;
use super::page::Word;
use super::text::is_mark;

/// Sizes of letters below this share of the cell's are those of marks.
const SMALL: f32 = 0.82;
/// Least share of the size by which a mark is raised.
const RAISED: f32 = 0.15;

/// A line of text in a cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TextLine {
    /// Base line, in points.
    pub(super) base: f32,
    /// Size of its letters.
    pub(super) size: f32,
    pub(super) text: String,
    /// Raised marks of it.
    pub(super) marks: String,
}

/// The lines of a cell from top to bottom; turned text is read in its own direction.
pub(super) fn lines(words: &[Word]) -> Vec<TextLine> {
    let level: Vec<Word> = words.iter().filter(|word| word.turn == 0).cloned().collect();
    let mut all: Vec<TextLine> = gaps::lines(&level).iter().map(|line| text_line(line)).collect();
    for turn in [1, 3, 2] {
        let turned: Vec<Word> =
            words.iter().filter(|word| word.turn == turn).map(|word| levelled(word, turn)).collect();
        all.extend(gaps::lines(&turned).iter().map(|line| text_line(line)));
    }
    // A mark far above its text makes a line of its own.
    let size = all.iter().map(|line| line.size).fold(0.0, f32::max);
    let far = |line: &TextLine| line.size < SMALL * size && is_mark(&line.text);
    if let Some(main) = all.iter().position(|line| !far(line)) {
        let raised: Vec<String> = all.iter().filter(|line| far(line)).map(|line| line.text.clone()).collect();
        all[main].marks.extend(raised);
        all.retain(|line| !far(line));
    }
    all.retain(|line| !line.text.is_empty() || !line.marks.is_empty());
    all
}

/// A turned word as it would lie were it not.
fn levelled(word: &Word, turn: u8) -> Word {
    let rect = word.rect;
    let (x0, x1, base) = match turn {
        1 => (rect.y0, rect.y1, -word.base),
        3 => (-rect.y1, -rect.y0, word.base),
        _ => (-rect.x1, -rect.x0, -word.base),
    };
    let rect = super::page::Rect { x0, x1, y0: base - word.size, y1: base };
    Word { rect, base, turn: 0, ..word.clone() }
}

fn text_line(words: &[Word]) -> TextLine {
    let size = words.iter().map(|word| word.size).fold(0.0, f32::max);
    let main = words.iter().filter(|word| word.size >= SMALL * size);
    let base = main.map(|word| word.base).fold(f32::MIN, f32::max);
    let (mut text, mut marks, mut end) = (String::new(), String::new(), f32::MIN);
    for word in words {
        let small = word.size < SMALL * size;
        // A small digit at a figure never joins it, whether raised or not.
        let at_figure =
            text.ends_with(|c: char| c.is_ascii_digit()) && word.text.starts_with(|c: char| c.is_ascii_digit());
        if small && is_mark(&word.text) && (at_figure || base - word.base >= RAISED * size) {
            marks.push_str(&word.text);
            continue;
        }
        // An index such as that of a voltage hangs on its letter.
        let hangs = small && word.rect.x0 - end < 0.15 * size;
        if !text.is_empty() && !hangs {
            text.push(' ');
        }
        text.push_str(&word.text);
        end = word.rect.x1;
    }
    TextLine { base, size, text, marks }
}

/// The lines of a header as one text: words that were parted at the end of a line are whole again.
pub(super) fn header(lines: &[TextLine]) -> String {
    let mut text = String::new();
    for line in lines {
        let parted = text.ends_with('-')
            && text.chars().rev().nth(1).is_some_and(char::is_lowercase)
            && line.text.starts_with(char::is_lowercase);
        if parted {
            text.pop();
        } else if !(text.is_empty() || text.ends_with(is_wide) && line.text.starts_with(is_wide)) {
            text.push(' ');
        }
        text.push_str(&line.text);
    }
    // `Impe- dance` on one line is the same.
    while let Some(at) = text
        .find("- ")
        .filter(|&at| text[..at].ends_with(char::is_lowercase) && text[at + 2..].starts_with(char::is_lowercase))
    {
        text.replace_range(at..at + 2, "");
    }
    text.trim().to_owned()
}

/// Letters of Chinese and Japanese, which are written without blanks.
fn is_wide(c: char) -> bool {
    matches!(c, '\u{3040}'..='\u{30FF}' | '\u{4E00}'..='\u{9FFF}')
}
