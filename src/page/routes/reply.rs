//! Answers in one form, and work that takes its time done beside the server.

use std::sync::Arc;

use axum::body::Body;
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use crate::commands::Failure;
use crate::page::app::{App, Open};
use crate::page::desk::Refused;
use crate::page::guard::{Refusal, read};

/// Most bytes of a question: a table pasted whole is far less.
const MOST: u64 = 2 << 20;

/// Why something asked for was not done.
#[derive(Debug, thiserror::Error)]
pub enum Trouble {
    /// The request itself.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// A change.
    #[error(transparent)]
    Change(#[from] Refused),
    /// A command.
    #[error(transparent)]
    Command(#[from] Failure),
    /// In words.
    #[error("{0}")]
    Words(String),
    /// No job lies open.
    #[error("no job is open")]
    NoJob,
    /// A fault of this program.
    #[error("this is a fault of grainrow: please report it")]
    Broken,
}

/// An answer.
pub type Answer = Result<Response, Trouble>;

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        let (status, extra) = match &self {
            Trouble::Refused(refusal) => return refusal.into_response(),
            Trouble::Change(Refused::Clash(clash)) => (StatusCode::CONFLICT, json!(clash)),
            Trouble::Command(Failure::Faults(faults)) => {
                (StatusCode::UNPROCESSABLE_ENTITY, json!(faults))
            }
            Trouble::Broken => (StatusCode::INTERNAL_SERVER_ERROR, Value::Null),
            _ => (StatusCode::UNPROCESSABLE_ENTITY, Value::Null),
        };
        let value = json!({ "error": self.to_string(), "more": extra });
        (status, json_of(&value)).into_response()
    }
}

/// A value as an answer.
pub fn json_of(value: &Value) -> Response {
    let kind = [(CONTENT_TYPE, "application/json")];
    (kind, value.to_string()).into_response()
}

/// What a request says.
pub async fn asked<T: DeserializeOwned>(body: Body) -> Result<T, Trouble> {
    let bytes = read(body, MOST).await?;
    serde_json::from_slice(&bytes).map_err(|why| Trouble::Words(why.to_string()))
}

/// Does work on the job that lies open, beside the server.
pub async fn with_job<T: Send + 'static>(
    app: &Arc<App>,
    work: impl FnOnce(&Open) -> Result<T, Trouble> + Send + 'static,
) -> Result<T, Trouble> {
    let open = app.job().ok_or(Trouble::NoJob)?;
    aside(move || work(&open)).await
}

/// Does work beside the server.
pub async fn aside<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Trouble> + Send + 'static,
) -> Result<T, Trouble> {
    tokio::task::spawn_blocking(work)
        .await
        .unwrap_or(Err(Trouble::Broken))
}
