//! Who may ask, how much, and how fast.
//!
//! Any web page the maker looks at may send requests to this machine, and any program on it may
//! knock at the port. So every request must name this server as its host (a foreign name that leads
//! here is turned away), every answer but the refusals wants a cookie that is handed out once for a
//! code that only the terminal tells, and every change must come from this page and say so in a
//! header no foreign page can send.

mod body;
mod door;
mod header;
mod pace;
mod refusal;

pub use body::read;
pub use door::Door;
pub use header::safe;
pub use pace::Pace;
pub use refusal::{Refusal, refusal_page};

use axum::http::request::Parts;
use axum::http::{HeaderMap, HeaderName, Method, header::HOST, header::ORIGIN};

/// The header every change bears.
pub const CHANGE: HeaderName = HeaderName::from_static("x-grainrow");

/// Whether a request may be answered at all: its host, and for a change its origin and header.
///
/// # Errors
/// Why not.
pub fn may_ask(door: &Door, parts: &Parts) -> Result<(), Refusal> {
    let host = text(&parts.headers, &HOST).ok_or(Refusal::Host)?;
    if !door.is_host(host) {
        return Err(Refusal::Host);
    }
    // A request whose line names another host than its header is none of a browser's.
    if parts
        .uri
        .authority()
        .is_some_and(|named| named.as_str() != host)
    {
        return Err(Refusal::Host);
    }
    if matches!(parts.method, Method::GET | Method::HEAD) {
        return Ok(());
    }
    let own = text(&parts.headers, &ORIGIN).and_then(|origin| origin.strip_prefix("http://"));
    if own != Some(host) {
        return Err(Refusal::Origin);
    }
    match text(&parts.headers, &CHANGE) {
        Some("1") => Ok(()),
        _ => Err(Refusal::Header),
    }
}

/// A header's text, when it is there once.
fn text<'h>(headers: &'h HeaderMap, name: &HeaderName) -> Option<&'h str> {
    let mut all = headers.get_all(name).iter();
    let first = all.next()?.to_str().ok()?;
    all.next().is_none().then_some(first)
}
