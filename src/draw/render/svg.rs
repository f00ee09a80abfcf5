//! Drawings as SVG.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use plotters::backend::SVGBackend;

use super::paint::{Setting, paint};
use crate::draw::font::{FAMILY, Weight};
use crate::draw::sheet::Drawing;

/// Tenths of a point, because the backend takes whole numbers only. It divides a text's size
/// by 1.24, and sets the top of a text 0.76 em above the base line.
const SETTING: Setting = Setting {
    scale: 10.0,
    size_for_em: 1.24,
    base_line: 0.0,
    anchors: true,
};

impl Drawing {
    /// The drawing as a file of its own, its font inside.
    pub fn svg(&self) -> String {
        let mut style = String::from("<style>");
        for weight in self.weights() {
            style.push_str(&font_rule(weight));
        }
        style.push_str("</style>\n");
        format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}",
            self.svg_with(&style)
        )
    }

    /// The drawing as an element to put into a page that holds [`font_rules`] already.
    pub fn svg_element(&self) -> String {
        self.svg_with("")
    }

    fn svg_with(&self, style: &str) -> String {
        let size = (
            (self.width * SETTING.scale).round() as u32,
            (self.height * SETTING.scale).round() as u32,
        );
        let mut body = String::new();
        let painted = paint(
            &mut SVGBackend::with_string(&mut body, size),
            self,
            &SETTING,
        );
        debug_assert!(painted.is_ok(), "writing to a string cannot fail");
        let content = body.split_once('>').map_or("", |(_, content)| content);
        let title = escape(&self.title);
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"{title}\" \
             fill=\"none\" width=\"{w}pt\" height=\"{h}pt\" viewBox=\"0 0 {} {}\">\n<title>{title}</title>\n\
             {style}{}\n",
            size.0,
            size.1,
            tidy(content),
            w = self.width.round(),
            h = self.height.round(),
        )
    }

    fn weights(&self) -> Vec<Weight> {
        [Weight::Regular, Weight::Bold]
            .into_iter()
            .filter(|&w| self.texts().any(|text| text.weight == w))
            .collect()
    }
}

/// The `@font-face` rules of the program's font, for a page's style sheet.
pub fn font_rules() -> String {
    font_rule(Weight::Regular) + &font_rule(Weight::Bold)
}

fn font_rule(weight: Weight) -> String {
    let number = match weight {
        Weight::Regular => 400,
        Weight::Bold => 700,
    };
    format!(
        "@font-face{{font-family:\"{FAMILY}\";font-weight:{number};\
         src:url(data:font/ttf;base64,{}) format(\"truetype\")}}",
        STANDARD.encode(weight.bytes())
    )
}

/// One element a line, texts without blanks around their words and on their base line, and no
/// attribute that says what holds anyway.
///
/// The backend writes a line end after every tag and lets texts hang from 0.76 em above their
/// base line. All words in `body` are escaped, so none of the patterns can be part of one.
fn tidy(body: &str) -> String {
    body.replace(">\n", ">")
        .replace("\n</text>", "</text>\n")
        .replace("/>", "/>\n")
        .replace(" opacity=\"1\"", "")
        .replace(" fill=\"none\"", "")
        .replace(" dy=\"0.76em\"", "")
        .replace(" text-anchor=\"start\"", "")
        .replace("#000000", "#000")
        .replace(" \"/>", "\"/>")
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}
