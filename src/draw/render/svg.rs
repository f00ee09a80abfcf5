//! Drawings as SVG.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

use super::compact::Compact;
use super::paint::{Setting, paint};
use crate::draw::font::{FAMILY, Weight};
use crate::draw::sheet::Drawing;
use crate::text::printable;

/// Tenths of a point, because a backend takes whole numbers only.
const SETTING: Setting = Setting {
    scale: 10.0,
    size_for_em: 1.0,
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
        let mut pen = Compact::default();
        let painted = paint(&mut pen, self, &SETTING);
        debug_assert!(painted.is_ok(), "writing to a string cannot fail");
        let title = escape(&self.title);
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"{title}\" \
             fill=\"none\" font-family=\"{FAMILY}\" width=\"{w}pt\" height=\"{h}pt\" \
             viewBox=\"0 0 {} {}\">\n<title>{title}</title>\n{style}{}</svg>\n",
            size.0,
            size.1,
            pen.elements(),
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

/// Signs that mean something in XML, written so that they don't; none that it forbids.
pub(super) fn escape(text: &str) -> String {
    printable(text)
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}
