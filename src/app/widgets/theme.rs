//! Every colour and distance of the window, by name, with a dark and a light value.
//!
//! The colours of outcomes and curves are those of Okabe and Ito (Color Universal Design, 2008; published, made to stay
//! apart for colour-blind eyes). Where such a colour is too close to the background for text and thin lines, `ink` is the
//! same hue made darker or lighter.

use egui::{self, Color32, CornerRadius, FontFamily, FontId, Stroke, Style, TextStyle, Theme, vec2};

use crate::domain::Outcome;
use crate::files::drawing;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct OutcomeInk {
    /// For areas: the published colour.
    pub fill: Color32,
    /// For marks, lines and text.
    pub ink: Color32,
}

/// The colours of one theme.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Tokens {
    /// Background of the place in the middle.
    pub base: Color32,
    /// Background of bars, lists and popups.
    pub panel: Color32,
    /// Background of every second row.
    pub stripe: Color32,
    /// Background of a control at rest.
    pub control: Color32,
    /// Background of a control under the pointer.
    pub control_hot: Color32,
    /// Lines between areas and around controls.
    pub line: Color32,
    pub text: Color32,
    /// Text of less weight: units, captions, remarks.
    pub weak: Color32,
    /// Background of what is selected.
    pub selected: Color32,
    pub selected_text: Color32,
    /// Outline of the control that has the keyboard.
    pub focus: Color32,
    pub target: Color32,
    /// Curves, one after another.
    pub series: [Color32; 12],
    outcomes: [OutcomeInk; 4],
}

impl Tokens {
    pub(crate) fn outcome(&self, outcome: Outcome) -> OutcomeInk {
        self.outcomes[outcome as usize]
    }
}

const fn rgb(hex: u32) -> Color32 {
    let [_, r, g, b] = hex.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

/// Published colours of the outcomes, in the order of [`Outcome::ALL`]: bluish green, orange, sky blue, vermillion.
const FILLS: [Color32; 4] = [rgb(0x00_9E_73), rgb(0xE6_9F_00), rgb(0x56_B4_E9), rgb(0xD5_5E_00)];

const fn outcomes(inks: [u32; 4]) -> [OutcomeInk; 4] {
    let mut out = [OutcomeInk { fill: FILLS[0], ink: FILLS[0] }; 4];
    let mut at = 0;
    while at < 4 {
        out[at] = OutcomeInk { fill: FILLS[at], ink: rgb(inks[at]) };
        at += 1;
    }
    out
}

const fn series(hex: [u32; 12]) -> [Color32; 12] {
    let mut series = [Color32::BLACK; 12];
    let mut at = 0;
    while at < series.len() {
        series[at] = rgb(hex[at]);
        at += 1;
    }
    series
}

/// Colours on a dark background.
pub(crate) const DARK: Tokens = Tokens {
    base: rgb(0x1A_1D_21),
    panel: rgb(0x22_26_2B),
    stripe: rgb(0x1F_23_28),
    control: rgb(0x2E_33_3A),
    control_hot: rgb(0x3A_41_4A),
    line: rgb(0x41_48_51),
    text: rgb(0xE6_E9_EC),
    weak: rgb(0xAE_B6_BE),
    selected: rgb(0x1F_41_58),
    selected_text: rgb(0xFF_FF_FF),
    focus: rgb(0x56_B4_E9),
    target: rgb(0xF0_E4_42),
    series: series([
        0x56_B4_E9, 0xFF_8A_4C, 0x33_C7_9B, 0xDD_9A_C0, 0xE6_9F_00, 0x7F_B2_FF, 0xF0_E4_42, 0xFF_8F_8F, 0x5F_D7_E3,
        0xC9_A7_FF, 0xB5_D3_4F, 0xFF_9A_DF,
    ]),
    outcomes: outcomes([0x3F_CF_A5, 0xF0_AE_1E, 0x7C_C6_F0, 0xFF_90_55]),
};

/// Colours on a light background.
pub(crate) const LIGHT: Tokens = Tokens {
    base: rgb(0xFF_FF_FF),
    panel: rgb(0xF2_F4_F6),
    stripe: rgb(0xF8_F9_FA),
    control: rgb(0xE6_E9_ED),
    control_hot: rgb(0xD9_DE_E4),
    line: rgb(0xC6_CC_D3),
    text: rgb(0x1A_1E_23),
    weak: rgb(0x51_59_62),
    selected: rgb(0xD2_E6_F5),
    selected_text: rgb(0x0D_1B_26),
    focus: rgb(0x00_72_B2),
    target: rgb(drawing::TARGET),
    // Curves on the screen have the colours they have on paper.
    series: series(drawing::SERIES),
    outcomes: outcomes([0x00_62_47, 0x7D_52_00, 0x00_55_86, 0xA0_40_00]),
};

/// Distances and sizes, points.
pub(crate) mod space {
    /// Between a panel's edge and its contents.
    pub(crate) const PANEL: i8 = 10;
    /// The same above and below in a short window.
    pub(crate) const PANEL_SHORT: i8 = 4;
    /// Below this height a window is short, points.
    pub(crate) const SHORT: f32 = 480.0;
    /// Height of a table row.
    pub(crate) const ROW: f32 = 22.0;
    /// Height of a position in the list on the left: two lines of text.
    pub(crate) const POSITION_ROW: f32 = 42.0;
    /// Least and largest width of the list on the left; the least is usual, since the map wants the room.
    pub(crate) const LIST_WIDTH: std::ops::RangeInclusive<f32> = 118.0..=420.0;
    /// Its usual width in a window from this width on.
    pub(crate) const LIST_WIDTH_ROOMY: f32 = 300.0;
    /// The width of such a window.
    pub(crate) const ROOMY: f32 = 1800.0;
    /// Up to this width of the window the list is as narrow as it can be: the board has the room, points.
    pub(crate) const LIST_GROWS_FROM: f32 = 1280.0;
    /// Below this width there is only room for the editor or the view.
    pub(crate) const EDITOR_BESIDE: f32 = 720.0;
    /// Below this width the editor takes the place of the list.
    pub(crate) const ALL_THREE: f32 = 1000.0;
    /// Least width of the editor, and what of the window it has before anybody changed it.
    pub(crate) const EDITOR_WIDTH: f32 = 236.0;
    pub(crate) const EDITOR_SHARE: f32 = 0.3;
    /// What of the window the view keeps beside the editor.
    pub(crate) const VIEW_SHARE: f32 = 0.6;
    /// Side of an outcome mark.
    pub(crate) const MARK: f32 = 13.0;
    /// Width and height of a headroom bar.
    pub(crate) const BAR: [f32; 2] = [46.0, 8.0];
    /// Side of a tool drawn as a picture.
    pub(crate) const TOOL: f32 = 30.0;
    /// Smaller ones are hard to hit.
    pub(crate) const TOOL_LEAST: f32 = 22.0;
    /// Width of the outline around what has the keyboard.
    pub(crate) const FOCUS: f32 = 2.0;
}

/// The colours the `ui` is drawn in.
pub(crate) fn tokens(ui: &egui::Ui) -> &'static Tokens {
    of(if ui.visuals().dark_mode { Theme::Dark } else { Theme::Light })
}

/// How much larger than usual labels, cards and pictures are drawn: a large window has room for it.
pub(crate) fn growth(ui: &egui::Ui) -> f64 {
    let size = ui.ctx().content_rect().size();
    f64::from((size.x / 1280.0).min(size.y / 720.0)).sqrt().clamp(1.0, 1.45)
}

/// Grows letters and controls of this `ui` with the window; by how much.
pub(crate) fn grow(ui: &mut egui::Ui) -> f32 {
    let growth = crate::app::widgets::px(growth(ui));
    let style = ui.style_mut();
    style.text_styles.values_mut().for_each(|font| font.size *= growth);
    style.spacing.interact_size.y *= growth;
    growth
}

pub(crate) fn of(theme: Theme) -> &'static Tokens {
    match theme {
        Theme::Dark => &DARK,
        Theme::Light => &LIGHT,
    }
}

/// Gives both themes their look. Which of them is used is up to the person, else to the system.
pub(crate) fn apply(ctx: &egui::Context) {
    for theme in [Theme::Dark, Theme::Light] {
        ctx.set_style_of(theme, style(theme));
    }
}

fn style(theme: Theme) -> Style {
    let tokens = of(theme);
    let mut style = Style { visuals: theme.default_visuals(), ..Style::default() };
    let size = |size| FontId::new(size, FontFamily::Proportional);
    style.text_styles = [
        (TextStyle::Small, size(12.0)),
        (TextStyle::Body, size(14.0)),
        (TextStyle::Button, size(14.0)),
        (TextStyle::Heading, size(18.0)),
        (TextStyle::Monospace, FontId::new(13.0, FontFamily::Monospace)),
    ]
    .into();
    style.spacing.item_spacing = vec2(8.0, 5.0);
    style.spacing.button_padding = vec2(8.0, 3.0);
    style.spacing.interact_size.y = 24.0;
    style.animation_time = 0.0;
    let visuals = &mut style.visuals;
    visuals.panel_fill = tokens.base;
    visuals.window_fill = tokens.panel;
    visuals.window_stroke = Stroke::new(1.0, tokens.line);
    visuals.extreme_bg_color = tokens.base;
    visuals.faint_bg_color = tokens.stripe;
    visuals.code_bg_color = tokens.control;
    visuals.hyperlink_color = tokens.focus;
    visuals.weak_text_color = Some(tokens.weak);
    visuals.warn_fg_color = tokens.outcome(Outcome::Marginal).ink;
    visuals.error_fg_color = tokens.outcome(Outcome::Fail).ink;
    visuals.selection.bg_fill = tokens.selected;
    visuals.selection.stroke = Stroke::new(1.0, tokens.selected_text);
    let widgets = &mut visuals.widgets;
    let states = [
        (&mut widgets.noninteractive, tokens.panel, Stroke::new(1.0, tokens.line)),
        (&mut widgets.inactive, tokens.control, Stroke::new(1.0, tokens.line)),
        (&mut widgets.hovered, tokens.control_hot, Stroke::new(1.0, tokens.weak)),
        (&mut widgets.active, tokens.control_hot, Stroke::new(1.0, tokens.weak)),
        (&mut widgets.open, tokens.control_hot, Stroke::new(1.0, tokens.line)),
    ];
    for (state, fill, outline) in states {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = outline;
        state.fg_stroke = Stroke::new(1.0, tokens.text);
        state.corner_radius = CornerRadius::same(3);
        state.expansion = 0.0;
    }
    style
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance by WCAG 2.1 (published).
    fn luminance(colour: Color32) -> f64 {
        let linear = |channel: u8| {
            let share = f64::from(channel) / 255.0;
            if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(colour.r()) + 0.7152 * linear(colour.g()) + 0.0722 * linear(colour.b())
    }

    fn contrast(a: Color32, b: Color32) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn contrast_is_measured_as_published() {
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9);
        // #777777 on white is the textbook case just under 4.5 (from memory).
        assert!((contrast(rgb(0x77_77_77), Color32::WHITE) - 4.48).abs() < 0.01);
    }

    #[test]
    fn everything_one_reads_stands_out_from_every_background_it_stands_on() {
        for (name, t) in [("dark", DARK), ("light", LIGHT)] {
            let grounds = [t.base, t.panel, t.stripe];
            let mut pairs = vec![(t.selected_text, t.selected), (t.weak, t.selected)];
            pairs.extend([t.control, t.control_hot].map(|ground| (t.text, ground)));
            for ground in grounds {
                pairs.extend([t.text, t.weak, t.focus, t.target].map(|ink| (ink, ground)));
                pairs.extend(t.series.map(|ink| (ink, ground)));
            }
            for ground in grounds.into_iter().chain([t.selected]) {
                pairs.extend(Outcome::ALL.map(|outcome| (t.outcome(outcome).ink, ground)));
            }
            for (ink, ground) in pairs {
                let ratio = contrast(ink, ground);
                assert!(ratio >= 4.5, "{name}: {ink:?} on {ground:?} is {ratio:.2}");
            }
        }
    }

    #[test]
    fn outcomes_use_the_published_colours() {
        // Okabe and Ito, Color Universal Design: bluish green (0, 158, 115), orange (230, 159, 0), sky blue (86, 180, 233),
        // vermillion (213, 94, 0).
        let published = [(0, 158, 115), (230, 159, 0), (86, 180, 233), (213, 94, 0)];
        for (outcome, (r, g, b)) in Outcome::ALL.into_iter().zip(published) {
            assert_eq!(DARK.outcome(outcome).fill, Color32::from_rgb(r, g, b));
            assert_eq!(LIGHT.outcome(outcome).fill, Color32::from_rgb(r, g, b));
        }
    }
}
