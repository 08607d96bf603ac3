//! Parts lists of boards. All files are hand-made.

use refarad::domain::{Mounting, Role, Technology};
use refarad::files::import::{Answer, Field, Source, Target};
use refarad::files::table::Options;

use crate::{answer, aside, position, positions, source};

#[test]
fn a_board_list_becomes_positions_and_everything_else_is_accounted_for() {
    let import = positions(
        "Comment,Designator,Footprint,LCSC Part #,Quantity\n470uF,\"C1,C2\",CP_Radial_D10.0mm_P5.00mm,C1234,2\n10uF,C3,0805,C2345,1\n\
         22u/63V,\"C4, C5 \",CP_Elec_8x6.2,C8678,3\n10k,R1,0603,C9,1\n4u7 50V bipolar,C9,radial,C10,1\n\
         EMPTY on 230 V version,C11,CP_Radial_D10.0mm_P5.00mm,,1\n",
    );
    let c1 = position(&import, "C1");
    let can = &c1.original.can;
    assert_eq!(
        (can.capacitance_uf, can.rated_v, can.diameter_mm, can.pitch_mm),
        (Some(470.0), None, Some(10.0), Some(5.0))
    );
    assert_eq!((can.height_mm, can.mounting), (None, Some(Mounting::Radial)));
    assert_eq!((c1.role, c1.role_assumed, c1.original.label.as_deref()), (Some(Role::Decoupling), true, Some("470uF")));
    let c4 = &position(&import, "C4").original.can;
    assert_eq!((c4.rated_v, c4.height_mm, c4.mounting), (Some(63.0), Some(6.2), Some(Mounting::Smd)));
    assert_eq!(position(&import, "C9").original.can.technology, Some(Technology::NonPolar));
    assert_eq!(import.positions.len(), 5);
    assert_eq!(
        ["chip (ceramic or tantalum)", "not a capacitor", "not fitted"].map(|reason| aside(&import.report, reason)),
        [1, 1, 1]
    );
    assert!(import.report.contradictions[0].first.contains("quantity 3"));
    assert_eq!(import.report.kept + import.report.set_aside_rows() + import.report.refused, import.report.rows);
}

#[test]
fn designators_of_every_make_are_expanded() {
    for (cell, expected) in [
        ("C1-C4", "C1 C2 C3 C4"),
        ("C5..C7", "C5 C6 C7"),
        ("\"C1, C2, \"", "C1 C2"),
        ("C1 C2", "C1 C2"),
        ("\"FUZZ1:C1,M0:C1\"", "FUZZ1:C1 M0:C1"),
        ("C_S4A1", "C_S4A1"),
        ("CE405", "CE405"),
        ("Cboot", "Cboot"),
        ("U$2", "U$2"),
        ("C221/C47", "C221 C47"),
        ("\"C?, C?\"", "C?1 C?2"),
    ] {
        let import = positions(&format!("Reference,Value,Type\n{cell},470uF 25V,Elko\n"));
        let names: Vec<&str> = import.positions.iter().map(|(_, position)| position.reference.as_str()).collect();
        assert_eq!(names.join(" "), expected, "{cell}");
    }
}

#[test]
fn the_same_designator_twice_is_listed_and_other_prefixes_stay_apart() {
    let import = positions("Ref,Value,Type\nC1,470uF 25V,Elko\nM0:C1,10uF 25V,Elko\nC1,100uF 25V,Elko\n");
    assert_eq!((import.positions.len(), import.report.refused), (2, 1));
    assert_eq!(position(&import, "C1").original.can.capacitance_uf, Some(470.0));
}

#[test]
fn a_column_headed_part_that_holds_values_is_read_as_values() {
    let import =
        positions("RefDes,Part,Qty,Remarks\nC12,4700uF,1,\"63V, 3.0A, 16x31.5\"\nC13,220uF,1,25V\nR1,10k,1,\n");
    let can = |name| position(&import, name).original.can.clone();
    assert_eq!((can("C12").capacitance_uf, can("C12").rated_v), (Some(4700.0), Some(63.0)));
    assert_eq!((can("C12").ripple_a, can("C12").ripple_hz), (Some(3.0), None), "its frequency is not said");
    assert_eq!((can("C13").capacitance_uf, can("C13").rated_v), (Some(220.0), Some(25.0)));
}

#[test]
fn a_part_number_in_place_of_a_value_still_makes_a_position() {
    let import = positions("RefDes,Value,Footprint\nC7,QXA1H101MPD,CP_Radial_D8.0mm_P3.50mm\n");
    let original = &position(&import, "C7").original;
    assert_eq!((original.can.capacitance_uf, original.label.as_deref()), (None, Some("QXA1H101MPD")));
    assert!(import.report.notes.iter().any(|note| note.contains("no capacitance")));
}

#[test]
fn symbols_and_case_names_tell_the_family() {
    let import = positions(
        "Qty;Value;Device;Package;Parts;Description\n1;470uF;CPOL-EUE5-10.5;E5-10,5;C1;POLARIZED CAPACITOR\n1;10uF;C-POLAR-A;CASE_A;C2;\n\
         1;10u 50v;C-EUC0805;C0805;C3;\n1;22uF;CPOL-US;NORTHWAY_D;C4;\n1;1uF;C-EU050-025X075;C050-025X075;C5;CAPACITOR, unpolarized\n",
    );
    let names: Vec<&str> = import.positions.iter().map(|(_, position)| position.reference.as_str()).collect();
    assert_eq!(names, ["C1", "C4"]);
    assert_eq!((aside(&import.report, "tantalum"), aside(&import.report, "ceramic")), (1, 1));
    assert_eq!(position(&import, "C4").original.can.mounting, Some(Mounting::Smd));
}

#[test]
fn a_capacitor_whose_kind_nothing_says_is_asked_about() {
    let mut board =
        source("board.csv", b"Ref,Value,Note\nC1,47uF,\nC2,1000uF,\nC3,100nF,\nR1,10k,\n", Some(Target::Positions));
    let import = board.positions();
    assert_eq!((import.positions.len(), import.report.refused), (1, 1));
    assert_eq!(aside(&import.report, "kind not said, below 1 µF"), 1);
    assert!(import.report.notes.iter().any(|note| note.contains("100 µF or more")));
    answer(&import.report, "electrolytics", "yes").apply(&mut board.mapping).unwrap();
    assert_eq!(board.positions().positions.len(), 3);
    Answer::at(["unsaid_are_electrolytic"], false).apply(&mut board.mapping).unwrap();
    let import = board.positions();
    assert_eq!((import.positions.len(), import.report.clean()), (1, true));
}

#[test]
fn a_bare_list_of_designator_microfarads_and_volts_works() {
    for text in [
        "C1 470 25\nC2 1000 35\nC3 4.7 400\n",
        "C1,470,25\nC2,1000,35\nC3,4.7,400\n",
        "designator,µF,V\nC1,470,25\nC2,1000,35\nC3,4.7,400\n",
    ] {
        let board = source("list.txt", text.as_bytes(), None);
        assert_eq!(board.mapping.target, Target::Positions, "{text}");
        let import = board.positions();
        let can = &position(&import, "C3").original.can;
        assert_eq!((import.positions.len(), can.capacitance_uf, can.rated_v), (3, Some(4.7), Some(400.0)), "{text}");
        assert!(import.report.notes.iter().any(|note| note.contains("bare list")), "{:?}", import.report.notes);
    }
}

#[test]
fn letter_first_lead_and_height_marks_do_not_mix_up() {
    let import = positions(
        "Designator,Name,Footprint\nC1,100uF,CAP-TH_BD8.0-P3.50-D0.6-FD\nC2,10uF,\"D125 H350 P050\"\nC3,10uF,CP_Radial_D10.0mm_H12.5mm_P5.00mm\n",
    );
    let size = |name| {
        let can = &position(&import, name).original.can;
        (can.diameter_mm, can.height_mm, can.pitch_mm)
    };
    assert_eq!(size("C1"), (Some(8.0), None, Some(3.5)));
    assert_eq!(size("C2"), (Some(12.5), Some(35.0), Some(5.0)));
    assert_eq!(size("C3"), (Some(10.0), Some(12.5), Some(5.0)));
    assert_eq!(position(&import, "C1").original.can.lead_d_mm, Some(0.6));
}

#[test]
fn part_and_designation_are_read_by_what_stands_below_them() {
    let fixed = "Part     Value          Device            Package          Library     Sheet\n\nC1       470uF/25V      CPOL-EUE5-10.5    E5-10,5          rcl         1\nR1       10k            R-EU_R0805        R0805            rcl         1\n";
    let board = source("board.txt", fixed.as_bytes(), None);
    assert_eq!(board.mapping.column("Part").unwrap().field, Some(Field::Designator));
    let import = board.positions();
    assert_eq!((import.positions.len(), position(&import, "C1").original.can.rated_v), (1, Some(25.0)));
    let list = source("list.csv", b"Designation,Part,Volts,Type\n470uF,QXA1H101MPD,50,Elko\n", None);
    assert_eq!(
        (list.mapping.target, list.mapping.column("Designation").unwrap().field),
        (Target::Parts, Some(Field::Value))
    );
}

#[test]
fn markdown_tables_of_one_page_add_up() {
    let text = "# Board\n\n| Ref | Value | Voltage | Type |\n|---|---|---|---|\n| C1 | 470uF | 25V | Elko |\n\nmore\n\n| Ref | Value | Voltage | Type |\n|---|---|---|---|\n| C2 | 10uF | 50V | Elko |\n";
    assert_eq!(source("board.md", text.as_bytes(), None).positions().positions.len(), 2);
}

#[test]
fn other_tables_of_a_page_do_not_get_in_the_way() {
    let text = "# Series QX\n\n| Cap. (uF) | 16V size | Part |\n|---|---|---|\n| 100 | 5x11 | QX-1 |\n\n\
                | Part Number | Capacitance (uF) | Voltage | tan δ |\n|---|---:|---:|---|\n| QX-25-100 | 100 | 25 | 0.14 |\n| QX-25-220 | 220 | 25 | 0.14 |\n\n\
                | Part Number | Capacitance (uF) | Voltage | tan δ |\n|---|---:|---:|---|\n| QX-35-100 | 100 | 35 | 0.12 |\n";
    let sources = Source::all_from_bytes("qx.md".as_ref(), text.as_bytes(), None, &Options::default()).unwrap();
    let numbers: Vec<String> =
        sources.iter().flat_map(|source| source.parts().parts).map(|(_, part)| part.part_number).collect();
    assert!(sources.iter().all(|source| source.mapping.target == Target::Parts));
    assert!(
        ["QX-25-100", "QX-25-220", "QX-35-100"].iter().all(|number| numbers.iter().any(|n| n == number)),
        "{numbers:?}"
    );
}

#[test]
fn nothing_is_ever_zero_high_and_templates_are_nothing() {
    let import =
        positions("Designator,Value,Height,Type,Voltage\nC1,470uF,0,Elko,${Voltage}\nC2,470uF,~,Elko,undefined\n");
    for name in ["C1", "C2"] {
        let can = &position(&import, name).original.can;
        assert_eq!((can.height_mm, can.rated_v), (None, None), "{name}");
    }
}

#[test]
fn every_row_becomes_positions_or_is_left_with_its_reason() {
    let import = positions("Designator,Value,Type\n\"C1,C2\",470uF 25V,Elko\nC3,10uF 25V,CAP TANT\n");
    let kept: Vec<(u64, &str)> = import.positions.iter().map(|(line, of)| (*line, of.reference.as_str())).collect();
    assert_eq!(kept, [(2, "C1"), (2, "C2")]);
    let left = &import.report.rejected[0];
    assert!(left.line == 3 && left.reason.contains("tantalum"), "{left:?}");
}

#[test]
fn titles_totals_and_remarks_between_the_rows_are_no_positions() {
    let import = positions(
        "Bill of Materials,,,,\nRef,Qty,Value,Voltage,Type\nControl board,,,,\nC1,1,470uF,25V,Electrolytic\n\
         \"C2,C3\",2,100uF,35V,Electrolytic\nRef,Qty,Value,Voltage,Type\nCapacitors,,,,\nC10,1,47uF,16V,Electrolytic\nTotal,4,,,\n",
    );
    let names: Vec<&str> = import.positions.iter().map(|(_, position)| position.reference.as_str()).collect();
    assert_eq!(names, ["C1", "C2", "C3", "C10"]);
    assert_eq!(aside(&import.report, "title or remark"), 2);
    assert!(import.report.clean(), "{:?}", import.report);
}

#[test]
fn names_under_a_title_over_several_columns_are_the_header() {
    let import = positions(
        "Designator,Capacitor,,Size,,Qty\n,Value,Voltage,D (mm),L (mm),\nC1,470 uF,25 V,10,16,1\nC2,100 uF,35 V,8,11.5,1\n",
    );
    let can = &position(&import, "C2").original.can;
    assert_eq!((can.rated_v, can.diameter_mm, can.height_mm), (Some(35.0), Some(8.0), Some(11.5)));
}

#[test]
fn a_voltage_that_only_the_part_number_gives_is_offered_and_a_number_against_the_value_flagged() {
    let text = b"Reference,Qty,Value,Footprint,MPN\n\"C1,C2\",2,220u,CP_Radial_D8.0mm_P3.50mm,QXA1V221M\n\
        C3,1,220u,CP_Radial_D8.0mm_P3.50mm,QXA1V101M\n";
    let mut list = source("board.csv", text, Some(Target::Positions));
    let import = list.positions();
    assert_eq!(position(&import, "C1").original.can.rated_v, None);
    assert!(import.report.contradictions.iter().any(|found| found.line == 3 && found.second.contains("100 µF")));
    answer(&import.report, "code in the part number", "yes").apply(&mut list.mapping).unwrap();
    assert_eq!(position(&list.positions(), "C1").original.can.rated_v, Some(35.0));
}

#[test]
fn footprints_give_what_their_names_say_in_any_library_s_manner() {
    for (footprint, diameter_mm, pitch_mm) in [
        ("\"E5-10,5\"", 10.5, Some(5.0)),
        ("CAP-SMD_BD10.0-L10.3-W10.3-RD", 10.0, None),
        ("CAP-TH_BD8.0-P3.50-D0.6-FD", 8.0, Some(3.5)),
        ("插件D10xL16mm", 10.0, None),
        ("RAD-8x11", 8.0, None),
    ] {
        let import = positions(&format!("Designator,Value,Footprint,Type\nC1,470uF 25V,{footprint},Elko\n"));
        let can = &position(&import, "C1").original.can;
        assert_eq!((can.diameter_mm, can.pitch_mm), (Some(diameter_mm), pitch_mm), "{footprint}");
    }
}

#[test]
fn bare_dimensions_take_the_only_unit_in_which_they_are_cans() {
    let import =
        positions("Reference,Value,Type,Pitch,Diameter,Height\nC1,22uF 25V,Elko,5,8,11.5\nC2,47uF 25V,Elko,,6.3,11\n");
    let can = &position(&import, "C1").original.can;
    assert_eq!((can.diameter_mm, can.height_mm, can.pitch_mm), (Some(8.0), Some(11.5), Some(5.0)));
    let inches = positions("Reference,Value,Type,Diameter,Height\nC1,22uF 25V,Elko,0.315,0.453\n");
    assert_eq!(position(&inches, "C1").original.can.diameter_mm.map(f64::round), Some(8.0));
    let open = positions("Reference,Value,Type,Height\nC1,22uF 25V,Elko,5.4\n");
    assert_eq!(position(&open, "C1").original.can.height_mm, None);
}

#[test]
fn a_list_of_text_lines_with_a_title_is_read() {
    let list = source(
        "list.txt",
        b"Parts list for the dome controller\n==================================\n\nC1  470uF 25V electrolytic\n\
          C2  100nF ceramic\nC3, C4  10uF 50V electrolytic\nR1  10k\n",
        None,
    );
    let import = list.positions();
    assert_eq!(import.positions.len(), 3);
    assert_eq!(position(&import, "C4").original.can.rated_v, Some(50.0));
    assert_eq!(aside(&import.report, "ceramic"), 1);
}
