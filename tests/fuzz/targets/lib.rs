//! What the targets share.

/// Lets rayon work on the thread of the target alone: handing an input of a few hundred bytes to a pool costs more than to read it.
///
/// # Panics
///
/// When called twice.
pub fn one_thread() {
    rayon::ThreadPoolBuilder::new().num_threads(1).use_current_thread().build_global().expect("called once");
}

/// Lets the panics of libraries pass: what is read apart ends with its process then, and the program says so. Those of the program itself
/// are finds as before.
pub fn libraries_may_panic() {
    let find = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        if panic.location().is_none_or(|at| !at.file().contains("/registry/src/")) {
            find(panic);
        }
    }));
}
