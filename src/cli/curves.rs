//! `refarad curves`: how long parts last against one condition, as CSV.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use refarad::domain::{Can, Job, PositionId};
use refarad::files::curves;
use refarad::files::load::load;
use refarad::files::output::{Outputs, Replace};
use refarad::sizing::curves::{Axis, curve_set, steps};
use refarad::sizing::{CatalogIndex, PositionContext, size_position};

use super::{Failure, Over, write};

/// Arguments of `refarad curves`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Job file
    job: PathBuf,
    /// Position to draw
    #[arg(long = "ref", value_name = "REF")]
    reference: String,
    /// Board it is on, when several boards have such a position
    #[arg(long, value_name = "NAME")]
    board: Option<String>,
    /// Part numbers, separated by commas; without any, the chosen part and the original
    #[arg(long, value_name = "PART", value_delimiter = ',')]
    candidates: Vec<String>,
    /// What the years are drawn against
    #[arg(long, value_enum, default_value_t = Against::Ambient)]
    against: Against,
    /// Lowest value; without it a range worth drawing is taken
    #[arg(long, value_name = "VALUE", allow_negative_numbers = true)]
    from: Option<f64>,
    /// Highest value
    #[arg(long, value_name = "VALUE", allow_negative_numbers = true)]
    to: Option<f64>,
    /// Equal steps between them
    #[arg(long, value_name = "COUNT", default_value_t = 100, value_parser = clap::value_parser!(u32).range(1..=100_000))]
    steps: u32,
    /// Catalogue to use beside the job's own; may be given several times, later rows win
    #[arg(long, value_name = "CSV")]
    parts: Vec<PathBuf>,
    /// File to write; without it the rows go to standard output
    #[arg(long, value_name = "CSV")]
    out: Option<PathBuf>,
    #[command(flatten)]
    over: Over,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Against {
    /// Ambient beside the can, °C
    Ambient,
    /// Factor on the ripple as entered
    Ripple,
    /// Working voltage, V
    Voltage,
    /// Energised hours in a year
    Hours,
}

impl Against {
    fn axis(self) -> Axis {
        match self {
            Self::Ambient => Axis::Ambient,
            Self::Ripple => Axis::Ripple,
            Self::Voltage => Axis::Voltage,
            Self::Hours => Axis::Hours,
        }
    }
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let loaded = load(&args.job, &args.parts).map_err(|error| error.to_string())?;
    let id = find(&loaded.job, &args.job, &args.reference, args.board.as_deref())?;
    let place = PositionContext::new(&loaded.job, loaded.catalog_index.catalog(), id)
        .ok_or_else(|| format!("--ref {}: expected a position of the job", args.reference))?;
    let cans = cans(&loaded.job, &loaded.catalog_index, id, &args.candidates)?;
    let axis = args.against.axis();
    let usual = axis.usual_range(&place, &cans.iter().map(|(_, can)| can).collect::<Vec<_>>());
    let (low, high) = (args.from.unwrap_or(usual.0), args.to.unwrap_or(usual.1));
    let xs = steps(low, high, args.steps);
    if xs.is_empty() {
        return Err(format!("--from {low} --to {high}: expected two numbers, the lower one first"));
    }
    let set = curve_set(&place, axis, &xs, &cans);
    for remark in &set.remarks {
        tell!("note: {remark}");
    }
    let mut content = Vec::new();
    let board = loaded.job.boards.get(id.board).map_or("", |board| &board.name);
    curves::write(&mut content, board, &args.reference, &set).map_err(|error| error.to_string())?;
    match &args.out {
        Some(path) => {
            let inputs = write::inputs(&args.job, &loaded.job, &args.parts);
            let mut outputs = Outputs::new(inputs, args.over.overwrite);
            outputs.add(path.clone(), content, Replace::Own);
            write::all(outputs)?;
        }
        None => write::to_stdout(&content)?,
    }
    Ok(ExitCode::SUCCESS)
}

/// The position asked for; it must be one.
pub(super) fn find(job: &Job, path: &Path, reference: &str, on: Option<&str>) -> Result<PositionId, Failure> {
    if let Some(name) = on.filter(|name| job.boards.iter().all(|board| board.name != *name)) {
        let known: Vec<&str> = job.boards.iter().map(|board| board.name.as_str()).collect();
        return Err(format!("--board {name}: expected one of {}", known.join(", ")));
    }
    let on_board = |id: PositionId| on.is_none() || on == job.boards.get(id.board).map(|board| board.name.as_str());
    let found: Vec<PositionId> = job
        .positions()
        .filter(|(id, position)| position.reference == reference && on_board(*id))
        .map(|(id, _)| id)
        .collect();
    match found[..] {
        [id] => Ok(id),
        [] => Err(format!("--ref {reference}: expected a position of {}", path.display())),
        _ => Err(format!("--ref {reference}: stands on several boards; name one by --board")),
    }
}

/// The cans to draw, with their names.
fn cans(
    job: &Job,
    catalog_index: &CatalogIndex,
    id: PositionId,
    parts: &[String],
) -> Result<Vec<(String, Can)>, Failure> {
    let catalog = catalog_index.catalog();
    if !parts.is_empty() {
        let can = |number: &String| {
            let id = catalog.find(number.trim());
            let id = id.ok_or_else(|| format!("--candidates {number}: expected a part number of the catalogue"))?;
            Ok((catalog.part_number(id).to_owned(), catalog.can(id)))
        };
        return parts.iter().map(can).collect();
    }
    let chosen = size_position(job, catalog_index, id).and_then(|sized| sized.choice.part);
    let chosen = chosen.map(|part| (catalog.part_number(part.id).to_owned(), catalog.can(part.id)));
    let original = job.position(id).map(|position| ("original".to_owned(), position.original.can.clone()));
    Ok(chosen.into_iter().chain(original).collect())
}
