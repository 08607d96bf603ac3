//! Sizing positions against a large catalogue.

use std::path::PathBuf;
use std::sync::{Arc, Mutex};
use std::time::Instant;

use divan::{Bencher, black_box};
use refarad::domain::{Job, PositionId};
use refarad::files::parts;
use refarad::sizing::{self, CatalogIndex};

use crate::catalogue::{csv_text, job_text};

/// The catalog_index of an invented catalogue; kept, since making it takes longer than sizing with it.
fn catalog_index(parts_count: usize) -> Arc<CatalogIndex> {
    static KEPT: Mutex<Vec<(usize, Arc<CatalogIndex>)>> = Mutex::new(Vec::new());
    let mut kept = KEPT.lock().unwrap();
    if let Some((_, catalog_index)) = kept.iter().find(|(count, _)| *count == parts_count) {
        return catalog_index.clone();
    }
    let text = csv_text(parts_count).into_bytes();
    let read = parts::from_bytes(vec![(PathBuf::from("invented.csv"), text)]).unwrap();
    let catalog_index = Arc::new(CatalogIndex::new(Arc::new(read.catalog)));
    kept.push((parts_count, catalog_index.clone()));
    catalog_index
}

fn job(positions: usize) -> Job {
    serde_json::from_str(&job_text(positions)).unwrap()
}

#[divan::bench(args = [250_000, 500_000, 1_000_000, 2_000_000], sample_count = 5, sample_size = 1)]
fn hundred_positions_against_parts(bencher: Bencher, parts_count: usize) {
    let (catalog_index, job) = (catalog_index(parts_count), job(100));
    bencher.bench_local(|| sizing::size(black_box(&job), black_box(&catalog_index)));
}

#[divan::bench(args = [25, 50, 100, 200], sample_count = 5, sample_size = 1)]
fn positions_against_a_million_parts(bencher: Bencher, positions: usize) {
    let (catalog_index, job) = (catalog_index(1_000_000), job(positions));
    bencher.bench_local(|| sizing::size(black_box(&job), black_box(&catalog_index)));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn one_edited_position_against_a_million_parts(bencher: Bencher) {
    let (catalog_index, job) = (catalog_index(1_000_000), job(32));
    bencher.bench_local(|| {
        for index in 0..32 {
            black_box(sizing::size_position(&job, &catalog_index, PositionId { board: 0, index }));
        }
    });
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn ordering_a_million_parts(bencher: Bencher) {
    let catalog = catalog_index(1_000_000).catalog().clone();
    bencher.bench_local(|| CatalogIndex::new(catalog.clone()));
}

/// Prints how the cost grows: the exponent of the straight line through the logarithms of time and of what grows.
pub(crate) fn print() {
    let median_s = |parts_count: usize, positions: usize| {
        let (catalog_index, job) = (catalog_index(parts_count), job(positions));
        let mut times_s: Vec<f64> = (0..5)
            .map(|_| {
                let begun = Instant::now();
                black_box(sizing::size(&job, &catalog_index));
                begun.elapsed().as_secs_f64()
            })
            .collect();
        times_s.sort_unstable_by(f64::total_cmp);
        times_s[times_s.len() / 2]
    };
    let (all_parts, some_positions) = (catalog_index(1_000_000), job(32));
    let edited_s = (0..32).map(|index| {
        let begun = Instant::now();
        black_box(sizing::size_position(&some_positions, &all_parts, PositionId { board: 0, index }));
        begun.elapsed().as_secs_f64()
    });
    println!("one edited position, 1000000 parts: {:.1} ms, the worst of 32", edited_s.fold(0.0, f64::max) * 1e3);
    let by_parts =
        [250_000, 500_000, 1_000_000, 2_000_000].map(|parts_count| (parts_count, median_s(parts_count, 100)));
    let by_positions = [25, 50, 100, 200].map(|positions| (positions, median_s(1_000_000, positions)));
    for (what, measured) in [("parts, 100 positions", by_parts), ("positions, 1000000 parts", by_positions)] {
        let listed: Vec<String> = measured.iter().map(|(count, time_s)| format!("{count}: {time_s:.3} s")).collect();
        println!("sizing by {what}: {}; exponent {:.2}", listed.join(", "), exponent(&measured));
    }
}

fn exponent(measured: &[(usize, f64)]) -> f64 {
    let points: Vec<(f64, f64)> = measured.iter().map(|&(count, time_s)| ((count as f64).ln(), time_s.ln())).collect();
    let mean = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / points.len() as f64;
    let (mean_x, mean_y) = (mean(|p| p.0), mean(|p| p.1));
    let along: f64 = points.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    along / points.iter().map(|(x, _)| (x - mean_x).powi(2)).sum::<f64>()
}
