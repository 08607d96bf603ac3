//! The one reason against a part, short enough for a card, with the lengths behind a fit and what may be relaxed.

use super::checks::{limits::AXIAL_SPAN_MM, wrong_polarity};
use super::compare::at_most;
use super::evaluation::{Evaluation, FitFault};
use super::position_context::PositionContext;
use super::reasons::{WRONG_POLARITY, check_name, figure, known, reason};
use super::voltages::use_max;
use crate::domain::{Can, Check, Mounting, Outcome};
use crate::physics::body;

/// The lengths that decide a fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Lengths {
    /// Which part of the fit.
    pub fault: FitFault,
    /// What the part takes, mm: diameter, height with its vent space, lead spacing, body length, lead, gap.
    pub own_mm: f64,
    /// What is there for it, mm.
    pub room_mm: f64,
    /// Both in words.
    pub words: String,
}

/// The lengths that decide the fit of `can`; `None` where it passes, hangs on the kind of mounting or on a missing figure.
pub fn lengths(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> Option<Lengths> {
    let (room, largest) = (&context.room, body::of(can));
    let fault = evaluation.fit_fault;
    let mm = |value: f64| format!("{} mm", figure(value));
    let (own_mm, room_mm, words) = match fault {
        FitFault::None | FitFault::Mounting => return None,
        FitFault::Diameter => {
            let (own, limit) = (largest.diameter_max_mm?, room.diameter_max_mm?);
            (own, limit, format!("Ø {}, room {}", mm(own), mm(limit)))
        }
        FitFault::Height => {
            let (height, limit, vent) = (largest.height_max_mm?, room.height_max_mm?, largest.vent_mm.unwrap_or(0.0));
            let words = if height > limit {
                format!("{} high, room {}", mm(height), mm(limit))
            } else {
                format!("{} and {} vent space, room {}", mm(height), mm(vent), mm(limit))
            };
            (if height > limit { height } else { height + vent }, limit, words)
        }
        FitFault::Pitch => match can.mounting? {
            Mounting::Axial => {
                let (own, holes) = (can.height_mm?, room.hole_pitch_mm?);
                let needed = mm(own + AXIAL_SPAN_MM);
                (own, holes, format!("body {}, holes {}: needs {needed}", mm(own), mm(holes)))
            }
            Mounting::Smd => {
                let (own, pads) = (can.diameter_mm?, context.position.original.can.diameter_mm?);
                (own, pads, format!("Ø {}, pads for {}", mm(own), mm(pads)))
            }
            _ => {
                let (own, holes) = (can.pitch_mm?, room.hole_pitch_mm?);
                let formed = evaluation.outcome(Check::Fit) == Outcome::Marginal;
                let words = if formed { "form the leads: " } else { "" };
                (own, holes, format!("{words}leads {}, holes {}", mm(own), mm(holes)))
            }
        },
        FitFault::Lead => {
            let (own, hole) = (can.lead_d_mm?, context.position.space.hole_mm?);
            (own, hole, format!("lead {}, hole {}", mm(own), mm(hole)))
        }
        FitFault::Neighbour => {
            let (gap, wanted) = (evaluation.figures.gap_mm?, context.policy.can_gap_mm);
            let shadow = context.shadow(can, &largest)?;
            let (neighbour, _) = context.neighbours.nearest(&shadow)?;
            let words = if gap < 0.0 {
                format!("overlaps {neighbour} by {}", mm(-gap))
            } else {
                format!("{} to {neighbour}, {} wanted", mm(gap), mm(wanted))
            };
            (gap, wanted, words)
        }
    };
    Some(Lengths { fault, own_mm, room_mm, words })
}

/// The check that speaks against a part and why, short; `None` where every check passes.
pub fn against(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> Option<(Check, String)> {
    let (verdict, check) = (evaluation.verdict, evaluation.decisive()?);
    let figures = &evaluation.figures;
    let percent = |share: f64| figure(share * 100.0);
    let words = match check {
        Check::Fit => lengths(context, can, evaluation).map(|lengths| lengths.words).or_else(|| {
            let kind = |can: &Can| can.mounting.map(mounting_word);
            let both = kind(can).zip(kind(&context.position.original.can));
            both.filter(|_| evaluation.fit_fault == FitFault::Mounting)
                .map(|(own, original)| format!("{own}, the original is {original}"))
        }),
        Check::Life => figures.calendar_years.zip(context.target_years()).map(|(years, target)| match verdict {
            Outcome::Marginal => {
                let factor = context.policy.life_margin;
                let pass = figure(factor * target);
                format!("{} years, {pass} to pass ({} × {})", figure(years), figure(factor), figure(target))
            }
            _ => format!("{} years, {} wanted", figure(years), figure(target)),
        }),
        Check::Ripple => figures
            .ripple_usage
            .filter(|usage| usage.is_finite())
            .map(|usage| format!("ripple {} % of what is allowed", percent(usage))),
        Check::Voltage => voltage(context, can, evaluation),
        Check::Esr => figures
            .esr_mohm
            .zip(context.esr_limit().1)
            .filter(|(own, limit)| own > limit)
            .map(|(own, limit)| format!("ESR {} mΩ, {} mΩ allowed", figure(own), figure(limit))),
        Check::Capacitance => reason(context, can, evaluation, check).split(", usable").next().map(str::to_owned),
        Check::Temperature => {
            let (ambient, celsius) = (&context.ambient, |value: Option<f64>| known(value, "°C"));
            let cold = ambient.min_c.zip(can.temp_min_c).is_some_and(|(ambient_c, min_c)| ambient_c < min_c);
            let (end, of) =
                if cold { ("from", [ambient.min_c, can.temp_min_c]) } else { ("to", [ambient.max_c, can.temp_max_c]) };
            Some(format!("ambient {end} {}, part {end} {}", celsius(of[0]), celsius(of[1])))
        }
        Check::Supply if verdict == Outcome::Marginal => Some("phased out, or short of stock".to_owned()),
        _ => None,
    };
    Some((
        check,
        match words.filter(|_| verdict != Outcome::Unknown) {
            Some(words) => words,
            None if check == Check::Fit && verdict == Outcome::Unknown => {
                format!("{} unknown", evaluation.fit_fault.word())
            }
            None if verdict == Outcome::Unknown => {
                let of_part = check == Check::Ripple && can.ripple_a.is_none()
                    || check == Check::Voltage && can.rated_v.is_none();
                format!("{}{} unknown", if of_part { "rated " } else { "" }, check_name(check))
            }
            None => {
                let why = reason(context, can, evaluation, check);
                why.split(';').next().unwrap_or_default().to_owned()
            }
        },
    ))
}

/// What of the voltages speaks against a part: its polarity, the peak, what reverses it, the transient.
fn voltage(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> Option<String> {
    if wrong_polarity(context, can) {
        return Some(WRONG_POLARITY.to_owned());
    }
    let (usage, voltages) = (evaluation.figures.voltage_usage?, context.electrical.on(context.policy, can));
    if use_max(context.policy, can).is_none_or(|most| !at_most(usage, most)) {
        return Some(format!("voltage {} % of the rating", figure(usage * 100.0)));
    }
    let reversed = voltages.lowest_v.filter(|&lowest_v| lowest_v < 0.0);
    let reversed = reversed.map(|lowest_v| format!("reversed to {} V", figure(lowest_v)));
    reversed
        .or_else(|| Some(format!("transient {} V on {} rated", figure(voltages.transient_v?), known(can.rated_v, "V"))))
}

/// The word for a kind of mounting in a sentence.
pub fn mounting_word(mounting: Mounting) -> &'static str {
    match mounting {
        Mounting::Radial => "radial",
        Mounting::SnapIn => "snap-in",
        Mounting::Screw => "screw terminal",
        Mounting::Axial => "axial",
        Mounting::Smd => "SMD",
    }
}

/// What may be relaxed so that a part fits.
#[derive(Debug, Clone, PartialEq)]
pub enum Relax {
    /// Leads may be formed this far, mm.
    LeadReach(f64),
    /// This mounting is accepted, too.
    Accept(Mounting),
    /// There is this much room beside the can, mm: to be measured.
    Diameter(f64),
    /// There is this much room above the board, mm: to be measured.
    Height(f64),
    /// The neighbour may give way.
    Neighbour(String),
}

/// What may be relaxed for a part that does not fit, or only just; `None` where nothing can be.
pub fn relax(context: &PositionContext, can: &Can, evaluation: &Evaluation) -> Option<Relax> {
    if evaluation.outcome(Check::Fit) == Outcome::Pass {
        return None;
    }
    if evaluation.fit_fault == FitFault::Mounting {
        return can.mounting.filter(|_| evaluation.outcome(Check::Fit) == Outcome::Fail).map(Relax::Accept);
    }
    let lengths = lengths(context, can, evaluation)?;
    // To the next tenth: that can be measured.
    let up = |mm: f64| (mm * 10.0 - 1e-6).ceil() / 10.0;
    match lengths.fault {
        FitFault::Diameter => Some(Relax::Diameter(up(lengths.own_mm))),
        FitFault::Height => Some(Relax::Height(up(lengths.own_mm))),
        FitFault::Pitch
            if can.mounting == Some(Mounting::Radial) && evaluation.outcome(Check::Fit) == Outcome::Fail =>
        {
            Some(Relax::LeadReach(up((lengths.own_mm - lengths.room_mm).abs())))
        }
        FitFault::Neighbour => {
            let shadow = context.shadow(can, &body::of(can))?;
            Some(Relax::Neighbour(context.neighbours.nearest(&shadow)?.0.to_owned()))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Catalog, Position, Technology};
    use crate::sizing::testing::{HERE, can, evaluated, job, position};

    /// Words and what may be relaxed after a change of the position and of the part.
    fn told(change: impl Fn(&mut Position), change_can: impl Fn(&mut Can)) -> (Option<String>, Option<Relax>) {
        let evaluation = evaluated(&change, &change_can);
        let (mut here, mut part) = (position(), can());
        change(&mut here);
        change_can(&mut part);
        let job = job(here);
        let context = PositionContext::new(&job, &Catalog::default(), HERE).unwrap();
        (against(&context, &part, &evaluation).map(|told| told.1), relax(&context, &part, &evaluation))
    }

    #[test]
    fn a_voltage_that_fails_says_by_what() {
        let bipolar = |position: &mut Position| position.original.can.technology = Some(Technology::NonPolar);
        let words = |change: &dyn Fn(&mut Position), part: &dyn Fn(&mut Can)| told(change, part).0.unwrap_or_default();
        assert_eq!(words(&bipolar, &|_| {}), WRONG_POLARITY);
        assert!(words(&|_| {}, &|part| part.rated_v = Some(10.0)).starts_with("voltage "));
        let transient = words(&|position| position.stress.transient_v = Some(900.0), &|_| {});
        assert!(transient.starts_with("transient 900 V on "), "{transient}");
    }

    #[test]
    fn a_fit_that_fails_names_both_lengths_and_what_may_be_relaxed() {
        let (words, may) = told(|p| p.space.diameter_max_mm = Some(9.0), |_| ());
        assert_eq!((words.as_deref(), may), (Some("Ø 10.5 mm, room 9 mm"), Some(Relax::Diameter(10.5))));
        let (words, may) = told(|p| p.space.height_max_mm = Some(15.0), |_| ());
        assert_eq!((words.as_deref(), may), (Some("17 mm high, room 15 mm"), Some(Relax::Height(17.0))));
        let (words, may) = told(|_| (), |can| can.pitch_mm = Some(10.0));
        assert_eq!((words.as_deref(), may), (Some("leads 10 mm, holes 5 mm"), Some(Relax::LeadReach(5.0))));
        let axial = |p: &mut Position| {
            p.original.can.mounting = Some(Mounting::Axial);
            p.space.pitch_mm = Some(16.0);
        };
        let (words, may) = told(axial, |can| can.mounting = Some(Mounting::Axial));
        assert_eq!((words.as_deref(), may), (Some("body 16 mm, holes 16 mm: needs 19 mm"), None));
        let (words, may) = told(|_| (), |can| can.mounting = Some(Mounting::Screw));
        assert_eq!(
            (words.as_deref(), may),
            (Some("screw terminal, the original is radial"), Some(Relax::Accept(Mounting::Screw)))
        );
    }

    #[test]
    fn nothing_speaks_against_a_part_that_passes() {
        assert_eq!(told(|_| (), |_| ()), (None, None));
    }
}
