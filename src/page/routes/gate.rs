//! The gate every request goes through.

use std::sync::{Arc, LazyLock};

use axum::extract::{Request, State};
use axum::http::Method;
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use crate::page::app::App;
use crate::page::guard::{Pace, Refusal, may_ask, refusal_page, safe};

/// Who asks: the number of a browser that is let in.
#[derive(Clone, Copy, Debug)]
pub struct Asking(pub u32);

/// Changes at once and a second, of all browsers together: nobody types faster.
static CHANGES: LazyLock<Pace> = LazyLock::new(|| Pace::new(300.0, 60.0));

/// Lets a request through, or says why not; every answer tells the browser what to keep to.
pub async fn gate(State(app): State<Arc<App>>, request: Request, next: Next) -> Response {
    let looked_at = matches!(request.uri().path(), "/" | "/in");
    let mut response = match admitted(&app, request) {
        Ok(request) => next.run(request).await,
        // A maker looks at it: why, and what to type.
        Err(refusal) if looked_at => refusal_page(refusal),
        Err(refusal) => refusal.into_response(),
    };
    safe(response.headers_mut());
    response
}

fn admitted(app: &App, request: Request) -> Result<Request, Refusal> {
    let (mut parts, body) = request.into_parts();
    may_ask(&app.door, &parts)?;
    if parts.uri.path() != "/in" {
        let visitor = app.door.visitor(&parts.headers);
        parts
            .extensions
            .insert(Asking(visitor.ok_or(Refusal::NotIn)?));
    }
    let changes = !matches!(parts.method, Method::GET | Method::HEAD);
    if changes && !CHANGES.take() {
        return Err(Refusal::TooOften);
    }
    Ok(Request::from_parts(parts, body))
}
