//! Lists of words and codes that are data, not rules: `words.txt`.

use std::sync::LazyLock;

use hashbrown::HashMap;

/// One of the lists of `words.txt`.
pub(crate) fn list(name: &str) -> impl Iterator<Item = &'static str> + use<> {
    static LISTS: LazyLock<HashMap<&str, Vec<&str>>> = LazyLock::new(|| {
        let lines = include_str!("words.txt").lines().filter(|line| !line.starts_with('#'));
        lines.filter_map(|line| line.split_once(": ")).map(|(name, of)| (name, of.split(" | ").collect())).collect()
    });
    LISTS[name].iter().copied()
}

/// Whether a text, but for capital letters, is a word of a list.
pub(crate) fn says(name: &str, text: &str) -> bool {
    let is = |word: &str| text.chars().flat_map(char::to_lowercase).eq(word.chars());
    list(name).any(|word| if text.is_ascii() { text.eq_ignore_ascii_case(word) } else { is(word) })
}

/// What a word of a list of pairs stands for: `1C=16` in the list of voltage codes.
pub(crate) fn stands_for(name: &str, word: &str) -> Option<&'static str> {
    list(name).find_map(|pair| pair.strip_prefix(word)?.strip_prefix('='))
}

/// The rests of a text from behind each of its blanks on: where a phrase may stand as words.
pub(crate) fn from_each_word(text: &str) -> impl Iterator<Item = &str> {
    text.match_indices(' ').map(|(at, blank)| &text[at + blank.len()..])
}
