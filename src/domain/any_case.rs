//! Whether a text stands in another, whichever of them is in upper case.

/// Whether `text` contains `needle`, which is in lower case.
pub fn has(text: &str, needle: &str) -> bool {
    // Without a copy and a byte at a time: this runs for every text of a million parts.
    let Some((&first, rest)) = needle.as_bytes().split_first() else { return true };
    if !text.is_ascii() || !needle.is_ascii() {
        return text.to_lowercase().contains(needle);
    }
    let text = text.as_bytes();
    let last = text.len().saturating_sub(rest.len());
    (0..last).any(|at| {
        text[at].to_ascii_lowercase() == first && text[at + 1..at + 1 + rest.len()].eq_ignore_ascii_case(rest)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_found_in_upper_and_lower_case() {
        assert!(has("SKARN-400", "skarn") && has("Größe", "größe") && !has("SKARN", "skarn-"));
        assert!(!has("", "a") && has("", "") && has("SKARN", "n") && has("SKARN", "skarn") && !has("KARN", "skarn"));
    }
}
