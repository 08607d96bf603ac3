//! What a person can do: commands with names and keys, actions, why one is refused, and the one place that carries them out.

pub(crate) mod action;
pub(crate) mod command;
pub(crate) mod dialogs;
pub(crate) mod live_scene;
pub(crate) mod moving;
pub(crate) mod paste_drop;
pub(crate) mod picking;
pub(crate) mod rearrange;
pub(crate) mod refusal;
pub(crate) mod shortcuts;

pub(crate) use action::{Action, BenchAction, ImportAction, PurchaseAction};
pub(crate) use command::{Command, Menu};
pub(crate) use live_scene::LiveScene;
