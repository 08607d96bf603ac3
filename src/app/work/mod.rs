//! Threads that work for the window, and asking them for the sizing of the job.

pub(crate) mod sizing;
pub(crate) mod worker;
pub(crate) mod workers;

pub(crate) use worker::{AnyWorker, Progress, Worker, in_front};
