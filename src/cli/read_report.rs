//! What an import did, for the terminal.

use crate::domain::style::counted;
use crate::files::import::gather::FileGave;
use crate::files::import::source::Origin;
use crate::files::import::{Question, Source, Target};
use crate::files::table::{Layout, Separator};

/// Prints the reading of one file.
pub(super) fn print(source: &Source, gave: &FileGave, kept: &str) {
    let report = &gave.report;
    let found = &source.table.found;
    let header = found.header_line.map_or_else(|| "no header row".to_owned(), |line| format!("header in line {line}"));
    say!(
        "{}: read as {}; {}, {header}",
        source.path.display(),
        source.mapping.target.word(),
        match found.layout {
            Layout::Sheet => "a sheet of a workbook".to_owned(),
            Layout::Printed => source.places.as_ref().map_or_else(String::new, |table| table.place()),
            of => format!("{}, {}", found.encoding.name(), layout(of, found.separator)),
        }
    );
    match source.origin {
        Origin::Proposed => {}
        Origin::Remembered => {
            say!("  remembered from a file with the same headers: {}", source.remembered.join("; "));
        }
        Origin::Given => say!("  columns as in the mapping given"),
    }
    for column in &source.proposal.columns {
        let meaning = source.mapping.column(&column.header).and_then(|meaning| meaning.field);
        let field = meaning.map_or("not used", |field| field.label());
        let why = if meaning == column.field && source.origin == Origin::Proposed {
            format!(" ({}, {})", column.confidence.word(), column.why)
        } else {
            String::new()
        };
        say!("  {} -> {field}{why}: {}", column.header, column.samples.join(" | "));
    }
    say!(
        "  {} read: {} kept ({kept}), {} skipped, {} rejected; {} not used",
        rows(report.rows),
        report.kept,
        report.set_aside_rows(),
        report.refused,
        counted(report.cells_not_used, "cell", "cells")
    );
    for set in &report.set_aside {
        say!("  skipped: {} ({})", set.reason, rows(set.rows));
    }
    if !report.others.is_empty() {
        let taken = if source.mapping.other_parts.is_empty() { "; --other-parts KINDS takes them in" } else { "" };
        say!("  other parts in rows: {}{taken}", report.others_in_words());
    }
    for found in report.contradictions.iter().take(10) {
        say!(
            "  contradiction in line {}: {}: {} against {}; {}",
            found.line,
            found.field,
            found.first,
            found.second,
            found.done
        );
    }
    if report.contradictions.len() > 10 {
        say!("  and {} more contradictions", report.contradictions.len() - 10);
    }
    if let Some(placed) = gave.placed.filter(|_| source.mapping.target == Target::Positions) {
        say!("  {} placed by the columns of the same file", counted(placed, "position", "positions"));
    }
    report.questions.iter().for_each(question);
    for note in &report.notes {
        say!("  note: {note}");
    }
}

fn rows(number: usize) -> String {
    counted(number, "row", "rows")
}

fn question(question: &Question) {
    let column = if question.column.is_empty() { String::new() } else { format!(" about column {}", question.column) };
    say!(
        "  question{column}: {} ({}, line {}: {})",
        question.what,
        rows(question.rows),
        question.line,
        question.example
    );
    for choice in &question.choices {
        say!("    {}: in the mapping, {}", choice.label, choice.answer);
    }
}

fn layout(layout: Layout, separator: Separator) -> &'static str {
    match (layout, separator) {
        (Layout::Markdown, _) => "Markdown table",
        (Layout::Wiki, _) => "wiki table",
        (Layout::Html, _) => "table of a web page",
        (Layout::Printed, _) => "printed table",
        (Layout::FixedWidth, _) | (_, Separator::Blanks) => "columns of blanks",
        (_, Separator::Comma) => "commas",
        (_, Separator::Semicolon) => "semicolons",
        (_, Separator::Tab) => "tabs",
        (_, Separator::Pipe) => "vertical bars",
        (_, Separator::Markup) => "markup",
    }
}
