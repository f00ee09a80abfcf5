//! What can be asked, each by one small function that calls one thing.

mod buy;
mod devices;
mod events;
mod files;
mod gate;
mod jobs;
mod packet;
mod photos;
mod reply;
mod shop;
mod wishes;

use std::sync::Arc;

use axum::Router;
use axum::extract::Path;
use axum::http::StatusCode;
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post, put};

use super::app::App;
use super::guard::Refusal;
use super::statics;

/// Everything that can be asked, behind the door.
pub fn router(app: &Arc<App>) -> Router {
    Router::new()
        .route("/", get(|| async { named("index.html") }))
        .route("/favicon.ico", get(|| async { named("icon.svg") }))
        .route("/in", get(devices::come_in))
        .route("/static/{name}", get(own))
        .route("/api/state", get(files::state))
        .route("/api/events", get(events::events))
        .route("/api/change", post(files::change))
        .route("/api/undo", post(files::undo))
        .route("/api/jobs", get(jobs::list))
        .route("/api/open", post(jobs::open))
        .route("/api/start", post(jobs::start))
        .route("/api/close", post(jobs::close))
        .route("/api/wish", post(wishes::price))
        .route("/api/ways", post(wishes::ways))
        .route("/api/shop", get(shop::stand))
        .route("/api/shop/board/{at}", get(shop::board))
        .route("/api/hand", post(shop::hand))
        .route("/api/mark", post(shop::mark))
        .route("/api/estimate", post(buy::estimate))
        .route("/api/estimate/{chart}", get(buy::chart))
        .route("/api/photo/{board}", put(photos::add))
        .route("/api/picture/{row}", get(photos::picture))
        .route("/api/measure", post(photos::measure))
        .route("/api/face/{name}", get(photos::face))
        .route("/api/case", get(photos::case))
        .route("/api/accept", post(photos::accept))
        .route("/api/devices", get(devices::list))
        .route("/api/invite", post(devices::invite))
        .route("/api/out", post(devices::out))
        .route("/packet/{name}", get(packet::file))
        .fallback(|| async { Refusal::Nothing })
        .layer(from_fn_with_state(Arc::clone(app), gate::gate))
        .with_state(Arc::clone(app))
}

async fn own(Path(name): Path<String>) -> Response {
    named(&name)
}

fn named(name: &str) -> Response {
    match statics::file(name) {
        Some(file) => file,
        None => (StatusCode::NOT_FOUND, Refusal::Nothing).into_response(),
    }
}
