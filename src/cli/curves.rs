//! `refarad curves`: how long parts last against one condition, as CSV and as a plot for paper.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use refarad::domain::{Can, Date, Job, PositionId};
use refarad::files::curves;
use refarad::files::life_plot::{self, PlotText};
use refarad::files::load::{Loaded, load};
use refarad::files::output::{Outputs, Replace};
use refarad::sizing::curves::{Axis, CurveSet, curve_set, steps};
use refarad::sizing::{CatalogIndex, Evaluation, PositionContext, evaluate_part, size_position};

use super::{Failure, Over, write};

/// What the original part is called.
const ORIGINAL: &str = "original";

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
    /// Plot for paper to write too, of up to 12 parts: *.svg, or *.png
    #[arg(long, value_name = "FILE")]
    plot: Option<PathBuf>,
    /// The plot shows years before the calendar life limit
    #[arg(long, requires = "plot")]
    uncapped: bool,
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
    let mut outputs = Outputs::new(write::inputs(&args.job, &loaded.job, &args.parts), args.over.overwrite);
    if let Some(path) = &args.plot {
        let text = PlotText {
            job: loaded.job.name.clone(),
            place: format!("{board} {}", args.reference),
            date: Date::today().map(|today| today.to_string()).unwrap_or_default(),
            hours_per_year: loaded.job.hours_per_year,
            uncapped: args.uncapped,
            original: cans.iter().position(|(name, _)| name == ORIGINAL).filter(|_| args.candidates.is_empty()),
            evaluations: evaluations(&loaded, &place, id, &cans, args.candidates.is_empty()),
            ..PlotText::default()
        };
        outputs.add(path.clone(), plot(path, &set, &text)?, Replace::Own);
    }
    match &args.out {
        Some(path) => outputs.add(path.clone(), content, Replace::Own),
        None if args.plot.is_none() => write::to_stdout(&content)?,
        None => {}
    }
    if args.out.is_some() || args.plot.is_some() {
        write::all(outputs)?;
    }
    Ok(ExitCode::SUCCESS)
}

/// How each part fares.
fn evaluations(
    loaded: &Loaded,
    place: &PositionContext,
    id: PositionId,
    cans: &[(String, Can)],
    with_original: bool,
) -> Vec<Option<Evaluation>> {
    let catalog = loaded.catalog_index.catalog();
    let original = || size_position(&loaded.job, &loaded.catalog_index, id).map(|sized| sized.original);
    let of = |(name, _): &(String, Can)| match catalog.find(name) {
        _ if with_original && name == ORIGINAL => original(),
        part => Some(evaluate_part(place, catalog, part?, false).evaluation),
    };
    cans.iter().map(of).collect()
}

/// The bytes of the plot; the ending of the file says which kind.
fn plot(path: &Path, set: &CurveSet, text: &PlotText) -> Result<Vec<u8>, Failure> {
    match path.extension().unwrap_or_default().to_string_lossy().to_ascii_lowercase().as_str() {
        "svg" => Ok(life_plot::svg(set, text).into_bytes()),
        #[cfg(feature = "window")]
        "png" => refarad::app::life_plot_png(set, text),
        _ => Err(format!("--plot {}: expected a file *.svg, or *.png where there is a window", path.display())),
    }
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
    let original = job.position(id).map(|position| (ORIGINAL.to_owned(), position.original.can.clone()));
    Ok(chosen.into_iter().chain(original).collect())
}
