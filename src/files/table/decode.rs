//! Bytes to text.

use std::borrow::Cow;

use encoding_rs::{EUC_JP, EUC_KR, GB18030, IBM866, KOI8_U, SHIFT_JIS};
use encoding_rs::{UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1250, WINDOWS_1251, WINDOWS_1252};

use super::header::Known;
use super::types::{Encoding, Note, Options, TableError};
use crate::files::csv_rows::unmarked_utf16;

pub(super) struct Decoded {
    pub text: String,
    pub encoding: Encoding,
    pub byte_order_mark: bool,
    pub notes: Vec<Note>,
}

/// Beginnings of files that are often given in place of a text table.
const NOT_TEXT: [(&[u8], &str); 7] = [
    (b"PK\x03\x04", "a workbook or an archive"),
    (b"\xD0\xCF\x11\xE0", "an old workbook"),
    (b"%PDF", "a PDF"),
    (b"\x1F\x8B", "a compressed file"),
    (b"\x89PNG", "a picture"),
    (b"\xFF\xD8\xFF", "a picture"),
    (b"SQLite format", "a database"),
];

pub(super) fn decode(bytes: &[u8], known: &Known, options: &Options) -> Result<Decoded, TableError> {
    let limits = &options.limits;
    if bytes.len() > limits.bytes {
        return Err(TableError::TooLarge { bytes: bytes.len(), limit: limits.bytes });
    }
    if let Some((_, what)) = NOT_TEXT.iter().find(|(magic, _)| bytes.starts_with(magic)) {
        return Err(TableError::NotText { what });
    }
    let (marked, mark_length) = match bytes {
        [0xEF, 0xBB, 0xBF, ..] => (Some(Encoding::Utf8), 3),
        [0xFF, 0xFE, ..] => (Some(Encoding::Utf16Le), 2),
        [0xFE, 0xFF, ..] => (Some(Encoding::Utf16Be), 2),
        _ => (None, 0),
    };
    let encoding = options.encoding.or(marked).unwrap_or_else(|| guess(bytes, known));
    let byte_order_mark = marked == Some(encoding);
    let body = if byte_order_mark { &bytes[mark_length..] } else { bytes };
    let (text, damaged) = text_of(body, encoding);
    let mut text = text.into_owned();
    let mut notes = Vec::new();
    if damaged {
        let line = text.split('\n').position(|line| line.contains('\u{FFFD}')).map_or(1, |at| at + 1);
        notes.push(Note {
            line,
            text: "some bytes do not belong to the encoding and were replaced by \u{FFFD}".to_string(),
        });
    }
    if text.contains('\r') && !text.contains('\n') {
        text = text.replace('\r', "\n");
    }
    if text.contains('\0') {
        // Text holds no zero characters; a few are padding, many are a binary file.
        let zeros = text.bytes().filter(|&byte| byte == 0).count();
        if zeros * 50 > text.len() {
            return Err(TableError::NotText { what: "a binary file" });
        }
        // Within a word they stand for a lost character, which is said where the word is used.
        let mut kept = String::with_capacity(text.len());
        for piece in text.split_inclusive('\0') {
            let inside = kept.ends_with(char::is_alphanumeric) && piece.starts_with(char::is_alphanumeric);
            kept.extend(Some('\u{FFFD}').filter(|_| inside));
            kept.push_str(piece.trim_end_matches('\0'));
        }
        text = kept;
        notes.push(Note { line: 1, text: format!("{zeros} zero characters: those within words are lost characters") });
    }
    if text.trim().is_empty() {
        return Err(TableError::Empty);
    }
    for (at, line) in text.split('\n').enumerate() {
        if line.len() > limits.line_bytes {
            return Err(TableError::LineTooLong { line: at + 1, limit: limits.line_bytes });
        }
    }
    Ok(Decoded { text, encoding, byte_order_mark, notes })
}

/// The upper half of DOS code page 437.
const DOS_437: &str = "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u{A0}";

/// The text of the bytes, and whether some do not belong to the encoding.
fn text_of(bytes: &[u8], encoding: Encoding) -> (Cow<'_, str>, bool) {
    let table = match encoding {
        Encoding::Dos437 => {
            let upper: Vec<char> = DOS_437.chars().collect();
            let letter = |&byte: &u8| if byte < 0x80 { char::from(byte) } else { upper[usize::from(byte) - 0x80] };
            return (bytes.iter().map(letter).collect::<String>().into(), false);
        }
        Encoding::Windows1251 => WINDOWS_1251,
        Encoding::Koi8 => KOI8_U,
        Encoding::Dos866 => IBM866,
        Encoding::EucJp => EUC_JP,
        Encoding::EucKr => EUC_KR,
        Encoding::Utf8 => UTF_8,
        Encoding::Utf16Le => UTF_16LE,
        Encoding::Utf16Be => UTF_16BE,
        Encoding::Windows1252 => WINDOWS_1252,
        Encoding::Windows1250 => WINDOWS_1250,
        Encoding::Gb18030 => GB18030,
        Encoding::ShiftJis => SHIFT_JIS,
    };
    table.decode_without_bom_handling(bytes)
}

/// The one-byte or two-byte encoding in which the beginning of the file has most of the known header names and of the units and words of
/// the trade; Windows-1252, in which every byte means something, where none is better.
fn by_names(bytes: &[u8], known: &Known) -> Encoding {
    const SAMPLE: usize = 4096;
    const WORDS: [&str; 8] = ["µF", "μF", "мкФ", "мкф", "электролит", "电解", "電解", "전해"];
    let end =
        bytes[..bytes.len().min(SAMPLE)].iter().rposition(|&byte| byte == b'\n').unwrap_or(bytes.len().min(SAMPLE));
    // Two-byte letters read as DOS 437 are lines of frames.
    let is_frame = |c: char| ('\u{2500}'..='\u{259F}').contains(&c);
    let names = |encoding: Encoding| {
        let (text, damaged) = text_of(&bytes[..end], encoding);
        let pieces = text.split(['\n', '\r', ',', ';', '\t', '|']);
        let found = pieces
            .filter(|piece| {
                !piece.is_ascii() && !piece.contains(is_frame) && known.knows(piece.trim().trim_matches('"'))
            })
            .count();
        let words = WORDS.iter().filter(|word| text.contains(**word)).count();
        if damaged { (0, 0) } else { (found, words) }
    };
    // The first of those that are equally good; the three of Unicode show by their bytes.
    let of_bytes = Encoding::ALL.iter().copied().skip(3).rev();
    of_bytes.max_by_key(|&encoding| names(encoding)).unwrap_or(Encoding::Windows1252)
}

/// UTF-16 shows by its zero bytes, UTF-8 by being valid; among the others the header decides.
fn guess(bytes: &[u8], known: &Known) -> Encoding {
    match unmarked_utf16(bytes) {
        Some(true) => Encoding::Utf16Le,
        Some(false) => Encoding::Utf16Be,
        None if std::str::from_utf8(bytes).is_ok() => Encoding::Utf8,
        None => by_names(bytes, known),
    }
}
