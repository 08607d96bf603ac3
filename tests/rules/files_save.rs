//! Saving: a file whole or not at all, with words for what went wrong.

use std::io;
use std::path::Path;
use std::time::Duration;

use refarad::files::{SaveError, save};

#[test]
fn a_saved_file_holds_the_new_content_and_nothing_is_left_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    save(&path, b"old").unwrap();
    save(&path, b"new").unwrap();
    assert_eq!(std::fs::read(&path).unwrap(), b"new");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_missing_folder_is_one_clear_message() {
    let error = save(Path::new("/no/such/folder/a.json"), b"x").unwrap_err();
    let message = error.to_string();
    assert!(message.contains("could not be written: its folder is not there"), "{message}");
}

#[test]
fn a_read_only_file_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    std::fs::write(&path, "kept").unwrap();
    let mut permissions = std::fs::metadata(&path).unwrap().permissions();
    permissions.set_readonly(true);
    std::fs::set_permissions(&path, permissions).unwrap();
    let message = save(&path, b"new").unwrap_err().to_string();
    assert!(message.contains("write-protected"), "{message}");
    assert_eq!(std::fs::read(&path).unwrap(), b"kept");
}

#[test]
fn every_common_fault_has_words_of_its_own() {
    let says = |kind: io::ErrorKind| SaveError { path: "a".into(), source: kind.into() }.to_string();
    assert!(says(io::ErrorKind::StorageFull).contains("the disk is full"));
    assert!(says(io::ErrorKind::ReadOnlyFilesystem).contains("write-protected"));
    assert!(says(io::ErrorKind::NotADirectory).contains("a file is where its folder should be"));
    assert!(says(io::ErrorKind::StaleNetworkFileHandle).contains("the share does not answer"));
}

#[test]
fn what_a_killed_program_left_is_removed_after_a_day_and_not_before() {
    let folder = tempfile::tempdir().unwrap();
    let (old, fresh) = (folder.path().join(".refarad-old"), folder.path().join(".refarad-new"));
    std::fs::write(&fresh, "").unwrap();
    let long_ago = std::time::SystemTime::now() - Duration::from_hours(48);
    std::fs::File::create(&old).unwrap().set_modified(long_ago).unwrap();
    save(&folder.path().join("a.json"), b"x").unwrap();
    assert!(!old.exists() && fresh.exists());
}
