//! News as it comes, in a stream that ends with the server or when a browser is thrown out.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use axum::Extension;
use axum::extract::State;
use axum::response::sse::{Event, Sse};
use futures_util::stream::{Stream, unfold};
use tokio::sync::broadcast::Receiver;
use tokio::sync::broadcast::error::RecvError;
use tokio::sync::watch;
use tokio::time::timeout;

use super::gate::Asking;
use crate::page::app::App;
use crate::page::hub::News;

/// A sign of life when there is no news; also how soon one who is thrown out notices.
const EVERY: Duration = Duration::from_secs(5);

/// The stream of news.
pub async fn events(
    State(app): State<Arc<App>>,
    Extension(asking): Extension<Asking>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let listening = Listening {
        news: app.hub.listen(),
        ending: app.ending.subscribe(),
        app,
        asking,
        greeted: false,
    };
    Sse::new(unfold(listening, |mut listening| async move {
        let event = listening.next().await?;
        Some((Ok(event), listening))
    }))
}

struct Listening {
    app: Arc<App>,
    asking: Asking,
    news: Receiver<News>,
    ending: watch::Receiver<bool>,
    greeted: bool,
}

impl Listening {
    async fn next(&mut self) -> Option<Event> {
        if !self.greeted {
            self.greeted = true;
            return Some(Event::default().event("hello").data("{}"));
        }
        let news = tokio::select! {
            news = timeout(EVERY, self.news.recv()) => news,
            _ = self.ending.wait_for(|ending| *ending) => return None,
        };
        if !self.app.door.is_in(self.asking.0) {
            return None;
        }
        match news {
            Err(_) => Some(Event::default().comment("still here")),
            Ok(Ok(news)) => Some(Event::default().event(news.name).data(&*news.text)),
            // Too far behind: all of it anew.
            Ok(Err(RecvError::Lagged(_))) => Some(Event::default().event("hello").data("{}")),
            Ok(Err(RecvError::Closed)) => None,
        }
    }
}
