//! The guide: GUIDE.md of the repository, taken apart into chapters and blocks for drawing and searching.
//!
//! Understood is what the guide uses: headings, paragraphs, lists, tables, code blocks; within a line bold, italic and code.

use std::sync::LazyLock;

const TEXT: &str = include_str!("GUIDE.md");

static CHAPTERS: LazyLock<Vec<Chapter>> = LazyLock::new(|| parse(TEXT));

pub(super) fn chapters() -> &'static [Chapter] {
    &CHAPTERS
}

/// How a run of text stands out.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Look {
    #[default]
    Plain,
    Bold,
    Italic,
    Code,
}

/// Text of one look after another.
pub(super) type Line = Vec<(Look, String)>;

/// A piece of a chapter.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Block {
    /// A heading inside the chapter.
    Heading(String),
    Paragraph(Line),
    /// Items, each with its mark: a bullet or a number.
    List(Vec<(String, Line)>),
    /// A table; the first row is its head.
    Table(Vec<Vec<Line>>),
    /// Text as it stands.
    Code(String),
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chapter {
    pub title: String,
    pub blocks: Vec<Block>,
}

/// The text without its looks.
pub(super) fn plain(line: &Line) -> String {
    line.iter().map(|(_, text)| text.as_str()).collect()
}

impl Block {
    /// What of this block holds all `words` (lower case); of lists the items and of tables the rows that do.
    pub(super) fn holding(&self, words: &[String]) -> Option<Self> {
        let holds = |text: &str| {
            let text = text.to_lowercase();
            words.iter().all(|word| text.contains(word))
        };
        match self {
            Self::Heading(text) | Self::Code(text) => holds(text).then(|| self.clone()),
            Self::Paragraph(line) => holds(&plain(line)).then(|| self.clone()),
            Self::List(items) => {
                let found: Vec<_> = items.iter().filter(|(_, line)| holds(&plain(line))).cloned().collect();
                (!found.is_empty()).then_some(Self::List(found))
            }
            Self::Table(rows) => {
                let (head, rows) = rows.split_first()?;
                let found = |row: &&Vec<Line>| holds(&row.iter().map(plain).collect::<Vec<_>>().join(" "));
                let found: Vec<_> = rows.iter().filter(found).cloned().collect();
                (!found.is_empty()).then(|| Self::Table([vec![head.clone()], found].concat()))
            }
        }
    }
}

fn parse(text: &str) -> Vec<Chapter> {
    let mut chapters: Vec<Chapter> = Vec::new();
    let mut lines = text.lines().peekable();
    let mut paragraph: Vec<&str> = Vec::new();
    while let Some(line) = lines.next() {
        if line.starts_with(['#', '|', '-', '`']) || line.is_empty() || numbered(line).is_some() {
            end_paragraph(&mut paragraph, &mut chapters);
        }
        let Some(chapter) = title(line, &mut chapters) else { continue };
        if let Some(heading) = line.strip_prefix("### ") {
            chapter.blocks.push(Block::Heading(heading.to_owned()));
        } else if line.starts_with("```") {
            let code: Vec<&str> = lines.by_ref().take_while(|line| !line.starts_with("```")).collect();
            chapter.blocks.push(Block::Code(code.join("\n")));
        } else if line.starts_with('|') {
            row(&mut chapter.blocks, &cells(line));
        } else if let Some(item) = line.strip_prefix("- ") {
            self::item(&mut chapter.blocks, "•".to_owned(), item);
        } else if let Some((number, item)) = numbered(line) {
            self::item(&mut chapter.blocks, format!("{number}."), item);
        } else if !line.is_empty() {
            paragraph.push(line);
        }
    }
    end_paragraph(&mut paragraph, &mut chapters);
    chapters
}

/// The chapter a line belongs to; `None` for the line that begins it, and for everything before the first.
fn title<'a>(line: &str, chapters: &'a mut Vec<Chapter>) -> Option<&'a mut Chapter> {
    if let Some(title) = line.strip_prefix("## ") {
        chapters.push(Chapter { title: title.to_owned(), blocks: Vec::new() });
        return None;
    }
    chapters.last_mut()
}

fn end_paragraph(paragraph: &mut Vec<&str>, chapters: &mut [Chapter]) {
    if let (Some(chapter), false) = (chapters.last_mut(), paragraph.is_empty()) {
        chapter.blocks.push(Block::Paragraph(inline(&paragraph.join(" "))));
    }
    paragraph.clear();
}

fn numbered(line: &str) -> Option<(&str, &str)> {
    let (number, item) = line.split_once(". ")?;
    (!number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit())).then_some((number, item))
}

fn item(blocks: &mut Vec<Block>, mark: String, text: &str) {
    let new = (mark, inline(text));
    match blocks.last_mut() {
        Some(Block::List(items)) => items.push(new),
        _ => blocks.push(Block::List(vec![new])),
    }
}

fn row(blocks: &mut Vec<Block>, cells: &[String]) {
    let rule = |cell: &String| !cell.is_empty() && cell.chars().all(|c| matches!(c, '-' | ':'));
    if cells.iter().all(rule) {
        return;
    }
    let new = cells.iter().map(|cell| inline(cell)).collect();
    match blocks.last_mut() {
        Some(Block::Table(rows)) => rows.push(new),
        _ => blocks.push(Block::Table(vec![new])),
    }
}

/// The cells of a row; `\|` is a bar inside a cell.
fn cells(line: &str) -> Vec<String> {
    let inner = line.trim().trim_start_matches('|');
    let inner = inner.strip_suffix('|').unwrap_or(inner);
    let mut cells = vec![String::new()];
    let mut chars = inner.chars().peekable();
    while let Some(c) = chars.next() {
        match (c, chars.peek()) {
            ('\\', Some('|')) => push(&mut cells, chars.next()),
            ('|', _) => cells.push(String::new()),
            (c, _) => push(&mut cells, Some(c)),
        }
    }
    cells.into_iter().map(|cell| cell.trim().to_owned()).collect()
}

fn push(cells: &mut [String], c: Option<char>) {
    if let Some(cell) = cells.last_mut() {
        cell.extend(c);
    }
}

/// Takes a line apart; a mark without its partner stands for itself.
fn inline(text: &str) -> Line {
    const MARKS: [(&str, Look); 3] = [("`", Look::Code), ("**", Look::Bold), ("*", Look::Italic)];
    let mut line = Line::new();
    let mut add = |look: Look, text: &str| match line.last_mut() {
        Some((last, before)) if *last == look => before.push_str(text),
        _ if text.is_empty() => {}
        _ => line.push((look, text.to_owned())),
    };
    let mut rest = text;
    while let Some(at) = rest.find(['`', '*']) {
        let (before, marked) = rest.split_at(at);
        add(Look::Plain, before);
        let found = MARKS.iter().find_map(|&(mark, look)| {
            let (inside, after) = marked.strip_prefix(mark)?.split_once(mark)?;
            // `2 * 3 * 4` is not italic.
            let loose = look != Look::Code && (inside.starts_with(' ') || inside.ends_with(' '));
            (!inside.is_empty() && !loose).then_some((look, inside, after))
        });
        let Some((look, inside, after)) = found else {
            add(Look::Plain, &marked[..1]);
            rest = &marked[1..];
            continue;
        };
        add(look, inside);
        rest = after;
    }
    add(Look::Plain, rest);
    line
}

#[cfg(test)]
#[path = "../../../../tests/window/inside/guide.rs"]
mod tests;
