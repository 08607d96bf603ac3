//! Ripple from the circuit, for when nobody measured it: idealised waveforms of the usual supplies and drives.
//!
//! Every function takes what is on the bench (currents in A, voltages in V, duty as a share, frequencies in Hz) and returns
//! a [`Ripple`](super::spectrum::Ripple): the rms of the capacitor's current by the published formula, and lines from the Fourier series of the same
//! idealised waveform, completed so that the lines' root sum of squares is that rms. They are fit for a position's
//! `stress.ripple` as they stand.
//!
//! What the idealisation leaves out, for every circuit here: the capacitor takes the whole alternating current (true
//! while its impedance is far below that of the source, the load and the other capacitors at that node), switches and
//! diodes change over at once, and no ringing. Measure where it matters.
//!
//! | file | circuits |
//! |---|---|
//! | `pulses` | the waveforms the others are made of |
//! | `converters` | buck, boost, flyback, rectified sine |
//! | `pfc` | storage capacitor behind a power factor stage |
//! | `inverter` | three-phase inverter link |
//! | `rectifier` | mains bridge with reservoir, integrated |

pub mod converters;
pub mod inverter;
pub mod pfc;
mod pulses;
pub mod rectifier;

/// Harmonics listed one by one; the rest of the energy is lumped into one line above them. Twenty carry 94 % of
/// the energy of a pulse of 10 % duty and 98 % at 50 %, and the frequency multipliers of capacitors are flat long before.
const LISTED: u32 = 20;
