//! Of `app/actions/dialogs/browser.rs`, whose module this is.

use super::*;
use crate::app::actions::dialogs::FilePurpose;

#[test]
fn a_folder_is_entered_an_ending_added_and_a_file_that_is_there_asked_about_once() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("jobs")).unwrap();
    std::fs::write(folder.path().join("jobs/old.csv"), "").unwrap();
    let question = Question::File(FilePurpose::Purchase);
    let mut browser = Browser::new(question, "no portal", Some(folder.path()), "purchase.csv");
    let wording = question.wording();
    assert_eq!(browser.text, "purchase.csv", "a name is proposed");
    assert!(browser.listed.iter().any(|entry| entry.is_folder && entry.name == "jobs"));
    browser.text = "jobs".into();
    assert!(browser.choose(&wording).is_none());
    assert_eq!(browser.folder, folder.path().join("jobs"));
    browser.text = "old".into();
    assert!(browser.choose(&wording).is_none(), "an existing file is asked about");
    let Some((_, paths)) = browser.choose(&wording) else { panic!("asked twice") };
    assert_eq!(paths, [folder.path().join("jobs/old.csv")]);
    browser.text = "new".into();
    let Some((_, paths)) = browser.choose(&wording) else { panic!("a new file is not asked about") };
    assert_eq!(paths, [folder.path().join("jobs/new.csv")]);
    browser.text = "not yet/new".into();
    assert!(browser.choose(&wording).is_none() && browser.trouble.is_some(), "a folder that is not there");
    browser.new_folder = Some(" not yet ".into());
    browser.make_folder();
    browser.text = "new".into();
    let Some((_, paths)) = browser.choose(&wording) else { panic!("in the folder that was made") };
    assert_eq!(paths, [folder.path().join("jobs/not yet/new.csv")]);
    browser.new_folder = Some("../not yet".into());
    browser.make_folder();
    assert!(browser.trouble.is_some(), "a folder that is there");
}

#[test]
fn a_tilde_is_the_home_and_only_fitting_files_are_listed() {
    let browser = Browser::new(Question::Open, "no portal", None, "");
    if let Some(dirs) = directories::BaseDirs::new() {
        assert_eq!(browser.full("~/a.json"), dirs.home_dir().join("a.json"));
    }
    let mut browser = browser;
    browser.text = "there is no such job.json".into();
    assert!(browser.choose(&Question::Open.wording()).is_none(), "a file to be read is there");
    assert!(fits("a.JSON", &["json"]) && !fits("a.txt", &["json"]) && fits("a.txt", &["*"]));
}
