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
    let mut response = match admitted(&app, request) {
        Ok(request) => next.run(request).await,
        Err(refused) => refused,
    };
    safe(response.headers_mut());
    response
}

fn admitted(app: &App, request: Request) -> Result<Request, Response> {
    let (mut parts, body) = request.into_parts();
    let path = parts.uri.path();
    let told = |refusal: Refusal| match path == "/" || path == "/in" {
        true => refusal_page(refusal),
        false => refusal.into_response(),
    };
    may_ask(&app.door, &parts).map_err(told)?;
    if path != "/in" {
        let visitor = app.door.visitor(&parts.headers);
        let visitor = visitor.ok_or_else(|| told(Refusal::NotIn))?;
        parts.extensions.insert(Asking(visitor));
    }
    let changes = !matches!(parts.method, Method::GET | Method::HEAD);
    if changes && !CHANGES.take() {
        return Err(Refusal::TooOften.into_response());
    }
    Ok(Request::from_parts(parts, body))
}
