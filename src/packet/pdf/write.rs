//! Sheets as the pages of a PDF file.

use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::LineCapStyle;
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use super::fonts::{self, Used};
use crate::draw::{Drawing, Ink, Point, Shape, Text, Weight, can_write, in_line};

const CATALOG: Ref = Ref::new(1);
const TREE: Ref = Ref::new(2);
const INFO: Ref = Ref::new(3);
const REGULAR: Ref = Ref::new(10);
const BOLD: Ref = Ref::new(20);
const FIRST_PAGE: i32 = 30;

/// A PDF file with one page a sheet. It holds no date, so equal sheets give equal bytes.
pub fn sheets_to_pdf(sheets: &[Drawing], title: &str) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let page = |i: usize| Ref::new(FIRST_PAGE + 2 * i as i32);
    let content = |i: usize| Ref::new(FIRST_PAGE + 2 * i as i32 + 1);
    let mut catalog = pdf.catalog(CATALOG);
    catalog.pages(TREE).lang(TextStr("en"));
    catalog.viewer_preferences().display_doc_title(true);
    catalog.finish();
    pdf.document_info(INFO)
        .title(TextStr(title))
        .creator(TextStr("grainrow"));
    pdf.pages(TREE)
        .kids((0..sheets.len()).map(page))
        .count(sheets.len() as i32);
    let mut used = [Used::default(), Used::default()];
    for (i, sheet) in sheets.iter().enumerate() {
        let mut dict = pdf.page(page(i));
        dict.parent(TREE)
            .media_box(Rect::new(0.0, 0.0, sheet.width as f32, sheet.height as f32))
            .contents(content(i));
        let mut resources = dict.resources();
        let mut names = resources.fonts();
        names.pair(name(Weight::Regular), REGULAR);
        names.pair(name(Weight::Bold), BOLD);
        names.finish();
        resources.finish();
        dict.finish();
        let packed = compress_to_vec_zlib(&page_content(sheet, &mut used), 6);
        pdf.stream(content(i), &packed).filter(Filter::FlateDecode);
    }
    let [regular, bold] = used;
    fonts::write(&mut pdf, REGULAR, Weight::Regular, &regular);
    fonts::write(&mut pdf, BOLD, Weight::Bold, &bold);
    pdf.finish()
}

fn name(weight: Weight) -> Name<'static> {
    match weight {
        Weight::Regular => Name(b"R"),
        Weight::Bold => Name(b"B"),
    }
}

fn page_content(sheet: &Drawing, used: &mut [Used; 2]) -> Vec<u8> {
    let mut content = Content::new();
    content.set_line_cap(LineCapStyle::ButtCap);
    for shape in &sheet.shapes {
        match shape {
            Shape::Text(text) if text.has_fraction() || !can_write(&text.words) => {
                write_stacked(&mut content, sheet, text, used);
            }
            shape => write_shape(&mut content, sheet, shape, used),
        }
    }
    content.finish().into_vec()
}

fn write_shape(content: &mut Content, sheet: &Drawing, shape: &Shape, used: &mut [Used; 2]) {
    match shape {
        Shape::Area { points, fill } => {
            let [r, g, b] = channels(*fill);
            content.set_fill_rgb(r, g, b);
            path(content, sheet, points);
            content.close_path().fill_nonzero();
        }
        Shape::Stroke { points, width, ink } => {
            let [r, g, b] = channels(*ink);
            content.set_stroke_rgb(r, g, b);
            content.set_line_width(*width as f32);
            path(content, sheet, points);
            content.stroke();
        }
        Shape::Text(text) => write_text(content, sheet, text, used),
    }
}

/// Stacked fractions are copied and searched as they are typed: `20 3/8`; so are letters that the
/// font has not.
fn write_stacked(content: &mut Content, sheet: &Drawing, text: &Text, used: &mut [Used; 2]) {
    let words = in_line(&text.words);
    content
        .begin_marked_content_with_properties(Name(b"Span"))
        .properties()
        .actual_text(TextStr(&words));
    for shape in text.set() {
        write_shape(content, sheet, &shape, used);
    }
    content.end_marked_content();
}

fn channels(ink: Ink) -> [f32; 3] {
    [ink.0, ink.1, ink.2].map(|level| f32::from(level) / 255.0)
}

/// PDF measures from the lower left corner; hundredths of a point are fine enough.
fn spot(sheet: &Drawing, point: Point) -> (f32, f32) {
    let round = |value: f64| ((value * 100.0).round() / 100.0) as f32;
    (round(point.x), round(sheet.height - point.y))
}

fn path(content: &mut Content, sheet: &Drawing, points: &[Point]) {
    for (i, &point) in points.iter().enumerate() {
        let (x, y) = spot(sheet, point);
        if i == 0 {
            content.move_to(x, y);
        } else {
            content.line_to(x, y);
        }
    }
}

fn write_text(content: &mut Content, sheet: &Drawing, text: &Text, used: &mut [Used; 2]) {
    let used = match text.weight {
        Weight::Regular => &mut used[0],
        Weight::Bold => &mut used[1],
    };
    let (x, y) = spot(sheet, text.start());
    let [r, g, b] = channels(text.ink);
    let codes = used.encode(&text.words, text.weight);
    content.set_fill_rgb(r, g, b);
    content.begin_text();
    content.set_font(name(text.weight), text.size as f32);
    content.set_text_matrix(if text.upward {
        [0.0, 1.0, -1.0, 0.0, x, y]
    } else {
        [1.0, 0.0, 0.0, 1.0, x, y]
    });
    content.show(Str(&codes));
    content.end_text();
}
