//! `refarad ripple`: a ripple spectrum from a circuit, an oscilloscope's record or the measured rise of a case, as JSON for a job file.

use std::path::PathBuf;
use std::process::ExitCode;

use crate::domain::{Bounds, RippleLine, Stress};
use crate::files::oscilloscope;
use crate::sizing::PositionContext;
use crate::sizing::circuit::{Absent, CircuitEntry, CircuitKind, ripple_lines};
use crate::sizing::heat_opinion::{Explained, MEASURING_CAUTIONS, explain_rise};
use crate::sizing::reasons::figure;
use crate::sizing::ripple_origin::{of_case_rise, of_record};

use super::failure::Failure;
use super::job::{JobArgs, PositionArgs};
use super::write::JsonOut;

/// Arguments of `refarad ripple`.
#[derive(clap::Args)]
#[command(arg_required_else_help = false)]
pub(super) struct Args {
    #[command(subcommand)]
    action: Action,
}

#[derive(clap::Subcommand)]
enum Action {
    /// From a circuit and what is known of it
    Circuit {
        /// Which circuit; without any they are listed with their figures
        kind: Option<String>,
        /// Figures, as output_a=5
        #[arg(value_name = "NAME=VALUE")]
        figures: Vec<String>,
        #[command(flatten)]
        out: JsonOut,
    },
    /// From an oscilloscope's record of the current (CSV)
    Record(Record),
    /// From the measured rise of a case over its ambient, at a position of a job
    Rise(Rise),
}

#[derive(clap::Args)]
struct Record {
    /// The record
    file: PathBuf,
    /// Channel, by the name in its header; asked for where several can be meant
    #[arg(long, value_name = "NAME")]
    channel: Option<String>,
    /// Current that makes one volt at the input, A (10 for a clamp of 100 mV/A); a channel in A needs none
    #[arg(long, value_name = "A")]
    a_per_v: Option<f64>,
    /// What the oscilloscope wrote is multiplied by this, where its probe was set wrongly
    #[arg(long, value_name = "FACTOR", default_value_t = 1.0)]
    probe: f64,
    /// Time between two samples, s; asked for where the record does not say it, or too coarsely
    #[arg(long, value_name = "S")]
    step: Option<f64>,
    /// Frequency whose whole periods are taken, Hz; without it the slowest that carries power
    #[arg(long, value_name = "HZ")]
    fundamental: Option<f64>,
    #[command(flatten)]
    out: JsonOut,
}

#[derive(clap::Args)]
struct Rise {
    #[command(flatten)]
    of: JobArgs,
    #[command(flatten)]
    at: PositionArgs,
    /// Rise of the case over the air beside it, K
    #[arg(long = "rise", value_name = "K")]
    case_k: f64,
    /// Frequency most of the ripple has, Hz
    #[arg(long, value_name = "HZ")]
    hz: f64,
    /// ESR of the old part measured at that frequency, mΩ; without it that of its data sheet
    #[arg(long, value_name = "MOHM")]
    esr: Option<f64>,
    #[command(flatten)]
    out: JsonOut,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let (stress, read, out) = match &args.action {
        Action::Circuit { kind: None, .. } => {
            list();
            return Ok(ExitCode::SUCCESS);
        }
        Action::Circuit { kind: Some(kind), figures, out } => (circuit(kind, figures)?, Vec::new(), out),
        Action::Record(args) => (record(args)?, vec![args.file.clone()], &args.out),
        Action::Rise(args) => {
            let (stress, read) = rise(args)?;
            (stress, read, &args.out)
        }
    };
    out.write(read, &stress)
}

/// The circuits and the figures each asks for.
fn list() {
    for kind in CircuitKind::ALL {
        say!("{}: {}", kind.word(), kind.data().label);
        for field in kind.data().fields {
            let absent = match field.absent {
                Absent::Required => String::new(),
                Absent::Assumed(value) => format!("; {value} where it is left out (assumed)"),
                Absent::Derived => "; may be left out".to_owned(),
                Absent::OneOf => "; one of these".to_owned(),
            };
            say!("  {}: {}, {} ({}){absent}", field.key, field.label, field.unit.symbol(), field.hint);
        }
    }
}

fn circuit(kind: &str, figures: &[String]) -> Result<Stress, Failure> {
    let kind = CircuitKind::ALL.into_iter().find(|known| known.word() == kind).ok_or_else(|| {
        let known: Vec<&str> = CircuitKind::ALL.iter().map(|kind| kind.word()).collect();
        Failure::expected(kind, format!("one of {}", known.join(", ")))
    })?;
    let mut entry = CircuitEntry::new(kind);
    for figure in figures {
        let known =
            || format!("one of {}", kind.data().fields.iter().map(|field| field.key).collect::<Vec<_>>().join(", "));
        let (name, value) =
            figure.split_once('=').ok_or_else(|| Failure::expected(figure, "a name and a value, as output_a=5"))?;
        if kind.data().fields.iter().all(|field| field.key != name) {
            return Err(Failure::expected(figure, known()));
        }
        if entry.get(name).is_some() {
            return Err(Failure::expected(figure, format!("{name} once")));
        }
        let value = value.parse().map_err(|_| Failure::expected(figure, "a plain number with a dot"))?;
        entry.set(name, Some(value));
    }
    let found = entry.ripple().map_err(|source| Failure::Circuit { kind: kind.word(), source })?;
    tell!("note: {}; source: {}", kind.data().formula, kind.data().source);
    for step in &found.steps {
        tell!("note: {} {} {}", step.label, figure(step.value), step.unit);
    }
    found.assumed.iter().for_each(|label| tell!("note: {label} was not given: assumed or derived"));
    kind.cautions().for_each(|caution| tell!("note: {caution}"));
    Ok(of_lines(found.ripple_lines(), entry.origin(&found)))
}

fn record(args: &Record) -> Result<Stress, Failure> {
    let mut record = oscilloscope::read(&args.file)?;
    match (args.step, &record.step_asked) {
        (Some(step), _) if step > 0.0 && step.is_finite() => record.set_step(step),
        (Some(step), _) => return Err(Failure::expected(format!("--step {step}"), "a time above 0")),
        (None, Some(why)) => {
            return Err(Failure::of_file(&args.file, format!("--step, the seconds between two samples: {why}")));
        }
        (None, None) => {}
    }
    let names = || record.channels.iter().map(|channel| channel.name.as_str()).collect::<Vec<_>>().join(", ");
    let at = match &args.channel {
        None => record.only_channel().ok_or_else(|| {
            Failure::of_file(&args.file, format!("--channel, that of the current, one of {}", names()))
        })?,
        Some(name) => {
            let wrong = || Failure::expected(format!("--channel {name}"), format!("one of {}", names()));
            record.channels.iter().position(|channel| channel.name == *name).ok_or_else(wrong)?
        }
    };
    let channel = &record.channels[at];
    let a_per_unit = channel.a_per_unit(args.a_per_v, args.probe).ok_or_else(|| {
        let unit = if channel.unit.is_empty() { "has no unit" } else { "is not in A" };
        let what = format!("--a-per-v, a number above 0, as the channel {} {unit}", channel.name);
        Failure::of_file(&args.file, what)
    })?;
    let analysis = record.analyse(at, a_per_unit, args.fundamental);
    let analysis = analysis.map_err(|source| Failure::Waveform { path: args.file.clone(), source })?;
    record.notes.iter().chain(&oscilloscope::remarks(&analysis)).for_each(|note| tell!("note: {note}"));
    let file = args.file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let origin = of_record(&file, &channel.name, a_per_unit, &analysis);
    Ok(of_lines(ripple_lines(&analysis.ripple.lines), origin))
}

fn rise(args: &Rise) -> Result<(Stress, Vec<PathBuf>), Failure> {
    let loaded = args.of.load()?;
    let (job, catalog) = (&loaded.job, loaded.catalog_index.catalog());
    let (id, _) = args.at.find(job, &args.of.job)?;
    let reference = format!("--ref {}", args.at.reference);
    let no_position = || Failure::expected(&reference, "a position of the job");
    let context = PositionContext::new(job, catalog, id).ok_or_else(no_position)?;
    let can = job.position(id).map(|position| &position.original.can).ok_or_else(no_position)?;
    let fits = args.case_k >= 0.0
        && Bounds::Celsius.complaint(args.case_k).is_none()
        && args.esr.is_none_or(|mohm| Bounds::Positive.complaint(mohm).is_none());
    if !fits {
        let esr = args.esr.map_or_else(String::new, |mohm| format!(" --esr {mohm}"));
        return Err(Failure::expected(
            format!("--rise {}{esr}", args.case_k),
            "a rise from 0 to 300 K and an ESR above 0",
        ));
    }
    let found = explain_rise(&context, can, args.case_k, args.hz, args.esr).ok_or_else(|| {
        let what = "a rise of 0 or more and a frequency above 0";
        Failure::expected(format!("--rise {} --hz {}", args.case_k, args.hz), what)
    })?;
    MEASURING_CAUTIONS.iter().for_each(|caution| tell!("note: {caution}"));
    let Explained { by_law_a, by_balance_a, scale_of_entered, .. } = found;
    let said = |a: Option<f64>| a.map_or_else(|| "not known".to_owned(), |a| format!("{} A", figure(a)));
    tell!("note: by the heat balance {}, by the rated-ripple law {}", said(by_balance_a), said(by_law_a));
    let entered = job.position(id).and_then(|position| position.stress.ripple.clone()).unwrap_or_default();
    let lines = if let Some(scale) = scale_of_entered {
        let scaled = |line: RippleLine| RippleLine { a: line.a.map(|a| a * scale), ..line };
        entered.into_iter().map(scaled).collect()
    } else if let Some(a) = by_balance_a {
        vec![RippleLine::of(args.hz, a)]
    } else {
        let missing = || Failure::expected(&reference, "an original with ESR and body, or with a ripple rating");
        let (a, hz) = by_law_a.zip(can.ripple_hz).ok_or_else(missing)?;
        vec![RippleLine::of(hz, a)]
    };
    let assumed: Vec<&str> = found.assumed.names().collect();
    let origin = of_case_rise(args.case_k, args.hz, args.esr, &lines, &assumed);
    Ok((of_lines(lines, origin), args.of.inputs(job)))
}

fn of_lines(lines: Vec<RippleLine>, origin: crate::domain::RippleOrigin) -> Stress {
    Stress { ripple: Some(lines), ripple_from: Some(origin), ..Stress::default() }
}
