//! Lists in XML and JSON, as programs export them: the records that name the most known columns, one row each.

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use serde_json::Value;

use super::delimited::Collector;
use super::header::Known;
use super::html::plain;
use super::types::{Block, Layout, Limits, Note, Separator, TableError};

/// Deepest nesting that is followed.
const DEPTH_MOST: usize = 64;

/// A record: the name of its elements, the line it begins in and its fields.
struct Record {
    name: String,
    line: usize,
    fields: Vec<(String, String)>,
}

/// Whether the text is XML or JSON and no page.
pub(super) fn is_structured(text: &str) -> bool {
    let start = text.trim_start();
    is_json(start) || start.starts_with("<?xml") || (start.starts_with('<') && start.contains("</"))
}

fn is_json(start: &str) -> bool {
    start.starts_with(['{', '[']) && start.contains("\":") && !start.starts_with("{|")
}

/// The records as a table; the names of their fields are its header.
pub(super) fn block(text: &str, known: &Known, limits: &Limits) -> Result<Block, TableError> {
    let json = is_json(text.trim_start());
    let what = if json { "a JSON file without a list" } else { "an XML file without a list" };
    let records = if json { of_json(text) } else { of_xml(text) };
    let records = records.filter(|records| !records.is_empty()).ok_or(TableError::NotText { what })?;
    let mut kinds: Vec<(&str, Vec<&str>, usize)> = Vec::new();
    for record in &records {
        let at = kinds.iter().position(|(name, ..)| *name == record.name).unwrap_or_else(|| {
            kinds.push((&record.name, Vec::new(), 0));
            kinds.len() - 1
        });
        kinds[at].2 += 1;
        for (field, _) in &record.fields {
            if !kinds[at].1.contains(&field.as_str()) && kinds[at].1.len() < limits.columns {
                kinds[at].1.push(field);
            }
        }
    }
    let hits = |header: &[&str]| header.iter().filter(|name| known.knows(name)).count();
    let best = kinds.iter().max_by_key(|(_, header, rows)| (hits(header), *rows));
    let (name, header, _) =
        best.filter(|(_, header, _)| header.len() > 1 && hits(header) > 1).ok_or(TableError::NotText { what })?;
    let mut collector = Collector::new(limits);
    collector.take(1, false, header.iter().copied())?;
    for record in records.iter().filter(|record| record.name == *name) {
        let cell = |name: &&str| record.fields.iter().find(|(of, _)| of == name).map_or("", |(_, cell)| cell.as_str());
        collector.take(record.line, false, header.iter().map(cell))?;
    }
    let others: usize = kinds.iter().map(|(_, _, rows)| rows).sum::<usize>() + 1 - collector.records.len();
    let text = format!("the records `{name}` are its rows; {others} records of other names are not read");
    let block = Block::of(collector.records, Separator::Markup, Layout::Structured);
    Ok(Block { header: Some(0), notes: vec![Note { line: 1, text }], ..block })
}

/// An element that is still open.
#[derive(Default)]
struct Open {
    name: String,
    line: usize,
    /// Name its text goes by in the record around it: `<field name="Voltage">25 V</field>`.
    called: Option<String>,
    attributes: Vec<(String, String)>,
    leaves: Vec<(String, String)>,
    text: String,
}

/// Elements with at least two attributes or children of text; `None` where the file is damaged.
fn of_xml(text: &str) -> Option<Vec<Record>> {
    let mut reader = Reader::from_str(text);
    let config = reader.config_mut();
    config.expand_empty_elements = true;
    config.allow_dangling_amp = true;
    let mut records = Vec::new();
    let mut open: Vec<Open> = vec![Open::default()];
    let (mut line, mut counted) = (1, 0);
    loop {
        let event = reader.read_event().ok()?;
        let at = usize::try_from(reader.buffer_position()).ok()?;
        let more: &str = match &event {
            Event::Start(tag) => {
                if open.len() > DEPTH_MOST {
                    return None;
                }
                open.push(opened(tag, line));
                ""
            }
            Event::End(_) => {
                let done = open.pop()?;
                close(done, open.last_mut(), &mut records);
                ""
            }
            Event::Text(text) => text,
            Event::CData(text) => text,
            Event::GeneralRef(sign) => &format!("&{};", &**sign),
            Event::Eof => return Some(records),
            _ => "",
        };
        open.last_mut()?.text.push_str(more);
        line += text[counted..at].matches('\n').count();
        counted = at;
    }
}

/// An element as its tag says.
fn opened(tag: &BytesStart, line: usize) -> Open {
    let attributes: Vec<(String, String)> =
        tag.attributes().flatten().map(|of| (of.key.as_ref().to_owned(), plain(&of.value))).collect();
    let called = attributes.iter().find(|(name, _)| name.eq_ignore_ascii_case("name")).map(|(_, is)| is.clone());
    Open { name: tag.name().as_ref().to_owned(), line, called, attributes, ..Open::default() }
}

/// Ends an element: its text, or what it names, is a field of the record around it; with two fields of its own it is a record.
fn close(done: Open, around: Option<&mut Open>, records: &mut Vec<Record>) {
    let Some(around) = around else { return };
    let single = done.leaves.is_empty();
    let called = done.called.filter(|_| single).or_else(|| done.attributes.is_empty().then(|| done.name.clone()));
    let value = done.attributes.iter().find(|(name, _)| name.eq_ignore_ascii_case("value"));
    let text =
        Some(plain(&done.text)).filter(|text| !text.is_empty()).or_else(|| value.map(|(_, value)| value.clone()));
    match called {
        Some(name) if single => around.leaves.push((name, text.unwrap_or_default())),
        // `<fields>` within a record.
        Some(_) if !around.attributes.is_empty() => return around.leaves.extend(done.leaves),
        // `<capacitance unit="uF">470</capacitance>`
        _ if single && !plain(&done.text).is_empty() => {
            let unit = done.attributes.iter().find(|(name, _)| name.to_lowercase().contains("unit"));
            let unit = unit.map_or_else(String::new, |(_, unit)| format!(" {unit}"));
            return around.leaves.push((done.name, plain(&done.text) + &unit));
        }
        _ if single => around.leaves.extend(done.attributes.clone()),
        _ => {}
    }
    let fields: Vec<(String, String)> = done.attributes.into_iter().chain(done.leaves).collect();
    if fields.len() > 1 {
        records.push(Record { name: done.name, line: done.line, fields });
    }
}

/// The objects of a list, whichever list it is.
fn of_json(text: &str) -> Option<Vec<Record>> {
    let parse = |text: &str| crate::files::json::parse(text.as_bytes()).ok();
    // A record in every line.
    let lines = || text.lines().filter(|line| !line.trim().is_empty()).map(parse).collect::<Option<_>>();
    let value = parse(text).or_else(|| lines().map(Value::Array))?;
    let mut records = Vec::new();
    gather(&value, "list", &mut records);
    Some(records)
}

fn gather(value: &Value, name: &str, records: &mut Vec<Record>) {
    match value {
        Value::Array(all) => all.iter().for_each(|one| gather(one, name, records)),
        Value::Object(fields) => {
            let plain: Vec<(String, String)> = fields.iter().flat_map(|(name, value)| leaves(name, value)).collect();
            if plain.len() > 1 {
                records.push(Record { name: name.to_owned(), line: records.len() + 1, fields: plain });
            }
            // `{"C1": {...}, "C2": {...}}`: the names are a field of records that are alike.
            let alike = fields.len() > 1 && fields.values().all(|of| of.as_object().is_some_and(|of| of.len() > 1));
            for (key, value) in fields.iter().filter(|(name, value)| leaves(name, value).is_empty()) {
                let before = records.len();
                gather(value, if alike { name } else { key }, records);
                if let Some(record) = records.get_mut(before).filter(|_| alike) {
                    record.fields.insert(0, ("Name".to_owned(), key.clone()));
                }
            }
        }
        _ => {}
    }
}

/// The fields that a value is of the record around it: its text, that of `{"name": ...}`, or those of pairs such as
/// `{"name": "Voltage", "value": "25 V"}`.
fn leaves(name: &str, value: &Value) -> Vec<(String, String)> {
    if let Some(text) = leaf(value) {
        return vec![(name.to_owned(), text)];
    }
    let pair = |one: &Value| {
        let of = one.as_object().filter(|of| of.len() == 2)?;
        let key = ["name", "key", "label", "attribute", "parameter"].iter().find_map(|key| leaf(of.get(*key)?));
        Some((key?, leaf(of.get("value")?)?))
    };
    match value {
        Value::Array(all) => all.iter().map(pair).collect::<Option<_>>().unwrap_or_default(),
        Value::Object(of) if of.len() == 1 => {
            of.values().filter_map(leaf).map(|text| (name.to_owned(), text)).collect()
        }
        _ => Vec::new(),
    }
}

/// The text of a value that is no list of records: a list of texts is one cell.
fn leaf(value: &Value) -> Option<String> {
    match value {
        Value::Null => Some(String::new()),
        Value::String(text) => Some(text.clone()),
        Value::Array(all) if all.iter().all(|one| !one.is_object() && !one.is_array()) => {
            let all: Option<Vec<String>> = all.iter().map(leaf).collect();
            Some(all?.join(", "))
        }
        Value::Array(_) | Value::Object(_) => None,
        other => Some(other.to_string()),
    }
}
