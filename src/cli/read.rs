//! `refarad read`: files of strangers become a catalogue or a job.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::domain::schema::Text;
use crate::domain::style::counted;
use crate::domain::{Board, Job, OtherKind};
use crate::files::datasheet::Printed;
use crate::files::import::answer::Answer;
use crate::files::import::every_position::ForEvery;
use crate::files::import::gather::{FileGave, Gathered, Given, by_board, gather};
use crate::files::import::mapping::{self, Mapping};
use crate::files::import::placement::board_placed;
use crate::files::import::source::Origin;
use crate::files::import::{Content, Source, Target};
use crate::files::output::{Outputs, Replace};
use crate::files::parts::PartsError;
use crate::files::table::{Encoding, Options};
use crate::files::{Rejected, companions, entry, export, job, parts_writer};
use crate::progress::Progress;

use strum::{VariantArray, VariantNames};

use super::failure::Failure;
use super::write::Over;
use super::{job as of_job, read_report};

/// Arguments of `refarad read`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Files to read: CSV or any text table, workbooks (.xlsx, .xls, .ods), data sheets (.pdf); several add up
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// What the files are; without it that is found out from headers and cells, and said
    #[arg(long = "as", value_name = "KIND", value_parser = target)]
    target: Option<Target>,
    #[command(flatten)]
    reading: Reading,
    /// Job whose positions a placement file places; without it those of the bill of materials in the same call
    #[arg(long, value_name = "JSON")]
    job: Option<PathBuf>,
    /// File to write: a catalogue (*.csv) from parts, a list of offers (*.csv) from offers, a job (*.json) from positions and placement
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    #[command(flatten)]
    over: Over,
}

/// How lists are read: their sheets, what their columns mean, what they leave open.
#[derive(clap::Args)]
pub(super) struct Reading {
    /// Sheet of a workbook to read, by its name; may be given several times
    #[arg(long, value_name = "NAME")]
    sheet: Vec<String>,
    /// Encoding of the text files of the call, such as KOI8 or "DOS 850"; without it that is found out, and said
    #[arg(long, value_name = "NAME", value_parser = encoding)]
    encoding: Option<Encoding>,
    /// Mapping of columns, as written beside the output; may be given several times
    #[arg(long, value_name = "JSON")]
    pub(super) map: Vec<PathBuf>,
    /// Answer to a question, as it is printed beside it: `columns."Ripple".unit = "mA"`; may be given several times
    #[arg(long, value_name = "NAME=VALUE", value_parser = Answer::parse)]
    answer: Vec<Answer>,
    /// Name of the one board that all bills of materials of the call are about; without it each is a board of its own
    #[arg(long, value_name = "NAME", value_parser = one_line)]
    board: Option<String>,
    /// Figure for every position that does not say it, by its name in the job file: `stress.dc_v=24`; may be given several times
    #[arg(long, value_name = "NAME=VALUE", value_parser = ForEvery::parse)]
    pub(super) every: Vec<ForEvery>,
    /// Kinds of other parts to keep from bills of materials too, such as relay,fuse,fan, or all; without it they are only counted
    #[arg(long, value_name = "KINDS", value_parser = other_kinds)]
    other_parts: Option<OtherKinds>,
    /// Page of a data sheet to read, from 1; without it all
    #[arg(long, value_name = "N", value_parser = from_one)]
    page: Option<usize>,
    /// Table of a data sheet to read, by the number it is listed with; without it every list of parts
    #[arg(long, value_name = "N", value_parser = from_one)]
    table: Option<usize>,
    /// Letter of a sign whose letter a data sheet does not say, as it is printed beside it: `0a1b2c3d=φ`; may be given several times
    #[arg(long, value_name = "SIGN=LETTER", value_parser = sign)]
    sign: Vec<(String, String)>,
}

/// Files, each with what it is where that is said.
type Files<'a> = [(&'a Vec<PathBuf>, Option<Target>)];

/// A file in memory, with what it is where that is said.
type InMemory<'a> = (&'a Path, Option<Target>, Content);

/// The files in memory; every sheet that is named is in one of them.
fn contents<'a>(files: &Files<'a>, args: &Reading) -> Result<Vec<InMemory<'a>>, Failure> {
    let mut all = Vec::new();
    for (path, target) in files.iter().flat_map(|(paths, target)| paths.iter().map(move |path| (path, *target))) {
        all.push((path.as_path(), target, Content::open_page(path, args.page, &Progress::default())?));
    }
    let names: Vec<&str> = all.iter().flat_map(|(_, _, content)| content.sheets()).collect();
    match args.sheet.iter().find(|name| !names.contains(&name.as_str())) {
        Some(name) => {
            let none = names.is_empty().then(|| "the sheet of a workbook, and no file is one".to_owned());
            let what = none.unwrap_or_else(|| format!("one of {}", names.join(", ")));
            Err(Failure::expected(format!("--sheet {name}"), what))
        }
        None => Ok(all),
    }
}

/// `relay,fuse` or `all`.
/// Under a name of its own: a `Vec` clap would take for an option that is given several times.
type OtherKinds = Vec<OtherKind>;

fn other_kinds(words: &str) -> Result<OtherKinds, String> {
    if words == "all" {
        return Ok(<OtherKind as VariantArray>::VARIANTS.to_vec());
    }
    let one = |word: &str| {
        let word = entry::word(word, <OtherKind as VariantNames>::VARIANTS)?;
        word.parse().map_err(|_| format!("{word}: no kind of part"))
    };
    words.split(',').map(one).collect()
}

fn one_line(text: &str) -> Result<String, String> {
    Text::Line.complaint(text).map_or_else(|| Ok(text.to_owned()), |expected| Err(expected.to_owned()))
}

fn from_one(text: &str) -> Result<usize, String> {
    text.parse().ok().filter(|&number| number > 0).ok_or_else(|| "expected a whole number of 1 or more".to_owned())
}

fn encoding(name: &str) -> Result<Encoding, String> {
    let names = || Encoding::ALL.iter().map(|of| of.name()).collect::<Vec<_>>().join(", ");
    Encoding::parse(name).ok_or_else(|| format!("expected one of {}", names()))
}

fn target(word: &str) -> Result<Target, String> {
    word.parse().map_err(|_| "expected parts, positions, placement or offers".to_owned())
}

/// The lists, each with what its columns mean.
pub(super) fn sources(files: &Files, args: &Reading) -> Result<Vec<Source>, Failure> {
    let mut given = of_job::mappings(&args.map)?;
    if let Some(kinds) = &args.other_parts {
        given.iter_mut().for_each(|mapping| mapping.other_parts.clone_from(kinds));
    }
    let own = mapping::own_folder();
    let printed = Printed { table: args.table, letters: args.sign.iter().cloned().collect(), areas: Vec::new() };
    let options = Options { encoding: args.encoding, ..Options::default() };
    let mut sources = Vec::new();
    for (path, target, content) in contents(files, args)? {
        let has = content.sheets();
        let named: Vec<String> = args.sheet.iter().filter(|name| has.contains(&name.as_str())).cloned().collect();
        for mut source in content.sources(path, target, &options, &named, &printed)? {
            source.map_by(&given, own.as_deref());
            if let Some(kinds) = &args.other_parts {
                source.mapping.other_parts.clone_from(kinds);
            }
            sources.push(source);
        }
    }
    unused_mappings(&args.map, &given, &sources)?;
    answers(&args.answer, &mut sources)?;
    Ok(sources.into_iter().flat_map(Source::boards).collect())
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let sources = sources(&[(&args.files, args.target)], &args.reading)?;
    let of_first = sources.first().map_or(Target::Parts, |source| source.mapping.target);
    let alike = |source: &Source| {
        let target = source.mapping.target;
        target == of_first || target.is_of_board() && of_first.is_of_board()
    };
    if !sources.iter().all(alike) {
        let kinds: Vec<String> =
            sources.iter().map(|s| format!("{}: {}", s.path.display(), s.mapping.target.word())).collect();
        return Err(Failure::TwoKinds(kinds.join(", ")));
    }
    let mut said = Said::default();
    let all: Vec<&Source> = sources.iter().collect();
    let content = if of_first.is_of_board() {
        let job = args.job.as_ref().map(|path| job::read(path)).transpose()?;
        let job = boards(&all, job.map(|read| read.job), &args.reading, &mut said)?;
        job::to_text(&job).into_bytes()
    } else {
        catalogue(&all, &mut said)?
    };
    write_all(args, &content, &said.rejected, &sources)?;
    Said::remember(&sources);
    Ok(said.status())
}

/// `0a1b2c3d=φ`: the letter of an unknown sign.
fn sign(text: &str) -> Result<(String, String), String> {
    let (key, letter) = text.split_once('=').ok_or("expected the name of a sign and its letter, such as 0a1b2c3d=φ")?;
    Ok((key.trim().to_owned(), letter.trim().to_owned()))
}

/// Answers go to the files that have the column they are about; those about whole files to all of them.
fn answers(answers: &[Answer], sources: &mut [Source]) -> Result<(), Failure> {
    for answer in answers {
        let mut fits = false;
        for source in sources.iter_mut() {
            let has = |name: &str| source.table.header.iter().any(|header| source.mapping.same_column(header, name));
            if answer.column().is_some_and(|name| !has(name)) {
                continue;
            }
            answer.apply(&mut source.mapping)?;
            (source.origin, fits) = (Origin::Given, true);
        }
        if !fits {
            let column = format!("--answer columns.{}", answer.column().unwrap_or_default());
            return Err(Failure::expected(column, "a column of one of the files"));
        }
    }
    Ok(())
}

/// A mapping that fits no file is a mistake worth a clear word.
fn unused_mappings(paths: &[PathBuf], given: &[Mapping], sources: &[Source]) -> Result<(), Failure> {
    for (path, mapping) in paths.iter().zip(given) {
        if sources.iter().any(|source| source.origin == Origin::Given && source.mapping == *mapping) {
            continue;
        }
        let source = &sources[0];
        let why = if source.mapping.target == mapping.target {
            format!("{} has no column {}", source.path.display(), mapping.missing_in(&source.table.header).join(", "))
        } else {
            format!(
                "it is for {}, {} is read as {}",
                mapping.target.word(),
                source.path.display(),
                source.mapping.target.word()
            )
        };
        return Err(Failure::UnfitMapping { path: path.clone(), why });
    }
    Ok(())
}

/// The parts of the lists as a catalogue, or their offers as a list of offers.
pub(super) fn catalogue(sources: &[&Source], said: &mut Said) -> Result<Vec<u8>, Failure> {
    let gathered = together(sources, Board::default())?;
    let mut bytes = Vec::new();
    let invented = sources.iter().any(|source| source.mapping.invented);
    let of_offers = sources.iter().any(|source| source.mapping.target == Target::Offers);
    let [one, many] = if of_offers { ["offer", "offers"] } else { ["part", "parts"] };
    let kept = if of_offers { &gathered.offers } else { &gathered.parts };
    let all = kept.iter().map(|(_, part)| part);
    if of_offers {
        parts_writer::write_offers(&mut bytes, all)?;
    } else {
        parts_writer::write(&mut bytes, all, invented)?;
    }
    if kept.is_empty() {
        say!("No {one} could be kept.");
        said.unclean = true;
    }
    for (source, gave) in sources.iter().zip(gathered.files) {
        let kept = counted(gave.report.kept, one, many);
        said.print(source, gave, &kept);
    }
    Ok(bytes)
}

/// The job with every list as a board of its own; placements go onto the board most of whose parts they name. Without a job
/// before, a placement file alone is all there is to know of its board.
pub(super) fn boards(
    sources: &[&Source],
    before: Option<Job>,
    reading: &Reading,
    said: &mut Said,
) -> Result<Job, Failure> {
    let placed_alone = before.as_ref().is_none_or(|job| job.boards.is_empty());
    let mut job = before.unwrap_or_default();
    let is_list = |source: &Source| source.mapping.target == Target::Positions;
    let alone = placed_alone && !sources.iter().any(|source| is_list(source));
    let mut of_lists = by_board(&given(sources), placed_alone);
    if reading.board.is_some() && !of_lists.is_empty() {
        of_lists = vec![of_lists.concat()];
    }
    for tables in of_lists {
        let tables: Vec<&Source> = tables.into_iter().map(|at| sources[at]).collect();
        let name = reading.board.clone().unwrap_or_else(|| tables[0].title.clone());
        let gathered = together(&tables, Board { name, ..Board::default() })?;
        let board = gathered.board.unwrap_or_default();
        for (source, gave) in tables.iter().zip(gathered.files) {
            let kept = counted(gave.names.len(), "position", "positions");
            said.print(source, gave, &kept);
        }
        let others = match board.other_parts.len() {
            0 => String::new(),
            count => format!(", {}", counted(count, "other part", "other parts")),
        };
        say!("Board {}: {}{others}", board.name, counted(board.positions.len(), "position", "positions"));
        if job.name.is_empty() {
            job.name.clone_from(&board.name);
        }
        said.unclean |= board.positions.is_empty() && board.other_parts.is_empty();
        job.boards.push(board);
        said.boards += 1;
    }
    if said.boards > 1 {
        say!("Every list became a board of its own; to put them onto one, give --board NAME");
    }
    for source in sources.iter().copied().filter(|source| !alone && !is_list(source)) {
        // A file that places nothing is told of the last board.
        let at = board_placed(&[&source.table], &job.boards).or_else(|| job.boards.len().checked_sub(1));
        let Some(board) = at.and_then(|at| job.boards.get_mut(at)) else {
            let what = "a board to place parts on; name a job by --job or a bill of materials before it";
            return Err(Failure::of_file(&source.path, what));
        };
        say!("{}: places the board {}", source.path.display(), board.name);
        let gathered = together(&[source], std::mem::take(board))?;
        *board = gathered.board.unwrap_or_default();
        for gave in gathered.files {
            let kept = counted(gave.placed.unwrap_or_default(), "position placed", "positions placed");
            said.print(source, gave, &kept);
        }
    }
    for one in &reading.every {
        job.boards.iter_mut().try_for_each(|board| one.apply(board)).map_err(Failure::Every)?;
    }
    // What was given and read is held to the bounds of a job: what is written opens again.
    let of = if reading.every.is_empty() { "the job of these lists" } else { "--every" };
    job::from_slice(job::to_text(&job).as_bytes(), Path::new(of))?;
    Ok(job)
}

/// Reads tables and puts what they hold together, as the window does.
fn together(sources: &[&Source], board: Board) -> Result<Gathered, Failure> {
    gather(&given(sources), board, usize::MAX, &|_| true).ok_or(Failure::Parts(PartsError::Stopped))
}

fn given<'a>(sources: &[&'a Source]) -> Vec<Given<'a>> {
    sources.iter().map(|source| Given::of(source, &source.mapping)).collect()
}

/// What the files gave, told as it comes.
#[derive(Default)]
pub(super) struct Said {
    pub(super) rejected: Vec<Rejected>,
    unclean: bool,
    boards: usize,
}

impl Said {
    fn print(&mut self, source: &Source, gave: FileGave, kept: &str) {
        read_report::print(source, &gave, kept);
        self.unclean |= !gave.report.clean();
        self.rejected.extend(gave.report.rejected);
    }

    /// Remembers what the columns of lists mean whose mapping was given.
    pub(super) fn remember(sources: &[Source]) {
        let Some(folder) = mapping::own_folder() else { return };
        for source in sources.iter().filter(|source| source.origin == Origin::Given) {
            if let Err(error) = mapping::remember(&folder, &source.table.header, &source.mapping) {
                tell!("note: the mapping was used but could not be remembered: {error}");
            }
        }
    }

    pub(super) fn status(&self) -> ExitCode {
        if self.unclean { ExitCode::from(1) } else { ExitCode::SUCCESS }
    }
}

/// The output, what was not used, and the mappings, side by side.
fn write_all(args: &Args, content: &[u8], rejected: &[Rejected], sources: &[Source]) -> Result<(), Failure> {
    let Some(out) = &args.out else {
        say!("Nothing was written; give --out FILE to keep it.");
        return Ok(());
    };
    let inputs = args.files.iter().chain(&args.reading.map).chain(&args.job).cloned().collect();
    let mut outputs = Outputs::new(inputs, args.over.overwrite);
    outputs.add(out.clone(), content, Replace::Own);
    let list_path = beside(out, "rejected.csv");
    outputs.add_table(list_path.clone(), |list| export::rejected(list, rejected))?;
    let mut mappings = Vec::new();
    for (at, source) in sources.iter().enumerate() {
        let name = if sources.len() == 1 { "mapping.json".to_owned() } else { format!("{}.mapping.json", at + 1) };
        let path = beside(out, &name);
        // The mapping that was corrected and given back stays as the person wrote it.
        if !args.reading.map.iter().any(|given| companions::same_file(given, &path)) {
            outputs.add(path.clone(), source.mapping.to_text(), Replace::Own);
        }
        mappings.push((source.path.display(), path));
    }
    outputs.write()?;
    let lines = counted(rejected.len(), "rejected or skipped line", "rejected or skipped lines");
    say!("Written: {}, and {lines} to {}", out.display(), list_path.display());
    for (of, path) in mappings {
        say!("Mapping of {of}: {} (correct it and give it back by --map)", path.display());
    }
    Ok(())
}

/// `job.json` and `rejected.csv` make `job.rejected.csv`.
fn beside(out: &Path, ending: &str) -> PathBuf {
    let stem = out.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    out.with_file_name(format!("{stem}.{ending}"))
}
