//! Files the life view writes: a picture of what is seen, the numbers of its curves.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use egui::{ColorImage, Context};

use crate::app::state::session::Session;
use crate::app::views::life::picture;
use crate::app::views::life::state::LifeState;
use crate::app::work::worker::Worker;
use crate::domain::Date;
use crate::files::curves;
use crate::files::life_plot::{self, PlotText};
use crate::files::output::{self, Outputs, Replace};

type Exporting = Worker<Result<String, String>>;

/// Where a picture of the window arrives.
type Slot = Arc<Mutex<Option<Arc<ColorImage>>>>;

/// A picture of the Life view: wanted, asked for, or arrived.
#[derive(Default)]
pub(crate) struct Picture {
    /// Where it is to be written; asked for in the next frame, which no question covers.
    wanted: Option<PathBuf>,
    on_its_way: Option<(PathBuf, Slot)>,
}

impl LifeState {
    /// A picture is wanted; it is taken in the next frame, which no question covers.
    pub(crate) fn want_picture(&mut self, path: PathBuf) {
        self.picture.wanted = Some(path);
    }

    /// Asks for the picture that is wanted, and writes the one that has arrived.
    pub(crate) fn take_picture(&mut self, ctx: &Context, exporting: &Exporting) {
        if let Some(path) = self.picture.wanted.take() {
            let slot = Slot::default();
            let (filled, waker) = (slot.clone(), ctx.clone());
            ctx.request_screenshot(move |image| {
                *filled.lock().unwrap_or_else(PoisonError::into_inner) = Some(image);
                waker.request_repaint();
            });
            self.picture.on_its_way = Some((path, slot));
            return;
        }
        let Some((path, slot)) = &self.picture.on_its_way else { return };
        let Some(image) = slot.lock().unwrap_or_else(PoisonError::into_inner).take() else { return };
        let path = path.clone();
        self.picture.on_its_way = None;
        let (area, scale) = (self.area, ctx.pixels_per_point());
        exporting.request(format!("Writing {}", path.display()), move |_| {
            let cut = picture::cut(&image, area, scale).ok_or("There is nothing to see of the Life view.")?;
            output::asked(&path, picture::encode(&cut)?)?;
            Ok(format!("The picture was written to {}.", path.display()))
        });
    }

    /// Writes the first plot for paper; the candidates in sight with how they fare.
    pub(crate) fn write_plot(&self, session: &mut Session, exporting: &Exporting, path: PathBuf) {
        let scene = session.scene();
        let (Some([set, _]), Some((id, _))) = (self.curves.sets.clone(), scene.position()) else {
            session.say("There are no curves yet; go to the life view first.");
            return;
        };
        let board = scene.job.boards.get(id.board).map(|board| board.name.as_str()).unwrap_or_default();
        let text = PlotText {
            job: scene.job.name.clone(),
            place: format!("{board} {}", scene.reference(id)),
            date: Date::today().map(|today| today.to_string()).unwrap_or_default(),
            hours_per_year: scene.job.hours_per_year,
            uncapped: self.uncapped,
            evaluations: self.curves.shown.iter().map(|&shown| scene.evaluation(shown)).collect(),
        };
        exporting.request(format!("Writing {}", path.display()), move |_| {
            output::asked(&path, life_plot::svg(&set, &text).into_bytes())?;
            Ok(format!("The plot was written to {}.", path.display()))
        });
    }

    /// Writes the numbers of both plots, each to a file of its own.
    pub(crate) fn write_numbers(&self, session: &mut Session, exporting: &Exporting, path: PathBuf) {
        let scene = session.scene();
        let (Some(sets), Some((id, position))) = (self.curves.sets.clone(), scene.position()) else {
            session.say("There are no curves yet; go to the Life view first.");
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
