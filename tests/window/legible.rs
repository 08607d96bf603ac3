//! No two texts overlap and none is cut, in every view, at every usual size of window and text. What is painted is read: of each line of
//! a text the ink, how much of it is seen, and what is laid over it. A text that is cut at the edge of what can be scrolled
//! must come into sight whole by the wheel over it. A text that was shortened, or made smaller than can be read, to have room
//! counts as a fault, too.

use std::collections::BTreeSet;

use egui::accesskit::Role;
use egui::epaint::{ClippedShape, Shape};
use egui::{Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, Pos2, Rect, TouchPhase, Vec2, vec2};
use egui_kittest::kittest::NodeT;
use refarad::app::Window;
use refarad::files::load::Loaded;

use crate::harness::{Bench, DEMO};

/// 1280x720, 1920x1080 and 2560x1440 pixels at 100, 150 and 200 %, in points; what comes out the same stands once.
const SIZES: [[f32; 2]; 7] = [
    [1280.0, 720.0],
    [1280.0 / 1.5, 480.0],
    [640.0, 360.0],
    [960.0, 540.0],
    [1920.0, 1080.0],
    [2560.0 / 1.5, 960.0],
    [2560.0, 1440.0],
];

/// A line of a text and where it is seen.
#[derive(Clone)]
struct Line {
    words: String,
    /// All of its ink.
    whole: Rect,
    /// What is seen of it.
    seen: Rect,
    /// What it is seen through.
    clip: Rect,
    elided: bool,
    /// What it says where it is not shortened.
    full: String,
    /// Size of its smallest letters, points.
    letters: f32,
}

impl Line {
    fn is_whole(&self) -> bool {
        let missing = self.whole.size() - self.seen.size();
        !self.elided && self.is_readable() && missing.x <= SLACK && missing.y <= SLACK
    }

    /// A single letter is a mark.
    fn is_readable(&self) -> bool {
        self.letters >= SMALLEST || self.words.chars().count() == 1
    }

    fn is_cut_sideways(&self) -> bool {
        self.whole.width() - self.seen.width() > SLACK
    }

    /// What it is looked for by, once in each direction.
    fn key(&self) -> (String, bool) {
        (self.words.clone(), self.is_cut_sideways())
    }
}

/// Smaller letters are not read, points; those of figures in a head or a plot are 12.
const SMALLEST: f32 = 9.5;

/// How many points of a side may be missing or shared before an eye notices.
const SLACK: f32 = 1.5;

/// About as high as a row of a table, points.
const ROW: f32 = 24.0;

/// From this size on an area filled opaquely is something laid over what was painted before, points.
const LAID_OVER: Vec2 = vec2(110.0, 40.0);

fn lines<'a>(shapes: impl IntoIterator<Item = &'a ClippedShape>) -> Vec<Line> {
    let mut all = Vec::new();
    for ClippedShape { clip_rect, shape, .. } in shapes {
        collect(shape, *clip_rect, &mut all);
    }
    all
}

fn collect(shape: &Shape, clip: Rect, all: &mut Vec<Line>) {
    match shape {
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| collect(shape, clip, all)),
        Shape::Rect(area) if area.fill.is_opaque() => {
            let area = area.rect.intersect(clip);
            if area.width() >= LAID_OVER.x && area.height() >= LAID_OVER.y {
                all.retain(|line| !line.seen.intersects(area));
            }
        }
        Shape::Text(text) if !text.galley.text().trim().is_empty() => {
            for placed in &text.galley.rows {
                let ink = placed.row.visuals.mesh_bounds;
                let whole = ink.translate(text.pos.to_vec2() + placed.pos.to_vec2());
                let seen = whole.intersect(clip);
                if text.angle == 0.0 && ink.is_positive() && seen.is_positive() {
                    let elided = text.galley.elided;
                    let sizes = text.galley.job.sections.iter().map(|section| section.format.font_id.size);
                    let letters = sizes.fold(f32::INFINITY, f32::min);
                    let full = text.galley.text().to_owned();
                    all.push(Line { words: placed.row.text(), whole, seen, clip, elided, full, letters });
                }
            }
        }
        _ => {}
    }
}

/// What is wrong with what is painted now: pairs that share room, and lines that are not whole.
fn faults(all: &[Line]) -> (BTreeSet<String>, Vec<Line>) {
    let mut over = BTreeSet::new();
    for (n, line) in all.iter().enumerate() {
        for other in &all[n + 1..] {
            let shared = line.seen.intersect(other.seen);
            if shared.width() > SLACK && shared.height() > SLACK {
                over.insert(format!("{:?} over {:?} at {shared:?}", line.words, other.words));
            }
        }
    }
    (over, all.iter().filter(|line| !line.is_whole()).cloned().collect())
}

/// The window and what was found so far.
struct Walk {
    bench: Bench,
    size: [f32; 2],
    found: Vec<String>,
}

/// How often one place is scrolled to bring what is cut into sight; a table of 1500 rows is not walked to its end.
const SCROLLED: usize = 40;

impl Walk {
    fn of(loaded: Loaded) -> Self {
        let [size, ..] = SIZES;
        let bench = Bench::sized(Window::holding(loaded, None), size);
        // What is scrolled to is there at once.
        bench.harness.ctx.all_styles_mut(|style| {
            style.scroll_animation = egui::style::ScrollAnimation::none();
            style.animation_time = 0.0;
        });
        Self { bench, size, found: Vec::new() }
    }

    fn resize(&mut self, size: [f32; 2]) {
        self.size = size;
        self.bench.harness.set_size(size.into());
        self.rest();
    }

    fn now(&self) -> Vec<Line> {
        let mut all = lines(&self.bench.harness.output().shapes);
        // What is shortened has to be told in full by the name of something; what opens a dialog is one word and ends so, too.
        let ends = |line: &Line| line.elided || line.words.trim_end().ends_with('…');
        let opens = |line: &Line| line.words.trim_end_matches('…').chars().all(char::is_alphabetic);
        if all.iter().any(ends) {
            let nodes = || self.bench.harness.root().children_recursive();
            let texts = |node: egui_kittest::Node<'_>| {
                let node = node.accesskit_node();
                [node.label(), node.value(), node.placeholder().map(ToOwned::to_owned)]
            };
            let names: BTreeSet<String> = nodes().flat_map(texts).flatten().collect();
            let told = |line: &Line| {
                let full = line.full.trim().trim_end_matches('…');
                opens(line) || names.iter().any(|name| name.contains(full))
            };
            all.iter_mut().filter(|line| ends(line)).for_each(|line| line.elided = !told(line));
        }
        all
    }

    fn scroll(&mut self, at: Pos2, delta: Vec2) {
        let harness = &mut self.bench.harness;
        harness.event(Event::PointerMoved(at));
        let (unit, phase, source) = (MouseWheelUnit::Point, TouchPhase::Move, MouseWheelSource::Unknown);
        harness.event(Event::MouseWheel { unit, delta, phase, source, modifiers: Modifiers::NONE });
        harness.run_ok();
        harness.remove_cursor();
        self.rest();
    }

    /// Where one types.
    fn fields(&self) -> Vec<Rect> {
        let nodes = self.bench.harness.root().children_recursive();
        nodes.filter(|node| node.accesskit_node().role() == Role::TextInput).map(|node| node.rect()).collect()
    }

    /// Looks at what is shown, and scrolls until everything that was cut has been seen whole.
    fn look(&mut self, place: &str) {
        let mut over = BTreeSet::new();
        let mut whole: BTreeSet<String> = BTreeSet::new();
        let mut cut: Vec<Line> = Vec::new();
        let mut tried: BTreeSet<(String, bool)> = BTreeSet::new();
        for _ in 0..SCROLLED {
            let all = self.now();
            whole.extend(all.iter().filter(|line| line.is_whole()).map(|line| line.words.clone()));
            let (shared, mut partly) = faults(&all);
            over.extend(shared);
            // What stands in a field moves with the caret.
            let fields = self.fields();
            partly.retain(|line| !fields.iter().any(|field| field.expand(2.0).contains_rect(line.seen)));
            // What is cut sideways first: of a long table not all rows are looked at.
            let sideways = |line: &&Line| line.is_cut_sideways();
            let untried = |line: &&Line| {
                !line.elided && line.is_readable() && !whole.contains(&line.words) && !tried.contains(&line.key())
            };
            let next = partly.iter().filter(untried).find(sideways).or_else(|| partly.iter().find(untried)).cloned();
            cut.extend(partly);
            let Some(line) = next else { break };
            tried.insert(line.key());
            // So that it stands at the left or upper edge of what is scrolled.
            let towards = |clip: std::ops::RangeInclusive<f32>, from: f32, to: f32| match () {
                () if to > clip.end() + 0.5 => (clip.start() + 4.0 - from).min(clip.end() - to - 4.0),
                () if from < clip.start() - 0.5 => clip.start() + 4.0 - from,
                () => 0.0,
            };
            let x = towards(line.clip.x_range().into(), line.whole.left(), line.whole.right());
            let y = towards(line.clip.y_range().into(), line.whole.top(), line.whole.bottom());
            // Beside a scroll bar, and the heading of a table with its rows.
            for beside in [Vec2::ZERO, vec2(-40.0, 0.0), vec2(-40.0, 3.0 * ROW)] {
                self.scroll(line.seen.center() + beside, if x == 0.0 { vec2(0.0, y) } else { vec2(x, 0.0) });
                if !self.now().iter().any(|now| now.words == line.words && now.whole == line.whole) {
                    break;
                }
            }
        }
        whole.extend(self.now().into_iter().filter(Line::is_whole).map(|line| line.words));
        // Of a long table only what was scrolled to has to come into sight.
        let cut = cut.into_iter().filter(|line| line.elided || !line.is_readable() || tried.contains(&line.key()));
        // Cells of strangers may be as long as they like; they are told in full where the pointer rests on them.
        let cut = cut.filter(|line| !(line.elided && place == "import"));
        let cut: BTreeSet<_> = cut
            .filter(|line| !whole.contains(&line.words))
            .map(|line| {
                let what = match &line {
                    line if line.elided => "elided",
                    line if !line.is_readable() => "too small",
                    _ => "cut",
                };
                format!("{what} {:?} {:?} of {:?}", line.words, line.seen, line.whole)
            })
            .collect();
        let place = format!("{place} at {:?}: ", self.size);
        self.found.extend(over.iter().chain(&cut).map(|fault| format!("{place}{fault}")));
    }

    /// Looks at all of the editor's sheet, a part of the window's height at a time.
    fn look_through(&mut self, place: &str) {
        let [width, height] = self.size;
        self.look(place);
        for _ in 0..SCROLLED {
            let before: Vec<_> = self.now().into_iter().map(|line| (line.words, line.seen)).collect();
            self.scroll(egui::pos2(width - 60.0, height * 0.7), vec2(0.0, height * -0.4));
            let now = self.now().into_iter().map(|line| (line.words, line.seen));
            if now.eq(before) {
                break;
            }
            self.look(place);
        }
    }

    /// Draws until nothing is left to do, or what scrolls smoothly has had its time.
    fn rest(&mut self) {
        for _ in 0..3 {
            self.bench.harness.run_ok();
            self.bench.harness.state_mut().settle();
        }
        self.bench.harness.run_ok();
    }

    fn press(&mut self, keys: &[Key]) {
        for &key in keys {
            self.bench.harness.key_press(key);
            self.rest();
        }
    }

    fn press_ctrl(&mut self, key: Key) {
        self.bench.harness.key_press_modifiers(Modifiers::COMMAND, key);
        self.rest();
    }

    /// Presses the control whose name begins so, wherever it is scrolled to.
    fn click(&mut self, name: &str) {
        let named = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            node.role() != Role::Label && node.label().is_some_and(|label| label.starts_with(name))
        };
        self.bench.harness.root().children_recursive().find(named).expect(name).click_accesskit();
        self.rest();
    }

    /// What is done once, and is then the same in every size: parts pinned for the comparison, panels of Life opened, a serial
    /// number at the bench, the quantities of the order unfolded.
    fn prepare(&mut self) {
        self.press_ctrl(Key::Num2);
        self.press(&[Key::Home, Key::ArrowRight, Key::Home, Key::P, Key::ArrowDown, Key::P, Key::ArrowDown, Key::P]);
        self.press(&[Key::ArrowLeft]);
        self.press_ctrl(Key::Num3);
        CLOSED.into_iter().for_each(|panel| self.click(panel));
        self.press_ctrl(Key::Num4);
        self.click("Quantities");
        self.press_ctrl(Key::Num7);
        self.click("New unit");
    }

    /// Every view with what can be opened in it, in the size it has now.
    fn views(&mut self) {
        self.press_ctrl(Key::Num1);
        for position in 0..4 {
            // With a caution, without, and without a part that fits.
            self.press(&[if position == 0 { Key::Home } else { Key::ArrowDown }]);
            self.look(&format!("board, position {position}"));
        }
        self.press(&[Key::End]);
        self.look("board of SMD cans");
        self.press(&[Key::Home]);
        for (key, editor) in [(Key::E, "position"), (Key::B, "board"), (Key::J, "job")] {
            self.press_ctrl(key);
            self.look_through(&format!("editor of the {editor}"));
        }
        self.click("Other parts");
        self.look_through("editor of other parts");
        self.click("Close the editor");
        self.press_ctrl(Key::Num2);
        self.look("candidates");
        self.press(&[Key::C]);
        self.look("compare");
        self.press(&[Key::C]);
        self.press_ctrl(Key::Num3);
        self.look("life");
        // They are as wide in all windows but the widest and the narrowest.
        let panels = [SIZES[0], SIZES[2], SIZES[6]].contains(&self.size);
        for panel in OPEN.into_iter().chain(CLOSED).filter(|_| panels) {
            let named = |node: &egui_kittest::Node<'_>| node.accesskit_node().label().as_deref() == Some(panel);
            self.bench.harness.root().children_recursive().find(named).expect(panel).scroll_to_me();
            self.rest();
            self.look(panel);
        }
        self.click("Board overview");
        self.look("board overview");
        self.click("Curves");
        self.press_ctrl(Key::Num4);
        for tab in ["Consolidate order", "Stock and quotes", "Order"] {
            self.click(tab);
            self.look(tab);
        }
        for (key, view) in [(Key::Num7, "bench"), (Key::Num5, "help"), (Key::Num6, "start")] {
            self.press_ctrl(key);
            self.look(view);
        }
    }
}

/// The panels of Life that are open at first, and those that are not.
const OPEN: [&str; 3] = ["Load profile", "Spread", "Board and interval"];
const CLOSED: [&str; 12] = [
    "Change",
    "Uncertainties of the job",
    "Interval plan",
    "Thermal cross-check",
    "Ripple from the circuit",
    "Ripple from an oscilloscope",
    "Temperature log",
    "Parallel and series",
    "Old part",
    "Stored energy and discharge",
    "Inrush and hold-up",
    "Shelf and re-forming",
];

fn assert_legible(found: &[String]) {
    assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
}

fn walk_views(sizes: &[[f32; 2]]) {
    let mut walk = Walk::of(DEMO.clone());
    walk.prepare();
    for &size in sizes {
        walk.resize(size);
        walk.views();
    }
    assert_legible(&walk.found);
}

#[test]
fn no_two_texts_overlap_and_none_is_cut_in_any_view_of_a_small_window() {
    walk_views(&SIZES[..4]);
}

#[test]
fn no_two_texts_overlap_and_none_is_cut_in_any_view_of_a_large_window() {
    walk_views(&SIZES[4..]);
}

/// A list as somebody else made it, with a row that asks and one that is rejected.
const LIST: &str = "Designator,Quantity,Comment,Footprint,Description\n\
    \"C1, C2\",2,470uF 35V,CP_Radial_D10.0mm_P5.00mm,Electrolytic capacitor\nC3,1,22uF 50V,,Electrolytic capacitor\n\
    C3,1,22uF,CP_Radial_D5.0mm_P2.00mm,Electrolytic capacitor\nK1,1,Relay 24V,,Relay\nR1,1,10k,R_0805,Resistor\n";

#[test]
fn a_list_of_ones_own_is_legible_from_its_import_to_its_order() {
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("list.csv");
    std::fs::write(&list, LIST).unwrap();
    let mut loaded = DEMO.clone();
    // A job of one's own with the boards and parts of the demo: they are marked as invented.
    loaded.job.invented = None;
    let mut walk = Walk::of(loaded);
    walk.bench.drop_files([list]);
    for size in SIZES {
        walk.resize(size);
        walk.press_ctrl(Key::I);
        walk.look("import");
        for (key, view) in [(Key::Num1, "board"), (Key::Num2, "candidates"), (Key::Num4, "order")] {
            walk.press_ctrl(key);
            walk.look(&format!("{view} of one's own"));
        }
    }
    assert_legible(&walk.found);
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
    let all = lines(&harness.output().shapes);
    let (over, cut) = faults(&all);
    assert_eq!((over.len(), cut.len()), (1, 1), "{over:?}");
    assert_eq!(cut[0].words, "cut off");
}

#[test]
fn the_test_sees_what_is_shortened_and_what_is_too_small_to_read() {
    let mut harness = egui_kittest::Harness::builder().with_size([200.0, 100.0]).build_ui(|ui| {
        ui.set_max_width(60.0);
        ui.add(egui::Label::new("far too long for its room").truncate());
        ui.label(egui::RichText::new("tiny").size(8.0));
    });
    harness.run();
    let (_, cut) = faults(&lines(&harness.output().shapes));
    assert_eq!(
        cut.iter().map(|line| (line.elided, line.is_readable())).collect::<Vec<_>>(),
        [(true, true), (false, false)]
    );
}
