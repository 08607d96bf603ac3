//! A line on the terminal that is written over while something goes on; nothing where nobody looks.

use std::io::{IsTerminal, Write, stderr};
use std::time::{Duration, Instant};

/// Nobody reads faster.
const EVERY: Duration = Duration::from_millis(100);

/// The line.
pub(super) struct Live {
    shown: bool,
    next: Option<Instant>,
}

impl Live {
    /// A line on standard error, where that is a terminal.
    pub(super) fn on_stderr() -> Self {
        Self { shown: false, next: stderr().is_terminal().then(|| Instant::now() + EVERY) }
    }

    /// Writes `text` over what stood there, not more often than it can be read.
    pub(super) fn show(&mut self, text: &str) {
        if self.next.is_none_or(|next| Instant::now() < next) {
            return;
        }
        self.next = Some(Instant::now() + EVERY);
        self.shown = true;
        self.write(text);
    }

    /// Takes the line away.
    pub(super) fn clear(&mut self) {
        if std::mem::take(&mut self.shown) {
            self.write("");
        }
    }

    fn write(&mut self, text: &str) {
        let mut out = stderr().lock();
        // A terminal that is gone is no reason to stop the work.
        if write!(out, "\r\u{1b}[K{text}").and_then(|()| out.flush()).is_err() {
            self.next = None;
        }
    }
}
