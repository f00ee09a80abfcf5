//! The packet as it was last written.

use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::header::{CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::IntoResponse;

use super::reply::{Answer, Trouble, with_job};
use crate::commands::picture;
use crate::page::app::App;

/// The packet brings its own script, style and font, and needs nothing of the page: it is shut off
/// from it.
const POLICY: &str = "sandbox allow-scripts allow-modals allow-popups; default-src 'none'; \
    script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:; font-src data:; \
    frame-ancestors 'none'";

/// What is handed to the shop, by name.
const FILES: [(&str, &str); 5] = [
    ("packet.html", "text/html; charset=utf-8"),
    ("packet.pdf", "application/pdf"),
    ("labels.pdf", "application/pdf"),
    ("cutlist.csv", "text/csv; charset=utf-8"),
    ("marks.csv", "text/csv; charset=utf-8"),
];

/// One of its files.
pub async fn file(State(app): State<Arc<App>>, Path(name): Path<String>) -> Answer {
    let known = FILES.iter().find(|(known, _)| *known == name);
    let (name, kind) = *known.ok_or_else(|| Trouble::Words("no such file".to_owned()))?;
    let bytes = with_job(&app, move |open| {
        picture(&open.folder, &format!("out/{name}")).map_err(|_| {
            Trouble::Words("there is no packet yet: take the plan to the shop first".to_owned())
        })
    });
    let policy = match name {
        "packet.html" => POLICY,
        // A browser's own viewer of PDF is a page too, and would be shut off by more.
        _ => "base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    };
    let headers = [(CONTENT_TYPE, kind), (CONTENT_SECURITY_POLICY, policy)];
    Ok((headers, bytes.await?).into_response())
}
