//! Lists of words and codes that are data, not rules: `words.txt`.

use std::collections::HashMap;
use std::sync::LazyLock;

/// One of the lists of `words.txt`.
pub(crate) fn list(name: &str) -> impl Iterator<Item = &'static str> + use<> {
    static LISTS: LazyLock<HashMap<&str, Vec<&str>>> = LazyLock::new(|| {
        let lines = include_str!("words.txt").lines().filter(|line| !line.starts_with('#'));
        lines.filter_map(|line| line.split_once(": ")).map(|(name, of)| (name, of.split(" | ").collect())).collect()
    });
    LISTS[name].iter().copied()
}

/// What a word of a list of pairs stands for: `1C=16` in the list of voltage codes.
pub(crate) fn stands_for(name: &str, word: &str) -> Option<&'static str> {
    list(name).filter_map(|pair| pair.split_once('=')).find(|(of, _)| *of == word).map(|(_, meant)| meant)
}
