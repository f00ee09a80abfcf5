//! News for every browser that is let in.

use std::sync::Arc;

use serde_json::Value;
use tokio::sync::broadcast::{Receiver, Sender, channel};

/// Pieces of news kept for a browser that reads slowly; one that falls further behind is told to
/// ask for everything anew.
const KEPT: usize = 256;

/// One piece of news.
#[derive(Clone, Debug)]
pub struct News {
    /// What it is about.
    pub name: &'static str,
    /// What there is to say, as JSON.
    pub text: Arc<str>,
}

/// Where news goes out.
#[derive(Clone, Debug)]
pub struct Hub(Sender<News>);

impl Hub {
    /// Nobody listens yet.
    pub fn new() -> Hub {
        Hub(channel(KEPT).0)
    }

    /// Tells everybody who listens.
    pub fn tell(&self, name: &'static str, value: &Value) {
        let text = value.to_string().into();
        // That nobody listens is no fault.
        let _ = self.0.send(News { name, text });
    }

    /// Listens from now on.
    pub fn listen(&self) -> Receiver<News> {
        self.0.subscribe()
    }
}
