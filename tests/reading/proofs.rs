//! What other rows, headers or headings of a file prove about a figure. Hand-made files.

use refarad::domain::Technology;
use refarad::files::import::Target;

use crate::{answer, aside, part, parts, position, positions, source};

#[test]
fn bare_pairs_in_a_value_column_are_taken_where_other_rows_prove_them() {
    let import = positions(
        "Ref,Value,Footprint\nC1,2200uF/25V,CP_Radial_D12.5mm_P5.00mm\nC2,470/35,CP_Radial_D10.0mm_P5.00mm\n",
    );
    let can = &position(&import, "C2").original.can;
    assert_eq!((can.capacitance_uf, can.rated_v), (Some(470.0), Some(35.0)));
}

#[test]
fn bare_pairs_with_a_proven_order_ask_only_for_the_unit() {
    let text = "Ref,Value,Footprint\nC1,2200/25,CP_Radial_D12.5mm_P5.00mm\nC2,100/63,CP_Radial_D10.0mm_P5.00mm\n";
    let mut source = source("board.csv", text.as_bytes(), None);
    let import = source.positions();
    let can = &position(&import, "C1").original.can;
    assert_eq!((can.capacitance_uf, can.rated_v), (None, Some(25.0)));
    answer(&import.report, "unit of a bare capacitance", "uF").apply(&mut source.mapping).unwrap();
    assert_eq!(position(&source.positions(), "C2").original.can.capacitance_uf, Some(100.0));
}

#[test]
fn bare_pairs_without_a_proof_are_listed_and_the_row_stays() {
    let import = positions("Ref,Value,Footprint\nC1,100/10,CP_Radial_D6.3mm_P2.50mm\n");
    let can = &position(&import, "C1").original.can;
    assert_eq!((can.capacitance_uf, can.rated_v), (None, None));
    assert!(import.report.rejected.iter().any(|listed| listed.reason.contains("write the units")));
}

#[test]
fn headings_between_tables_hold_for_the_rows_below_them() {
    let head = "| P/N | µF | Ripple mA 105°C 120Hz | D x L |\n|---|---|---|---|\n";
    let text = format!(
        "# Series QX\n\n## 16 V\n\n{head}| QX1 | 100 | 130 | 5x11 |\n| QX2 | 220 | 210 | 6.3x11 |\n\n## 25 V\n\n{head}\
         | QX3 | 100 | 150 | 6.3x11 |\n\n# Polymer series PX\n\n## 35 V\n\n{head}| PX1 | 47 | 900 | 8x11 |\n"
    );
    let import = source("page.md", text.as_bytes(), None).parts();
    let told = |number: &str| {
        let part = part(&import, number);
        (part.can.rated_v, part.series.clone(), part.can.technology)
    };
    assert_eq!(told("QX2"), (Some(16.0), "QX".to_owned(), None));
    assert_eq!(told("QX3"), (Some(25.0), "QX".to_owned(), None));
    assert_eq!(told("PX1"), (Some(35.0), "PX".to_owned(), Some(Technology::Polymer)));
}

#[test]
fn a_family_in_a_heading_sets_the_positions_below_it_aside() {
    let head = "| Ref | Value | Voltage |\n|---|---|---|\n";
    let text = format!("## Ceramic\n\n{head}| C10 | 10uF | 16V |\n\n## Electrolytic\n\n{head}| C1 | 10uF | 50V |\n");
    let import = source("board.md", text.as_bytes(), None).positions();
    assert_eq!((import.positions.len(), aside(&import.report, "ceramic")), (1, 1));
    assert_eq!(position(&import, "C1").original.can.technology, Some(Technology::Wet));
}

#[test]
fn a_voltage_over_the_header_and_between_the_rows_holds_below() {
    let head = "P/N    uF    Ripple(mA)  Size DxL\n";
    let text = format!(
        "Series QX\n16 V\n{head}QX1    100   130         5x11\nQX2    220   210         6.3x11\n25 V\n{head}\
         QX3    100   150         6.3x11\nQX4    220   260         8x11.5\n"
    );
    let import = source("sheet.txt", text.as_bytes(), Some(Target::Parts)).parts();
    let rated: Vec<Option<f64>> = import.parts.iter().map(|(_, part)| part.can.rated_v).collect();
    assert_eq!(rated, [Some(16.0), Some(16.0), Some(25.0), Some(25.0)]);
}

#[test]
fn a_list_of_prices_belongs_to_the_quantities_of_its_header() {
    let import = parts(
        "MPN;Kapazität;Spannung;Bestand;Preis 1/10/100\nA1;2200µF;25V;15.000;1,20/0,95/0,70\nA2;470µF;35V;120;0,60\n",
    );
    let first = part(&import, "A1");
    assert_eq!((first.trade.unit_price, first.trade.stock), (Some(1.2), Some(15_000.0)));
    assert_eq!(first.price_breaks.as_ref().map(|table| table.pairs().len()), Some(3));
    // One price for three quantities is neither divided nor guessed at.
    assert_eq!(part(&import, "A2").trade.unit_price, None);
    assert!(import.report.rejected.iter().any(|listed| listed.reason.contains("3 quantities")));
}

#[test]
fn tolerance_and_voltage_in_the_header_of_the_capacitances_are_used() {
    let import = parts("MPN,Cap. µF ±20% (25V),Ripple 105°C 120Hz mA\nA1,2200,1500\n");
    let can = &part(&import, "A1").can;
    assert_eq!((can.tolerance_pct, can.rated_v, can.ripple_a), (Some(20.0), Some(25.0), Some(1.5)));
    let import = parts("MPN,Cap. µF ±20%,Tolerance,Voltage\nA1,2200,±10%,35V\n");
    assert_eq!(part(&import, "A1").can.tolerance_pct, Some(10.0));
}

#[test]
fn a_reference_on_two_boards_asks_whether_the_column_names_them() {
    let text = "Board,Ref,Value,Voltage\nPSU,C1,2200uF,25V\nCTRL,C1,100uF,16V\n";
    let mut source = source("board.csv", text.as_bytes(), Some(Target::Positions));
    let each = answer(&source.positions().report, "does this column name the board", "each is a board");
    each.apply(&mut source.mapping).unwrap();
    let boards = source.boards();
    assert_eq!(boards.iter().map(|board| board.title.as_str()).collect::<Vec<_>>(), ["PSU", "CTRL"]);
    let second = boards[1].positions();
    assert_eq!(position(&second, "C1").original.can.capacitance_uf, Some(100.0));
    assert_eq!(second.positions.len(), 1);
}

#[test]
fn several_designators_in_a_line_of_a_letter_are_several_positions() {
    let text = "Recap list:\nC101, C102 - 10000uF 63V\nC103 - 220uF 100V\nC106: 2.2uF/50V\n";
    let import = source("list.txt", text.as_bytes(), None).positions();
    assert_eq!(position(&import, "C102").original.can.capacitance_uf, Some(10_000.0));
}

#[test]
fn a_rule_above_the_header_of_fixed_columns_does_not_hide_it() {
    let text = "Pick and PositionContext Locations\n\n==========================\nUnits used: mil\n\n\
                Designator Comment     Layer     Footprint  Center-X(mil) Center-Y(mil) Rotation Description\n\
                C1         470uF/35V   TopLayer  CAPRD10    1000.000      2000.000      90       \"Electrolytic\"\n\
                R1         10k         TopLayer  R0603      1200.000      2100.000      0        \"Resistor\"\n";
    let source = source("pp.csv", text.as_bytes(), None);
    assert_eq!((source.mapping.target, source.table.found.header_line), (Target::Placement, Some(6)));
}

#[test]
fn lists_in_other_languages_keep_their_figures() {
    let import = positions(
        "Поз. обозначение;Наименование\nC1, C2;Конденсатор электролитический 1000 мкФ 25 В\nC3;Конденсатор керамический 0,1 мкФ 50 В\n",
    );
    let can = &position(&import, "C2").original.can;
    assert_eq!((can.capacitance_uf, can.rated_v, import.positions.len()), (Some(1000.0), Some(25.0), 2));
}

#[test]
fn the_impedance_is_used_where_the_esr_column_is_empty_and_its_frequency_is_asked() {
    let import = parts(
        "Mfr Part #,Description,Capacitance,Voltage - Rated,ESR (Equivalent Series Resistance),Impedance\n\
         A1,CAP ALUM 470UF 20% 35V RADIAL,470 µF,35 V,-,45 mOhms\n\
         A2,CAP ALUM 220UF 20% 35V RADIAL,220 µF,35 V,90 mOhm @ 100kHz,70 mOhms\n",
    );
    let esr = |number: &str| (part(&import, number).can.esr_mohm, part(&import, number).can.esr_hz);
    assert_eq!((esr("A1"), esr("A2")), ((Some(45.0), None), (Some(90.0), Some(1e5))));
    assert_eq!(import.report.questions.len(), 1, "{:?}", import.report.questions);
    assert!(import.report.contradictions.is_empty());
}

#[test]
fn a_ripple_rated_for_a_cooler_place_says_nothing_of_the_upper_temperature() {
    let upper = |at: u32| {
        let import = parts(&format!("MPN,Cap (uF),WVDC,Ripple 100 Hz {at} °C A\nA1,470,25,2.2\n"));
        part(&import, "A1").can.temp_max_c
    };
    assert_eq!([40, 60, 85, 105].map(upper), [None, None, Some(85.0), Some(105.0)]);
}
