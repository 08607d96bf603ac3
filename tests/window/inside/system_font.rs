//! Of `app/shell/system_font.rs`, whose module this is.

use super::*;

#[test]
fn the_best_known_font_is_found_wherever_it_lies_and_no_other_file() {
    let folder = tempfile::tempdir().unwrap();
    let deep = folder.path().join("truetype/wqy");
    std::fs::create_dir_all(&deep).unwrap();
    for name in ["Ubuntu.ttf", "NotoSansCJK-Regular.txt"] {
        std::fs::write(deep.join(name), "").unwrap();
    }
    let found = || found_in(&[folder.path().join("gone"), folder.path().to_owned()]);
    assert!(found().is_empty());
    for (name, of_list) in
        [("wqy-zenhei.ttc", 0), ("DejaVuSans.ttf", 1), ("NotoSansCJK-Regular.ttc", 0), ("Symbola.otf", 1)]
    {
        std::fs::write(deep.join(name), "").unwrap();
        assert_eq!(found().get(of_list), Some(&deep.join(name)));
    }
}
