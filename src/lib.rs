pub mod domain;
pub mod physics;
pub mod sizing;
