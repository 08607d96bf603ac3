//! Why a call ends with status 2, each in one line for standard error.

use std::fmt::Display;
use std::io;
use std::path::{Path, PathBuf};

use crate::files::SaveError;
use crate::files::import::mapping::MappingError;
use crate::files::import::source::SourceError;
use crate::files::job::JobError;
use crate::files::load::LoadError;
use crate::files::oscilloscope::ScopeError;
use crate::files::output::OutputError;
use crate::files::parts::PartsError;
use crate::files::photo::PhotoError;
use crate::files::temperature_log::LogError;
use crate::files::unit_record::RecordError;
use crate::physics::waveform;
use crate::sizing::OrderError;
use crate::sizing::circuit::CircuitFault;

const OVERWRITE: &str = "; --overwrite replaces it and keeps it as NAME.previous";
const AGAIN: &str = "; --again records a second rebuild";

/// A call or a file could not be used.
#[derive(Debug, thiserror::Error)]
pub(super) enum Failure {
    /// What was typed is no call of the program.
    #[error("{0}")]
    Call(String),
    /// A word or a file of the call is not what was expected.
    #[error("{of}: expected {what}")]
    Expected { of: String, what: String },
    #[error(transparent)]
    Job(#[from] JobError),
    #[error(transparent)]
    Load(#[from] LoadError),
    #[error(transparent)]
    Parts(#[from] PartsError),
    #[error(transparent)]
    List(#[from] SourceError),
    #[error(transparent)]
    Mapping(#[from] MappingError),
    #[error("{}: fits no file: {why}", path.display())]
    UnfitMapping { path: PathBuf, why: String },
    #[error("lists of several kinds cannot go into one file ({0}); read them one after the other, or say --as")]
    TwoKinds(String),
    /// A value given for every position.
    #[error("--every {0}")]
    Every(String),
    #[error("{0}{helps}", helps = if .0.can_be_overruled() { OVERWRITE } else { "" })]
    Output(#[from] OutputError),
    #[error(transparent)]
    Save(#[from] SaveError),
    #[error("{}: is there already and is not replaced; choose another folder", .0.display())]
    There(PathBuf),
    #[error("{}: of a later version, so it is not written again", .0.display())]
    Newer(PathBuf),
    #[error("{}: {source}", job.display())]
    Order { job: PathBuf, source: OrderError },
    #[error(
        "{number} of the parts to order are invented and cannot be bought ({shown}); use another catalogue, or say --invented"
    )]
    Invented { number: usize, shown: String },
    #[error(transparent)]
    Photo(#[from] PhotoError),
    #[error(transparent)]
    Log(#[from] LogError),
    #[error(transparent)]
    Scope(#[from] ScopeError),
    #[error("{}: {source}", path.display())]
    Waveform { path: PathBuf, source: waveform::RecordError },
    #[error("{kind}: {source}")]
    Circuit { kind: &'static str, source: CircuitFault },
    #[error("{0}{helps}", helps = if matches!(.0, RecordError::Again { .. }) { AGAIN } else { "" })]
    Record(#[from] RecordError),
    /// The record cannot be mended later, so it is not added with a gap nobody saw.
    #[error("{}: line {line}: nothing was added; mend the list first", path.display())]
    Values { path: PathBuf, line: u64 },
    #[error("the clock of this machine is off; give the day by --date")]
    NoClock,
    #[error("{what}: {source}")]
    System { what: String, source: io::Error },
    #[error(transparent)]
    Table(#[from] csv::Error),
    #[error(transparent)]
    Json(#[from] serde_json::Error),
}

impl Failure {
    /// `of`, an option with its value or a file, was expected to be `what`.
    pub(super) fn expected(of: impl Display, what: impl Into<String>) -> Self {
        Self::Expected { of: of.to_string(), what: what.into() }
    }

    /// The same of a file.
    pub(super) fn of_file(path: &Path, what: impl Into<String>) -> Self {
        Self::expected(path.display(), what)
    }

    /// What the system said of `what`.
    pub(super) fn system(what: impl Display) -> impl FnOnce(io::Error) -> Self {
        move |source| Self::System { what: what.to_string(), source }
    }
}
