//! No two texts overlap and none is cut, in every view, at every usual size of window and text.

use egui::epaint::{ClippedShape, Shape};
use egui::{Key, Modifiers, Rect};
use refarad::app::Window;

use crate::harness::{Bench, DEMO};

/// 1280x720, 1920x1080 and 2560x1440 pixels at 100, 150 and 200 %, in points; what comes out the same stands once.
const SIZES: [[f32; 2]; 7] = [
    [1280.0, 720.0],
    [1280.0 / 1.5, 480.0],
    [640.0, 360.0],
    [1920.0, 1080.0],
    [960.0, 540.0],
    [2560.0, 1440.0],
    [2560.0 / 1.5, 960.0],
];

/// What a text is and where it is seen.
struct Text {
    words: String,
    /// All of it.
    whole: Rect,
    /// What is seen of it.
    seen: Rect,
    elided: bool,
}

fn texts(bench: &Bench) -> Vec<Text> {
    let mut all = Vec::new();
    for ClippedShape { clip_rect, shape, .. } in &bench.harness.output().shapes {
        collect(shape, *clip_rect, &mut all);
    }
    all
}

fn collect(shape: &Shape, clip: Rect, all: &mut Vec<Text>) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| collect(shape, clip, all)),
        Shape::Text(text) if !text.galley.text().trim().is_empty() => {
            // Letters have air above and below them.
            let whole = text.visual_bounding_rect().shrink2(egui::vec2(0.5, 1.0));
            let seen = whole.intersect(clip);
            if seen.is_positive() {
                let (words, elided) = (text.galley.text().to_owned(), text.galley.elided);
                all.push(Text { words, whole, seen, elided });
            }
        }
        _ => {}
    }
}

/// How many points of a side may be missing or shared before an eye notices.
const SLACK: f32 = 1.5;

fn faults(bench: &Bench, place: &str) -> Vec<String> {
    let all = texts(bench);
    let mut found = Vec::new();
    let window = bench.harness.ctx.content_rect();
    for (n, text) in all.iter().enumerate() {
        let cut = text.whole.width() - text.seen.width() > SLACK;
        // At the upper and lower edge of what is scrolled a line may be seen in part.
        let inside = window.shrink2(egui::vec2(0.0, 30.0)).contains_rect(text.whole);
        if text.elided || (cut && inside) {
            found.push(format!("{place}: cut: {:?} {:?} of {:?}", text.words, text.seen, text.whole));
        }
        for other in &all[n + 1..] {
            let shared = text.seen.intersect(other.seen);
            if shared.width() > SLACK && shared.height() > SLACK {
                found.push(format!("{place}: {:?} over {:?} at {shared:?}", text.words, other.words));
            }
        }
    }
    found
}

/// Every view with what can be opened in it, by the keys that lead there.
fn views() -> [(&'static str, Vec<(Modifiers, Key)>); 9] {
    let view = |key| vec![(Modifiers::COMMAND, key)];
    let then = |key, more: &[(Modifiers, Key)]| [view(key), more.to_vec()].concat();
    let plain = |key| (Modifiers::NONE, key);
    [
        ("board", view(Key::Num1)),
        ("editor", then(Key::Num1, &[(Modifiers::COMMAND, Key::E)])),
        ("candidates", view(Key::Num2)),
        ("compare", then(Key::Num2, &[plain(Key::P), plain(Key::C)])),
        ("life", view(Key::Num3)),
        ("purchase", view(Key::Num4)),
        ("import", view(Key::I)),
        ("help", view(Key::Num5)),
        ("board of SMD cans", then(Key::Num1, &[plain(Key::End)])),
    ]
}

fn all_faults(positions: &[usize], only: &dyn Fn(&str) -> bool) -> Vec<String> {
    let mut all = Vec::new();
    for size in SIZES {
        for &position in positions {
            for (name, keys) in views().into_iter().filter(|(name, _)| only(name)) {
                let mut bench = Bench::sized(Window::holding(DEMO.clone(), None), size);
                bench.press(Key::Home);
                for _ in 0..position {
                    bench.press(Key::ArrowDown);
                }
                for (modifiers, key) in keys {
                    bench.press_with(modifiers, key);
                }
                all.extend(faults(&bench, &format!("{name}, position {position}, {size:?}")));
            }
        }
    }
    all
}

#[test]
fn no_two_texts_overlap_and_none_is_cut_in_any_view() {
    // With a caution, without, and without a part that fits.
    let faults = all_faults(&[0, 2, 3], &|name| !["life", "purchase", "import", "help", "editor"].contains(&name));
    // A table wider than the window is scrolled sideways: its last column may be seen in part.
    let faults: Vec<_> =
        faults.into_iter().filter(|fault| !(fault.starts_with("candidates") && fault.contains("cut: "))).collect();
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn the_test_sees_what_overlaps_and_what_is_cut() {
    let mut harness = egui_kittest::Harness::builder().with_size([200.0, 100.0]).build_ui(|ui| {
        let font = egui::FontId::proportional(14.0);
        for at in [egui::pos2(10.0, 40.0), egui::pos2(20.0, 42.0)] {
            ui.painter().text(at, egui::Align2::LEFT_CENTER, "over", font.clone(), egui::Color32::WHITE);
        }
        let narrow = ui.painter().with_clip_rect(Rect::from_min_size(egui::pos2(90.0, 30.0), egui::vec2(20.0, 40.0)));
        narrow.text(egui::pos2(90.0, 50.0), egui::Align2::LEFT_CENTER, "cut off", font, egui::Color32::WHITE);
    });
    harness.run();
    let mut all = Vec::new();
    harness.output().shapes.iter().for_each(|clipped| collect(&clipped.shape, clipped.clip_rect, &mut all));
    let cut = all.iter().filter(|text| text.whole.width() - text.seen.width() > SLACK).count();
    let shared = all[0].seen.intersect(all[1].seen);
    assert!(cut == 1 && shared.width() > SLACK && shared.height() > SLACK);
}
