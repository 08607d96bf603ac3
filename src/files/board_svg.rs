//! A board as a drawing to scale (SVG): one unit of the drawing is one millimetre, also on paper. The drawing of its own is in
//! colours by outcome and as large as the board; that of a sheet is black on white and fills the paper.

use crate::domain::{Board, Catalog, Job, Outcome, PositionId, Side};
use crate::sizing::{BoardMap, CanOnMap, Footprint, Placed, Reserved, Sizing, Source};

const MARGIN_MM: f64 = 5.0;
/// Room for two lines of text below the board.
const FOOT_MM: f64 = 13.0;
/// Least width that holds the text.
const LEAST_WIDTH_MM: f64 = 110.0;

/// Colours of the outcomes, for lines and for areas: Okabe and Ito (Color Universal Design, published), and the same made
/// lighter.
fn look(outcome: Outcome) -> (&'static str, &'static str) {
    match outcome {
        Outcome::Pass => ("#009E73", "#B2E1D5"),
        Outcome::Marginal => ("#E69F00", "#F7E2B2"),
        Outcome::Unknown => ("#56B4E9", "#CCE8F8"),
        Outcome::Fail => ("#D55E00", "#F2CEB2"),
    }
}

/// The mark of an outcome around a point of the page, drawn, since not every font has such letters: tick, triangle, diamond,
/// cross in a square.
fn mark(svg: &mut String, [x, y]: [f64; 2], outcome: Outcome) {
    let path = match outcome {
        Outcome::Pass => "m-1.1 0l0.8 0.9l1.4 -1.7",
        Outcome::Marginal => "m0 -1.1l1.2 2.1h-2.4z",
        Outcome::Unknown => "m0 -1.2l1.2 1.2l-1.2 1.2l-1.2 -1.2z",
        Outcome::Fail => "m-1.1 -1.1h2.2v2.2h-2.2zl2.2 2.2m0 -2.2l-2.2 2.2",
    };
    svg.push_str(&format!(
        "<path d=\"M{x:.2} {y:.2}{path}\" fill=\"none\" stroke=\"#1a1e23\" stroke-width=\"0.35\"/>\n"
    ));
}

/// How a drawing is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Look {
    /// Colours and marks by outcome, as large as the board.
    Outcomes,
    /// Black on white for the bench, as large as the paper takes it; + drawn beside the bar of the negative side.
    Bench,
}

/// Largest drawing on a sheet, mm: fits A4 and Letter in landscape below a heading.
const SHEET_MM: [f64; 2] = [255.0, 148.0];
/// A drawing on a sheet is not blown up further than this.
const SHEET_SCALE_MAX: f64 = 2.5;
/// Height of the letters on a sheet, mm.
const SHEET_LETTER_MM: f64 = 3.6;

/// One side of a board as an SVG document: outline, holes, keep-outs, cans as their largest bodies with the original
/// outlined and the chosen part filled, polarity, references, gaps that fall short. The bottom side is drawn as seen from
/// below. Above the cans of `underestimated` stands that their stress is. `None` when the job has no such board.
#[must_use]
pub fn document(
    job: &Job,
    catalog: &Catalog,
    sizing: &Sizing,
    board: usize,
    side: Side,
    underestimated: &[PositionId],
) -> Option<String> {
    draw(job, &BoardMap::new(job, catalog, sizing, board, side)?, board, Look::Outcomes, underestimated)
}

/// One side of a board for a sheet of paper; `None` where nothing on that side was located.
#[must_use]
pub fn for_sheet(job: &Job, catalog: &Catalog, sizing: &Sizing, board: usize, side: Side) -> Option<String> {
    let map = BoardMap::new(job, catalog, sizing, board, side)?;
    if map.in_grid == map.cans.len() {
        return None;
    }
    draw(job, &map, board, Look::Bench, &[])
}

fn draw(job: &Job, map: &BoardMap, board: usize, look: Look, underestimated: &[PositionId]) -> Option<String> {
    let of = job.boards.get(board)?;
    let [left, bottom, right, top] = map.extent_mm;
    let [across, up] = [right - left, top - bottom];
    let scale = match look {
        Look::Outcomes => 1.0,
        Look::Bench => {
            let room = [SHEET_MM[0] - 2.0 * MARGIN_MM, SHEET_MM[1] - 2.0 * MARGIN_MM - FOOT_MM];
            (room[0] / across).min(room[1] / up).min(SHEET_SCALE_MAX)
        }
    };
    let page = Page { left, right, top, mirrored: map.side == Side::Bottom, scale, look };
    let (width, height) = (across * scale + 2.0 * MARGIN_MM, up * scale + 2.0 * MARGIN_MM + FOOT_MM);
    let width = width.max(LEAST_WIDTH_MM);
    let title = format!("{}, {}", escaped(&of.name), if page.mirrored { "bottom seen from below" } else { "top" });
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.2}mm\" height=\"{height:.2}mm\" \
         viewBox=\"0 0 {width:.2} {height:.2}\" font-family=\"sans-serif\" font-size=\"2.6\" role=\"img\">\n\
         <title>{title}</title>\n<rect width=\"{width:.2}\" height=\"{height:.2}\" fill=\"#ffffff\"/>\n"
    );
    frame(&mut svg, &page, of);
    for can in &map.behind {
        body(
            &mut svg,
            &page,
            &can.body(),
            "fill=\"none\" stroke=\"#9aa3ad\" stroke-width=\"0.15\" stroke-dasharray=\"0.8 0.8\"",
        );
    }
    for can in &map.cans {
        one(&mut svg, &page, job, can);
    }
    for gap in &map.short_gaps {
        let [[x1, y1], [x2, y2]] = gap.ends_mm.map(|end| page.at(end));
        let ink = if look == Look::Bench { "#000000" } else { "#a04000" };
        svg.push_str(&format!(
            "<line x1=\"{x1:.2}\" y1=\"{y1:.2}\" x2=\"{x2:.2}\" y2=\"{y2:.2}\" stroke=\"{ink}\" stroke-width=\"0.5\"/>\n\
             <text x=\"{:.2}\" y=\"{:.2}\" text-anchor=\"middle\" fill=\"{ink}\">{}</text>\n",
            (x1 + x2) / 2.0,
            (y1 + y2) / 2.0 - 1.0,
            gap_words(gap.gap_mm),
        ));
    }
    for found in &map.keepout_violations {
        if let Some(can) = map.can(found.id) {
            let words = trespass_words(found);
            let ink = if look == Look::Bench { "#000000" } else { "#a04000" };
            above(&mut svg, &page, can, &words, ink);
        }
    }
    // References last, so that no neighbour covers them.
    for can in &map.cans {
        reference(&mut svg, &page, can);
        if underestimated.contains(&can.id) {
            above(&mut svg, &page, can, "stress underestimated", "#a04000");
        }
    }
    match look {
        Look::Outcomes => foot(&mut svg, &title, map, height),
        Look::Bench => sheet_foot(&mut svg, &page, map, height),
    }
    svg.push_str("</svg>\n");
    Some(svg)
}

/// A gap that falls short, in words: `gap 0.4 mm`, `overlap 1.2 mm`.
#[must_use]
pub fn gap_words(gap_mm: f64) -> String {
    let words = if gap_mm < 0.0 { "overlap" } else { "gap" };
    let hundredths = format!("{:.2}", gap_mm.abs());
    format!("{words} {} mm", hundredths.trim_end_matches('0').trim_end_matches('.'))
}

struct Page {
    left: f64,
    right: f64,
    top: f64,
    mirrored: bool,
    /// Millimetres of the drawing for one of the board.
    scale: f64,
    look: Look,
}

impl Page {
    fn at(&self, [x_mm, y_mm]: [f64; 2]) -> [f64; 2] {
        let x = if self.mirrored { self.right - x_mm } else { x_mm - self.left };
        [x * self.scale + MARGIN_MM, (self.top - y_mm) * self.scale + MARGIN_MM]
    }

    /// A rectangle given by two opposite corners: x, y, width, height on the page.
    fn area(&self, a: [f64; 2], b: [f64; 2]) -> String {
        let ([ax, ay], [bx, by]) = (self.at(a), self.at(b));
        let (left, top, width, height) = (ax.min(bx), ay.min(by), (ax - bx).abs(), (ay - by).abs());
        format!("x=\"{left:.2}\" y=\"{top:.2}\" width=\"{width:.2}\" height=\"{height:.2}\"")
    }
}

fn frame(svg: &mut String, page: &Page, board: &Board) {
    if let Some([width_mm, height_mm]) = board.outline_mm {
        let area = page.area([0.0, 0.0], [width_mm, height_mm]);
        let (fill, ink) = match page.look {
            Look::Outcomes => ("#f2f4f6", "#515962"),
            Look::Bench => ("#ffffff", "#000000"),
        };
        svg.push_str(&format!("<rect {area} rx=\"1\" fill=\"{fill}\" stroke=\"{ink}\" stroke-width=\"0.4\"/>\n"));
    }
    for &[x, y, width, height] in &board.keepouts_mm {
        let area = page.area([x, y], [x + width, y + height]);
        svg.push_str(&format!(
            "<rect {area} fill=\"#e6e9ed\" stroke=\"#8a939c\" stroke-width=\"0.2\" stroke-dasharray=\"1.5 1\"><title>keep out</title></rect>\n"
        ));
    }
    for &[x, y, diameter] in &board.holes_mm {
        let [cx, cy] = page.at([x, y]);
        svg.push_str(&format!(
            "<circle cx=\"{cx:.2}\" cy=\"{cy:.2}\" r=\"{:.2}\" fill=\"#ffffff\" stroke=\"#515962\" stroke-width=\"0.2\"/>\n",
            diameter / 2.0 * page.scale
        ));
    }
}

fn body(svg: &mut String, page: &Page, placed: &Placed, style: &str) {
    match placed.footprint {
        Footprint::Round { diameter_mm } => {
            let [cx, cy] = page.at(placed.centre_mm);
            let r = diameter_mm / 2.0 * page.scale;
            svg.push_str(&format!("<circle cx=\"{cx:.2}\" cy=\"{cy:.2}\" r=\"{r:.2}\" {style}/>\n"));
        }
        Footprint::Lying { .. } => {
            let points = placed.corners_mm().map(|corner| page.at(corner));
            let points: Vec<String> = points.iter().map(|[x, y]| format!("{x:.2},{y:.2}")).collect();
            svg.push_str(&format!("<polygon points=\"{}\" {style}/>\n", points.join(" ")));
        }
    }
}

fn one(svg: &mut String, page: &Page, job: &Job, can: &CanOnMap) {
    let (colour, tint, thick) = match page.look {
        Look::Outcomes => {
            let (colour, tint) = look(can.verdict);
            (colour, tint, 0.3)
        }
        Look::Bench => ("#000000", "#dddddd", 0.45),
    };
    let label = job.position(can.id).and_then(|p| p.pick.as_deref()).map(escaped);
    let part = label.map_or_else(|| source_word(can.source).to_owned(), |pick| format!("{pick} picked"));
    svg.push_str(&format!("<g><title>{}: {part}; {}</title>\n", escaped(&can.reference), can.verdict.word()));
    if let Some(chosen) = can.chosen {
        let style = format!("fill=\"{tint}\" stroke=\"{colour}\" stroke-width=\"{thick}\"");
        body(svg, page, &can.placed(chosen), &style);
    }
    let outline = can.original.or_else(|| can.chosen.is_none().then(|| can.body().footprint));
    if let Some(original) = outline {
        body(
            svg,
            page,
            &can.placed(original),
            "fill=\"none\" stroke=\"#1a1e23\" stroke-width=\"0.25\" stroke-dasharray=\"1.2 0.8\"",
        );
    }
    let placed = can.body();
    if let Some((from, to)) = negative_band(can, &placed) {
        let ([x1, y1], [x2, y2]) = (page.at(from), page.at(to));
        svg.push_str(&format!(
            "<line x1=\"{x1:.2}\" y1=\"{y1:.2}\" x2=\"{x2:.2}\" y2=\"{y2:.2}\" stroke=\"#1a1e23\" stroke-width=\"0.9\"/>\n"
        ));
        if page.look == Look::Bench {
            plus(svg, page, can, &placed);
        }
    }
    if page.look == Look::Outcomes {
        mark(svg, page.at(can.centre_mm), can.verdict);
    }
    svg.push_str("</g>\n");
}

/// A + at the positive end of a body.
fn plus(svg: &mut String, page: &Page, can: &CanOnMap, placed: &Placed) {
    /// Where it stands between the centre and the edge.
    const AT: f64 = 0.74;
    let half_mm = placed.footprint.size_mm()[0] / 2.0;
    let ([rx, ry], _) = placed.axes();
    let [cx, cy] = can.centre_mm;
    let [x, y] = page.at([cx + rx * half_mm * AT, cy + ry * half_mm * AT]);
    let arm = (half_mm * page.scale * 0.2).min(1.6);
    svg.push_str(&format!(
        "<path d=\"M{:.2} {y:.2}h{:.2}M{x:.2} {:.2}v{:.2}\" stroke=\"#000000\" stroke-width=\"0.5\"/>\n",
        x - arm,
        2.0 * arm,
        y - arm,
        2.0 * arm
    ));
}

/// A few words above a can.
fn above(svg: &mut String, page: &Page, can: &CanOnMap, words: &str, ink: &str) {
    let [x, y] = page.at(can.centre_mm);
    let reach_mm =
        can.original.map_or(0.0, |original| original.size_mm()[1]).max(can.body().footprint.size_mm()[1]) / 2.0;
    svg.push_str(&format!(
        "<text x=\"{x:.2}\" y=\"{:.2}\" text-anchor=\"middle\" font-size=\"2.2\" fill=\"{ink}\">{words}</text>\n",
        y - reach_mm * page.scale - 0.8
    ));
}

fn reference(svg: &mut String, page: &Page, can: &CanOnMap) {
    let name = escaped(&can.reference);
    let [x, y] = page.at(can.centre_mm);
    let placed = can.body();
    let [along_mm, across_mm] = placed.footprint.size_mm();
    let below_mm = match placed.footprint {
        Footprint::Round { diameter_mm } => diameter_mm / 2.0 * page.scale,
        Footprint::Lying { .. } => {
            placed.corners_mm().map(|corner| page.at(corner)[1] - y).into_iter().fold(0.0, f64::max)
        }
    };
    let (y, style) = match page.look {
        Look::Outcomes => (y + if across_mm >= 9.0 { 4.0 } else { below_mm.max(1.2) + 2.8 }, String::new()),
        Look::Bench => {
            let wide_mm = can.reference.chars().count() as f64 * SHEET_LETTER_MM * 0.62;
            // Bar and + take the outer part of the body.
            let fits = along_mm.min(across_mm) * page.scale * 0.42 > wide_mm.max(SHEET_LETTER_MM);
            let y = if fits { y + SHEET_LETTER_MM * 0.36 } else { y - below_mm - SHEET_LETTER_MM * 0.25 };
            (y, format!(" font-size=\"{SHEET_LETTER_MM}\""))
        }
    };
    let mut text = |look: &str| {
        svg.push_str(&format!(
            "<text x=\"{x:.2}\" y=\"{y:.2}\" text-anchor=\"middle\" font-weight=\"bold\" {look}{style}>{name}</text>\n"
        ));
    };
    if page.look == Look::Bench {
        // A text of its own: not every program that shows drawings can put the stroke of a letter behind it.
        text("fill=\"#ffffff\" stroke=\"#ffffff\" stroke-width=\"0.8\" aria-hidden=\"true\"");
    }
    text("fill=\"#1a1e23\"");
}

/// A length to measure by, and what the drawing shows.
fn sheet_foot(svg: &mut String, page: &Page, map: &BoardMap, height: f64) {
    let bar_mm = [50.0, 20.0, 10.0, 5.0].into_iter().find(|bar| bar * page.scale <= 80.0).unwrap_or(5.0);
    let (bar, y) = (bar_mm * page.scale, height - FOOT_MM + 4.0);
    let from = if page.mirrored { "below" } else { "the component side" };
    let scale = crate::sizing::reasons::figure(page.scale);
    let grid = match map.in_grid {
        0 => String::new(),
        count => format!("; {count} not located stand in a grid beside the board"),
    };
    svg.push_str(&format!(
        "<path d=\"M{MARGIN_MM} {y:.2}h{bar:.2}m0 -1v2m-{bar:.2} -2v2\" stroke=\"#000000\" stroke-width=\"0.6\" fill=\"none\"/>\n\
         <text x=\"{:.2}\" y=\"{:.2}\" font-size=\"{SHEET_LETTER_MM}\">{bar_mm} mm on the board</text>\n\
         <text x=\"{MARGIN_MM}\" y=\"{:.2}\" font-size=\"3\">drawn {scale} times its size, seen from {from}{grid}</text>\n",
        MARGIN_MM + bar + 3.0,
        y + 1.2,
        y + 6.5
    ));
}

fn source_word(source: Source) -> &'static str {
    match source {
        Source::Pick => "picked",
        Source::Proposed => "proposed part",
        Source::None => "no part",
    }
}

/// The band that marks the negative side of a body: its two ends, mm; `None` without a polarity or a known direction.
#[must_use]
pub fn negative_band(can: &CanOnMap, placed: &Placed) -> Option<([f64; 2], [f64; 2])> {
    /// Where the band lies between the centre and the edge.
    const AT: f64 = 0.78;
    can.rotation_deg.filter(|_| can.polarised)?;
    let [along_mm, across_mm] = placed.footprint.size_mm().map(|side| side / 2.0);
    let half_mm = match placed.footprint {
        Footprint::Round { .. } => across_mm * (1.0 - AT * AT).sqrt(),
        Footprint::Lying { .. } => across_mm,
    };
    let ([rx, ry], [ux, uy]) = placed.axes();
    let [cx, cy] = placed.centre_mm;
    let end =
        |sign: f64| [cx - rx * along_mm * AT + ux * half_mm * sign, cy - ry * along_mm * AT + uy * half_mm * sign];
    Some((end(-1.0), end(1.0)))
}

fn foot(svg: &mut String, title: &str, map: &BoardMap, height: f64) {
    let y = height - FOOT_MM + 2.0;
    svg.push_str(&format!(
        "<path d=\"M{MARGIN_MM} {:.2}v1.2h10v-1.2\" fill=\"none\" stroke=\"#1a1e23\" stroke-width=\"0.25\"/>\n\
         <text x=\"{:.2}\" y=\"{y:.2}\">10 mm</text>\n<text x=\"{:.2}\" y=\"{y:.2}\" font-weight=\"bold\">{title}</text>\n",
        y - 1.2,
        MARGIN_MM + 11.5,
        MARGIN_MM + 24.0
    ));
    let mut x = MARGIN_MM;
    for outcome in Outcome::ALL {
        let (colour, tint) = look(outcome);
        let count = map.cans.iter().filter(|can| can.verdict == outcome).count();
        let centre = [x + 2.0, y + 3.8];
        svg.push_str(&format!(
            "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"1.8\" fill=\"{tint}\" stroke=\"{colour}\" stroke-width=\"0.3\"/>\n",
            centre[0], centre[1]
        ));
        mark(svg, centre, outcome);
        svg.push_str(&format!("<text x=\"{:.2}\" y=\"{:.2}\">{count} {}</text>\n", x + 4.6, y + 4.7, outcome.word()));
        x += 25.0;
    }
    let note = if map.in_grid > 0 {
        "dashed: original; filled: new part; cans without coordinates stand in a grid, not where they sit"
    } else {
        "dashed: original; filled: new part; bar: negative side; bodies at their largest"
    };
    svg.push_str(&format!(
        "<text x=\"{MARGIN_MM}\" y=\"{:.2}\" fill=\"#515962\" font-size=\"2.2\">{note}</text>\n",
        y + 8.5
    ));
}

/// A file name for the map of a board, without its ending: letters and digits of the board's name.
#[must_use]
pub fn file_stem(board: &Board, side: Side) -> String {
    let name: String = board.name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    let side = if side == Side::Bottom { "bottom" } else { "top" };
    format!("{}-{side}", if name.is_empty() { "board" } else { &name })
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// The positions whose gap to a neighbour falls short, for lists beside a drawing: reference, reference and the gap.
#[must_use]
pub fn short_gaps(map: &BoardMap, job: &Job) -> Vec<String> {
    let name = |id: PositionId| job.position(id).map_or("", |position| position.reference.as_str());
    let words = |gap: &crate::sizing::Gap| {
        let [a, b] = gap.between;
        format!("{} and {}: {}", name(a), name(b), gap_words(gap.gap_mm))
    };
    map.short_gaps.iter().map(words).collect()
}

/// The positions whose body stands where none may: reference, what it stands on and how far it reaches in.
#[must_use]
pub fn keepout_violations(map: &BoardMap, job: &Job) -> Vec<String> {
    let words = |found: &crate::sizing::KeepoutViolation| {
        let name = job.position(found.id).map_or("", |position| position.reference.as_str());
        format!("{name} {}", trespass_words(found))
    };
    map.keepout_violations.iter().map(words).collect()
}

/// What a body stands on that must stay free, and how far it reaches in.
#[must_use]
pub fn trespass_words(found: &crate::sizing::KeepoutViolation) -> String {
    let what = match found.on {
        Reserved::KeepOut => "a keep-out",
        Reserved::Hole => "a mounting hole",
    };
    format!("over {what} by {} mm", (found.by_mm * 10.0).round() / 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{Can, Mounting, Original, Position};

    fn at(reference: &str, x_mm: f64, mounting: Mounting) -> Position {
        let can =
            Can { diameter_max_mm: Some(10.0), height_max_mm: Some(30.0), mounting: Some(mounting), ..Can::default() };
        Position {
            reference: reference.into(),
            x_mm: Some(x_mm),
            y_mm: Some(20.0),
            rotation_deg: Some(90.0),
            original: Original { can, ..Original::default() },
            ..Position::default()
        }
    }

    fn svg(positions: Vec<Position>, side: Side) -> String {
        let board = Board { name: "A & B".into(), outline_mm: Some([120.0, 80.0]), positions, ..Board::default() };
        let job = Job { boards: vec![board], ..Job::default() };
        document(&job, &Catalog::default(), &Sizing::default(), 0, side, &[]).unwrap()
    }

    #[test]
    fn the_drawing_is_to_scale_and_names_are_escaped() {
        let drawing = svg(vec![at("<C1>", 30.0, Mounting::Radial)], Side::Top);
        assert!(drawing.contains("width=\"130.00mm\" height=\"103.00mm\" viewBox=\"0 0 130.00 103.00\""));
        // 5 mm of margin; y counts from the top.
        assert!(drawing.contains("<circle cx=\"35.00\" cy=\"65.00\" r=\"5.00\" fill=\"none\""), "{drawing}");
        assert!(drawing.contains("A &amp; B, top") && drawing.contains(">&lt;C1&gt;</text>"));
    }

    #[test]
    fn an_axial_can_lies_along_its_rotation() {
        let drawing = svg(vec![at("C1", 30.0, Mounting::Axial)], Side::Top);
        assert!(drawing.contains("<polygon points=\"40.00,80.00 40.00,50.00 30.00,50.00 30.00,80.00\""), "{drawing}");
    }

    #[test]
    fn the_bottom_is_seen_from_below() {
        let below = Position { side: Some(Side::Bottom), ..at("C1", 30.0, Mounting::Radial) };
        let drawing = svg(vec![below], Side::Bottom);
        assert!(drawing.contains("cx=\"95.00\" cy=\"65.00\""), "{drawing}");
        assert!(drawing.contains("bottom seen from below"));
    }

    #[test]
    fn a_gap_that_falls_short_is_drawn_with_its_figure() {
        let drawing = svg(vec![at("C1", 30.0, Mounting::Radial), at("C2", 40.4, Mounting::Radial)], Side::Top);
        assert!(drawing.contains(">gap 0.4 mm</text>"));
        let drawing = svg(vec![at("C1", 30.0, Mounting::Radial), at("C2", 38.0, Mounting::Radial)], Side::Top);
        assert!(drawing.contains(">overlap 2 mm</text>"));
    }
    #[test]
    fn a_can_over_a_keep_out_says_so_on_both_drawings() {
        let positions = vec![at("C1", 30.0, Mounting::Radial)];
        let keepouts_mm = vec![[33.0, 0.0, 20.0, 60.0]];
        let board = Board { outline_mm: Some([120.0, 80.0]), keepouts_mm, positions, ..Board::default() };
        let job = Job { boards: vec![board], ..Job::default() };
        let (catalog, sizing) = (Catalog::default(), Sizing::default());
        let drawing = document(&job, &catalog, &sizing, 0, Side::Top, &[]).unwrap();
        assert!(drawing.contains(">over a keep-out by 2 mm</text>"), "{drawing}");
        let sheet = for_sheet(&job, &catalog, &sizing, 0, Side::Top).unwrap();
        assert!(sheet.contains(">over a keep-out by 2 mm</text>"), "{sheet}");
    }
}
