use super::*;

fn size(
    diameter_mm: Option<f64>,
    height_mm: Option<f64>,
    pitch_mm: Option<f64>,
    lead_d_mm: Option<f64>,
) -> Reading<Size> {
    Reading::Value(Size { diameter_mm, height_mm, pitch_mm, lead_d_mm, base_mm: None })
}

fn free(text: &str) -> Reading<Size> {
    read(text, &Column::default())
}

// Hand-made cases, spellings as counted in public parts lists and placement files.
#[test]
fn labelled_dimensions_need_no_order() {
    assert_eq!(free("SMD,D6.3xL5.4mm"), size(Some(6.3), Some(5.4), None, None));
    assert_eq!(free("Ø10 × 12.5"), size(Some(10.0), Some(12.5), None, None));
    assert_eq!(free("Φ5×11"), size(Some(5.0), Some(11.0), None, None));
    assert_eq!(free("D=10mm H=20mm P=5mm"), size(Some(10.0), Some(20.0), Some(5.0), None));
    assert_eq!(free("0.394\" Dia (10.00mm)"), size(Some(10.0), None, None, None));
    assert_eq!(free("10(D)x20(L)mm"), size(Some(10.0), Some(20.0), None, None));
    assert_eq!(free("0.394\" Dia x 0.787\" L (10.00mm x 20.00mm)"), size(Some(10.0), Some(20.0), None, None));
    assert_eq!(free("插件,D8xL12mm"), size(Some(8.0), Some(12.0), None, None));
    assert_eq!(free("10mm"), Reading::Bad { reason: "`10mm`: it is not clear which dimension is which".into() });
}

#[test]
fn an_inch_box_with_millimetres_in_brackets_is_a_base_plate() {
    let base = Size { base_mm: Some(10.3), ..Size::default() };
    assert_eq!(free("0.406\" L x 0.406\" W (10.30mm x 10.30mm)"), Reading::Value(base));
    assert_eq!(free("10.3 x 10.3 x 10.2"), Reading::Value(Size { height_mm: Some(10.2), ..base }));
}

#[test]
fn footprint_names_give_diameter_and_pitch_but_no_height() {
    assert_eq!(free("CP_Radial_D10.0mm_P5.00mm"), size(Some(10.0), None, Some(5.0), None));
    assert_eq!(free("Capacitor_THT:CP_Radial_D10.0mm_H20.0mm_P5.00mm"), size(Some(10.0), Some(20.0), Some(5.0), None));
    assert_eq!(free("Radial_D5.0mm_P2.00mm"), size(Some(5.0), None, Some(2.0), None));
    assert_eq!(free("CP_Axial_L18.0mm_D10.0mm_P25.00mm_Horizontal"), size(Some(10.0), Some(18.0), Some(25.0), None));
}

#[test]
fn the_d_of_a_lead_is_not_the_body() {
    assert_eq!(free("CAP-TH_BD8.0-P3.50-D0.6-FD"), size(Some(8.0), None, Some(3.5), Some(0.6)));
}

#[test]
fn library_names_have_their_own_order() {
    assert_eq!(free("CP_Elec_8x6.2"), size(Some(8.0), Some(6.2), None, None));
    assert_eq!(
        free("CAPAE830X1050N"),
        Reading::Value(Size { base_mm: Some(8.3), height_mm: Some(10.5), ..Size::default() })
    );
    assert_eq!(free("CAPPRD500W60D1000H1250B"), size(Some(10.0), Some(12.5), Some(5.0), Some(0.6)));
}

#[test]
fn three_digit_names_are_tenths() {
    assert_eq!(free("D125 H350 P050"), size(Some(12.5), Some(35.0), Some(5.0), None));
    assert!(matches!(free("D100 H200"), Reading::Ambiguous { .. }));
}

#[test]
fn two_bare_dimensions_are_asked_unless_the_column_knows() {
    for text in ["11x5", "5×11", "12.5 × 20", "10MMX12.5MM", "22 × 50.", " 12.5 × 20   "] {
        assert!(
            matches!(free(text), Reading::Ambiguous { ref options, .. } if options.len() == 2),
            "{text}: {:?}",
            free(text)
        );
    }
    let known = |text, order| read(text, &Column { order, ..Column::dot() });
    assert_eq!(known("11x5", Order::HeightFirst), size(Some(5.0), Some(11.0), None, None));
    assert_eq!(known("5×11", Order::DiameterFirst), size(Some(5.0), Some(11.0), None, None));
    assert_eq!(known("10MMX12.5MM", Order::DiameterFirst), size(Some(10.0), Some(12.5), None, None));
    assert_eq!(free("10x10"), size(Some(10.0), Some(10.0), None, None));
}

#[test]
fn the_column_tells_the_order_when_its_cells_agree() {
    let order = |cells: &[&str]| column_order(cells.iter().copied(), &Column::default());
    assert_eq!(order(&["12.5 × 20", "5×11", "10x10"]), Order::DiameterFirst);
    assert_eq!(order(&["20x12.5", "11x5"]), Order::HeightFirst);
    assert_eq!(order(&["18x20", "22x25"]), Order::Unknown);
    assert_eq!(order(&["11x5", "5x11"]), Order::Unknown);
    assert_eq!(header_order("Size ΦdxL(mm)"), Order::DiameterFirst);
    assert_eq!(header_order("Case size φD × L  (mm)"), Order::DiameterFirst);
    assert_eq!(header_order("Size"), Order::Unknown);
}

#[test]
fn makers_letter_codes_are_refused_not_guessed() {
    for text in ["NORTHWAY_B", "123ABC-0605", "ECAP_SMALL", "SMD", "10 V", "D0", "5000x11"] {
        assert!(matches!(free(text), Reading::Bad { .. }), "{text}: {:?}", free(text));
    }
}

#[test]
fn two_pitches_are_asked() {
    assert!(matches!(free("CP_Radial_D10.0mm_P5.00mm_P7.50mm"), Reading::Ambiguous { .. }));
}
