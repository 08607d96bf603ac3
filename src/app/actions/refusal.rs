//! Why a command cannot be carried out now: shown where the command is greyed, said where its keys are pressed.

use crate::app::actions::{command::Command, picking};
use crate::app::state::{Candidate, Session, View};

/// Why no list of offers can be added yet.
pub(crate) const OFFERS_BESIDE_JOB: &str = "Save the job first: lists of offers are kept beside its file.";

/// Why a command cannot be carried out now; `None` when it can.
pub(crate) fn refusal(session: &Session, command: Command) -> Option<String> {
    let scene = session.scene();
    let position = scene.position().map(|(_, position)| position);
    let no_position = position.is_none().then_some("No position is selected.");
    let reason = match command {
        Command::Undo => session.history.undo_label().is_none().then_some("Nothing was changed yet."),
        Command::Redo => session.history.redo_label().is_none().then_some("Nothing was undone."),
        Command::Pick | Command::Unpick | Command::PickProposals if scene.selection.view == View::Bench => {
            Some("At the bench nothing is picked; go to the Board or the Candidates.")
        }
        Command::Pick => no_position.or(match scene.candidate() {
            Some(candidate) if position.is_some_and(|p| p.pick.as_deref() == Some(scene.name(candidate))) => {
                Some("This part is picked already.")
            }
            Some(Candidate::Part(_)) => None,
            Some(Candidate::Original) => Some("The original part cannot be bought; select a part of the catalogue."),
            None => Some("No candidate is selected."),
        }),
        Command::Unpick => {
            no_position.or(position.is_some_and(|p| p.pick.is_none()).then_some("Nothing is picked here."))
        }
        Command::Pin | Command::Mark | Command::MarkAll | Command::CopyRows => {
            no_position.or(scene.candidate().is_none().then_some("No candidate is selected."))
        }
        Command::PickProposals => picking::proposals(session).is_empty().then_some("There is no open proposal."),
        Command::RemovePosition
        | Command::DuplicatePosition
        | Command::ExportLifeNumbers
        | Command::ReadTemperatureLog
        | Command::ReadScopeRecord => no_position,
        Command::DuplicateBoard | Command::RemoveBoard => {
            scene.board().is_none().then_some("The job has no board yet.")
        }
        Command::Save if session.newer => {
            Some("The file was written by a later version; save it under another name instead.")
        }
        Command::ExportLifePicture if scene.selection.view != View::Life => {
            Some("The picture shows the Life view; go there first.")
        }
        Command::AddOffers if session.path.is_none() => Some(OFFERS_BESIDE_JOB),
        Command::ExportUnits if session.path.is_none() => {
            Some("Save the job first: the units are recorded beside its file.")
        }
        Command::ExportPurchase
        | Command::ExportSuppliers
        | Command::ExportWorkbook
        | Command::ExportWorksheet
        | Command::ExportInspection
        | Command::ExportPacking
        | Command::ExportJustification
            if session.job().positions().next().is_none() && session.job().all_other_parts().next().is_none() =>
        {
            Some("The job has no position yet.")
        }
        Command::ExportMap if scene.board().is_none() => Some("The job has no board yet."),
        _ => None,
    };
    reason.map(str::to_owned)
}
