use super::*;

/// The vectors of RFC 4648, section 10.
#[test]
fn base64_as_the_standard_prints_it() {
    for (plain, coded) in [("", ""), ("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foobar", "Zm9vYmFy")] {
        assert_eq!(base64(plain.as_bytes()), coded);
    }
}

#[test]
fn a_photo_from_above_lies_upright_and_one_from_below_is_seen_from_below() {
    // Left half black, right half white, both as the camera saw them.
    let rgba = (0..64 * 32).flat_map(|n| if n % 64 < 32 { [0, 0, 0, 255] } else { [255; 4] }).collect();
    let photo = Photo { width_px: 64, height_px: 32, rgba };
    let corners = |left: f64, right: f64| Some([[left, 50.0], [right, 50.0], [right, 0.0], [left, 0.0]]);
    let above = Board { photo_corners_mm: corners(0.0, 100.0), ..Board::default() };
    let below = Board { photo_corners_mm: corners(100.0, 0.0), photo_side: Some(Side::Bottom), ..Board::default() };
    for board in [above, below] {
        let bytes = jpeg(&photo, &board, [0.0, 0.0, 100.0, 50.0]).unwrap();
        let shown = image::load_from_memory(&bytes).unwrap().to_luma8();
        let light = [10, shown.width() - 10].map(|x| shown.get_pixel(x, shown.height() / 2).0[0]);
        assert!(light[0].abs_diff(114) < 6 && light[1] > 248, "{light:?}");
    }
    assert_eq!(jpeg(&photo, &Board::default(), [0.0, 0.0, 100.0, 50.0]), None);
}
