use super::*;

#[test]
fn designators_are_told_from_values() {
    for name in ["C1", "C_S4A1", "FUZZ1:C1", "U$2", "Cboot", "C?", "CE405", "M0:C1", "C12, C13", "C1-C4", "R756"] {
        assert!(is_designators(name), "{name}");
    }
    for text in ["470uF", "CAP ALUM 470UF", "25V", "12.5", "top", "QXA1H101MPD", "ECX1HM101", "QX-1"] {
        assert!(!is_designators(text), "{text}");
    }
}

#[test]
fn side_words_are_known() {
    assert_eq!([side("TopLayer"), side("B"), side("F.Cu"), side("x")], [Some(false), Some(true), Some(false), None]);
}
