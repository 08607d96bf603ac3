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
        let row = |n: usize| self.0[n] * x + self.0[n + 1] * y + self.0[n + 2];
        let w = row(6);
        let to = [row(0) / w, row(3) / w];
        (w > 1e-6 && to.iter().all(|v| v.is_finite())).then_some(to)
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
mod tests {
    use super::*;

    const SQUARE: [[f64; 2]; 4] = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];

    fn near(a: Option<[f64; 2]>, b: [f64; 2]) -> bool {
        a.is_some_and(|a| (a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() < 1e-9)
    }

    #[test]
    fn the_four_points_go_where_they_should() {
        let askew = [[3.0, 5.0], [90.0, 12.0], [80.0, 70.0], [10.0, 60.0]];
        let flat = Homography::through(askew, [[0.0, 0.0], [160.0, 0.0], [160.0, 100.0], [0.0, 100.0]]).unwrap();
        assert!(near(flat.at(askew[0]), [0.0, 0.0]) && near(flat.at(askew[2]), [160.0, 100.0]));
    }

    #[test]
    fn the_middle_of_a_square_goes_to_where_the_diagonals_cross() {
        // Straight lines stay straight under a camera, so the diagonals cross at the image of the middle.
        let trapezium = [[0.0, 0.0], [4.0, 0.0], [3.0, 2.0], [1.0, 2.0]];
        let flat = Homography::through(SQUARE, trapezium).unwrap();
        assert!(near(flat.at([0.5, 0.5]), [2.0, 4.0 / 3.0]), "{:?}", flat.at([0.5, 0.5]));
    }

    #[test]
    fn points_on_a_line_have_no_map() {
        let line = [[0.0, 0.0], [1.0, 1.0], [2.0, 2.0], [0.0, 5.0]];
        assert_eq!(Homography::through(line, SQUARE), None);
        assert_eq!(Homography::through([[1.0, 1.0]; 4], SQUARE), None);
    }

    #[test]
    fn what_lies_beyond_the_horizon_is_nowhere() {
        let trapezium = [[0.0, 0.0], [4.0, 0.0], [3.0, 2.0], [1.0, 2.0]];
        let back = Homography::through(trapezium, SQUARE).unwrap();
        assert_eq!(back.at([2.0, 50.0]), None);
    }
}
