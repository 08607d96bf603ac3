//! `refarad curves`: how long parts last against one condition, as CSV.

use std::path::PathBuf;
use std::process::ExitCode;

use crate::domain::{Can, Job, PositionId};
use crate::files::curves;
use crate::files::output::{Outputs, Replace};
use crate::sizing::curves::{Axis, curve_set, steps};
use crate::sizing::{CatalogIndex, PositionContext, size_position};

use super::job::{JobArgs, PositionArgs};
use super::{Failure, Over, write};

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
    let axis = args.against.axis();
    let usual = axis.usual_range(&context, &cans.iter().map(|(_, can)| can).collect::<Vec<_>>());
    let (low, high) = (args.from.unwrap_or(usual.0), args.to.unwrap_or(usual.1));
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
    match &args.out {
        Some(path) => {
            let mut outputs = Outputs::new(args.of.inputs(&loaded.job), args.over.overwrite);
            outputs.add(path.clone(), content, Replace::Own);
            outputs.write()?;
        }
        None => write::to_stdout(&content)?,
    }
    Ok(ExitCode::SUCCESS)
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
    let original = job.position(id).map(|position| ("original".to_owned(), position.original.can.clone()));
    Ok(chosen.into_iter().chain(original).collect())
}
