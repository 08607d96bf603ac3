//! Files in the manner of strangers' exports, data sheets and letters, one for each fault a blind reading of eighty such files has shown.
//! All are hand-made; makers, series and part numbers are invented.

use refarad::domain::{Board, Mounting, Technology};
use refarad::files::import::Target;
use refarad::files::table::Encoding;

use crate::{answer, aside, part, parts, position, positions, source};

#[test]
fn part_numbers_that_look_like_designators_make_no_board() {
    for text in [
        "Referencia;Capacidad (uF);Tensión (V);Altura\nS-220-50;220;50;12,5\nS-330-25;330;25;15,0\n",
        "Part,Cap_uF,V_Rating,Life_Hours\nVX10A,100,35,2000\nVX10B,220,35,5000\n",
        "Part | Cap | Voltage\n-----|-----|--------\nP1 | 220µ | 50V\nP2 | 470µ | 50V\n",
    ] {
        let source = source("list.csv", text.as_bytes(), None);
        assert_eq!(source.mapping.target, Target::Parts, "{text}");
        assert_eq!(source.parts().parts.len(), 2, "{text}");
    }
}

#[test]
fn a_note_of_positions_in_an_order_makes_no_board() {
    let text = "Mfr. No.,Customer No.,Description,Order Qty.\nA1,C12,CAP ALUM 470UF 35V,10\nA2,,CAP ALUM 220UF 50V,5\n\
                A3,,CAP ALUM 100UF 50V,5\n";
    assert_eq!(source("cart.csv", text.as_bytes(), None).mapping.target, Target::Parts);
}

#[test]
fn a_board_list_with_places_keeps_its_values() {
    let text = "ref;uF;V;D mm;H mm;x mm;y mm\nC1;4700;40;25;40;10,5;20\nC2;22;450;16;25;40,5;20\n";
    let source = source("board.csv", text.as_bytes(), None);
    assert_eq!(source.mapping.target, Target::Positions);
    let import = source.positions();
    assert_eq!(position(&import, "C2").original.can.rated_v, Some(450.0));
}

#[test]
fn a_thousands_mark_in_a_file_of_decimal_commas_is_asked_about() {
    let import = parts(
        "Teilenummer;Kapazität µF;Spannung V;Rippelstrom mA 100kHz;Maße mm\nQX1;1000;35;1,210;12,5 x 20\nQX2;470;35;865;10 x 16\n",
    );
    assert_eq!(part(&import, "QX1").can.ripple_a, None);
    assert_eq!(part(&import, "QX2").can.ripple_a, Some(0.865));
    assert!(import.report.questions.iter().any(|question| question.what.contains("decimal mark")));
}

#[test]
fn breaks_in_pairs_of_columns_and_prices_for_a_hundred_are_read() {
    let import = parts(
        "Part Number,Type,Capacitance,Voltage,Qty Break 1,Price Break 1,Qty Break 2,Price Break 2,Stock\n\
         A,Elko,470uF,35V,1,0.62,10,0.41,Out of stock\nB,Elko,47uF,50V,5,0.2,,,12\n",
    );
    let breaks = |name: &str| part(&import, name).price_breaks.as_ref().map(|table| table.pairs().to_vec());
    assert_eq!(breaks("A"), Some(vec![(1.0, 0.62), (10.0, 0.41)]));
    assert_eq!(breaks("B"), Some(vec![(5.0, 0.2)]));
    assert_eq!(part(&import, "A").trade.stock, Some(0.0));
    let import = parts("MPN;Typ;µF;V;€/100\nA;Elko;470;35;21,00\n");
    assert_eq!(part(&import, "A").trade.unit_price, Some(0.21));
}

#[test]
fn encodings_of_other_countries_show_by_their_header_names() {
    let polish = encoding_rs::WINDOWS_1250.encode("Kod;Pojemność [uF];Napięcie [V];Średnica [mm]\nA1;470;25;10\n").0;
    let chinese = encoding_rs::GB18030.encode("型号,容值,额定电压,直径,高度\nA1,47uF,400V,16mm,25mm\n").0;
    let japanese = encoding_rs::SHIFT_JIS.encode("品番,静電容量(μF),定格電圧(V),高さ(mm)\nA1,470,25,12.5\n").0;
    let euc = encoding_rs::EUC_JP.encode("品番,静電容量(μF),定格電圧(V),高さ(mm)\nA1,470,25,12.5\n").0;
    let russian = "Тип;Ёмкость, мкФ;Напряжение;Обозначение\nэлектролит.;100;16 В;A1\n";
    let koi8 = encoding_rs::KOI8_U.encode(russian).0;
    let windows = encoding_rs::WINDOWS_1251.encode(russian).0;
    let dos = encoding_rs::IBM866.encode(russian).0;
    // The letters of DOS 437: an o with dots, a sharp s, and the micro sign of the cell.
    let german = b"Gr\x94\xE1e;Art;Wert;Spannung;Artikelnummer\n5x11;Elko;22 \xE6F;25 V;A1\n".as_slice().into();
    for (bytes, encoding) in [
        (polish, Encoding::Windows1250),
        (chinese, Encoding::Gb18030),
        (japanese, Encoding::ShiftJis),
        (euc, Encoding::EucJp),
        (koi8, Encoding::Koi8),
        (windows, Encoding::Windows1251),
        (dos, Encoding::Dos866),
        (german, Encoding::Dos437),
    ] {
        let source = source("list.csv", &bytes, Some(Target::Parts));
        assert_eq!(source.table.found.encoding, encoding);
        assert_eq!(source.parts().parts.len(), 1, "{encoding:?}");
    }
}

#[test]
fn an_encoding_is_said_to_be_guessed_and_asked_where_two_are_as_likely() {
    let korean = encoding_rs::EUC_KR.encode("번호,용량,전압,위치,부품\n1,470uF,25V,C1,전해콘덴서\n").0;
    let dos = b"R\x82f\x82rence;Capacit\x82;Tension;D\x82signation\nC1;1000\xE6F;25V;Condensateur \x82lectrolytique\n";
    for (bytes, encoding) in [(&*korean, Encoding::EucKr), (dos.as_slice(), Encoding::Dos437)] {
        let source = source("list.csv", bytes, None);
        assert_eq!(source.table.found.encoding, encoding);
        assert!(source.table.notes[0].text.contains("the file does not say its encoding"), "{:?}", source.table.notes);
        let import = source.positions();
        assert!(import.report.questions.iter().all(|question| !question.what.contains("encoding")));
        assert_eq!(import.positions[0].1.original.can.rated_v, Some(25.0));
    }
    // Two letters that are as good a word in Chinese as in Korean.
    let source = source("list.csv", b"Ref,Value,Voltage,Type\nC1,470uF,25V,\xB0\xA1\xB3\xAA\n", None);
    let asked = source.positions().report.questions;
    assert!(asked.iter().any(|question| question.what.contains("which encoding")), "{asked:?}");
}

#[test]
fn a_data_sheet_with_merged_voltages_and_conditions_in_a_second_line_is_read() {
    let import = parts(
        "WV (Vdc),Cap (µF),Case size φD×L (mm),\"Impedance (Ω max/100kHz)\",,\"Rated ripple current (mArms/105°C, 100kHz)\",Part No.\n\
         ,,,20°C,-10°C,,\n6.3 (8),220,5×11,0.58,2.3,210,A1\n,(470),6.3×11,0.22,0.87,340,A2\n10 (13),150,5×11,0.58,2.3,210,A3\n\
         ,330,6.3×11,0.22,0.87,340,A4\n",
    );
    let can = &part(&import, "A2").can;
    assert_eq!((can.capacitance_uf, can.rated_v, can.surge_v), (Some(470.0), Some(6.3), Some(8.0)));
    assert_eq!((can.esr_mohm, can.ripple_a, can.ripple_hz), (Some(220.0), Some(0.34), Some(1e5)));
    assert_eq!(part(&import, "A4").can.rated_v, Some(10.0));
    assert!(import.report.notes.iter().any(|note| note.contains("merged cell")));
}

#[test]
fn ripple_at_two_temperatures_is_that_of_the_hotter_and_the_other_is_listed() {
    let import = parts(
        "UR;CR 100 Hz 20 °C;Gehäuse D x L;IAC,max 100 Hz 40 °C;IAC,R 100 Hz 85 °C;Bestellnummer\nV DC;µF;mm;A;A;\n\
         350;2200;51,6 x 105,7;22;8,1;G1\n400;1500;51,6 x 80,7;16;5,9;G2\n",
    );
    let can = &part(&import, "G1").can;
    assert_eq!(
        (can.capacitance_uf, can.ripple_a, can.ripple_hz, can.temp_max_c),
        (Some(2200.0), Some(8.1), Some(100.0), Some(85.0))
    );
    assert!(import.report.rejected.iter().any(|listed| listed.reason.contains("85 °C is used")));
}

#[test]
fn factors_under_bare_frequencies_are_multipliers() {
    let import =
        parts("Part;Cap uF;WV;Ripple mA 100kHz 105C;120Hz;10kHz\nFA1;100;25;340;0.50;0.90\nFA2;470;25;640;0.60;0.95\n");
    let can = &part(&import, "FA2").can;
    assert_eq!((can.f120, can.f10k, can.ripple_a), (Some(0.6), Some(0.95), Some(0.64)));
}

#[test]
fn a_title_gives_the_technology_and_says_so() {
    let import = parts(
        "Series: HZA (conductive polymer hybrid capacitors),,,\nPart No.,Rated voltage (V),Capacitance (µF),\"ESR (mΩ) 100 kHz, 20 °C\"\n\
         A1,25,56,50\nA2,25,220,27\n",
    );
    assert_eq!(part(&import, "A1").can.technology, Some(Technology::Hybrid));
    assert!(import.report.notes.iter().any(|note| note.contains("title over the table")));
}

#[test]
fn the_base_of_an_smd_can_is_no_height_and_said_not_to_be_the_diameter() {
    let source = source(
        "list.csv",
        b"MPN,Type,Cap_uF,V_Rating,L_mm,W_mm,H_mm\nA,Elko,100,35,8.3,8.3,6.2\nB,Elko,220,35,10.3,10.3,10.2\n",
        Some(Target::Parts),
    );
    let can = &part(&source.parts(), "A").can.clone();
    assert_eq!((can.height_mm, can.diameter_mm), (Some(6.2), None));
    let why = &source.proposal.columns.iter().find(|column| column.header == "L_mm").unwrap().why;
    assert!(why.contains("base"), "{why}");
}

#[test]
fn boxes_and_case_codes_give_no_dimensions() {
    let import = positions(
        "Qty;Value;Device;Package;Parts\n1;100uF/25V;CPOL-EUE2.5-6;E2,5-6;C1\n3;100n;C-EU050-025X075;C050-025X075;C2, C3, C5\n",
    );
    assert_eq!(import.positions.len(), 1);
    assert_eq!(aside(&import.report, "box (film or ceramic)"), 1);
    let import = parts("MPN;Capacitance µF;Rated voltage;Case;D;L;Life\nA;2200;25;L13;12.5;25;3000\n");
    assert!(import.report.contradictions.is_empty(), "{:?}", import.report.contradictions);
    assert_eq!(part(&import, "A").can.height_mm, Some(25.0));
}

#[test]
fn families_in_other_languages_are_told() {
    let import = positions(
        "Repère;Désignation;Valeur;Tension;Boîtier\nC1;Condensateur chimique radial;10 µF;25 V;Ø 12,5 x 20 pas 5\n\
         C2;Condensateur chimique non polarisé;4,7 µF;50 V;Ø 6,3 x 11\nC3;Condensateur céramique;100 nF;50 V;pas 5\n",
    );
    let can = |name: &str| position(&import, name).original.can.clone();
    assert_eq!((can("C1").diameter_mm, can("C1").height_mm, can("C1").pitch_mm), (Some(12.5), Some(20.0), Some(5.0)));
    assert_eq!(can("C2").technology, Some(Technology::NonPolar));
    let import = positions(
        "Bauteil;Wert;Spannung;Bauform;Bemerkung\nC7;1µF;63V;Folie MKS2;bipolar!\nC8;220µF;16V;radial 8x11,5;low ESR\n",
    );
    assert_eq!((import.positions.len(), aside(&import.report, "film")), (1, 1));
}

#[test]
fn a_list_of_lines_becomes_positions() {
    let text =
        "Cap list for my chassis:\n\nC401 - 1000uF 16V\nC402 - 470uF 25V\nC405: 4.7uF 50V NP (bipolar)\n\nGood luck!\n";
    let source = source("list.txt", text.as_bytes(), None);
    assert_eq!(source.mapping.target, Target::Positions);
    let import = source.positions();
    assert_eq!(position(&import, "C402").original.can.rated_v, Some(25.0));
    assert_eq!(position(&import, "C405").original.can.technology, Some(Technology::NonPolar));
}

#[test]
fn the_second_of_two_designators_may_leave_its_letter_out() {
    let import = positions("REF. NO.,Description\n\"C105,106\",CAP ELEC 100UF 50V\n");
    assert_eq!(position(&import, "C106").original.can.rated_v, Some(50.0));
}

#[test]
fn a_ruler_under_the_header_tells_the_columns() {
    let import = parts(
        "REPORT CAP0417           COMPONENT STOCK LISTING              PAGE    1\n\n\
         STOCK NO.    DESCRIPTION                     QTY    UNIT COST\n\
         ---------    ----------------------------    ---    ---------\n\
         590-00112    CAP,ELEC,10MFD,25V,RAD          140        0.081\n\
         590-00113    CAP,ELEC,2200MFD,16V,AXL         12        0.640\n\
         590-00141    CAP,ELEC,1MFD,50V,RAD,NP         15        0.110\n",
    );
    let can = |name: &str| part(&import, name).can.clone();
    assert_eq!((can("590-00112").capacitance_uf, can("590-00112").mounting), (Some(10.0), Some(Mounting::Radial)));
    assert_eq!(can("590-00113").mounting, Some(Mounting::Axial));
    assert_eq!(can("590-00141").technology, Some(Technology::NonPolar));
}

#[test]
fn placement_reports_with_marks_and_comments_give_their_unit() {
    let marks = "UUNITS = MILS\n#\n#    COMPONENT  PLACEMENT\n#\nC1 ! 1000.0 ! 2000.0 ! 0.000 ! ! A\nC3 ! 2500.0 ! 500.0 ! 180.000 ! m ! B\n";
    let comments = "# PcbXY Version 1.0\n# RefDes, Description, Value, X, Y, rotation, top/bottom\n# X,Y in mils.  rotation in degrees.\n\
                    C1,\"A\",\"330uF\",1000.00,2000.00,0,top\nC3,\"B\",\"22uF\",2500.00,500.00,180,bottom\n";
    for text in [marks, comments] {
        let source = source("place.txt", text.as_bytes(), None);
        assert_eq!(source.mapping.target, Target::Placement, "{text}");
        let import = positions("Ref,Value,Voltage\nC1,330uF,16V\nC3,470uF,35V\n");
        let mut board = Board {
            positions: import.positions.into_iter().map(|(_, position)| position).collect(),
            ..Board::default()
        };
        let placed = refarad::files::import::placement::place(&source.table, &source.mapping, &source.path, &mut board);
        assert!(placed.report.clean(), "{:?}", placed.report);
        assert_eq!(board.positions[0].x_mm, Some(25.4), "{text}");
    }
}

#[test]
fn the_makers_number_goes_before_that_of_the_shop() {
    let import = parts(
        "Quantity,Part Number,Manufacturer Part Number,Description\n10,P1-ND,NX1E471,CAP ALUM 470UF 25V\n2,P2-ND,NX1E221,CAP ALUM 220UF 25V\n",
    );
    assert_eq!(part(&import, "NX1E471").can.capacitance_uf, Some(470.0));
}

#[test]
fn measured_figures_are_not_those_of_the_part() {
    let import = positions("Ref,Cap [uF],Cap measured,ESR measured [Ohm],Voltage\nC1,1000,780,0.35,25V\n");
    let can = &position(&import, "C1").original.can;
    assert_eq!((can.capacitance_uf, can.esr_mohm), (Some(1000.0), None));
}

#[test]
fn a_length_in_hours_is_a_life_and_figures_of_the_axis_may_be_named_in_the_corner() {
    let import = parts(
        "Typ;Vr [V];Cr [µF];D [mm];L [mm];I~ 105°C/100kHz [mA];L [h]\nEQX-1;16;330;8;11,5;760;5000\nEQX-2;16;470;8;15;995;6000\n",
    );
    let can = &part(&import, "EQX-2").can;
    assert_eq!((can.height_mm, can.endurance_h, can.ripple_hz), (Some(15.0), Some(6000.0), Some(1e5)));
    let import = parts("Voltage,10V,16V,25V\n220uF,,,6.3x11\n470uF,6.3x11,8x11.5,10x12.5\n");
    assert_eq!(import.parts.len(), 4, "{:?}", import.report);
}

#[test]
fn ends_of_a_temperature_range_stand_in_columns_of_their_own() {
    let import = parts(
        "MPN,Capacitance,Rated Voltage DC,Product Diameter,Product Length,Life at 105°C,Operating Temperature Min,Operating Temperature Max\n\
         A,220µF,450V,30mm,35mm,3000 h,-25°C,105°C\n",
    );
    let can = &part(&import, "A").can;
    assert_eq!((can.temp_min_c, can.temp_max_c, can.endurance_h), (Some(-25.0), Some(105.0), Some(3000.0)));
    assert_eq!((can.diameter_mm, can.height_mm), (Some(30.0), Some(35.0)));
    let import = parts("MPN,Type,Capacitance,Voltage,Temperature\nA,Elko,220µF,450V,-25°C\n");
    assert_eq!(part(&import, "A").can.temp_max_c, None);
}

#[test]
fn a_third_of_a_farad_at_five_volts_is_no_electrolytic() {
    let import = parts("MPN,Value,Ripple current 100 Hz A\nA,0.33F 5.5V,\nB,470uF 25V,\"0.79\"\n");
    assert_eq!((import.parts.len(), aside(&import.report, "supercapacitor")), (1, 1));
    assert_eq!(part(&import, "B").can.ripple_a, Some(0.79));
}

#[test]
fn milliamperes_and_hours_a_thousandfold_too_small_are_asked_about() {
    let text = "Typ;C [µF];U [V];Ripple [mA] bei 100 Hz;Lebensdauer [h];Bauform;Preis\n\
                EA-1;1.000;25;1,050;2000;radial 13x20;0,45\nEA-2;4.700;25;2,150;2000;radial 16x31;1,10\n";
    let mut file = source("list.csv", text.as_bytes(), Some(Target::Parts));
    let import = file.parts();
    assert_eq!(part(&import, "EA-1").can.ripple_a, None);
    // The answer is about this column: the capacitances keep the mark of the file.
    answer(&import.report, "decimal mark", "dot").apply(&mut file.mapping).unwrap();
    let import = file.parts();
    let can = &part(&import, "EA-1").can;
    assert_eq!((can.ripple_a, can.capacitance_uf), (Some(1.05), Some(1000.0)));
    assert!(import.report.questions.is_empty(), "{:?}", import.report.questions);
}

#[test]
fn thousands_under_an_h_are_hours_and_no_height_is_in_mils() {
    let import = parts("MPN,Type,uF,VDC,A rms,Hz,dia mm,len mm,h\nP1,Screw Elko,4700,350,11.5,120,64,96,10000\n");
    let can = &part(&import, "P1").can;
    assert_eq!((can.height_mm, can.endurance_h), (Some(96.0), Some(10_000.0)));
    assert_eq!((can.ripple_a, can.ripple_hz), (Some(11.5), Some(120.0)));
    let import = parts("MPN,Type,Capacitance,Voltage,Height\nP1,Elko,4700uF,350V,9000\n");
    assert_eq!(part(&import, "P1").can.height_mm, None);
}

#[test]
fn a_column_about_fitting_sets_positions_aside() {
    let import = positions("Ref,Value,DNI\nC1,100uF 25V elko,\nC2,220uF 25V elko,X\n");
    assert_eq!((import.positions.len(), aside(&import.report, "not fitted")), (1, 1));
    let import = positions("Ref,Value,Populate\nC1,100uF 25V elko,yes\nC2,220uF 25V elko,no\n");
    assert_eq!((import.positions.len(), aside(&import.report, "not fitted")), (1, 1));
}

#[test]
fn a_footprint_for_two_lead_spacings_keeps_its_diameter() {
    let import = positions("Reference,Value,Footprint\nC1,220uF 50V,CP_Radial_D10.0mm_P5.00mm_P7.50mm\n");
    let can = &position(&import, "C1").original.can;
    assert_eq!((can.diameter_mm, can.pitch_mm), (Some(10.0), None));
    assert!(import.report.rejected.iter().any(|listed| listed.reason.contains("several lead spacings")));
}

#[test]
fn an_old_list_of_words_is_a_list_of_lines() {
    let text = "Fig 3 parts list\nC1    1000 mfd, 25 v electrolytic\nC2,C3 .1 mfd, 100 v mylar\nC4    50 mfd, 15 v electrolytic\nR1    4.7K\n";
    let import = source("list.txt", text.as_bytes(), None).positions();
    let can = |name: &str| position(&import, name).original.can.clone();
    assert_eq!((can("C1").capacitance_uf, can("C1").rated_v), (Some(1000.0), Some(25.0)));
    assert_eq!((can("C4").capacitance_uf, aside(&import.report, "film")), (Some(50.0), 1));
}

#[test]
fn a_contradiction_is_not_clean() {
    let import = parts("MPN,Value,Voltage,Description\nA,470uF,35V,CAP ALUM 470UF 50V\n");
    assert_eq!(import.report.contradictions.len(), 1);
    assert!(!import.report.clean());
}
