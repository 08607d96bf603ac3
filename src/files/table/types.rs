//! What a table is, what was detected of it, and what may be asked of its reader.

/// Writes the encodings once: as variants and with their names.
macro_rules! encodings {
    ($($encoding:ident: $name:literal $(, $of:literal)?;)*) => {
        /// Character encoding of a file.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Encoding { $(#[doc = $name] $encoding,)* }

        impl Encoding {
            /// Every encoding; among the one-byte and two-byte ones the earlier is taken where a file shows no difference.
            pub const ALL: &'static [Self] = &[$(Self::$encoding),*];

            /// Short name.
            pub fn name(self) -> &'static str {
                match self { $(Self::$encoding => $name,)* }
            }

            /// The one of a name, in any case and with or without blanks and dashes.
            pub fn parse(name: &str) -> Option<Self> {
                let plain = |text: &str| text.to_lowercase().replace([' ', '-', '_'], "");
                Self::ALL.iter().copied().find(|of| plain(of.name()) == plain(name))
            }

            /// Name with what tells it from others, for a list to choose from.
            pub fn label(self) -> &'static str {
                match self { $(Self::$encoding => concat!($name $(, ", ", $of)?),)* }
            }
        }
    };
}

encodings! {
    Utf8: "UTF-8";
    Utf16Le: "UTF-16", "low byte first";
    Utf16Be: "UTF-16", "high byte first";
    Windows1252: "Windows-1252", "Western Europe";
    Windows1250: "Windows-1250", "Central Europe";
    Windows1251: "Windows-1251", "Cyrillic";
    Koi8: "KOI8", "Cyrillic";
    Dos866: "DOS 866", "Cyrillic";
    Dos437: "DOS 437", "Western Europe";
    Gb18030: "GB 18030", "Chinese";
    ShiftJis: "Shift JIS", "Japanese";
    EucJp: "EUC-JP", "Japanese";
    EucKr: "EUC-KR", "Korean";
    Dos850: "DOS 850", "Western Europe";
    Big5: "Big5", "Chinese";
    Windows1254: "Windows-1254", "Turkish";
}

/// What stands between two cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Separator {
    /// A comma.
    Comma,
    /// A semicolon.
    Semicolon,
    /// A tabulator.
    Tab,
    /// A vertical bar.
    Pipe,
    /// Fixed columns or runs of blanks.
    Blanks,
    /// A Markdown or wiki table.
    Markup,
}

/// How the table is laid out in the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layout {
    /// A separator between cells.
    Delimited,
    /// Columns of equal width or runs of blanks.
    FixedWidth,
    /// A Markdown table.
    Markdown,
    /// A wiki table.
    Wiki,
    /// A table of a web page.
    Html,
    /// Records of XML or JSON.
    Structured,
    /// A table printed on the pages of a data sheet; its lines are its rows, the header being the first.
    Printed,
    /// A sheet of a workbook, whose cells need no separator.
    Sheet,
}

/// What was detected, or taken from [`Options`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Detection {
    /// Encoding of the bytes.
    pub encoding: Encoding,
    /// A text as it reads in this encoding and in another that is as likely; then a person has to say which it is.
    pub encoding_doubt: Option<String>,
    /// Whether a byte order mark stood in front.
    pub byte_order_mark: bool,
    /// What stands between two cells.
    pub separator: Separator,
    /// How the table is laid out.
    pub layout: Layout,
    /// Lines before the header that hold text.
    pub preamble_lines: usize,
    /// Line of the header, from 1; `None` when the table has none and its columns are named `column 1` ...
    pub header_line: Option<usize>,
}

/// One row: as many cells as the header has names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Line in the file, from 1.
    pub line: usize,
    /// Trimmed texts.
    pub cells: Vec<String>,
}

/// Something the person should know about the reading of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// First line it is about, from 1.
    pub line: usize,
    /// What to know.
    pub text: String,
}

/// A table as read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Every name once: a repeated name is followed by ` (2)`, ` (3)`; an empty one is `column 5`.
    pub header: Vec<String>,
    /// The rows.
    pub rows: Vec<Row>,
    /// What was detected.
    pub found: Detection,
    /// Text before the header; it may hold units.
    pub preamble: Vec<Note>,
    /// Metadata behind the table.
    pub trailing: Vec<Note>,
    /// What the person should know.
    pub notes: Vec<Note>,
    /// Lines whose cells run over their columns: nothing says where each ends.
    pub unread: Vec<Note>,
}

/// Bounds on hostile or mistaken input. Memory stays within a small multiple of `bytes` plus 24 bytes for each of `cells`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of the file.
    pub bytes: usize,
    /// Bytes of a line.
    pub line_bytes: usize,
    /// Columns.
    pub columns: usize,
    /// Bytes of a cell.
    pub cell_bytes: usize,
    /// Rows.
    pub rows: usize,
    /// All cells together.
    pub cells: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            bytes: 512 << 20,
            line_bytes: 1 << 20,
            columns: 1000,
            cell_bytes: 64 << 10,
            rows: 2_000_000,
            cells: 50_000_000,
        }
    }
}

/// What the person knows better than the detection.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Encoding of the bytes.
    pub encoding: Option<Encoding>,
    /// What stands between two cells.
    pub separator: Option<Separator>,
    /// Line of the header, from 1; 0 says that there is none.
    pub header_line: Option<usize>,
    /// Bounds.
    pub limits: Limits,
}

/// Why a file is no table.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TableError {
    /// Nothing but blanks.
    #[error("the file is empty")]
    Empty,
    /// Not text.
    #[error("this is {what}, not a text table; save it as CSV first")]
    NotText { what: &'static str },
    /// Too many bytes.
    #[error("{bytes} bytes; at most {limit} are read")]
    TooLarge { bytes: usize, limit: usize },
    /// A line beyond the limit.
    #[error("line {line}: longer than {limit} bytes")]
    LineTooLong { line: usize, limit: usize },
    /// Too many columns.
    #[error("line {line}: {columns} columns; at most {limit} are read")]
    TooManyColumns { line: usize, columns: usize, limit: usize },
    /// A cell beyond the limit.
    #[error("line {line}, column {column}: a cell longer than {limit} bytes (a quotation mark that is not closed?)")]
    CellTooLong { line: usize, column: usize, limit: usize },
    /// Too many rows.
    #[error("line {line}: more than {limit} rows")]
    TooManyRows { line: usize, limit: usize },
    /// Too many cells.
    #[error("line {line}: more than {limit} cells")]
    TooManyCells { line: usize, limit: usize },
    /// The header line named by the person holds no row.
    #[error("line {line} was named as the header, but no row of the table starts there")]
    NoSuchHeader { line: usize },
    /// Read as Markdown or wiki, but there is no such table.
    #[error("no Markdown or wiki table found")]
    NoMarkup,
}

/// What stands around text that is struck out.
pub(super) const STRUCK: &str = "~~";

/// One record before header and rows are told apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Record {
    pub(super) line: usize,
    /// Whether a blank line or a row of empty cells stands before it.
    pub(super) after_gap: bool,
    pub(super) cells: Vec<String>,
}

/// A table found in the text, not yet cleaned.
pub(super) struct Block {
    pub(super) records: Vec<Record>,
    /// Index of the header among `records` when the layout itself says so.
    pub(super) header: Option<usize>,
    pub(super) separator: Separator,
    pub(super) layout: Layout,
    /// Headings over it that are no records of it.
    pub(super) above: Vec<Note>,
    pub(super) notes: Vec<Note>,
    pub(super) unread: Vec<Note>,
}

impl Block {
    /// Records of which nothing else has to be said.
    pub(super) fn of(records: Vec<Record>, separator: Separator, layout: Layout) -> Self {
        let (above, notes, unread) = Default::default();
        Self { records, header: None, separator, layout, above, notes, unread }
    }
}
