//! Of `app/views/help/guide.rs`, whose module this is.

use super::*;
use crate::app::views::candidates::names_in_the_filter;
use crate::domain::{Assumed, Check, Outcome};
use crate::sizing::reasons::check_name;
use proptest::prelude::*;

fn chapter(title: &str) -> &'static Chapter {
    chapters().iter().find(|chapter| chapter.title == title).unwrap()
}

fn first_cells(chapter: &Chapter) -> Vec<String> {
    let tables = chapter.blocks.iter().filter_map(|block| match block {
        Block::Table(rows) => Some(rows),
        _ => None,
    });
    tables.flat_map(|rows| rows.iter().map(|row| plain(&row[0]))).collect()
}

#[test]
fn the_cautions_come_first_and_no_chapter_is_empty() {
    assert_eq!(chapters()[0].title, "Cautions first");
    assert!(chapters().len() >= 10 && chapters().iter().all(|chapter| !chapter.blocks.is_empty()));
}

#[test]
fn every_table_has_the_same_number_of_cells_in_each_row() {
    for chapter in chapters() {
        for block in &chapter.blocks {
            if let Block::Table(rows) = block {
                assert!(rows.len() > 1, "{}: a table without rows", chapter.title);
                rows.iter().for_each(|row| assert_eq!(row.len(), rows[0].len(), "{}: {row:?}", chapter.title));
            }
        }
    }
}

#[test]
fn no_mark_is_left_in_what_is_shown() {
    for chapter in chapters() {
        let lines = chapter.blocks.iter().flat_map(|block| match block {
            Block::Paragraph(line) => vec![line],
            Block::List(items) => items.iter().map(|(_, line)| line).collect(),
            Block::Table(rows) => rows.iter().flatten().collect(),
            Block::Heading(_) | Block::Code(_) => vec![],
        });
        for (look, text) in lines.flatten() {
            assert!(*look == Look::Code || !text.contains("**") && !text.contains('`'), "{text}");
        }
    }
}

#[test]
fn every_check_and_outcome_is_told_with_what_to_do() {
    let outcomes = chapter("Outcomes and what to do");
    let cells = first_cells(outcomes);
    let advice: Vec<String> = outcomes
        .blocks
        .iter()
        .filter_map(|block| if let Block::List(items) = block { Some(items) } else { None })
        .flatten()
        .map(|(_, line)| plain(line).to_lowercase())
        .collect();
    for check in Check::ALL {
        assert!(cells.iter().any(|cell| cell == check.word()), "{check:?}");
        assert!(advice.iter().any(|line| line.starts_with(&check_name(check).to_lowercase())), "{check:?}");
    }
    for outcome in Outcome::ALL {
        assert!(cells.iter().any(|cell| cell == outcome.word()), "{outcome:?}");
    }
}

#[test]
fn every_name_of_an_assumed_figure_is_told() {
    let cells = first_cells(chapter("Outcomes and what to do"));
    let every = [
        Assumed::TECHNOLOGY,
        Assumed::MOUNTING,
        Assumed::ENDURANCE_BASIS,
        Assumed::FREQUENCY_MULTIPLIERS,
        Assumed::CORE_RISE,
        Assumed::RIPPLE_TEMP_FACTORS,
        Assumed::SURGE,
        Assumed::TAN_DELTA,
        Assumed::ESR_LIMIT,
        Assumed::LEAKAGE,
        Assumed::DIAMETER_MAX,
        Assumed::HEIGHT_MAX,
    ];
    for name in every.iter().flat_map(|figure| figure.names()) {
        assert!(cells.iter().any(|cell| cell == name), "{name}");
    }
}

#[test]
fn every_name_of_the_filter_and_every_example_is_told() {
    let filtering = chapter("Filtering candidates");
    let cells = first_cells(filtering);
    for (example, _) in crate::app::views::candidates::EXAMPLES {
        let told = |cell: &String| cell == example || cell.starts_with(&example[..example.len().min(3)]);
        assert!(cells.iter().any(told), "{example}");
    }
    let told: Vec<&str> = filtering
        .blocks
        .iter()
        .filter_map(|block| if let Block::Paragraph(line) = block { Some(line) } else { None })
        .flatten()
        .filter(|(look, _)| *look == Look::Code)
        .map(|(_, text)| text.as_str())
        .collect();
    for name in names_in_the_filter() {
        assert!(told.contains(&name), "{name}");
    }
}

#[test]
fn looks_lists_tables_and_code_are_told_apart() {
    let text = "# page\nlost\n## One\ntext **bold** and `a*b`\nmore, 2 * 3\n\n1. first\n2. second\n### In\n- dot\n\
                | a | b |\n|---|---|\n| `x\\|y` | |\n```\n# code\n```\n";
    let found = parse(text);
    let plain = |text: &str| (Look::Plain, text.to_owned());
    assert_eq!(found.len(), 1);
    assert_eq!(
        found[0].blocks,
        [
            Block::Paragraph(vec![
                plain("text "),
                (Look::Bold, "bold".into()),
                plain(" and "),
                (Look::Code, "a*b".into()),
                plain(" more, 2 * 3"),
            ]),
            Block::List(vec![("1.".into(), vec![plain("first")]), ("2.".into(), vec![plain("second")])]),
            Block::Heading("In".into()),
            Block::List(vec![("•".into(), vec![plain("dot")])]),
            Block::Table(vec![
                vec![vec![plain("a")], vec![plain("b")]],
                vec![vec![(Look::Code, "x|y".into())], vec![]],
            ]),
            Block::Code("# code".into()),
        ]
    );
}

#[test]
fn a_search_keeps_the_rows_that_hold_every_word_and_the_head_of_their_table() {
    let fields = chapter("Fields");
    let words = ["rated".to_owned(), "surge_v".to_owned()];
    let found: Vec<Block> = fields.blocks.iter().filter_map(|block| block.holding(&words)).collect();
    let [Block::Table(rows)] = &found[..] else { panic!("{found:?}") };
    assert_eq!(rows.iter().map(|row| plain(&row[0])).collect::<Vec<_>>(), ["field", "surge_v"]);
    assert_eq!(fields.blocks.iter().find_map(|block| block.holding(&["no such word".into()])), None);
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_panic_or_lose_a_word(text in "[ a-z#|`*.\\\\\n0-9-]{0,200}") {
        let _ = parse(&format!("## t\n{text}"));
        let word = plain(&inline(&text.replace(['`', '*'], "")));
        prop_assert_eq!(word, text.replace(['`', '*'], ""));
    }
}
