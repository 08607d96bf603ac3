//! What can be seen on a page: the answer of the process that reads it.

use serde::{Deserialize, Serialize};

/// Stands for a sign of which the file does not say what letter it is.
pub const UNKNOWN_SIGN: char = '\u{FFFD}';
/// First of the characters that stand for the signs of [`Page::signs`] until somebody says what they are.
pub const FIRST_SIGN: char = '\u{E000}';
/// Last of them: the end of the private use area.
pub const LAST_SIGN: char = '\u{F8FF}';
/// Most words of a page.
pub const WORDS_MAX: usize = 200_000;
/// Most ruling lines of a page.
pub const RULINGS_MAX: usize = 100_000;
/// Most different unknown signs of a page.
pub const SIGNS_MAX: usize = 500;
/// Longest side of a page, in points (1/72 inch): the largest a PDF file can have without a unit of its own (ISO 32000-1, annex C).
pub const SIDE_PT_MAX: f32 = 14_400.0;

/// A rectangle on a page, in points (1/72 inch) from its upper left corner, y downwards.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[expect(missing_docs, reason = "left, top, right and bottom")]
pub struct Rect {
    pub x0: f32,
    pub y0: f32,
    pub x1: f32,
    pub y1: f32,
}

impl Rect {
    /// The smallest rectangle around both.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            x0: self.x0.min(other.x0),
            y0: self.y0.min(other.y0),
            x1: self.x1.max(other.x1),
            y1: self.y1.max(other.y1),
        }
    }

    /// Its middle.
    pub fn middle(self) -> (f32, f32) {
        ((self.x0 + self.x1) / 2.0, (self.y0 + self.y1) / 2.0)
    }

    /// Whether a point lies in it.
    pub fn has(self, (x, y): (f32, f32)) -> bool {
        (self.x0..=self.x1).contains(&x) && (self.y0..=self.y1).contains(&y)
    }

    /// Its width, in points.
    pub fn width(self) -> f32 {
        self.x1 - self.x0
    }

    /// Its height, in points.
    pub fn height(self) -> f32 {
        self.y1 - self.y0
    }

    fn is_sound(self) -> bool {
        [self.x0, self.y0, self.x1, self.y1].iter().all(|side| side.abs() <= 4.0 * SIDE_PT_MAX)
            && self.x0 <= self.x1
            && self.y0 <= self.y1
    }
}

/// Letters without a gap between them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Word {
    /// What is written.
    pub text: String,
    /// Where it stands.
    pub rect: Rect,
    /// Size of its letters, in points.
    pub size: f32,
    /// Its base line: y of a word that runs to the right, and so on for turned ones.
    pub base: f32,
    /// Quarter turns clockwise: 0 runs to the right, 1 downwards, 3 upwards.
    pub turn: u8,
}

/// A straight line along or across the page.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Ruling {
    /// Whether it runs along y.
    pub upright: bool,
    /// Its x when upright, else its y; points.
    pub at: f32,
    /// Its lesser end.
    pub from: f32,
    /// Its greater end.
    pub to: f32,
}

impl Ruling {
    /// The part of it in a rectangle.
    pub fn within(self, rect: Rect) -> Option<Self> {
        let ((across0, across1), (along0, along1)) = if self.upright {
            ((rect.x0, rect.x1), (rect.y0, rect.y1))
        } else {
            ((rect.y0, rect.y1), (rect.x0, rect.x1))
        };
        let cut = Self { from: self.from.max(along0), to: self.to.min(along1), ..self };
        ((across0..=across1).contains(&self.at) && cut.from < cut.to).then_some(cut)
    }
}

/// A sign of which the file does not say what letter it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sign {
    /// Name of its shape, the same on every page of the file.
    pub key: String,
    /// Where it stands first.
    pub rect: Rect,
}

/// What can be seen on a page.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Page {
    /// Its number, from 1.
    pub number: usize,
    /// Pages of the file.
    pub pages: usize,
    /// Width, in points.
    pub width: f32,
    /// Height, in points.
    pub height: f32,
    /// The words that can be seen.
    pub words: Vec<Word>,
    /// The ruling lines.
    pub rulings: Vec<Ruling>,
    /// Signs without a letter; the n-th stands in words as the n-th character from [`FIRST_SIGN`].
    pub signs: Vec<Sign>,
    /// Letters of the file that cannot be seen on the page; they are not among the words.
    pub unseen: usize,
    /// Whether the page is a picture of text: a scan.
    pub scan: bool,
}

impl Page {
    /// The page turned so that words of `turn` quarter turns run to the right.
    #[must_use]
    pub fn upright(mut self, turn: u8) -> Self {
        if turn.is_multiple_of(4) {
            return self;
        }
        let (width, height) = (self.width, self.height);
        let point = |x: f32, y: f32| match turn {
            1 => (y, width - x),
            2 => (width - x, height - y),
            _ => (height - y, x),
        };
        let turned = |rect: Rect| {
            let ((ax, ay), (bx, by)) = (point(rect.x0, rect.y0), point(rect.x1, rect.y1));
            Rect { x0: ax.min(bx), y0: ay.min(by), x1: ax.max(bx), y1: ay.max(by) }
        };
        for word in &mut self.words {
            word.rect = turned(word.rect);
            word.turn = (word.turn + 4 - turn) % 4;
            let base = point(word.base, word.base);
            word.base = if word.turn % 2 == 0 { base.1 } else { base.0 };
        }
        for line in &mut self.rulings {
            let (from, to, at) = (line.from, line.to, line.at);
            let flat = Rect { x0: from, y0: at, x1: to, y1: at };
            let rect = turned(if line.upright { Rect { x0: at, y0: from, x1: at, y1: to } } else { flat });
            line.upright ^= turn % 2 == 1;
            (line.at, line.from, line.to) =
                if line.upright { (rect.x0, rect.y0, rect.y1) } else { (rect.y0, rect.x0, rect.x1) };
        }
        self.signs.iter_mut().for_each(|sign| sign.rect = turned(sign.rect));
        if turn % 2 == 1 {
            (self.width, self.height) = (height, width);
        }
        self
    }

    /// Whether everything is within its bounds. The process that wrote it may have been broken by its file.
    ///
    /// # Errors
    /// In words, what is not.
    pub fn check(&self) -> Result<(), String> {
        let many = |what: &str, count: usize, most: usize| {
            if count > most {
                Err(format!("page {} has {count} {what}; at most {most} are read", self.number))
            } else {
                Ok(())
            }
        };
        many("words", self.words.len(), WORDS_MAX)?;
        many("ruling lines", self.rulings.len(), RULINGS_MAX)?;
        many("unknown signs", self.signs.len(), SIGNS_MAX)?;
        let side = |length: f32| length > 0.0 && length <= SIDE_PT_MAX;
        let line = |ruling: &Ruling| {
            [ruling.at, ruling.from, ruling.to].iter().all(|end| end.abs() <= 4.0 * SIDE_PT_MAX)
                && ruling.from <= ruling.to
        };
        let word = |word: &Word| {
            word.rect.is_sound()
                && word.size > 0.0
                && word.size <= SIDE_PT_MAX
                && word.base.abs() <= 4.0 * SIDE_PT_MAX
                && word.turn < 4
        };
        let sound = side(self.width)
            && side(self.height)
            && (1..=self.pages).contains(&self.number)
            && self.words.iter().all(word)
            && self.rulings.iter().all(line)
            && self.signs.iter().all(|sign| sign.rect.is_sound());
        if sound { Ok(()) } else { Err(format!("page {}: the sizes on it make no sense", self.number)) }
    }
}
