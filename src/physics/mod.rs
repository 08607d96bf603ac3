//! The phenomena, one file each: pure functions of numbers.
//!
//! SI units unless a name says otherwise (`_c` °C, `_k` kelvin, `_h` hours, `_mm` millimetres). A function whose data may
//! be missing returns `Option`; none returns NaN for finite input.

pub mod body;
pub mod energy;
pub mod esr;
pub mod frequency;
pub mod heat;
mod interpolate;
pub mod leakage;
pub mod life;
mod range;
pub mod voltage;
