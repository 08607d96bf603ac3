//! A board as a drawing to scale (SVG): one unit of the drawing is one millimetre, also on paper. The drawing of its own is in
//! colours and as large as the board; that of a sheet is black on white and fills the paper.

use super::flat_photo;
use super::notation::escaped;
use super::output::GENERATOR;
use super::photo::Photo;
use crate::domain::{Board, Catalog, Job, Outcome, PositionId, Side};
use crate::files::board_colours::Colours;
use crate::files::board_drawing::{self, Drawing};
use crate::files::board_page::Page;
use crate::files::drawing::{self, Anchor, Area, Ink, Line, SERIES, Shape, TARGET};
use crate::sizing::{BoardMap, Sizing};

const MARGIN_MM: f64 = 5.0;
/// Room for two lines of text below the board.
const FOOT_MM: f64 = 13.0;
/// Least width that holds the text.
const LEAST_WIDTH_MM: f64 = 150.0;
/// Millimetres of paper for a point of letters and lines.
const POINT_MM: f64 = 0.21;

/// The widest drawing on a sheet, mm: fits A4 and Letter in portrait.
pub const SHEET_WIDTH_MM: f64 = 188.0;
/// A drawing on a sheet is not blown up further than this, and one not much larger than life is drawn in its true size.
const SHEET_SCALE_MAX: f64 = 2.5;
const NEAR_TRUE_SIZE: f64 = 1.3;
/// The same as [`POINT_MM`] on a sheet, which is read at arm's length.
const SHEET_POINT_MM: f64 = 0.3;

/// One side of a board as an SVG document: outline, holes, keep-outs, cans as their largest bodies with the original
/// outlined and the chosen part filled, polarity, references, gaps that fall short. The bottom side is drawn as seen from
/// below. Above the cans of `underestimated` stands that their stress is. `None` when the job has no such board.
pub fn document(
    job: &Job,
    catalog: &Catalog,
    sizing: &Sizing,
    board: usize,
    side: Side,
    colours: Colours,
    underestimated: &[PositionId],
) -> Option<String> {
    let map = BoardMap::new(job, catalog, sizing, board, side)?;
    Some(draw(job.boards.get(board)?, catalog, &map, colours, underestimated, None))
}

/// One side of a board for a sheet of paper, over its photo where there is one of that side; `None` where nothing on that side was
/// located. `room_mm` is the width and height of the paper it may fill.
pub fn for_sheet(
    job: &Job,
    catalog: &Catalog,
    sizing: &Sizing,
    (board, side): (usize, Side),
    room_mm: [f64; 2],
    photo: Option<&Photo>,
) -> Option<String> {
    let map = BoardMap::new(job, catalog, sizing, board, side)?;
    let board = job.boards.get(board).filter(|_| map.in_grid < map.cans.len())?;
    let photo = photo.filter(|_| board.photo_side.unwrap_or_default() == side);
    let photo = photo.and_then(|photo| flat_photo::jpeg(photo, board, map.extent_mm));
    Some(draw(board, catalog, &map, Colours::Bench, &[], Some((room_mm, photo.as_deref()))))
}

fn draw(
    board: &Board,
    catalog: &Catalog,
    map: &BoardMap,
    colours: Colours,
    underestimated: &[PositionId],
    paper: Option<([f64; 2], Option<&[u8]>)>,
) -> String {
    let bench = colours == Colours::Bench;
    let [left, bottom, right, top] = map.extent_mm;
    let [across, up] = [right - left, top - bottom];
    let photo = paper.and_then(|(_, photo)| photo);
    let scale = paper.map_or(1.0, |([wide, high], _)| {
        let scale = ((wide - 2.0 * MARGIN_MM) / across).min((high - 2.0 * MARGIN_MM - FOOT_MM) / up);
        if (1.0..NEAR_TRUE_SIZE).contains(&scale) { 1.0 } else { scale.min(SHEET_SCALE_MAX) }
    });
    let mirrored = map.side == Side::Bottom;
    let (width, height) = (across * scale + 2.0 * MARGIN_MM, up * scale + 2.0 * MARGIN_MM + FOOT_MM);
    let width = width.max(LEAST_WIDTH_MM);
    let page = Page {
        at_mm: [if mirrored { right } else { left }, top],
        origin: [MARGIN_MM, MARGIN_MM],
        scale,
        mirrored,
        point: if bench { SHEET_POINT_MM } else { POINT_MM },
        sight: [0.0, 0.0, width, height - FOOT_MM],
    };
    let title = format!("{}, {}", board.name, if mirrored { "bottom seen from below" } else { "top" });
    let drawing = Drawing {
        board,
        map,
        catalog,
        colours,
        underestimated,
        first: &[],
        all_references: true,
        over_photo: photo.is_some(),
        // The width of the letters of the program that shows it is not known: a usual one.
        width: &|text, size| text.chars().count() as f64 * size * 0.6,
    };
    let mut shapes: Vec<Shape> = board_drawing::ground(board, &page).into_iter().collect();
    shapes.extend(drawing.shapes(&page, Vec::new()));
    shapes.push(Shape::Name(title.clone()));
    foot(&mut shapes, &page, &title, map, colours, height);
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.2}mm\" height=\"{height:.2}mm\" \
         viewBox=\"0 0 {width:.2} {height:.2}\" data-generator=\"{GENERATOR}\" font-family=\"sans-serif\" role=\"img\">\n\
         <title>{}</title>\n<rect width=\"{width:.2}\" height=\"{height:.2}\" fill=\"#ffffff\"/>\n",
        escaped(&title)
    );
    if let Some(photo) = photo {
        let (wide, high) = (across * scale, up * scale);
        svg.push_str(&format!(
            "<image x=\"{MARGIN_MM}\" y=\"{MARGIN_MM}\" width=\"{wide:.2}\" height=\"{high:.2}\" href=\"data:image/jpeg;base64,{}\"/>\n",
            flat_photo::base64(photo)
        ));
        // The outline would cover it.
        for shape in &mut shapes {
            if let Shape::Polygon { fill, .. } = shape {
                *fill = fill.filter(|(ink, opacity)| *ink != Ink::Board || *opacity < 1.0);
            }
        }
    }
    write(&mut svg, &shapes, bench);
    svg.push_str("</svg>\n");
    svg
}

/// A length to measure by, and what the drawing shows.
fn foot(out: &mut Vec<Shape>, page: &Page, title: &str, map: &BoardMap, colours: Colours, height: f64) {
    let point = page.point;
    let bench = colours == Colours::Bench;
    let bar_mm =
        if bench { [50.0, 20.0, 10.0].into_iter().find(|bar| bar * page.scale <= 80.0).unwrap_or(5.0) } else { 10.0 };
    let (bar, mut y) = (bar_mm * page.scale, height - FOOT_MM + 2.0);
    let line = Line { ink: Ink::Text, width: point, dashes: None };
    let end = MARGIN_MM + bar;
    let points = vec![[MARGIN_MM, y - 1.0], [MARGIN_MM, y], [end, y], [end, y - 1.0]];
    out.push(Shape::Path { points, line });
    let text = |at, text: String, points: f64| Shape::Text {
        at,
        anchor: Anchor::Left,
        size: points * point,
        text,
        ink: Ink::Text,
        on_ground: false,
    };
    let scale = match page.scale {
        _ if !bench => String::new(),
        1.0 => ", drawn in its true size".to_owned(),
        scale => format!(", drawn {} times its size", crate::sizing::reasons::figure(scale)),
    };
    out.push(text([end + 1.5, y], format!("{bar_mm} mm on the board{scale}; {title}"), 12.0));
    let grid = match map.in_grid {
        0 => String::new(),
        count => format!("; {count} not located stand in a grid, not where they sit"),
    };
    let hatched = if bench { "; hatched: stay out" } else { "" };
    let note =
        format!("filled: new part; dashed: original; bar: negative side; bodies at their largest{hatched}{grid}");
    y += 4.0;
    let mut x = MARGIN_MM;
    for (mark, word, count) in colours.legend(map).into_iter().filter(|_| !bench) {
        drawing::mark(out, [x + 1.5, y], 6.5 * point, mark);
        let words = format!("{count} {word}");
        let wide = words.chars().count() as f64 * 12.0 * point * 0.6;
        out.push(text([x + 4.0, y], words, 12.0));
        x += wide + 8.0;
    }
    out.push(text([MARGIN_MM, y + 4.0], note, 11.0));
}

/// Puts shapes into a document.
pub(super) fn write(svg: &mut String, shapes: &[Shape], bench: bool) {
    let mut open = false;
    for shape in shapes {
        match shape {
            Shape::Circle { at: [x, y], radius, fill, line } => {
                let style = style(*fill, *line, bench);
                svg.push_str(&format!("<circle cx=\"{x:.2}\" cy=\"{y:.2}\" r=\"{radius:.2}\" {style}/>\n"));
            }
            Shape::Polygon { points, fill, line } => {
                svg.push_str(&format!("<polygon points=\"{}\" {}/>\n", joined(points), style(*fill, *line, bench)));
            }
            Shape::Band { upper, lower, fill } => {
                let around: Vec<[f64; 2]> = upper.iter().chain(lower.iter().rev()).copied().collect();
                let style = style(Some(*fill), None, bench);
                svg.push_str(&format!("<polygon points=\"{}\" {style}/>\n", joined(&around)));
            }
            Shape::Path { points, line } => {
                let style = style(None, Some(*line), bench);
                svg.push_str(&format!("<polyline points=\"{}\" {style}/>\n", joined(points)));
            }
            Shape::Text { at, anchor, size, text, ink, on_ground } => {
                let (align, down) = match anchor {
                    Anchor::Top => ("middle", 0.95),
                    Anchor::Bottom => ("middle", -0.3),
                    Anchor::Left => ("start", 0.35),
                    Anchor::Right => ("end", 0.35),
                };
                let (x, y, text) = (at[0], at[1] + size * down, escaped(text));
                let place = format!("x=\"{x:.2}\" y=\"{y:.2}\" text-anchor=\"{align}\" font-size=\"{size:.2}\"");
                if *on_ground {
                    let wide = text.chars().count() as f64 * size * 0.52;
                    let (left, top) = (x - wide / 2.0, y - size * 0.85);
                    let height = size * 1.1;
                    svg.push_str(&format!(
                        "<rect x=\"{left:.2}\" y=\"{top:.2}\" width=\"{wide:.2}\" height=\"{height:.2}\" fill=\"#ffffff\" fill-opacity=\"0.7\"/>\n"
                    ));
                }
                svg.push_str(&format!("<text {place} fill=\"{}\">{text}</text>\n", colour(*ink, bench)));
            }
            Shape::Name(name) => {
                svg.push_str(if open { "</g>\n" } else { "" });
                svg.push_str(&format!("<g><title>{}</title>\n", escaped(name)));
                open = true;
            }
        }
    }
    svg.push_str(if open { "</g>\n" } else { "" });
}

fn joined(points: &[[f64; 2]]) -> String {
    points.iter().map(|[x, y]| format!("{x:.2},{y:.2}")).collect::<Vec<_>>().join(" ")
}

fn style(fill: Option<Area>, line: Option<Line>, bench: bool) -> String {
    let fill = match fill {
        Some((ink, opacity)) if opacity < 1.0 => format!("fill=\"{}\" fill-opacity=\"{opacity}\"", colour(ink, bench)),
        Some((ink, _)) => format!("fill=\"{}\"", colour(ink, bench)),
        None => "fill=\"none\"".to_owned(),
    };
    let Some(line) = line else { return fill };
    let dashes = line.dashes.map_or_else(String::new, |[on, off]| format!(" stroke-dasharray=\"{on:.2} {off:.2}\""));
    format!("{fill} stroke=\"{}\" stroke-width=\"{:.2}\"{dashes}", colour(line.ink, bench), line.width)
}

/// Colours of the outcomes, from best to worst: Okabe and Ito (Color Universal Design, published), for letters and lines the same made darker.
const FILLS: [&str; Outcome::ALL.len()] = ["#009e73", "#e69f00", "#56b4e9", "#d55e00"];
const LINES: [&str; Outcome::ALL.len()] = ["#006247", "#7d5200", "#005586", "#a04000"];

fn colour(ink: Ink, bench: bool) -> String {
    let fixed = match ink {
        Ink::Series(at) => return format!("#{:06x}", SERIES[at % SERIES.len()]),
        Ink::Target => return format!("#{TARGET:06x}"),
        Ink::Focus => "#0072b2",
        Ink::Paper => "#ffffff",
        Ink::Board if bench => "#ffffff",
        Ink::Board => "#f2f4f6",
        Ink::Line => "#c6ccd3",
        _ if bench => "#000000",
        Ink::Text => "#1a1e23",
        Ink::Weak => "#515962",
        Ink::Of(outcome) => LINES[outcome as usize],
        Ink::Fill(outcome) => FILLS[outcome as usize],
    };
    fixed.to_owned()
}
