//! What a browser sends, within limits of size and patience.

use std::time::Duration;

use axum::body::{Body, HttpBody};
use futures_util::StreamExt;
use tokio::time::{Instant, timeout_at};

use super::Refusal;

/// How long whoever sends may take to begin with.
const GRACE: Duration = Duration::from_secs(10);
/// Bytes a second that are asked for then: a poor connection has more.
const LEAST_SPEED: u64 = 16 << 10;

/// Reads a body of at most `most` bytes.
///
/// # Errors
/// [`Refusal::TooLarge`] as soon as that is known, [`Refusal::TooSlow`] when it does not come.
pub async fn read(body: Body, most: u64) -> Result<Vec<u8>, Refusal> {
    if body.size_hint().lower() > most {
        return Err(Refusal::TooLarge);
    }
    let begun = Instant::now();
    let mut bytes: Vec<u8> = Vec::new();
    let mut stream = body.into_data_stream();
    loop {
        let patience = GRACE + Duration::from_secs(bytes.len() as u64 / LEAST_SPEED);
        match timeout_at(begun + patience, stream.next()).await {
            Err(_) => return Err(Refusal::TooSlow),
            Ok(None) => return Ok(bytes),
            Ok(Some(Err(_))) => return Err(Refusal::Broken),
            Ok(Some(Ok(part))) => bytes.extend_from_slice(&part),
        }
        if bytes.len() as u64 > most {
            return Err(Refusal::TooLarge);
        }
    }
}
