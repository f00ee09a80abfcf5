//! The program's font inside a PDF file: a composite font whose codes are glyph numbers.

use std::collections::BTreeMap;

use ab_glyph::{Font, GlyphId};
use miniz_oxide::deflate::compress_to_vec_zlib;
use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Name, Pdf, Rect, Ref, Str};

use crate::draw::{Weight, units_per_em};

/// The glyphs of one weight that a file uses, and the signs they stand for.
#[derive(Clone, Debug, Default)]
pub struct Used(BTreeMap<u16, char>);

impl Used {
    /// The codes of a text, two bytes a glyph, each remembered.
    pub fn encode(&mut self, words: &str, weight: Weight) -> Vec<u8> {
        let mut bytes = Vec::with_capacity(words.len() * 2);
        for sign in words.chars() {
            let mut glyph = weight.face().glyph_id(sign).0;
            if glyph == 0 {
                glyph = weight.face().glyph_id(MISSING).0;
            }
            self.0.entry(glyph).or_insert(sign);
            bytes.extend(glyph.to_be_bytes());
        }
        bytes
    }
}

/// Stands for a letter that the font has not.
const MISSING: char = '□';

/// Name of the font in the file.
fn base_name(weight: Weight) -> Name<'static> {
    match weight {
        Weight::Regular => Name(b"DejaVuSansCondensed"),
        Weight::Bold => Name(b"DejaVuSansCondensed-Bold"),
    }
}

const IDENTITY: SystemInfo<'static> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

/// Writes a font's five objects; `first` is the font itself, the next four numbers are its.
pub fn write(pdf: &mut Pdf, first: Ref, weight: Weight, used: &Used) {
    let [cid, descriptor, file, to_unicode] = [1, 2, 3, 4].map(|more| Ref::new(first.get() + more));
    pdf.type0_font(first)
        .base_font(base_name(weight))
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(cid)
        .to_unicode(to_unicode);
    write_widths(pdf, cid, descriptor, weight, used);
    let em = |units: f64| (units * 1000.0 / units_per_em(weight)) as f32;
    pdf.font_descriptor(descriptor)
        .name(base_name(weight))
        .flags(FontFlags::NON_SYMBOLIC)
        // From the font files' own head, hhea and OS/2 tables.
        .bbox(Rect::new(em(-2000.0), em(-800.0), em(3500.0), em(2300.0)))
        .italic_angle(0.0)
        .ascent(em(1901.0))
        .descent(em(-483.0))
        .cap_height(em(1493.0))
        .stem_v(80.0)
        .font_file2(file);
    let packed = compress_to_vec_zlib(weight.bytes(), 6);
    pdf.stream(file, &packed)
        .filter(Filter::FlateDecode)
        .pair(Name(b"Length1"), weight.bytes().len() as i32);
    let mut cmap = UnicodeCmap::<u16>::new(Name(b"Custom"), IDENTITY);
    for (&glyph, &sign) in &used.0 {
        cmap.pair(glyph, sign);
    }
    pdf.cmap(to_unicode, &cmap.finish());
}

fn write_widths(pdf: &mut Pdf, cid: Ref, descriptor: Ref, weight: Weight, used: &Used) {
    let mut font = pdf.cid_font(cid);
    font.subtype(CidFontType::Type2)
        .base_font(base_name(weight))
        .system_info(IDENTITY)
        .font_descriptor(descriptor)
        .default_width(0.0)
        .cid_to_gid_map_predefined(Name(b"Identity"));
    let mut widths = font.widths();
    for &glyph in used.0.keys() {
        let units = weight.face().h_advance_unscaled(GlyphId(glyph));
        let width = f64::from(units) * 1000.0 / units_per_em(weight);
        widths.consecutive(glyph, [width as f32]);
    }
}
