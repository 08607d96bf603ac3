//! How far a long piece of work is, and whether anybody still wants it. Whoever waits keeps one end, the work the other.

use std::cmp::Ordering;
use std::sync::atomic::Ordering::Relaxed;
use std::sync::atomic::{AtomicBool, AtomicU32};
use std::time::Instant;

use rayon::slice::ParallelSliceMut;

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
    pub fn new(what: String) -> Self {
        Self { what, since: Instant::now(), cancelled: AtomicBool::new(false), done_permille: AtomicU32::new(0) }
    }

    /// Whether the result is no longer wanted; long work asks now and then and stops early.
    pub fn is_cancelled(&self) -> bool {
        self.cancelled.load(Relaxed)
    }

    /// Says that the result is no longer wanted.
    pub fn cancel(&self) {
        self.cancelled.store(true, Relaxed);
    }

    /// Sorts on all threads, equal items in any order; `None`, and any order, once it is cancelled.
    pub fn sort<T: Send>(&self, items: &mut [T], compare: impl Fn(&T, &T) -> Ordering + Sync) -> Option<()> {
        // A sort cannot be broken off, but items that are all equal are sorted at a glance.
        items.par_sort_unstable_by(|a, b| if self.is_cancelled() { Ordering::Equal } else { compare(a, b) });
        (!self.is_cancelled()).then_some(())
    }

    /// Says how far the work is, 0 to 1.
    pub fn set_share(&self, share: f32) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=1000")]
        self.done_permille.store((share.clamp(0.0, 1.0) * 1000.0) as u32, Relaxed);
    }

    /// How far the work is, 0 to 1; 0 also where that is not known.
    pub fn share(&self) -> f32 {
        let permille = self.done_permille.load(Relaxed) as f32;
        permille / 1000.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sort_ends_in_order_or_without_a_result() {
        let mut items: Vec<u32> = (0..10_000).map(|n: u32| n.wrapping_mul(2_654_435_761)).collect();
        let progress = Progress::default();
        assert_eq!(progress.sort(&mut items, u32::cmp), Some(()));
        assert!(items.is_sorted());
        progress.cancel();
        assert_eq!(progress.sort(&mut items, |a, b| b.cmp(a)), None);
    }

    #[test]
    fn progress_is_a_share_between_nothing_and_all() {
        let progress = Progress::default();
        progress.set_share(0.25);
        assert!((progress.share() - 0.25).abs() < 1e-6);
        progress.set_share(7.0);
        assert!((progress.share() - 1.0).abs() < 1e-6);
    }
}
