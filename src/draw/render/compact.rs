//! A plotters backend that writes SVG in few characters: lines of one kind in a row become one
//! path, and a path tells each point from the one before it. A packet holds two drawings a board,
//! and is sent to phones.

use std::convert::Infallible;
use std::fmt::Write;

use plotters::style::text_anchor::HPos;
use plotters::style::{FontStyle, FontTransform};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
};

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

/// Elements, one a line, to be put into an `svg` element that fills nothing and names the font.
#[derive(Default)]
pub struct Compact {
    done: String,
    /// The path that further lines of its kind are added to.
    open: Option<(Line, String)>,
}

/// A kind of line: colour and width.
#[derive(Clone, Copy, PartialEq)]
struct Line((u8, u8, u8), u32);

impl Compact {
    /// All that was drawn.
    pub fn elements(mut self) -> String {
        self.close();
        self.done
    }

    fn close(&mut self) {
        if let Some((Line(colour, width), path)) = self.open.take() {
            let colour = hex(colour);
            let element =
                format!("<path stroke=\"{colour}\" stroke-width=\"{width}\" d=\"{path}\"/>\n");
            self.done.push_str(&element);
        }
    }
}

impl DrawingBackend for Compact {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        (u32::MAX, u32::MAX)
    }

    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }

    fn present(&mut self) -> Drawn {
        Ok(())
    }

    fn draw_pixel(&mut self, at: BackendCoord, colour: BackendColor) -> Drawn {
        let (x, y) = at;
        self.fill_polygon([(x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)], &colour)
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        path: I,
        style: &S,
    ) -> Drawn {
        let line = Line(style.color().rgb, style.stroke_width());
        if self.open.as_ref().is_none_or(|(open, _)| *open != line) {
            self.close();
        }
        let (_, data) = self.open.get_or_insert_with(|| (line, String::new()));
        trace(data, path);
        Ok(())
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(
        &mut self,
        corners: I,
        style: &S,
    ) -> Drawn {
        self.close();
        let mut data = String::new();
        trace(&mut data, corners);
        let colour = hex(style.color().rgb);
        let _ = writeln!(self.done, "<path fill=\"{colour}\" d=\"{data}z\"/>");
        Ok(())
    }

    fn draw_text<T: BackendTextStyle>(
        &mut self,
        words: &str,
        style: &T,
        (x, y): BackendCoord,
    ) -> Drawn {
        self.close();
        let mut attributes = format!(
            "x=\"{x}\" y=\"{y}\" font-size=\"{}\" fill=\"{}\"",
            style.size().round(),
            hex(style.color().rgb)
        );
        if matches!(style.style(), FontStyle::Bold) {
            attributes += " font-weight=\"bold\"";
        }
        attributes += match style.anchor().h_pos {
            HPos::Left => "",
            HPos::Center => " text-anchor=\"middle\"",
            HPos::Right => " text-anchor=\"end\"",
        };
        if matches!(style.transform(), FontTransform::Rotate270) {
            let _ = write!(attributes, " transform=\"rotate(-90 {x} {y})\"");
        }
        let words = super::svg::escape(words);
        let _ = writeln!(self.done, "<text {attributes}>{words}</text>");
        Ok(())
    }
}

/// Adds a line through points to a path's data: from the first point, then step by step.
fn trace(data: &mut String, points: impl IntoIterator<Item = BackendCoord>) {
    let mut last: Option<BackendCoord> = None;
    for (x, y) in points {
        let _ = match last {
            None => write!(data, "M{x} {y}"),
            Some((lx, ly)) => match (x - lx, y - ly) {
                (0, 0) => Ok(()),
                (dx, 0) => write!(data, "h{dx}"),
                (0, dy) => write!(data, "v{dy}"),
                (dx, dy) if dy < 0 => write!(data, "l{dx}{dy}"),
                (dx, dy) => write!(data, "l{dx} {dy}"),
            },
        };
        last = Some((x, y));
    }
}

/// `#fff`, or `#cecbc5` when three digits don't do.
fn hex((red, green, blue): (u8, u8, u8)) -> String {
    let short = |level: u8| level.is_multiple_of(17);
    if short(red) && short(green) && short(blue) {
        format!("#{:x}{:x}{:x}", red / 17, green / 17, blue / 17)
    } else {
        format!("#{red:02x}{green:02x}{blue:02x}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn black() -> BackendColor {
        BackendColor {
            alpha: 1.0,
            rgb: (0, 0, 0),
        }
    }

    #[test]
    fn lines_of_one_kind_share_a_path_and_order_is_kept() {
        let mut pen = Compact::default();
        let _ = pen.draw_path([(0, 0), (10, 0), (10, 5)], &black());
        let _ = pen.draw_path([(3, 4), (1, 9)], &black());
        let _ = pen.fill_polygon([(0, 0), (4, 0), (4, 4)], &black());
        let _ = pen.draw_path([(7, 7), (8, 3)], &black());
        assert_eq!(
            pen.elements(),
            "<path stroke=\"#000\" stroke-width=\"1\" d=\"M0 0h10v5M3 4l-2 5\"/>\n\
             <path fill=\"#000\" d=\"M0 0h4v4z\"/>\n\
             <path stroke=\"#000\" stroke-width=\"1\" d=\"M7 7l1-4\"/>\n"
        );
    }

    #[test]
    fn colours_are_written_short_where_that_is_exact() {
        assert_eq!(hex((255, 0, 85)), "#f05");
        assert_eq!(hex((206, 203, 197)), "#cecbc5");
    }
}
