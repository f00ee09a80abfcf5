//! The files: all there is to show, changes, and the way back.

use std::sync::Arc;

use axum::body::Body;
use axum::extract::State;
use serde::Deserialize;
use serde_json::json;

use super::reply::{Answer, Trouble, aside, asked, json_of, with_job};
use crate::page::app::App;
use crate::page::desk::Change;

/// All there is to show, whether a job lies open or not.
pub async fn state(State(app): State<Arc<App>>) -> Answer {
    let Some(open) = app.job() else {
        return Ok(json_of(
            &json!({ "open": false, "lan": app.door.is_open() }),
        ));
    };
    let lan = app.door.is_open();
    let value = aside(move || {
        let mut state = open.state();
        state["open"] = json!(true);
        state["lan"] = json!(lan);
        Ok(state)
    });
    Ok(json_of(&value.await?))
}

/// Changes to be made together.
#[derive(Deserialize)]
struct Asked {
    #[serde(default)]
    label: String,
    #[serde(default)]
    group: String,
    changes: Vec<Change>,
}

/// Makes changes: all of them, or none.
pub async fn change(State(app): State<Arc<App>>, body: Body) -> Answer {
    let asked: Asked = asked(body).await?;
    let value = with_job(&app, move |open| {
        let mut desk = open.desk();
        let done = desk.change(&asked.label, &asked.group, &asked.changes);
        let changed = match done {
            Ok(changed) => changed,
            Err(why) => {
                // What was changed outside is told all the same.
                let looked = desk.look();
                open.changed(&desk, &looked);
                return Err(why.into());
            }
        };
        let version = open.changed(&desk, &changed);
        Ok(json!({ "version": version, "added": changed.added }))
    });
    Ok(json_of(&value.await?))
}

#[derive(Deserialize)]
struct Turn {
    #[serde(default)]
    again: bool,
}

/// Takes the last step back, or does it again.
pub async fn undo(State(app): State<Arc<App>>, body: Body) -> Answer {
    let turn: Turn = asked(body).await?;
    let value = with_job(&app, move |open| {
        let mut desk = open.desk();
        let changed = desk.undo(turn.again).map_err(Trouble::from)?;
        let version = open.changed(&desk, &changed);
        Ok(json!({ "version": version, "files": changed.files }))
    });
    Ok(json_of(&value.await?))
}
