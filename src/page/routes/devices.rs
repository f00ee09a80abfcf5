//! Who is let in: coming in by a code, letting a phone in, throwing one out.

use std::sync::Arc;

use axum::Extension;
use axum::body::Body;
use axum::extract::State;
use axum::http::header::{CONTENT_TYPE, SET_COOKIE, USER_AGENT};
use axum::http::{HeaderMap, Uri};
use axum::response::{IntoResponse, Response};
use maud::{DOCTYPE, html};
use serde::Deserialize;
use serde_json::json;

use super::gate::Asking;
use super::reply::{Answer, Trouble, asked, json_of};
use crate::page::app::App;
use crate::page::guard::{Refusal, refusal_page};
use crate::page::lan::qr;
use crate::page::server::Caller;

/// Lets a browser in for its code. The page it gets goes on to the real one by itself, so that the
/// code stands in the address no longer than that, and the cookie goes along: a redirect of a
/// request that another program began would leave it behind.
pub async fn come_in(
    State(app): State<Arc<App>>,
    Extension(caller): Extension<Caller>,
    headers: HeaderMap,
    uri: Uri,
) -> Response {
    let ahead = headers.get("sec-purpose").is_some();
    let agent = headers
        .get(USER_AGENT)
        .and_then(|agent| agent.to_str().ok());
    let code = uri.query().and_then(|query| query.strip_prefix("code="));
    let cookie = code
        .filter(|_| !ahead)
        .and_then(|code| app.door.let_in(code, agent.unwrap_or(""), caller.address()));
    let Some(cookie) = cookie else {
        // Who is in already and asks again is not turned away for it.
        return match app.door.visitor(&headers) {
            Some(_) => onward(None),
            None => refusal_page(Refusal::Used),
        };
    };
    app.hub.tell("devices", &json!({}));
    onward(Some(cookie))
}

fn onward(cookie: Option<String>) -> Response {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="refresh" content="0;url=/";
                title { "grainrow" }
            }
            body { a href="/" { "To the page" } }
        }
    };
    let kind = [(CONTENT_TYPE, "text/html; charset=utf-8")];
    let mut response = (kind, page.into_string()).into_response();
    if let Some(cookie) = cookie.and_then(|cookie| cookie.parse().ok()) {
        response.headers_mut().insert(SET_COOKIE, cookie);
    }
    response
}

/// Who is in.
pub async fn list(State(app): State<Arc<App>>, Extension(asking): Extension<Asking>) -> Answer {
    Ok(json_of(&json!({
        "lan": app.door.is_open(),
        "you": asking.0,
        "devices": app.door.visitors(),
    })))
}

/// An address that lets one phone in, once, and a picture of it.
pub async fn invite(State(app): State<Arc<App>>) -> Answer {
    let host = app.door.phone_host().ok_or_else(|| {
        Trouble::Words("phones can't reach this page: start it with grainrow page --lan".to_owned())
    })?;
    let address = format!("http://{host}/in?code={}", app.door.code(false));
    Ok(json_of(&json!({ "address": address, "qr": qr(&address) })))
}

#[derive(Deserialize)]
struct Out {
    number: u32,
}

/// Throws one out.
pub async fn out(State(app): State<Arc<App>>, body: Body) -> Answer {
    let out: Out = asked(body).await?;
    app.door.throw_out(out.number);
    // Its stream ends with the next piece of news, which this is.
    app.hub.tell("devices", &json!({}));
    Ok(json_of(&json!({})))
}
