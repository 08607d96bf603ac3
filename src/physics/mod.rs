//! The phenomena, one file each: pure functions of numbers.
//!
//! SI units unless a name says otherwise (`_c` °C, `_k` kelvin, `_h` hours, `_mm` millimetres). A function whose data may
//! be missing returns `Option`; none returns NaN for finite input.

pub mod body;
pub mod circuits;
pub mod condition;
pub mod energy;
pub mod esr;
pub mod frequency;
pub mod groups;
pub mod heat;
pub mod leakage;
pub mod life;
pub mod relay;
pub mod reverse;
pub mod spectrum;
pub mod spread;
pub mod voltage;
pub mod waveform;

mod interpolate;
mod range;
