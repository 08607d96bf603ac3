//! Lines on the terminal that no name in a file can forge, colour or stretch.

use std::io::{self, Write};
use std::sync::Mutex;

use super::failure::Failure;
use crate::files::visible;

/// Writes a line, with every sign that is not seen spelled out. A stream that is closed or full is no reason to stop.
pub(crate) fn line(out: &mut impl Write, text: &str) {
    let _ = writeln!(out, "{}", visible(text));
}

/// What the system said when standard output took no more; whoever reads it may have had enough, which is none.
static UNSAID: Mutex<Option<io::Error>> = Mutex::new(None);

/// Writes a line on standard output; that it could not be written is told at the end by [`all_said`].
pub(crate) fn said(text: &str) {
    keep(writeln!(io::stdout(), "{}", visible(text)));
}

fn keep(written: io::Result<()>) {
    let fault = written.err().filter(|error| error.kind() != io::ErrorKind::BrokenPipe);
    if let (Some(fault), Ok(mut unsaid)) = (fault, UNSAID.lock()) {
        unsaid.get_or_insert(fault);
    }
}

/// Whether everything on standard output was written.
pub(super) fn all_said() -> Result<(), Failure> {
    keep(io::stdout().flush());
    let unsaid = UNSAID.lock().ok().and_then(|mut unsaid| unsaid.take());
    unsaid.map_or(Ok(()), |fault| Err(Failure::system("standard output")(fault)))
}

/// Cells are cut to this many characters.
const CELL_MOST: usize = 60;

/// A cell of a table, cut where it is very long.
pub(super) fn cell(text: &str) -> String {
    let text = visible(text);
    if text.chars().count() <= CELL_MOST {
        return text.into_owned();
    }
    text.chars().take(CELL_MOST - 1).chain(['…']).collect()
}

/// Blanks after a cell of a column, so that the next begins below the others.
pub(super) fn padded(cell: &str, width: usize) -> String {
    let blanks = width.saturating_sub(cell.chars().count());
    format!("{cell}{}", " ".repeat(blanks))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_forge_a_line_or_colour_or_stretch_a_table() {
        let mut out = Vec::new();
        line(&mut out, "C1\nrefarad: all is well\u{1b}[31m\u{202e}");
        assert_eq!(String::from_utf8(out).unwrap(), "C1\\nrefarad: all is well\\u{1b}[31m\\u{202e}\n");
        let long = cell(&"µ".repeat(65_536));
        assert!(long.chars().count() == CELL_MOST && long.ends_with('…'));
        assert_eq!(padded("ab", 4), "ab  ");
        assert_eq!(padded(&"x".repeat(70_000), 3).len(), 70_000);
    }
}
