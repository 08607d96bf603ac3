//! A large invented catalogue: plausible figures in E-series and standard-voltage steps, the same every time.

use std::fmt::Write as _;

/// Columns of the invented file; twenty, as in a distributor's list brought to canonical headers.
pub(crate) const HEADER: &str = "part_number,maker,series,technology,mounting,capacitance_uf,tolerance_pct,rated_v,temp_min_c,\
temp_max_c,endurance_h,endurance_basis,ripple_a,ripple_hz,esr_mohm,esr_hz,diameter_mm,height_mm,pitch_mm,unit_price";

/// SplitMix64, Sebastiano Vigna, public domain: small, and the same on every machine.
struct Steps(u64);

impl Steps {
    fn next(&mut self, choices: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        usize::try_from((z ^ (z >> 31)) % choices as u64).unwrap_or_default()
    }

    fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.next(from.len())]
    }
}

/// The text of a catalogue with `rows` parts; every figure invented.
pub(crate) fn csv_text(rows: usize) -> String {
    const E12: [f64; 12] = [1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2];
    const VOLTS: [f64; 13] = [6.3, 10., 16., 25., 35., 50., 63., 100., 160., 200., 250., 400., 450.];
    const BODIES: [(f64, f64, f64); 12] = [
        (5.0, 11.0, 2.0),
        (6.3, 11.0, 2.5),
        (8.0, 11.5, 3.5),
        (8.0, 16.0, 3.5),
        (10.0, 12.5, 5.0),
        (10.0, 20.0, 5.0),
        (12.5, 20.0, 5.0),
        (12.5, 25.0, 5.0),
        (16.0, 25.0, 7.5),
        (16.0, 31.5, 7.5),
        (18.0, 35.5, 7.5),
        (18.0, 40.0, 7.5),
    ];
    const MOUNTINGS: [&str; 6] = ["radial", "radial", "radial", "smd", "snap_in", "axial"];
    const MAKERS: [&str; 5] = ["Halvenbeck", "Torrelume", "Ostravik", "Keldscar", "Minarovo"];
    let mut steps = Steps(1996);
    let mut text = String::with_capacity(rows * 150);
    text.push_str(HEADER);
    text.push('\n');
    for row in 0..rows {
        let capacitance_uf = steps.pick(&E12) * 10f64.powi(i32::try_from(steps.next(5)).unwrap_or_default() - 1);
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
            steps.pick(&["QX", "RB", "TV"]),
            steps.pick(&MAKERS),
            steps.next(40),
            steps.pick(&MOUNTINGS),
            (capacitance_uf * 100.0).round() / 100.0,
            steps.pick(&VOLTS),
        );
    }
    text
}
