//! What a mistyped call probably means, in one line.

use std::ffi::OsString;
use std::num::{ParseFloatError, ParseIntError};
use std::path::Path;

use clap::error::{ContextKind, ErrorKind};

use super::failure::Failure;

/// The words of a call as they are understood: `help` asked for its own help is the help of the program.
pub(super) fn words() -> Vec<OsString> {
    let mut words: Vec<OsString> = std::env::args_os().collect();
    if words.get(1).is_some_and(|first| first == "help") {
        words.retain(|word| word != "--help" && word != "-h");
    }
    words
}

/// A call that cannot be parsed, where `calls` are those there are.
pub(super) fn failure(calls: &clap::Command, words: &[OsString], wrong: &clap::Error) -> Failure {
    // `refarad sise job.json`: the first word was taken for a job, and what comes after it is what clap complains of.
    let nothing_like = |word: &Path| {
        let known = names(calls);
        let bare = !word.exists() && !word.to_string_lossy().starts_with('-') && word.extension().is_none();
        (bare && word != Path::new("help") && !known.iter().any(|name| Path::new(name) == word)).then(|| {
            Failure::Call(format!("{}: neither a file nor a call; the calls are {}", word.display(), known.join(", ")))
        })
    };
    let first = words.get(1).map(Path::new);
    first
        .and_then(|word| call(calls, word).or_else(|| nothing_like(word)))
        .unwrap_or_else(|| Failure::Call(one_line(calls, words, wrong)))
}

/// What to say of a word that is no file and looks like the name of a call.
pub(super) fn call(calls: &clap::Command, word: &Path) -> Option<Failure> {
    if word.exists() || word.extension().is_some() || word == Path::new("help") {
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

fn names(calls: &clap::Command) -> Vec<&str> {
    calls.get_subcommands().map(clap::Command::get_name).collect()
}

/// The fault, what may be meant, and the help of the call it is about.
fn one_line(calls: &clap::Command, words: &[OsString], wrong: &clap::Error) -> String {
    let asks_help = words.get(1).is_some_and(|first| first == "help");
    let (mut known, mut name) = (calls, "refarad".to_owned());
    for word in words.iter().skip(if asks_help { 2 } else { 1 }) {
        let Some(below) = known.find_subcommand(word) else { break };
        (known, name) = (below, format!("{name} {}", below.get_name()));
    }
    let told = |kind| wrong.get(kind).map(ToString::to_string).filter(|text| !text.is_empty());
    let about = told(ContextKind::InvalidArg).unwrap_or_else(|| name.clone());
    let option = about.split_once(" <").map_or(&*about, |(option, _)| option);
    let value = told(ContextKind::InvalidValue);
    let below = names(known).join(", ");
    let meant = [ContextKind::SuggestedArg, ContextKind::SuggestedSubcommand, ContextKind::SuggestedValue];
    let meant = meant.into_iter().find_map(told).map_or_else(String::new, |meant| format!("; did you mean {meant}?"));
    let fault = match (wrong.kind(), value) {
        (ErrorKind::InvalidSubcommand, _) => {
            let typed = told(ContextKind::InvalidSubcommand).unwrap_or_default();
            format!("{typed}: no such call; expected {below}{meant}")
        }
        (ErrorKind::MissingSubcommand | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand, _) => {
            format!("{name} takes one of the calls {below}")
        }
        (ErrorKind::UnknownArgument, _) => format!("{option}: no such option{meant}"),
        (ErrorKind::MissingRequiredArgument, _) => format!("{about} is missing"),
        (ErrorKind::ArgumentConflict, _) => {
            format!("{about} cannot be used with {}", told(ContextKind::PriorArg).unwrap_or_default())
        }
        (ErrorKind::InvalidValue, None) => format!("{about}: a value is missing"),
        (ErrorKind::InvalidValue, Some(value)) => {
            let valid = told(ContextKind::ValidValue).unwrap_or_default();
            format!("{option} {value}: expected one of {valid}{meant}")
        }
        (ErrorKind::ValueValidation, Some(value)) => format!("{option} {value}: {}", expected(wrong)),
        (kind, _) => format!("{about}: {}", kind.as_str().unwrap_or("this cannot be read")),
    };
    format!("{fault}; see {name} --help")
}

/// What a value that cannot be read should have been.
fn expected(wrong: &clap::Error) -> String {
    match std::error::Error::source(wrong) {
        Some(source) if source.is::<ParseFloatError>() => "expected a number with a dot".to_owned(),
        Some(source) if source.is::<ParseIntError>() => "expected a whole number of 0 or more".to_owned(),
        Some(source) => source.to_string(),
        None => "expected another value".to_owned(),
    }
}
