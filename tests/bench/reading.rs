//! Reading a catalogue, beside what the csv crate needs to read the same file into plain structs.

use std::path::PathBuf;
use std::sync::OnceLock;

use std::time::{Duration, Instant};

use divan::{Bencher, black_box};
use refarad::files::parts;
use refarad::progress::Progress;
use refarad::sizing::CatalogIndex;

use crate::catalogue::csv_text;

const ROWS: usize = 1_000_000;

fn text() -> &'static str {
    static TEXT: OnceLock<String> = OnceLock::new();
    TEXT.get_or_init(|| csv_text(ROWS))
}

/// The twenty columns as a plain typed struct.
#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "read to be measured")]
struct PlainPart {
    part_number: String,
    maker: String,
    series: String,
    technology: String,
    mounting: String,
    capacitance_uf: f64,
    tolerance_pct: f64,
    rated_v: f64,
    temp_min_c: f64,
    temp_max_c: f64,
    endurance_h: f64,
    endurance_basis: String,
    ripple_a: f64,
    ripple_hz: f64,
    esr_mohm: f64,
    esr_hz: f64,
    diameter_mm: f64,
    height_mm: f64,
    pitch_mm: f64,
    unit_price: f64,
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn csv_crate_typed_structs(bencher: Bencher) {
    let text = text();
    bencher.bench_local(|| {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        reader.deserialize::<PlainPart>().collect::<Result<Vec<_>, _>>().unwrap().len()
    });
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn catalogue_read_typed_and_checked(bencher: Bencher) {
    let text = text();
    bencher.with_inputs(|| vec![(PathBuf::from("invented.csv"), text.as_bytes().to_vec())]).bench_local_values(
        |files| {
            let read = parts::from_bytes(black_box(files)).unwrap();
            assert_eq!((read.catalog.len(), read.rejected.len()), (ROWS, 0));
            read
        },
    );
}

/// Prints how long reading and ordering go on after they were cancelled, at moments spread over the whole work.
pub(crate) fn print() {
    let text = text();
    let files = || vec![(PathBuf::from("invented.csv"), text.as_bytes().to_vec())];
    let (input, begun) = (files(), Instant::now());
    let read = parts::from_bytes_watched(input, &Progress::default()).unwrap();
    let reading = begun.elapsed();
    let catalog_index = CatalogIndex::new(std::sync::Arc::new(read.catalog));
    let whole = begun.elapsed();
    drop(catalog_index);
    let mut longest = Duration::ZERO;
    for part in 1..20 {
        let progress = Progress::default();
        let files = files();
        std::thread::scope(|scope| {
            let work = scope.spawn(|| {
                let read = parts::from_bytes_watched(files, &progress).ok()?;
                CatalogIndex::new_watched(std::sync::Arc::new(read.catalog), &progress)
                    .map(|catalog_index| catalog_index.catalog().len())
            });
            std::thread::sleep(whole * part / 20);
            progress.cancel();
            let cancelled = Instant::now();
            black_box(work.join().unwrap());
            longest = longest.max(cancelled.elapsed());
        });
    }
    println!(
        "reading {ROWS} rows from memory: {:.2} s, with ordering {:.2} s; goes on for at most {:.0} ms after it was cancelled",
        reading.as_secs_f64(),
        whole.as_secs_f64(),
        longest.as_secs_f64() * 1e3
    );
}
