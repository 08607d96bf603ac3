//! Tables of two axes, and headers in two lines. All files are hand-made, in the manner of makers' series tables.

use refarad::files::import::Target;

use crate::{answer, aside, part, parts, source};

#[test]
fn a_ripple_table_of_voltages_against_capacitances_becomes_a_part_for_each_cell() {
    let import = parts(
        "Ripple current (mA rms at 105 °C 120 Hz),,,\nCap (µF) \\ WV (V),10,16,25\n100,,95,110\n220,120,1150,—\n",
    );
    assert_eq!((import.parts.len(), aside(&import.report, "not made")), (4, 2), "{:?}", import.report);
    let can = &part(&import, "list 220u 16V").can;
    assert_eq!((can.capacitance_uf, can.rated_v, can.ripple_a), (Some(220.0), Some(16.0), Some(1.15)));
    assert_eq!((can.ripple_hz, can.temp_max_c), (Some(120.0), Some(105.0)));
    assert!(import.report.notes.iter().any(|note| note.contains("one row for each cell")));
}

#[test]
fn a_size_table_is_told_by_its_cells_and_the_voltages_by_their_codes() {
    let import = parts("µF,6.3V (0J),10V (1A),16V (1C)\n47,,,5x11\n100,5x11,5x11,6.3x11\n1000,8x16,10x12.5,—\n");
    let can = &part(&import, "list 100u 16V 6.3x11").can;
    assert_eq!((can.diameter_mm, can.height_mm, can.rated_v), (Some(6.3), Some(11.0), Some(16.0)));
    assert_eq!(part(&import, "list 1000u 10V 10x12.5").can.diameter_mm, Some(10.0));
    assert_eq!(aside(&import.report, "not made"), 3);
}

#[test]
fn a_table_of_part_numbers_gives_them_their_figures() {
    let import = parts("Cap \\ V,16,25\n100 uF,QX16-100,QX25-100\n220 uF,QX16-220,QX25-220\n");
    let can = &part(&import, "QX25-220").can;
    assert_eq!((can.capacitance_uf, can.rated_v), (Some(220.0), Some(25.0)));
}

#[test]
fn the_axes_may_be_the_other_way_round() {
    let import = parts("Rated voltage (V),100 µF,220 µF\n16,5 x 11,6.3 x 11\n25,6.3 x 11,8 x 11.5\n");
    let can = &part(&import, "list 220u 25V 8x11.5").can;
    assert_eq!((can.capacitance_uf, can.rated_v, can.height_mm), (Some(220.0), Some(25.0), Some(11.5)));
}

#[test]
fn size_and_ripple_in_one_cell_are_taken_apart() {
    let import = parts(
        "Series QX: φD×L (mm) / ripple current (mA rms, 105 °C, 120 Hz)\n\
         Capacitance (µF);10 V;16 V;25 V\n100;5×11 / 130;5×11 / 140;6,3×11 / 180\n220;6,3×11 / 200;8×11,5 / 250;8×11,5 / 270\n",
    );
    let can = &part(&import, "list 100u 25V 6.3x11").can;
    assert_eq!((can.ripple_a, can.ripple_hz, can.diameter_mm), (Some(0.18), Some(120.0), Some(6.3)));
}

#[test]
fn a_table_whose_cells_nothing_explains_is_refused_with_its_own_reason_and_asked_about() {
    let mut list = source("list.csv", b"uF,10,16,25\n100,95,110,140\n220,120,150,185\n", Some(Target::Parts));
    let import = list.parts();
    assert_eq!((import.parts.len(), import.report.refused), (0, 6));
    let reason = &import.report.rejected[0].reason;
    assert!(reason.contains("whose cells nothing explains") && reason.contains("for instance"), "{reason}");
    let setting = answer(&import.report, "what do the cells", "ripple");
    assert!(setting.to_string().ends_with(".field = \"ripple\""), "{setting}");
    setting.apply(&mut list.mapping).unwrap();
    let import = list.parts();
    assert_eq!(import.parts.len(), 6);
    answer(&import.report, "unit of a bare ripple", "mA").apply(&mut list.mapping).unwrap();
    assert_eq!(part(&list.parts(), "list 220u 25V").can.ripple_a, Some(0.185));
}

#[test]
fn a_known_size_beside_an_unexplained_figure_is_kept_and_the_figure_listed() {
    let import = parts("Capacitance (µF);10 V;16 V\n100;5×11 / 130;5×11 / 140\n220;6,3×11 / 200;8×11,5 / 250\n");
    assert_eq!((import.parts.len(), import.report.cells_not_used), (4, 4), "{:?}", import.report);
    assert_eq!(part(&import, "list 220u 16V 8x11.5").can.ripple_a, None);
}

#[test]
fn columns_under_each_voltage_stay_together() {
    let import =
        parts("WV,,10,,16,\nCap(uF),,DxL,Ripple (mA 120Hz),DxL,Ripple (mA 120Hz)\n100,101,5x11,120,6.3x11,130\n");
    let can = &part(&import, "list 100u 16V 6.3x11").can;
    assert_eq!((can.ripple_a, can.ripple_hz, can.height_mm), (Some(0.13), Some(120.0), Some(11.0)));
}

#[test]
fn lists_with_figures_in_their_headers_are_no_such_tables() {
    let import = parts("MPN,Capacitance,Voltage,Type,10,100\nA,100uF,25V,Elko,0.5,0.4\n");
    assert_eq!(import.parts.len(), 1);
    assert_eq!(part(&import, "A").can.rated_v, Some(25.0));
}

#[test]
fn units_in_a_second_line_of_the_header_belong_to_the_names() {
    let import = parts(
        "Capacitance,Voltage,D,L,Ripple,ESR,Life\nuF,V,mm,mm,mA 105C 100kHz,mOhm 100kHz,h\n470,35,10,16,1210,56,5000\n",
    );
    let can = &part(&import, "list 470u 35V 10x16").can;
    assert_eq!((can.ripple_a, can.ripple_hz, can.esr_mohm), (Some(1.21), Some(1e5), Some(56.0)));
    assert_eq!((can.endurance_h, can.temp_max_c), (Some(5000.0), Some(105.0)));
}
