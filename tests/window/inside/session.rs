//! Of `app/state/session.rs`, whose module this is.

use super::*;
use crate::domain::{Board, Position};
use proptest::prelude::*;

fn session() -> Session {
    let board = |name: &str, count: usize| Board {
        name: name.into(),
        positions: vec![Position::default(); count],
        ..Board::default()
    };
    let job = Job { boards: vec![board("A", 2), board("B", 1)], ..Job::default() };
    let catalog_index = CatalogIndex::default();
    Session::new(
        Loaded {
            job,
            catalog_index,
            rejected: Vec::new(),
            notes: Vec::new(),
            newer: false,
            unusable: Vec::new(),
            as_saved: std::collections::BTreeMap::default(),
        },
        None,
    )
}

/// Any change a person can make, from a few numbers.
fn some_edit(job: &Job, kind: u8, at: usize, value: f64) -> Edit {
    let ids: Vec<PositionId> = job.positions().map(|(id, _)| id).collect();
    let id = ids.get(at % ids.len().max(1)).copied().unwrap_or_default();
    let board = at % job.boards.len().max(1);
    let field = "operating voltage".to_owned();
    match kind {
        0 => Edit::pick(id, &format!("P{value}")),
        1 => Edit::unpick(id),
        2 => {
            let change = |id: &PositionId| {
                let mut position = job.position(*id)?.clone();
                position.stress.dc_v = Some(value);
                Some((*id, position))
            };
            Edit::Positions { changed: ids.iter().take(at).filter_map(change).collect(), field }
        }
        3 => Edit::Add { board, position: Box::new(Position { x_mm: Some(value), ..Position::default() }) },
        4 => Edit::Remove(vec![id]),
        5 => {
            let mut new = job.boards.get(board).cloned().unwrap_or_default();
            new.lid_mm = Some(value);
            Edit::Board { at: board, board: Box::new(new), field: "lid".into() }
        }
        6 => Edit::Settings { job: Box::new(Job { units: Some(value), ..job.clone() }), field: "units".into() },
        _ => {
            let mut new = job.clone();
            new.boards.push(Board::default());
            Edit::Whole { job: Box::new(new), what: "add a board".into() }
        }
    }
}

proptest! {
    #[test]
    fn undoing_all_changes_is_the_start_and_redoing_all_is_the_end(
        steps in prop::collection::vec((0u8..8, 0usize..6, 0.0f64..9.0, any::<bool>()), 1..60)
    ) {
        let mut session = session();
        let start = session.job().clone();
        for (kind, at, value, ends) in steps {
            let edit = some_edit(session.job(), kind, at, value.round());
            session.history.edit(edit);
            if ends {
                session.history.close_entry();
            }
        }
        let end = session.job().clone();
        while session.history.undo().is_some() {}
        prop_assert_eq!(session.job(), &start);
        prop_assert!(!session.is_dirty());
        while session.history.redo().is_some() {}
        prop_assert_eq!(session.job(), &end);
    }
}

#[test]
fn marks_stay_through_a_change_and_go_with_their_positions() {
    let mut session = session();
    let at = |index| PositionId { board: 0, index };
    session.selection.marked = vec![at(0), at(1)];
    session.keeping_marks(|session| session.history.edit(Edit::unpick(at(0))));
    assert_eq!(session.selection.marked, [at(0), at(1)]);
    session.keeping_marks(|session| session.history.undo());
    assert_eq!(session.selection.marked, [at(0), at(1)]);
    session.keeping_marks(|session| session.history.edit(Edit::Remove(vec![at(0), at(1)])));
    assert_eq!(session.selection.marked, []);
}

#[test]
fn undoing_everything_makes_the_job_clean_again() {
    let mut session = session();
    session.history.edit(Edit::pick(PositionId::default(), "A"));
    assert!(session.is_dirty());
    session.history.undo();
    assert!(!session.is_dirty());
}

#[test]
fn a_removed_position_hands_the_selection_to_its_neighbour() {
    let mut session = session();
    let second = PositionId { board: 0, index: 1 };
    session.select(Some(second));
    session.history.edit(Edit::Remove(vec![second]));
    session.select(Some(second));
    assert_eq!(session.selection.position, Some(PositionId { board: 0, index: 0 }));
    session.history.edit(Edit::Remove(vec![PositionId { board: 0, index: 0 }]));
    session.select(session.selection.position);
    assert_eq!(session.selection.position, Some(PositionId { board: 1, index: 0 }));
    assert_eq!(session.selection.board, 1);
}

#[test]
fn what_came_out_without_the_offers_does_not_count_as_news_of_the_parts() {
    let mut session = session();
    let mut builder = crate::domain::CatalogBuilder::default();
    builder.push(&crate::domain::Part::<String> { part_number: "A".into(), ..crate::domain::Part::default() });
    session.catalog_index = Arc::new(CatalogIndex::new(Arc::new(builder.finish().0)));
    // Something else was known of a position: sized with everything, that is news.
    session.as_saved = Arc::new([("A ".to_owned(), "part=A | verdict=pass".to_owned())].into());
    let sized = |session: &Session| {
        let (job, catalog_index) = (session.job().clone(), session.catalog_index.clone());
        let sizing = crate::sizing::size(&job, &catalog_index);
        Arc::new(Snapshot { job, catalog_index, sizing })
    };
    session.snapshot = sized(&session);
    let compares = |session: &mut Session| {
        let mut changes = crate::app::views::changes::ChangesState::default();
        changes.poll(session);
        changes.work()[0].busy().is_some()
    };
    assert!(session.is_fresh() && compares(&mut session));
    session.offers_due = true;
    assert!(!session.is_fresh() && !compares(&mut session));
    // The offers are there, what came out is still of the parts without them.
    session.offers_due = false;
    session.catalog_index = Arc::new(session.catalog_index.with_offers(Arc::default()));
    assert!(!session.is_fresh() && !compares(&mut session));
    session.snapshot = sized(&session);
    assert!(session.is_fresh() && compares(&mut session));
}
