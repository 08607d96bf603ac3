//! Of `files/paste.rs`, from within it: limits, missing data, odd cases.

use super::*;
use crate::domain::Role;
use proptest::prelude::*;

fn board() -> Board {
    Board { positions: vec![Position { reference: "C1".into(), ..Position::default() }], ..Board::default() }
}

#[test]
fn every_name_of_a_column_leads_to_a_field() {
    let empty = Position { reference: "C1".into(), ..Position::default() };
    for (name, field) in NAMES[0].iter().filter(|(_, field)| *field != "ref") {
        let told = set(&mut empty.clone(), field, "~");
        assert_ne!(told, Err("this field cannot be pasted".into()), "{name}");
    }
    assert!(NAMES[0].len() > 40 && NAMES[1].iter().all(|(name, _)| other_field(name).is_some()));
}

#[test]
fn rows_with_a_header_change_known_positions_and_add_new_ones() {
    let text = "Ref\tCapacitance (uF)\tVoltage\tRipple\tAmbient\nC1\t470\t35V\t1.2 A\t58 °C\nC2\t4u7\t50\t\t\n";
    let pasted = paste(text, &board()).unwrap();
    assert_eq!((pasted.added, pasted.changed, pasted.refused.len()), (1, 1, 0), "{:?}", pasted.refused);
    let [c1, c2] = pasted.board.positions.as_slice() else { panic!() };
    assert_eq!((c1.original.can.capacitance_uf, c1.original.can.rated_v), (Some(470.0), Some(35.0)));
    assert_eq!(c1.stress.ripple.as_ref().unwrap()[0].a, Some(1.2));
    assert_eq!(c1.stress.phases.as_ref().unwrap()[0].ambient_c, Some(58.0));
    assert_eq!((c2.original.can.capacitance_uf, c2.original.can.rated_v), (Some(4.7), Some(50.0)));
}

#[test]
fn relays_and_fuses_among_the_rows_become_other_parts() {
    let text = "Ref\tValue\tPart number\tQty\nC1\t470u 35V\t\t\nK1\t24V 2CO 8A\tRL-24\t\nF1,F2\tT2A\tFS-2A\t2\n";
    let pasted = paste(text, &board()).unwrap();
    assert_eq!((pasted.added, pasted.changed, pasted.refused.len()), (3, 1, 0), "{:?}", pasted.refused);
    let told = |part: &OtherPart| (part.reference.clone(), part.kind, part.part_number().map(str::to_owned));
    let number = |text: &str| Some(text.to_owned());
    let [k1, f1, _] = pasted.board.other_parts.as_slice() else { panic!() };
    assert_eq!(told(k1), ("K1".into(), Some(OtherKind::Relay), number("RL-24")));
    assert_eq!((told(f1), f1.quantity), (("F1".into(), Some(OtherKind::Fuse), number("FS-2A")), Some(2.0)));
    assert_eq!(k1.original.label.as_deref(), Some("24V 2CO 8A"));
    let again = paste("Ref\tNote\nK1\tworn\n", &pasted.board).unwrap();
    assert_eq!((again.added, again.changed), (0, 1));
    assert_eq!(again.board.other_parts[0].note.as_deref(), Some("worn"));
}

#[test]
fn rows_without_a_header_are_understood_by_what_stands_in_them() {
    let pasted = paste("C7\t220uF\t63V\nC8\t100n\t100 V\n", &board()).unwrap();
    assert_eq!(pasted.added, 2, "{pasted:?}");
    assert_eq!(pasted.board.positions[2].original.can.capacitance_uf, Some(0.1));
    assert_eq!(pasted.board.positions[1].original.can.rated_v, Some(63.0));
}

#[test]
fn cells_that_cannot_be_used_are_listed_and_the_rest_is_taken() {
    let pasted = paste("ref\tvoltage\trole\nC1\thigh\treservoir\nC2\t25\thero\n\t16\ttiming\n", &board()).unwrap();
    let refused: Vec<_> = pasted.refused.iter().map(|r| (r.line, r.field.as_str(), r.value.as_str())).collect();
    assert_eq!(refused[..2], [(2, "voltage", "high"), (3, "role", "hero")]);
    assert_eq!(refused.len(), 3);
    assert_eq!(pasted.board.positions[0].role, Some(Role::Reservoir));
    assert_eq!(pasted.board.positions[1].original.can.rated_v, Some(25.0));
}

#[test]
fn a_refused_cell_leaves_no_row_of_a_list_behind() {
    let pasted = paste("ref\tripple\tx\nC1\tmuch\t3\n", &board()).unwrap();
    assert_eq!(pasted.board.positions[0].stress.ripple, None);
    assert_eq!(pasted.refused.len(), 1);
}

proptest! {
    #[test]
    fn any_text_is_pasted_or_refused_without_a_panic(text in "[ -~\\t\\nµ°]{0,200}") {
        if let Ok(pasted) = paste(&text, &board()) {
            prop_assert_eq!(pasted.board.positions.len() + pasted.board.other_parts.len(), 1 + pasted.added);
        }
    }
}
