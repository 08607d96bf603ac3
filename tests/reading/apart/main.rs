//! Reading apart, with readers that do what a hostile file might make one do: each is stopped, said in one line, and this process goes on.
//!
//! The program of this test starts copies of itself, so it has a `main` of its own and no test harness.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a failing test panics")]

use std::path::Path;
use std::process::ExitCode;
use std::time::Duration;

use refarad::files::child::{self, Apart, ChildError, Fault};
use refarad::progress::Progress;

/// A reader in one line: its name, its seconds, its answer, and what it does with the bytes.
macro_rules! reader {
    ($name:ident, $seconds:literal, $answer:ty, $read:expr) => {
        struct $name;
        impl Apart for $name {
            const NAME: &'static str = stringify!($name);
            const SECONDS_MAX: u64 = $seconds;
            type Answer = $answer;
            fn read(bytes: &[u8], _: &str) -> Result<$answer, String> {
                let read: fn(&[u8]) -> Result<$answer, String> = $read;
                read(bytes)
            }
        }
    };
}

reader!(Counts, 60, usize, |bytes| Ok(bytes.len()));
reader!(Refuses, 60, usize, |_| Err("holds\nno table".to_owned()));
reader!(Sleeps, 1, usize, |_| {
    std::thread::sleep(Duration::from_secs(100));
    Ok(0)
});
reader!(TakesMemory, 60, usize, |bytes| Ok(vec![bytes[0]; 2 << 30].len()));
reader!(AsksTooMuch, 60, usize, |bytes| Ok(Vec::<u64>::with_capacity(usize::MAX / bytes.len()).len()));
reader!(Panics, 60, usize, |bytes| Ok(usize::from(bytes[bytes.len()])));
reader!(Overflows, 60, usize, |bytes| Ok(deeper(bytes.len())));
reader!(Talks, 60, String, |_| Ok("x".repeat(70 << 20)));
reader!(Writes, 60, (), |bytes| {
    let at = std::str::from_utf8(bytes).map_err(|error| error.to_string())?;
    std::fs::write(at, b"anything").map_err(|error| error.to_string())
});

#[expect(unconditional_recursion, reason = "it shall end the process")]
fn deeper(n: usize) -> usize {
    std::hint::black_box(deeper(std::hint::black_box(n + 1)) + 1)
}

fn said<R: Apart>(path: &Path) -> String
where
    R::Answer: std::fmt::Debug,
{
    let error = child::read::<R>(path, &Progress::default()).unwrap_err().to_string();
    assert!(!error.contains('\n'), "{error}");
    let (name, why) = error.split_once(": ").unwrap();
    assert_eq!(name, path.display().to_string());
    println!("{:>60}: {why}", std::any::type_name::<R>());
    why.to_owned()
}

fn main() -> ExitCode {
    let readers = [
        child::reader::<Counts>(),
        child::reader::<Refuses>(),
        child::reader::<Sleeps>(),
        child::reader::<TakesMemory>(),
        child::reader::<AsksTooMuch>(),
        child::reader::<Panics>(),
        child::reader::<Overflows>(),
        child::reader::<Talks>(),
        child::reader::<Writes>(),
    ];
    if let Some(done) = child::serve(&readers) {
        return done;
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.bin");
    std::fs::write(&path, [7; 1000]).unwrap();

    assert_eq!(child::read::<Counts>(&path, &Progress::default()).unwrap(), 1000);
    assert_eq!(said::<Refuses>(&path), "holds no table");
    assert!(said::<Sleeps>(&path).starts_with("took more than 1 s"));
    assert!(said::<Panics>(&path).contains("damaged"));
    assert!(said::<Overflows>(&path).contains("damaged"));
    assert!(said::<Talks>(&path).contains("more than 64 MB"));
    assert!(said::<AsksTooMuch>(&path).contains("more than 1024 MB of memory"));
    // Other systems do not all bound the memory of a process.
    if cfg!(target_os = "linux") {
        assert!(said::<TakesMemory>(&path).contains("more than 1024 MB of memory"));
    }
    if cfg!(unix) {
        writes_nothing(folder.path());
    }
    cancelled(&path);
    files(folder.path());
    answers();
    println!("every reader that misbehaved was stopped");
    ExitCode::SUCCESS
}

fn cancelled(path: &Path) {
    let progress = Progress::default();
    progress.cancel();
    let stopped = child::read::<Sleeps>(path, &progress);
    assert!(matches!(stopped, Err(ChildError::Cancelled { .. })), "{stopped:?}");
}

fn writes_nothing(folder: &Path) {
    let (path, aim) = (folder.join("path"), folder.join("aim"));
    std::fs::write(&path, aim.display().to_string()).unwrap();
    assert!(child::read::<Writes>(&path, &Progress::default()).is_err(), "a copy wrote a file");
    assert_eq!(std::fs::read(&aim).unwrap_or_default(), b"");
}

/// What is no file of the right size never reaches a reader.
fn files(folder: &Path) {
    assert!(said::<Counts>(folder).contains("folder"));
    assert!(said::<Counts>(&folder.join("none")).to_lowercase().contains("no such file"));
    let large = folder.join("large");
    std::fs::File::create(&large).unwrap().set_len(child::FILE_BYTES_MAX + 1).unwrap();
    assert!(said::<Counts>(&large).contains("larger than 64 MB"));
    std::fs::File::create(&large).unwrap().set_len(child::FILE_BYTES_MAX).unwrap();
    let all = child::read::<Counts>(&large, &Progress::default()).unwrap();
    assert_eq!(all as u64, child::FILE_BYTES_MAX);
}

/// Whatever a broken copy writes is judged, not trusted.
fn answers() {
    assert_eq!(child::understood::<Counts>(b"+12").unwrap(), 12);
    assert_eq!(child::understood::<Counts>(b"-no\x1b[2Jtable").unwrap_err(), Fault::Refused("no [2Jtable".into()));
    for bytes in [&b""[..], b"+", b"+-1", b"+12 13", b"12", b"+\"text\"", b"\xff\xfe"] {
        assert_eq!(child::understood::<Counts>(bytes).unwrap_err(), Fault::Damaged, "{bytes:?}");
    }
}
