//! A small typesetter: pages of a data sheet with text, ruling lines and tables, as a PDF file.

use pdf_writer::types::TextRenderingMode;
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str};

const WIDTH: f32 = 595.0;
const HEIGHT: f32 = 842.0;
const SIZE: f32 = 8.0;

/// A page; x and y in points from its upper left corner.
pub(crate) struct Page {
    pub(crate) content: Content,
}

/// A cell over columns and rows, from the first to before the last.
pub(crate) struct Cell(pub(crate) (usize, usize), pub(crate) (usize, usize), pub(crate) &'static str);

fn latin(text: &str) -> Vec<u8> {
    text.chars().map(|c| u8::try_from(u32::from(c)).unwrap_or(b'?')).collect()
}

impl Page {
    pub(crate) fn new() -> Self {
        Self { content: Content::new() }
    }

    pub(crate) fn text(&mut self, x: f32, base: f32, size: f32, text: &str) -> &mut Self {
        self.in_font("F1", x, base, size, &latin(text))
    }

    pub(crate) fn in_font(&mut self, font: &str, x: f32, base: f32, size: f32, bytes: &[u8]) -> &mut Self {
        self.content.begin_text().set_font(Name(font.as_bytes()), size);
        self.content.next_line(x, HEIGHT - base).show(Str(bytes)).end_text();
        self
    }

    /// Running upwards.
    pub(crate) fn upwards(&mut self, x: f32, base: f32, text: &str) -> &mut Self {
        self.content.begin_text().set_font(Name(b"F1"), SIZE);
        self.content.set_text_matrix([0.0, 1.0, -1.0, 0.0, x, HEIGHT - base]).show(Str(&latin(text))).end_text();
        self
    }

    pub(crate) fn line(&mut self, from: (f32, f32), to: (f32, f32)) -> &mut Self {
        self.content.move_to(from.0, HEIGHT - from.1).line_to(to.0, HEIGHT - to.1).stroke();
        self
    }

    pub(crate) fn filled(&mut self, x: f32, y: f32, width: f32, height: f32, gray: f32) -> &mut Self {
        self.content.set_fill_gray(gray).rect(x, HEIGHT - y - height, width, height).fill_nonzero();
        self.content.set_fill_gray(0.0);
        self
    }

    pub(crate) fn mode(&mut self, mode: TextRenderingMode) -> &mut Self {
        self.content.set_text_rendering_mode(mode);
        self
    }

    /// Text in the middle of a rectangle, a line for each of its lines; `^` raises and shrinks what follows in the line.
    fn centred(&mut self, x: (f32, f32), y: (f32, f32), text: &str) {
        let lines: Vec<&str> = text.split('\n').collect();
        let top = (y.0 + y.1) / 2.0 - 5.0 * (lines.len() as f32 - 1.0);
        for (at, line) in (0_u16..).zip(lines) {
            let base = top + 10.0 * f32::from(at) + 0.35 * SIZE;
            let (main, mark) = line.split_once('^').unwrap_or((line, ""));
            let left = (x.0 + x.1) / 2.0 - 0.25 * SIZE * main.chars().count() as f32;
            self.text(left, base, SIZE, main);
            if !mark.is_empty() {
                self.text(left + 0.46 * SIZE * main.chars().count() as f32 + 1.0, base - 3.0, 5.0, mark);
            }
        }
    }

    /// Cells with lines around each.
    pub(crate) fn ruled(&mut self, xs: &[f32], ys: &[f32], cells: &[Cell]) -> &mut Self {
        for Cell(columns, rows, text) in cells {
            let (x, y) = ((xs[columns.0], xs[columns.1]), (ys[rows.0], ys[rows.1]));
            for (from, to) in
                [((x.0, y.0), (x.1, y.0)), ((x.0, y.1), (x.1, y.1)), ((x.0, y.0), (x.0, y.1)), ((x.1, y.0), (x.1, y.1))]
            {
                self.line(from, to);
            }
            if let Some(text) = text.strip_prefix("up:") {
                self.upwards((x.0 + x.1) / 2.0 + 3.0, y.1 - 4.0, text);
            } else {
                self.centred(x, y, text);
            }
        }
        self
    }

    /// Rows of texts at columns, without any line.
    pub(crate) fn columns(&mut self, xs: &[f32], top: f32, rows: &[&[&str]]) -> &mut Self {
        for (at, row) in (0_u16..).zip(rows) {
            for (x, text) in xs.iter().zip(*row).filter(|(_, text)| !text.is_empty()) {
                self.text(*x, top + 12.0 * f32::from(at), SIZE, text);
            }
        }
        self
    }
}

/// Rows of plain cells below each other, from `row` on.
pub(crate) fn plain(row: usize, rows: &[&[&'static str]]) -> Vec<Cell> {
    let cells = |(at, texts): (usize, &&[&'static str])| -> Vec<Cell> {
        let row = row + at;
        texts.iter().enumerate().map(move |(column, text)| Cell((column, column + 1), (row, row + 1), text)).collect()
    };
    rows.iter().enumerate().flat_map(cells).collect()
}

/// Edges at equal distances.
pub(crate) fn edges(from: f32, step: f32, count: u16) -> Vec<f32> {
    (0..=count).map(|at| from + step * f32::from(at)).collect()
}

/// The pages as a file. Font F1 is Helvetica; font F2 has one sign of its own, a box, without a name that says what letter it is.
pub(crate) fn file(pages: Vec<Page>) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let (catalog, tree, helvetica, box_font, box_sign, image) =
        (Ref::new(1), Ref::new(2), Ref::new(3), Ref::new(4), Ref::new(5), Ref::new(6));
    let ids: Vec<(Ref, Ref)> =
        (0..).map(|at| (Ref::new(10 + 2 * at), Ref::new(11 + 2 * at))).take(pages.len()).collect();
    pdf.catalog(catalog).pages(tree);
    pdf.pages(tree).kids(ids.iter().map(|id| id.0)).count(i32::try_from(pages.len()).unwrap());
    let mut font = pdf.type1_font(helvetica);
    font.base_font(Name(b"Helvetica")).encoding_predefined(Name(b"WinAnsiEncoding"));
    font.finish();
    let mut font = pdf.type3_font(box_font);
    font.bbox(Rect::new(0.0, 0.0, 1000.0, 1000.0)).matrix([0.001, 0.0, 0.0, 0.001, 0.0, 0.0]);
    font.first_char(b'a').last_char(b'a').widths([700.0]);
    font.char_procs().pair(Name(b"sign1"), box_sign);
    font.encoding_custom().differences().consecutive(b'a', [Name(b"sign1")]);
    font.resources();
    font.finish();
    let mut sign = Content::new();
    sign.start_shape_glyph(700.0, 0.0, 0.0, 600.0, 700.0).rect(50.0, 0.0, 550.0, 700.0).fill_nonzero();
    pdf.stream(box_sign, &sign.finish());
    let mut picture = pdf.image_xobject(image, &[200]);
    picture.width(1).height(1).bits_per_component(8).color_space().device_gray();
    picture.finish();
    for ((page_id, content_id), page) in ids.into_iter().zip(pages) {
        let mut written = pdf.page(page_id);
        written.media_box(Rect::new(0.0, 0.0, WIDTH, HEIGHT)).parent(tree).contents(content_id);
        let mut resources = written.resources();
        resources.fonts().pair(Name(b"F1"), helvetica).pair(Name(b"F2"), box_font);
        resources.x_objects().pair(Name(b"Scan"), image);
        resources.finish();
        written.finish();
        pdf.stream(content_id, &page.content.finish());
    }
    pdf.finish()
}
