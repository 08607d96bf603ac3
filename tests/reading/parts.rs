//! Lists of parts. All files are hand-made.

use refarad::domain::{Mounting, Status, Technology};
use refarad::files::import::{Confidence, Field, Target};

use crate::{answer, aside, part, parts, source};

const RIPPLE: &str = "MPN,Capacitance,Voltage,Rated ripple\nQXA-1,470uF,25V,45\nQXA-2,1000uF,25V,67\n";

#[test]
fn a_ripple_without_unit_and_frequency_is_asked_for_both_and_unknown_until_then() {
    let text = format!("Aluminium electrolytic capacitors\n\n{RIPPLE}");
    let mut list = source("list.csv", text.as_bytes(), Some(Target::Parts));
    let first = list.parts();
    assert_eq!(part(&first, "QXA-1").can.ripple_a, None);
    assert_eq!(first.report.questions[0].rows, 2);
    answer(&first.report, "unit of a bare ripple", "mA").apply(&mut list.mapping).unwrap();
    let second = list.parts();
    let can = &part(&second, "QXA-1").can;
    assert_eq!((can.ripple_a, can.ripple_hz), (Some(0.045), None));
    answer(&second.report, "frequency of the ripple", "120 Hz").apply(&mut list.mapping).unwrap();
    let third = list.parts();
    assert_eq!(part(&third, "QXA-2").can.ripple_hz, Some(120.0));
    assert!(third.report.questions.is_empty() && third.report.clean(), "{:?}", third.report);
}

#[test]
fn unit_frequency_and_temperature_of_a_ripple_come_from_its_header() {
    for (header, cell, ripple_a, hz) in [
        ("\"Rated ripple current (mArms/105°C, 120Hz)\"", "450", 0.45, 120.0),
        ("\"Ripple Current (mA rms, 105°C 100KHz)\"", "1350", 1.35, 1e5),
        ("Ripple_100kHz_A", "1.35", 1.35, 1e5),
        ("Ripple Current @ High Frequency", "1.35A @ 100kHz", 1.35, 1e5),
        ("纹波电流", "110mA@120Hz", 0.11, 120.0),
    ] {
        let import = parts(&format!("MPN,Cap (uF),WV (V dc ),{header}\nQXA-1,470,25,{cell}\n"));
        let can = &part(&import, "QXA-1").can;
        assert_eq!((can.ripple_a, can.ripple_hz, can.rated_v), (Some(ripple_a), Some(hz), Some(25.0)), "{header}");
    }
}

#[test]
fn the_ambient_of_a_ripple_is_the_upper_temperature_where_nothing_else_gives_one() {
    // Never above the upper category temperature (IEC 60384-4), so nothing is promised that the maker does not.
    for (header, cell) in
        [("\"Rated ripple current (mArms/105°C, 120Hz)\"", "450"), ("Ripple current", "\"450mA @105°C, 120Hz\"")]
    {
        let import = parts(&format!("MPN,Cap (uF),WV,{header},tanδ\nQXA-1,470,25,{cell},0.1\n"));
        let can = &part(&import, "QXA-1").can;
        assert_eq!((can.temp_max_c, can.ripple_a, can.ripple_hz), (Some(105.0), Some(0.45), Some(120.0)), "{header}");
        assert!(import.report.notes.iter().any(|note| note.contains("upper temperature")), "{:?}", import.report.notes);
    }
    let other = parts("MPN,Cap (uF),WV,\"Ripple (mA/85°C, 120Hz)\",Temp_Max_C\nQXA-1,470,25,450,105\n");
    assert_eq!(part(&other, "QXA-1").can.ripple_a, None);
    assert_eq!(other.report.contradictions.len(), 1);
}

#[test]
fn blank_cells_are_neither_zero_nor_a_part() {
    let import = parts(
        "Cap (μF);WV (V dc );Size ΦdxL(mm);Rated ripple current (mArms/105°C, 120Hz);tanδ\n\
         470;25;10×12,5;450;0,14\n2200;25;;;\n4700;;;;\n47;450;16×25;—;0,24\n",
    );
    assert_eq!((import.parts.len(), aside(&import.report, "not made")), (2, 2));
    let can = &part(&import, "list 47u 450V 16x25").can;
    assert_eq!((can.ripple_a, can.tan_delta, can.height_mm), (None, Some(0.24), Some(25.0)));
    assert!(import.report.clean());
}

#[test]
fn values_for_every_row_complete_a_transcribed_table() {
    let mut list = source(
        "qx.csv",
        "Cap (uF),Volts,Size ΦdxL(mm),Ripple (mA)\n470,25,10×12.5,450\n".as_bytes(),
        Some(Target::Parts),
    );
    let every = &mut list.mapping.every_row;
    (every.maker, every.series) = (Some("Northway".into()), Some("QX".into()));
    (every.technology, every.mounting) = (Some(Technology::Wet), Some(Mounting::Radial));
    for (name, value) in
        [("endurance_h", 2000.0), ("temp_max_c", 105.0), ("ripple_hz", 120.0), ("f100k", 1.4), ("f50", 0.8)]
    {
        every.numbers.insert(name.into(), value);
    }
    let import = list.parts();
    let part = part(&import, "QX 470u 25V 10x12.5");
    let can = &part.can;
    assert_eq!(
        (part.maker.as_str(), can.technology, can.mounting),
        ("Northway", Some(Technology::Wet), Some(Mounting::Radial))
    );
    assert_eq!((can.ripple_a, can.ripple_hz, can.f50, can.f100k), (Some(0.45), Some(120.0), Some(0.8), Some(1.4)));
    assert_eq!((can.endurance_h, can.temp_max_c), (Some(2000.0), Some(105.0)));
    assert!(import.report.clean() && import.report.questions.is_empty(), "{:?}", import.report);
}

#[test]
fn capital_mf_is_a_question_and_a_supercapacitor_is_set_aside() {
    let import =
        parts("MPN,Description\nQS-1,CAP SUPER 470MF 5.5V\nQA-1,CAP ALUM 470MF 20% 16V\nQA-2,CAP ALUM 470UF 20% 16V\n");
    assert_eq!(aside(&import.report, "supercapacitor"), 1);
    assert_eq!((import.parts.len(), import.report.refused), (1, 1));
    assert!(answer(&import.report, "MF means", "uF").to_string().contains("uF"));
}

#[test]
fn a_voltage_is_found_in_whatever_cell_says_it() {
    for (text, expected) in [
        ("MPN,Description,Voltage\nQA-1,CAP ALUM 470UF 20% 35V RADIAL,\n", Some(35.0)),
        ("MPN,Value,Remarks\nQA-1,470uF electrolytic,\"63V, 3.0A\"\n", Some(63.0)),
        ("MPN,Name,Volts\nQA-1,\"100uF, elko\",\"6,3V\"\n", Some(6.3)),
        ("MPN,Type,Cap_uF,V_Rating\nQA-1,Elko,470,16(1C)\n", Some(16.0)),
        ("MPN,Type,Value\nQA-1,Elko,10µF / 50V\n", Some(50.0)),
        ("MPN,Type,Value\nQA-1,Elko,16V 1000µF\n", Some(16.0)),
        ("型号,容值,额定电压,类型\nQA-1,470uF,25V,铝电解电容\n", Some(25.0)),
    ] {
        let import = parts(text);
        assert_eq!(part(&import, "QA-1").can.rated_v, expected, "{text}");
    }
}

#[test]
fn a_voltage_that_only_the_part_number_has_is_offered_not_taken() {
    let mut list = source("list.csv", b"MPN,Type,Capacitance\nQXA1H101MPD,Elko,100uF\n", Some(Target::Parts));
    let import = list.parts();
    assert_eq!((import.parts.len(), import.report.refused), (0, 1));
    assert!(
        import.report.rejected.iter().any(|row| row.reason.contains("would mean 50 V")),
        "{:?}",
        import.report.rejected
    );
    answer(&import.report, "code in the part number", "yes").apply(&mut list.mapping).unwrap();
    assert_eq!(part(&list.parts(), "QXA1H101MPD").can.rated_v, Some(50.0));
}

#[test]
fn contradictory_rows_are_flagged_with_both_values() {
    let import = parts(
        "MPN,Description,Capacitance,Voltage\nQA-1,CAP ALUM 220UF 25V,100uF,25V\nQXA1E101MPD,CAP ALUM 100UF 50V,100uF,50V\n",
    );
    let found = &import.report.contradictions;
    assert_eq!(found.len(), 2);
    assert!(found[0].first.contains("100 µF") && found[0].second.contains("220 µF"), "{found:?}");
    assert!(found[1].first.contains("50 V") && found[1].second.contains("25 V"), "{found:?}");
    assert_eq!((import.parts.len(), import.report.refused), (1, 1));
}

#[test]
fn the_order_of_two_dimensions_needs_evidence_or_an_answer() {
    let size = |text: &str| {
        let import = parts(text);
        let can = import.parts[0].1.can.clone();
        (can.diameter_mm, can.height_mm, import.report.questions.len())
    };
    let head = "MPN,Type,Cap_uF,Volts";
    assert_eq!(size(&format!("{head},Size\nA,Elko,10,25,5x11\nB,Elko,10,25,10x20\n")), (Some(5.0), Some(11.0), 0));
    assert_eq!(size(&format!("{head},Size\nA,Elko,10,25,11x5\nB,Elko,10,25,20x10\n")), (Some(5.0), Some(11.0), 0));
    assert_eq!(size(&format!("{head},Size ΦdxL(mm)\nA,Elko,10,25,10x8\n")), (Some(10.0), Some(8.0), 0));
    assert_eq!(size(&format!("{head},Size\nA,Elko,10,25,18x20\n")), (None, None, 1));
    assert_eq!(size(&format!("{head},Package\nA,Elko,10,25,\"SMD,D6.3xL5.4mm\"\n")), (Some(6.3), Some(5.4), 0));
}

#[test]
fn decoy_columns_are_not_used() {
    let list = source(
        "list.csv",
        b"MPN,Type,Capacitance,Capacitance Code,SortableValueMagnitude,Voltage,Voltage code,New voltage\nQA-1,Elko,220uF,221,0.02,25V,1E,35V\n",
        Some(Target::Parts),
    );
    let import = list.parts();
    assert_eq!(
        (part(&import, "QA-1").can.capacitance_uf, part(&import, "QA-1").can.rated_v),
        (Some(220.0), Some(25.0))
    );
    assert!(import.report.contradictions.is_empty());
    let decoy = list.proposal.columns.iter().find(|column| column.header == "SortableValueMagnitude").unwrap();
    assert_eq!((decoy.field, decoy.samples.as_slice()), (None, &["0.02".to_string()][..]));
}

#[test]
fn what_is_not_ours_is_set_aside_by_family_and_what_is_is_recognised() {
    let import = parts(
        "MPN,Category,Value,Voltage\nA,Aluminum Electrolytic - hybrid,47uF,35V\nB,Aluminum Electrolytic solid polymer,100uF,16V\n\
         C,Bipolar electrolytic,22uF,50V\nD,Electric Double Layer Elec,1F,5.5V\nE,CAP TANT,10uF,16V\nF,film X2,0.1uF,275V\n\
         G,MLCC X7R,10uF,25V\nH,Unpolarized capacitor,1uF,50V\nI,Aluminum Electrolytic,470uF,25V\n",
    );
    let technology = |number| part(&import, number).can.technology;
    assert_eq!(
        ["A", "B", "C", "I"].map(technology),
        [Technology::Hybrid, Technology::Polymer, Technology::NonPolar, Technology::Wet].map(Some)
    );
    for (reason, rows) in
        [("supercapacitor", 1), ("tantalum", 1), ("film", 1), ("ceramic", 1), ("not polarised by its symbol", 1)]
    {
        assert_eq!(aside(&import.report, reason), rows, "{reason}");
    }
    assert_eq!(import.report.set_aside_rows() + import.parts.len(), import.report.rows);
    assert!(import.report.rejected.iter().all(|row| row.line > 1 && !row.reason.is_empty()));
}

#[test]
fn of_duplicates_the_later_row_is_used_and_the_earlier_listed() {
    let import = parts("MPN,Type,Cap_uF,Volts\nA,Elko,10,25\nB,Elko,22,25\nA,Elko,10,35\n");
    assert_eq!((import.parts.len(), part(&import, "A").can.rated_v), (2, Some(35.0)));
    assert!(import.report.rejected.iter().any(|row| row.line == 2 && row.reason.contains("line 4")));
}

#[test]
fn rows_without_a_makers_number_are_named_and_that_is_said() {
    let import = parts("Type,Cap_uF,Volts,LCSC Part #\nElko,10,25,C8678\nElko,22,25,\n");
    assert_eq!(import.parts[0].1.part_number, "C8678");
    assert_eq!(import.parts[1].1.part_number, "list 22u 25V");
    assert!(import.report.notes.iter().any(|note| note.contains("no number in the file")));
}

#[test]
fn life_temperature_price_and_status_are_read() {
    let import = parts(
        "MPN,Name,Lifetime @ Temp.,Operating Temperature,Unit Price,Stock\n\
         QA-1,电解 3.3uF ±20% 25V 停产,2000 Hrs @ 105°C,-40°C ~ 105°C,\"2,963.16000\",120\n\
         QA-2,电解 10uF ±20% 25V,2000 Hrs @ 125°C,-40°C ~ 105°C,0.12,—\n",
    );
    let one = part(&import, "QA-1");
    assert_eq!((one.can.endurance_h, one.can.temp_max_c, one.can.temp_min_c), (Some(2000.0), Some(105.0), Some(-40.0)));
    assert_eq!(
        (one.trade.unit_price, one.trade.stock, one.status),
        (Some(2963.16), Some(120.0), Some(Status::Obsolete))
    );
    let two = part(&import, "QA-2");
    assert_eq!((two.can.endurance_h, two.trade.stock, two.status), (None, None, None));
    assert!(import.report.contradictions[0].first.contains("2000 h @ 125"));
}

#[test]
fn heights_given_as_largest_stay_largest() {
    let import = parts(
        "MPN,Category,Capacitance,Voltage - Rated,Size / Dimension,Height - Seated (Max),Lead Spacing,ESR (Equivalent Series Resistance)\n\
         QA-1,Aluminum Electrolytic Capacitors,470 µF,25 V,\"0.394\"\" Dia (10.00mm)\",\"0.492\"\" (12.50mm)\",\"0.197\"\" (5.00mm)\",35mOhm @ 100kHz\n",
    );
    let can = &part(&import, "QA-1").can;
    assert_eq!(
        (can.diameter_mm, can.height_mm, can.height_max_mm, can.pitch_mm),
        (Some(10.0), None, Some(12.5), Some(5.0))
    );
    assert_eq!((can.esr_mohm, can.esr_hz), (Some(35.0), Some(1e5)));
}

#[test]
fn ripple_at_two_frequencies_is_a_rating_and_a_multiplier() {
    let import = parts(
        "Mfr Part #,Mfr,Type,Capacitance,Voltage - Rated,Ripple Current @ Low Frequency,Ripple Current @ High Frequency\n\
         QXA-1,Northway,Elko,100 µF,50 V,180 mA @ 120 Hz,360 mA @ 100 kHz\nQXA-2,Northway,CAP ALUM HYB,100 µF,50 V,-,2.8 A @ 100 kHz\n",
    );
    let one = part(&import, "QXA-1");
    assert_eq!((one.can.ripple_a, one.can.ripple_hz), (Some(0.18), Some(120.0)));
    assert_eq!(one.can.ripple_freq_factors, "120:1;100000:2".parse().ok());
    let two = &part(&import, "QXA-2").can;
    assert_eq!(
        (two.ripple_a, two.ripple_hz, two.ripple_freq_factors.clone(), two.technology),
        (Some(2.8), Some(1e5), None, Some(Technology::Hybrid))
    );
    assert_eq!((one.maker.as_str(), import.report.clean()), ("Northway", true));
}

#[test]
fn multipliers_and_a_separate_unit_column_are_read() {
    let import = parts(
        "PartNumber,dielectric,capacitance,unit,voltage,Freq_Factor_50Hz,Freq_Factor_120Hz,Freq_Factor_1kHz,DF_120Hz,tolerance\n\
         QA-1,Aluminium electrolytic,470,uF,25,0.8,1,1.3,0.14,0.20\nQA-2,Aluminium electrolytic,1,mF,25,0.8,1,1.3,14%,0.20\n",
    );
    let can = &part(&import, "QA-2").can;
    assert_eq!((can.capacitance_uf, can.f50, can.f1k, can.tan_delta), (Some(1000.0), Some(0.8), Some(1.3), Some(0.14)));
    assert_eq!(part(&import, "QA-1").can.tolerance_pct, Some(20.0));
}

#[test]
fn repeated_pairs_of_maker_and_number_use_the_first() {
    let import = parts("Manufacturer,MPN,Manufacturer,MPN,Type,Cap_uF,Volts\nNorthway,NW-1,Harrow,HA-2,Elko,10,25\n");
    assert_eq!((import.parts[0].1.maker.as_str(), import.parts[0].1.part_number.as_str()), ("Northway", "NW-1"));
}

#[test]
fn decimal_commas_are_read_by_evidence_and_asked_without() {
    let head = "MPN;Type;Capacitance;Volts";
    let comma = parts(&format!("{head}\nA;Elko;4.700 uF;6,3V\nB;Elko;2,2 uF;25V\n"));
    assert_eq!((part(&comma, "A").can.capacitance_uf, part(&comma, "B").can.capacitance_uf), (Some(4700.0), Some(2.2)));
    let open = parts(&format!("{head}\nA;Elko;4.700 uF;16V\n"));
    assert_eq!((open.parts.len(), open.report.refused), (0, 1));
    answer(&open.report, "decimal mark", "comma");
}

#[test]
fn every_encoding_separator_and_preamble_gives_the_same_parts() {
    let text = "Price list\nvalid from May\n\nMPN\tType\tCapacitance\tVoltage\nA\tElko ±20%\t470µF\t25V\n\nprinted by nobody\n";
    let utf16: Vec<u8> = [0xFF, 0xFE].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    let latin: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
    let mut marked = b"\xEF\xBB\xBF".to_vec();
    marked.extend_from_slice(text.replace('\n', "\r\n").as_bytes());
    for bytes in [utf16, latin, marked, text.replace('\t', ";").into_bytes(), text.replace('\t', ",").into_bytes()] {
        let import = source("list.csv", &bytes, Some(Target::Parts)).parts();
        let can = &part(&import, "A").can;
        assert_eq!(
            (can.capacitance_uf, can.rated_v, can.tolerance_pct, import.parts.len()),
            (Some(470.0), Some(25.0), Some(20.0), 1)
        );
    }
}

#[test]
fn proposals_carry_confidence_reason_and_samples() {
    let list = source("list.csv", b"MPN,Cap_uF,V_Rating,Colour\nA,470,25,blue\n", Some(Target::Parts));
    let of = |header: &str| list.proposal.columns.iter().find(|column| column.header == header).unwrap();
    assert_eq!((of("MPN").field, of("MPN").confidence), (Some(Field::PartNumber), Confidence::Sure));
    assert_eq!((of("Cap_uF").field, of("Cap_uF").confidence), (Some(Field::Capacitance), Confidence::Likely));
    assert_eq!((of("Colour").field, of("Colour").samples[0].as_str()), (None, "blue"));
    assert!(list.proposal.columns.iter().all(|column| !column.why.is_empty()));
}

#[test]
fn headers_are_known_in_other_words_and_languages() {
    for (header, cell, ripple_a) in [
        ("\"mA rms / 105°C 100kHz\"", "450", 0.45),
        ("Rippelstrom 100 kHz 105 °C (mA)", "450", 0.45),
        ("Max. permissible ripple (A rms) at 85 °C 100 kHz", "4.5", 4.5),
        ("\"Ripple Current (mA rms, 105°C 100kHz)\"", "1 760", 1.76),
    ] {
        let import = parts(&format!("MPN,Kapazität [µF],Spannung [V],Typ,{header}\nA,470,25,Elko,{cell}\n"));
        let can = &part(&import, "A").can;
        assert_eq!((can.ripple_a, can.ripple_hz), (Some(ripple_a), Some(1e5)), "{header} {:?}", import.report);
        assert_eq!((can.capacitance_uf, can.rated_v), (Some(470.0), Some(25.0)));
    }
    let import = parts("MPN;Kapazität [µF];Spannung [V];Ø [mm];Höhe [mm];RM [mm];Typ\nA;4,7;63;5;11;2,0;Elko\n");
    let can = &part(&import, "A").can;
    assert_eq!((can.diameter_mm, can.height_mm, can.pitch_mm), (Some(5.0), Some(11.0), Some(2.0)));
}

#[test]
fn what_stands_over_the_table_is_offered_for_every_row() {
    let text = "Series QX, endurance 5000 h at 105 °C\nCap (uF),WV (V),Size ΦDxL (mm),tanδ\n470,35,10×16,0.12\n100,35,8×11.5,0.12\n";
    let mut list = source("list.csv", text.as_bytes(), Some(Target::Parts));
    let import = list.parts();
    assert_eq!(part(&import, "list 470u 35V 10x16").can.endurance_h, None);
    answer(&import.report, "endurance of every row", "yes").apply(&mut list.mapping).unwrap();
    answer(&import.report, "upper temperature of every row", "yes").apply(&mut list.mapping).unwrap();
    let import = list.parts();
    let can = &part(&import, "list 470u 35V 10x16").can;
    assert_eq!((can.endurance_h, can.temp_max_c), (Some(5000.0), Some(105.0)));
    assert!(import.report.questions.is_empty(), "{:?}", import.report.questions);
}

#[test]
fn a_catalogue_of_the_program_read_as_a_list_of_others_is_the_same_catalogue() {
    let text = include_str!("../../catalog/parts.csv");
    let read = refarad::files::parts::from_bytes(vec![("parts.csv".into(), text.into())]).unwrap();
    let import = source("parts.csv", text.as_bytes(), Some(Target::Parts)).parts();
    let figures = |part: &refarad::domain::Part| (part.part_number.clone(), part.can.clone(), part.status);
    let mut listed: Vec<_> = import.parts.iter().map(|(_, part)| figures(part)).collect();
    let mut own: Vec<_> = read.catalog.ids().map(|id| figures(&read.catalog.part(id))).collect();
    listed.sort_by(|a, b| a.0.cmp(&b.0));
    own.sort_by(|a, b| a.0.cmp(&b.0));
    // In a list of others a dissipation factor of 1 is more likely one in percent: it is listed as not used.
    own.iter_mut().for_each(|part| part.1.tan_delta = part.1.tan_delta.filter(|&tan_delta| tan_delta < 1.0));
    for (listed, own) in listed.iter().zip(&own) {
        assert_eq!(listed, own);
    }
    assert_eq!(listed.len(), own.len());
}

#[test]
fn where_figures_come_from_is_cut_to_what_a_job_may_hold() {
    let headers: String = (0..12).map(|n| format!(",Remark {n}")).collect();
    let remark = "aluminium electrolytic 105 °C with a long remark that nobody needs ".repeat(20);
    let remarks = format!(",{remark}").repeat(12);
    let text = format!("Ref,Value,Description{headers}\nC1,470uF,35V electrolytic {remark}{remarks}\n");
    let import = crate::positions(&text);
    let from = crate::position(&import, "C1").original.read_from.clone().unwrap();
    assert!(from.chars().count() <= 10_000, "{}", from.len());
}
