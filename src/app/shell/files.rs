//! What becomes of a file that was chosen, dropped or named.

use std::path::{Path, PathBuf};

use egui::Context;

use crate::app::Window;
use crate::app::actions::{
    Action, Command, dialogs::FilePurpose, dialogs::Question, paste_drop, paste_drop::FileKind, refusal::refusal,
};
use crate::app::state::{Session, View};
use crate::app::storage::{catalog_sources, papers, photo};
use crate::app::views::life::Reading;
use crate::app::views::start::Origin;
use crate::app::work::AnyWorker;
use crate::domain::{Board, Job, Side};
use crate::files::datasheet;

impl Window {
    /// Reads or writes the file that was chosen.
    pub(super) fn use_file(&mut self, purpose: FilePurpose, path: PathBuf) {
        let Self { session, views, workers, .. } = self;
        let exporting = &workers.exporting;
        match purpose {
            FilePurpose::LifePicture => views.life.write_plot(session, exporting, path),
            FilePurpose::LifeNumbers => views.life.write_numbers(session, exporting, path),
            FilePurpose::Photo => photo::lay_under(session, views.board.side(), &path),
            FilePurpose::Map => views.board.write(session, &workers.map, path),
            FilePurpose::TemperatureLog => views.life.read(path, Reading::log),
            FilePurpose::ScopeRecord => views.life.read(path, Reading::record),
            // One with headers of its own is read as any list.
            FilePurpose::Offers if !paste_drop::is_offers(&path) => self.open_list(path),
            FilePurpose::Offers => views.purchase.add_offers(session, &path),
            FilePurpose::Units => papers::write_units(session, exporting, path),
            FilePurpose::Purchase
            | FilePurpose::Suppliers
            | FilePurpose::Packing
            | FilePurpose::Workbook
            | FilePurpose::Worksheet
            | FilePurpose::Inspection
            | FilePurpose::Justification => papers::write_paper(session, exporting, purpose, path),
            FilePurpose::ImportList => self.open_list(path),
            FilePurpose::NewFromList => self.begin_from(Origin::List, path),
            FilePurpose::NewFromPhoto => self.begin_from(Origin::Photo, path),
            FilePurpose::ReadMapping => views.import.read_mapping(session, &path),
            FilePurpose::WriteMapping => views.import.write_mapping(session, exporting, path),
            FilePurpose::WriteRejected => views.import.write_rejected(session, exporting, path),
        }
    }

    /// Asks what there is to say of a new job that begins with a file.
    fn begin_from(&mut self, origin: Origin, path: PathBuf) {
        self.session.selection.view = View::Start;
        self.views.start.add(origin, path);
    }

    /// Opens a new job, with the lists or the photo it begins from.
    pub(super) fn begin(&mut self, mut job: Job) {
        let Some(draft) = self.views.start.draft.take() else { return };
        if draft.origin == Origin::Photo {
            job.boards.push(Board { name: "Board 1".into(), ..Board::default() });
        }
        self.hold_session(Session::begun(job));
        let view = match draft.origin {
            Origin::List | Origin::Imported => View::Import,
            Origin::Photo | Origin::Empty => View::Board,
        };
        self.session.selection.view = view;
        if !draft.files.is_empty() {
            // Lists that were open belong to the job before.
            self.views.import.close_all();
        }
        for path in draft.files {
            match draft.origin {
                Origin::Photo => photo::lay_under(&mut self.session, Side::Top, &path),
                _ => self.open_list(path),
            }
        }
        self.views.start.conditions_due = draft.origin == Origin::List;
        if self.views.import.is_empty() {
            self.ask_conditions();
        }
    }

    /// Begins the job of the lists that were brought, once no further one is to come.
    pub(super) fn begin_lists(&mut self) {
        let waits = self.dialogs.is_open() || self.dialogs.has_answer() || self.workers.loading.busy().is_some();
        if waits || self.views.start.ready.is_some() {
            return;
        }
        let Some(job) = self.views.start.of_lists() else { return };
        if self.session.is_dirty() {
            self.views.start.ready = Some(Box::new(job));
            self.dialogs.ask(Question::Leave { then: Command::NewJob });
        } else {
            self.begin(job);
        }
    }

    /// Asks what holds for a job that began with lists, once.
    pub(super) fn ask_conditions(&mut self) {
        if std::mem::take(&mut self.views.start.conditions_due) {
            let left = self.views.import.done.as_ref().and_then(|done| done.left.clone());
            self.views.start.begin(Origin::Imported).left_out = left;
            self.session.selection.view = View::Start;
        }
    }

    /// Opens a list in Import; one with the headers of a catalogue is added as it is.
    fn open_list(&mut self, path: PathBuf) {
        if self.session.is_invented() {
            return self.begin_from(Origin::List, path);
        }
        if paste_drop::is_catalogue(&path) {
            return catalog_sources::add(&mut self.session, &self.workers.catalogs, path);
        }
        self.session.selection.view = View::Import;
        self.views.import.open(path);
    }

    /// Uses a file that was dropped or chosen from the recent ones by its kind.
    pub(super) fn take_file(&mut self, ctx: &Context, path: PathBuf) {
        let Self { session, views, workers, .. } = self;
        // Nothing of one's own goes into the demo.
        let asks = views.start.draft.as_ref().is_some_and(|draft| draft.origin == Origin::Imported);
        let starts = session.selection.view == View::Start && !asks || session.is_invented();
        match paste_drop::kind_of(&path, session.selection.view) {
            FileKind::Catalogue | FileKind::List | FileKind::Offers if starts => self.begin_from(Origin::List, path),
            FileKind::Photo if starts => self.begin_from(Origin::Photo, path),
            FileKind::Mapping => views.import.read_mapping(session, &path),
            FileKind::Job => {
                self.opening = Some(path);
                self.dispatch(ctx, Action::Run(Command::Open));
            }
            FileKind::Readings => views.life.read(path, Reading::either),
            FileKind::Offers => views.purchase.add_offers(session, &path),
            FileKind::Photo => match refusal(session, Command::UsePhoto) {
                Some(reason) => session.say(reason),
                None => photo::lay_under(session, views.board.side(), &path),
            },
            FileKind::Other => session.say(format!(
                "{}: expected a job (*.json), a list (*.csv, *.txt, *.xlsx, *.ods ...) or a photo (*.png, *.jpg).",
                path.display()
            )),
            FileKind::Catalogue => catalog_sources::add(session, &workers.catalogs, path),
            FileKind::List => self.open_list(path),
        }
    }

    /// A data sheet lies beside the job, beside a catalogue, or is open in Import.
    pub(super) fn show_datasheet(&mut self, mark: &str) {
        let Self { session, views, .. } = self;
        let Some((name, page, place)) = datasheet::place_of(mark) else { return };
        let catalogues = session.stock.listed.iter().filter_map(|catalog| catalog.path.as_deref());
        let folders = session.path.as_deref().into_iter().chain(catalogues).filter_map(Path::parent);
        let known = views.import.path_of(name);
        match known.or_else(|| folders.map(|folder| folder.join(name)).find(|path| path.exists())) {
            Some(path) => {
                views.import.show_place(path, page, place);
                session.selection.view = View::Import;
            }
            None => session.say(format!(
                "{name} lies neither beside the job nor beside a catalogue. Open it in Import, then choose this again."
            )),
        }
    }
}
