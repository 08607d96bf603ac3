//! The real window over a million invented parts, frame by frame without a screen: what a frame, a filter and a sort cost.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use egui::accesskit::Node;
use egui::{
    Context, Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, Pos2, RawInput, Rect, TouchPhase, pos2, vec2,
};
use refarad::app::Window;
use refarad::domain::{Job, Position};
use refarad::files::load::Loaded;
use refarad::files::{demo, parts};
use refarad::sizing::CatalogIndex;

use crate::catalogue::csv_text;

const PARTS: usize = 1_000_000;
const SIZE: Pos2 = pos2(1280.0, 720.0);
/// Where the rows of the table are.
const ON_THE_TABLE: Pos2 = pos2(700.0, 360.0);

/// The first position of the demo asking for nothing, so that every part is a candidate: the worst the table can meet.
fn undemanding() -> Job {
    let mut job = demo::job().unwrap().job;
    job.boards.truncate(1);
    job.boards[0].positions.truncate(1);
    let position = &mut job.boards[0].positions[0];
    (position.role, position.pick) = (None, None);
    position.original.can.mounting = None;
    let stress = &mut position.stress;
    (stress.dc_v, stress.ripple_peak_v, stress.transient_v, stress.min_v) =
        (Some(1.0), Some(0.0), Some(1.0), Some(0.0));
    (position.space.diameter_max_mm, position.space.height_max_mm) = (Some(1e3), Some(1e3));
    job
}

struct Driven {
    ctx: Context,
    window: Window,
}

impl Driven {
    fn new(parts_count: usize) -> Self {
        let text = csv_text(parts_count).into_bytes();
        let read = parts::from_bytes(vec![(PathBuf::from("invented.csv"), text)]).unwrap();
        let catalog_index = CatalogIndex::new(Arc::new(read.catalog));
        let loaded = Loaded {
            job: undemanding(),
            catalog_index,
            rejected: Vec::new(),
            notes: Vec::new(),
            newer: false,
            unusable: Vec::new(),
            as_saved: std::collections::BTreeMap::default(),
        };
        let mut driven = Self { ctx: Context::default(), window: Window::holding(loaded, None) };
        driven.frame(Vec::new());
        driven.window.settle();
        driven.frame(Vec::new());
        driven
    }

    /// One frame with these events: the user interface, and its shapes turned into triangles.
    fn frame(&mut self, events: Vec<Event>) -> Duration {
        let input = RawInput { screen_rect: Some(Rect::from_min_max(Pos2::ZERO, SIZE)), events, ..RawInput::default() };
        let begun = Instant::now();
        let mut output = self.ctx.run_ui(input, |ui| self.window.ui(ui));
        // There is no screen to give them to.
        output.textures_delta.clear();
        let triangles = self.ctx.tessellate(output.shapes, output.pixels_per_point);
        let spent = begun.elapsed();
        divan::black_box(triangles);
        spent
    }

    /// The middle of the control whose name begins so.
    fn control(&mut self, name: &str) -> Pos2 {
        self.ctx.enable_accesskit();
        let input = RawInput { screen_rect: Some(Rect::from_min_max(Pos2::ZERO, SIZE)), ..RawInput::default() };
        let mut output = self.ctx.run_ui(input, |ui| self.window.ui(ui));
        output.textures_delta.clear();
        self.ctx.disable_accesskit();
        let tree = output.platform_output.accesskit_update.unwrap();
        let is_named = |node: &Node| node.label().is_some_and(|label| label.starts_with(name));
        let (_, node) = tree.nodes.iter().find(|(_, node)| is_named(node)).expect(name);
        let bounds = node.bounds().unwrap();
        #[expect(clippy::cast_possible_truncation, reason = "points of a screen")]
        let at = |low: f64, high: f64| ((low + high) / 2.0) as f32;
        pos2(at(bounds.x0, bounds.x1), at(bounds.y0, bounds.y1))
    }

    fn key(key: Key, modifiers: Modifiers) -> Vec<Event> {
        let event = |pressed| Event::Key { key, physical_key: None, pressed, repeat: false, modifiers };
        vec![event(true), event(false)]
    }

    /// From these events until the table shows what they ask for.
    fn answer(&mut self, events: Vec<Event>) -> (Duration, Duration) {
        let begun = Instant::now();
        let mut worst = self.frame(events);
        self.window.settle();
        worst = worst.max(self.frame(Vec::new()));
        (begun.elapsed(), worst)
    }
}

fn milliseconds(times: &mut [Duration], share: f64) -> f64 {
    times.sort_unstable();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "an index within the list")]
    let at = ((times.len() - 1) as f64 * share) as usize;
    times[at].as_secs_f64() * 1e3
}

/// Frames at the pace of a screen while the window opens a job with a million parts and sizes it.
fn print_loading() {
    const PACE: Duration = Duration::from_micros(16_667);
    let folder = tempfile::tempdir().unwrap();
    let job_path = folder.path().join("job.json");
    std::fs::write(folder.path().join("parts.csv"), csv_text(PARTS)).unwrap();
    let mut job = demo::job().unwrap().job;
    job.catalogs = vec!["parts.csv".into()];
    std::fs::write(&job_path, refarad::files::job::to_text(&job)).unwrap();
    let window = Window::new(refarad::app::Start { path: Some(job_path) });
    let mut driven = Driven { ctx: Context::default(), window };
    let begun = Instant::now();
    let mut frames = vec![driven.frame(Vec::new())];
    let first = frames[0];
    while driven.window.is_working() {
        std::thread::sleep(PACE.saturating_sub(frames.last().copied().unwrap_or_default()));
        frames.push(driven.frame(Vec::new()));
    }
    println!(
        "window, opening a job with {PARTS} parts and sizing it: {:.2} s, {} frames, first {:.2} ms, then {:.2} ms median, {:.2} ms worst",
        begun.elapsed().as_secs_f64(),
        frames.len(),
        first.as_secs_f64() * 1e3,
        milliseconds(&mut frames[1..], 0.5),
        milliseconds(&mut frames[1..], 1.0),
    );
}

/// Prints what a frame, a filter and a sort cost over a million candidates.
pub(crate) fn print() {
    print_loading();
    let mut driven = Driven::new(PARTS);
    driven.frame(vec![Event::PointerMoved(ON_THE_TABLE)]);
    let wheel = |lines: f32| Event::MouseWheel {
        unit: MouseWheelUnit::Point,
        delta: vec2(0.0, -lines),
        phase: TouchPhase::Move,
        source: MouseWheelSource::Unknown,
        modifiers: Modifiers::NONE,
    };
    let mut frames: Vec<Duration> = (0..600).map(|_| driven.frame(vec![wheel(97.0)])).collect();
    println!(
        "window, {PARTS} candidates, scrolling: a frame {:.2} ms median, {:.2} ms p99, {:.2} ms worst",
        milliseconds(&mut frames, 0.5),
        milliseconds(&mut frames, 0.99),
        milliseconds(&mut frames, 1.0),
    );
    driven.frame(Driven::key(Key::F, Modifiers::COMMAND));
    driven.frame(Vec::new());
    for typed in ["h", " ", "<", " ", "2", "0", " ", "q", "x", "-", "0", "0", "1"] {
        let (answered, worst) = driven.answer(vec![Event::Text(typed.to_owned())]);
        println!(
            "window, filter, typed {typed:?}: answered within {:.1} ms, worst frame {:.2} ms",
            answered.as_secs_f64() * 1e3,
            worst.as_secs_f64() * 1e3,
        );
    }
    driven.answer(Driven::key(Key::Escape, Modifiers::NONE));
    for what in ["part", "verdict", "margin", "price"] {
        let at = driven.control(&format!("Sort by {what}"));
        let click = |pressed| Event::PointerButton {
            pos: at,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        };
        driven.frame(vec![Event::PointerMoved(at)]);
        driven.frame(vec![click(true)]);
        let (answered, worst) = driven.answer(vec![click(false)]);
        println!(
            "window, sorted by {what}: answered within {:.1} ms, worst frame {:.2} ms",
            answered.as_secs_f64() * 1e3,
            worst.as_secs_f64() * 1e3,
        );
    }
}

/// A frame of the window while nothing changes.
#[divan::bench(args = [10_000, 1_000_000], sample_count = 100, sample_size = 1)]
fn frame_with_candidates(bencher: divan::Bencher, parts_count: usize) {
    let mut driven = Driven::new(parts_count);
    bencher.bench_local(move || driven.frame(Vec::new()));
}

/// A frame of the map with so many cans on one board, in rows as on a real one or all on one spot.
#[divan::bench(args = [(10_000, false), (300, true), (10_000, true)], sample_count = 60, sample_size = 1)]
fn frame_of_the_map(bencher: divan::Bencher, (cans, on_one_spot): (usize, bool)) {
    let mut loaded = refarad::files::load::load_demo().unwrap();
    let board = &mut loaded.job.boards[0];
    let first = board.positions[2].clone();
    board.outline_mm = None;
    board.positions = (0..cans)
        .map(|at| {
            let (column, row) = if on_one_spot { (0, 0) } else { (at % 100, at / 100) };
            let place = |n: usize| Some(12.0 * n as f64);
            let reference = format!("C{at}");
            Position { reference, x_mm: place(column), y_mm: place(row), ..first.clone() }
        })
        .collect();
    let mut driven = Driven { ctx: Context::default(), window: Window::holding(loaded, None) };
    driven.frame(Driven::key(Key::Num1, Modifiers::COMMAND));
    driven.window.settle();
    driven.frame(Vec::new());
    driven.window.settle();
    driven.frame(Vec::new());
    bencher.bench_local(move || driven.frame(Vec::new()));
}
