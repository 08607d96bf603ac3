//! What a table says of one field.

use super::bounds::{Bounds, Unit};
use crate::domain::{Date, PairTable};

/// What a field may hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// A figure.
    Number(Unit, Bounds),
    /// One of a few words.
    Word(&'static [&'static str]),
    /// Several of a few words.
    Words(&'static [&'static str]),
    /// A text.
    Text(Text),
    /// A list of texts.
    Texts,
    /// Yes or no.
    Flag,
    /// A list of objects whose fields stand under this path.
    Rows,
    /// An object whose fields stand under this path.
    Object,
    /// Lists of as many numbers, each named, with its bounds; one list or several.
    Points(&'static [(&'static str, Bounds)], Several),
    /// Figures by a name.
    Figures(Bounds),
    /// Texts by a name.
    TextMap,
}

/// How many lists of points a field holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Several {
    /// One.
    One,
    /// Any number.
    Many,
}

/// What a text may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Text {
    /// One line of up to 500 characters.
    Line,
    /// Up to 10 000 characters.
    Note,
    /// A day such as 2026-10-02.
    Date,
    /// Pairs such as `85:1.7;65:2.1`: first and second number with their bounds.
    Pairs(Bounds, Bounds),
    /// A file in the folder of the job.
    File,
}

/// Most characters of a note.
const NOTE_MAX: usize = 10_000;

/// The text, cut with a mark to what a note may hold.
pub fn cut_to_note(text: String) -> String {
    match text.char_indices().nth(NOTE_MAX) {
        Some(_) => text.chars().take(NOTE_MAX - 1).chain(['…']).collect(),
        None => text,
    }
}

impl Text {
    /// `None` when `text` is allowed, else what was expected, in words.
    pub fn complaint(self, text: &str) -> Option<&'static str> {
        let longer_than = |most: usize| text.chars().nth(most).is_some();
        match self {
            Self::Line | Self::Date | Self::File if longer_than(500) => Some("expected at most 500 characters"),
            Self::Note if longer_than(NOTE_MAX) => Some("expected at most 10 000 characters"),
            Self::Line | Self::Note => None,
            Self::Date => text.parse::<Date>().err(),
            Self::File => {
                let path = std::path::Path::new(text);
                let outside = path.is_absolute() || text.contains("..");
                outside.then_some("expected a file in the folder of the job")
            }
            Self::Pairs(first, second) => match text.parse::<PairTable>() {
                Err(expected) => Some(expected),
                Ok(table) => table.pairs().iter().find_map(|p| first.complaint(p.0).or(second.complaint(p.1))),
            },
        }
    }
}

/// What counts where nothing is entered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Absent {
    /// Nothing: what needs the field is unknown.
    Unknown,
    /// Nothing, and no check misses it; in words for the guide, such as `none`.
    Nothing(&'static str),
    /// This, always.
    Assumed(&'static str),
    /// A value worked out from other fields, in words for the guide, such as `by rated voltage (assumed)`.
    Derived(&'static str),
    /// The value of a new job.
    Default,
    /// Unknown; the guide says more about it.
    UnknownBut(&'static str),
}

/// Where the editor shows a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Section {
    /// What names the position and its groups.
    Identity,
    /// A question at the bench: what is printed on the old part.
    Printed,
    /// A question: the voltage across it.
    Voltage,
    /// A question: the ripple through it.
    Ripple,
    /// A question: the ambient beside it.
    Ambient,
    /// A question: the room for a part.
    Room,
    /// A question: what it does.
    Purpose,
    /// What else is known of the old part by looking at it.
    OriginalPart,
    /// What else it goes through.
    Stress,
    /// Requirements of the circuit.
    Needs,
    /// What else there is to say of the room.
    Space,
    /// Measurements of the old part.
    Measured,
    /// Coordinates on the board.
    Location,
    /// What only the data sheet of the original says.
    DataSheet,
    /// The board itself.
    Board,
    /// The job itself.
    Job,
    /// The shop's margins.
    Policy,
    /// How far the inputs may be off.
    Uncertainty,
    /// Stock in the shop.
    Shelf,
    /// What a supplier asks.
    Offer,
    /// Not in the editor: set by commands, views of their own, or the program.
    Elsewhere,
}

impl Section {
    /// What is asked at the bench of every position, in this order; the rest is folded under it.
    pub const QUESTIONS: [(Self, &'static str); 6] = [
        (Self::Printed, "What is printed on it?"),
        (Self::Voltage, "What voltage is across it?"),
        (Self::Ripple, "What ripple runs through it?"),
        (Self::Ambient, "How hot is it there?"),
        (Self::Room, "How much room is there?"),
        (Self::Purpose, "What does it do?"),
    ];
}

/// A field of a job or a part, but for how it is reached.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct About {
    /// Path in the job file; that of a board, job, shelf or offer after `board.`, `job.`, `shelf.` or `offer.`.
    pub path: &'static str,
    /// What it may hold.
    pub kind: Kind,
    /// What counts where nothing is entered.
    pub absent: Absent,
    /// What it is called on screen.
    pub label: &'static str,
    /// What it means.
    pub meaning: &'static str,
    /// How it is computed, or how it enters; empty where nothing is computed.
    pub formula: &'static str,
    /// Where the formula or the usual value comes from; empty where nothing is claimed.
    pub source: &'static str,
    /// Where the editor shows it.
    pub section: Section,
}

/// How the value of a field is read and written.
pub enum Access<T: 'static> {
    /// A figure.
    Number(fn(&T) -> Option<f64>, fn(&mut T, Option<f64>)),
    /// One of a few words, in its spelling in files.
    Word(fn(&T) -> Option<&'static str>, fn(&mut T, Option<&str>)),
    /// A text; what is set was allowed by [`Text::complaint`].
    Text(fn(&T) -> Option<String>, fn(&mut T, Option<&str>)),
    /// Yes or no.
    Flag(fn(&T) -> bool, fn(&mut T, bool)),
    /// By what shows it: lists and drawings.
    Special,
}

impl<T> Clone for Access<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Access<T> {}

/// A field of a `T`.
pub struct Field<T: 'static> {
    /// What it is.
    pub about: About,
    /// How it is reached.
    pub access: Access<T>,
}

impl<T> Clone for Field<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Field<T> {}

impl<T> std::ops::Deref for Field<T> {
    type Target = About;

    fn deref(&self) -> &About {
        &self.about
    }
}

impl<T> Field<T> {
    /// Whether it holds nothing.
    pub fn is_empty(&self, of: &T) -> bool {
        match self.access {
            Access::Number(get, _) => get(of).is_none(),
            Access::Word(get, _) => get(of).is_none(),
            Access::Text(get, _) => get(of).is_none_or(|text| text.is_empty()),
            Access::Flag(get, _) => !get(of),
            Access::Special => true,
        }
    }

    /// Its figure; `None` where it is unknown or the field holds none.
    pub fn figure(&self, of: &T) -> Option<f64> {
        match self.access {
            Access::Number(get, _) => get(of),
            _ => None,
        }
    }

    /// Sets its figure; a field that holds none stays as it is.
    pub fn set_figure(&self, of: &mut T, value: Option<f64>) {
        if let Access::Number(_, set) = self.access {
            set(of, value);
        }
    }
}

/// What is usual where nobody published it.
pub(in crate::domain) const PRACTICE: &str = "common practice, no source";
/// Life law of the checks.
pub(in crate::domain) const LIFE: &str = "L = L0 2^((T0-Ta)/10) 2^((dT0-dT)/10)";
/// Where it stands.
pub(in crate::domain) const RUBYCON: &str = "Rubycon life sheet (published)";
/// How a spectrum becomes one current.
pub(in crate::domain) const RIPPLE: &str = "I_eq = sqrt(sum (I_k / F(f_k))^2)";
/// Where its multipliers stand.
pub(in crate::domain) const VISHAY: &str =
    "tables where the part has none: Vishay BCcomponents doc. 28340 and 28321 (published)";
