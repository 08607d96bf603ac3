//! `refarad order`: which parts to take so that parts and order lines cost least together.

use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use crate::domain::style::counted;
use crate::domain::style::money;
use crate::domain::{Date, Job, Names, Outcome, Place, PositionId};
use crate::files::load::Loaded;
use crate::files::output::{Outputs, Replace};
use crate::files::{export, job as job_file, order as order_file};
use crate::sizing::few_lines::{Ended, Limits, Progress};
use crate::sizing::pick_change::PickChange;
use crate::sizing::reasons::{figure, known};
use crate::sizing::{CatalogIndex, Order, OrderOptions, Sizing};

use super::failure::Failure;
use super::job::{JobArgs, ListArgs};
use super::terminal::{cell, padded};
use super::write::Over;
use super::{summary, write};

/// Arguments of `refarad order`.
#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    of: JobArgs,
    /// Folder for purchase.csv, order_picks.csv, order_steps.csv and rejected.csv; made if need be
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Write the job with the parts of the order as picks
    #[arg(long, value_name = "JSON")]
    apply: Option<PathBuf>,
    #[command(flatten)]
    list: ListArgs,
    /// Give positions with a pick another part where the order costs less; otherwise picks are kept
    #[arg(long)]
    replace_picks: bool,
    /// Use marginal parts too; a pick that is kept may be marginal
    #[arg(long)]
    marginal: bool,
    /// Seconds to search before the best found is taken
    #[arg(long, value_name = "N", default_value_t = 10)]
    seconds: u64,
    #[command(flatten)]
    over: Over,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let Loaded { job, catalog_index, rejected, newer, .. } = args.of.load()?;
    if newer && args.apply.is_some() {
        return Err(Failure::Newer(args.of.job.clone()));
    }
    let limits = Limits { time: Duration::from_secs(args.seconds), ..Limits::default() };
    let constraints = OrderOptions { replace_picks: args.replace_picks, accept_marginal: args.marginal, limits };
    let mut live = super::live::Live::on_stderr();
    let mut show = |progress| live.show(&in_words(&progress));
    let found = crate::sizing::order(&job, &catalog_index, &constraints, &AtomicBool::new(false), &mut show);
    live.clear();
    let found = found.map_err(|source| Failure::Order { job: args.of.job.clone(), source })?;
    let sizing = crate::sizing::size(&job, &catalog_index);
    let changes = found.changes(&job, &catalog_index, &sizing);
    print(&job, &found);
    print_changes(&job, &found, &changes);
    let applied = found.applied(&job, &catalog_index);
    let sizing = found.sized(&applied, &catalog_index);
    print_doubtful(&job, &catalog_index, &sizing);
    let inputs = args.of.inputs(&job);
    let mut outputs = Outputs::new(inputs.clone(), args.over.overwrite);
    let mut bought = None;
    if let Some(folder) = &args.out {
        let at = |name: &str| folder.join(name);
        outputs.add_table(at("order_picks.csv"), |out| order_file::picks(out, &job, &catalog_index, &found))?;
        outputs.add_table(at("order_steps.csv"), |out| order_file::steps(out, &job, &catalog_index, &found))?;
        outputs.add_table(at("rejected.csv"), |out| export::rejected(out, &rejected))?;
        let list = crate::sizing::purchase(&applied, &catalog_index, &sizing, Date::today());
        args.list.add_to(&mut outputs, folder, &applied, &catalog_index, &list)?;
        bought = Some(list);
    }
    if let Some(path) = &args.apply {
        outputs.add(path.clone(), job_file::to_text(&applied), Replace::Own);
    }
    let written = outputs.write()?;
    if let Some(folder) = &args.out {
        write::move_stale(folder, written, &inputs);
    }
    if let Some(bought) = &bought {
        say!();
        let others = bought.lines.iter().filter(|line| line.to_order() && !line.has_positions()).count();
        let outside = bought.totals.lines.saturating_sub(others + found.ordered_lines());
        say!(
            "Lines of this order: {}, of other parts alone: {others}, of picks outside the order: {outside}",
            found.ordered_lines()
        );
        summary::print_purchase(&applied, bought);
    }
    if let Some(path) = &args.apply
        && path.parent() != args.of.job.parent()
        && !(job.catalogs.is_empty() && job.offers.is_empty())
    {
        tell!("note: {} names its lists relative to its own folder; put them there.", path.display());
    }
    Ok(if found.left_out.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// How far the search is, in one short line.
fn in_words(progress: &Progress) -> String {
    let best = progress.best.map_or_else(|| "no choice yet".to_owned(), |best| format!("best {}", money(best)));
    let gap = progress.best.filter(|best| *best > 0.0).map_or_else(String::new, |best| {
        format!(", gap {:.2} %", ((best - progress.lower_bound).max(0.0) / best) * 100.0)
    });
    format!("searching: {best}, bound {}{gap}, {} branches", money(progress.lower_bound), progress.nodes)
}

/// What `--apply` changes: the picks a person made first, then what had none.
fn print_changes(job: &Job, order: &Order, changes: &[PickChange]) {
    let currency = order.currency.code.as_deref().unwrap_or_default();
    let years = |years: Option<f64>| years.map_or_else(|| "unknown".to_owned(), figure);
    let cost = |cost: Option<f64>| cost.map_or_else(|| "unknown".to_owned(), money);
    let names = Names::of(job);
    let (replaced, new): (Vec<_>, Vec<_>) = changes.iter().partition(|change| change.picked);
    say!("Picks: {} kept, {} replaced, {} new", order.picks.len() - changes.len(), replaced.len(), new.len());
    for change in replaced {
        let PickChange { now, then, lost, .. } = change;
        say!(
            "  {}: {} to {}, {} to {}, {} to {} years, {} to {} {currency}{}{}",
            names.name(change.position),
            now.part_number.as_deref().unwrap_or("no part"),
            then.part_number.as_deref().unwrap_or("no part"),
            now.verdict.word(),
            then.verdict.word(),
            years(now.years),
            years(then.years),
            cost(now.cost),
            cost(then.cost),
            if lost.is_empty() { "" } else { "; lost: " },
            lost.join("; ")
        );
    }
}

/// Parts that are bought without passing, by verdict: kept picks, and marginal ones where they are asked for.
fn print_doubtful(job: &Job, catalog_index: &CatalogIndex, sizing: &Sizing) {
    let names = Names::of(job);
    for verdict in [Outcome::Marginal, Outcome::Unknown, Outcome::Fail] {
        let doubtful = sizing.positions.iter().filter(|sized| sized.choice.verdict == verdict);
        let told = doubtful.filter_map(|sized| {
            let name = catalog_index.catalog().part_number(sized.choice.part?.id);
            let picked = job.position(sized.id)?.pick.as_deref() == Some(name);
            let by_hand = if picked { ", as picked" } else { "" };
            Some(format!("{} at {}{by_hand}", cell(name), names.name(sized.id)))
        });
        let told: Vec<String> = told.collect();
        if !told.is_empty() {
            tell!("note: bought though {}: {}.", verdict.word(), told.join("; "));
        }
    }
}

fn print(job: &Job, order: &Order) {
    if order.picks.is_empty() {
        say!("No position has a part in this order: only other parts are ordered.");
    } else {
        print_positions(job, order);
    }
    let currency = order.currency.code.as_deref().unwrap_or_default();
    if let Some(others) = &order.others {
        let now = others.now.map_or_else(|| "unknown".to_owned(), money);
        say!("Other parts with their lines: {} {currency}, now {now}", money(others.total));
        for pick in &others.changes {
            say!("  {}: {} to {}", job.full_name(Place::Other(pick.other)), cell(&pick.now), cell(&pick.then));
        }
        for &id in &others.left_out {
            tell!(
                "note: {} is not compared: none of its part numbers has a comparable price.",
                job.name_of(Place::Other(id))
            );
        }
    }
    for (reason, places) in order.left_out_by_reason() {
        tell!("note: not in the order, since {reason}: {}.", Names::of(job).list(&places, ", "));
    }
    for note in &order.notes {
        tell!("note: {note}");
    }
}

fn print_positions(job: &Job, order: &Order) {
    let currency = order.currency.code.as_deref().unwrap_or_default();
    let names_of = Names::of(job);
    let refs = |ids: &[PositionId]| names_of.list(ids, " ");
    let names: Vec<String> = order.lines.iter().map(|line| cell(order.name(line.part))).collect();
    let width = names.iter().map(|name| name.chars().count()).max().unwrap_or_default();
    for (line, name) in order.lines.iter().zip(&names) {
        let second = line.alternative.map_or_else(String::new, |id| format!("; second source {}", order.name(id)));
        say!(
            "{} {:6} pieces {:>10} {currency}  {}{second}",
            padded(name, width),
            line.order_qty,
            money(line.total),
            refs(&line.positions)
        );
    }
    say!();
    let years = |years: Option<f64>| known(years, "years");
    let lines = |number| counted(number, "line", "lines");
    say!(
        "{}, {} {currency} with line handling; each position's cheapest part by itself: {}, {} {currency}",
        lines(order.ordered_lines()),
        money(order.total),
        lines(order.separate_lines),
        money(order.separate_total)
    );
    let proof = match order.ended {
        Ended::Proven => "proven: nothing costs less".to_owned(),
        Ended::Time => "time limit reached".to_owned(),
        Ended::Nodes => "memory limit reached".to_owned(),
        Ended::Cancelled => "cancelled".to_owned(),
    };
    say!("{proof}; lower bound {} {currency}, gap {:.3} %", money(order.lower_bound), order.gap * 100.0);
    let (cheapest, taken) = &order.intervals;
    say!("The job {}; with each position's cheapest part it {}", taken.told(job), cheapest.told(job));
    for step in &order.steps {
        let gives = format!("{} instead of {}", years(step.years.1), years(step.years.0));
        say!(
            "  step {} to {}: {}{} {currency}, {gives}",
            refs(&step.positions),
            order.name(step.part),
            if step.cost > 0.0 { "+" } else { "" },
            money(step.cost)
        );
    }
}
