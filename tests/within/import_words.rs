//! The words of a row that are no quantities.

use super::*;

// Hand-made cases.
#[test]
fn cases_tell_kinds_apart() {
    let name = |cells: &[&str]| match kind(cells) {
        Kind::Ours { .. } => "ours",
        Kind::Other { name, .. } => name,
        Kind::Unpolarised { .. } => "unpolarised",
        Kind::Polarised { .. } => "polarised",
        Kind::Unsaid => "unsaid",
    };
    for (cells, expected) in [
        (&["470uF", "E5-10,5"][..], "ours"),
        (&["CPOL-EUE5-10.5", "E5-10,5"], "ours"),
        (&["10uF", "0805"], "chip (ceramic or tantalum)"),
        (&["100n", "603"], "chip (ceramic or tantalum)"),
        (&["10u 50v", "C0805"], "ceramic"),
        (&["C-POLAR-A", "CASE_A"], "tantalum"),
        (&["CPOL-US", "NORTHWAY_B"], "ours"),
        (&["CPOL-US", "SMC_B"], "tantalum"),
        (&["CAP", "123ABC-0605"], "ours"),
        (&["100n", "C050-025X075"], "box (film or ceramic)"),
        (&["LED", "NORTHWAY_B"], "unsaid"),
        (&["1uF", "Radial_D5.0mm_P2.00mm"], "ours"),
        (&["470uF", "SMD,D6.3xL5.4mm"], "unsaid"),
        (&["Unpolarized capacitor"], "unpolarised"),
        (&["Polarised capacitor"], "polarised"),
    ] {
        assert_eq!(name(cells), expected, "{cells:?}");
    }
}

#[test]
fn mounting_words_agree_or_say_nothing() {
    assert_eq!(mounting(&["Radial, Can - Snap-In"]), Some(Mounting::SnapIn));
    assert_eq!(mounting(&["CP_Radial_D10.0mm_P5.00mm"]), Some(Mounting::Radial));
    assert_eq!(mounting(&["Radial, Can - SMD"]), Some(Mounting::Smd));
    assert_eq!(mounting(&["SMD,D6.3xL5.4mm"]), Some(Mounting::Smd));
    assert_eq!(mounting(&["axial", "screw terminals"]), None);
    assert_eq!(mounting(&["Through Hole"]), None);
    assert_eq!(mounting(&["CPOL-US", "NORTHWAY_D8"]), Some(Mounting::Smd));
    assert_eq!(mounting(&["123ABC-1010"]), Some(Mounting::Smd));
}

#[test]
fn remarks_in_any_language_give_the_status() {
    assert_eq!(status_in_remark("3.3uF ±20% 25V 停产"), Some(Status::Obsolete));
    assert_eq!(status_in_remark("снят с производства"), Some(Status::Obsolete));
    let of_something_else =
        ["auf 5 mm eingestellt", "nicht mehr als 85 °C", "auslaufsicher", "vývody ukončené", "active"];
    assert_eq!(of_something_else.map(status_in_remark), [None; 5]);
    assert_eq!(["nicht mehr lieferbar", "no longer active", "inactivo"].map(status), [Some(Status::Obsolete); 3]);
    assert_eq!(["ikke aktiv", "not preferred", "no en producción", "nicht in Produktion"].map(status), [None; 4]);
    assert_eq!(status("Not For New Designs"), Some(Status::Nrnd));
    assert_eq!(status("Active"), Some(Status::Active));
    assert_eq!(status("25V"), None);
}

#[test]
fn not_fitted_is_a_word_not_a_syllable() {
    assert_eq!(not_fitted(&["470uF DNP"]), Some("dnp"));
    assert_eq!(not_fitted(&["EMPTY on 230 V version"]), Some("empty on"));
    assert_eq!(not_fitted(&["dnplate"]), None);
    for cells in
        [&["elko NF"][..], &["10u n.m."], &["NF", "25V"], &["10u *NB*"], &["10u", "N.C."], &["22u nicht best."]]
    {
        assert!(not_fitted(cells).is_some(), "{cells:?}");
    }
    for cells in [&["100 NF"][..], &["nF"], &["100nF NP0"], &["see NB: polarity"], &["5 N m"]] {
        assert_eq!(not_fitted(cells), None, "{cells:?}");
    }
}
