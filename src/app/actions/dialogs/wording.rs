//! How each question for a file is put: title, prompt, the word on the button, the files it is about.

use super::Question;

/// What a kind of file is called, and its endings.
type Filter = (&'static str, &'static [&'static str]);

const JOB: Filter = ("Refarad job", &["json"]);
const TABLE: Filter = ("Table", &["csv"]);
const FOLDER: Filter = ("Folder", &[]);
const PAGE: Filter = ("Page", &["html"]);
const PHOTO: Filter = ("Photo", &["png", "jpg", "jpeg"]);
const PHOTO_PATH: &str = "Path of the photo (*.png, *.jpg)";
const MAPPING: Filter = ("Mapping", &["json"]);
/// Such files have any ending.
const LIST: Filter = ("Any text table, workbook or data sheet", &["*"]);
const LIST_PATH: &str = "Path of the list (a text table, a workbook or a data sheet); several with ; between them";
const READ: &str = "Read this file";

/// How a question for a file is put.
pub(super) struct Wording {
    pub title: &'static str,
    /// Before the field, where the path is typed.
    pub prompt: &'static str,
    /// On the button.
    pub verb: &'static str,
    pub filter: Filter,
    /// Name proposed for a file to write; `None` when a file is read.
    pub file_name: Option<&'static str>,
}

const fn reads(title: &'static str, prompt: &'static str, filter: Filter, verb: &'static str) -> Wording {
    Wording { title, prompt, verb, filter, file_name: None }
}

const fn writes(title: &'static str, prompt: &'static str, filter: Filter, file_name: &'static str) -> Wording {
    Wording { title, prompt, verb: "Write here", filter, file_name: Some(file_name) }
}

impl Question {
    pub(super) const fn wording(self) -> Wording {
        match self {
            Self::SaveAs { .. } => Wording {
                verb: "Save here",
                ..writes("Save the job", "Path of the job file (*.json)", JOB, "job.json")
            },
            Self::Open | Self::Leave { .. } => {
                reads("Open a job", "Path of the job file (*.json)", JOB, "Open this file")
            }
            Self::File(wish) => wish.wording(),
        }
    }
}

/// Writes the files that are read or written beside the job once: as variants, and how each is asked for.
macro_rules! purposes {
    ($($purpose:ident $wording:expr;)*) => {
        /// A file that is read or written beside the job.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(crate) enum FilePurpose { $($purpose),* }

        impl FilePurpose {
            const fn wording(self) -> Wording {
                match self { $(Self::$purpose => $wording),* }
            }
        }
    };
}

purposes! {
    LifePicture writes("Export the life plot", "Path of the plot (*.svg, *.png)", ("Plot", &["svg", "png"]), "life.svg");
    LifeNumbers writes("Write the numbers", "Path of the table (*.csv)", TABLE, "life.csv");
    TemperatureLog reads("Read a temperature log", "Path of the log (*.csv)", ("Temperature log", &["csv"]), READ);
    ScopeRecord
        reads("Read an oscilloscope record", "Path of the record (*.csv)", ("Oscilloscope record", &["csv", "txt"]), READ);
    Photo reads("Photo under the board", PHOTO_PATH, PHOTO, "Use this photo");
    Map writes("Export the map", "Path of the map (*.svg, *.png)", ("Drawing or picture", &["svg", "png"]), "board.svg");
    Offers reads("Add a list of offers", "Path of the offers (a text table or a workbook)", LIST, "Use these offers");
    Purchase writes("Write the purchase list", "Path of the list (*.csv)", TABLE, "purchase.csv");
    // A folder for lists or pages.
    Suppliers reads("Write a list for each supplier", "Folder for the lists", FOLDER, "Write here");
    Packing reads("Write packing lists and labels", "Folder for the pages", FOLDER, "Write here");
    Workbook writes("Write the workbook", "Path of the workbook (*.xlsx)", ("Workbook", &["xlsx"]), "purchase.xlsx");
    Worksheet writes("Write the worksheet", "Path of the worksheet (*.html)", PAGE, "worksheet.html");
    Inspection writes("Write the inspection", "Path of the sheet (*.html)", PAGE, "inspection.html");
    Justification
        writes("Write the justification", "Path of the justification (*.html)", PAGE, "justification.html");
    Units writes("Write the units", "Path of the table (*.csv)", TABLE, "units.csv");
    ImportList reads("Import a list", LIST_PATH, LIST, "Import these lists");
    NewFromList reads("Import a list", LIST_PATH, LIST, "Import these lists");
    NewFromPhoto reads("Choose a photo", PHOTO_PATH, PHOTO, "Use this photo");
    ReadMapping reads("Use a mapping", "Path of the mapping (*.json)", MAPPING, "Use this mapping");
    WriteMapping writes("Save the mapping", "Path of the mapping (*.json)", MAPPING, "mapping.json");
    WriteRejected writes("Save what is not used", "Path of the table (*.csv)", TABLE, "rejected.csv");
}
