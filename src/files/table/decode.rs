//! Bytes to text.

use std::borrow::Cow;
use std::cmp::Reverse;

use encoding_rs::{BIG5, EUC_JP, EUC_KR, GB18030, IBM866, KOI8_U, SHIFT_JIS};
use encoding_rs::{UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1250, WINDOWS_1251, WINDOWS_1252, WINDOWS_1254};

use super::header::Known;
use super::types::{Encoding, Note, Options, TableError};
use crate::files::csv_rows::unmarked_utf16;

pub(super) struct Decoded {
    pub text: String,
    pub encoding: Encoding,
    pub byte_order_mark: bool,
    pub notes: Vec<Note>,
    /// A text in two encodings that are equally likely.
    pub doubt: Option<String>,
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
    let (encoding, said, doubt) =
        options.encoding.or(marked).map_or_else(|| guess(bytes, known), |encoding| (encoding, None, None));
    let byte_order_mark = marked == Some(encoding);
    let body = if byte_order_mark { &bytes[mark_length..] } else { bytes };
    let (text, damaged) = text_of(body, encoding);
    let mut text = text.into_owned();
    let mut notes: Vec<Note> = said.into_iter().map(|text| Note { line: 1, text }).collect();
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
    Ok(Decoded { text, encoding, byte_order_mark, notes, doubt })
}

/// The upper half of DOS code page 437.
const DOS_437: &str = "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u{A0}";

/// The same of page 850.
const DOS_850: &str = "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜø£Ø×ƒáíóúñÑªº¿®¬½¼¡«»░▒▓│┤ÁÂÀ©╣║╗╝¢¥┐└┴┬├─┼ãÃ╚╔╩╦╠═╬¤ðÐÊËÈıÍÎÏ┘┌█▄¦Ì▀ÓßÔÒõÕµþÞÚÛÙýÝ¯´\u{AD}±‗¾¶§÷¸°¨·¹³²■\u{A0}";

/// The text of the bytes, and whether some do not belong to the encoding.
pub(super) fn text_of(bytes: &[u8], encoding: Encoding) -> (Cow<'_, str>, bool) {
    let table = match encoding {
        Encoding::Dos437 | Encoding::Dos850 => {
            let upper: Vec<char> = if encoding == Encoding::Dos437 { DOS_437 } else { DOS_850 }.chars().collect();
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
        Encoding::Big5 => BIG5,
        Encoding::Windows1254 => WINDOWS_1254,
    };
    table.decode_without_bom_handling(bytes)
}

/// The one-byte or two-byte encodings, best first, each with how much speaks for it: header names, units and words of the trade found in
/// the beginning of the file, and how little of its text is odd; then the place in the list of encodings.
fn ranked(bytes: &[u8], known: &Known) -> Vec<(Encoding, (usize, Reverse<usize>), String)> {
    const SAMPLE: usize = 4096;
    const WORDS: [&str; 14] =
        ["µF", "μF", "мкФ", "мкф", "электролит", "电解", "電解", "電容", "전해", "°C", "℃", "µs", "温度", "온도"];
    let end =
        bytes[..bytes.len().min(SAMPLE)].iter().rposition(|&byte| byte == b'\n').unwrap_or(bytes.len().min(SAMPLE));
    // Two-byte letters read as DOS letters are lines of frames.
    let is_frame = |c: char| ('\u{2500}'..='\u{259F}').contains(&c);
    let of = |&encoding: &Encoding| {
        let (text, damaged) = text_of(&bytes[..end], encoding);
        let pieces = text.split(['\n', '\r', ',', ';', '\t', '|']).flat_map(|piece| piece.split("  "));
        let named = |piece: &str| {
            let name = piece.trim().trim_matches('"');
            usize::from(known.knows(name)) + usize::from(known.knows_exactly(name))
        };
        let found: usize = pieces.filter(|piece| !piece.is_ascii() && !piece.contains(is_frame)).map(named).sum();
        let words = WORDS.iter().filter(|word| text.contains(**word)).count();
        (!damaged).then(|| (encoding, (found + words, Reverse(odd(&text, encoding))), text.into_owned()))
    };
    // Those of Unicode show by their bytes.
    let mut all: Vec<_> = Encoding::ALL.iter().skip(3).filter_map(of).collect();
    all.sort_by_key(|(_, rank, _)| Reverse(*rank));
    all
}

/// The alphabet of a letter by one of its own; a blank for what stands among any.
fn script(c: char) -> char {
    match c {
        'µ' | 'μ' | 'Ω' | 'Φ' | 'φ' | '\u{FF00}'..='\u{FF60}' => ' ',
        '\u{400}'..='\u{4FF}' => 'я',
        '\u{1100}'..='\u{11FF}' | '\u{3130}'..='\u{318F}' | '\u{AC00}'..='\u{D7A3}' => '한',
        '\u{2E80}'..='\u{FAFF}' | '\u{FF61}'..='\u{FF9F}' => '字',
        c if c.is_alphabetic() => 'a',
        _ => ' ',
    }
}

/// How many places of a text no writer of its language would write: the encoding is another.
fn odd(text: &str, encoding: Encoding) -> usize {
    let chars: Vec<char> = text.chars().collect();
    let pair = |pair: &[char]| {
        let (a, b) = (pair[0], pair[1]);
        match (script(a), script(b)) {
            (' ', _) | (_, ' ') => false,
            ('a', '字') => a.is_lowercase(),
            ('字', 'a') => b.is_lowercase(),
            (one, other) => one != other || a.is_lowercase() && b.is_uppercase() && !(a.is_ascii() && b.is_ascii()),
        }
    };
    let sign = |three: &[char]| {
        let c = three[1];
        let between = three[0].is_alphabetic() && three[2].is_alphabetic();
        between && !c.is_ascii() && !c.is_alphanumeric() && !"’·–×".contains(c)
    };
    let count = |is: &dyn Fn(char) -> bool| chars.iter().filter(|&&c| is(c)).count();
    let places = count(&|c| ('\u{80}'..='\u{9F}').contains(&c))
        + chars.windows(2).filter(|two| pair(two)).count()
        + chars.windows(3).filter(|three| sign(three)).count();
    let cyrillic = count(&|c| script(c) == 'я');
    let rare = match encoding {
        // Kana are Japanese; letters outside of the old standard are rare, and Chinese has letters of all its rows.
        Encoding::Gb18030 => {
            let (bytes, ..) = GB18030.encode(text);
            let runs = bytes.chunk_by(|a, b| (*a >= 0x80) == (*b >= 0x80)).filter(|run| run[0] >= 0x80);
            let pairs: Vec<&[u8]> = runs.flat_map(|run| run.chunks(2)).collect();
            let korean = pairs.iter().all(|two| two[0] < 0xC9) && count(&|c| script(c) == '字') > 2;
            let new = |two: &&&[u8]| two[0] < 0xA1 || two.get(1).is_none_or(|byte| *byte < 0xA1);
            let kana = count(&|c| ('\u{3040}'..='\u{30FF}').contains(&c));
            kana + pairs.iter().filter(new).count() + usize::from(korean)
        }
        Encoding::ShiftJis => count(&|c| ('\u{FF61}'..='\u{FF9F}').contains(&c)) / 2,
        // Every language has its common letters.
        _ if cyrillic > 3 && count(&|c| "оеаинтсрвлкмдпуОЕАИНТСРВЛКМДПУ".contains(c)) * 2 < cyrillic => {
            cyrillic
        }
        _ => 0,
    };
    places + rare
}

/// UTF-16 shows by its zero bytes, UTF-8 by being valid; among the others the letters decide. With it what a person should know: that it
/// was guessed, and where another one is as likely, the same beginning in both.
pub(super) fn guess(bytes: &[u8], known: &Known) -> (Encoding, Option<String>, Option<String>) {
    match unmarked_utf16(bytes) {
        Some(true) => return (Encoding::Utf16Le, None, None),
        Some(false) => return (Encoding::Utf16Be, None, None),
        None if std::str::from_utf8(bytes).is_ok() => return (Encoding::Utf8, None, None),
        None => {}
    }
    let ranked = ranked(bytes, known);
    let Some((best, rank, text)) = ranked.first() else { return (Encoding::Windows1252, None, None) };
    let mut said = format!("the file does not say its encoding: it is read as {}", best.label());
    let rival = ranked.iter().skip(1).find(|(_, other, other_text)| other == rank && other_text != text);
    let doubt = rival.and_then(|(rival, _, other)| {
        let (a, b) = text.lines().zip(other.lines()).find(|(a, b)| a != b)?;
        let (a, b) = a.split([',', ';', '\t']).zip(b.split([',', ';', '\t'])).find(|(a, b)| a != b)?;
        Some((a, b, format!("{} in {}, {} in {}", a.trim(), best.name(), b.trim(), rival.name())))
    });
    // Among the accents of Latin letters nothing is lost: no figure and no unit depends on them.
    let latin = |text: &str| !text.contains(|c: char| c.is_alphabetic() && c >= '\u{250}');
    match doubt {
        Some((a, b, doubt)) if latin(a) && latin(b) => {
            said.push_str(&format!("; as likely: {doubt}"));
            (*best, Some(said), None)
        }
        doubt => (*best, Some(said), doubt.map(|(.., doubt)| doubt)),
    }
}
