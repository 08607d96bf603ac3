//! Files beside the job: what is written from a place, and what is read into one.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use egui::{ColorImage, Context};

use crate::app::Window;
use crate::app::actions::dialogs::FilePurpose;
use crate::app::views::life;
use crate::files::{curves, save};
use crate::sizing::size;

/// Where a picture of the window arrives.
type Slot = Arc<Mutex<Option<Arc<ColorImage>>>>;

/// A picture of the life place: wanted, asked for, or arrived.
#[derive(Default)]
pub(crate) struct Picture {
    /// Where it is to be written; asked for in the next frame, which no question covers.
    wanted: Option<PathBuf>,
    on_its_way: Option<(PathBuf, Slot)>,
}

impl Window {
    /// Asks for the picture that is wanted, and writes the one that has arrived.
    pub(crate) fn take_picture(&mut self, ctx: &Context) {
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
        let (area, scale) = (self.places.life.area, ctx.pixels_per_point());
        self.workers.exporting.request(format!("Writing {}", path.display()), move |_| {
            let cut = life::cut(&image, area, scale).ok_or("There is nothing to see of the life place.")?;
            save(&path, &life::encode(&cut)?).map_err(|error| error.to_string())?;
            Ok(format!("The picture was written to {}.", path.display()))
        });
    }

    /// Does with a file what was wished.
    pub(crate) fn use_file(&mut self, wish: FilePurpose, path: PathBuf) {
        match wish {
            FilePurpose::LifePicture => {
                self.picture.wanted = Some(path);
                if let Some(ctx) = self.waker.get() {
                    ctx.request_repaint();
                }
            }
            FilePurpose::LifeNumbers => self.write_numbers(path),
            FilePurpose::Photo => self.use_photo(&path),
            FilePurpose::Map => self.export_map(path),
            FilePurpose::TemperatureLog => self.read_into_life(path, life::Reading::log),
            FilePurpose::ScopeRecord => self.read_into_life(path, life::Reading::record),
            FilePurpose::Offers => self.add_offers(&path),
            FilePurpose::Units => self.write_units(path),
            FilePurpose::Purchase
            | FilePurpose::Suppliers
            | FilePurpose::Workbook
            | FilePurpose::Worksheet
            | FilePurpose::Justification => self.write_paper(wish, path),
            FilePurpose::ImportList => self.open_list(path),
            FilePurpose::ReadMapping => self.read_mapping(&path),
            FilePurpose::WriteMapping => self.write_mapping(path),
            FilePurpose::WriteRejected => self.write_import_rejected(path),
        }
    }

    /// Reads a file of measurements for the life place.
    pub(crate) fn read_into_life(&self, path: PathBuf, read: fn(&Path) -> Result<life::Reading, String>) {
        self.workers.readings.request(format!("Reading {}", path.display()), move |_| read(&path));
    }

    fn write_numbers(&mut self, path: PathBuf) {
        let scene = self.session.scene();
        let (Some(sets), Some((id, position))) = (self.places.life.sets().cloned(), scene.position()) else {
            self.session.say("There are no curves yet; go to the life place first.");
            return;
        };
        let board = scene.job.boards.get(id.board).map(|board| board.name.clone()).unwrap_or_default();
        let reference = position.reference.clone();
        self.workers.exporting.request(format!("Writing {}", path.display()), move |_| {
            // A table has one condition in its columns, so each plot has its own file.
            let [first, second] = &sets;
            let beside = beside(&path, second.axis.word());
            for (path, set) in [(&path, first), (&beside, second)] {
                let mut bytes = Vec::new();
                curves::write(&mut bytes, &board, &reference, set).map_err(|error| error.to_string())?;
                save(path, &bytes).map_err(|error| error.to_string())?;
            }
            Ok(format!("The numbers were written to {} and {}.", path.display(), beside.display()))
        });
    }

    /// Draws the map as it is seen into a file.
    fn export_map(&mut self, path: PathBuf) {
        let request = self.places.board.export(&self.session.scene());
        let (job, catalog_index) = (self.session.job().clone(), self.session.catalog_index.clone());
        self.workers.map.request(format!("Drawing {}", path.display()), move |_| {
            let sizing = size(&job, &catalog_index);
            let drawn = request.draw(&job, catalog_index.catalog(), &sizing, &path)?;
            save(&path, &drawn).map_err(|error| error.to_string())?;
            Ok(format!("The map is written to {}.", path.display()))
        });
    }
    /// Takes in what was read for the life place and what was written.
    pub(crate) fn catch_up_beside(&mut self) {
        let Self { session, workers, places, .. } = self;
        if let Some(answers) = session.arrived(workers.answering.take()) {
            places.life.answer(answers);
        }
        if let Some(reading) = session.arrived(workers.readings.take().map(Result::flatten)) {
            session.say(places.life.take_reading(reading));
        }
        for written in [&workers.exporting, &workers.map] {
            if let Some(said) = session.arrived(written.take().map(Result::flatten)) {
                session.say(said);
            }
        }
    }

    /// Asks for what the panels of the life place show.
    pub(crate) fn ask_for_answers(&mut self) {
        if let Some((path, column)) = self.places.life.other_column() {
            self.workers
                .readings
                .request(format!("Reading {}", path.display()), move |_| life::Reading::column_of_log(&path, &column));
        }
        let Some(question) = self.places.life.next_question(&self.session) else { return };
        let (catalog_index, board) = (self.session.catalog_index.clone(), self.places.life.known_board());
        self.workers
            .answering
            .request("Working out the answers", move |_| life::Answers::of(question, &catalog_index, board.as_ref()));
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
