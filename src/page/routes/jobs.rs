//! Choosing a job, or beginning one.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use axum::body::Body;
use axum::extract::State;
use serde::Deserialize;
use serde_json::json;

use super::reply::{Answer, Trouble, aside, asked, json_of};
use crate::commands::{file_name, start as example, start_chest, start_empty};
use crate::job::JOB_TOML;
use crate::measure::Unit;
use crate::page::app::App;

/// Jobs shown at the most.
const MOST: usize = 200;

/// The jobs in the folder the program was started in: folders with a `job.toml`.
fn jobs(home: &Path) -> Vec<String> {
    let entries = fs::read_dir(home).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .filter(|entry| entry.path().join(JOB_TOML).is_file())
        .filter_map(|entry| entry.file_name().into_string().ok())
        .collect();
    names.sort();
    names.truncate(MOST);
    names
}

/// The jobs there are.
pub async fn list(State(app): State<Arc<App>>) -> Answer {
    let home = app.home.clone();
    let jobs = aside(move || Ok(jobs(&home))).await?;
    let home = app.home.display().to_string();
    Ok(json_of(&json!({ "home": home, "jobs": jobs })))
}

#[derive(Deserialize)]
struct Named {
    name: String,
}

/// Opens one of them. What is asked for is looked up among those there are: no name becomes a path.
pub async fn open(State(app): State<Arc<App>>, body: Body) -> Answer {
    let asked: Named = asked(body).await?;
    let at = Arc::clone(&app);
    aside(move || {
        let known = jobs(&at.home).into_iter().find(|name| *name == asked.name);
        let known = known.ok_or_else(|| Trouble::Words("there is no such job".to_owned()))?;
        Ok(at.open(&at.home.join(known))?)
    })
    .await?;
    Ok(json_of(&json!({})))
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum What {
    Chest,
    Example,
    Empty,
}

#[derive(Deserialize)]
struct Begin {
    what: What,
    #[serde(default)]
    name: String,
    #[serde(default)]
    unit: Unit,
}

/// Begins a job in a folder of its own, and opens it.
pub async fn start(State(app): State<Arc<App>>, body: Body) -> Answer {
    let begin: Begin = asked(body).await?;
    let at = Arc::clone(&app);
    aside(move || {
        let (title, unit) = (begin.name.trim(), begin.unit);
        let name = match (&begin.what, title) {
            (What::Chest, _) => "chest to play with",
            (_, "") => "my piece",
            (_, title) => title,
        };
        let folder = free(&at.home, name);
        match begin.what {
            What::Chest => start_chest(&folder)?,
            What::Example => example(&folder, unit, false)?,
            What::Empty => start_empty(&folder, unit, title)?,
        };
        Ok(at.open(&folder)?)
    })
    .await?;
    Ok(json_of(&json!({})))
}

/// A folder that is not there yet, named after what the maker calls the piece.
fn free(home: &Path, name: &str) -> PathBuf {
    let base = file_name(name);
    let names = std::iter::once(base.clone()).chain((2..).map(|n| format!("{base}-{n}")));
    let free = names
        .map(|name| home.join(name))
        .find(|path| !path.exists());
    free.unwrap_or_else(|| home.join(base))
}

/// Puts the job away, so that another can be chosen.
pub async fn close(State(app): State<Arc<App>>) -> Answer {
    aside(move || {
        app.close();
        Ok(())
    })
    .await?;
    Ok(json_of(&json!({})))
}
