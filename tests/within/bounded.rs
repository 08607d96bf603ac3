use super::*;

#[test]
fn a_file_over_the_bound_is_refused_and_one_on_it_is_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a");
    std::fs::write(&path, [7; 10]).unwrap();
    assert_eq!(read(&path, 10).unwrap(), [7; 10]);
    assert_eq!(read(&path, 9).unwrap_err().kind(), io::ErrorKind::FileTooLarge);
}

#[test]
fn what_is_no_file_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    assert!(read(folder.path(), 10).unwrap_err().to_string().contains("folder"));
    #[cfg(unix)]
    assert!(read(Path::new("/dev/zero"), 10).unwrap_err().to_string().contains("no ordinary file"));
}
