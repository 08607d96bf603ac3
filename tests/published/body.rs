//! Largest body and vent clearance.

use refarad::domain::{Can, Mounting};
use refarad::physics::body::{of, vent_clearance_mm};

use super::assert_printed;

fn can(mounting: Mounting, diameter_mm: f64, height_mm: f64) -> Can {
    Can { mounting: Some(mounting), diameter_mm: Some(diameter_mm), height_mm: Some(height_mm), ..Can::default() }
}

/// KEMET ESC data sheet A4006 (4/22/2019) p.10: case diameter in mm and least space over the vent in mm.
#[test]
fn vent_clearances_are_those_of_kemet_a4006() {
    let table = [(6.3, 2.0), (16.0, 2.0), (16.1, 3.0), (18.0, 3.0), (40.0, 3.0), (40.1, 5.0), (50.0, 5.0)];
    for (diameter_mm, printed) in table {
        assert_printed(vent_clearance_mm(diameter_mm), printed, 0);
    }
}

/// Vishay BCcomponents 056/057 PSM-SI, document 28340 p.3: nominal and largest diameter; largest length is nominal + 2 mm.
#[test]
fn the_largest_snap_in_body_is_that_of_vishay_document_28340() {
    for (nominal_mm, printed) in [(22.0, 23.0), (25.0, 26.0), (30.0, 31.0), (35.0, 36.0)] {
        let body = of(&can(Mounting::SnapIn, nominal_mm, 40.0));
        assert_printed(body.diameter_max_mm.unwrap(), printed, 1);
        assert_printed(body.height_max_mm.unwrap(), 42.0, 1);
        assert!(body.diameter_assumed && body.height_assumed);
    }
}

/// Nichicon snap-in terminal drawing: sleeved diameter at most nominal + 1.5 mm, length ±2 mm. The default is 0.5 mm short
/// in diameter, so such parts need their own largest diameter in the catalogue, which then wins.
#[test]
fn a_sleeved_nichicon_body_needs_its_own_largest_diameter() {
    let mut sleeved = can(Mounting::SnapIn, 25.0, 40.0);
    let default_mm = of(&sleeved).diameter_max_mm.unwrap();
    println!("Nichicon sleeved snap-in, 25 mm: default {default_mm} mm, drawing 26.5 mm");
    assert_printed(26.5 - default_mm, 0.5, 1);
    assert_printed(of(&sleeved).height_max_mm.unwrap(), 42.0, 1);
    sleeved.diameter_max_mm = Some(26.5);
    assert_printed(of(&sleeved).diameter_max_mm.unwrap(), 26.5, 1);
    assert!(!of(&sleeved).diameter_assumed);
}

/// Panasonic SU data sheet: diameter + 0.5 mm, length + 1.0 mm up to 16 mm, + 2.0 mm above.
#[test]
fn the_largest_radial_body_is_that_of_panasonic_su() {
    let table = [(5.0, 11.0, 5.5, 12.0), (10.0, 16.0, 10.5, 17.0), (10.0, 20.0, 10.5, 22.0), (18.0, 35.5, 18.5, 37.5)];
    for (diameter_mm, height_mm, largest_diameter_mm, largest_height_mm) in table {
        let body = of(&can(Mounting::Radial, diameter_mm, height_mm));
        assert_printed(body.diameter_max_mm.unwrap(), largest_diameter_mm, 1);
        assert_printed(body.height_max_mm.unwrap(), largest_height_mm, 1);
    }
}
