//! The work in the shop: taking a plan there, ticks, what is found on a board.

use std::sync::Arc;

use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use serde::Deserialize;
use serde_json::json;

use super::reply::{Answer, Trouble, asked, json_of, with_job};
use crate::commands::{self, Happened, MarkOrder, PlanOrder, RecutOrder, hand_over, recut};
use crate::job::{DefectKind, DefectMark, DefectSide, Finished};
use crate::layout::Request;
use crate::page::app::{App, Open};
use crate::page::plans::{Best, BestKind, PATIENCE, Stage};
use crate::page::show;

/// Where the work stands.
pub async fn stand(State(app): State<Arc<App>>) -> Answer {
    let value = with_job(&app, |open| {
        let _desk = open.desk();
        let shop = match commands::shop(&open.folder, &open.folder.join("out")) {
            Ok(shop) => shop,
            // Nothing is chalked yet, or it does not go with the job as it is: that is no trouble
            // of the question.
            Err(why) => return Ok(json!({ "none": why.to_string() })),
        };
        let best = open.planner.known().best;
        Ok(show::shop(&shop, best.as_deref()))
    });
    Ok(json_of(&value.await?))
}

/// The diagram of one board.
pub async fn board(State(app): State<Arc<App>>, Path(at): Path<usize>) -> Answer {
    let svg = with_job(&app, move |open| {
        let shop = commands::shop(&open.folder, &open.folder.join("out"))?;
        show::board_svg(&shop, at).ok_or_else(|| Trouble::Words("no such board".to_owned()))
    });
    Ok(([(CONTENT_TYPE, "image/svg+xml")], svg.await?).into_response())
}

/// Takes the plan on the screen to the shop: writes packet, marks and drawings.
pub async fn hand(State(app): State<Arc<App>>) -> Answer {
    let value = with_job(&app, |open| {
        let best = open.planner.known().best;
        let version = open.planner.version();
        let newest = best.filter(|best| best.version == version && best.stage == Stage::Last);
        let best = newest.ok_or_else(|| {
            Trouble::Words("the plan on the screen is still being searched for".to_owned())
        })?;
        let files = written(open, &best)?;
        open.look();
        open.tell_shop();
        Ok(json!({ "files": files }))
    });
    Ok(json_of(&value.await?))
}

/// Writes a plan, or what is left of one, and names the files.
fn written(open: &Open, best: &Best) -> Result<Vec<String>, Trouble> {
    match &best.kind {
        BestKind::Plan(found) => {
            let order = PlanOrder {
                folder: open.folder.clone(),
                ..PlanOrder::default()
            };
            Ok(hand_over(&order, (**found).clone())?.files)
        }
        BestKind::Recut(_) => {
            let order = RecutOrder {
                folder: open.folder.clone(),
                request: Request {
                    time: Some(PATIENCE),
                    ..Request::default()
                },
                ..RecutOrder::default()
            };
            Ok(recut(&order, &open.planner.until_closed())?.files)
        }
    }
}

/// What happened, as the page says it.
#[derive(Deserialize)]
#[serde(tag = "what", rename_all = "lowercase")]
enum Told {
    Fronts {
        names: Vec<String>,
        now: Fate,
        #[serde(default)]
        notes: String,
    },
    Crosscut {
        board: String,
        copy: Option<u32>,
        at: String,
        #[serde(default)]
        notes: String,
    },
    Defect {
        board: String,
        copy: Option<u32>,
        kind: DefectKind,
        edges: [String; 4],
        #[serde(default)]
        side: DefectSide,
        #[serde(default)]
        notes: String,
    },
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Fate {
    Cut,
    Made,
    Spoiled,
}

impl Told {
    fn happened(self) -> Happened {
        match self {
            Told::Fronts { names, now, notes } => Happened::Fronts {
                names,
                now: match now {
                    Fate::Cut => Some(Finished::Cut),
                    Fate::Made => Some(Finished::Made),
                    Fate::Spoiled => None,
                },
                notes,
            },
            Told::Crosscut {
                board,
                copy,
                at,
                notes,
            } => Happened::Crosscut {
                board,
                copy,
                at,
                notes,
            },
            Told::Defect {
                board,
                copy,
                kind,
                edges,
                side,
                notes,
            } => Happened::Defect(DefectMark {
                board,
                copy,
                kind,
                edges,
                side,
                notes,
            }),
        }
    }
}

/// Marks what happened.
pub async fn mark(State(app): State<Arc<App>>, body: Body) -> Answer {
    let told: Told = asked(body).await?;
    let value = with_job(&app, move |open| {
        let mut desk = open.desk();
        let looked = desk.look();
        open.changed(&desk, &looked);
        let marked = commands::mark(&MarkOrder {
            folder: open.folder.clone(),
            out: None,
            what: told.happened(),
        })?;
        let changed = desk.look_as(&marked.what);
        open.changed(&desk, &changed);
        open.tell_shop();
        Ok(json!({ "what": marked.what, "notes": marked.notes }))
    });
    Ok(json_of(&value.await?))
}
