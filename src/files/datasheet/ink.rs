//! What can be seen on a page of a PDF file: its glyphs, its ruling lines, its picture.
//!
//! A glyph counts as seen when its shape, drawn by itself, shows in the picture of the page in its own paint. That one test finds white and
//! transparent text, text under a clip, under a later picture or fill, and text behind a scan.

use std::collections::HashMap;
use std::rc::Rc;

use hayro::hayro_interpret::font::{Glyph, GlyphRun};
use hayro::hayro_interpret::hayro_cmap::BfString;
use hayro::hayro_interpret::hayro_syntax::{Pdf, page::Page as PdfPage};
use hayro::hayro_interpret::util::TransformExt;
use hayro::hayro_interpret::{
    BlendMode, CacheKey, ClipPath, Context, Device, DrawMode, DrawProps, Image, ImageDrawProps, InterpreterCache,
    InterpreterSettings, Paint, SoftMask, interpret_page,
};
use hayro::kurbo::{Affine, BezPath, PathEl, Point, Rect as Area, Shape};
use hayro::vello_cpu::color::palette::css::{BLACK, WHITE};
use hayro::vello_cpu::{Pixmap, RenderContext};
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
use image::{DynamicImage, ImageFormat};

use super::page::{FIRST_SIGN, Page, RULINGS_MAX, Rect, Ruling, SIDE_PT_MAX, SIGNS_MAX, Sign, WORDS_MAX};
use super::seen::{Drawn, flushed, is_seen, own_mask, seen};
use super::words::{self, Letter};

/// Longest side of a picture, in pixels.
const PICTURE_PX_MAX: f32 = 4000.0;
/// Resolution at which letters are compared with the picture, in pixels per inch.
const COMPARE_DPI: f32 = 144.0;
/// Most glyphs of a page: five letters for each word.
const GLYPHS_MAX: usize = 5 * WORDS_MAX;
/// Widest filled bar that is a ruling line, in points.
const BAR_PT_MAX: f64 = 2.5;
/// Shortest ruling line, in points.
const RULING_PT_MIN: f64 = 3.0;
/// Most letters of a page whose shape is drawn alone.
const ALONE_MAX: usize = 20_000;
/// Share of a page that a picture covers when the page is a scan.
const SCAN_SHARE: f64 = 0.5;

struct Ink {
    glyphs: Vec<Drawn>,
    rulings: Vec<Ruling>,
    signs: Vec<Sign>,
    sign_of: HashMap<u128, usize>,
    outlines: HashMap<u128, Rc<BezPath>>,
    clips: Vec<Area>,
    mask: RenderContext,
    scale: f64,
    invisible: usize,
    pictures_pt2: f64,
    too_much: Option<String>,
}

/// Reads a page, from 1.
///
/// # Errors
/// In words, when the file is no PDF that can be read or the page has more than is read.
pub(super) fn read(bytes: &[u8], number: usize) -> Result<Page, String> {
    let pdf = open(bytes)?;
    let page = page_of(&pdf, number)?;
    let (width, height) = page.render_dimensions();
    let scale = scale_for(width, height, COMPARE_DPI)?;
    let settings = InterpreterSettings::default();
    let ink = interpreted(page, scale);
    if let Some(too_much) = ink.too_much {
        return Err(format!("page {number}: {too_much}"));
    }
    let all = ink.glyphs.len() + ink.invisible;
    let pictured = ink.pictures_pt2 >= SCAN_SHARE * f64::from(width) * f64::from(height);
    let turn = words::turn(ink.glyphs.iter().map(|glyph| &glyph.letter));
    // A page whose letters are not even meant to be seen need not be drawn.
    let glyphs = if pictured && ink.glyphs.len() * 4 < all { Vec::new() } else { ink.glyphs };
    let shown: Vec<bool> = if glyphs.is_empty() {
        Vec::new()
    } else {
        let (picture, mask) = (paint(page, &settings, scale), flushed(ink.mask));
        // Other letters may lie over the shape of one; then its own shape alone decides.
        let mut alone = ALONE_MAX;
        let mut is_shown = |glyph: &Drawn| {
            is_seen(glyph, &picture, &mask, (0, 0), scale) || {
                alone = alone.saturating_sub(1);
                let own = if alone > 0 { own_mask(glyph, scale) } else { None };
                own.is_some_and(|(mask, at)| is_seen(glyph, &picture, &mask, at, scale))
            }
        };
        glyphs.iter().map(&mut is_shown).collect()
    };
    let seen = seen(glyphs, &shown);
    let unseen = all - seen.len();
    let scan = pictured && seen.len() * 4 < all.max(40);
    let read = Page {
        number,
        pages: pdf.pages().len(),
        width,
        height,
        words: if scan { Vec::new() } else { words::of(&seen) },
        rulings: ink.rulings,
        signs: ink.signs,
        unseen,
        scan,
    };
    read.check()?;
    Ok(read.upright(turn))
}

fn interpreted(page: &PdfPage, scale: f64) -> Ink {
    let (width, height) = page.render_dimensions();
    let bounds = Area::new(0.0, 0.0, f64::from(width), f64::from(height));
    let cache = InterpreterCache::new();
    let initial = page.initial_transform(true).to_kurbo();
    let mut context = Context::new(initial, bounds, &cache, page.xref(), InterpreterSettings::default());
    let mut ink = Ink::new(bounds, scale);
    interpret_page(page, &mut context, &mut ink);
    ink
}

/// The picture of a page at a resolution, as PNG, turned so that its text runs to the right.
///
/// # Errors
/// As [`read`].
pub(super) fn picture(bytes: &[u8], number: usize, dpi: f32) -> Result<Vec<u8>, String> {
    let pdf = open(bytes)?;
    let page = page_of(&pdf, number)?;
    let (width, height) = page.render_dimensions();
    let scale = scale_for(width, height, dpi)?;
    let turn = words::turn(interpreted(page, scale).glyphs.iter().map(|glyph| &glyph.letter));
    let png = paint(page, &InterpreterSettings::default(), scale).into_png().map_err(|error| error.to_string())?;
    if turn == 0 {
        return Ok(png);
    }
    let turned = || -> image::ImageResult<Vec<u8>> {
        let picture = image::load_from_memory_with_format(&png, ImageFormat::Png)?;
        let picture =
            [DynamicImage::rotate270, DynamicImage::rotate180, DynamicImage::rotate90][usize::from(turn) - 1](&picture);
        let mut png = std::io::Cursor::new(Vec::new());
        picture.write_to(&mut png, ImageFormat::Png)?;
        Ok(png.into_inner())
    };
    turned().map_err(|error| error.to_string())
}

fn open(bytes: &[u8]) -> Result<Pdf, String> {
    use hayro::hayro_interpret::hayro_syntax::LoadPdfError;
    Pdf::new(bytes.to_vec()).map_err(|error| match error {
        LoadPdfError::Decryption(_) => "the file is encrypted; save it without a password first".to_owned(),
        LoadPdfError::Invalid => "this is no PDF file that can be read".to_owned(),
    })
}

fn page_of(pdf: &Pdf, number: usize) -> Result<&PdfPage<'_>, String> {
    let pages = pdf.pages();
    let page = number.checked_sub(1).and_then(|at| pages.get(at));
    page.ok_or_else(|| format!("the file has {} pages and no page {number}", pages.len()))
}

/// Pixels per point.
fn scale_for(width: f32, height: f32, dpi: f32) -> Result<f64, String> {
    let side = width.max(height);
    if !(width.min(height) >= 1.0 && side <= SIDE_PT_MAX) {
        return Err(format!("a page of {width} x {height} points; at most {SIDE_PT_MAX} are read"));
    }
    Ok(f64::from((dpi / 72.0).min(PICTURE_PX_MAX / side)))
}

fn paint(page: &PdfPage, settings: &InterpreterSettings, scale: f64) -> Pixmap {
    #[expect(clippy::cast_possible_truncation, reason = "a scale of a few pixels per point")]
    let scale = scale as f32;
    // Letters exactly where they are, as in the shapes they are compared with.
    let shown = RenderSettings { hinting: false, glyph_caching: false, ..RenderSettings::default() };
    let settings_of = PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    render(page, &RenderCache::new(), settings, &shown, &settings_of)
}

impl Ink {
    fn new(bounds: Area, scale: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most PICTURE_PX_MAX")]
        let side = |length: f64| ((length * scale) as u16).max(1);
        let mut mask = RenderContext::new(side(bounds.width()), side(bounds.height()));
        mask.set_paint(BLACK);
        Self {
            glyphs: Vec::new(),
            rulings: Vec::new(),
            signs: Vec::new(),
            sign_of: HashMap::new(),
            outlines: HashMap::new(),
            clips: vec![bounds],
            mask,
            scale,
            invisible: 0,
            pictures_pt2: 0.0,
            too_much: None,
        }
    }

    fn clip(&self) -> Area {
        self.clips.last().copied().unwrap_or(Area::ZERO)
    }

    fn full(&mut self, what: &str, most: usize) {
        self.too_much.get_or_insert_with(|| format!("more than {most} {what}"));
    }

    /// The letter of a glyph, or a character that stands for a sign without one.
    fn letter(&mut self, glyph: &Glyph, at: Rect) -> String {
        let text = match glyph.as_unicode() {
            Some(BfString::Char(c)) => c.to_string(),
            Some(BfString::String(text)) => text,
            None => String::new(),
        };
        let private =
            |c: char| ('\u{E000}'..='\u{F8FF}').contains(&c) || c == '\u{FFFD}' || (c.is_control() && c != '\t');
        if !text.is_empty() && !text.chars().any(private) {
            return text;
        }
        let key = match glyph {
            Glyph::Outline(outline) => outline.identifier().cache_key(),
            Glyph::Type3(type3) => type3.cache_key(),
        };
        let next = self.signs.len();
        let index = *self.sign_of.entry(key).or_insert(next);
        if index == next {
            if next >= SIGNS_MAX {
                self.full("signs of which the file does not say what letter they are", SIGNS_MAX);
                return String::new();
            }
            self.signs.push(Sign { key: format!("{:08x}", key & 0xFFFF_FFFF), rect: at });
        }
        u32::try_from(index).ok().and_then(|index| char::from_u32(FIRST_SIGN as u32 + index)).into_iter().collect()
    }

    fn glyph(&mut self, glyph: &Glyph, transform: Affine, paint: Option<[f32; 4]>) {
        if self.glyphs.len() >= GLYPHS_MAX {
            return self.full("letters", GLYPHS_MAX);
        }
        let advance = match glyph {
            Glyph::Outline(outline) => outline.advance_width(),
            Glyph::Type3(type3) => type3.advance_width(),
        };
        let advance = f64::from(advance.unwrap_or(500.0));
        let (from, to) = (transform * Point::ZERO, transform * Point::new(advance, 0.0));
        let up = transform * Point::new(0.0, 1000.0) - from;
        let shape = match glyph {
            Glyph::Outline(outline) => {
                let path = self.outlines.entry(outline.identifier().cache_key());
                let path = path.or_insert_with(|| Rc::new(outline.outline()));
                (!path.elements().is_empty()).then(|| (Rc::clone(path), transform))
            }
            Glyph::Type3(_) => None,
        };
        let area = shape.as_ref().map_or_else(
            || transform.transform_rect_bbox(Area::new(0.0, -200.0, advance, 800.0)),
            |(path, _)| transform.transform_rect_bbox(path.bounding_box()),
        );
        let ink = rect(area);
        if !self.clip().contains(area.center()) {
            self.invisible += 1;
            return;
        }
        if let Some((path, _)) = &shape {
            self.mask.set_transform(Affine::scale(self.scale) * transform);
            self.mask.fill_path(path);
        }
        let text = self.letter(glyph, ink);
        let point = |at: Point| (coordinate(at.x), coordinate(at.y));
        let size = coordinate(up.hypot()).max(0.01);
        let letter = Letter { text, from: point(from), to: point(to), size };
        self.glyphs.push(Drawn { letter, ink, paint, shape });
    }

    fn ruling(&mut self, from: Point, to: Point) {
        let (dx, dy) = ((to.x - from.x).abs(), (to.y - from.y).abs());
        let upright = dx < dy;
        if dx.min(dy) > 0.7 || dx.max(dy) < RULING_PT_MIN {
            return;
        }
        let line = Area::from_points(from, to);
        let clip = self.clip();
        if !clip.inflate(1.0, 1.0).overlaps(line) {
            return;
        }
        let line = line.intersect(clip.inflate(1.0, 1.0));
        if self.rulings.len() >= RULINGS_MAX {
            return self.full("ruling lines", RULINGS_MAX);
        }
        let (at, from, to) =
            if upright { (line.center().x, line.y0, line.y1) } else { (line.center().y, line.x0, line.x1) };
        self.rulings.push(Ruling { upright, at: coordinate(at), from: coordinate(from), to: coordinate(to) });
    }

    /// A closed piece of a filled path: a thin bar is a ruling line.
    fn bar(&mut self, points: &[Point]) {
        let Some(&first) = points.first() else { return };
        let area = points.iter().fold(Area::from_points(first, first), |area, &point| area.union_pt(point));
        let middle = area.center();
        if area.width().min(area.height()) > BAR_PT_MAX {
            return;
        }
        if area.width() < area.height() {
            self.ruling(Point::new(middle.x, area.y0), Point::new(middle.x, area.y1));
        } else {
            self.ruling(Point::new(area.x0, middle.y), Point::new(area.x1, middle.y));
        }
    }
}

#[expect(clippy::cast_possible_truncation, reason = "a place on a page")]
fn coordinate(value: f64) -> f32 {
    // To a hundredth of a point, which keeps the answer short.
    ((value * 100.0).round() / 100.0) as f32
}

fn rect(area: Area) -> Rect {
    Rect { x0: coordinate(area.x0), y0: coordinate(area.y0), x1: coordinate(area.x1), y1: coordinate(area.y1) }
}

impl<'a> Device<'a> for Ink {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, mode: &DrawMode) {
        if self.too_much.is_some() {
            return;
        }
        let stroked = match mode {
            DrawMode::Stroke(_) | DrawMode::FillAndStroke(..) => true,
            DrawMode::Fill(_) => false,
            DrawMode::Invisible => return,
        };
        let mut piece: Vec<Point> = Vec::new();
        for element in path.elements() {
            match *element {
                PathEl::MoveTo(point) => {
                    if !stroked {
                        self.bar(&piece);
                    }
                    piece = vec![props.transform * point];
                }
                PathEl::LineTo(point) => {
                    let point = props.transform * point;
                    if let Some(&last) = piece.last().filter(|_| stroked) {
                        self.ruling(last, point);
                    }
                    piece.push(point);
                }
                PathEl::QuadTo(_, point) | PathEl::CurveTo(_, _, point) => piece.push(props.transform * point),
                PathEl::ClosePath => {
                    if let (true, Some(&first), Some(&last)) = (stroked, piece.first(), piece.last()) {
                        self.ruling(last, first);
                    }
                }
            }
        }
        if !stroked {
            self.bar(&piece);
        }
    }

    fn push_clip_path(&mut self, clip_path: &ClipPath) {
        let area = self.clip().intersect(clip_path.path.bounding_box());
        self.clips.push(area);
    }

    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, 'a>, props: DrawProps<'a>, mode: &DrawMode) {
        if self.too_much.is_some() {
            return;
        }
        if matches!(mode, DrawMode::Invisible) {
            self.invisible += run.glyphs().len();
            return;
        }
        let filled = matches!(mode, DrawMode::Fill(_) | DrawMode::FillAndStroke(..));
        let paint = match &props.paint {
            Paint::Color(color) if filled => Some(color.to_rgba().components()),
            _ => None,
        };
        for glyph in run.glyphs() {
            self.glyph(glyph, props.transform * glyph.transform(), paint);
        }
    }

    fn draw_image(&mut self, image: Image<'a, '_>, props: ImageDrawProps<'a>) {
        let pixels = Area::new(0.0, 0.0, f64::from(image.width()), f64::from(image.height()));
        let area = props.transform.transform_rect_bbox(pixels).intersect(self.clip());
        self.pictures_pt2 += area.area();
        self.bar(&[Point::new(area.x0, area.y0), Point::new(area.x1, area.y1)]);
    }

    fn pop_clip(&mut self) {
        if self.clips.len() > 1 {
            self.clips.pop();
        }
    }

    fn pop_transparency_group(&mut self) {}
}
