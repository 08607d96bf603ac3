//! From one flat quadrilateral to another, as a camera sees it: what straightens a picture taken at an angle.

/// A projective map of the plane (homography), its last entry scaled to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Homography([f64; 9]);

impl Homography {
    /// The map that takes four points to four others; `None` when three of either lie on one line.
    pub fn through(from: [[f64; 2]; 4], to: [[f64; 2]; 4]) -> Option<Self> {
        // Two equations for each pair of points: (a x + b y + c) / (g x + h y + 1) = u, and likewise v.
        let mut rows = [[0.0; 9]; 8];
        for (n, ([x, y], [u, v])) in from.into_iter().zip(to).enumerate() {
            rows[2 * n] = [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, u];
            rows[2 * n + 1] = [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, v];
        }
        let solved = solve(rows)?;
        Some(Self(std::array::from_fn(|n| solved.get(n).copied().unwrap_or(1.0))))
    }

    /// Where a point goes; `None` when it lies on or beyond the horizon.
    pub fn at(&self, [x, y]: [f64; 2]) -> Option<[f64; 2]> {
        let m = &self.0;
        let w = m[6] * x + m[7] * y + m[8];
        let to = [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w];
        (w > 1e-6 && to[0].is_finite() && to[1].is_finite()).then_some(to)
    }
}

/// Gauss with the largest pivot of each column.
fn solve(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    let largest = rows.iter().flatten().fold(0.0, |most: f64, v| most.max(v.abs()));
    for column in 0..8 {
        let pivot = (column..8).max_by(|&a, &b| rows[a][column].abs().total_cmp(&rows[b][column].abs()))?;
        rows.swap(column, pivot);
        let lead = rows[column][column];
        // Written so that a figure that is not a number is refused too.
        let solid = lead.abs() > largest * 1e-12;
        if !solid {
            return None;
        }
        for row in 0..8 {
            if row != column {
                let factor = rows[row][column] / lead;
                let pivot_row = rows[column];
                for (value, from) in rows[row].iter_mut().zip(pivot_row).skip(column) {
                    *value -= factor * from;
                }
            }
        }
    }
    Some(std::array::from_fn(|n| rows[n][8] / rows[n][n]))
}

#[cfg(test)]
#[path = "../../tests/within/homography.rs"]
mod tests;
