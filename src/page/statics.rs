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

/// Names and sizes of all of them.
#[cfg(test)]
pub fn all() -> &'static [(&'static str, &'static [u8])] {
    FILES
}
