use super::*;

#[test]
fn the_latest_are_remembered_by_their_place_and_the_oldest_forgotten() {
    let folder = tempfile::tempdir().unwrap();
    let memory = Written::in_folder(&folder.path().join("own"));
    let path = |n: usize| folder.path().join(format!("{n}.csv"));
    let stamp = |n: usize| Stamp::of(n.to_string().as_bytes());
    let all: Vec<(PathBuf, Stamp)> = (0..MOST).map(|n| (path(n), stamp(n))).collect();
    memory.remember(all.iter().map(|(path, stamp)| (path.as_path(), None, *stamp))).unwrap();
    memory
        .remember([(path(0).as_path(), Some(stamp(0)), stamp(7)), (path(MOST).as_path(), None, stamp(8))].into_iter())
        .unwrap();
    let of = |n: usize| memory.recall().stamps_of(&path(n));
    assert_eq!((of(0), of(MOST)), (vec![stamp(0), stamp(7)], vec![stamp(8)]));
    assert_eq!((of(1), of(2)), (Vec::new(), vec![stamp(2)]));
    let roundabout = folder.path().join("own").join("..").join("2.csv");
    assert_eq!(memory.recall().stamps_of(&roundabout), [stamp(2)]);
}
