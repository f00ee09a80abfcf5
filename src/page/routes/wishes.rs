//! What a wish costs, and plans to choose from. A change stops the search for either.

use std::sync::Arc;
use std::time::Duration;

use axum::body::Body;
use axum::extract::State;
use serde::Deserialize;
use serde_json::{Value, json};

use super::reply::{Answer, asked, json_of, with_job};
use crate::commands::{Asking, PlanOrder, WishOrder, find, wish};
use crate::layout::Request;
use crate::page::app::App;

/// How long a price is searched for.
const PATIENCE: Duration = Duration::from_secs(30);
/// Ways shown at the most.
const WAYS: usize = 6;

#[derive(Deserialize)]
struct Wishes {
    wishes: Vec<String>,
}

fn request() -> Request {
    Request {
        time: Some(PATIENCE),
        ..Request::default()
    }
}

/// Prices wishes against the best plan without them; with none, those in force.
pub async fn price(State(app): State<Arc<App>>, body: Body) -> Answer {
    let asked: Wishes = asked(body).await?;
    let value = with_job(&app, move |open| {
        let order = WishOrder {
            warm: open.planner.warm_start(),
            folder: open.folder.clone(),
            what: match asked.wishes.is_empty() {
                true => Asking::List,
                false => Asking::Price,
            },
            wishes: asked.wishes,
            request: request(),
        };
        let version = open.planner.version();
        let wished = wish(&order, &open.planner.watch())?;
        let mut value = json!(wished);
        value["words"] = json!(wished.costs.in_words(wished.unit));
        value["version"] = json!(version);
        value["stopped"] = json!(version != open.planner.version());
        Ok(value)
    });
    Ok(json_of(&value.await?))
}

/// Plans side by side: wood against breaks against tone.
pub async fn ways(State(app): State<Arc<App>>) -> Answer {
    let value = with_job(&app, move |open| {
        let order = PlanOrder {
            folder: open.folder.clone(),
            request: request(),
            ways: Some(WAYS),
            ..PlanOrder::default()
        };
        let found = find(&order, &open.planner.watch())?;
        let ways = found.ways.map(|ways| ways.to_json(&found.reading.job));
        let ways: Value = serde_json::from_str(&ways.unwrap_or_default()).unwrap_or_default();
        Ok(ways)
    });
    Ok(json_of(&value.await?))
}
