//! Headings of lists of parts and boards in the languages of the trade, and the words of the market status.

use refarad::domain::Status;
use refarad::files::import::{Field, Target};

use crate::source;

#[test]
fn the_headings_of_lists_are_known_in_the_languages_of_the_trade() {
    let lines = include_str!("headings.txt").lines().filter(|line| !line.starts_with('#'));
    let (mut fields, mut rows) = (Vec::new(), Vec::new());
    for line in lines {
        let (begins, cells) = line.split_once(" | ").unwrap();
        let cells: Vec<&str> = cells.split(" | ").collect();
        match begins {
            "fields" => {
                fields = cells.into_iter().map(|key| Field::of_key(key).unwrap()).collect();
                rows.clear();
            }
            "row" => rows.push(cells),
            language => check(language, &cells, &fields, &rows),
        }
    }
}

fn check(language: &str, cells: &[&str], fields: &[Field], rows: &[Vec<&str>]) {
    let (headings, status) = cells.split_at(fields.len());
    let mut text = format!("{}\n", headings.join(";"));
    for (at, row) in rows.iter().enumerate() {
        let cell = |cell: &&str| if *cell == "status" { status[at].to_owned() } else { (*cell).to_owned() };
        text += &format!("{}\n", row.iter().map(cell).collect::<Vec<_>>().join(";"));
    }
    let source = source("any.csv", text.as_bytes(), None);
    for (heading, field) in headings.iter().zip(fields) {
        let meant = source.mapping.column(heading).and_then(|column| column.field);
        assert_eq!(meant, Some(*field), "{language}: {heading}");
    }
    if status.is_empty() {
        assert_eq!(source.mapping.target, Target::Positions, "{language}");
        assert_eq!(source.positions().positions.len(), 4, "{language}");
    } else {
        let of_parts: Vec<_> = source.parts().parts.into_iter().map(|(_, part)| part.status).collect();
        assert_eq!(of_parts, [Status::Active, Status::Nrnd, Status::Obsolete].map(Some), "{status:?}");
    }
}
