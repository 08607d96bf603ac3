//! `refarad new`: a job of one's own in a folder of its own, with what holds for all of it.

use std::path::PathBuf;
use std::process::ExitCode;

use crate::domain::Job;
use crate::domain::style::counted;
use crate::files::companions::{self, Held};
use crate::files::import::{Source, Target};
use crate::files::new_job;
use crate::files::output::{Outputs, Replace};
use crate::files::{export, job};

use super::failure::Failure;
use super::job::Catalogues;
use super::read;
use super::write::Over;

/// Arguments of `refarad new`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Folder of the new job; made if need be. The job file is called like it
    folder: PathBuf,
    /// Lists the job begins with: bill of materials, placement file, component catalogue, offers of suppliers; may be given several times
    #[arg(long, value_name = "FILE", num_args = 1..)]
    from: Vec<PathBuf>,
    #[command(flatten)]
    catalogues: Catalogues,
    #[command(flatten)]
    reading: read::Reading,
    /// Units to rebuild
    #[arg(long, value_name = "N")]
    units: Option<String>,
    /// Spare pieces over the need, percent
    #[arg(long, value_name = "PCT")]
    spare_pct: Option<String>,
    /// Hours a year the machine runs
    #[arg(long, value_name = "H")]
    hours_per_year: Option<String>,
    /// Years until the next rebuild
    #[arg(long, value_name = "YEARS")]
    interval_years: Option<String>,
    /// Currency of the costs, as EUR
    #[arg(long, value_name = "WORD")]
    currency: Option<String>,
    /// Ambient beside the boards, °C: 40, or -5..40 with the lowest first
    #[arg(long, value_name = "C", allow_hyphen_values = true)]
    ambient: Option<String>,
    #[command(flatten)]
    margins: Margins,
    #[command(flatten)]
    over: Over,
}

/// The margins the shop keeps, each as a field of the policy; the usual ones count where nothing is said.
#[derive(clap::Args)]
struct Margins {
    /// Most of the rated voltage a wet part below 160 V may see: 75%, or 0.75
    #[arg(long, value_name = "PCT")]
    voltage_use_max_wet_lv: Option<String>,
    /// The same for a wet part from 160 V
    #[arg(long, value_name = "PCT")]
    voltage_use_max_wet_hv: Option<String>,
    /// Most of the rated ripple current: 70%, or 0.7
    #[arg(long, value_name = "PCT")]
    ripple_use_max: Option<String>,
    /// How many times the interval a part has to last: 1.5
    #[arg(long, value_name = "FACTOR")]
    life_margin: Option<String>,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    // Its job file would lie in a folder that looks like one.
    if args.folder.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json")) {
        let folder = args.folder.with_extension("");
        let what = format!("the folder of the new job, such as {}; its file is made there", folder.display());
        return Err(Failure::of_file(&args.folder, what));
    }
    let name = args.folder.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let mut new = begun(args, &name)?;
    let path = args.folder.join(format!("{}.json", if name.is_empty() { "job" } else { name.as_str() }));
    if !args.over.overwrite && path.exists() {
        return Err(Failure::There(path));
    }
    let sources = read::sources(&[(&args.from, None), (&args.catalogues.parts, Some(Target::Parts))], &args.reading)?;
    let mut said = read::Said::default();
    let (boards, parts): (Vec<_>, Vec<_>) = sources.iter().partition(|source| source.mapping.target.is_of_board());
    let inputs = args.from.iter().chain(&args.catalogues.parts).chain(&args.reading.map).cloned().collect();
    let mut outputs = Outputs::new(inputs, args.over.overwrite);
    let of = |source: &Source| (source.path.clone(), source.mapping.target);
    let lists: Vec<&[&Source]> = parts.chunk_by(|a, b| of(a) == of(b)).collect();
    let beside = Some(path.as_path()).filter(|_| !args.over.overwrite);
    for list in &lists {
        let of_offers = list[0].mapping.target == Target::Offers;
        let stem = list[0].path.file_stem().filter(|_| of_offers || lists.len() > 1).unwrap_or("parts".as_ref());
        let stem = stem.to_string_lossy();
        let stem = if of_offers { companions::offers_stem(&stem) } else { stem.into_owned() };
        let name = companions::free_name(&new, beside, &Held::default(), &stem);
        outputs.add(args.folder.join(&name), read::catalogue(list, &mut said)?, Replace::Own);
        if of_offers { &mut new.offers } else { &mut new.catalogs }.push(name);
    }
    let new = read::boards(&boards, Some(new), &args.reading, &mut said)?;
    outputs.add(path.clone(), job::to_text(&new), Replace::Own);
    outputs.add_table(args.folder.join("rejected.csv"), |out| export::rejected(out, &said.rejected))?;
    outputs.write()?;
    read::Said::remember(&sources);
    let lines = counted(said.rejected.len(), "rejected or skipped line", "rejected or skipped lines");
    say!("Written: {}, {lines} in rejected.csv beside it", path.display());
    said_open(&new);
    Ok(said.status())
}

/// The job as it is said by the options; every option that cannot be used is named.
fn begun(args: &Args, name: &str) -> Result<Job, Failure> {
    let mut job = Job::default();
    new_job::say(&mut job, "name", name).map_err(Failure::Call)?;
    let mut wrong = Vec::new();
    let margins = &args.margins;
    for (field, typed) in [
        ("units", &args.units),
        ("spare_pct", &args.spare_pct),
        ("hours_per_year", &args.hours_per_year),
        ("interval_years", &args.interval_years),
        ("currency", &args.currency),
        ("policy.voltage_use_max_wet_lv", &margins.voltage_use_max_wet_lv),
        ("policy.voltage_use_max_wet_hv", &margins.voltage_use_max_wet_hv),
        ("policy.ripple_use_max", &margins.ripple_use_max),
        ("policy.life_margin", &margins.life_margin),
    ] {
        let Some(typed) = typed else { continue };
        let option = || field.trim_start_matches("policy.").replace('_', "-");
        wrong.extend(new_job::say(&mut job, field, typed).err().map(|why| format!("--{}: {why}", option())));
    }
    if let Some(text) = &args.ambient {
        wrong.extend(new_job::say_ambient(&mut job, text).err().map(|why| format!("--ambient {text}: {why}")));
    }
    if wrong.is_empty() { Ok(job) } else { Err(Failure::Call(format!("{}; see refarad new --help", wrong.join("; ")))) }
}

/// Names what nobody has said of the job yet.
fn said_open(job: &Job) {
    let open = [
        (job.conditions.phases.is_none(), "--ambient"),
        (job.hours_per_year.is_none(), "--hours-per-year"),
        (job.interval_years.is_none(), "--interval-years"),
        (job.catalogs.is_empty(), "a component catalogue (--parts)"),
    ];
    let open: Vec<&str> = open.into_iter().filter_map(|(is_open, what)| is_open.then_some(what)).collect();
    if !open.is_empty() {
        say!("Not said yet: {}. It can be added in the window or in the job file.", open.join(", "));
    }
}
