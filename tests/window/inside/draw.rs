//! Of `app/views/help/draw.rs`, whose module this is.

use super::*;

#[test]
fn narrow_columns_keep_their_width_and_wide_ones_share_the_rest() {
    assert_eq!(shared(&[100.0, 60.0, 80.0], 400.0), [100.0, 60.0, 80.0]);
    assert_eq!(shared(&[900.0, 60.0, 500.0], 460.0), [200.0, 60.0, 200.0]);
    assert_eq!(shared(&[900.0, 900.0], 10.0), [COLUMN_MIN, COLUMN_MIN]);
}

#[test]
fn marking_words_changes_no_letter() {
    for text in ["Rated VOLTAGE, 25 µF", "", "voltage", "µµ"] {
        let mut job = LayoutJob::default();
        let words = ["voltage".to_owned(), "µ".to_owned(), String::new()];
        append(&mut job, text, &words, &TextFormat::default(), Color32::RED, Color32::BLACK);
        assert_eq!(job.text, text);
    }
}
