//! What the targets share.

/// Lets rayon work on the thread of the target alone: handing an input of a few hundred bytes to a pool costs more than to read it.
///
/// # Panics
///
/// When called twice.
pub fn one_thread() {
    rayon::ThreadPoolBuilder::new().num_threads(1).use_current_thread().build_global().expect("called once");
}
