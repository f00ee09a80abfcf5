//! The page's own files, built in.

use std::borrow::Cow;
use std::path::Path;

use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};

macro_rules! files {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_bytes!(concat!("static/", $name)))),*]
    };
}

/// All of them: a name that is not here is not there.
const FILES: &[(&str, &[u8])] = files![
    "index.html",
    "page.css",
    "icon.svg",
    "main.js",
    "net.js",
    "store.js",
    "dom.js",
    "grid.js",
    "paste.js",
    "rows.js",
    "lengths.js",
    "wood.js",
    "elevation.js",
    "board.js",
    "dialog.js",
    "piece.js",
    "pile.js",
    "plan.js",
    "wishes.js",
    "shop.js",
    "buying.js",
    "photo.js",
    "start.js",
    "devices.js",
    "settings.js",
];

/// What a file holds: as built in, or while the page is worked on as it stands in the source.
fn bytes_of(name: &str, built_in: &'static [u8]) -> Cow<'static, [u8]> {
    if cfg!(debug_assertions) {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/page/static");
        if let Ok(bytes) = std::fs::read(source.join(name)) {
            return bytes.into();
        }
    }
    built_in.into()
}

/// A file of the page.
pub fn file(name: &str) -> Option<Response> {
    let (name, bytes) = FILES.iter().find(|(known, _)| *known == name)?;
    let kind = match name.rsplit('.').next() {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("svg") => "image/svg+xml",
        _ => "text/javascript; charset=utf-8",
    };
    Some(([(CONTENT_TYPE, kind)], bytes_of(name, bytes)).into_response())
}

#[cfg(test)]
mod tests {
    use super::FILES;

    /// What a text asks for by way of one of these beginnings, up to the quotation mark.
    fn asked(text: &str) -> impl Iterator<Item = &str> {
        let begin = ["from \"./", "\"/static/"];
        begin.into_iter().flat_map(move |begin| {
            let parts = text.split(begin).skip(1);
            parts.filter_map(|rest| rest.split('"').next())
        })
    }

    #[test]
    fn all_that_the_page_asks_for_is_built_in_and_nothing_comes_from_elsewhere() {
        let mut count = 0;
        for (name, bytes) in FILES {
            let text = std::str::from_utf8(bytes).unwrap();
            for file in asked(text) {
                assert!(
                    FILES.iter().any(|(known, _)| *known == file),
                    "{name}: {file}"
                );
                count += 1;
            }
            let elsewhere = text.replace("http://www.w3.org/2000/svg", "");
            assert!(
                !elsewhere.contains("http://") && !elsewhere.contains("https://"),
                "{name}"
            );
            assert!(
                !text.contains("innerHTML") && !text.contains("eval("),
                "{name}"
            );
        }
        assert!(count > 30, "{count}");
    }
}
