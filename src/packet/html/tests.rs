use super::*;
use crate::draw::testing::chest;
use crate::job::generate::{Size, generate};
use crate::layout;
use crate::packet::{MarkKind, marks};
use crate::plan::fixture;
use scraper::{Html, Selector};

fn select(css: &str) -> Selector {
    Selector::parse(css).expect("a selector")
}

fn chest_page() -> (Job, Plan, String) {
    let (job, plan) = chest();
    let html = packet_html(&job, &plan, &Extras::default());
    (job, plan, html)
}

/// The html5ever parser, which follows the HTML standard's own parsing rules, reports every
/// parse error the standard names.
#[test]
fn the_page_parses_without_an_error() {
    for (job, plan) in [chest(), (fixture::job(), fixture::plan())] {
        let html = packet_html(&job, &plan, &Extras::default());
        let parsed = Html::parse_document(&html);
        assert!(parsed.errors.is_empty(), "{:?}", parsed.errors);
        assert!(html.len() < 1_500_000, "{} bytes", html.len());
    }
}

/// Sixty fronts in fifteen runs from a pile of forty boards: as much as is sent to a phone.
#[test]
fn a_kitchens_packet_stays_under_a_megabyte_and_a_half() {
    let job = generate(Size::KITCHEN, 1);
    let plan = layout::quick(&job, 1);
    let html = packet_html(&job, &plan, &Extras::default());
    assert!(html.len() < 3 << 19, "{} bytes", html.len());
    assert!(Html::parse_document(&html).errors.is_empty());
}

#[test]
fn nothing_is_loaded_from_elsewhere() {
    let (_, _, html) = chest_page();
    let page = Html::parse_document(&html);
    assert_eq!(page.select(&select("[src], link")).count(), 0);
    for link in page.select(&select("[href]")) {
        assert!(
            link.value()
                .attr("href")
                .is_some_and(|to| to.starts_with('#'))
        );
    }
    let elsewhere = html.replace("http://www.w3.org/2000/svg", "");
    assert!(!elsewhere.contains("http://") && !elsewhere.contains("https://"));
}

#[test]
fn headings_are_in_order_ids_are_single_and_pictures_are_named() {
    let (_, _, html) = chest_page();
    let page = Html::parse_document(&html);
    let mut level = 0;
    for heading in page.select(&select("h1, h2, h3, h4")) {
        let here = heading.value().name()[1..].parse().expect("a level");
        assert!(here <= level + 1, "h{here} after h{level}");
        level = here;
    }
    let mut ids: Vec<&str> = page
        .select(&select("[id]"))
        .filter_map(|element| element.value().attr("id"))
        .collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count, "an id is used twice");
    for picture in page.select(&select("svg")) {
        assert_eq!(picture.value().attr("role"), Some("img"));
        assert!(
            picture
                .value()
                .attr("aria-label")
                .is_some_and(|l| !l.is_empty())
        );
    }
    for link in page.select(&select("nav a")) {
        let target = link.value().attr("href").expect("a target");
        assert!(ids.contains(&&target[1..]), "{target} leads nowhere");
    }
}

#[test]
fn every_mark_stands_in_its_boards_table_in_both_units() {
    let (job, plan, html) = chest_page();
    let page = Html::parse_document(&html);
    for (i, cut) in plan.boards.iter().enumerate() {
        let rows = select(&format!("#board-{} table.large tbody tr", i + 1));
        let rows: Vec<_> = page.select(&rows).collect();
        let marks = marks(&job, cut).into_iter();
        let chalked = marks.filter(|mark| mark.kind != MarkKind::Keep);
        // Across the board first, then along it.
        let (mut marks, along): (Vec<_>, Vec<_>) = chalked.partition(|mark| mark.is_across());
        marks.extend(along);
        assert_eq!(rows.len(), marks.len());
        for (row, mark) in rows.iter().zip(&marks) {
            let at = if mark.is_across() {
                mark.along.0
            } else {
                mark.across.0
            };
            let [inch, mm] = crate::packet::phrase::both(job.settings.ruler());
            for (class, ruler) in [("inch", inch), ("mm", mm)] {
                let cell = select(&format!("td.number .{class}"));
                let words: Vec<String> = row.select(&cell).map(|c| c.text().collect()).collect();
                assert_eq!(words, [ruler.show(at)], "{mark:?}");
            }
        }
    }
}

#[test]
fn a_name_with_signs_of_html_is_only_text() {
    let (mut job, plan) = chest();
    job.fronts[0].name = "<b>\"&'".to_owned();
    let html = packet_html(&job, &plan, &Extras::default());
    let page = Html::parse_document(&html);
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    assert_eq!(page.select(&select("b")).count(), 0);
}

/// Lengths within sentences once kept the job's unit when the page was switched to the other.
#[test]
fn no_length_is_told_in_one_unit_alone() {
    let (_, _, html) = chest_page();
    let page = Html::parse_document(&html);
    let mut switched = 0;
    for sentence in page.select(&select("section p, li label > span")) {
        let count = |class: &str| sentence.select(&select(&format!("span.{class}"))).count();
        assert_eq!(count("inch"), count("mm"));
        switched += count("inch");
        let nodes = sentence.children();
        let words = nodes.filter_map(|node| Some(node.value().as_text()?.to_string()));
        let words: String = words.collect();
        let pairs: Vec<&str> = words.split(' ').collect();
        let told = pairs.windows(2).any(|pair| {
            let number = pair[0].ends_with(|c: char| c.is_ascii_digit());
            number && ["in", "mm"].contains(&pair[1].trim_end_matches(['.', ',']))
        });
        assert!(!told, "{words}");
    }
    assert!(switched > 10);
}

/// From every front a link to its board, from every board one to its fronts; before and after.
#[test]
fn fronts_and_boards_lead_to_each_other() {
    let (job, plan, html) = chest_page();
    let page = Html::parse_document(&html);
    let links = |css: &str| -> Vec<String> {
        let css = select(css);
        let hrefs = page.select(&css).map(|a| a.value().attr("href"));
        hrefs.flatten().map(str::to_owned).collect()
    };
    for (index, cut) in plan.boards.iter().enumerate() {
        let strips = cut.sections.iter().flat_map(|section| &section.strips);
        for blank in strips.flat_map(|strip| &strip.blanks) {
            let (front, board) = (blank.front + 1, format!("#board-{}", index + 1));
            assert!(links(&format!("#front-{front} a")).contains(&board));
            let to_front = format!("#front-{front}");
            assert!(links(&format!("{board} .jump a")).contains(&to_front));
        }
    }
    let beside = links("#board-2 .beside a");
    assert_eq!(beside, ["#board-1", "#board-3"]);
    let ids: Vec<&str> = page
        .select(&select("[id]"))
        .filter_map(|e| e.value().attr("id"))
        .collect();
    assert!(links("a").iter().all(|link| ids.contains(&&link[1..])));
    assert_eq!(page.select(&select("#fronts li")).count(), job.fronts.len());
}
