//! The jobs worked on last: read on another thread, drawn with a picture of their first board.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use egui::{Align, Color32, Label, Layout, Pos2, Rect, RichText, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

use crate::app::actions::{Action, LiveScene};
use crate::app::widgets::theme::{self, Tokens};
use crate::domain::{Board, Job};
use crate::files::job;

/// A can on the picture: middle and diameter, mm.
type CanMm = (f32, f32, f32);

/// What is shown of a job.
#[derive(Debug, Clone)]
pub(super) struct Recent {
    pub(super) path: PathBuf,
    /// `Err`: why it cannot be opened, in words.
    seen: Result<Seen, String>,
}

#[derive(Debug, Clone)]
struct Seen {
    name: String,
    changed: Option<SystemTime>,
    positions: usize,
    picked: usize,
    size_mm: (f32, f32),
    cans: Vec<CanMm>,
}

impl Recent {
    /// Reads what is shown of a job file.
    pub(super) fn read(path: &Path) -> Self {
        let seen = job::read(path).map_err(|error| error.to_string()).map(|read| {
            let changed = std::fs::metadata(path).and_then(|file| file.modified()).ok();
            Seen::of(&read.job, changed)
        });
        Self { path: path.to_owned(), seen }
    }
}

impl Seen {
    fn of(job: &Job, changed: Option<SystemTime>) -> Self {
        let first = job.boards.iter().max_by_key(|board| board.positions.len());
        let (size_mm, cans) = first.map(drawn).unwrap_or_default();
        Self {
            name: job.name.clone(),
            changed,
            positions: job.positions().count(),
            picked: job.positions().filter(|(_, position)| position.pick.is_some()).count(),
            size_mm,
            cans,
        }
    }
}

/// Size of a board and its cans, mm; cans without a place are left out.
#[expect(clippy::cast_possible_truncation, reason = "millimetres of a picture")]
fn drawn(board: &Board) -> ((f32, f32), Vec<CanMm>) {
    /// Where neither the can nor its diameter is known.
    const USUAL_MM: f64 = 10.0;
    let cans: Vec<CanMm> = board
        .positions
        .iter()
        .filter_map(|position| {
            let diameter = position.original.can.diameter_mm.unwrap_or(USUAL_MM);
            Some((position.x_mm? as f32, position.y_mm? as f32, diameter as f32))
        })
        .collect();
    let far = |side: fn(&CanMm) -> f32| cans.iter().map(|can| side(can) + can.2).fold(1.0_f32, f32::max);
    let outline = board.outline_mm.map(|[width, height]| (width as f32, height as f32));
    let (width, height) = outline.unwrap_or_else(|| (far(|can| can.0), far(|can| can.1)));
    ((width.max(1.0), height.max(1.0)), cans)
}

/// Height of a row, points.
const ROW: f32 = 58.0;
const PICTURE: egui::Vec2 = vec2(78.0, 46.0);

/// Draws a job as a row one clicks.
pub(super) fn show(ui: &mut Ui, recent: &Recent, scene: &LiveScene) {
    let tokens = theme::tokens(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::click());
    let fill = if response.hovered() { tokens.control } else { tokens.panel };
    ui.painter().rect(rect, 6.0, fill, Stroke::new(1.0, tokens.line), StrokeKind::Inside);
    let picture = Rect::from_min_size(rect.min + vec2(8.0, (ROW - PICTURE.y) / 2.0), PICTURE);
    let file = recent.path.display().to_string();
    let (name, state, age) = match &recent.seen {
        Ok(seen) => {
            board_picture(ui, picture, seen, tokens);
            let name = if seen.name.is_empty() { "Job without a name" } else { seen.name.as_str() };
            let age = seen.changed.and_then(|at| at.elapsed().ok()).map_or(String::new(), |age| ago(age.as_secs()));
            (name.to_owned(), settled(seen.picked, seen.positions), age)
        }
        Err(error) => {
            // The file is named beside it.
            let why = error.strip_prefix(&file).unwrap_or(error).trim_start_matches([':', ' ']);
            (file_name(&recent.path), format!("cannot be opened: {why}"), String::new())
        }
    };
    let told = format!("{name}, {state}, {age}; {file}");
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &told));
    let inner = Rect::from_min_max(pos2(picture.right() + 14.0, rect.top() + 8.0), rect.max - vec2(12.0, 8.0));
    let column = |from: f32, to: f32| {
        let at = |share: f32| inner.left() + inner.width() * share;
        Rect::from_min_max(pos2(at(from), inner.top()), pos2(at(to) - 8.0, inner.bottom()))
    };
    let mut text = |rect: Rect, lines: [RichText; 2]| {
        let builder = egui::UiBuilder::new().max_rect(rect).layout(Layout::top_down(Align::LEFT));
        // A child of its own: it must not move what is drawn next.
        let mut ui = ui.new_child(builder);
        ui.spacing_mut().item_spacing.y = 2.0;
        for line in lines.into_iter().filter(|line| !line.is_empty()) {
            ui.add(Label::new(line).truncate().selectable(false));
        }
    };
    text(column(0.0, 0.52), [RichText::new(name).strong(), RichText::new(&file).weak().small()]);
    text(column(0.52, 0.8), [RichText::new(state), RichText::new("")]);
    text(column(0.8, 1.0), [RichText::new(age).weak(), RichText::new("")]);
    if response.on_hover_text(file).clicked() {
        scene.push(Action::TakeFile(recent.path.clone()));
    }
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

fn settled(picked: usize, positions: usize) -> String {
    match positions {
        0 => "no positions yet".to_owned(),
        _ => format!("{picked} of {positions} settled"),
    }
}

/// How long ago something was, in words.
fn ago(seconds: u64) -> String {
    let (number, one) = match seconds {
        ..60 => return "just now".to_owned(),
        60..3600 => (seconds / 60, "minute"),
        3600..86_400 => (seconds / 3600, "hour"),
        86_400..1_209_600 => (seconds / 86_400, "day"),
        1_209_600..5_184_000 => (seconds / 604_800, "week"),
        5_184_000..63_072_000 => (seconds / 2_592_000, "month"),
        _ => (seconds / 31_536_000, "year"),
    };
    format!("{number} {one}{} ago", if number == 1 { "" } else { "s" })
}

/// The board from above, to scale, as small as it is.
fn board_picture(ui: &Ui, rect: Rect, seen: &Seen, tokens: &Tokens) {
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let scale = (rect.width() / seen.size_mm.0).min(rect.height() / seen.size_mm.1);
    let size = vec2(seen.size_mm.0, seen.size_mm.1) * scale;
    let board = Rect::from_center_size(rect.center(), size);
    painter.rect_filled(board, 2.0, Color32::from_rgb(0x2C, 0x5B, 0x46));
    let ring = Stroke::new(1.0, Color32::from_rgb(0xBF, 0xD9, 0xC9));
    // The origin of a board is its lower left corner.
    let at = |x: f32, y: f32| -> Pos2 { pos2(board.left() + x * scale, board.bottom() - y * scale) };
    for &(x, y, diameter) in &seen.cans {
        painter.circle(at(x, y), (diameter * scale / 2.0).max(1.0), Color32::from_rgb(0x16, 0x2C, 0x24), ring);
    }
    painter.rect_stroke(board, 2.0, Stroke::new(1.0, tokens.line), StrokeKind::Outside);
}

#[cfg(test)]
#[path = "../../../../tests/window/inside/recent.rs"]
mod tests;
