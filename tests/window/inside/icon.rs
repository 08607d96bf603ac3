//! Of `app/shell/icon.rs`, whose module this is.

use super::*;

#[test]
fn the_corners_are_clear_and_the_can_is_solid_with_its_dark_side_on_the_right() {
    let side = 64;
    let pixels = rgba(side);
    let at = |x: usize, y: usize| &pixels[(y * side as usize + x) * 4..][..4];
    assert_eq!(at(0, 0)[3], 0);
    assert_eq!(at(32, 32)[3], 255);
    let light = |pixel: &[u8]| u32::from(pixel[0]) + u32::from(pixel[1]) + u32::from(pixel[2]);
    assert!(light(at(14, 36)) > 2 * light(at(50, 36)));
}

#[test]
fn the_png_reads_back() {
    let image = image::load_from_memory(&png(48).unwrap()).unwrap().to_rgba8();
    assert_eq!((image.dimensions(), image.into_raw()), ((48, 48), rgba(48)));
}
