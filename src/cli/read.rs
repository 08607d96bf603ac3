//! `refarad read`: files of strangers become a catalogue or a job.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use refarad::domain::{Board, CatalogBuilder, Job, Part};
use refarad::files::import::mapping::{self, Mapping};
use refarad::files::import::source::Origin;
use refarad::files::import::{Report, Source, Target, placement};
use refarad::files::{Rejected, export, job, parts_writer, save};

use super::Failure;
use super::read_report;

/// Arguments of `refarad read`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Files to read: CSV or any text table; several add up
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// What the files are; without it that is found out from headers and cells, and said
    #[arg(long = "as", value_name = "KIND", value_parser = target)]
    target: Option<Target>,
    /// Mapping of columns, as written beside the output; may be given several times
    #[arg(long, value_name = "JSON")]
    map: Vec<PathBuf>,
    /// Job whose positions a placement file places; without it those of the parts list in the same call
    #[arg(long, value_name = "JSON")]
    job: Option<PathBuf>,
    /// File to write: a catalogue (*.csv) from parts, a job (*.json) from positions and placement
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

fn target(word: &str) -> Result<Target, String> {
    let found = Target::NAMES.iter().find(|(_, name)| *name == word);
    found.map(|&(target, _)| target).ok_or_else(|| "expected parts, positions or placement".to_owned())
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let given = super::mappings(&args.map)?;
    let own = mapping::own_folder();
    let mut sources = Vec::new();
    for path in &args.files {
        for mut source in Source::open(path, args.target).map_err(|error| error.to_string())? {
            source.map_by(&given, own.as_deref());
            sources.push(source);
        }
    }
    unused_mappings(&args.map, &given, &sources)?;
    let of_parts = sources.iter().filter(|source| source.mapping.target == Target::Parts).count();
    if of_parts > 0 && of_parts < sources.len() {
        let kinds: Vec<String> =
            sources.iter().map(|s| format!("{}: {}", s.path.display(), s.mapping.target.word())).collect();
        return Err(format!(
            "parts and boards cannot go into one file ({}); read them one after the other, or say --as",
            kinds.join(", ")
        ));
    }
    let done = if of_parts > 0 { read_parts(&sources, args)? } else { read_board(&sources, args)? };
    let own_folder = own.as_deref();
    for source in sources.iter().filter(|source| source.origin == Origin::Given) {
        if let Some(Err(error)) =
            own_folder.map(|folder| mapping::remember(folder, &source.table.header, &source.mapping))
        {
            eprintln!("note: the mapping was used but could not be remembered: {error}");
        }
    }
    Ok(done)
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
        return Err(format!("{}: fits no file: {why}", path.display()));
    }
    Ok(())
}

fn read_parts(sources: &[Source], args: &Args) -> Result<ExitCode, Failure> {
    let mut builder = CatalogBuilder::default();
    let mut origins: Vec<(PathBuf, u64)> = Vec::new();
    let mut rejected = Vec::new();
    let mut clean = true;
    for source in sources {
        let import = source.parts();
        read_report::print(source, &import.report, &format!("{} parts", import.parts.len()));
        clean &= is_clean(&import.report);
        for (line, part) in &import.parts {
            builder.push(part);
            origins.push((source.path.clone(), *line));
        }
        rejected.extend(import.report.rejected);
    }
    let (catalog, duplicates) = builder.finish();
    for duplicate in &duplicates {
        let ((file, line), (later, later_line)) = (origins[duplicate.dropped].clone(), &origins[duplicate.kept]);
        let reason = format!("stands again in {} line {later_line}; the later row is used", later.display());
        rejected.push(Rejected {
            file,
            line,
            field: "part_number".into(),
            value: duplicate.part_number.clone(),
            reason,
        });
    }
    if !duplicates.is_empty() {
        println!("{} parts stand in several files: the later row is used.", duplicates.len());
    }
    if catalog.is_empty() {
        println!("No part could be kept.");
    }
    let parts: Vec<Part> = catalog.ids().map(|id| catalog.part(id)).collect();
    let mut bytes = Vec::new();
    parts_writer::write(&mut bytes, &parts).map_err(|error| error.to_string())?;
    write_all(args, &bytes, &rejected, sources)?;
    Ok(status(clean))
}

fn read_board(sources: &[Source], args: &Args) -> Result<ExitCode, Failure> {
    let mut job = match &args.job {
        Some(path) => job::read(path).map_err(|error| error.to_string())?.job,
        None => Job::default(),
    };
    let mut rejected = Vec::new();
    let mut clean = true;
    // A placement file alone, without a job, is all there is to know of its board.
    let lists = sources.iter().filter(|source| source.mapping.target == Target::Positions).count();
    let alone = args.job.is_none() && lists == 0;
    for source in sources {
        if source.mapping.target == Target::Placement && !alone {
            continue;
        }
        let as_list;
        let source = if source.mapping.target == Target::Placement {
            println!(
                "{}: there is no job and no parts list beside it, so its own values become the positions.",
                source.path.display()
            );
            as_list = Source::of_table(&source.path, source.table.clone(), Some(Target::Positions));
            &as_list
        } else {
            source
        };
        let import = source.positions();
        read_report::print(source, &import.report, &format!("{} positions", import.positions.len()));
        clean &= is_clean(&import.report);
        rejected.extend(import.report.rejected);
        let name =
            source.path.file_stem().map_or_else(|| "Board".to_owned(), |stem| stem.to_string_lossy().into_owned());
        let mut board = Board {
            name,
            positions: import.positions.into_iter().map(|(_, position)| position).collect(),
            ..Board::default()
        };
        let has = |field| source.mapping.has(field);
        if has(refarad::files::import::Field::X)
            && has(refarad::files::import::Field::Y)
            && source.mapping.target == Target::Positions
            && !alone
        {
            let placed = placement::place(&source.table, &source.mapping, &source.path, &mut board);
            read_report::print_placed(&placed);
            rejected.extend(placed.report.rejected);
        }
        if job.name.is_empty() {
            job.name.clone_from(&board.name);
        }
        job.boards.push(board);
    }
    for source in sources.iter().filter(|source| source.mapping.target == Target::Placement) {
        let Some(board) = board_of(source, &mut job) else {
            return Err(format!(
                "{}: expected a board to place parts on; name a job by --job or a parts list before it",
                source.path.display()
            ));
        };
        println!("{}: places the board {}", source.path.display(), board.name);
        let placed = placement::place(&source.table, &source.mapping, &source.path, board);
        read_report::print(source, &placed.report, &format!("{} positions placed", placed.placed));
        clean &= is_clean(&placed.report);
        rejected.extend(placed.report.rejected);
    }
    write_all(args, job::to_text(&job).as_bytes(), &rejected, sources)?;
    Ok(status(clean))
}

/// The board with most of the file's designators.
fn board_of<'a>(source: &Source, job: &'a mut Job) -> Option<&'a mut Board> {
    let cells: std::collections::HashSet<&str> =
        source.table.rows.iter().flat_map(|row| &row.cells).map(|cell| cell.trim()).collect();
    job.boards
        .iter_mut()
        .max_by_key(|board| board.positions.iter().filter(|p| cells.contains(p.reference.as_str())).count())
}

fn is_clean(report: &Report) -> bool {
    report.clean()
}

fn status(clean: bool) -> ExitCode {
    if clean { ExitCode::SUCCESS } else { ExitCode::from(1) }
}

/// The output, what was not used, and the mappings, side by side.
fn write_all(args: &Args, content: &[u8], rejected: &[Rejected], sources: &[Source]) -> Result<(), Failure> {
    let Some(out) = &args.out else {
        println!("Nothing was written; give --out FILE to keep it.");
        return Ok(());
    };
    save(out, content).map_err(|error| error.to_string())?;
    let mut list = Vec::new();
    export::rejected(&mut list, rejected).map_err(|error| error.to_string())?;
    let list_path = beside(out, "rejected.csv");
    save(&list_path, &list).map_err(|error| error.to_string())?;
    println!(
        "Written: {}, and {} lines of what was not used to {}",
        out.display(),
        rejected.len(),
        list_path.display()
    );
    for (at, source) in sources.iter().enumerate() {
        let name = if sources.len() == 1 { "mapping.json".to_owned() } else { format!("{}.mapping.json", at + 1) };
        let path = beside(out, &name);
        save(&path, source.mapping.to_text().as_bytes()).map_err(|error| error.to_string())?;
        println!("Mapping of {}: {} (correct it and give it back by --map)", source.path.display(), path.display());
    }
    Ok(())
}

/// `job.json` and `rejected.csv` make `job.rejected.csv`.
fn beside(out: &Path, ending: &str) -> PathBuf {
    let stem = out.file_stem().map_or_else(String::new, |stem| stem.to_string_lossy().into_owned());
    out.with_file_name(format!("{stem}.{ending}"))
}
