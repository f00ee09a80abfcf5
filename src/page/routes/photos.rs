//! Photographs of boards: taken in, measured, accepted.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use serde_json::json;

use super::reply::{Answer, Trouble, asked, json_of, with_job};
use crate::commands::{
    Accept, PhotoOrder, Picked, add_picture, photo, photographed, picture as bytes_of,
};
use crate::job::{BOARDS_CSV, PHOTOS_CSV, Trouble as _};
use crate::page::app::App;
use crate::page::desk::Change;
use crate::page::guard::read;
use crate::page::show;

/// Most bytes of one photograph.
const MOST: u64 = 64 << 20;

/// Takes in a photograph of a board, as the camera wrote it.
pub async fn add(State(app): State<Arc<App>>, Path(board): Path<String>, body: Body) -> Answer {
    let bytes = read(body, MOST).await?;
    let value = with_job(&app, move |open| {
        let known = open.desk().paper(BOARDS_CSV).and_then(|paper| paper.grid());
        let grid = known.unwrap_or_default();
        if !(0..grid.rows.len()).any(|row| grid.cell(row, "board") == board) {
            return Err(Trouble::Words(format!("there is no board {board}")));
        }
        let added = add_picture(&open.folder, &board, &bytes)?;
        let name = added.map_err(|why| {
            let hint = why.hint().map(|hint| format!(": {hint}"));
            Trouble::Words(format!("{why}{}", hint.unwrap_or_default()))
        })?;
        let cells = BTreeMap::from([
            ("photo".to_owned(), name.clone()),
            ("board".to_owned(), board.clone()),
        ]);
        let change = Change::Add {
            file: PHOTOS_CSV.to_owned(),
            before: None,
            cells,
        };
        let mut desk = open.desk();
        let label = format!("a photograph of {board}");
        let changed = desk.change(&label, "", &[change])?;
        open.changed(&desk, &changed);
        Ok(json!({ "photo": name, "row": changed.added.first() }))
    });
    Ok(json_of(&value.await?))
}

/// A picture that photos.csv names, by the number of its row.
pub async fn picture(State(app): State<Arc<App>>, Path(row): Path<u64>) -> Answer {
    let bytes = with_job(&app, move |open| {
        let pictures = show::pictures(&open.desk());
        let named = pictures.into_iter().find(|(number, _)| *number == row);
        let (_, file) = named.ok_or_else(|| Trouble::Words("no such picture".to_owned()))?;
        bytes_of(&open.folder, &file).map_err(Trouble::Words)
    });
    image(bytes.await?)
}

/// Bytes of a JPEG or PNG, and of nothing else.
fn image(bytes: Vec<u8>) -> Answer {
    let kind = match bytes.as_slice() {
        [0xff, 0xd8, ..] => "image/jpeg",
        [0x89, b'P', b'N', b'G', ..] => "image/png",
        _ => return Err(Trouble::Words("that is no JPEG or PNG".to_owned())),
    };
    let response: Response = ([(CONTENT_TYPE, kind)], bytes).into_response();
    Ok(response)
}

/// Measures all photographs.
pub async fn measure(State(app): State<Arc<App>>) -> Answer {
    let value = with_job(&app, |open| {
        let order = PhotoOrder {
            folder: open.folder.clone(),
            out: None,
            accept: None,
        };
        let told = photo(&order, &|_, _| {})?;
        // A tone that is `photo` may be another now.
        open.planner.again();
        Ok(json!({ "told": told.told, "files": names(&told.files) }))
    });
    Ok(json_of(&value.await?))
}

fn names(files: &[std::path::PathBuf]) -> Vec<String> {
    let name = |file: &std::path::PathBuf| Some(file.file_name()?.to_str()?.to_owned());
    files.iter().filter_map(name).collect()
}

/// A straightened picture, by its file's name: looked up among those there are.
pub async fn face(State(app): State<Arc<App>>, Path(name): Path<String>) -> Answer {
    let bytes = with_job(&app, move |open| {
        let folder = open.folder.join("out").join("photos");
        let entries = std::fs::read_dir(&folder).into_iter().flatten().flatten();
        let mut known = entries.filter_map(|entry| entry.file_name().into_string().ok());
        let known = known.find(|known| *known == name);
        let known = known.ok_or_else(|| Trouble::Words("no such picture".to_owned()))?;
        bytes_of(&open.folder, &format!("out/photos/{known}")).map_err(Trouble::Words)
    });
    image(bytes.await?)
}

/// The plan on the screen in its boards' photographs.
pub async fn case(State(app): State<Arc<App>>) -> Answer {
    let jpeg = with_job(&app, |open| {
        let best = open.planner.known().best;
        let best = best.ok_or_else(|| Trouble::Words("there is no plan yet".to_owned()))?;
        let out = open.folder.join("out");
        photographed(&out, best.job(), best.the_plan()).ok_or_else(|| {
            Trouble::Words("no board of this plan has a photograph that was measured".to_owned())
        })
    });
    image(jpeg.await?)
}

#[derive(Deserialize)]
struct Accepting {
    what: Sort,
    #[serde(default)]
    boards: Vec<String>,
    #[serde(default)]
    numbers: Vec<usize>,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Sort {
    Corners,
    Defects,
    Tones,
}

/// Writes proposals into the job.
pub async fn accept(State(app): State<Arc<App>>, body: Body) -> Answer {
    let asked: Accepting = asked(body).await?;
    let value = with_job(&app, move |open| {
        let mut desk = open.desk();
        let order = PhotoOrder {
            folder: open.folder.clone(),
            out: None,
            accept: Some(Picked {
                what: match asked.what {
                    Sort::Corners => Accept::Corners,
                    Sort::Defects => Accept::Defects,
                    Sort::Tones => Accept::Tones,
                },
                boards: asked.boards,
                numbers: asked.numbers,
                above: None,
            }),
        };
        let told = photo(&order, &|_, _| {})?;
        let what = told.accepted.map_or(Vec::new(), |accepted| accepted.what);
        let changed = desk.look_as("accepted from photographs");
        open.changed(&desk, &changed);
        Ok(json!({ "what": what }))
    });
    Ok(json_of(&value.await?))
}
