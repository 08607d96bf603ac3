//! What the import asks of its workers, and what it does with their answers.

use std::sync::Arc;

use super::{ImportState, Into, Known};
use crate::app::views::import::reading::{Gather, Open, Opened, Unread};
use crate::domain::{Board, Job};

impl ImportState {
    /// The files that are to be opened, when that was not asked for yet.
    pub(super) fn next_opening(&mut self) -> Option<Vec<Open>> {
        let wanted = self.files.iter().filter(|file| matches!(file.known, Known::Nothing));
        let wanted: Vec<Open> = wanted.map(|file| Open { file: file.clone(), memory: self.memory.clone() }).collect();
        let serials: Vec<u64> = wanted.iter().map(|open| open.file.serial).collect();
        if serials.is_empty() || serials == self.opening {
            return None;
        }
        self.opening = serials;
        Some(wanted)
    }

    /// Takes in opened files.
    pub(super) fn take_opened(&mut self, opened: Vec<Opened>) {
        for one in opened {
            if let Some(file) = self.files.iter_mut().find(|file| file.serial == one.serial) {
                file.content = one.content.or(file.content.take());
                file.known = match one.sheets {
                    Ok(sheets) => Known::Sheets(sheets),
                    Err(Unread::Refused(reason)) => Known::Refused(reason),
                    Err(Unread::WhichSheet(names)) => Known::WhichSheet(names),
                };
            }
        }
        self.opening.clear();
        self.changed();
    }

    /// Opening or reading was stopped.
    pub(super) fn stopped(&mut self) {
        for file in &mut self.files {
            if matches!(file.known, Known::Nothing) {
                file.known = Known::Refused("Reading was stopped; close the file and open it again to read it.".into());
            }
        }
        self.opening.clear();
    }

    /// What is to be read, when that was not asked for yet.
    pub(super) fn next_gathering(&mut self, job: &Arc<Job>) -> Option<Gather> {
        if self.files.iter().any(|file| matches!(file.known, Known::Nothing)) || self.sheets().next().is_none() {
            return None;
        }
        if self
            .gathering
            .as_ref()
            .is_some_and(|(revision, known)| *revision == self.revision && Arc::ptr_eq(known, job))
        {
            return None;
        }
        self.gathering = Some((self.revision, job.clone()));
        let into = self.target_board(job);
        let board = match into {
            Into::New | Into::One => Board { name: self.board_name(job), ..Board::default() },
            Into::Board(at) => job.boards.get(at).cloned().unwrap_or_default(),
        };
        let sheets = self.sheets().map(|(_, sheet)| (sheet.source.clone(), sheet.mapping.clone())).collect();
        Some(Gather { revision: self.revision, job: job.clone(), into, board, sheets })
    }
}
