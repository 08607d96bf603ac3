//! A large invented catalogue: plausible figures in E-series and standard-voltage steps, the same every time.

use std::fmt::Write as _;

/// Columns of the invented file; twenty, as in a distributor's list brought to canonical headers.
pub(crate) const HEADER: &str = "part_number,maker,series,technology,mounting,capacitance_uf,tolerance_pct,rated_v,temp_min_c,\
temp_max_c,endurance_h,endurance_basis,ripple_a,ripple_hz,esr_mohm,esr_hz,diameter_mm,height_mm,pitch_mm,unit_price";

/// SplitMix64, Sebastiano Vigna, public domain: small, and the same on every machine.
pub(crate) struct Steps(pub(crate) u64);

impl Steps {
    pub(crate) fn next(&mut self, choices: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        usize::try_from((z ^ (z >> 31)) % choices as u64).unwrap_or_default()
    }

    pub(crate) fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.next(from.len())]
    }
}

/// The text of a catalogue with `rows` parts, every figure invented: standard capacitances, voltages and bodies evenly spread, so that
/// a position's bounds rule out no more of them than they do of a real list.
pub(crate) fn csv_text(rows: usize) -> String {
    const CAPACITANCES_UF: [f64; 21] = [
        1.0, 2.2, 3.3, 4.7, 10., 22., 33., 47., 68., 100., 150., 220., 330., 470., 680., 1000., 1500., 2200., 3300.,
        4700., 10_000.,
    ];
    const VOLTS: [f64; 15] = [6.3, 10., 16., 25., 35., 50., 63., 80., 100., 160., 200., 250., 350., 400., 450.];
    const BODIES: [(f64, f64, f64); 9] = [
        (5.0, 11.0, 2.0),
        (6.3, 11.0, 2.5),
        (8.0, 11.5, 3.5),
        (10.0, 12.5, 5.0),
        (10.0, 20.0, 5.0),
        (12.5, 25.0, 5.0),
        (16.0, 25.0, 7.5),
        (16.0, 31.5, 7.5),
        (18.0, 35.5, 7.5),
    ];
    const MOUNTINGS: [&str; 6] = ["radial", "radial", "radial", "smd", "snap_in", "axial"];
    const MAKERS: [&str; 5] = ["Halvenbeck", "Torrelume", "Ostravik", "Keldscar", "Minarovo"];
    let mut steps = Steps(1996);
    let mut text = String::with_capacity(rows * 150);
    text.push_str(HEADER);
    text.push('\n');
    for row in 0..rows {
        let (diameter_mm, height_mm, pitch_mm) = steps.pick(&BODIES);
        let (temp_max_c, endurance_h) = steps.pick(&[(85, 2000), (105, 2000), (105, 5000), (105, 10000), (125, 4000)]);
        let (ripple_hz, esr_hz) = steps.pick(&[(120, 120), (100_000, 100_000)]);
        let volume_cm3 = diameter_mm * diameter_mm * height_mm / 1000.0;
        let ripple_a = 0.3 * volume_cm3.powf(0.6);
        let esr_mohm = 400.0 / volume_cm3;
        let price = 0.04 + 0.05 * volume_cm3 + 0.0001 * f64::from(u32::try_from(steps.next(100)).unwrap_or_default());
        let _ = writeln!(
            text,
            "{}-{row:07},{},S{},wet,{},{},20,{},-40,{temp_max_c},{endurance_h},ripple,{ripple_a:.3},{ripple_hz},\
             {esr_mohm:.1},{esr_hz},{diameter_mm},{height_mm},{pitch_mm},{price:.4}",
            steps.pick(&["TALUS", "SERAC", "SKARN"]),
            steps.pick(&MAKERS),
            steps.next(40),
            steps.pick(&MOUNTINGS),
            steps.pick(&CAPACITANCES_UF),
            steps.pick(&VOLTS),
        );
    }
    text
}

/// A job of `positions` positions, each another, whose bounds of capacitance, voltage, mounting and body let about 15 % of the parts of
/// [`csv_text`] through; as the text of a job file over `parts.csv`.
pub(crate) fn job_text(positions: usize) -> String {
    const ASKED: [(f64, f64, f64, f64, f64); 5] = [
        // Least µF, most µF, working V, largest Ø mm, largest height mm.
        (10.0, 2200.0, 12.0, 18.5, 37.0),
        (22.0, 10_000.0, 8.0, 17.0, 33.0),
        (4.7, 1000.0, 5.0, 18.5, 37.0),
        (47.0, 10_000.0, 15.0, 18.5, 40.0),
        (33.0, 4700.0, 20.0, 18.5, 37.0),
    ];
    let mut steps = Steps(2026);
    let listed: Vec<String> = (1..=positions)
        .map(|number| {
            let (least_uf, most_uf, working_v, diameter_mm, height_mm) = ASKED[number % ASKED.len()];
            let ripple_a = 0.05 + 0.001 * steps.next(100) as f64;
            let ambient_c = 35 + steps.next(20);
            format!(
                r#"{{"ref":"C{number}","role":"output_filter","original":{{"technology":"wet","mounting":"radial","capacitance_uf":{},"rated_v":50}},
"stress":{{"dc_v":{working_v},"ripple_peak_v":0.1,"ripple":[{{"hz":100000,"a":{ripple_a:.3}}}],"phases":[{{"share":1,"ambient_c":{ambient_c}}}]}},
"needs":{{"capacitance_min_uf":{least_uf},"capacitance_max_uf":{most_uf}}},
"space":{{"diameter_max_mm":{diameter_mm},"height_max_mm":{height_mm},"pitch_mm":5,"pitch_reach_mm":3,"accepts":["snap_in","axial","smd"]}}}}"#,
                least_uf * 2.0
            )
        })
        .collect();
    format!(
        r#"{{"format":"refarad-job","version":1,"name":"Bench","units":4,"hours_per_year":3000,"interval_years":10,"catalogs":["parts.csv"],
"boards":[{{"name":"Board","positions":[{}]}}]}}"#,
        listed.join(
            ",
"
        )
    )
}
