//! Of `app/state/scene.rs`, whose module this is.

use crate::app::Window;
use crate::app::state::{EditorSheet, Session, View, edit::Edit};
use crate::files::load;
use crate::sizing::MADE;
use egui_kittest::Harness;

#[test]
fn a_frame_makes_the_selected_position_ready_at_most_once() {
    let mut window = Window::holding(load::load_demo().unwrap(), None);
    window.session.selection.editor = Some(EditorSheet::Position);
    let mut harness =
        Harness::builder().with_size([1600.0, 900.0]).build_ui_state(|ui, window: &mut Window| window.ui(ui), window);
    for view in [View::Board, View::Candidates, View::Life, View::Purchase, View::Bench] {
        harness.state_mut().session.selection.view = view;
        for _ in 0..4 {
            harness.state_mut().settle();
            harness.step();
        }
        let before = MADE.get();
        harness.step();
        let made = MADE.get() - before;
        // At the bench also as the unit was found, which is another job.
        assert!(made <= 1 + usize::from(view == View::Bench), "{view:?}: {made}");
        assert!(made == 1 || matches!(view, View::Purchase | View::Bench), "{view:?} no longer shows the position");
    }
}

#[test]
fn the_position_made_ready_is_the_one_selected_in_the_job_as_it_is() {
    let mut window = Window::holding(load::load_demo().unwrap(), None);
    let session = &mut window.session;
    let target = |session: &Session| session.scene().place().unwrap().target_h;
    let (first, before) = (session.selection.position.unwrap(), target(session));
    let mut position = session.job().position(first).unwrap().clone();
    position.needs.life_h = before.map(|hours| hours * 2.0);
    session.edit(Edit::Positions { changed: vec![(first, position)], field: "target life".into() });
    assert_eq!(target(session), before.map(|hours| hours * 2.0));
    let other = session.job().positions().map(|(id, _)| id).find(|id| *id != first);
    session.select(other);
    assert_eq!(target(session), before);
}
