//! What the purchase place asks other threads for: offers, the order, few lines, the units; and the files it writes.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::Context;

use crate::app::Window;
use crate::app::actions::dialogs::FilePurpose;
use crate::app::state::edit::Edit;
use crate::app::state::selection::View;
use crate::app::state::snapshot::Snapshot;
use crate::app::views::purchase::{Answer, Found, PurchaseAction};
use crate::app::work::worker::AnyWorker;
use crate::domain::{Date, Job};
use crate::files::offers::{self, OffersRead};
use crate::files::unit_record::{self, RecordsRead};
use crate::files::{bounded, companions, purchase, save, sheets, unit_table};
use crate::sizing::{self, OrderOptions};

/// Lists of offers as read, or why not.
pub(crate) type OffersDone = Result<OffersRead, String>;
/// An order of few lines, or why there is none.
pub(crate) type OrderDone = Found;
/// The record of the units with what is to be said about it, or why it could not be used.
pub(crate) type UnitsDone = Result<(RecordsRead, Option<String>), String>;

/// What was asked for last, so that nothing is asked for twice.
#[derive(Default)]
pub(crate) struct Asked {
    offers: Option<(PathBuf, Vec<String>)>,
    purchase: Option<(Arc<Snapshot>, Arc<OffersRead>)>,
    units: Option<PathBuf>,
}

/// Whether a file is a list of offers and not a catalogue, by its first rows.
pub(crate) fn is_list_of_offers(path: &Path) -> bool {
    offers::is_list(&bounded::beginning(path))
}

impl Window {
    pub(crate) fn dispatch_purchase(&mut self, ctx: &Context, wish: PurchaseAction) {
        match wish {
            PurchaseAction::FindOrder(constraints) => self.find_order(constraints),
            PurchaseAction::StopOrder => self.places.purchase.stop_search(),
            PurchaseAction::AddRecord(record) => self.add_record(*record),
            PurchaseAction::CopyList => {
                let Some(answer) = self.places.purchase.known() else { return };
                match purchase::tab_separated(&answer.snapshot.job, &answer.purchase) {
                    Ok(table) => {
                        ctx.copy_text(table);
                        self.session.say(format!("Copied as a table: {} lines.", answer.purchase.lines.len()));
                    }
                    Err(error) => self.session.say(error.to_string()),
                }
            }
        }
    }

    /// Another job is taken in hand: nothing that was asked for or entered here concerns it.
    pub(crate) fn forget_buying(&mut self) {
        self.places.purchase.stop_search();
        self.workers.offers.cancel();
        self.workers.buying.cancel();
        self.workers.ordering.cancel();
        self.workers.units.cancel();
        self.buying_asked_for = Asked::default();
        self.places.purchase.start_anew();
    }

    /// Takes in what other threads have finished for the place, and asks them for what is missing.
    pub(crate) fn catch_up_buying(&mut self) {
        let session = &mut self.session;
        match self.workers.offers.take() {
            Some(Ok(Ok(read))) => {
                read.notes.iter().for_each(|note| session.say(note.clone()));
                let rejected = match read.rejected.len() {
                    0 => String::new(),
                    1 => "; 1 cell or row was not used, see Shelf and offers".to_owned(),
                    count => format!("; {count} cells or rows were not used, see Shelf and offers"),
                };
                let parts = if read.book.len() == 1 { "part" } else { "parts" };
                session.say(format!("Offers for {} {parts} at hand{rejected}.", read.book.len()));
                session.offers = Arc::new(read);
            }
            Some(Ok(Err(error)) | Err(error)) => {
                session.offers = Arc::default();
                session.say(error);
            }
            None => {}
        }
        if let Some(answer) = session.arrived(self.workers.buying.take()) {
            self.places.purchase.answer(answer);
        }
        if let Some(found) = session.arrived(self.workers.ordering.take()) {
            self.places.purchase.found(found);
        }
        if self.workers.ordering.busy().is_none() {
            self.places.purchase.search_ended();
        }
        if let Some((read, said)) = session.arrived(self.workers.units.take().map(Result::flatten)) {
            self.places.purchase.take_units(read, said.is_some());
            said.into_iter().for_each(|said| session.say(said));
        }
        self.ask_for_offers();
        self.ask_for_purchase();
        self.ask_for_units();
    }

    fn ask_for_offers(&mut self) {
        let (job, path) = (self.session.job().clone(), self.session.path.clone());
        let wanted = path.filter(|_| !job.offers.is_empty()).map(|path| (path, job.offers.clone()));
        if wanted == self.buying_asked_for.offers {
            return;
        }
        self.buying_asked_for.offers.clone_from(&wanted);
        self.workers.offers.cancel();
        let Some((path, _)) = wanted else {
            self.session.offers = Arc::default();
            return;
        };
        self.workers.offers.request("Reading the offers", move |_| {
            offers::read_for_job(&job, &path).map_err(|error| error.to_string())
        });
    }

    fn ask_for_purchase(&mut self) {
        let session = &self.session;
        let fresh = Arc::ptr_eq(session.job(), &session.snapshot.job);
        if session.selection.view != View::Purchase || !fresh || self.workers.offers.busy().is_some() {
            return;
        }
        let (snapshot, read) = (session.snapshot.clone(), session.offers.clone());
        let known = self.buying_asked_for.purchase.as_ref();
        if known.is_some_and(|(s, o)| Arc::ptr_eq(s, &snapshot) && Arc::ptr_eq(o, &read)) {
            return;
        }
        self.buying_asked_for.purchase = Some((snapshot.clone(), read.clone()));
        let catalog_index = session.catalog_index.clone();
        self.workers.buying.request("Adding up the order", move |_| Answer::of(snapshot, &catalog_index, read));
    }

    fn ask_for_units(&mut self) {
        let wanted = self.session.path.as_deref().map(unit_record::path_beside);
        if self.session.selection.view != View::Purchase || wanted == self.buying_asked_for.units {
            return;
        }
        self.buying_asked_for.units.clone_from(&wanted);
        self.places.purchase.take_units(RecordsRead::default(), false);
        let Some(path) = wanted else { return };
        self.workers.units.request("Reading the units", move |_| {
            let read = unit_record::read(&path).map_err(|error| error.to_string())?;
            Ok((read, None))
        });
    }

    fn add_record(&mut self, record: unit_record::UnitRecord) {
        let Some(path) = self.session.path.as_deref().map(unit_record::path_beside) else {
            return self.session.say("Save the job first: the units are recorded beside its file.");
        };
        self.workers.units.request("Recording the unit", move |_| {
            unit_record::append(&path, &record).map_err(|error| error.to_string())?;
            let read = unit_record::read(&path).map_err(|error| error.to_string())?;
            Ok((read, Some(format!("{} of {} was added to {}.", record.serial, record.date, path.display()))))
        });
    }

    fn find_order(&mut self, constraints: OrderOptions) {
        let search = self.places.purchase.start_search();
        let (job, catalog_index, read) =
            (self.session.job().clone(), self.session.catalog_index.clone(), self.session.offers.clone());
        self.workers.ordering.request("Looking for few lines", move |worker| {
            let mut seen = |progress| {
                search.report(progress);
                if worker.is_cancelled() {
                    search.stop();
                }
            };
            let order = sizing::order(&job, &catalog_index, &read.book, &constraints, search.cancel(), &mut seen);
            Found { job, order: order.map_err(|error| error.to_string()) }
        });
    }

    /// Brings a list of offers into the folder of the job and names it there.
    pub(crate) fn add_offers(&mut self, from: &Path) {
        let session = &mut self.session;
        let Some(job_path) = session.path.clone() else {
            return session.say("Save the job first: lists of offers are kept beside its file.");
        };
        if let Err(error) = offers::read_files(&[from.to_owned()]) {
            return session.say(error.to_string());
        }
        let name = match companions::bring_file(&job_path, from) {
            Ok(name) => name,
            Err(error) => return session.say(format!("{}: {error}", from.display())),
        };
        session.selection.view = View::Purchase;
        // The file may have changed since it was read.
        self.buying_asked_for.offers = None;
        if session.job().offers.contains(&name) {
            return;
        }
        let mut job = Job { boards: Vec::new(), ..Job::clone(session.job()) };
        job.offers.push(name);
        self.edit(Edit::Settings { job: Box::new(job), field: "offers".into() });
        self.session.history.close_entry();
    }

    /// Writes what goes to the supplier, to the bench or to the engineer, for the job as it is now.
    pub(crate) fn write_paper(&mut self, wish: FilePurpose, path: PathBuf) {
        let (job, catalog_index, read) =
            (self.session.job().clone(), self.session.catalog_index.clone(), self.session.offers.clone());
        self.workers.exporting.request(format!("Writing {}", path.display()), move |_| {
            let sizing = sizing::size(&job, &catalog_index);
            let today = Date::today();
            let bought = sizing::purchase(&job, &catalog_index, &sizing, &read.book, today);
            let content = match wish {
                FilePurpose::Suppliers => return write_suppliers(&path, &job, &bought),
                FilePurpose::Workbook => purchase::xlsx(&job, &bought).map_err(|error| error.to_string())?,
                FilePurpose::Worksheet => sheets::worksheet(&job, &catalog_index, &sizing, &bought, today).into_bytes(),
                FilePurpose::Justification => sheets::justification(&job, &catalog_index, &sizing, today).into_bytes(),
                _ => {
                    let mut content = Vec::new();
                    purchase::csv(&mut content, &job, &bought).map_err(|error| error.to_string())?;
                    content
                }
            };
            save(&path, &content).map_err(|error| error.to_string())?;
            Ok(format!("Written to {}.", path.display()))
        });
    }

    pub(crate) fn write_units(&mut self, path: PathBuf) {
        let Some(record) = self.session.path.as_deref().map(unit_record::path_beside) else { return };
        self.workers.exporting.request(format!("Writing {}", path.display()), move |_| {
            let read = unit_record::read(&record).map_err(|error| error.to_string())?;
            let mut content = Vec::new();
            unit_table::export(&mut content, &read.records).map_err(|error| error.to_string())?;
            save(&path, &content).map_err(|error| error.to_string())?;
            Ok(format!("{} rebuilds written to {}.", read.records.len(), path.display()))
        });
    }
}

fn write_suppliers(folder: &Path, job: &Job, bought: &sizing::Purchase) -> Result<String, String> {
    std::fs::create_dir_all(folder).map_err(|error| format!("{}: {error}", folder.display()))?;
    let (written, stale) = purchase::write_per_supplier(folder, job, bought).map_err(|error| error.to_string())?;
    let names = |paths: &[PathBuf]| {
        let names = paths.iter().filter_map(|path| path.file_name()).map(|name| name.to_string_lossy().into_owned());
        names.collect::<Vec<_>>().join(", ")
    };
    let stale = if stale.is_empty() {
        String::new()
    } else {
        format!(" Of an earlier export and not to be sent: {}.", names(&stale))
    };
    Ok(format!("Written to {}: {}.{stale}", folder.display(), names(&written)))
}
