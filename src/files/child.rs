//! What parses binary files of strangers runs in a process of its own: a second copy of this program, with limits on memory and time, that
//! gets the file as its input and writes what it read to its output. Whatever such a file does to the reader, this process goes on.
//!
//! `main` calls [`serve`] before anything else; [`read`] starts the copy. A test, whose program is another one, names the program by
//! [`use_program`].

use std::ffi::OsString;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitCode, Stdio};
use std::sync::OnceLock;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::bounded;
use crate::progress::Progress;

/// First argument of the copy; the name of the reader follows.
const ARGUMENT: &str = "--read-apart";
/// Most bytes of a file that is read apart.
pub const FILE_BYTES_MAX: u64 = 64 << 20;
/// Most bytes of memory of the copy, its program included.
const MEMORY_BYTES_MAX: u64 = 1 << 30;
/// Most bytes of an answer.
const ANSWER_BYTES_MAX: u64 = 64 << 20;
/// Most bytes that are kept of what a failing copy says.
const COMPLAINT_BYTES_MAX: u64 = 4 << 10;
/// How often the waiting side looks whether the answer is still wanted.
const LOOK_EVERY: Duration = Duration::from_millis(20);

/// What reads one kind of file apart.
pub trait Apart {
    /// Its name on the command line of the copy.
    const NAME: &'static str;
    /// How long it may take, in seconds.
    const SECONDS_MAX: u64;
    /// What it makes of a file.
    type Answer: Serialize + DeserializeOwned;

    /// Reads a file of at most [`FILE_BYTES_MAX`]; `asked` says what of it is wanted where there is a choice.
    ///
    /// # Errors
    /// Why the file cannot be used, as the end of a sentence that begins with its name.
    fn read(bytes: &[u8], asked: &str) -> Result<Self::Answer, String>;
}

/// A row of the list of readers that a program serves.
#[derive(Debug, Clone, Copy)]
pub struct Reader {
    name: &'static str,
    answer: fn(&[u8], &str) -> Result<Vec<u8>, String>,
}

/// The row of a reader.
pub const fn reader<R: Apart>() -> Reader {
    Reader { name: R::NAME, answer: encoded::<R> }
}

/// Why a file could not be read apart.
#[expect(missing_docs, reason = "the fields stand in the messages")]
#[derive(Debug, thiserror::Error)]
pub enum ChildError {
    /// The file could not be read from the disk, is no ordinary file or too large.
    #[error("{}: {source}", path.display())]
    Unreadable { path: PathBuf, source: io::Error },
    /// The copy could not be started.
    #[error("{}: the process that reads such files could not be started: {source}", path.display())]
    NoProcess { path: PathBuf, source: io::Error },
    /// Time is up.
    #[error("{}: took more than {seconds} s to read, so reading was stopped", path.display())]
    TooSlow { path: PathBuf, seconds: u64 },
    /// More memory than it may have.
    #[error("{}: needs more than {} MB of memory to read", path.display(), MEMORY_BYTES_MAX >> 20)]
    TooMuchMemory { path: PathBuf },
    /// More content than is taken.
    #[error("{}: holds more than {} MB of text, which is more than is read", path.display(), ANSWER_BYTES_MAX >> 20)]
    TooMuchText { path: PathBuf },
    /// The reader fell over the file.
    #[error("{}: the file is damaged or of an unknown make: the reader failed on it", path.display())]
    Failed { path: PathBuf },
    /// The reader says why not.
    #[error("{}: {why}", path.display())]
    Refused { path: PathBuf, why: String },
    /// Nobody wants it any more.
    #[error("{}: reading was stopped", path.display())]
    Cancelled { path: PathBuf },
}

static PROGRAM: OnceLock<PathBuf> = OnceLock::new();

/// Names the program whose copies read apart, one whose `main` calls [`serve`]; the first name given holds.
pub fn use_program(path: PathBuf) {
    // A second name comes too late, as is said above.
    let _ = PROGRAM.set(path);
}

/// For the very start of `main`: in a copy does its work and says how it ended; in the program itself returns `None`, and from then on
/// the program can start copies.
pub fn serve(readers: &[Reader]) -> Option<ExitCode> {
    let mut arguments = std::env::args_os().skip(1);
    if arguments.next().is_none_or(|first| first != ARGUMENT) {
        // Without a path of its own a program reads nothing apart, which `read` says.
        let _ = std::env::current_exe().map(use_program);
        return None;
    }
    let name = arguments.next().unwrap_or_default();
    let asked = arguments.next().unwrap_or_default().to_string_lossy().into_owned();
    let served = readers.iter().find(|reader| name == reader.name);
    Some(served.map_or(ExitCode::from(2), |reader| answer_on_output(reader.answer, &asked)))
}

/// What the copy does: limits first, then the file.
fn answer_on_output(answer: fn(&[u8], &str) -> Result<Vec<u8>, String>, asked: &str) -> ExitCode {
    if limit_self().is_err() {
        return ExitCode::from(2);
    }
    let mut bytes = Vec::new();
    if io::stdin().take(FILE_BYTES_MAX + 1).read_to_end(&mut bytes).is_err() {
        return ExitCode::from(2);
    }
    let (mark, content) = match answer(&bytes, asked) {
        Ok(content) => (b'+', content),
        Err(why) => (b'-', why.into_bytes()),
    };
    let mut out = io::stdout().lock();
    let written = out.write_all(&[mark]).and_then(|()| out.write_all(&content)).and_then(|()| out.flush());
    if written.is_ok() { ExitCode::SUCCESS } else { ExitCode::from(2) }
}

/// A reader's answer as bytes.
fn encoded<R: Apart>(bytes: &[u8], asked: &str) -> Result<Vec<u8>, String> {
    serde_json::to_vec(&R::read(bytes, asked)?).map_err(|error| error.to_string())
}

/// Bounds this process: its memory, its processor time should nobody be left to stop it, no core file and no other file written.
#[cfg(unix)]
fn limit_self() -> io::Result<()> {
    use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
    /// Longer than any reader may take.
    const PROCESSOR_SECONDS_MAX: u64 = 120;
    let limits = [
        (Resource::As, MEMORY_BYTES_MAX),
        (Resource::Cpu, PROCESSOR_SECONDS_MAX),
        (Resource::Core, 0),
        (Resource::Fsize, 0),
    ];
    for (resource, most) in limits {
        // A limit of the system below ours stays.
        let most = getrlimit(resource).maximum.map_or(most, |set| set.min(most));
        setrlimit(resource, Rlimit { current: Some(most), maximum: Some(most) })?;
    }
    Ok(())
}

/// Elsewhere a process cannot bound its memory by itself; the bounds on file, time and answer hold all the same.
#[cfg(not(unix))]
fn limit_self() -> io::Result<()> {
    Ok(())
}

/// Reads a file in a copy of the program.
///
/// # Errors
/// When the file is no ordinary file of at most [`FILE_BYTES_MAX`], when reading it breaks a limit or fails, when the reader refuses it, and
/// once `progress` is cancelled.
pub fn read<R: Apart>(path: &Path, progress: &Progress) -> Result<R::Answer, ChildError> {
    read_asked::<R>(path, "", progress)
}

/// [`read`] of what is asked for.
///
/// # Errors
/// As [`read`].
pub fn read_asked<R: Apart>(path: &Path, asked: &str, progress: &Progress) -> Result<R::Answer, ChildError> {
    let of = || path.to_owned();
    let file = bounded::open(path, FILE_BYTES_MAX).map_err(|source| ChildError::Unreadable { path: of(), source })?;
    let no_process = |source| ChildError::NoProcess { path: of(), source };
    let program =
        PROGRAM.get().ok_or_else(|| no_process(io::Error::other("this program does not say where it lies")))?;
    let arguments: [OsString; 3] = [ARGUMENT.into(), R::NAME.into(), asked.into()];
    let mut child = Command::new(program)
        .args(arguments)
        .stdin(file)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(no_process)?;
    let outcome = wait::<R>(&mut child, path, progress);
    // It may be over already; it must not outlive the answer.
    let _ = child.kill();
    let _ = child.wait();
    outcome
}

/// What a copy wrote: its answer, and what it said of a failure.
struct Written {
    answer: Vec<u8>,
    complaint: Vec<u8>,
}

fn wait<R: Apart>(child: &mut Child, path: &Path, progress: &Progress) -> Result<R::Answer, ChildError> {
    let of = || path.to_owned();
    let deadline = Instant::now() + Duration::from_secs(R::SECONDS_MAX);
    let written = collect(child);
    let written = loop {
        match written.recv_timeout(LOOK_EVERY) {
            Ok(written) => break written,
            Err(RecvTimeoutError::Disconnected) => return Err(ChildError::Failed { path: of() }),
            Err(RecvTimeoutError::Timeout) if progress.is_cancelled() => {
                return Err(ChildError::Cancelled { path: of() });
            }
            Err(RecvTimeoutError::Timeout) if Instant::now() >= deadline => {
                return Err(ChildError::TooSlow { path: of(), seconds: R::SECONDS_MAX });
            }
            Err(RecvTimeoutError::Timeout) => {}
        }
    };
    if progress.is_cancelled() {
        return Err(ChildError::Cancelled { path: of() });
    }
    understood::<R>(&written.answer).map_err(|fault| match fault {
        Fault::Refused(why) => ChildError::Refused { path: of(), why },
        Fault::TooLong => ChildError::TooMuchText { path: of() },
        Fault::Damaged if out_of_memory(&written.complaint) => ChildError::TooMuchMemory { path: of() },
        Fault::Damaged => ChildError::Failed { path: of() },
    })
}

/// Reads both outputs, each on a thread of its own, so that neither can block the copy or the wait.
fn collect(child: &mut Child) -> Receiver<Written> {
    let (sender, receiver) = channel();
    let (out, complaints) = (child.stdout.take(), child.stderr.take());
    std::thread::spawn(move || {
        let complaint = std::thread::spawn(move || complaints.map(|pipe| up_to(pipe, COMPLAINT_BYTES_MAX)));
        let answer = out.map(|pipe| up_to(pipe, ANSWER_BYTES_MAX + 1)).unwrap_or_default();
        let complaint = complaint.join().ok().flatten().unwrap_or_default();
        // Whoever waited may have given up.
        let _ = sender.send(Written { answer, complaint });
    });
    receiver
}

fn up_to(pipe: impl Read, bytes_max: u64) -> Vec<u8> {
    let mut bytes = Vec::new();
    // What came before an error is judged as it stands.
    let _ = pipe.take(bytes_max).read_to_end(&mut bytes);
    bytes
}

/// Whether a copy ended because memory was refused to it: the allocator's last words, or those of a collection asked for too much.
fn out_of_memory(complaint: &[u8]) -> bool {
    let complaint = String::from_utf8_lossy(complaint);
    complaint.contains("memory allocation of") || complaint.contains("capacity overflow")
}

/// What is wrong with an answer.
#[derive(Debug, PartialEq, Eq)]
pub enum Fault {
    /// The reader's own words.
    Refused(String),
    /// Longer than is taken.
    TooLong,
    /// No answer of this reader.
    Damaged,
}

/// The answer of a reader from the bytes its copy wrote. Any bytes may come: the copy may have been broken by its file.
///
/// # Errors
/// When the bytes are a refusal, too many or no answer.
pub fn understood<R: Apart>(bytes: &[u8]) -> Result<R::Answer, Fault> {
    /// Longest reason that is shown, in characters.
    const REASON_MOST: usize = 300;
    if bytes.len() as u64 > ANSWER_BYTES_MAX {
        return Err(Fault::TooLong);
    }
    match bytes.split_first() {
        Some((b'+', content)) => serde_json::from_slice(content).map_err(|_| Fault::Damaged),
        Some((b'-', why)) => {
            let why = String::from_utf8_lossy(why);
            let shown = |c: char| if c.is_control() { ' ' } else { c };
            Err(Fault::Refused(why.chars().take(REASON_MOST).map(shown).collect()))
        }
        _ => Err(Fault::Damaged),
    }
}
