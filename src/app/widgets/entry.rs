//! A field to type into: with its explanation, what it rests on, and a refusal in place when the entry cannot be used.

use egui::{
    Align2, FocusDirection, FontId, Id, Key, Label, Margin, Modifiers, Response, RichText, TextEdit, TextStyle, Ui,
    vec2,
};

use crate::app::actions::{Action, LiveScene};
use crate::app::widgets::{explain, named, theme};
use crate::domain::Outcome;

const LABEL_WIDTH: f32 = 186.0;
const ENTRY_WIDTH: f32 = 112.0;
pub(crate) const ROW: f32 = 24.0;

/// Where it is noted which field has the keyboard while nothing is typed into it.
fn resting() -> Id {
    Id::unique("entry at rest")
}

/// Whether the keyboard is in a field and nothing is typed into it yet.
pub(crate) fn at_rest(ctx: &egui::Context) -> bool {
    let resting = ctx.data(|data| data.get_temp(resting()));
    resting.is_some() && ctx.memory(egui::Memory::focused) == resting
}

/// What counts where a field is empty; it stands greyed in the field.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Basis {
    /// This, which nobody has said.
    Assumed(String),
    /// This, which was said elsewhere.
    Inherited(String),
    /// Nothing: it is not known.
    Unknown,
    /// The selected positions differ.
    Several,
    /// Nothing is said about it.
    Free,
}

/// A field as it is to be drawn.
pub(crate) struct Entry<'a> {
    /// Name of its explanation.
    pub name: &'a str,
    /// Tells it from other fields on screen.
    pub key: &'a str,
    /// Its name on screen; that of the explanation where `None`.
    pub label: Option<&'a str>,
    /// Its text while nobody types into it.
    pub text: String,
    /// What counts while it is empty.
    pub basis: Basis,
    /// Its unit; empty for none.
    pub symbol: &'a str,
}

/// Draws the field. `take` is given what was typed, once when the field is left and before that to say why it cannot be used.
pub(crate) fn show(ui: &mut Ui, entry: &Entry, scene: &LiveScene, take: impl FnOnce(&str) -> Result<(), String>) {
    show_sized(ui, entry, Widths::EDITOR, scene, take);
}

/// Room for a field, points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Widths {
    /// Of its name; 0 where the name is not shown, only told.
    pub label: f32,
    /// Of what is typed, at least.
    pub entry: f32,
    /// Whether it takes the room that is left.
    pub fills: bool,
    /// The name stands over a field that is large enough for a gloved finger.
    pub over: bool,
}

impl Widths {
    /// As in the editor.
    pub(crate) const EDITOR: Self = Self { label: LABEL_WIDTH, entry: ENTRY_WIDTH, fills: true, over: false };

    /// As at the bench.
    pub(crate) fn over(width: f32) -> Self {
        Self { label: width, entry: width, fills: false, over: true }
    }
}

/// The same in a room of its own.
pub(crate) fn show_sized(
    ui: &mut Ui,
    entry: &Entry,
    widths: Widths,
    scene: &LiveScene,
    take: impl FnOnce(&str) -> Result<(), String>,
) {
    if widths.over {
        ui.vertical(|ui| {
            ui.set_width(widths.entry);
            ui.spacing_mut().item_spacing.y = 2.0;
            let refused = line(ui, entry, widths, scene, take);
            refusal(ui, refused, 0.0);
        });
        return;
    }
    let refused = ui.horizontal(|ui| line(ui, entry, widths, scene, take)).inner;
    let indent = widths.label + ui.spacing().item_spacing.x;
    refusal(ui, refused, indent);
}

/// The field alone; returns why what is typed cannot be used, for the caller to tell.
pub(crate) fn line(
    ui: &mut Ui,
    entry: &Entry,
    widths: Widths,
    scene: &LiveScene,
    take: impl FnOnce(&str) -> Result<(), String>,
) -> Option<String> {
    let explained = explain::of(entry.name);
    let name = entry.label.or(explained.as_ref().map(|e| e.label)).unwrap_or(entry.name);
    let id = Id::unique(("entry", entry.key));
    let mut text = scene.drafts.borrow().texts.get(entry.key).cloned().unwrap_or_else(|| entry.text.clone());
    let mut refused = None;
    let label = (widths.label > 0.0).then(|| {
        if !widths.over {
            return label_of(ui, name, entry.name, widths.label);
        }
        let quiet = RichText::new(name).weak();
        ui.set_min_width(widths.label);
        explain::on(ui.label(quiet), entry.name)
    });
    let hint = match &entry.basis {
        Basis::Several => "several values".to_owned(),
        Basis::Assumed(what) => format!("{what}, assumed"),
        Basis::Inherited(what) => what.clone(),
        // Without its name the unit says which figure is asked.
        Basis::Unknown if widths.label <= 0.0 && !entry.symbol.is_empty() => entry.symbol.to_owned(),
        // A narrow field has no room for the word.
        Basis::Unknown if widths.entry < 80.0 => "?".to_owned(),
        Basis::Unknown if entry.symbol.is_empty() || widths.entry < ENTRY_WIDTH => "unknown".to_owned(),
        Basis::Unknown => format!("unknown ({})", entry.symbol),
        Basis::Free => entry.symbol.to_owned(),
    };
    let width = if widths.fills { (ui.available_width() - 12.0).max(60.0) } else { widths.entry };
    let mut edit = TextEdit::singleline(&mut text).id(id).desired_width(width).hint_text(hint);
    if widths.over {
        let margin = Margin::symmetric(8, 0);
        let size = TextStyle::Body.resolve(ui.style()).size + 2.0;
        edit = edit.font(FontId::proportional(size)).margin(margin).align(Align2::LEFT_CENTER);
        edit = edit.desired_width(width - 16.0).min_size(vec2(width, ui.spacing().interact_size.y));
    } else if widths.label <= 0.0 {
        // A cell of a table would shrink it.
        edit = edit.min_size(vec2(width, 0.0));
    }
    let mut response = ui.add(edit);
    match &label {
        Some(label) => response = response.labelled_by(label.id),
        None => response = named(response, name),
    }
    if response.changed() {
        scene.drafts.borrow_mut().texts.insert(entry.key.to_owned(), text.clone());
    }
    if response.has_focus() {
        let rests = scene.drafts.borrow().texts.is_empty();
        ui.data_mut(|data| {
            if rests {
                data.insert_temp(resting(), response.id);
            } else {
                data.remove::<Id>(resting());
            }
        });
    }
    let draft = scene.drafts.borrow().texts.get(entry.key).cloned();
    if let Some(draft) = draft {
        let left = response.lost_focus();
        if left && ui.input(|input| input.key_pressed(Key::Escape)) {
            scene.drafts.borrow_mut().texts.remove(entry.key);
        } else {
            // While it is being typed an entry changes nothing: half a figure is another figure.
            refused = scene.attempt(left, || take(&draft)).err();
            if left && refused.is_none() {
                scene.drafts.borrow_mut().texts.remove(entry.key);
                scene.push(Action::EndEntry);
            }
        }
    }
    // Enter leads on to what is drawn next, not to nowhere, and is not pressed there, too; at the bench fields have an order of
    // their own.
    if response.lost_focus() && !widths.over && refused.is_none() && ui.input(|input| input.key_pressed(Key::Enter)) {
        ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Enter));
        ui.memory_mut(|memory| memory.move_focus(FocusDirection::Next));
    }
    let assumed = matches!(entry.basis, Basis::Assumed(_) | Basis::Inherited(_));
    let response = explain::on(response, entry.name);
    let source = explained.as_ref().map_or("", |e| e.source);
    let response = if assumed && !source.is_empty() {
        response.on_hover_text(format!("Nothing is entered, so what is greyed counts. From: {source}."))
    } else {
        response
    };
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    refused
}

/// Why an entry cannot be used.
fn refusal(ui: &mut Ui, refused: Option<String>, indent: f32) {
    let Some(reason) = refused else { return };
    let ink = theme::tokens(ui).outcome(Outcome::Fail).ink;
    ui.horizontal(|ui| {
        ui.spacing_mut().interact_size.y = 0.0;
        ui.add_space(indent);
        ui.vertical(|ui| {
            ui.set_max_width(ui.available_width());
            ui.colored_label(ink, format!("Refused: {reason}"));
        });
    });
}

/// The name of a field in front of it, in two lines where a narrow window has no room for one.
pub(crate) fn label_of(ui: &mut Ui, name: &str, explained: &str, width: f32) -> Response {
    let width = width.min(ui.available_width() * 0.5);
    let area = ui.allocate_ui(vec2(width, ROW), |ui| {
        ui.set_width(width);
        explain::on(ui.add(Label::new(name).wrap()), explained)
    });
    area.inner
}
