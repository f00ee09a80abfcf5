//! How much to buy.

use std::sync::{Arc, PoisonError};

use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use serde::Deserialize;
use serde_json::{Value, json};

use super::reply::{Answer, Trouble, asked, json_of, with_job};
use crate::commands::{EstimateOrder, estimate as command};
use crate::draw;
use crate::estimate::{Ask, Watch};
use crate::measure::volume_names;
use crate::page::app::App;

/// Piles drawn when nothing else is asked for: few enough to wait for. The intervals say how rough
/// that is.
const FEW: usize = 50;
/// Piles drawn at the most.
const MOST: usize = 1000;

#[derive(Deserialize)]
struct Asked {
    /// Purchases to judge.
    #[serde(default)]
    have: Vec<String>,
    #[serde(default)]
    breaks: usize,
    /// Piles to draw.
    trials: Option<usize>,
}

/// Goes on until the job is put away: what to buy does not hang on the boards there are.
struct Lasting<W>(W);

impl<W: crate::layout::Watch> Watch for Lasting<W> {
    fn stop(&self) -> bool {
        self.0.stop()
    }
}

/// Estimates what to buy.
pub async fn estimate(State(app): State<Arc<App>>, body: Body) -> Answer {
    let asked: Asked = asked(body).await?;
    let value = with_job(&app, move |open| {
        let order = EstimateOrder {
            folder: open.folder.clone(),
            ask: Ask {
                trials: asked.trials.unwrap_or(FEW).clamp(1, MOST),
                breaks: asked.breaks,
                ..Ask::default()
            },
            have: asked.have,
            ..EstimateOrder::default()
        };
        let told = command(&order, &Lasting(open.planner.until_closed()))?;
        let json = serde_json::to_string(&told.estimate).unwrap_or_default();
        let json = volume_names(told.estimate.unit, &json);
        let value: Value = serde_json::from_str(&json).unwrap_or_default();
        let mut kept = open.estimate.lock().unwrap_or_else(PoisonError::into_inner);
        *kept = Some(Arc::new(told));
        Ok(value)
    });
    Ok(json_of(&json!(value.await?)))
}

/// A chart of the last estimate.
pub async fn chart(State(app): State<Arc<App>>, Path(chart): Path<String>) -> Answer {
    let svg = with_job(&app, move |open| {
        let kept = open.estimate.lock().unwrap_or_else(PoisonError::into_inner);
        let told = kept.clone();
        drop(kept);
        let told = told.ok_or_else(|| Trouble::Words("nothing is estimated yet".to_owned()))?;
        let drawing = match chart.as_str() {
            "need" => draw::feet_to_buy(&told.estimate),
            _ => draw::need_of_runs(&told.estimate, told.job.settings.ruler()),
        };
        Ok(drawing.svg())
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml")], svg.await?).into_response())
}
