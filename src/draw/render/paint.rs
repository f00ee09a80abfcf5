//! Shapes onto any plotters backend.

use std::sync::Once;

use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{
    FontDesc, FontFamily, FontStyle, FontTransform, IntoTextStyle, RGBColor, register_font,
};
use plotters_backend::{BackendColor, BackendStyle, DrawingBackend, DrawingErrorKind};

use crate::draw::font::{FAMILY, Weight};
use crate::draw::shape::{Anchor, Ink, Point, Shape, Text};
use crate::draw::sheet::Drawing;

/// How a backend wants texts: plotters' own backends disagree on both points.
pub struct Setting {
    /// Backend units in a point.
    pub scale: f64,
    /// Size to ask for, to get an em of one.
    pub size_for_em: f64,
    /// Where the base line comes out below the position asked for, as a share of the size asked for.
    pub base_line: f64,
    /// Whether the backend keeps anchors; else the start is given.
    pub anchors: bool,
}

struct Pen {
    ink: Ink,
    width: u32,
}

impl BackendStyle for Pen {
    fn color(&self) -> BackendColor {
        BackendColor {
            alpha: 1.0,
            rgb: (self.ink.0, self.ink.1, self.ink.2),
        }
    }

    fn stroke_width(&self) -> u32 {
        self.width
    }
}

/// Draws every shape of `drawing`, in order.
pub fn paint<B: DrawingBackend>(
    backend: &mut B,
    drawing: &Drawing,
    setting: &Setting,
) -> Result<(), DrawingErrorKind<B::ErrorType>> {
    register_fonts();
    for shape in &drawing.shapes {
        match shape {
            Shape::Text(text) if text.has_fraction() => {
                let parts = text.set();
                parts
                    .iter()
                    .try_for_each(|part| one(backend, part, setting))?;
            }
            shape => one(backend, shape, setting)?,
        }
    }
    backend.present()
}

fn one<B: DrawingBackend>(
    backend: &mut B,
    shape: &Shape,
    setting: &Setting,
) -> Result<(), DrawingErrorKind<B::ErrorType>> {
    match shape {
        Shape::Area { points, fill } => {
            let pen = Pen {
                ink: *fill,
                width: 0,
            };
            backend.fill_polygon(points.iter().map(|&p| setting.pixel(p)), &pen)
        }
        Shape::Stroke { points, width, ink } => {
            let width = (width * setting.scale).round().max(1.0) as u32;
            let pen = Pen { ink: *ink, width };
            backend.draw_path(points.iter().map(|&p| setting.pixel(p)), &pen)
        }
        Shape::Text(text) => write(backend, text, setting),
    }
}

impl Setting {
    fn pixel(&self, point: Point) -> (i32, i32) {
        (
            (point.x * self.scale).round() as i32,
            (point.y * self.scale).round() as i32,
        )
    }
}

fn write<B: DrawingBackend>(
    backend: &mut B,
    text: &Text,
    setting: &Setting,
) -> Result<(), DrawingErrorKind<B::ErrorType>> {
    let size = text.size * setting.scale * setting.size_for_em;
    let (at, anchor) = if setting.anchors {
        (text.at, text.anchor)
    } else {
        (text.start(), Anchor::Start)
    };
    let lift = size * setting.base_line / setting.scale;
    let at = if text.upward {
        Point::new(at.x - lift, at.y)
    } else {
        Point::new(at.x, at.y - lift)
    };
    let style = match text.weight {
        Weight::Regular => FontStyle::Normal,
        Weight::Bold => FontStyle::Bold,
    };
    let turn = if text.upward {
        FontTransform::Rotate270
    } else {
        FontTransform::None
    };
    let h_pos = match anchor {
        Anchor::Start => HPos::Left,
        Anchor::Middle => HPos::Center,
        Anchor::End => HPos::Right,
    };
    let style = FontDesc::new(FontFamily::Name(FAMILY), size, style)
        .transform(turn)
        .with_color(RGBColor(text.ink.0, text.ink.1, text.ink.2))
        .into_text_style(&(0, 0))
        .pos(Pos::new(h_pos, VPos::Top));
    backend.draw_text(&text.words, &style, setting.pixel(at))
}

fn register_fonts() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        for (style, weight) in [
            (FontStyle::Normal, Weight::Regular),
            (FontStyle::Bold, Weight::Bold),
        ] {
            // Fails only for a broken font file, and font.rs has just read the same bytes.
            let _ = register_font(FAMILY, style, weight.bytes());
        }
    });
}
