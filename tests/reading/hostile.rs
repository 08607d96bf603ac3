//! Input made to break a reader: each file is refused in words or its rows are rejected, in bounded time and memory.

use std::fs::File;
use std::path::Path;

use refarad::domain::{Board, Job, Position};
use refarad::files::import::{Content, Source, Target};
use refarad::files::table::Options;
use refarad::files::{bounded, job, load, offers, oscilloscope, parts, temperature_log, unit_record};
use refarad::progress::Progress;

const HEADER: &str = "part_number,capacitance_uf,rated_v,unit_price\n";

/// A file of a gigabyte that takes no room on the disk: one line of zero bytes.
fn gigabyte(folder: &Path, name: &str) -> std::path::PathBuf {
    let path = folder.join(name);
    File::create(&path).unwrap().set_len(1 << 30).unwrap();
    path
}

fn job_text(position: &str) -> String {
    format!(r#"{{"format":"refarad-job","version":1,"boards":[{{"name":"B","positions":[{position}]}}]}}"#)
}

/// Every reader of bytes; what each says about them.
fn by_every_reader(bytes: &[u8]) -> Vec<String> {
    let any = Path::new("any.csv");
    let mut said = vec![
        format!("{:?}", job::from_slice(bytes, any).map(|_| ())),
        format!("{:?}", parts::from_bytes(vec![(any.into(), bytes.to_vec())]).map(|read| read.catalog.len())),
        format!("{:?}", offers::from_bytes(&[(any.into(), bytes.to_vec())]).map(|_| ())),
        format!("{:?}", oscilloscope::from_bytes(bytes, any).map(|_| ())),
        format!("{:?}", temperature_log::from_bytes(bytes, any, &temperature_log::LogAnswers::default()).map(|_| ())),
        format!("{:?}", unit_record::from_slice(bytes, any).records.len()),
    ];
    for target in [Target::Parts, Target::Positions, Target::Placement] {
        let read = Source::all_from_bytes(any, bytes, Some(target), &Options::default());
        said.push(format!("{:?}", read.map(|sources| sources.len())));
    }
    said
}

#[test]
fn a_line_of_a_gigabyte_is_refused_by_every_reader_before_it_is_in_memory() {
    let folder = tempfile::tempdir().unwrap();
    let path = gigabyte(folder.path(), "a.csv");
    let refusals = [
        job::read(&path).unwrap_err().to_string(),
        parts::read_files(std::slice::from_ref(&path)).unwrap_err().to_string(),
        offers::read_files(std::slice::from_ref(&path)).unwrap_err().to_string(),
        oscilloscope::read(&path).unwrap_err().to_string(),
        temperature_log::read(&path, &temperature_log::LogAnswers::default()).unwrap_err().to_string(),
        Content::open(&path, &Progress::default()).unwrap_err().to_string(),
        unit_record::read(&path).unwrap_err().to_string(),
        bounded::read(&path, 1000).unwrap_err().to_string(),
    ];
    for refusal in refusals {
        assert!(refusal.contains("larger than"), "{refusal}");
    }
}

#[test]
fn devices_and_pipes_are_not_read() {
    let job = Path::new("/dev/zero");
    if job.exists() {
        assert!(job::read(job).unwrap_err().to_string().contains("no ordinary file"));
        assert!(parts::read_files(&[job.into()]).unwrap_err().to_string().contains("no ordinary file"));
    }
}

#[test]
fn ten_million_columns_end() {
    let mut text = vec![b','; 10_000_000];
    text.extend_from_slice(b"\nA,1,2\n");
    let any = Path::new("any.csv");
    assert!(parts::from_bytes(vec![(any.into(), text.clone())]).is_err());
    let _ = Source::all_from_bytes(any, &text, Some(Target::Parts), &Options::default());
}

#[test]
fn quotes_zero_bytes_and_broken_encodings_end_in_words() {
    let mut quotes = HEADER.as_bytes().to_vec();
    quotes.extend(b"\"".repeat(50_001));
    let zeros = [HEADER.as_bytes(), b"A\0B,10\0,25,1\n\0\0\0"].concat();
    let utf8 = [HEADER.as_bytes(), b"A\xFF\xC3\x28,10,25,1\n"].concat();
    let utf16 = [b"\xFF\xFE".as_slice(), b"p\0a\0\x00\xD8\x00\xD8,\0\n\0x"].concat();
    let odd = [b"\xFE\xFF".as_slice(), b"\0p\0a\0"].concat();
    for bytes in [quotes, zeros, utf8, utf16, odd, vec![0; 4096], vec![0xFF; 4096], "[".repeat(100_000).into_bytes()] {
        assert_eq!(by_every_reader(&bytes).len(), 9);
    }
}

#[test]
fn a_zero_character_in_a_cell_of_a_catalogue_is_listed_and_the_row_not_used() {
    let zeros = [HEADER.as_bytes(), b"A\0B,10,25,1\nC,1\x000,25,1\nD,10,25,1\n"].concat();
    let read = parts::from_bytes(vec![("p.csv".into(), zeros)]).unwrap();
    assert_eq!((read.catalog.len(), read.rejected.len()), (1, 2), "{:?}", read.rejected);
}

#[test]
fn figures_that_are_none_are_refused_in_the_job() {
    for (position, field) in [
        (r#"{"ref":"C1","original":{"capacitance_uf":0}}"#, "capacitance_uf"),
        (r#"{"ref":"C1","original":{"diameter_mm":-5}}"#, "diameter_mm"),
        (r#"{"ref":"C1","space":{"height_max_mm":-1}}"#, "height_max_mm"),
        (r#"{"ref":"C1","stress":{"dc_v":1e400}}"#, "out of range"),
        (r#"{"ref":"C1","stress":{"dc_v":NaN}}"#, "line 1"),
        (r#"{"ref":"C1","stress":{"dc_v":"Infinity"}}"#, "dc_v"),
    ] {
        let error = job::from_slice(job_text(position).as_bytes(), Path::new("a.json")).unwrap_err().to_string();
        assert!(error.starts_with("a.json: ") && error.contains(field), "{error}");
    }
}

#[test]
fn figures_that_are_none_are_rejected_in_the_catalogue() {
    let values = ["NaN", "inf", "-Infinity", "1e400", "-10", "0", "1e-400", "--5", "\"\""];
    let rows = values.map(|value| format!("P{value},{value},25,1\n")).concat();
    let read = parts::from_bytes(vec![("a.csv".into(), format!("{HEADER}{rows}OK,10,25,1\n").into_bytes())]).unwrap();
    assert_eq!(read.catalog.len(), 1, "only the sound row is kept");
    assert!(read.rejected.len() >= values.len(), "{:?}", read.rejected);
}

#[test]
fn a_hundred_thousand_positions_are_sized() {
    let position = |n: usize| Position { reference: format!("C{n}"), ..Position::default() };
    let board = Board { name: "B".into(), positions: (0..100_000).map(position).collect(), ..Board::default() };
    let job = Job { boards: vec![board], ..Job::default() };
    let read = job::from_slice(job::to_text(&job).as_bytes(), Path::new("a.json")).unwrap();
    let sizing = refarad::sizing::size(&read.job, &refarad::sizing::CatalogIndex::default());
    assert_eq!(sizing.positions.len(), 100_000);
}

#[test]
fn references_that_lead_nowhere_or_round_in_circles_are_no_trap() {
    let text = job_text(
        r#"{"ref":"C1","parallel_group":"C2","series_group":"C2","pick":"no such part"},
           {"ref":"C2","parallel_group":"C1","series_group":"C1"},{"ref":"C2","parallel_group":"C2","pick":""}"#,
    );
    let read = job::from_slice(text.as_bytes(), Path::new("a.json")).unwrap();
    let catalog_index = load::load_demo().unwrap().catalog_index;
    assert_eq!(refarad::sizing::size(&read.job, &catalog_index).positions.len(), 3);
}

#[test]
fn a_job_reads_no_catalogue_outside_its_folder() {
    let outer = tempfile::tempdir().unwrap();
    let folder = outer.path().join("job");
    std::fs::create_dir(&folder).unwrap();
    std::fs::write(outer.path().join("secret.csv"), format!("{HEADER}SECRET,10,25,1\n")).unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink(outer.path().join("secret.csv"), folder.join("link.csv")).unwrap();
    for name in
        ["../secret.csv", "/etc/passwd", "x/../../secret.csv", "..\\\\secret.csv", "\\\\\\\\host\\\\a.csv", "link.csv"]
    {
        let path = folder.join("a.json");
        std::fs::write(&path, format!(r#"{{"format":"refarad-job","version":1,"catalogs":["{name}"],"boards":[]}}"#))
            .unwrap();
        let error = load::load(&path, &[]).unwrap_err().to_string();
        assert!(error.contains("outside the folder of the job"), "{name}: {error}");
    }
}

/// Rows of a list with `odd` in one cell of row 103.
fn five_hundred(header: &str, row: impl Fn(usize, &str) -> String, odd: &str) -> Vec<u8> {
    let rows: String = (0..500).map(|n| row(n, if n == 103 { odd } else { "x" })).collect();
    format!("{header}\n{rows}").into_bytes()
}

#[test]
fn a_stray_quotation_mark_swallows_no_row_of_any_list() {
    for odd in ["\"odd", "\"odd\" one", "\"", "5\" long", "\"a\"\"b"] {
        let part = |n: usize, odd: &str| format!("P{n},{odd},10,25\n");
        let bytes = five_hundred("part_number,maker,capacitance_uf,rated_v", part, odd);
        let read = parts::from_bytes(vec![("a.csv".into(), bytes.clone())]).unwrap();
        assert_eq!((read.catalog.len(), read.rejected.len()), (500, 0), "{odd}");
        let imported =
            Source::from_bytes(Path::new("a.csv"), &bytes, Some(Target::Parts), &Options::default()).unwrap();
        assert_eq!(imported.table.rows.len(), 500, "{odd}");
        let offer = |n: usize, odd: &str| format!("P{n},S,{odd},1\n");
        let bytes = five_hundred("part_number,supplier,supplier_part_number,unit_price", offer, odd);
        let read = offers::from_bytes(&[("o.csv".into(), bytes)]).unwrap();
        assert_eq!((read.book.len(), read.rejected.len()), (500, 0), "{odd}");
        let log = |n: usize, odd: &str| format!("2026-01-01 {:02}:{:02},{n}.5,{odd}\n", n / 60, n % 60);
        let bytes = five_hundred("time,temperature °C,remark", log, odd);
        assert!(
            temperature_log::from_bytes(&bytes, Path::new("a.csv"), &temperature_log::LogAnswers::default()).is_ok(),
            "{odd}"
        );
    }
}

#[test]
fn lines_that_end_with_a_carriage_return_alone_are_lines() {
    let rows: Vec<String> = (0..500).map(|n| format!("P{n},10,25")).collect();
    let text = format!("part_number,capacitance_uf,rated_v\r{}\r", rows.join("\r"));
    let read = parts::from_bytes(vec![("a.csv".into(), text.into_bytes())]).unwrap();
    assert_eq!((read.catalog.len(), read.rejected.len()), (500, 0));
    let offers = offers::from_bytes(&[("o.csv".into(), b"part_number,supplier\rP1,S\rP2,S\r".to_vec())]).unwrap();
    assert_eq!(offers.book.len(), 2);
}
