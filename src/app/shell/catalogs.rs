//! The catalogues of the job as a list: which are used, what is in them, which are invented.

use egui::{Grid, Label, RichText, Ui};

use crate::app::actions::{Action, Command, LiveScene};
use crate::app::widgets::{self, theme};
use crate::domain::Outcome;

/// Draws the list.
pub(super) fn show(ui: &mut Ui, scene: &LiveScene) {
    let session = scene.session;
    let tokens = theme::tokens(ui);
    if session.stock.listed.is_empty() {
        ui.label(
            "The job has no catalogue yet. Import a component catalogue, or drop a catalogue (*.csv) on the window.",
        );
    }
    Grid::new("catalogues").num_columns(6).spacing([14.0, 8.0]).show(ui, |ui| {
        for heading in ["Use", "Catalogue", "Parts", "Changed", "", ""] {
            ui.weak(heading);
        }
        ui.end_row();
        for catalog in &session.stock.listed {
            let mut used = session.job().catalogs.contains(&catalog.name);
            if widgets::named(ui.checkbox(&mut used, ""), format!("Use {}", catalog.name)).changed() {
                scene.push(Action::UseCatalog(catalog.name.clone(), used));
            }
            let held = session.stock.held.contains_key(&catalog.name);
            ui.vertical(|ui| {
                ui.set_width((ui.ctx().content_rect().width() * 0.5 - 80.0).min(560.0));
                ui.spacing_mut().item_spacing.y = 1.0;
                let name = RichText::new(&catalog.name);
                ui.label(if catalog.invented { name.italics() } else { name });
                match &catalog.path {
                    Some(path) => {
                        ui.add(Label::new(RichText::new(path.display().to_string()).weak().small()).truncate())
                    }
                    None if held => ui.label(RichText::new("written beside the job when it is saved").weak().small()),
                    None => ui.colored_label(tokens.outcome(Outcome::Fail).ink, "not found beside the job"),
                };
                if catalog.invented {
                    ui.colored_label(tokens.outcome(Outcome::Marginal).ink, "invented: cannot be bought");
                }
            });
            ui.label(catalog.parts.to_string());
            ui.label(catalog.changed.as_deref().unwrap_or("not in a file"));
            let button = |ui: &mut Ui, word: &str, hover: &str| {
                widgets::named(ui.button(word), format!("{word} {}", catalog.name)).on_hover_text(hover).clicked()
            };
            if button(ui, "Reload", "Reads the file anew.") {
                scene.push(Action::ReloadCatalogs);
            }
            if button(ui, "Remove", "Takes it out of the job and off this list; the file stays.") {
                scene.push(Action::ForgetCatalog(catalog.name.clone()));
            }
            ui.end_row();
        }
    });
    ui.add_space(8.0);
    widgets::button(ui, scene, Command::ImportList);
    ui.weak("A catalogue says that it is invented in a comment above its header row, as “# Invented: ...”. Its parts go on no \
         order of another job than the demo without a question.",
    );
}
