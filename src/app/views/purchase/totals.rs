//! What the order comes to, what is still without a part, and what was assumed or is not known.

use egui::{RichText, Ui};

use super::{answer::Answer, shared::money, shared::place_links};
use crate::app::actions::LiveScene;
use crate::app::widgets::theme;
use crate::domain::{Outcome, style};

/// Positions without a part that are named; of many the first.
const TOLD: usize = 12;

pub(super) fn show(ui: &mut Ui, answer: &Answer, scene: &LiveScene) {
    let (job, purchase) = (&answer.snapshot.job, &answer.purchase);
    let totals = &purchase.totals;
    let own = purchase.currency.code.as_deref().unwrap_or_default();
    let tokens = theme::tokens(ui);
    ui.horizontal_wrapped(|ui| {
        let lines = if totals.lines == 1 { "order line" } else { "order lines" };
        ui.strong(format!("{} {lines}", totals.lines));
        match totals.certain_job() {
            _ if totals.lines == 0 => {}
            Some(all) => {
                let [parts, handling] = [totals.known_job, totals.lines_cost].map(style::money);
                ui.label(format!("parts {parts} + handling {handling} ="));
                ui.strong(format!("total {}", money(Some(all), own)));
            }
            None => {
                let ink = tokens.outcome(Outcome::Unknown).ink;
                ui.label(format!("known parts {}", money(Some(totals.known_job), own)));
                let missing = totals.unknown_lines;
                let text = match missing {
                    1 => "the total is unknown: 1 line has no price that can be counted".to_owned(),
                    _ => format!("the total is unknown: {missing} lines have no price that can be counted"),
                };
                ui.label(RichText::new(text).color(ink));
            }
        }
        if totals.per_currency.len() > 1 || totals.per_currency.keys().any(|code| !code.eq_ignore_ascii_case(own)) {
            let each: Vec<String> = totals.per_currency.iter().map(|(code, sum)| money(Some(*sum), code)).collect();
            ui.colored_label(tokens.weak, format!("by currency: {}", each.join(", ")));
        }
    });
    if !purchase.without_part.is_empty() {
        ui.horizontal_wrapped(|ui| {
            ui.colored_label(tokens.outcome(Outcome::Fail).ink, "Still without a part:");
            let (told, rest) = purchase.without_part.split_at(purchase.without_part.len().min(TOLD));
            place_links(ui, job, told, scene);
            if !rest.is_empty() {
                ui.label(format!("and {} more", rest.len())).on_hover_text(
                    "The list on the left marks them; N goes to the next position without a part that may be used.",
                );
            }
        });
    }
    for note in &purchase.notes {
        ui.label(RichText::new(note).italics().color(tokens.weak));
    }
}
