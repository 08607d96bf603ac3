//! How a curve looks: colour, dash and number, so that curves can be told apart without colour.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, Vec2, vec2};
use egui_plot::LineStyle;

use crate::app::state::selection::Candidate;
use crate::app::widgets::theme::Tokens;

/// The look of one curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Look {
    /// Its colour.
    pub colour: Color32,
    /// Its dash.
    pub style: LineStyle,
    /// Its number, written on the curve and in the legend; 0 stands for the original.
    pub number: usize,
}

const STYLES: [LineStyle; 7] = [
    LineStyle::Solid,
    LineStyle::Dashed { length: 12.0 },
    LineStyle::Dotted { spacing: 6.0 },
    LineStyle::Dashed { length: 5.0 },
    LineStyle::Dotted { spacing: 10.0 },
    LineStyle::Dashed { length: 20.0 },
    LineStyle::Dotted { spacing: 4.0 },
];

impl Look {
    /// The look of the curve at this place in the list.
    pub(super) fn of(index: usize, candidate: Candidate, tokens: &Tokens) -> Self {
        if candidate == Candidate::Original {
            return Self { colour: tokens.weak, style: LineStyle::Dashed { length: 8.0 }, number: 0 };
        }
        let colour = tokens.series[index % tokens.series.len()];
        Self { colour, style: STYLES[index % STYLES.len()], number: index + 1 }
    }

    /// What stands on the curve.
    pub(super) fn tag(&self) -> String {
        if self.number == 0 { "O".to_owned() } else { self.number.to_string() }
    }

    /// Size of the sample in the legend.
    pub(super) const SAMPLE: Vec2 = vec2(34.0, 12.0);

    /// Draws a piece of the curve into the legend.
    pub(super) fn paint_sample(&self, painter: &Painter, rect: Rect) {
        let line: [Pos2; 2] = [rect.left_center(), rect.right_center()];
        let stroke = Stroke::new(2.0, self.colour);
        match self.style {
            LineStyle::Solid => {
                painter.line_segment(line, stroke);
            }
            LineStyle::Dashed { length } => {
                painter.extend(Shape::dashed_line(&line, stroke, length.min(14.0), length.min(14.0) * 0.6));
            }
            LineStyle::Dotted { spacing } => {
                painter.extend(Shape::dotted_line(&line, self.colour, spacing.min(9.0), 1.6));
            }
        }
    }
}
