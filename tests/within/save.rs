use super::*;

#[cfg(unix)]
#[test]
fn what_stood_there_is_kept_whole_and_both_can_be_read_by_those_who_could_before() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    std::fs::write(&path, "old").unwrap();
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).unwrap();
    assert_eq!(std::fs::read(keep_previous(&path).unwrap()).unwrap(), b"old");
    save(&path, b"new").unwrap();
    let mode = |path: &Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode(&path), mode(&previous(&path))), (0o640, 0o640));
}

#[test]
fn what_is_put_aside_replaces_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    for (n, name) in ["a.json.broken", "a.json.broken-2", "a.json.broken-3"].iter().enumerate() {
        std::fs::write(&path, n.to_string()).unwrap();
        assert_eq!(set_aside(&path).unwrap(), folder.path().join(name));
    }
    assert_eq!(std::fs::read(folder.path().join("a.json.broken")).unwrap(), b"0");
    assert!(!path.exists() && set_aside(&path).is_err());
}
