//! Of `app/work/worker.rs`, whose module this is.

use super::*;
use std::sync::mpsc;

#[test]
fn a_newer_request_supersedes_the_older_one_and_tells_it_so() {
    let worker = Worker::default();
    let (started, has_started) = mpsc::channel();
    let (go_on, may_go_on) = mpsc::channel::<()>();
    let (seen, was_seen) = mpsc::channel();
    worker.request("older", move |progress| {
        started.send(()).unwrap();
        may_go_on.recv().unwrap();
        seen.send(progress.is_cancelled()).unwrap();
        1
    });
    has_started.recv().unwrap();
    worker.request("newer", |_| 2);
    go_on.send(()).unwrap();
    worker.wait();
    assert_eq!(worker.take(), Some(Ok(2)));
    assert_eq!(worker.take(), None);
    assert!(was_seen.recv().unwrap());
    assert!(worker.busy().is_none());
}

#[test]
fn a_panic_becomes_a_message_and_the_lane_works_on() {
    let worker = Worker::default();
    worker.request("Sizing", |_| -> i32 { panic!("by intent") });
    worker.wait();
    let message = worker.take().unwrap().unwrap_err();
    assert!(message.starts_with("Sizing went wrong") && message.contains("by intent"), "{message}");
    worker.request("Sizing", |_| 3);
    worker.wait();
    assert_eq!(worker.take(), Some(Ok(3)));
}

#[test]
fn cancelled_work_leaves_no_result() {
    let worker = Worker::default();
    let (started, has_started) = mpsc::channel();
    let (go_on, may_go_on) = mpsc::channel::<()>();
    worker.request("long", move |_| {
        started.send(()).unwrap();
        may_go_on.recv().is_ok()
    });
    has_started.recv().unwrap();
    assert_eq!(worker.busy().map(|p| p.what.clone()).as_deref(), Some("long"));
    worker.cancel();
    go_on.send(()).unwrap();
    worker.wait();
    assert_eq!(worker.take(), None);
}
