//! What each file of domain, physics, sizing and files does, where its tests are too long to stand in it; the name is that of the file.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at a fault")]
#![allow(clippy::match_same_arms, reason = "each arm is a rule of its own")]

mod board_map;
mod board_plan;
mod catalog_index;
mod checks_capacitance;
mod checks_esr;
mod checks_fit;
mod checks_life;
mod checks_ripple;
mod checks_voltage;
mod circuit;
mod curves;
mod domain_catalog;
mod duty_from_log;
mod files_board_svg;
mod files_companions;
mod files_job;
mod files_offers;
mod files_photo;
mod files_recovery;
mod files_save;
mod heat_opinion;
mod interval_plan;
mod order;
mod parallel;
mod physics_circuits_rectifier;
mod physics_life;
mod physics_spread;
mod physics_waveform;
mod pick_change;
mod purchase;
mod quantities;
mod size;
mod spread;
mod substitution;
#[allow(dead_code, reason = "shared with the tests in the sources, each uses a part of it")]
mod testing;
#[allow(dead_code, reason = "shared with the tests in the sources, each uses a part of it")]
mod testing_duty;
