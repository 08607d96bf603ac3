//! Cans in a photo of a board, seen from above: a rough circle drawn by hand comes to lie on the rim of the can, cans are
//! proposed, and the stripe of the negative side is looked for. Pure functions of pixels; a person confirms what they say.

mod find;
mod patch;
mod snap;
mod stripe;

pub use find::find;
pub use snap::snap;
pub use stripe::stripe;

/// A circle in a photo.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Centre from the left edge, pixels; the middle of the first pixel lies at 0.5.
    pub x_px: f64,
    /// Centre from the upper edge, pixels.
    pub y_px: f64,
    /// Radius, pixels.
    pub r_px: f64,
}

impl Circle {
    /// From its centre to that of another one, pixels.
    pub fn distance_px(&self, other: &Self) -> f64 {
        (self.x_px - other.x_px).hypot(self.y_px - other.y_px)
    }
}

/// What is left, at the board, of a length and of a distance from the middle of the photo that were measured at the top of a can
/// `height_mm` tall, by a camera `distance_mm` above the board that looks straight down: `(D - h) / D`, since the top is nearer to
/// it by the height of the can (pinhole camera). `None` where the can would reach the camera.
pub fn at_board(height_mm: f64, distance_mm: f64) -> Option<f64> {
    let share = (distance_mm - height_mm) / distance_mm;
    (height_mm >= 0.0 && share > 0.0 && share.is_finite()).then_some(share)
}

/// What is known of a can before it is looked for.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Known {
    /// Surface mounted: bare metal up to the rim, without the sleeve whose inner edge is the stronger circle.
    pub smd: bool,
    /// Least and largest radius, pixels, where the scale of the photo and the sizes of cans are known.
    pub r_px: Option<[f64; 2]>,
}
