//! How far a long piece of work is, and whether anybody still wants it. Whoever waits keeps one end, the work the other.

use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::time::Instant;

/// How far a piece of work is, and whether anybody still wants it.
#[derive(Debug)]
pub struct Progress {
    /// What is being done, for the person; empty where nobody is told.
    pub what: String,
    /// When it was asked for.
    pub since: Instant,
    cancelled: AtomicBool,
    done_permille: AtomicU32,
}

impl Default for Progress {
    fn default() -> Self {
        Self::new(String::new())
    }
}

impl Progress {
    /// Work that begins now.
    #[must_use]
    pub fn new(what: String) -> Self {
        Self { what, since: Instant::now(), cancelled: AtomicBool::new(false), done_permille: AtomicU32::new(0) }
    }

    /// Whether the result is no longer wanted; long work asks now and then and stops early.
    #[must_use]
    pub fn is_cancelled(&self) -> bool {
        self.cancelled.load(Ordering::Relaxed)
    }

    /// Says that the result is no longer wanted.
    pub fn cancel(&self) {
        self.cancelled.store(true, Ordering::Relaxed);
    }

    /// Says how far the work is, 0 to 1.
    pub fn set_share(&self, share: f32) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=1000")]
        self.done_permille.store((share.clamp(0.0, 1.0) * 1000.0) as u32, Ordering::Relaxed);
    }

    /// How far the work is, 0 to 1; 0 also where that is not known.
    #[must_use]
    pub fn share(&self) -> f32 {
        #[expect(clippy::cast_precision_loss, reason = "at most 1000")]
        let permille = self.done_permille.load(Ordering::Relaxed) as f32;
        permille / 1000.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn progress_is_a_share_between_nothing_and_all() {
        let progress = Progress::default();
        progress.set_share(0.25);
        assert!((progress.share() - 0.25).abs() < 1e-6);
        progress.set_share(7.0);
        assert!((progress.share() - 1.0).abs() < 1e-6);
    }
}
