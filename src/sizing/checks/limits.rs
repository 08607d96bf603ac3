//! Limits of checks that others go by too: the sieve of the catalogue, the reasons, the groups.

use crate::domain::{Mounting, Role};

/// Multiples of the original's capacitance that pass and that are marginal (common practice, no source).
pub(in crate::sizing) struct Window {
    pub pass: (f64, f64),
    pub marginal: (f64, f64),
    /// Whether the tolerance may not be wider than the original's.
    pub tolerance_counts: bool,
}

pub(in crate::sizing) fn window(role: Role) -> Window {
    match role {
        Role::Reservoir | Role::DcLink | Role::InputFilter | Role::OutputFilter | Role::Decoupling => {
            Window { pass: (1.0, 2.0), marginal: (0.8, 3.0), tolerance_counts: false }
        }
        Role::Startup => Window { pass: (1.0, 1.5), marginal: (0.8, 2.0), tolerance_counts: false },
        Role::Timing | Role::Coupling => Window { pass: (0.98, 1.02), marginal: (0.9, 1.1), tolerance_counts: true },
    }
}

/// Least length of hole span over the body of an axial part (KiCad axial footprints, open data), mm.
pub(in crate::sizing) const AXIAL_SPAN_MM: f64 = 3.0;

/// How far the lead spacing may be off the holes and pass, mm; `None` where it is not the spacing that counts.
pub(in crate::sizing) fn pitch_tolerance_mm(mounting: Mounting) -> Option<f64> {
    match mounting {
        // Tolerance of radial parts (published, Panasonic SU data sheet).
        Mounting::Radial => Some(0.5),
        // Stiff terminals cannot be formed (common practice, no source).
        Mounting::SnapIn | Mounting::Screw => Some(0.3),
        Mounting::Axial | Mounting::Smd => None,
    }
}
