//! What a view works with: everything it may read, and the place where it says what the person wants.

use std::cell::RefCell;
use std::ops::Deref;

use crate::app::actions::{Action, Command, refusal::refusal};
use crate::app::state::{Scene, Session};
use crate::app::widgets::drafts::Drafts;

/// A scene in which something can be wanted.
pub(crate) struct LiveScene<'a> {
    scene: Scene<'a>,
    /// For what is told of the job as a whole; views read the scene.
    pub session: &'a Session,
    /// What is typed into the fields of the view that is being drawn.
    pub drafts: RefCell<Drafts>,
    wanted: RefCell<Vec<Action>>,
}

impl<'a> Deref for LiveScene<'a> {
    type Target = Scene<'a>;

    fn deref(&self) -> &Scene<'a> {
        &self.scene
    }
}

impl<'a> LiveScene<'a> {
    pub(crate) fn new(session: &'a Session) -> Self {
        Self { scene: session.scene(), session, drafts: RefCell::default(), wanted: RefCell::default() }
    }

    /// Says what the person wants.
    pub(crate) fn push(&self, action: Action) {
        self.wanted.borrow_mut().push(action);
    }

    /// The same of several things.
    pub(crate) fn extend(&self, actions: impl IntoIterator<Item = Action>) {
        actions.into_iter().for_each(|action| self.push(action));
    }

    /// Tries something whose actions count only if it is `meant`.
    pub(crate) fn attempt<T>(&self, meant: bool, what: impl FnOnce() -> T) -> T {
        let before = self.wanted.borrow().len();
        let result = what();
        if !meant {
            self.wanted.borrow_mut().truncate(before);
        }
        result
    }

    /// Draws fields whose drafts are kept elsewhere.
    pub(crate) fn typing<T>(&self, kept: &mut Drafts, draw: impl FnOnce() -> T) -> T {
        std::mem::swap(&mut *self.drafts.borrow_mut(), kept);
        let drawn = draw();
        std::mem::swap(&mut *self.drafts.borrow_mut(), kept);
        drawn
    }

    /// Why a command cannot be carried out now; `None` when it can.
    pub(crate) fn refusal(&self, command: Command) -> Option<String> {
        refusal(self.session, command)
    }

    /// Everything wanted, in order.
    pub(crate) fn into_wanted(self) -> Vec<Action> {
        self.wanted.into_inner()
    }
}
