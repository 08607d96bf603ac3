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
