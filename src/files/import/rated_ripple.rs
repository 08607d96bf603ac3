//! The rated ripple current of a row: of several ratings the one to use, the multipliers it gives, and whether its ambient fits.

use super::field::Field;
use super::figures::{InRow, RowFigures, close};
use super::settle::{Candidate, Trouble, settle};
use crate::domain::{Can, Part};
use crate::files::cell::ripple::Ripple;
use crate::files::cell::{Reading, frequency, number, ripple, temperature};

impl InRow<'_> {
    /// Reads ripple current, its frequency and the multipliers; gives the ambient it is rated at, °C.
    pub(super) fn ripple(&mut self) -> Option<f64> {
        // Ratings at two frequencies are two ratings, not a contradiction.
        let same = |a: &Ripple, b: &Ripple| {
            close(a.ripple_a, b.ripple_a) || (a.hz != b.hz && a.hz.is_some() && b.hz.is_some())
        };
        let mut found = self.candidates(&[Field::Ripple], ripple::read, |f| &f.ripple);
        leave_cooler(&mut found, &mut self.trouble);
        found.sort_by_key(|candidate| matches!(candidate.reading, Reading::Value(Ripple { hz: None, .. })));
        let others: Vec<Ripple> = found.iter().filter_map(|candidate| candidate.reading.clone().value()).collect();
        let found = settle(&mut self.trouble, Field::Ripple, &found, same, ripple::print);
        self.can.ripple_a = found.map(|ripple| ripple.ripple_a);
        self.can.ripple_hz = found.and_then(|ripple| ripple.hz).or_else(|| self.one(Field::RippleHz, frequency::read));
        let factors = [Field::F50, Field::F120, Field::F300, Field::F1k, Field::F10k, Field::F100k]
            .map(|field| self.one(field, number::read).filter(|factor| *factor > 0.0 && *factor < 100.0));
        let can = &mut self.can;
        [can.f50, can.f120, can.f300, can.f1k, can.f10k, can.f100k] = factors;
        if let Some(rated) = found {
            other_ratings(can, &rated, &others);
        }
        found.and_then(|ripple| ripple.temp_c)
    }
}

/// Of ratings at several ambient temperatures the one at the highest is used: it promises least. The others are listed.
fn leave_cooler(found: &mut Vec<Candidate<'_, Ripple>>, trouble: &mut Trouble) {
    let temp_c = |candidate: &Candidate<Ripple>| match &candidate.reading {
        Reading::Value(ripple) => ripple.temp_c,
        _ => None,
    };
    let Some(hottest_c) = found.iter().filter_map(temp_c).reduce(f64::max) else { return };
    let cooler = |candidate: &Candidate<Ripple>| temp_c(candidate).is_some_and(|temp_c| temp_c < hottest_c);
    for candidate in found.iter().filter(|candidate| cooler(candidate)) {
        let reason = format!("rated at a lower temperature; the figure at {hottest_c} °C is used");
        trouble.leave(Field::Ripple, candidate.cell, &reason);
    }
    found.retain(|candidate| !cooler(candidate));
}

/// Ratings at several frequencies are the points of the part's table of multipliers.
fn other_ratings(can: &mut Can, rated: &Ripple, others: &[Ripple]) {
    let Some(rated_hz) = rated.hz else { return };
    let alike = |other: &&Ripple| rated.temp_c == other.temp_c || rated.temp_c.is_none() || other.temp_c.is_none();
    let mut points = vec![(rated_hz, 1.0)];
    for other in others.iter().filter(alike) {
        let known = |hz: f64| points.iter().any(|(at, _)| *at == hz);
        points.extend(other.hz.filter(|&hz| !known(hz)).map(|hz| (hz, other.ripple_a / rated.ripple_a)));
    }
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let text: Vec<String> = points.iter().map(|(hz, factor)| format!("{hz}:{}", number::print(*factor))).collect();
    if points.len() > 1 {
        can.ripple_freq_factors = text.join(";").parse().ok();
    }
}

/// A ripple current rated at another ambient than the upper temperature is not the rating the methods mean.
pub(super) fn check_ambient(part: &mut Part, figures: &mut RowFigures) {
    let (Some(at), Some(max), Some(ripple_a)) = (figures.ripple_temp_c, part.can.temp_max_c, part.can.ripple_a) else {
        return;
    };
    if (at - max).abs() > 0.5 {
        part.can.ripple_a = None;
        let (first, second) = (
            format!("{ripple_a} A at {}", temperature::print(at)),
            format!("upper temperature {}", temperature::print(max)),
        );
        figures.trouble.contradict(Field::Ripple.label(), first, second, "the ripple current is not used");
    }
}
