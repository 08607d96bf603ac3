//! What kinds of capacitors are called in the languages of the trade.

use crate::positions;

#[test]
fn kinds_of_capacitors_are_told_apart_in_the_languages_of_the_trade() {
    let lines = include_str!("kinds.txt").lines().filter(|line| !line.starts_with('#'));
    let mut kinds: Vec<&str> = Vec::new();
    for line in lines {
        let mut words = line.split(" | ");
        let language = words.next().unwrap();
        let words: Vec<&str> = words.collect();
        if language == "kinds" {
            kinds = words;
            continue;
        }
        let row = |(at, word): (usize, &&str)| format!("C{at};47 µF;50 V;{word}\n");
        let rows: String = words.iter().enumerate().map(row).collect();
        let import = positions(&format!("Ref;Value;Voltage;Type\n{rows}"));
        for (at, (word, kind)) in words.iter().zip(&kinds).enumerate() {
            let mut found = import.positions.iter().map(|(_, position)| position);
            let found = found.find(|position| position.reference == format!("C{at}").as_str());
            let technology =
                found.map_or("-", |position| position.original.can.technology.map_or("unsaid", Into::into));
            assert_eq!(technology, *kind, "{language}: {word}");
        }
    }
}
