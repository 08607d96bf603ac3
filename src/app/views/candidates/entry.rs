//! One candidate with everything that is shown of it; made only for candidates in sight.

use super::columns::{self, Subject, TableColumn, Text};
use crate::app::state::{Candidate, Scene};
use crate::app::widgets::wording::percent;
use crate::domain::{Can, Check, INVENTED, Outcome, PartId, style};
use crate::sizing::reasons::{check_name, figure, reason};
use crate::sizing::{Evaluation, PositionContext, Terms};

/// One candidate with everything that is shown of it.
pub(crate) struct Entry<'s, 'a> {
    scene: &'s Scene<'a>,
    place: &'s PositionContext<'a>,
    pub candidate: Candidate,
    pub name: &'a str,
    /// Its figures.
    pub can: Can,
    pub evaluation: Evaluation,
}

impl<'s, 'a> Entry<'s, 'a> {
    /// Checks the candidate; `None` when the original is not checked yet.
    pub(crate) fn new(scene: &'s Scene<'a>, candidate: Candidate) -> Option<Self> {
        let (place, can, evaluation) = (scene.place()?, scene.can(candidate)?, scene.evaluation(candidate)?);
        Some(Self { scene, place, candidate, name: scene.name(candidate), can, evaluation })
    }

    /// The part; `None` for the original.
    pub(crate) fn id(&self) -> Option<PartId> {
        if let Candidate::Part(id) = self.candidate { Some(id) } else { None }
    }

    pub(crate) fn number(&self, column: &TableColumn) -> Option<f64> {
        let Subject::Number(quantity, _) = column.subject else { return None };
        quantity.of(&self.evaluation.figures, &self.can, self.scene.catalog, self.id(), self.place)
    }

    pub(crate) fn outcome(&self, column: &TableColumn) -> Option<Outcome> {
        match column.subject {
            Subject::Verdict => Some(self.evaluation.verdict),
            Subject::Check(check) => Some(self.evaluation.outcome(check)),
            _ => None,
        }
    }

    /// What stands in a column, in words; `None` where it is not known.
    pub(crate) fn words(&self, column: &TableColumn) -> Option<String> {
        match column.subject {
            Subject::Text(text) => Some(self.text(text).to_owned()).filter(|text| !text.is_empty()),
            Subject::Verdict | Subject::Check(_) => self.outcome(column).map(|outcome| outcome.word().to_owned()),
            Subject::Number(..) => self.number(column).map(|value| number_in_words(column, value)),
        }
    }

    fn text(&self, text: Text) -> &str {
        match (text, self.id()) {
            (Text::Number, _) => self.name,
            (_, Some(id)) => text.of(self.scene.catalog, id),
            (Text::Technology, None) => columns::technology(self.can.technology),
            (Text::Mounting, None) => columns::mounting(self.can.mounting),
            (_, None) => "",
        }
    }

    /// The currency of a price; empty for every other column and where it is not known.
    pub(crate) fn currency(&self, column: &TableColumn) -> &str {
        match (column.is_price(), self.id()) {
            (true, _) if column.is_in_job_currency() => self.scene.job.currency.as_deref().unwrap_or_default(),
            (true, Some(id)) => {
                Terms::of(self.scene.catalog, id, self.place.offer_of_need(self.scene.catalog, id)).currency
            }
            _ => "",
        }
    }

    /// That it is invented, and what the person or the program made of it: picked, proposed, pinned.
    pub(crate) fn default_value(&self) -> Vec<&'static str> {
        let picked = self.scene.position().and_then(|(_, position)| position.pick.as_deref());
        // First, since of several words the last ones give way: that nobody can buy it matters most.
        let invented = self.id().is_some_and(|id| self.scene.catalog.is_marked(self.scene.job, id));
        let mut words = Vec::from_iter(invented.then_some(INVENTED));
        if self.id().is_some() && picked == Some(self.name) {
            words.push("picked");
        } else if picked.is_none() && self.scene.chosen() == Some(self.candidate) {
            words.push("proposed");
        }
        if self.scene.selection.pinned.contains(&self.candidate) {
            words.push("pinned");
        }
        words
    }

    /// The check that limits a part that passes, or the first of those that came out worst.
    pub(crate) fn limiting(&self) -> Option<Check> {
        self.evaluation.limiting_check(self.place.margins(&self.can, &self.evaluation))
    }

    /// Why a check came out as it did.
    pub(crate) fn reason(&self, check: Check) -> String {
        reason(self.place, &self.can, &self.evaluation, check)
    }

    /// The row in words, for screen readers.
    pub(crate) fn spoken(&self, marked: bool) -> String {
        let mut name = self.name.to_owned();
        for word in self.default_value().into_iter().chain(marked.then_some("marked")) {
            name = format!("{name}, {word}");
        }
        let but: Vec<String> = Check::ALL
            .into_iter()
            .filter(|&check| self.evaluation.outcome(check) != Outcome::Pass)
            .map(|check| format!("{} {}", check_name(check), self.evaluation.outcome(check).word()))
            .collect();
        let but = if but.is_empty() { String::new() } else { format!("; {}", but.join(", ")) };
        format!("{name}: {}{but}", self.evaluation.verdict.word())
    }
}

/// A number as the table writes it.
pub(crate) fn number_in_words(column: &TableColumn, value: f64) -> String {
    use crate::app::views::candidates::quantity::Quantity;
    use crate::domain::Unit;
    match column.subject {
        Subject::Number(_, Unit::Share) if value.is_finite() => percent(value),
        Subject::Number(Quantity::Price, _) => style::price(value),
        Subject::Number(Quantity::ForNeed, _) => format!("{value:.2}"),
        _ => figure(value),
    }
}
