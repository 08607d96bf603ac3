//! What every heading and every field means: one table, read by the hover texts of all views, by the editor and by the help.

use std::sync::LazyLock;

use egui::{Label, Response, RichText, Role, Sense, Ui, WidgetInfo};

use crate::domain::{schema, schema::About};

/// The explanation of one field or heading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Explanation {
    /// What it is looked up by: the path of a field in the job file (`stress.dc_v`), else a plain word (`headroom`).
    pub name: &'static str,
    /// What it is called on screen.
    pub label: &'static str,
    /// What it means.
    pub text: &'static str,
    /// How it is computed, or how it enters; empty where nothing is computed.
    pub formula: &'static str,
    /// Where the formula or the usual value comes from; empty where nothing is claimed.
    pub source: &'static str,
}

/// The headings of tables, plots and lists, as `headings.txt` has them.
static HEADINGS: LazyLock<Vec<Explanation>> =
    LazyLock::new(|| include_str!("headings.txt").split("\n[").skip(1).map(Explanation::read).collect());

impl Explanation {
    /// A paragraph of `headings.txt` after its first bracket.
    fn read(paragraph: &'static str) -> Self {
        let mut lines = paragraph.lines().filter(|line| !line.is_empty());
        let (name, label) = lines.next().and_then(|head| head.split_once("] ")).unwrap_or_default();
        let mut all = Self { name, label, text: "", formula: "", source: "" };
        for line in lines {
            match (line.strip_prefix("= "), line.strip_prefix("from ")) {
                (Some(formula), _) => all.formula = formula,
                (_, Some(source)) => all.source = source,
                _ => all.text = line,
            }
        }
        all
    }
}

/// The headings of tables, plots and lists.
pub(crate) fn headings() -> impl Iterator<Item = &'static Explanation> {
    HEADINGS.iter()
}

/// The explanation of a heading, else of a field of the schema.
pub(crate) fn of(name: &str) -> Option<Explanation> {
    let heading = headings().find(|explanation| explanation.name == name).copied();
    heading.or_else(|| {
        let About { path, label, meaning, formula, source, .. } = *schema::find(name)?;
        Some(Explanation { name: path, label, text: meaning, formula, source })
    })
}

/// Shows the explanation of `name` while the pointer rests on the response; screen readers hear its first line.
pub(crate) fn on(response: Response, name: &str) -> Response {
    let Some(explanation) = of(name) else { return response };
    response.ctx.accesskit_node_builder(response.id, |node| node.set_description(explanation.text));
    response.on_hover_ui(|ui| show(ui, &explanation))
}

/// A heading that explains itself.
pub(crate) fn heading(ui: &mut Ui, text: impl Into<String>, name: &str) -> Response {
    let text = text.into();
    let response = ui.add(Label::new(RichText::new(&text).strong().size(15.0)).sense(Sense::hover()));
    response.widget_info(|| WidgetInfo::labeled(Role::Heading, true, &text));
    on(response, name)
}

/// What is drawn already as a heading that explains itself.
pub(crate) fn titled(response: Response, text: &str, name: &str) -> Response {
    response.widget_info(|| WidgetInfo::labeled(Role::Heading, true, text));
    on(response, name)
}

/// A strong line above a list that explains itself.
pub(crate) fn strong(ui: &mut Ui, text: &str, name: &str) -> Response {
    titled(ui.strong(text), text, name)
}

/// The quiet heading of a column that explains itself.
pub(crate) fn column(ui: &mut Ui, text: &str, name: &str) -> Response {
    // A heading may stand in two lines; it is read as one.
    titled(ui.label(RichText::new(text).weak()), &text.replace('\n', " "), name)
}

/// Draws an explanation: the meaning, the formula, the source.
pub(crate) fn show(ui: &mut Ui, explanation: &Explanation) {
    ui.set_max_width(420.0);
    ui.label(explanation.text);
    if !explanation.formula.is_empty() {
        ui.monospace(explanation.formula);
    }
    if !explanation.source.is_empty() {
        ui.weak(format!("Source: {}", explanation.source));
    }
}

/// The name of a cost with the currency of the job: `Cost of a teardown, EUR`. `None` for what is no cost, and without a currency.
pub(crate) fn in_currency(job: &crate::domain::Job, name: &str) -> Option<String> {
    let currency = job.currency.as_deref().filter(|_| matches!(name, "job.line_cost" | "job.teardown_cost"))?;
    Some(format!("{}, {currency}", of(name)?.label))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Check, Outcome};
    use std::collections::HashSet;

    #[test]
    fn every_explanation_has_its_own_name_and_says_something() {
        let names: HashSet<_> = headings().map(|e| e.name).collect();
        assert_eq!(names.len(), headings().count());
        // A paragraph that is not understood would be lost in silence.
        assert_eq!(names.len(), include_str!("headings.txt").matches("\n\n").count());
        for e in headings() {
            assert!(e.text.ends_with('.') && !e.label.is_empty() && !e.name.is_empty(), "{}", e.name);
            assert!(e.formula.is_empty() || !e.source.is_empty(), "{} has a formula without a source", e.name);
        }
    }

    #[test]
    fn every_check_and_every_outcome_is_explained() {
        let checks = Check::ALL.iter().map(|check| check.word().to_owned());
        let outcomes = Outcome::ALL.iter().map(|outcome| outcome.word().to_owned());
        for name in checks.chain(outcomes) {
            assert!(of(&name).is_some(), "{name}");
        }
    }
}
