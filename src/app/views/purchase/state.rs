//! What the purchase view remembers, and its work on other threads: offers, the order, few lines.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::Context;

use super::{answer::Answer, few_lines, lines, search::Found, shelf};
use crate::app::actions::PurchaseAction;
use crate::app::actions::refusal::OFFERS_BESIDE_JOB;
use crate::app::state::{Edit, Session, Snapshot, View};
use crate::app::widgets::drafts::Drafts;
use crate::app::work::{AnyWorker, Worker};
use crate::domain::{Date, style::counted};
use crate::files::{companions, offers, offers::OffersRead, purchase};
use crate::sizing::{self, OrderOptions, PositionSizing, Sizing};

/// Lists of offers as read, or why not.
type OffersDone = Result<OffersRead, String>;

/// What was asked for last, so that nothing is asked for twice.
#[derive(Default)]
pub(crate) struct Asked {
    offers: Option<(PathBuf, Vec<String>)>,
    purchase: Option<Arc<Snapshot>>,
}

/// The sheets of the place.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) enum Tab {
    #[default]
    Order,
    FewLines,
    Shelf,
}

/// What the place remembers.
#[derive(Default)]
pub(crate) struct PurchaseState {
    pub(super) tab: Tab,
    pub(super) drafts: Drafts,
    pub(super) answer: Option<Answer>,
    pub(super) lines: lines::State,
    pub(super) few_lines: few_lines::State,
    pub(super) shelf: shelf::State,
    asked: Asked,
    /// Offers of further suppliers.
    offers: Worker<OffersDone>,
    /// The order, added up.
    buying: Worker<Answer>,
    /// The search for the order of few lines.
    ordering: Worker<Found>,
}

impl PurchaseState {
    /// The work on other threads.
    pub(crate) fn work(&self) -> [&dyn AnyWorker; 3] {
        [&self.offers, &self.buying, &self.ordering]
    }

    /// Another job is opened: forgets everything but the sheet that is shown.
    pub(crate) fn start_anew(&mut self) {
        self.few_lines.stop();
        *self = Self { tab: self.tab, ..Self::default() };
    }

    /// Forgets the order: the parts are others now.
    pub(crate) fn forget_parts(&mut self) {
        self.buying.cancel();
        self.few_lines.outdate();
        self.answer = None;
        self.asked = Asked::default();
    }

    /// Does what the view asks for.
    pub(crate) fn dispatch(&mut self, session: &mut Session, ctx: &Context, action: &PurchaseAction) {
        match action {
            PurchaseAction::FindOrder(constraints) => self.find_order(session, *constraints),
            PurchaseAction::StopOrder => self.few_lines.stop(),
            PurchaseAction::CopyList => {
                let Some(answer) = &self.answer else { return };
                match purchase::tab_separated(&answer.snapshot.job, &answer.purchase) {
                    Ok(table) => {
                        ctx.copy_text(table);
                        let lines = counted(answer.purchase.lines.len(), "line", "lines");
                        session.say(format!("Copied as a table: {lines}."));
                    }
                    Err(error) => session.say(error.to_string()),
                }
            }
        }
    }

    /// Takes in what other threads have finished for the place, and asks them for what is missing.
    pub(crate) fn poll(&mut self, session: &mut Session) {
        match self.offers.take() {
            Some(Ok(Ok(read))) => {
                read.notes.iter().for_each(|note| session.say(note.clone()));
                let rejected = match read.rejected.len() {
                    0 => String::new(),
                    1 => "; 1 cell or row was not used, see Stock and quotes".to_owned(),
                    count => format!("; {count} cells or rows were not used, see Stock and quotes"),
                };
                let parts = if read.book.len() == 1 { "part" } else { "parts" };
                session.say(format!("Offers for {} {parts} loaded{rejected}.", read.book.len()));
                self.hold_offers(session, read);
            }
            Some(Ok(Err(error)) | Err(error)) => {
                self.hold_offers(session, OffersRead::default());
                session.say(error);
            }
            None => {}
        }
        if let Some(answer) = session.arrived(self.buying.take()) {
            self.answer = Some(answer);
        }
        if let Some(found) = session.arrived(self.ordering.take()) {
            self.few_lines.found(found);
        }
        if self.ordering.busy().is_none() {
            self.few_lines.ended();
        }
        self.ask_for_offers(session);
        session.offers_due = self.offers.busy().is_some();
        self.ask_for_purchase(session);
    }

    /// The parts are to be had at these offers from now on.
    fn hold_offers(&mut self, session: &mut Session, read: OffersRead) {
        if !read.book.is_empty() || !session.catalog_index.catalog().offers().is_empty() {
            session.catalog_index = Arc::new(session.catalog_index.with_offers(Arc::new(read.book.clone())));
            self.few_lines.outdate();
        }
        session.offers = Arc::new(read);
    }

    fn ask_for_offers(&mut self, session: &mut Session) {
        let (job, path) = (session.job().clone(), session.path.clone());
        let wanted = path.filter(|_| !job.offers.is_empty()).map(|path| (path, job.offers.clone()));
        if wanted == self.asked.offers {
            return;
        }
        self.asked.offers.clone_from(&wanted);
        self.offers.cancel();
        let Some((path, _)) = wanted else {
            return self.hold_offers(session, OffersRead::default());
        };
        self.offers.request("Reading the offers", move |_| {
            offers::read_for_job(&job, &path).map_err(|error| error.to_string())
        });
    }

    fn ask_for_purchase(&mut self, session: &Session) {
        if session.selection.view != View::Purchase || !session.is_fresh() {
            return;
        }
        let (snapshot, read) = (session.snapshot.clone(), session.offers.clone());
        if self.asked.purchase.as_ref().is_some_and(|known| Arc::ptr_eq(known, &snapshot)) {
            return;
        }
        self.asked.purchase = Some(snapshot.clone());
        self.buying.request("Adding up the order", move |_| Answer::of(snapshot, read));
    }

    fn find_order(&mut self, session: &Session, constraints: OrderOptions) {
        let search = self.few_lines.start();
        let (job, catalog_index) = (session.job().clone(), session.catalog_index.clone());
        let snapshot = session.snapshot.clone();
        let fresh = session.is_fresh();
        self.ordering.request("Looking for the order that costs least", move |worker| {
            let mut seen = |progress| {
                search.report(progress);
                if worker.is_cancelled() {
                    search.stop();
                }
            };
            let order = sizing::order(&job, &catalog_index, &constraints, search.cancel(), &mut seen);
            let order = order.map_err(|error| error.to_string());
            let anew = (!fresh).then(|| sizing::size(&job, &catalog_index));
            let sizing = anew.as_ref().unwrap_or(&snapshot.sizing);
            let changes = order.as_ref().map(|order| order.changes(&job, &catalog_index, sizing));
            let now = order.as_ref().ok().map(|order| {
                let in_order = |sized: &&PositionSizing| order.picks.iter().any(|pick| pick.position == sized.id);
                let positions = sizing.positions.iter().filter(in_order).cloned().collect();
                let only = Sizing { positions, ..Sizing::default() };
                sizing::purchase(&job, &catalog_index, &only, Date::today()).totals_of_positions(&job)
            });
            Found { changes: changes.unwrap_or_default(), now, job, order, outdated: false }
        });
    }

    /// Brings a list of offers into the folder of the job and names it there.
    pub(crate) fn add_offers(&mut self, session: &mut Session, from: &Path) {
        let Some(job_path) = session.path.clone() else {
            return session.say(OFFERS_BESIDE_JOB);
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
        self.asked.offers = None;
        if session.job().offers.contains(&name) {
            return;
        }
        session.edit(Edit::settings(session.job(), "offers", |job| job.offers.push(name)));
        session.history.close_entry();
    }
}
