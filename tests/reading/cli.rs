//! The calls as a person makes them. All files are hand-made; the person's own folder is a temporary one.

use std::path::Path;
use std::process::{Command, Output};

use refarad::files::{job, parts};

fn call(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_refarad"))
        .args(args)
        .current_dir(folder)
        .env("HOME", folder)
        .env("XDG_CONFIG_HOME", folder.join("config"))
        .output()
        .unwrap()
}

fn status(output: &Output) -> i32 {
    output.status.code().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

const SERIES: &str = "Cap (uF);WV (V dc );Size ΦdxL(mm);Rated ripple\n1000;35;12,5×20;1,2\n2200;35;16×25;—\n";
const BOM: &str = "Reference,Value,Voltage,Footprint\nC1,1000uF,35V,CP_Radial_D12.5mm_P5.00mm\nC2,100nF,50V,C_0805\n";
const PLACES: &str = "Designator,Mid X,Mid Y,Rotation,Layer\nC1,20mm,30mm,90,T\n";

#[test]
fn a_list_that_gives_nothing_does_not_end_like_one_that_was_read() {
    let folder = tempfile::tempdir().unwrap();
    // Bytes that mean nothing, parts of another kind alone.
    for bytes in [&b"~"[..], b"\x96", b"part_number,capacitance_uf,rated_v,technology\nP1,0.1,100,film\n"] {
        std::fs::write(folder.path().join("x.csv"), bytes).unwrap();
        let read = call(folder.path(), &["read", "x.csv"]);
        assert_eq!(status(&read), 1, "{}{}", text(&read.stdout), text(&read.stderr));
    }
}

#[test]
fn a_strangers_board_and_series_become_a_sized_job_without_editing_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| std::fs::write(folder.path().join(name), text).unwrap();
    write("series.csv", SERIES);
    write("bom.csv", BOM);
    write("places.csv", PLACES);
    let board = call(folder.path(), &["read", "bom.csv", "places.csv", "--out", "job.json"]);
    assert_eq!(status(&board), 0, "{}{}", text(&board.stdout), text(&board.stderr));
    let job = job::read(&folder.path().join("job.json")).unwrap().job;
    let c1 = &job.boards[0].positions[0];
    assert_eq!((c1.x_mm, c1.original.can.rated_v, c1.role_assumed), (Some(20.0), Some(35.0), true));
    let listed = std::fs::read_to_string(folder.path().join("job.rejected.csv")).unwrap();
    assert!(listed.contains("bom.csv,3,") && listed.contains("ceramic"), "{listed}");

    // The ripple has no unit: asked, exit 1, answered in the mapping that was written beside it.
    let asked = call(folder.path(), &["read", "series.csv", "--out", "parts.csv"]);
    assert_eq!(status(&asked), 1);
    assert!(text(&asked.stdout).contains("columns.\"Rated ripple\".unit = \"A\""), "{}", text(&asked.stdout));
    let path = folder.path().join("parts.mapping.json");
    let mapping = std::fs::read_to_string(&path).unwrap();
    let answered =
        mapping.replace("\"field\": \"ripple\"", "\"field\": \"ripple\", \"unit\": \"A\", \"hz\": 120").replace(
            "\"every_row\": {}",
            "\"every_row\": {\"technology\": \"wet\", \"mounting\": \"radial\", \"temp_max_c\": 105}",
        );
    assert_ne!(answered, mapping);
    std::fs::write(&path, answered).unwrap();
    let read = call(folder.path(), &["read", "series.csv", "--map", "parts.mapping.json", "--out", "parts.csv"]);
    assert_eq!(status(&read), 0, "{}{}", text(&read.stdout), text(&read.stderr));
    let catalog = parts::read_files(&[folder.path().join("parts.csv")]).unwrap().catalog;
    let can = catalog.can(catalog.find("series 1000u 35V 12.5x20").unwrap());
    assert_eq!(
        (can.ripple_a, can.ripple_hz, can.height_mm, can.temp_max_c),
        (Some(1.2), Some(120.0), Some(20.0), Some(105.0))
    );

    // The catalogue, or the stranger's file with its mapping, sizes the board; nothing is known of the stress, so nothing is proposed.
    for more in [&["--parts", "parts.csv"][..], &["--parts", "series.csv", "--map", "parts.mapping.json"]] {
        let args: Vec<&str> = ["size", "job.json", "--out", "out"].iter().chain(more).copied().collect();
        let sized = call(folder.path(), &args);
        assert_eq!(status(&sized), 1, "{}", text(&sized.stderr));
        let candidates = std::fs::read_to_string(folder.path().join("out/candidates.csv")).unwrap();
        assert!(candidates.contains("series 1000u 35V 12.5x20"), "{candidates}");
    }
    // The mapping was remembered when it was given.
    let remembered = call(folder.path(), &["size", "job.json", "--parts", "series.csv"]);
    assert_eq!(status(&remembered), 1, "{}", text(&remembered.stderr));
}

/// Three files of a stranger and what only the person knows, said on the command line: every position has a part that passes.
#[test]
fn a_strangers_files_become_a_board_that_passes_without_a_file_being_edited() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| std::fs::write(folder.path().join(name), text).unwrap();
    write(
        "amp.csv",
        "\"Reference\",\"Qty\",\"Value\",\"Voltage\",\"Footprint\",\"Description\"\n\
         \"C1, C2\",\"2\",\"470uF\",\"35V\",\"CP_Radial_D10.0mm_P5.00mm\",\"Polarized capacitor\"\n\
         \"C3\",\"1\",\"100uF 25V\",\"\",\"CP_Radial_D8.0mm_P3.50mm\",\"Polarized capacitor\"\n\
         \"C4\",\"1\",\"100n\",\"\",\"C_0805_2012Metric\",\"Unpolarized capacitor\"\n\"R1\",\"1\",\"10k\",\"\",\"R_0805\",\"Resistor\"\n",
    );
    write(
        "amp-pos.csv",
        "Ref,Val,Package,PosX,PosY,Rot,Side\nC1,470uF,D10,10.5,-20.25,90,top\nC2,470uF,D10,30,-20,270,top\n\
         C3,100uF,D8,50,-20,0,top\nR1,10k,R_0805,1,-2,0,top\n",
    );
    write(
        "series.csv",
        "HALDE series, radial aluminium electrolytic, 5000 h at 105 °C\n\
         Cap (uF),WV (V dc ),Size ΦDxL(mm),Lead spacing (mm),Rated ripple,tanδ\n\
         470,35,10×16,5.0,900,0.12\n100,35,8×11.5,3.5,405,0.12\n2200,35,,,,\n",
    );
    let read = |args: &[&str]| {
        let output = call(folder.path(), args);
        assert_eq!(status(&output), 0, "{}{}", text(&output.stdout), text(&output.stderr));
    };
    read(&[
        "read",
        "series.csv",
        "--out",
        "parts.csv",
        "--answer",
        "columns.\"Rated ripple\".unit = \"mA\"",
        "--answer",
        "columns.\"Rated ripple\".hz = 100000",
        "--answer",
        "every_row.endurance_h = 5000",
        "--answer",
        "every_row.endurance_basis=ripple",
        "--answer",
        "every_row.temp_max_c = 105",
        "--answer",
        "every_row.temp_min_c = -40",
        "--answer",
        "every_row.technology=wet",
        "--answer",
        "every_row.mounting=radial",
    ]);
    read(&[
        "read",
        "amp.csv",
        "amp-pos.csv",
        "--out",
        "amp.json",
        "--answer",
        "columns.\"PosX\".unit = \"mm\"",
        "--every",
        "stress.dc_v = 20 V",
        "--every",
        "stress.ripple_peak_v = 0.5 V",
        "--every",
        "stress.transient_v = 24 V",
        "--every",
        "stress.min_v = 0 V",
        "--every",
        "stress.ripple = [{\"hz\": 100000, \"a\": 0.15}]",
        "--every",
        "stress.phases = [{\"share\": 1, \"ambient_c\": 45}]",
        "--every",
        "space.height_max_mm = 25 mm",
        "--every",
        "needs.life_h = 40000 h",
    ]);
    let board = job::read(&folder.path().join("amp.json")).unwrap().job.boards.remove(0);
    assert!(board.positions.iter().all(|position| position.x_mm.is_some()), "{board:?}");
    read(&["size", "amp.json", "--parts", "parts.csv", "--out", "out"]);
    let selection = std::fs::read_to_string(folder.path().join("out/selection.csv")).unwrap();
    assert_eq!(selection.matches(",proposed,pass,").count(), 3, "{selection}");
    assert!(selection.contains("C1,470uF 35V,series 470u 35V 10x16"), "{selection}");
    assert!(std::fs::read_to_string(folder.path().join("parts.rejected.csv")).unwrap().contains("not made"));
}

#[test]
fn a_foreign_catalogue_without_mapping_is_refused_with_the_way_out() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("series.csv"), SERIES).unwrap();
    assert_eq!(status(&call(folder.path(), &["example", "."])), 0);
    let sized = call(folder.path(), &["size", "observatory.json", "--parts", "series.csv"]);
    assert_eq!(status(&sized), 2);
    let said = text(&sized.stderr);
    assert!(said.contains("series.csv") && said.contains("refarad read"), "{said}");
}

#[test]
fn unusable_calls_are_one_clear_line_and_status_2() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("book.xlsx"), b"PK\x03\x04rest").unwrap();
    std::fs::write(folder.path().join("bom.csv"), BOM).unwrap();
    std::fs::write(folder.path().join("series.csv"), SERIES).unwrap();
    std::fs::write(folder.path().join("places.csv"), PLACES).unwrap();
    std::fs::write(folder.path().join("bad.json"), "{}").unwrap();
    for (args, part) in [
        (&["read", "nowhere.csv"][..], "nowhere.csv"),
        (&["read", "book.xlsx"], "workbook"),
        (&["read", "bom.csv", "series.csv"], "lists of several kinds"),
        (&["read", "bom.csv", "--map", "bad.json"], "format"),
        (&["read", "places.csv", "--job", "bad.json"], "format"),
    ] {
        let output = call(folder.path(), args);
        let said = text(&output.stderr);
        assert_eq!((status(&output), said.lines().count()), (2, 1), "{args:?} {said}");
        assert!(said.contains(part), "{said}");
    }
}

#[test]
fn several_lists_add_up_and_later_rows_win() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("a.csv"), "MPN,Type,Cap_uF,Volts\nA,Elko,10,25\nB,Elko,10,25\n").unwrap();
    std::fs::write(folder.path().join("b.csv"), "MPN,Type,Capacitance,Voltage\nA,Elko,10uF,35V\n").unwrap();
    let read = call(folder.path(), &["read", "a.csv", "b.csv", "--as", "parts", "--out", "all.csv"]);
    assert_eq!(status(&read), 0, "{}", text(&read.stdout));
    let catalog = parts::read_files(&[folder.path().join("all.csv")]).unwrap().catalog;
    assert_eq!((catalog.len(), catalog.can(catalog.find("A").unwrap()).rated_v), (2, Some(35.0)));
    assert!(std::fs::read_to_string(folder.path().join("all.rejected.csv")).unwrap().contains("b.csv line 2"));
}

#[test]
fn a_placement_goes_onto_the_board_of_a_job() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("bom.csv"), BOM).unwrap();
    std::fs::write(folder.path().join("places.csv"), PLACES).unwrap();
    assert_eq!(status(&call(folder.path(), &["read", "bom.csv", "--out", "job.json"])), 0);
    let placed = call(folder.path(), &["read", "places.csv", "--job", "job.json", "--out", "placed.json"]);
    assert_eq!(status(&placed), 0, "{}{}", text(&placed.stdout), text(&placed.stderr));
    assert_eq!(job::read(&folder.path().join("placed.json")).unwrap().job.boards[0].positions[0].y_mm, Some(30.0));
}

#[test]
fn somebody_who_stops_reading_what_is_printed_stops_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(status(&call(folder.path(), &["example", "demo"])), 0);
    let mut program = Command::new(env!("CARGO_BIN_EXE_refarad"))
        .args(["size", "demo/observatory.json", "--out", "out"])
        .current_dir(folder.path())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(program.stdout.take());
    let done = program.wait_with_output().unwrap();
    // The demo has a position without a part on purpose.
    assert_eq!((status(&done), text(&done.stderr).contains("panicked")), (1, false));
    assert!(folder.path().join("out/selection.csv").exists());
}

#[test]
fn an_open_question_a_letter_and_an_unknown_field_do_not_end_with_0() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        std::fs::write(folder.path().join(name), text).unwrap();
    };
    let read = |arguments: &[&str]| {
        let mut call = Command::new(env!("CARGO_BIN_EXE_refarad"));
        call.env("XDG_CONFIG_HOME", folder.path().join("config")).env("HOME", folder.path());
        let out = call.current_dir(folder.path()).arg("read").args(arguments).output().unwrap();
        let said = [out.stdout, out.stderr].map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).concat();
        (out.status.code().unwrap(), said)
    };
    write("letter.txt", "Dear Sirs,\nwe would like to have our board rebuilt.\n");
    assert_eq!(read(&["letter.txt"]).0, 1);
    write("asked.csv", "Part,Cap (uF),WV,Rated ripple\nTX100,100,25,45\nTX220,220,25,80\n");
    assert_eq!(read(&["asked.csv"]).0, 1);
    write("board.csv", "Ref,Value,Voltage,Type\nC1,470uF,35V,electrolytic\n");
    assert_eq!(read(&["board.csv"]).0, 0);
    let (status, said) = read(&["board.csv", "--every", "stress.dcv=24"]);
    assert!(status == 2 && said.contains("did you mean stress.dc_v?"), "{status}: {said}");
    // Two lists are two boards, and that is said.
    write("second.csv", "Ref,Value,Voltage,Type\nC1,100uF,35V,electrolytic\n");
    assert!(read(&["board.csv", "second.csv"]).1.contains("Every list became a board of its own"));
    let (_, said) = read(&["board.csv", "second.csv", "--board", "Servo"]);
    assert!(said.contains("Board Servo: 1 position") && said.contains("contradiction"), "{said}");
}

#[test]
fn figures_of_one_file_are_not_those_of_the_next() {
    let folder = tempfile::tempdir().unwrap();
    let read = |name: &str, number: &str, answers: &[&str]| {
        let text = format!("Part,Cap (uF),WV,Rated ripple\n{number}00,100,25,145\n{number}01,220,25,280\n");
        std::fs::write(folder.path().join(name), text).unwrap();
        let mut call = Command::new(env!("CARGO_BIN_EXE_refarad"));
        call.env("XDG_CONFIG_HOME", folder.path().join("config")).env("HOME", folder.path());
        let answers = answers.iter().flat_map(|answer| ["--answer", answer]);
        let out = call.current_dir(folder.path()).args(["read", name]).args(answers).output().unwrap();
        String::from_utf8_lossy(&out.stdout).into_owned()
    };
    let answers =
        ["columns.\"Rated ripple\".unit = \"mA\"", "columns.\"Rated ripple\".hz = 120", "every_row.series = TX"];
    assert!(!read("first.csv", "TX", &answers).contains("question"));
    let second = read("second.csv", "SR", &[]);
    // What the column means is remembered and said; at which frequency is asked again.
    assert!(second.contains("remembered from a file with the same headers: Rated ripple: "), "{second}");
    assert!(second.contains(", mA") && second.contains("frequency of the ripple current"), "{second}");
}

#[test]
fn each_catalogue_a_job_begins_with_is_a_file_of_its_own_and_none_is_written_over() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("kiln")).unwrap();
    let series = |number: &str| {
        let head = "Part,Cap (uF),WV,Rated ripple (mA),Endurance (h),Type";
        format!("{head}\n{number}00,100,25,145,5000,aluminium electrolytic\n{number}01,220,25,280,5000,electrolytic\n")
    };
    for (name, number) in [("talus.csv", "TX"), ("kiln/serac.csv", "SR"), ("kiln/talus.csv", "OLD")] {
        std::fs::write(folder.path().join(name), series(number)).unwrap();
    }
    let begun = call(folder.path(), &["new", "kiln", "--from", "talus.csv", "kiln/serac.csv"]);
    let said = text(&begun.stdout) + &text(&begun.stderr);
    let job = job::read(&folder.path().join("kiln/kiln.json")).expect(&said).job;
    assert_eq!(job.catalogs, ["talus (2).csv", "serac (2).csv"], "{said}");
    for (name, number) in [("talus (2).csv", "TX"), ("serac (2).csv", "SR"), ("talus.csv", "OLD")] {
        let written = std::fs::read_to_string(folder.path().join("kiln").join(name)).unwrap();
        assert!(written.contains(&format!("{number}01")) && written.matches("01,").count() == 1, "{written}");
    }
}

#[test]
fn the_shops_margins_given_to_a_new_job_are_its_policy_and_the_others_stay_usual() {
    let folder = tempfile::tempdir().unwrap();
    let options = ["--voltage-use-max-wet-lv", "75%", "--ripple-use-max", "0.7", "--life-margin", "1.5"];
    let begun = call(folder.path(), &[&["new", "kiln"][..], &options].concat());
    let said = text(&begun.stdout) + &text(&begun.stderr);
    let policy = job::read(&folder.path().join("kiln/kiln.json")).expect(&said).job.policy;
    let usual = refarad::domain::Policy::default();
    assert_eq!((policy.voltage_use_max_wet_lv, policy.ripple_use_max, policy.life_margin), (0.75, 0.7, 1.5));
    assert_eq!(policy.voltage_use_max_wet_hv, usual.voltage_use_max_wet_hv);
}

#[test]
fn a_file_given_where_a_new_job_wants_a_folder_is_refused_with_that_folder() {
    let folder = tempfile::tempdir().unwrap();
    let refused = call(folder.path(), &["new", "psu.json"]);
    let said = text(&refused.stderr);
    assert_eq!(status(&refused), 2, "{said}");
    assert!(said.contains("such as psu;") && !folder.path().join("psu.json").exists(), "{said}");
}

#[test]
fn offers_of_a_supplier_are_written_as_such_and_named_in_a_new_job() {
    const QUOTE: &str = "Part no.,Supplier,Price 1,Price 100\nQX-1000,Halden Parts,0.42,0.35\n";
    const OFFER: &str = "QX-1000,Halden Parts,,,,,,,0.42,1:0.42;100:0.35";
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("quote.csv"), QUOTE).unwrap();
    std::fs::write(folder.path().join("bom.csv"), BOM).unwrap();
    let written = |name: &str| std::fs::read_to_string(folder.path().join(name)).unwrap();
    let read = call(folder.path(), &["read", "quote.csv", "--out", "offers.csv"]);
    assert_eq!(status(&read), 0, "{}", text(&read.stdout));
    assert!(written("offers.csv").contains(OFFER), "{}", written("offers.csv"));
    // One list of offers alone is not called like a catalogue.
    let begun = call(folder.path(), &["new", "kiln", "--from", "bom.csv", "quote.csv"]);
    let said = text(&begun.stdout) + &text(&begun.stderr);
    let job = job::read(&folder.path().join("kiln/kiln.json")).expect(&said).job;
    assert_eq!((job.offers, job.catalogs), (vec!["quote.offers.csv".to_owned()], Vec::new()), "{said}");
    assert!(written("kiln/quote.offers.csv").contains(OFFER));
}
