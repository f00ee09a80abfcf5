//! The proof sheet: what was found, drawn over the pictures, for the maker to look at.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::told::{BoardTold, DefectTold, PhotoTold, Told};
use crate::measure::{Length, Ruler, Unit};
use crate::photo::outline::SURE;

const STYLE: &str = "\
body{font:16px/1.4 sans-serif;margin:1.5em auto;max-width:75em;padding:0 1em;color:#222}\
svg,img{width:100%;height:auto;display:block}figure{margin:0 0 2em}\
.outline{fill:none;stroke:#fff;stroke-width:3}.outline.under{stroke:#000;stroke-width:6}\
.unsure{stroke-dasharray:14 10}.box{fill:none;stroke:#000;stroke-width:3}.box.over{stroke:#fff;stroke-width:1.4}\
.number{font:bold 20px sans-serif;fill:#fff;stroke:#000;stroke-width:4;paint-order:stroke}\
table{border-collapse:collapse}td,th{padding:.1em .9em .1em 0;text-align:left}\
.say{font-weight:bold}.tones{display:flex;height:2.2em}.tones span{flex:1;text-align:center;font-size:.8em;padding-top:.4em}";

/// The proof sheet as a page; `files` are the straightened pictures beside it, one a board told.
pub fn proof_html(told: &Told, files: &[String], ruler: Ruler) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Proof sheet of the photographs" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { "Proof sheet of the photographs" }
                p { "Look whether each outline lies on its board, the hook end where \u{201c}hook\u{201d} stands, and which of the numbered defects are any. Nothing is written into the job before you accept it." }
                @for note in &told.notes { p.say { (note) } }
                h2 { "Pictures" }
                @for (at, photo) in told.photos.iter().enumerate() {
                    @if photo.shown.is_some() { (picture(told, at, photo)) }
                }
                h2 { "Boards" }
                @for (board, file) in told.boards.iter().zip(files) { (face(board, file, told.unit, ruler)) }
                @for group in &told.alike {
                    p { "Not told apart by tone: " (group.join(", ")) "." }
                }
            }
        }
    };
    page.into_string()
}

/// A picture with the outlines of all boards in it.
fn picture(told: &Told, at: usize, photo: &PhotoTold) -> Markup {
    let Some(shown) = &photo.shown else {
        return html! {};
    };
    let data = format!("data:image/jpeg;base64,{}", STANDARD.encode(&shown.jpeg));
    let here: Vec<&PhotoTold> = told
        .photos
        .iter()
        .skip(at)
        .filter(|other| other.photo == photo.photo)
        .collect();
    html! {
        figure {
            svg viewBox={ "0 0 " (shown.width) " " (shown.height) } role="img" aria-label=(photo.photo) {
                image href=(data) width=(shown.width) height=(shown.height);
                @for other in &here { (outline(other, shown.by as f64)) }
            }
            figcaption {
                @for other in &here {
                    (photo.photo) ": " (other.board) ", "
                    @match (other.found, other.corners) {
                        (false, _) => "corners as given",
                        (true, None) => "not found",
                        (true, Some(_)) => { "found, confidence " (format!("{:.2}", other.confidence))
                            @if other.confidence < SURE { b { " \u{2014} not used before it is confirmed" } } }
                    }
                    br;
                }
            }
        }
    }
}

fn outline(photo: &PhotoTold, by: f64) -> Markup {
    let Some(corners) = photo.corners else {
        return html! {};
    };
    let small = corners.map(|corner| corner.map(|at| at / by));
    let points: Vec<String> = small
        .iter()
        .map(|[x, y]| format!("{x:.1},{y:.1}"))
        .collect();
    let points = points.join(" ");
    let class = if photo.confidence < SURE {
        "outline unsure"
    } else {
        "outline"
    };
    let middle = |a: [f64; 2], b: [f64; 2]| [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
    let hook = middle(small[0], small[3]);
    let near = middle(small[0], small[1]);
    html! {
        polygon.outline.under points=(points);
        polygon class=(class) points=(points);
        text.number x=(format!("{:.0}", hook[0] + 6.0)) y=(format!("{:.0}", hook[1])) { "hook" }
        text.number x=(format!("{:.0}", near[0])) y=(format!("{:.0}", near[1] - 8.0)) { (photo.board) " near" }
    }
}

/// A straightened face with its defects numbered.
fn face(board: &BoardTold, file: &str, unit: Unit, ruler: Ruler) -> Markup {
    let (width, height) = board.size;
    let show = |length: f64| ruler.show(Length::from_unit(length, unit));
    html! {
        figure {
            h3 { (board.board) @if board.copy > 1 { " #" (board.copy) }
                ": tone " (board.tone) " \u{b1} " (format!("{:.1}", board.uncertain)) }
            svg viewBox={ "0 0 " (width) " " (height) } role="img" aria-label=(board.board) {
                image href=(file) width=(width) height=(height);
                @for defect in &board.defects { (mark(defect, board)) }
            }
            div.tones {
                @for part in &board.along {
                    span style=(format!("background:{}", shade(part.lab))) {
                        (format!("{:.0}", part.lab[0]))
                    }
                }
            }
            p { "Lightness L* along the board, each part " (board.along.first().map_or(String::new(), |part| ruler.show_with_unit(Length::from_unit(part.to - part.from, unit)))) " long, hook end left." }
            @if let Some(advice) = board.advice { p.say { "To know its tone better: " (advice) "." } }
            @if !board.defects.is_empty() {
                table {
                    tr { th { "no." } th { "kind" } th { "from" } th { "to" } th { "low" } th { "high" } th { "confidence" } }
                    @for defect in &board.defects {
                        tr { td { (defect.number) } td { (format!("{:?}", defect.kind).to_lowercase()) }
                            td { (show(defect.from)) } td { (show(defect.to)) } td { (show(defect.low)) } td { (show(defect.high)) }
                            td { (format!("{:.2}", defect.confidence)) } }
                    }
                }
            }
        }
    }
}

fn mark(defect: &DefectTold, board: &BoardTold) -> Markup {
    let height = board.size.1 as f64;
    let (x, wide) = (
        defect.from * board.scale,
        (defect.to - defect.from) * board.scale,
    );
    let (y, high) = (
        height - defect.high * board.scale,
        (defect.high - defect.low) * board.scale,
    );
    let number = |value: f64| format!("{value:.1}");
    html! {
        rect.box x=(number(x)) y=(number(y)) width=(number(wide)) height=(number(high));
        rect.box.over x=(number(x)) y=(number(y)) width=(number(wide)) height=(number(high));
        text.number x=(number(x + wide + 4.0)) y=(number((y + 16.0).max(18.0))) { (defect.number) }
    }
}

/// A grey or brown near a colour in Lab, for the strip of tones; words on it stay readable.
fn shade([l, ..]: [f64; 3]) -> String {
    let light = (l / 100.0 * 255.0).clamp(0.0, 255.0);
    let text = if light > 140.0 { "#000" } else { "#fff" };
    let [r, g, b] = [1.08, 0.98, 0.85].map(|part: f64| (light * part).min(255.0) as u8);
    format!("rgb({r},{g},{b});color:{text}")
}
