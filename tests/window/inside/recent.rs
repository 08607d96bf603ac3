//! Of `app/views/start/recent.rs`, whose module this is.

use super::*;

#[test]
fn ages_and_counts_are_told_in_words() {
    assert_eq!(ago(3), "just now");
    assert_eq!(ago(61), "1 minute ago");
    assert_eq!(ago(3 * 604_800), "3 weeks ago");
    assert_eq!(settled(14, 17), "14 of 17 settled");
    assert_eq!(settled(0, 0), "no positions yet");
}

#[test]
fn a_job_that_is_gone_says_why_it_cannot_be_opened() {
    let recent = Recent::read(Path::new("no such job.json"));
    assert!(recent.seen.unwrap_err().contains("no such job.json"));
}
