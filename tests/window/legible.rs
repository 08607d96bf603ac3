//! No two texts overlap and none is cut, in every view, at every usual size of window and text.

use egui::epaint::{ClippedShape, Shape};
use egui::{Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, Rect, TouchPhase, Vec2, vec2};
use refarad::app::Window;

use crate::harness::{Bench, DEMO};

/// What a text is and where it is seen.
#[derive(Clone)]
struct Text {
    words: String,
    /// All of it.
    whole: Rect,
    /// What can be seen there.
    clip: Rect,
    elided: bool,
}

impl Text {
    fn seen(&self) -> Rect {
        self.whole.intersect(self.clip)
    }

    /// How far it reaches out of what is seen, to the left (negative) or to the right.
    fn overhang(&self) -> f32 {
        let (left, right) = (self.clip.left() - self.whole.left(), self.whole.right() - self.clip.right());
        if right > left { right.max(0.0) } else { -left.max(0.0) }
    }
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
            let whole = text.visual_bounding_rect().shrink2(vec2(0.5, 1.0));
            let text = Text { words: text.galley.text().to_owned(), whole, clip, elided: text.galley.elided };
            if text.seen().is_positive() {
                all.push(text);
            }
        }
        _ => {}
    }
}

/// How many points of a side may be missing or shared before an eye notices.
const SLACK: f32 = 1.5;

fn overlaps(all: &[Text], place: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (n, text) in all.iter().enumerate() {
        for other in &all[n + 1..] {
            let shared = text.seen().intersect(other.seen());
            if shared.width() > SLACK && shared.height() > SLACK {
                found.push(format!("{place}: {:?} over {:?} at {shared:?}", text.words, other.words));
            }
        }
    }
    found
}

/// What is shortened by the program, and what is cut by an edge behind which it cannot be brought by scrolling sideways: the wheel is
/// turned over each area until what stuck out is in sight, and what then still is not whole was cut for good.
fn cuts(bench: &mut Bench, all: &[Text], place: &str) -> Vec<String> {
    let shortened = all.iter().filter(|text| text.elided);
    let mut found: Vec<String> = shortened.map(|text| format!("{place}: shortened: {:?}", text.words)).collect();
    // What is seen only as a sliver at an upper or lower edge is not read yet.
    let read = |text: &&Text| text.seen().height() > text.whole.height() - SLACK;
    let mut open: Vec<Text> = all.iter().filter(|text| text.overhang().abs() > SLACK).filter(read).cloned().collect();
    while let Some(first) = open.first().cloned() {
        let right = first.overhang() > 0.0;
        let (of_area, rest): (Vec<Text>, Vec<Text>) =
            open.into_iter().partition(|text| text.clip == first.clip && (text.overhang() > 0.0) == right);
        open = rest;
        let by =
            of_area.iter().map(Text::overhang).fold(0.0, |most: f32, by| if by.abs() > most.abs() { by } else { most });
        wheel(bench, &first, -by - 4.0 * by.signum());
        let now = texts(bench);
        for text in &of_area {
            let whole = |other: &&Text| other.words == text.words && (other.whole.top() - text.whole.top()).abs() < 2.0;
            if !now.iter().filter(whole).any(|other| other.overhang().abs() <= SLACK) {
                found.push(format!("{place}: cut: {:?} {:?} of {:?}", text.words, text.seen(), text.whole));
            }
        }
        wheel(bench, &first, by + 4.0 * by.signum());
    }
    found
}

/// Turns the wheel sideways over a text.
fn wheel(bench: &mut Bench, over: &Text, by: f32) {
    bench.harness.hover_at(over.seen().center());
    bench.harness.event(Event::MouseWheel {
        unit: MouseWheelUnit::Point,
        delta: Vec2::new(by, 0.0),
        phase: TouchPhase::Move,
        source: MouseWheelSource::Unknown,
        modifiers: Modifiers::NONE,
    });
    bench.harness.run_ok();
}

/// One window of a size, walked through every view: what is at fault.
fn walk(size: [f32; 2]) -> Vec<String> {
    let mut bench = Bench::sized(Window::holding(DEMO.clone(), None), size);
    let mut found = Vec::new();
    let mut look = |bench: &mut Bench, place: &str| {
        let (all, place) = (texts(bench), format!("{place}, {size:?}"));
        found.extend(overlaps(&all, &place));
        found.extend(cuts(bench, &all, &place));
    };
    let go = |bench: &mut Bench, key| bench.press_with(Modifiers::COMMAND, key);
    go(&mut bench, Key::Num6);
    look(&mut bench, "start");
    go(&mut bench, Key::Num1);
    bench.press(Key::Home);
    // With a caution, without, and without a part that fits.
    for (position, down) in [(0, 0), (2, 2), (3, 1)] {
        for _ in 0..down {
            bench.press(Key::ArrowDown);
        }
        for (name, key) in [("board", Key::Num1), ("candidates", Key::Num2), ("life", Key::Num3), ("bench", Key::Num7)]
        {
            go(&mut bench, key);
            look(&mut bench, &format!("{name}, position {position}"));
        }
        go(&mut bench, Key::Num1);
    }
    go(&mut bench, Key::Num7);
    bench.press_button("New unit");
    look(&mut bench, "bench, the unit");
    bench.press_button("Service records (0)");
    look(&mut bench, "bench, the record");
    go(&mut bench, Key::Num4);
    for tab in ["Order", "Few lines", "Shelf and offers"] {
        bench.press_button(tab);
        look(&mut bench, &format!("purchase, {tab}"));
    }
    for (name, key) in [("import", Key::I), ("help", Key::Num5)] {
        go(&mut bench, key);
        look(&mut bench, name);
    }
    go(&mut bench, Key::Num1);
    for (name, key) in [("position", Key::E), ("board", Key::B), ("job", Key::J)] {
        go(&mut bench, key);
        look(&mut bench, &format!("editor of the {name}"));
    }
    go(&mut bench, Key::J);
    // The last board has SMD cans.
    bench.press(Key::End);
    look(&mut bench, "board of SMD cans");
    go(&mut bench, Key::Num2);
    bench.press(Key::P);
    bench.press(Key::C);
    look(&mut bench, "comparison");
    found
}

/// 1280x720, 1920x1080 and 2560x1440 pixels at 100, 150 and 200 %, in points; what comes out the same stands once.
macro_rules! sizes {
    ($($name:ident: $size:expr;)+) => {$(
        #[test]
        fn $name() {
            let faults = walk($size);
            assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
        }
    )+};
}

sizes! {
    every_text_is_whole_and_alone_at_1280x720: [1280.0, 720.0];
    every_text_is_whole_and_alone_at_1280x720_and_150_percent: [1280.0 / 1.5, 480.0];
    every_text_is_whole_and_alone_at_1280x720_and_200_percent: [640.0, 360.0];
    every_text_is_whole_and_alone_at_1920x1080: [1920.0, 1080.0];
    every_text_is_whole_and_alone_at_1920x1080_and_200_percent: [960.0, 540.0];
    every_text_is_whole_and_alone_at_2560x1440: [2560.0, 1440.0];
    every_text_is_whole_and_alone_at_2560x1440_and_150_percent: [2560.0 / 1.5, 960.0];
}

#[test]
fn the_test_sees_what_overlaps_and_what_is_cut() {
    let mut harness = egui_kittest::Harness::builder().with_size([200.0, 100.0]).build_ui(|ui| {
        let font = egui::FontId::proportional(14.0);
        for at in [egui::pos2(10.0, 40.0), egui::pos2(20.0, 42.0)] {
            ui.painter().text(at, egui::Align2::LEFT_CENTER, "over", font.clone(), egui::Color32::WHITE);
        }
        let narrow = ui.painter().with_clip_rect(Rect::from_min_size(egui::pos2(90.0, 30.0), vec2(20.0, 40.0)));
        narrow.text(egui::pos2(90.0, 50.0), egui::Align2::LEFT_CENTER, "cut off", font, egui::Color32::WHITE);
    });
    harness.run();
    let mut all = Vec::new();
    harness.output().shapes.iter().for_each(|clipped| collect(&clipped.shape, clipped.clip_rect, &mut all));
    assert_eq!(all.iter().filter(|text| text.overhang() > SLACK).count(), 1);
    assert_eq!(overlaps(&all, "").len(), 1);
}
