//! What the order comes to, what is still without a part, and what was assumed or is not known.

use egui::{RichText, Ui};

use super::{answer::Answer, shared::money, shared::place_links};
use crate::app::actions::LiveScene;
use crate::app::widgets::theme;
use crate::domain::{Outcome, style};

/// Positions without a part that are named; of many the first.
const TOLD: usize = 12;

/// Draws it in lines of its own, or `beside` what stands in the line already, as in a short window.
pub(super) fn show(ui: &mut Ui, answer: &Answer, scene: &LiveScene, beside: bool) {
    if beside {
        sum(ui, answer);
        without_part(ui, answer, scene);
    } else {
        ui.horizontal_wrapped(|ui| sum(ui, answer));
        ui.horizontal_wrapped(|ui| without_part(ui, answer, scene));
    }
}

/// What was assumed or is not known.
pub(super) fn notes(ui: &mut Ui, answer: &Answer) {
    for note in &answer.purchase.notes {
        ui.label(RichText::new(note).italics().color(theme::tokens(ui).weak));
    }
}

fn sum(ui: &mut Ui, answer: &Answer) {
    let purchase = &answer.purchase;
    let totals = &purchase.totals;
    let own = purchase.currency.code.as_deref().unwrap_or_default();
    let tokens = theme::tokens(ui);
    let gap = std::mem::replace(&mut ui.spacing_mut().item_spacing.x, 4.0);
    // A sum goes to the next line whole.
    let wrap = ui.style_mut().wrap_mode.replace(egui::TextWrapMode::Extend);
    let lines = if totals.lines == 1 { "order line" } else { "order lines" };
    ui.strong(format!("{} {lines}{}", totals.lines, if totals.lines == 0 { "" } else { ":" }));
    match totals.certain_job() {
        _ if totals.lines == 0 => {}
        Some(all) => {
            let [parts, handling] = [totals.known_job, totals.lines_cost].map(style::money);
            ui.label(format!("parts {parts} + handling {handling} ="));
            ui.strong(format!("total {}", money(Some(all), own)));
        }
        None => {
            let ink = tokens.outcome(Outcome::Unknown).ink;
            ui.label(format!("known parts {};", money(Some(totals.known_job), own)));
            let missing = style::counted(totals.unknown_lines, "line has", "lines have");
            let text = format!("the total is unknown: {missing} no price that can be counted");
            ui.label(RichText::new(text).color(ink));
        }
    }
    if totals.per_currency.len() > 1 || totals.per_currency.keys().any(|code| !code.eq_ignore_ascii_case(own)) {
        let each: Vec<String> = totals.per_currency.iter().map(|(code, sum)| money(Some(*sum), code)).collect();
        ui.colored_label(tokens.weak, format!("by currency: {}", each.join(", ")));
    }
    (ui.style_mut().wrap_mode, ui.spacing_mut().item_spacing.x) = (wrap, gap);
}

fn without_part(ui: &mut Ui, answer: &Answer, scene: &LiveScene) {
    let without = &answer.purchase.without_part;
    if without.is_empty() {
        return;
    }
    ui.colored_label(theme::tokens(ui).outcome(Outcome::Fail).ink, "Still without a part:");
    let (told, rest) = without.split_at(without.len().min(TOLD));
    place_links(ui, &answer.snapshot.job, told, scene);
    if !rest.is_empty() {
        ui.label(format!("and {} more", rest.len())).on_hover_text(
            "The list on the left marks them; N goes to the next position without a part that may be used.",
        );
    }
}
