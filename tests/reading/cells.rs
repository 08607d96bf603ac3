//! What single cells are read as: `cells.txt`, a line `reader options: text => what it means`. Cases are hand-made, their spellings as
//! counted in public parts lists, schematic fields and placement files.
//!
//! Options say what the column is known to mean: `dot`, `comma`, a unit, `hz=120`, `temp=105`, `diameter-first`, `height-first`. Several
//! meanings are separated by ` ? `: they are asked; `refused` gives a reason; texts of several cells stand behind ` | `.

use std::fmt::Debug;

use refarad::files::cell::unit::{Kind, Unit};
use refarad::files::cell::{
    Column, Decimal, Order, Reading, capacitance, clean, count, endurance, esr, family, frequency, header, leakage,
    length, number, order, percent, price, quantity, ripple, size, temperature, text, tolerance, voltage,
};
use refarad::files::designators;

/// `Size { diameter_mm: Some(5.0), height_mm: None }` as `diameter_mm 5`.
fn plain(value: &impl Debug) -> String {
    let text = format!("{value:?}");
    let fields = text.split_once(" { ").map_or(text.as_str(), |(_, fields)| fields.trim_end_matches(" }"));
    let said = |field: &&str| !field.ends_with(": None");
    let short = |field: &str| {
        let field = field.replace("Some(", "").replace([')', '"'], "").replace(": ", " ");
        field.strip_suffix(".0").unwrap_or(&field).replace(".0]", "]")
    };
    fields.split(", ").filter(said).map(short).collect::<Vec<_>>().join(", ")
}

fn shown<T: Debug>(reading: &Reading<T>) -> String {
    match reading {
        Reading::Value(value) => plain(value),
        Reading::Ambiguous { options, .. } => {
            let options: Vec<String> = options.iter().map(plain).collect();
            format!("? {}", options.join(" ? "))
        }
        Reading::Nothing => "nothing".to_owned(),
        Reading::Bad { reason } => {
            assert!(!reason.is_empty());
            "refused".to_owned()
        }
    }
}

/// What the options of a line say of the column.
fn column(options: &[&str]) -> Column {
    let mut column = Column::default();
    for option in options {
        match option.split_once('=') {
            Some(("hz", hz)) => column.hz = hz.parse().ok(),
            Some(("temp", temp_c)) => column.temp_c = temp_c.parse().ok(),
            _ if *option == "dot" => column.decimal = Decimal::Dot,
            _ if *option == "comma" => column.decimal = Decimal::Comma,
            _ if *option == "diameter-first" => column.order = Order::DiameterFirst,
            _ if *option == "height-first" => column.order = Order::HeightFirst,
            _ if *option == "ratio" => column.unit = Some(Unit::Ratio),
            _ => column.unit = Some(Unit::parse(option).unwrap_or_else(|| panic!("no option: {option}"))),
        }
    }
    column
}

/// What all quantities of a text are.
fn found(text: &str, column: &Column) -> String {
    let found = text::find(text, column);
    let all = [
        ("uf", shown(&found.capacitance_uf)),
        ("v", shown(&found.rated_v)),
        ("tol", shown(&found.tolerance)),
        ("ripple", shown(&found.ripple)),
        ("esr", shown(&found.esr)),
        ("life", shown(&found.endurance)),
        ("temp", shown(&found.temperature)),
        ("size", shown(&found.size)),
    ];
    let said = all.into_iter().filter(|(_, value)| value != "nothing");
    said.map(|(name, value)| format!("{name}: {value}")).collect::<Vec<_>>().join("; ")
}

fn heading(kind: &str, name: &str) -> String {
    let kinds = [Kind::Capacitance, Kind::Voltage, Kind::Current, Kind::Resistance, Kind::Length, Kind::Temperature];
    let kind = kinds.into_iter().chain([Kind::Share, Kind::Time, Kind::Frequency]).find(|of| format!("{of:?}") == kind);
    let column = header::hints(name).column(kind.unwrap(), name, Decimal::Dot);
    plain(&(column.unit.map(Unit::symbol), column.hz, column.temp_c))
}

fn names(text: &str, quantity: Option<usize>) -> String {
    let found = designators::read(text, quantity);
    format!("{}; {} without number; {} notes", found.refs.join(" "), found.unnumbered, found.notes.len())
}

fn read(line: &str) -> String {
    let (reader, text) = line.split_once(": ").unwrap();
    let mut options = reader.split(' ');
    let reader = options.next().unwrap_or_default();
    let options: Vec<&str> = options.collect();
    let cells: Vec<&str> = text.split(" | ").collect();
    match reader {
        "header" => return heading(options[0], text),
        "designators" => return names(text, options.first().map(|quantity| quantity.parse().unwrap())),
        "quantity" => return shown(&quantity::read(text, column(&options).unit.unwrap())),
        _ => {}
    }
    let column = column(&options);
    match reader {
        "capacitance" => shown(&capacitance::read(text, &column)),
        "voltage" => shown(&voltage::read(text, &column)),
        "length" => shown(&length::read(text, &column)),
        "temperature" => shown(&temperature::read(text, &column)),
        "range" => shown(&temperature::read_range(text, &column)),
        "price" => shown(&price::read(text, &column)),
        "breaks" => {
            let step = |step: &price::PriceBreak| format!("{}:{}", step.from_qty, step.unit_price);
            shown(&price::read_breaks(text, &column).map(|all| all.iter().map(step).collect::<Vec<_>>().join(";")))
        }
        "currency" => plain(&price::currency_of(text)),
        "tolerance" => shown(&tolerance::read(text, &column)),
        "endurance" => shown(&endurance::read(text, &column)),
        "esr" => shown(&esr::read(text, &column)),
        "leakage" => shown(&leakage::read(text, &column)),
        "ripple" => shown(&ripple::read(text, &column)),
        "size" => shown(&size::read(text, &column)),
        "number" => shown(&number::read(text, &column)),
        "count" => shown(&count::read(text, &column)),
        "first-count" => shown(&count::first(text, &column)),
        "percent" => shown(&percent::read(text, &column)),
        "frequency" => shown(&frequency::read(text, &column)),
        "text" => found(text, &column),
        "family" => plain(&family::family(&cells).map(|found| (found.family, found.evidence, found.word))),
        "unit" => plain(&Unit::parse(text)),
        "clean" => clean::clean(text).unwrap_or_else(|_| "refused".to_owned()),
        "is-nothing" => clean::is_nothing(text).to_string(),
        "decimal" => plain(&number::column_decimal(cells)),
        "count-decimal" => plain(&count::column_decimal(&cells)),
        "order" => plain(&order::column_order(cells, &column)),
        "order-of-header" => plain(&order::header_order(text)),
        _ => panic!("no such reader: {reader}"),
    }
}

#[test]
fn every_cell_is_read_as_the_table_says() {
    let mut property = "";
    let mut wrong = Vec::new();
    for line in include_str!("cells.txt").lines().filter(|line| !line.is_empty()) {
        if let Some(said) = line.strip_prefix('#') {
            property = said.trim();
            continue;
        }
        let (cell, expected) = line.split_once(" =>").unwrap_or_else(|| panic!("no `=>`: {line}"));
        let got = read(cell);
        if got != expected.strip_prefix(' ').unwrap_or(expected) {
            wrong.push(format!("{property}\n    {cell} => {got}\n    expected{expected}"));
        }
    }
    assert!(wrong.is_empty(), "{} cells are read otherwise:\n{}", wrong.len(), wrong.join("\n"));
}
