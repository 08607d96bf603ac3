//! Tables of any make, texts and sheets of workbooks: from bytes to a header and rows of cells, with everything that was detected said and
//! open to be overruled.
//!
//! Cells are text; what they mean is the business of `cell`. Nothing is dropped without a note: preamble and trailing metadata are kept
//! beside the rows, ragged rows are padded or widened, repeated header names are numbered.

mod assemble;
mod decode;
mod delimited;
mod fixed;
mod header;
mod html;
mod markup;
mod sheet;
mod structured;
mod two_lines;

pub use header::{Known, PREAMBLE_MOST};
pub use sheet::read_sheet;

/// Writes the encodings once: as variants and with their names.
macro_rules! encodings {
    ($($encoding:ident: $label:literal;)*) => {
        /// Character encoding of a file.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Encoding { $(#[doc = $label] $encoding,)* }

        impl Encoding {
            /// Every encoding; among the one-byte and two-byte ones the earlier is taken where a file shows no difference.
            pub const ALL: &'static [Self] = &[$(Self::$encoding),*];

            /// Name for people.
            #[must_use]
            pub fn label(self) -> &'static str {
                match self { $(Self::$encoding => $label,)* }
            }
        }
    };
}

encodings! {
    Utf8: "UTF-8";
    Utf16Le: "UTF-16, low byte first";
    Utf16Be: "UTF-16, high byte first";
    Windows1252: "Windows-1252, Western Europe";
    Windows1250: "Windows-1250, Central Europe";
    Windows1251: "Windows-1251, Cyrillic";
    Koi8: "KOI8, Cyrillic";
    Dos866: "DOS 866, Cyrillic";
    Dos437: "DOS 437, Western Europe";
    Gb18030: "GB 18030, Chinese";
    ShiftJis: "Shift JIS, Japanese";
    EucJp: "EUC, Japanese";
    EucKr: "EUC, Korean";
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
}

impl Table {
    /// A table that was printed: names over columns and rows as wide as they are.
    #[must_use]
    pub fn of_sheet(header: &[String], rows: Vec<Row>, preamble: Vec<Note>, mut notes: Vec<Note>) -> Self {
        let header = assemble::numbered(header, header.len(), 1, &mut notes);
        let found = Detection {
            encoding: Encoding::Utf8,
            byte_order_mark: false,
            separator: Separator::Markup,
            layout: Layout::Printed,
            preamble_lines: preamble.len(),
            header_line: Some(1),
        };
        Self { header, rows, found, preamble, trailing: Vec::new(), notes }
    }
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

/// One record before header and rows are told apart.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Record {
    line: usize,
    /// Whether a blank line or a row of empty cells stands before it.
    after_gap: bool,
    cells: Vec<String>,
}

/// A table found in the text, not yet cleaned.
struct Block {
    records: Vec<Record>,
    /// Index of the header among `records` when the layout itself says so.
    header: Option<usize>,
    separator: Separator,
    layout: Layout,
    /// Headings over it that are no records of it.
    above: Vec<Note>,
    notes: Vec<Note>,
}

/// Reads the table of a file; of several Markdown or wiki tables the one whose header fits `known` best, with a note about the others.
/// `known` are header names the caller can use; they decide which line is the header and which separator is right.
///
/// # Errors
/// When the bytes hold no table, or more than the limits allow.
pub fn read(bytes: &[u8], known: &Known, options: &Options) -> Result<Table, TableError> {
    let mut tables = read_all(bytes, known, options)?;
    let score = |table: &Table| header::hits(&table.header, known) * 1_000_000 + table.rows.len().min(999_999);
    let best =
        (0..tables.len()).max_by_key(|&at| (score(&tables[at]), std::cmp::Reverse(at))).ok_or(TableError::Empty)?;
    let others: Vec<String> = (0..tables.len())
        .filter(|&at| at != best)
        .filter_map(|at| tables[at].found.header_line)
        .map(|line| line.to_string())
        .collect();
    let mut table = tables.swap_remove(best);
    if !others.is_empty() {
        let text = format!("{} more tables in this file, at lines {}", others.len(), others.join(", "));
        table.notes.push(Note { line: 1, text });
    }
    Ok(table)
}

/// Reads every table of a file: several only for Markdown and wiki pages.
///
/// # Errors
/// As [`read`].
pub fn read_all(bytes: &[u8], known: &Known, options: &Options) -> Result<Vec<Table>, TableError> {
    let decoded = decode::decode(bytes, known, options)?;
    read_decoded(&decoded, known, options)
}

/// Reads the tables of text that is already decoded, as pasted.
///
/// # Errors
/// As [`read`].
pub fn read_text(text: &str, known: &Known, options: &Options) -> Result<Vec<Table>, TableError> {
    read_all(text.as_bytes(), known, &Options { encoding: Some(Encoding::Utf8), ..*options })
}

fn read_decoded(decoded: &decode::Decoded, known: &Known, options: &Options) -> Result<Vec<Table>, TableError> {
    if options.separator.is_none() && structured::is_structured(&decoded.text) && !html::is_html(&decoded.text) {
        let block = structured::block(&decoded.text, known, &options.limits)?;
        return Ok(vec![assemble::table(block, decoded, known, options)?]);
    }
    let with_bars = options.separator.map_or_else(|| delimited::with_bars(&decoded.text), |_| None);
    let text = with_bars.as_deref().unwrap_or(decoded.text.as_str());
    let separator = options.separator.or(with_bars.as_ref().map(|_| Separator::Pipe));
    let separator = separator.unwrap_or_else(|| detect_separator(text, known, options));
    let blocks = match separator {
        Separator::Markup if html::is_html(text) => html::blocks(text, &options.limits)?,
        Separator::Markup => markup::blocks(text, &options.limits)?,
        Separator::Blanks => vec![fixed::block(text, known, options)?],
        _ => vec![delimited::block(text, separator, &options.limits)?],
    };
    blocks.into_iter().map(|block| assemble::table(block, decoded, known, options)).collect()
}

/// The separator under which the beginning of the text looks most like a table.
fn detect_separator(text: &str, known: &Known, options: &Options) -> Separator {
    if html::is_html(text) || markup::is_markup(text) {
        return Separator::Markup;
    }
    if let Some(separator) = delimited::declared(text) {
        return separator;
    }
    let sample = beginning(text);
    let mut best = (0.0, Separator::Comma);
    let mut regular = false;
    for separator in [Separator::Comma, Separator::Tab, Separator::Semicolon, Separator::Pipe, Separator::Blanks] {
        let block = match separator {
            Separator::Blanks => fixed::block(sample, known, &Options { header_line: None, ..*options }),
            _ => delimited::block(sample, separator, &options.limits),
        };
        let Ok(block) = block else { continue };
        // Blanks stand inside cells, too: where another separator gives a regular table, they separate only under a known header.
        if separator == Separator::Blanks && regular && !header::knows(&block, known) {
            continue;
        }
        regular |= separator != Separator::Blanks && header::is_regular(&block);
        // Blanks are everywhere; they are the separator only if nothing else is.
        let weight = if separator == Separator::Blanks { 0.7 } else { 1.0 };
        let score = header::table_score(&block, known) * weight;
        if score > best.0 {
            best = (score, separator);
        }
    }
    best.1
}

/// The first lines of the text: enough to see a preamble and some rows.
fn beginning(text: &str) -> &str {
    const LINES: usize = 120;
    const BYTES: usize = 256 << 10;
    let end = text.match_indices('\n').nth(LINES).map_or(text.len(), |(at, _)| at + 1);
    let mut end = end.min(BYTES).min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}
