//! Mounting holes and keep-outs of a board: a line each, with its figures to be typed or dragged.

use egui::{DragValue, Grid, RichText, Ui, vec2};

use crate::app::actions::{Action, LiveScene};
use crate::app::widgets::field::Change;
use crate::app::widgets::{explain, named};
use crate::domain::schema::{self, Kind as Holds};
use crate::domain::{Board, Bounds, Unit};
use crate::files::entry;

/// One kind of shape with its figures, mm.
struct Kind<const N: usize> {
    /// What one is called.
    one: &'static str,
    explained: &'static str,
    /// Its field in the schema.
    path: &'static str,
    get: fn(&Board) -> &[[f64; N]],
    /// The same, to change them.
    of: fn(&mut Board) -> &mut Vec<[f64; N]>,
    /// A new one on a board of this size.
    new: fn([f64; 2]) -> [f64; N],
}

const HOLES: Kind<3> = Kind {
    one: "Hole",
    explained: "board holes",
    path: "board.holes_mm",
    get: |board| &board.holes_mm,
    of: |board| &mut board.holes_mm,
    new: |[width, height]| [width / 2.0, height / 2.0, 3.2],
};

const KEEP_OUTS: Kind<4> = Kind {
    one: "Keep-out",
    explained: "board keep-outs",
    path: "board.keepouts_mm",
    get: |board| &board.keepouts_mm,
    of: |board| &mut board.keepouts_mm,
    new: |[width, height]| [width / 4.0, height / 4.0, width / 4.0, height / 4.0],
};

/// Draws both lists.
pub(super) fn show(ui: &mut Ui, board: &Board, change: Change<Board>, scene: &LiveScene) {
    list(ui, "Mounting holes, mm", &HOLES, board, change, scene);
    ui.add_space(6.0);
    list(ui, "Keep-outs, mm", &KEEP_OUTS, board, change, scene);
}

fn list<const N: usize>(
    ui: &mut Ui,
    heading: &str,
    kind: &Kind<N>,
    board: &Board,
    change: Change<Board>,
    scene: &LiveScene,
) {
    /// A board to start from where its size is not entered, mm: the size of a Eurocard.
    const USUAL_MM: [f64; 2] = [160.0, 100.0];
    explain::heading(ui, heading, kind.explained);
    let shapes = (kind.get)(board);
    let figures = match schema::find(kind.path).map(|field| field.kind) {
        Some(Holds::Points(figures, _)) => figures,
        _ => &[],
    };
    if shapes.is_empty() {
        ui.label("None entered.");
    }
    // Beside the number and the button that removes it.
    let field_width = ((ui.available_width() - 64.0) / N as f32 - 8.0).clamp(36.0, 56.0);
    let table = Grid::new(heading).num_columns(N + 2).spacing([8.0, 3.0]);
    table.show(ui, |ui| {
        if !shapes.is_empty() {
            ui.label("");
            for (figure, _) in figures {
                ui.label(RichText::new(*figure).weak().small());
            }
            ui.end_row();
        }
        for (at, shape) in shapes.iter().enumerate() {
            let name = format!("{} {}", kind.one, at + 1);
            ui.label((at + 1).to_string());
            for (n, (figure, bounds)) in figures.iter().enumerate() {
                let mut value = shape[n];
                let allowed = match bounds {
                    Bounds::Positive => 0.1..=2000.0,
                    _ => -2000.0..=2000.0,
                };
                let field = DragValue::new(&mut value)
                    .range(allowed)
                    .speed(0.1)
                    .max_decimals(2)
                    .custom_parser(|text| entry::read(Unit::Millimetre, *bounds, text).ok().flatten());
                let response = named(ui.add_sized(vec2(field_width, 22.0), field), format!("{name}, {figure}"));
                if response.changed() {
                    change(&name.to_lowercase(), &|board| {
                        if let Some(shape) = (kind.of)(board).get_mut(at) {
                            shape[n] = value;
                        }
                    });
                }
                if response.drag_stopped() || response.lost_focus() {
                    scene.push(Action::EndEntry);
                }
            }
            let name = name.to_lowercase();
            let remove = named(ui.small_button("×"), format!("Remove {name}"));
            if remove.on_hover_text(format!("Takes {name} off the board.")).clicked() {
                change(&format!("remove {name}"), &|board| {
                    let shapes = (kind.of)(board);
                    if at < shapes.len() {
                        shapes.remove(at);
                    }
                });
                scene.push(Action::EndEntry);
            }
            ui.end_row();
        }
    });
    let one = kind.one.to_lowercase();
    if ui.button(format!("Add a {one}")).clicked() {
        let new = (kind.new)(board.outline_mm.unwrap_or(USUAL_MM));
        change(&format!("add a {one}"), &|board| (kind.of)(board).push(new));
        scene.push(Action::EndEntry);
    }
}
