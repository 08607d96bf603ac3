//! Files the life view writes: the plot for paper, the numbers of its curves.

use std::path::{Path, PathBuf};

use super::state::LifeState;
use crate::app::state::{Candidate, Scene, Session};
use crate::app::widgets::shapes;
use crate::app::work::Worker;
use crate::domain::Date;
use crate::files::{curves, life_plot, life_plot::PlotText, output, output::Outputs, output::Replace};
use crate::sizing::curves::Axis;

type Exporting = Worker<Result<String, String>>;

impl LifeState {
    /// What stands around the plot of these curves; `read` is the condition one reads at.
    pub(super) fn text(&self, scene: &Scene, axis: Axis, read: Option<(Axis, f64)>) -> PlotText {
        let board = scene.board().map_or("", |board| board.name.as_str());
        let reference = scene.position().map_or("", |(_, position)| position.reference.as_str());
        PlotText {
            job: scene.job.name.clone(),
            place: format!("{board} {reference}"),
            date: Date::today().map(|today| today.to_string()).unwrap_or_default(),
            conditions: self.variant.in_words(),
            hours_per_year: self.variant.hours_per_year.or(scene.job.hours_per_year),
            uncapped: self.uncapped,
            log: self.log,
            original: self.curves.shown.iter().position(|&shown| shown == Candidate::Original),
            evaluations: self.curves.shown.iter().map(|&shown| scene.evaluation(shown)).collect(),
            read_at: read.filter(|(of, _)| *of == axis).map(|(_, x)| x),
        }
    }

    /// Writes the first plot for paper, as a drawing or as pixels of the same: the ending of the file says which.
    pub(crate) fn write_plot(&self, session: &mut Session, exporting: &Exporting, path: PathBuf) {
        let Some([set, _]) = self.curves.sets.clone() else {
            session.say("There are no curves yet; go to the life view first.");
            return;
        };
        let text = self.text(&session.scene(), set.axis, None);
        exporting.request(format!("Writing {}", path.display()), move |_| {
            let ending = path.extension().unwrap_or_default().to_string_lossy().to_ascii_lowercase();
            let bytes = match ending.as_str() {
                "svg" => life_plot::svg(&set, &text).into_bytes(),
                "png" => shapes::png(life_plot::PAPER, |wide| life_plot::paper(&set, &text, wide))?,
                _ => {
                    return Err(format!(
                        "{}: the plot is written as *.svg or *.png; choose one of them",
                        path.display()
                    ));
                }
            };
            output::asked(&path, bytes)?;
            Ok(format!("The plot was written to {}.", path.display()))
        });
    }

    /// Writes the numbers of both plots, each to a file of its own.
    pub(crate) fn write_numbers(&self, session: &mut Session, exporting: &Exporting, path: PathBuf) {
        let scene = session.scene();
        let (Some(sets), Some((id, position))) = (self.curves.sets.clone(), scene.position()) else {
            session.say("There are no curves yet; go to the life place first.");
            return;
        };
        let board = scene.job.boards.get(id.board).map(|board| board.name.clone()).unwrap_or_default();
        let reference = position.reference.clone();
        exporting.request(format!("Writing {}", path.display()), move |_| {
            // A table has one condition in its columns, so each plot has its own file.
            let [first, second] = &sets;
            let beside = beside(&path, second.axis.word());
            let mut outputs = Outputs::new(Vec::new(), false);
            // The person was asked about the first only.
            for (path, set, replace) in [(&path, first, Replace::Asked), (&beside, second, Replace::Own)] {
                let mut bytes = Vec::new();
                curves::write(&mut bytes, &board, &reference, set).map_err(|error| error.to_string())?;
                outputs.add(path.clone(), bytes, replace);
            }
            outputs.write().map_err(|error| error.to_string())?;
            Ok(format!("The numbers were written to {} and {}.", path.display(), beside.display()))
        });
    }
}

/// The path with a word added to the name of its file: `life.csv` becomes `life-ripple.csv`.
fn beside(path: &Path, word: &str) -> PathBuf {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy()).unwrap_or_default();
    let ending = path.extension().map_or_else(String::new, |ending| format!(".{}", ending.to_string_lossy()));
    path.with_file_name(format!("{stem}-{word}{ending}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_second_file_is_named_after_the_first() {
        assert_eq!(beside(Path::new("a/life.csv"), "ripple"), Path::new("a/life-ripple.csv"));
        assert_eq!(beside(Path::new("life"), "hours"), Path::new("life-hours"));
    }
}
