//! `refarad trace`: the rims of cans in a photo, as CSV.

use std::path::PathBuf;
use std::process::ExitCode;

use crate::files::{photo, trace};

use super::failure::Failure;

/// Arguments of `refarad trace`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// Photo of a board (PNG or JPEG)
    photo: PathBuf,
    /// Rough circle around a can: centre from the upper left corner of the photo as it is stored, and radius, pixels; several after
    /// each other or in several --start
    #[arg(long, value_name = "X,Y,R", required_unless_present = "find", allow_hyphen_values = true)]
    start: Vec<String>,
    /// Further circles after a --start
    #[arg(value_name = "X,Y,R", conflicts_with = "find")]
    more: Vec<String>,
    /// Propose cans instead: screws and inductors among them, cans missing
    #[arg(long, conflicts_with = "start")]
    find: bool,
    /// Surface-mounted cans: bare metal to the rim
    #[arg(long)]
    smd: bool,
    /// Scale of the photo at the tops of the cans, mm for a pixel
    #[arg(long, value_name = "S", requires = "diameter_mm", allow_hyphen_values = true)]
    mm_per_px: Option<String>,
    /// Least and largest diameter of the cans, mm, such as 8-12.5
    #[arg(long, value_name = "LO-HI", requires = "mm_per_px", allow_hyphen_values = true)]
    diameter_mm: Option<String>,
}

pub(super) fn run(args: &Args) -> Result<ExitCode, Failure> {
    let known = trace::Known { smd: args.smd, r_px: radii_px(args)? };
    let mut starts = Vec::new();
    if args.start.len() > 1 && !args.more.is_empty() {
        return Err(Failure::expected("--start", "all circles after one --start, or each in its own"));
    }
    for words in args.start.iter().chain(&args.more) {
        starts.extend(circles(words)?.into_iter().map(|circle| (words, circle)));
    }
    let (photo, turned) = photo::read_as_stored(&args.photo)?;
    let (width, height) = (photo.width_px, photo.height_px);
    for (words, start) in &starts {
        if start.x_px < 0.0 || start.y_px < 0.0 || start.x_px > width as f64 || start.y_px > height as f64 {
            let what = format!("a centre within the photo, which has {width} x {height} pixels");
            return Err(Failure::expected(format!("--start {words}"), what));
        }
        if start.r_px > width.max(height) as f64 {
            let what = format!("a radius smaller than the photo, which has {width} x {height} pixels");
            return Err(Failure::expected(format!("--start {words}"), what));
        }
    }
    if turned {
        tell!(
            "note: the camera noted that the photo is to be turned; x and y count in it as it is stored, not turned."
        );
    }
    let found = if args.find {
        trace::find(&photo, &known)
    } else {
        starts.iter().map(|(_, start)| trace::snap(&photo, *start, &known)).collect()
    };
    say!("x,y,r");
    for circle in found {
        say!("{:.1},{:.1},{:.1}", circle.x_px, circle.y_px, circle.r_px);
    }
    Ok(ExitCode::SUCCESS)
}

/// Circles as typed: three numbers each.
fn circles(words: &str) -> Result<Vec<trace::Circle>, Failure> {
    let number = |word: &str| word.trim().parse().ok().filter(|v: &f64| v.is_finite());
    let numbers: Option<Vec<f64>> = words.split([',', ';']).map(number).collect();
    let (threes, rest) = numbers.as_deref().unwrap_or_default().as_chunks::<3>();
    if threes.is_empty() || !rest.is_empty() || threes.iter().any(|three| three[2] <= 0.0) {
        let what = "three numbers in pixels, X,Y,R, with R above 0, such as 640,412.5,80";
        return Err(Failure::expected(format!("--start {words}"), what));
    }
    Ok(threes.iter().map(|&[x_px, y_px, r_px]| trace::Circle { x_px, y_px, r_px }).collect())
}

/// The radii the cans may have.
fn radii_px(args: &Args) -> Result<Option<[f64; 2]>, Failure> {
    let (Some(scale), Some(words)) = (&args.mm_per_px, &args.diameter_mm) else { return Ok(None) };
    let number = scale.trim().parse().ok().filter(|v: &f64| v.is_finite() && *v > 0.0);
    let scale = number.ok_or_else(|| Failure::expected(format!("--mm-per-px {scale}"), "a number above 0"))?;
    let ends = words.split_once('-').and_then(|(lo, hi)| Some([lo.trim().parse().ok()?, hi.trim().parse().ok()?]));
    match ends {
        Some([lo, hi]) if lo > 0.0 && lo <= hi && f64::is_finite(hi) => Ok(Some([lo, hi].map(|mm| mm / 2.0 / scale))),
        _ => {
            let what = "two diameters in mm, the smaller first, such as 8-12.5";
            Err(Failure::expected(format!("--diameter-mm {words}"), what))
        }
    }
}
