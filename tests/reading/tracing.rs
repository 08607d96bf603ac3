//! Cans in photos of boards: how often a rough circle comes to lie on a rim, the stripe, the call, and the photos of the demo.

#[path = "../support/board_photo.rs"]
mod board_photo;

use std::path::Path;
use std::process::{Command, Output};
use std::sync::LazyLock;

use board_photo::{Dice, Rendered, render};
use proptest::prelude::*;
use refarad::files::photo::Photo;
use refarad::files::trace::{Circle, Known, find, snap, stripe};
use refarad::files::{demo, photo};

/// The photo of each board of the demo as it is rendered, with its name.
static RENDERED: LazyLock<Vec<(&str, Rendered)>> = LazyLock::new(|| {
    let job = demo::job().unwrap().job;
    let scales = [5.0, 4.6, 8.0, 8.0];
    let boards = job.boards.iter().zip(demo::PHOTOS).zip(scales).enumerate();
    boards.map(|(n, ((board, (name, _)), scale))| (name, render(board, scale, 0x5DEE_CE66 + n as u64))).collect()
});

fn pixels(picture: &image::RgbImage) -> Photo {
    let rgba = image::DynamicImage::from(picture.clone()).into_rgba8();
    Photo { width_px: picture.width() as usize, height_px: picture.height() as usize, rgba: rgba.into_raw() }
}

/// `REFARAD_WRITE_PHOTOS=1 cargo test --test reading the_photos_of_the_demo` writes them anew and prints the corners for the job.
#[test]
fn the_photos_of_the_demo_are_rendered_from_its_boards_and_lie_where_they_belong() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalog");
    let job = demo::job().unwrap().job;
    for (((name, rendered), (_, stored)), board) in RENDERED.iter().zip(demo::PHOTOS).zip(&job.boards) {
        if std::env::var_os("REFARAD_WRITE_PHOTOS").is_some() {
            let mut bytes = Vec::new();
            let encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 78);
            rendered.picture.write_with_encoder(encoder).unwrap();
            std::fs::write(folder.join(name), bytes).unwrap();
            println!(
                "{name}: photo_corners_mm {:?}",
                rendered.corners_mm.map(|corner| corner.map(|mm| (mm * 100.0).round() / 100.0))
            );
            continue;
        }
        assert!(stored.len() < 250_000, "{name}: {} bytes", stored.len());
        let shown = photo::read_bytes(stored, Path::new(name), u32::MAX).unwrap();
        let drawn = pixels(&rendered.picture);
        assert_eq!((shown.width_px, shown.height_px), (drawn.width_px, drawn.height_px), "{name}");
        let apart: u64 = shown.rgba.iter().zip(&drawn.rgba).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
        let apart = apart as f64 / shown.rgba.len() as f64;
        assert!(apart < 6.0, "{name} is not what is rendered: {apart} steps apart");
        assert_eq!(board.photo.as_deref(), Some(*name));
        let corners = board.photo_corners_mm.unwrap();
        let off = corners.iter().flatten().zip(rendered.corners_mm.iter().flatten()).map(|(a, b)| (a - b).abs());
        assert!(off.fold(0.0, f64::max) < 0.01, "{name}: {:?}", rendered.corners_mm);
    }
}

/// Starts off by a quarter of the diameter: centre in any direction, radius a quarter larger or smaller.
fn rate(all: &[(&str, Rendered)], ranged: bool) -> f64 {
    let (mut right, mut count) = (0, 0);
    let mut dice = Dice(0x2545_F491_4F6C_DD1D);
    for (name, rendered) in all {
        let photo = pixels(&rendered.picture);
        for &([x, y, r], _, smd) in &rendered.rims {
            let around = dice.between(0.0, std::f64::consts::TAU);
            let larger = if dice.share() < 0.5 { 0.75 } else { 1.25 };
            let start = Circle { x_px: x + 0.5 * r * around.cos(), y_px: y + 0.5 * r * around.sin(), r_px: r * larger };
            let known = Known { smd, r_px: ranged.then_some([0.8 * r, 1.25 * r]) };
            let found = snap(&photo, start, &known);
            let is_right = found.distance_px(&Circle { x_px: x, y_px: y, r_px: r }) <= 0.2 * r
                && (found.r_px - r).abs() <= 0.2 * r;
            if !is_right {
                println!("{name}: from {start:?} to {found:?}, not {x:.0} {y:.0} {r:.0}");
            }
            right += usize::from(is_right);
            count += 1;
        }
    }
    assert!(count >= 30, "{count} cans");
    right as f64 / f64::from(count)
}

#[test]
fn from_a_quarter_of_the_diameter_off_most_circles_come_to_lie_on_the_rim_and_more_where_the_size_is_known() {
    let (free, ranged) = (rate(&RENDERED, false), rate(&RENDERED, true));
    assert!(free >= 0.85 && ranged >= 0.9, "{free} {ranged}");
}

#[test]
fn the_stripe_is_found_on_most_cans_and_hardly_ever_where_there_is_none() {
    let (mut right, mut wrong, mut count) = (0, 0, 0);
    for (_, rendered) in RENDERED.iter() {
        let photo = pixels(&rendered.picture);
        for &([x_px, y_px, r_px], marked, smd) in &rendered.rims {
            let found = stripe(&photo, Circle { x_px, y_px, r_px }, smd);
            let off = |a: f64, b: f64| ((a - b + 180.0).rem_euclid(360.0) - 180.0).abs();
            match (found, marked) {
                (Some(found), Some(marked)) if off(found, marked) <= 15.0 => right += 1,
                (Some(_), _) => wrong += 1,
                _ => {}
            }
            count += usize::from(marked.is_some());
        }
    }
    assert!(right * 4 >= count * 3 && wrong * 8 <= count, "{right} right, {wrong} wrong of {count}");
}

fn trace(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_refarad")).arg("trace").args(args).current_dir(folder).output().unwrap()
}

#[test]
fn a_row_is_printed_for_each_start_and_a_call_that_cannot_be_used_is_one_line() {
    let folder = tempfile::tempdir().unwrap();
    let (_, rendered) = &RENDERED[2];
    rendered.picture.save(folder.path().join("board.png")).unwrap();
    std::fs::write(folder.path().join("words.png"), "no picture").unwrap();
    let starts: Vec<String> = rendered
        .rims
        .iter()
        .map(|([x, y, r], ..)| format!("{:.1},{:.1},{:.1}", x + 0.2 * r, y - 0.2 * r, r * 1.1))
        .collect();
    let mut args = vec!["board.png", "--start"];
    args.extend(starts.iter().map(String::as_str));
    args.push("--smd");
    let output = trace(folder.path(), &args);
    let mut apart = vec!["--smd"];
    starts.iter().for_each(|start| apart.extend(["--start", start]));
    apart.push("board.png");
    assert_eq!(trace(folder.path(), &apart).stdout, output.stdout, "each in a --start of its own");
    let printed = String::from_utf8(output.stdout).unwrap();
    let rows: Vec<&str> = printed.lines().collect();
    assert_eq!((output.status.code(), rows[0], rows.len()), (Some(0), "x,y,r", starts.len() + 1), "{printed}");
    let near = rows[1..].iter().zip(&rendered.rims).filter(|(row, ([x, y, r], ..))| {
        let row: Vec<f64> = row.split(',').map(|cell| cell.parse().unwrap()).collect();
        (row[0] - x).hypot(row[1] - y) <= 0.2 * r && (row[2] - r).abs() <= 0.2 * r
    });
    assert!(near.count() + 1 >= starts.len(), "{printed}");
    let found = trace(folder.path(), &["board.png", "--find", "--smd", "--mm-per-px", "0.125", "--diameter-mm", "4-8"]);
    let found = String::from_utf8(found.stdout).unwrap();
    assert!(found.starts_with("x,y,r\n") && found.lines().count() >= 5, "{found}");
    for (args, said) in [
        (&["board.png"][..], "--start"),
        (&["none.png", "--find"], "none.png"),
        (&["words.png", "--find"], "PNG or JPEG"),
        (&["board.png", "--start", "9000,10,5"], "within the photo"),
        (&["board.png", "--start", "-1,10,5"], "within the photo"),
        (&["board.png", "--start", "10,10,0"], "R above 0"),
        (&["board.png", "--start", "10,10"], "X,Y,R"),
        (&["board.png", "--start", "10,NaN,5"], "X,Y,R"),
        (&["board.png", "--start", "10,10,5", "--mm-per-px", "0", "--diameter-mm", "5-8"], "--mm-per-px"),
        (&["board.png", "--start", "10,10,5", "--mm-per-px", "0.1", "--diameter-mm", "8-5"], "--diameter-mm"),
        (&["board.png", "--start", "10,10,5", "--mm-per-px", "0.1"], "--diameter-mm"),
    ] {
        let output = trace(folder.path(), args);
        let words = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), output.stdout.is_empty()), (Some(2), true), "{args:?} {words}");
        assert!(words.contains(said), "{args:?} {words}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn whatever_the_picture_and_the_start_the_circle_is_finite(
        width_px in 0_usize..40,
        height_px in 0_usize..40,
        bytes in proptest::collection::vec(any::<u8>(), 64),
        start in prop_oneof![
            (-50.0..90.0, -50.0..90.0, 0.0..60.0),
            (any::<f64>(), any::<f64>(), any::<f64>()),
        ],
        range in proptest::option::of((any::<f64>(), 0.1..50.0)),
        smd: bool,
    ) {
        let rgba = bytes.iter().copied().cycle().take(width_px * height_px * 4).collect();
        let photo = Photo { width_px, height_px, rgba };
        let start = Circle { x_px: start.0, y_px: start.1, r_px: start.2 };
        let known = Known { smd, r_px: range.map(|(lo, hi)| [lo, hi]) };
        let found = snap(&photo, start, &known);
        let usable = start.x_px.is_finite() && start.y_px.is_finite() && start.r_px.is_finite();
        prop_assert!(!usable || (found.x_px.is_finite() && found.y_px.is_finite() && found.r_px.is_finite()), "{found:?}");
        let angle = stripe(&photo, found, smd);
        prop_assert!(angle.is_none_or(|degrees| (0.0..360.0).contains(&degrees)), "{angle:?}");
        let proposed = find(&photo, &known);
        prop_assert!(proposed.iter().all(|c| c.x_px.is_finite() && c.y_px.is_finite() && c.r_px > 0.0), "{proposed:?}");
    }
}
