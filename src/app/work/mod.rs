//! Work on other threads: the workers, and taking in what they answer.

pub(crate) mod poll_workers;
pub(crate) mod worker;
pub(crate) mod workers;
