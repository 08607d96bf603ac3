pub mod domain;
pub mod files;
pub mod physics;
pub mod sizing;
