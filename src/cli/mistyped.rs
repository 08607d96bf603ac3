//! What a mistyped call probably means, in one line.

use std::path::Path;

use clap::error::ErrorKind;

use super::failure::Failure;

/// A call that cannot be parsed, where `calls` are those there are.
pub(super) fn failure(calls: &clap::Command, wrong: &clap::Error) -> Failure {
    // `refarad sise job.json`: the first word was taken for a job, and what comes after it is what clap complains of.
    let first = std::env::args_os().nth(1);
    let nothing_like = |word: &Path| {
        let known: Vec<String> = calls.get_subcommands().map(|call| call.get_name().to_owned()).collect();
        let bare = !word.exists() && !word.to_string_lossy().starts_with('-') && word.extension().is_none();
        (bare && !known.iter().any(|name| Path::new(name) == word)).then(|| {
            Failure::Call(format!("{}: neither a file nor a call; the calls are {}", word.display(), known.join(", ")))
        })
    };
    let first = first.as_deref().map(Path::new);
    first
        .and_then(|word| call(calls, word).or_else(|| nothing_like(word)))
        .unwrap_or_else(|| Failure::Call(one_line(calls, wrong)))
}

/// What to say of a word that is no file and looks like the name of a call.
pub(super) fn call(calls: &clap::Command, word: &Path) -> Option<Failure> {
    if word.exists() || word.extension().is_some() {
        return None;
    }
    let word = word.to_str()?;
    let names = calls.get_subcommands().map(clap::Command::get_name);
    let typed = word.to_lowercase();
    // Of a short name one wrong letter is much.
    let alike = |name: &str| match strsim::damerau_levenshtein(name, &typed) {
        0 | 1 => 1.0,
        _ => strsim::jaro_winkler(name, &typed),
    };
    let (alike, name) = names.map(|name| (alike(name), name)).max_by(|a, b| a.0.total_cmp(&b.0))?;
    (alike > 0.75 && name != word)
        .then(|| Failure::Call(format!("{word}: neither a file nor a call; did you mean refarad {name}?")))
}

/// What clap says over several lines: the fault, what it suggests, and which help to ask for.
fn one_line(calls: &clap::Command, wrong: &clap::Error) -> String {
    let text = wrong.to_string();
    let text = text
        .replace("invalid float literal", "expected a number with a dot")
        .replace("invalid digit found in string", "expected a whole number of 0 or more");
    let (said, after) = text.split_once("Usage: ").unwrap_or((&text, ""));
    let lines = said.lines().map(str::trim).filter(|line| {
        // Nobody means to pass an unknown option as a file.
        !line.is_empty() && !line.starts_with("For more information") && !line.starts_with("tip: to pass ")
    });
    let said: Vec<String> = lines
        .map(|line| match line.strip_prefix("tip: ") {
            Some(tip) => format!("; {tip}"),
            None => format!(" {}", line.strip_prefix("error: ").unwrap_or(line)),
        })
        .collect();
    let is_name = |word: &&str| word.starts_with(|c: char| c.is_ascii_lowercase());
    let call: Vec<&str> = after.split_whitespace().take_while(is_name).collect();
    let mut known = calls;
    for name in call.iter().skip(1) {
        known = known.find_subcommand(name).unwrap_or(known);
    }
    let below: Vec<&str> = known.get_subcommands().map(clap::Command::get_name).collect();
    let below = match wrong.kind() {
        ErrorKind::InvalidSubcommand => format!("; expected {}", below.join(", ")),
        _ => String::new(),
    };
    let call = if call.is_empty() { "refarad".to_owned() } else { call.join(" ") };
    format!("{}{below}; see {call} --help", said.concat().trim())
}
