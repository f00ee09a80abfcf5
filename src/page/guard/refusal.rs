//! Why somebody is turned away, and what to do about it.

use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use maud::{DOCTYPE, html};

/// Why a request is not answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// It calls this server by a name that is not its own.
    #[error("this server does not go by that name: use the address that grainrow printed")]
    Host,
    /// It comes from another page.
    #[error("changes are taken from grainrow's own page only")]
    Origin,
    /// It lacks the header of the page.
    #[error("a change must say that it comes from grainrow's own page")]
    Header,
    /// It is not let in.
    #[error("this browser is not let in")]
    NotIn,
    /// Its code was used already, or never was one.
    #[error("this address was used already, or is too old")]
    Used,
    /// There is no such thing here.
    #[error("there is nothing at this address")]
    Nothing,
    /// It sends more than is taken.
    #[error("that is more than is taken at once")]
    TooLarge,
    /// It sends too slowly.
    #[error("what was sent did not arrive in time")]
    TooSlow,
    /// It asks too often.
    #[error("that was too often: wait a moment")]
    TooOften,
    /// It broke off.
    #[error("what was sent broke off")]
    Broken,
}

impl Refusal {
    fn status(self) -> StatusCode {
        match self {
            Refusal::Host => StatusCode::MISDIRECTED_REQUEST,
            Refusal::Origin | Refusal::Header | Refusal::NotIn | Refusal::Used => {
                StatusCode::FORBIDDEN
            }
            Refusal::Nothing => StatusCode::NOT_FOUND,
            Refusal::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
            Refusal::TooSlow => StatusCode::REQUEST_TIMEOUT,
            Refusal::TooOften => StatusCode::TOO_MANY_REQUESTS,
            Refusal::Broken => StatusCode::BAD_REQUEST,
        }
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let json = serde_json::json!({ "error": self.to_string() }).to_string();
        let kind = [(CONTENT_TYPE, "application/json")];
        (self.status(), kind, json).into_response()
    }
}

/// The same for somebody who looks at it: why, and what to type.
pub fn refusal_page(refusal: Refusal) -> Response {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "grainrow: not let in" }
            }
            body {
                h1 { "Not let in" }
                p { "Sorry: " (refusal) "." }
                p {
                    "On the machine where the job is, open a terminal and type "
                    code { "grainrow page" }
                    ". It opens the page in a browser that is let in, and prints an address that \
                     lets one more browser in, once."
                }
                p {
                    "On a phone: type "
                    code { "grainrow page --lan" }
                    " there, choose " b { "Devices" } " on the page, and point the phone's camera \
                     at the square."
                }
            }
        }
    };
    let kind = [(CONTENT_TYPE, "text/html; charset=utf-8")];
    (refusal.status(), kind, page.into_string()).into_response()
}
