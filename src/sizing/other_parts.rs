//! The parts beside the electrolytics: how long their own interval is, where a substitute differs from the original, and what is asked
//! for it.

use super::asked::JobCurrency;
use super::reasons::figure;
use crate::domain::{Job, OtherId, OtherKind, OtherPart, Place, SupplierOffer, Trade, WhyReplaced, words};
use crate::physics::relay;

words! {
    /// What the own interval of a part comes from.
    pub enum IntervalFrom {
        /// Years entered for it.
        #[strum(serialize = "its own interval")]
        Years,
        /// Operations entered for it.
        #[strum(serialize = "its own interval in operations")]
        Operations,
        /// The rated switching life of a relay.
        #[strum(serialize = "the manufacturer's rated switching life")]
        SwitchingLife,
    }
}

/// Years until a part has to be replaced again, the least of what is known; `None` when nothing is.
pub fn own_years(part: &OtherPart) -> Option<(f64, IntervalFrom)> {
    let of = |operations: Option<f64>| relay::years(operations?, part.operations_per_year?);
    let all = [
        (part.interval_years, IntervalFrom::Years),
        (of(part.interval_operations), IntervalFrom::Operations),
        (
            of(part.replacement.switching_life_operations.filter(|_| !part.takes_alternative())),
            IntervalFrom::SwitchingLife,
        ),
    ];
    let known = all.into_iter().filter_map(|(years, from)| Some((years?, from)));
    known.min_by(|a, b| a.0.total_cmp(&b.0))
}

/// Every other part of a job that wears, with its years, `None` where they are not known: what has an interval of its own, what is said to wear,
/// and what always does.
pub fn all_own_years(job: &Job) -> impl Iterator<Item = (OtherId, Option<f64>)> {
    let years = |part: &OtherPart| own_years(part).map(|(years, _)| years);
    job.all_other_parts().filter(|(_, part)| wears(part)).map(move |(id, part)| (id, years(part)))
}

fn wears(part: &OtherPart) -> bool {
    let always = matches!(part.kind, Some(OtherKind::Relay | OtherKind::Fan | OtherKind::Battery));
    always || part.why == Some(WhyReplaced::Wear) || own_years(part).is_some()
}

/// How long a part lasts and by which figures, or which one is missing: `lasts 40 years by the manufacturer's rated switching life`; `None` of what does not
/// wear.
pub fn lasts(part: &OtherPart) -> Option<String> {
    let life = part.replacement.switching_life_operations.filter(|_| !part.takes_alternative());
    let Some((years, from)) = own_years(part) else {
        let missing = match part.interval_operations.or(life) {
            Some(_) => "operations a year",
            None if part.kind == Some(OtherKind::Relay) => "rated switching life or interval of its own",
            None => "interval of its own",
        };
        return wears(part).then(|| format!("lasts an unknown time: no {missing} given"));
    };
    let operations = match from {
        IntervalFrom::Years => None,
        IntervalFrom::Operations => part.interval_operations,
        IntervalFrom::SwitchingLife => life,
    };
    let sum = operations.zip(part.operations_per_year);
    let sum = sum
        .map_or_else(String::new, |(all, yearly)| format!(", {} operations at {} a year", figure(all), figure(yearly)));
    let load = match (part.load_a, part.replacement.life_load_a) {
        _ if from != IntervalFrom::SwitchingLife => "",
        (None, Some(_)) => "; its load here is not given",
        (_, None) => "; the load that holds for is not given",
        (Some(_), Some(_)) => "",
    };
    Some(format!("lasts {} years by {}{sum}{load}", figure(years), from.word()))
}

/// Where the part that goes in differs from the original, and where its figures say nothing, a clause each.
pub fn warnings(part: &OtherPart) -> Vec<String> {
    if part.takes_alternative() {
        let taken = part.part_number().unwrap_or_default();
        return vec![format!("the alternative {taken} goes in, whose figures are not stated: compare them")];
    }
    let (old, new) = (&part.original, &part.replacement);
    let compared = [
        ("coil voltage", old.coil_v, new.coil_v, "V"),
        ("coil resistance", old.coil_ohm, new.coil_ohm, "Ω"),
        ("contact current", old.contact_a, new.contact_a, "A"),
        ("contact voltage", old.contact_v, new.contact_v, "V"),
    ];
    let mut all: Vec<String> = compared
        .into_iter()
        .filter_map(|(name, old, new, unit)| {
            let (old, new) = old.zip(new)?;
            let by = relay::differs(old, new)?;
            let word = if by > 0.0 { "above" } else { "below" };
            let (by, new, old) = (figure(by.abs() * 100.0), figure(new), figure(old));
            Some(format!("{name} {new} {unit} is {by} % {word} the original's {old} {unit}"))
        })
        .collect();
    if let (Some(old), Some(new)) = (&old.contacts, &new.contacts)
        && !old.trim().eq_ignore_ascii_case(new.trim())
    {
        all.push(format!("contacts {new} for {old}"));
    }
    if new.switching_life_operations.is_some() {
        let loads = [("current", part.load_a, new.life_load_a, "A"), ("voltage", part.load_v, new.life_load_v, "V")];
        for (name, here, rated, unit) in loads {
            match (here, rated) {
                (Some(here), Some(rated)) if here > rated * (1.0 + 1e-9) => {
                    let (here, rated) = (figure(here), figure(rated));
                    all.push(format!(
                        "switches {here} {unit}, its switching life is rated at {rated} {unit}: expect fewer years"
                    ));
                }
                (Some(_), None) => all.push(format!("its switching life is stated without a {name}")),
                (Some(_), Some(_)) | (None, _) => {}
            }
        }
    }
    all
}

/// The other parts of a job that state figures and terms of sale of a part number: of those served, else any, since an alternative of one may be
/// the replacement of another.
pub(super) fn stating<'a>(job: &'a Job, served: &[(Place, &'a OtherPart)], number: &str) -> Vec<&'a OtherPart> {
    let states = |part: &&OtherPart| part.own_number() == Some(number);
    let own: Vec<&OtherPart> = served.iter().map(|(_, part)| *part).filter(states).collect();
    if own.is_empty() { job.all_other_parts().map(|(_, part)| part).filter(states).collect() } else { own }
}

/// The terms of sale that stand with another part itself; a price without a currency counts in that of the job.
pub(super) fn stated(currency: &JobCurrency, part: &OtherPart) -> SupplierOffer {
    let new = &part.replacement;
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    SupplierOffer {
        supplier: text(&new.supplier),
        supplier_part_number: text(&new.supplier_part_number),
        currency: new.currency.clone().or_else(|| currency.code.clone()).unwrap_or_default(),
        trade: Trade {
            stock: new.stock,
            lead_time_d: new.lead_time_d,
            unit_price: new.unit_price,
            moq: new.moq,
            pack: new.pack,
        },
        price_breaks: new.price_breaks.clone(),
    }
}

#[cfg(test)]
#[path = "../../tests/within/other_parts.rs"]
mod tests;
