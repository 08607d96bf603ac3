//! `refarad curves`: how long parts last against one condition, as CSV and as a plot for paper.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use crate::domain::{Bounds, Can, Date, Job, PositionId};
use crate::files::curves;
use crate::files::life_plot::{self, PlotText};
use crate::files::load::Loaded;
use crate::files::output::{Outputs, Replace};
use crate::sizing::curves::{Axis, CurveSet, curve_set, steps};
use crate::sizing::{CatalogIndex, Evaluation, PositionContext, evaluate_part, size_position};

use super::failure::Failure;
use super::job::{JobArgs, PositionArgs};
use super::write;
use super::write::Over;

/// What the original part is called.
const ORIGINAL: &str = "original";

/// Arguments of `refarad curves`.
#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: JobArgs,
    #[command(flatten)]
    at: PositionArgs,
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
    /// Operating voltage, V
    Voltage,
    /// Energised hours in a year
    Hours,
}

impl Against {
    /// The axis, and the values a job may hold.
    fn axis(self) -> (Axis, Bounds) {
        match self {
            Self::Ambient => (Axis::Ambient, Bounds::Celsius),
            Self::Ripple => (Axis::Ripple, Bounds::NotNegative),
            Self::Voltage => (Axis::Voltage, Bounds::PeakVolts),
            Self::Hours => (Axis::Hours, Bounds::HoursOfYear),
        }
    }
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    if let Some(missing) = args.of.parts().iter().find(|path| !path.exists()) {
        let what = "a catalogue file; part numbers are named by --candidates";
        return Err(Failure::expected(format!("--parts {}", missing.display()), what));
    }
    let loaded = args.of.load()?;
    let (id, board) = args.at.find(&loaded.job, &args.of.job)?;
    let reference = &args.at.reference;
    let context = PositionContext::new(&loaded.job, loaded.catalog_index.catalog(), id)
        .ok_or_else(|| Failure::expected(format!("--ref {reference}"), "a position of the job"))?;
    let cans = cans(&loaded.job, &loaded.catalog_index, id, &args.candidates)?;
    let (axis, bounds) = args.against.axis();
    let usual = axis.usual_range(&context, &cans.iter().map(|(_, can)| can).collect::<Vec<_>>());
    let (low, high) = (args.from.unwrap_or(usual.0), args.to.unwrap_or(usual.1));
    for (option, value) in [("--from", args.from), ("--to", args.to)] {
        let outside = value.and_then(|value| Some((value, bounds.complaint(value)?)));
        if let Some((value, expected)) = outside {
            return Err(Failure::Call(format!("{option} {value}: {expected}")));
        }
    }
    let xs = steps(low, high, args.steps);
    if xs.is_empty() {
        return Err(Failure::expected(format!("--from {low} --to {high}"), "two numbers, the lower one first"));
    }
    let set = curve_set(&context, axis, &xs, &cans);
    for remark in &set.remarks {
        tell!("note: {remark}");
    }
    let mut content = Vec::new();
    curves::write(&mut content, &board.name, reference, &set)?;
    let mut outputs = Outputs::new(args.of.inputs(&loaded.job), args.over.overwrite);
    if let Some(path) = &args.plot {
        let left_out: Vec<&str> = cans.iter().skip(life_plot::CURVES_MAX).map(|(name, _)| name.as_str()).collect();
        if !left_out.is_empty() {
            tell!("note: the plot has {} parts at most, without {}", life_plot::CURVES_MAX, left_out.join(", "));
        }
        let text = PlotText {
            job: loaded.job.name.clone(),
            place: format!("{} {reference}", board.name),
            date: Date::today().map(|today| today.to_string()).unwrap_or_default(),
            hours_per_year: loaded.job.hours_per_year,
            uncapped: args.uncapped,
            original: cans.iter().position(|(name, _)| name == ORIGINAL).filter(|_| args.candidates.is_empty()),
            evaluations: evaluations(&loaded, &context, id, &cans, args.candidates.is_empty()),
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
        outputs.write()?;
    }
    Ok(ExitCode::SUCCESS)
}

/// How each part fares.
fn evaluations(
    loaded: &Loaded,
    context: &PositionContext,
    id: PositionId,
    cans: &[(String, Can)],
    with_original: bool,
) -> Vec<Option<Evaluation>> {
    let catalog = loaded.catalog_index.catalog();
    let original = || size_position(&loaded.job, &loaded.catalog_index, id).map(|sized| sized.original);
    let of = |(name, _): &(String, Can)| match catalog.find(name) {
        _ if with_original && name == ORIGINAL => original(),
        part => Some(evaluate_part(context, catalog, part?).evaluation),
    };
    cans.iter().map(of).collect()
}

/// The bytes of the plot; the ending of the file says which kind.
fn plot(path: &Path, set: &CurveSet, text: &PlotText) -> Result<Vec<u8>, Failure> {
    let refused = |what: &str| Failure::expected(format!("--plot {}", path.display()), what);
    match path.extension().unwrap_or_default().to_string_lossy().to_ascii_lowercase().as_str() {
        "svg" => Ok(life_plot::svg(set, text).into_bytes()),
        #[cfg(feature = "window")]
        "png" => crate::app::life_plot_png(set, text).map_err(|why| refused(&why)),
        _ => Err(refused("a file *.svg, or *.png where there is a window")),
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
            let not_there = || Failure::expected(format!("--candidates {number}"), "a part number of the catalogue");
            let id = id.ok_or_else(not_there)?;
            Ok((catalog.part_number(id).to_owned(), catalog.can(id)))
        };
        return parts.iter().map(can).collect();
    }
    let chosen = size_position(job, catalog_index, id).and_then(|sized| sized.choice.part);
    let chosen = chosen.map(|part| (catalog.part_number(part.id).to_owned(), catalog.can(part.id)));
    let original = job.position(id).map(|position| (ORIGINAL.to_owned(), position.original.can.clone()));
    Ok(chosen.into_iter().chain(original).collect())
}
