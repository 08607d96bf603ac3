//! The fields of one position, or of several at once: what is typed then goes into all of them, and nothing else changes.

use egui::{CollapsingHeader, ComboBox, Ui};

use crate::app::actions::action::Action;
use crate::app::state::edit::Edit;
use crate::app::state::scene::Scene;
use crate::app::views::editor::entry::{self, Basis, Drafts, Entry, LABEL_WIDTH, ROW};
use crate::app::views::editor::lists;
use crate::app::widgets;
use crate::app::widgets::explain;
use crate::app::widgets::theme;
use crate::domain::{
    Date, EnduranceBasis, LifeBasis, Mounting, PairTable, Position, PositionId, Role, Side, Technology,
};
use crate::files::fields::{self, POSITION, POSITION_TEXTS};
use crate::sizing::{DefaultValue, default_value};

/// Sections: name, whether open at first, fields in order.
const SECTIONS: &[(&str, bool, &[&str])] = &[
    (
        "Original part",
        true,
        &[
            "original.label",
            "original.technology",
            "original.mounting",
            "original.capacitance_uf",
            "original.rated_v",
            "original.temp_max_c",
            "original.diameter_mm",
            "original.height_mm",
            "original.pitch_mm",
            "original.made_year",
        ],
    ),
    (
        "Stress",
        true,
        &[
            "stress.dc_v",
            "stress.ripple_peak_v",
            "stress.transient_v",
            "stress.min_v",
            "stress.ambient_rise_k",
            "stress.ambient_min_c",
            "stress.airflow_lfm",
            "stress.ripple",
            "stress.phases",
        ],
    ),
    (
        "Needs of the circuit",
        false,
        &[
            "needs.life_h",
            "needs.end_of_life",
            "needs.capacitance_min_uf",
            "needs.capacitance_max_uf",
            "needs.esr_max_mohm",
            "needs.esr_min_mohm",
            "needs.esr_hz",
            "needs.esr_cold_max_mohm",
            "needs.leakage_max_ua",
            "needs.balance_kohm",
        ],
    ),
    (
        "Room",
        false,
        &[
            "space.diameter_max_mm",
            "space.height_max_mm",
            "space.pitch_mm",
            "space.pitch_reach_mm",
            "space.hole_mm",
            "space.accepts",
        ],
    ),
    (
        "Measured on the old part",
        false,
        &["measured.capacitance_uf", "measured.esr_mohm", "measured.esr_hz", "measured.date", "measured.note"],
    ),
    ("Where it sits", false, &["x_mm", "y_mm", "rotation_deg", "side"]),
    (
        "Data sheet of the original",
        false,
        &[
            "original.tolerance_pct",
            "original.surge_v",
            "original.temp_min_c",
            "original.endurance_h",
            "original.endurance_basis",
            "original.life_basis",
            "original.core_rise_k",
            "original.ripple_a",
            "original.ripple_hz",
            "original.ripple_temp_factors",
            "original.ripple_freq_factors",
            "original.f50",
            "original.f120",
            "original.f300",
            "original.f1k",
            "original.f10k",
            "original.f100k",
            "original.esr_mohm",
            "original.esr_hz",
            "original.tan_delta",
            "original.z_ratio",
            "original.z_cold_c",
            "original.leakage_ua",
            "original.diameter_max_mm",
            "original.height_max_mm",
            "original.lead_d_mm",
        ],
    ),
];

/// The positions at hand, ready to be changed together.
pub(super) struct AtHand<'a> {
    scene: &'a Scene<'a>,
    /// Copies: looking into a field may need a place that is not there.
    positions: Vec<(PositionId, Position)>,
}

impl AtHand<'_> {
    /// The value they share; `None` where they differ.
    pub(super) fn shared<T: PartialEq>(&self, mut of: impl FnMut(&Position) -> T) -> Option<T> {
        let mut values = self.positions.iter().map(|(_, position)| of(position));
        let first = values.next()?;
        values.all(|value| value == first).then_some(first)
    }

    /// Changes `name` in all of them.
    pub(super) fn change(&self, name: &str, out: &mut Vec<Action>, set: impl Fn(&mut Position)) {
        let changed = self.positions.iter().map(|(id, position)| {
            let mut position = position.clone();
            set(&mut position);
            fields::tidy(&mut position);
            (*id, position)
        });
        let field = explain::of(name).map_or(name, |e| e.label).to_lowercase();
        out.push(Action::Edit(Edit::Positions { changed: changed.collect(), field }));
    }

    /// What counts where nothing is entered.
    pub(super) fn missing(&self, name: &str, print: impl Fn(f64) -> String) -> Basis {
        let stand_ins =
            self.positions.iter().map(|(id, _)| default_value(self.scene.job, self.scene.catalog, *id, name));
        let mut stand_ins: Vec<_> = stand_ins.collect();
        stand_ins.dedup();
        match stand_ins.as_slice() {
            [Some(DefaultValue::Figure(value))] => Basis::Assumed(print((value * 1e4).round() / 1e4)),
            [Some(DefaultValue::Words(words))] => Basis::Assumed((*words).to_owned()),
            [None] => Basis::Unknown,
            _ => Basis::Assumed("by position".to_owned()),
        }
    }
}

/// Draws the fields.
pub(super) fn show(ui: &mut Ui, scene: &Scene, ids: &[PositionId], drafts: &mut Drafts, out: &mut Vec<Action>) {
    let positions = ids.iter().filter_map(|&id| Some((id, scene.job.position(id)?.clone())));
    let at_hand = AtHand { scene, positions: positions.collect() };
    match at_hand.positions.as_slice() {
        [] => {
            ui.label("No position is selected. Add one, or paste rows from a spreadsheet.");
            return;
        }
        [_] => reference(ui, &at_hand, drafts, out),
        several => {
            let names: Vec<&str> = several.iter().map(|(_, position)| position.reference.as_str()).collect();
            ui.strong(format!("{} positions at once", names.len()));
            ui.label(names.join(", "));
            ui.label("What is entered goes into all of them; other fields stay as they are.");
        }
    }
    field(ui, &at_hand, "role", drafts, out);
    field(ui, &at_hand, "parallel_group", drafts, out);
    field(ui, &at_hand, "series_group", drafts, out);
    field(ui, &at_hand, "note", drafts, out);
    for (name, open, of_section) in SECTIONS {
        let section = CollapsingHeader::new(*name).default_open(*open).show(ui, |ui| {
            for name in *of_section {
                field(ui, &at_hand, name, drafts, out);
            }
        });
        explain::on(section.header_response, &name.to_lowercase());
    }
}

fn reference(ui: &mut Ui, at_hand: &AtHand, drafts: &mut Drafts, out: &mut Vec<Action>) {
    let text = at_hand.shared(|p| p.reference.clone()).unwrap_or_default();
    let entry = Entry { name: "ref", key: "ref", label: None, text, basis: Basis::Text, symbol: "" };
    let ids: Vec<PositionId> = at_hand.positions.iter().map(|(id, _)| *id).collect();
    entry::show(ui, drafts, &entry, out, |typed, out| {
        let wanted = typed.trim();
        if wanted.is_empty() {
            return Err("a position needs a name, such as C12".into());
        }
        let same = |(id, other): (PositionId, &Position)| {
            !ids.contains(&id) && ids.iter().all(|own| own.board == id.board) && other.reference == wanted
        };
        if at_hand.scene.job.positions().any(same) {
            return Err(format!("{wanted} is on this board already"));
        }
        at_hand.change("ref", out, |p| wanted.clone_into(&mut p.reference));
        Ok(())
    });
}

fn field(ui: &mut Ui, at_hand: &AtHand, name: &'static str, drafts: &mut Drafts, out: &mut Vec<Action>) {
    match name {
        "role" => role(ui, at_hand, out),
        "side" => choice(ui, at_hand, name, &[(Side::Top, "top"), (Side::Bottom, "bottom")], |p| &mut p.side, out),
        "original.technology" => {
            choice(ui, at_hand, name, &Technology::NAMES, |p| &mut p.original.can.technology, out);
        }
        "original.mounting" => choice(ui, at_hand, name, &Mounting::NAMES, |p| &mut p.original.can.mounting, out),
        "original.endurance_basis" => {
            choice(ui, at_hand, name, &EnduranceBasis::NAMES, |p| &mut p.original.can.endurance_basis, out);
        }
        "original.life_basis" => {
            choice(ui, at_hand, name, &LifeBasis::NAMES, |p| &mut p.original.can.life_basis, out);
        }
        "needs.end_of_life" => choice(ui, at_hand, name, &LifeBasis::NAMES, |p| &mut p.needs.end_of_life, out),
        "original.ripple_temp_factors" => {
            factors(ui, at_hand, (name, "85:1.7;65:2.1"), |p| &mut p.original.can.ripple_temp_factors, drafts, out);
        }
        "original.ripple_freq_factors" => {
            factors(ui, at_hand, (name, "100:1;1000:1.3"), |p| &mut p.original.can.ripple_freq_factors, drafts, out);
        }
        "stress.ripple" => lists::ripple(ui, at_hand, drafts, out),
        "stress.phases" => lists::phases(ui, at_hand, drafts, out),
        "space.accepts" => accepts(ui, at_hand, out),
        _ => typed(ui, at_hand, name, drafts, out),
    }
}

/// The role; one that an import filled in says so until a person sets it.
fn role(ui: &mut Ui, at_hand: &AtHand, out: &mut Vec<Action>) {
    /// Looking at a field is done on copies, so that only a change takes the mark away.
    fn slot(position: &mut Position) -> &mut Option<Role> {
        position.role_assumed = false;
        &mut position.role
    }
    choice(ui, at_hand, "role", &Role::NAMES, slot, out);
    if at_hand.positions.iter().any(|(_, position)| position.role_assumed) {
        let hint = ui.colored_label(theme::tokens(ui).weak, "assumed by the import; choose it to confirm it");
        explain::on(hint, "role");
    }
}

/// A figure or a text.
fn typed(ui: &mut Ui, at_hand: &AtHand, name: &'static str, drafts: &mut Drafts, out: &mut Vec<Action>) {
    if let Some(field) = POSITION.iter().find(|field| field.name == name) {
        let shared = at_hand.shared(|p| *(field.slot)(&mut p.clone()));
        let (text, basis) = match shared {
            None => (String::new(), Basis::Several),
            Some(Some(value)) => (field.measure.print(value), Basis::Given),
            Some(None) => (String::new(), at_hand.missing(name, |value| field.measure.print(value))),
        };
        let entry = Entry { name, key: name, label: None, text, basis, symbol: field.measure.symbol };
        entry::show(ui, drafts, &entry, out, |typed, out| {
            let value = field.measure.read(typed, field.bounds)?;
            at_hand.change(name, out, |p| *(field.slot)(p) = value);
            Ok(())
        });
    } else if let Some((_, slot)) = POSITION_TEXTS.iter().find(|(known, _)| *known == name) {
        let shared = at_hand.shared(|p| slot(&mut p.clone()).clone());
        let basis = if shared.is_none() { Basis::Several } else { Basis::Text };
        let text = shared.flatten().unwrap_or_default();
        let entry = Entry { name, key: name, label: None, text, basis, symbol: "" };
        entry::show(ui, drafts, &entry, out, |typed, out| {
            let value = Some(typed.to_owned()).filter(|text| !text.trim().is_empty());
            if let Some(date) = value.as_deref().filter(|_| name == "measured.date") {
                date.parse::<Date>()?;
            }
            at_hand.change(name, out, |p| slot(p).clone_from(&value));
            Ok(())
        });
    }
}

/// A table of pairs by its name and an example of it.
fn factors(
    ui: &mut Ui,
    at_hand: &AtHand,
    (name, example): (&'static str, &'static str),
    slot: fn(&mut Position) -> &mut Option<PairTable>,
    drafts: &mut Drafts,
    out: &mut Vec<Action>,
) {
    let shared = at_hand.shared(|p| slot(&mut p.clone()).clone());
    let (text, basis) = match shared {
        None => (String::new(), Basis::Several),
        Some(Some(table)) => (table.to_string(), Basis::Given),
        Some(None) => (String::new(), at_hand.missing(name, |value| value.to_string())),
    };
    let entry = Entry { name, key: name, label: None, text, basis, symbol: example };
    entry::show(ui, drafts, &entry, out, |typed, out| {
        let table = match typed.trim() {
            "" => None,
            text => Some(text.parse()?),
        };
        at_hand.change(name, out, |p| slot(p).clone_from(&table));
        Ok(())
    });
}

/// One of a few words, or not known.
fn choice<T: Copy + PartialEq>(
    ui: &mut Ui,
    at_hand: &AtHand,
    name: &str,
    words: &[(T, &'static str)],
    slot: fn(&mut Position) -> &mut Option<T>,
    out: &mut Vec<Action>,
) {
    let shared = at_hand.shared(|p| *slot(&mut p.clone()));
    let word = |value: T| words.iter().find(|(known, _)| *known == value).map_or("", |w| w.1).replace('_', " ");
    let shown = match shared {
        None => "several values".to_owned(),
        Some(None) => match at_hand.missing(name, |value| value.to_string()) {
            Basis::Assumed(what) => format!("assumed {what}"),
            _ => "unknown".to_owned(),
        },
        Some(Some(value)) => word(value),
    };
    ui.horizontal(|ui| {
        let label = ui.allocate_ui(egui::vec2(LABEL_WIDTH, ROW), |ui| {
            ui.set_min_width(LABEL_WIDTH);
            explain::on(ui.label(explain::of(name).map_or(name, |e| e.label)), name)
        });
        let list = ComboBox::from_id_salt(name).selected_text(shown).width(150.0);
        let all = std::iter::once(None).chain(words.iter().map(|(value, _)| Some(*value)));
        let entries = all.map(|value| (value, shared == Some(value), value.map_or_else(|| "unknown".to_owned(), word)));
        let (response, chosen) = widgets::choice(ui, list, entries);
        if let Some(value) = chosen {
            at_hand.change(name, out, |p| *slot(p) = value);
            out.push(Action::EndEntry);
        }
        response.labelled_by(label.inner.id);
    });
}

fn accepts(ui: &mut Ui, at_hand: &AtHand, out: &mut Vec<Action>) {
    explain::on(ui.label("Other mountings accepted"), "space.accepts");
    ui.horizontal_wrapped(|ui| {
        for (mounting, word) in Mounting::NAMES {
            let has = |p: &Position| p.space.accepts.as_ref().is_some_and(|all| all.contains(&mounting));
            let mut on = at_hand.shared(has).unwrap_or(false);
            if ui.checkbox(&mut on, word.replace('_', "-")).changed() {
                at_hand.change("space.accepts", out, |p| {
                    let mut all = p.space.accepts.take().unwrap_or_default();
                    all.retain(|known| *known != mounting);
                    if on {
                        all.push(mounting);
                    }
                    p.space.accepts = (!all.is_empty()).then_some(all);
                });
                out.push(Action::EndEntry);
            }
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_and_text_of_a_position_stands_in_a_section_and_is_explained() {
        let shown: Vec<&str> = SECTIONS.iter().flat_map(|(_, _, names)| names.iter().copied()).collect();
        let on_top = ["note", "parallel_group", "series_group"];
        let known = POSITION.iter().map(|field| field.name).chain(POSITION_TEXTS.iter().map(|text| text.0));
        for name in known {
            assert!(shown.contains(&name) || on_top.contains(&name), "{name}");
        }
        assert!(shown.iter().all(|name| explain::of(name).is_some()));
        assert!(SECTIONS.iter().all(|(name, ..)| explain::of(&name.to_lowercase()).is_some()));
    }
}
