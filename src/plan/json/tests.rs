//! A plan survives its file, and a file that is no plan of the job is told apart.

use proptest::prelude::*;

use serde_json::Value;

use super::{PlanFault, from_json, to_json};
use crate::job::Job;
use crate::measure::{Length, Unit, Volume};
use crate::plan::fixture::{job, plan, retotal};
use crate::plan::{Limits, Plan, Totals, check};

#[test]
fn plan_json_looks_as_agreed() {
    insta::assert_snapshot!(to_json(&job(), &plan()));
}

/// Figures are rounded in the file; all else comes back as it was.
fn assert_same(read: &Plan, written: &Plan) {
    assert_eq!(read.boards, written.boards);
    assert_eq!(read.not_made, written.not_made);
    let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-9 * b.abs().max(1.0), "{a} {b}");
    let (a, b) = (&read.totals, &written.totals);
    near(a.feet_used.value(), b.feet_used.value());
    near(a.feet_fronts.value(), b.feet_fronts.value());
    near(a.feet_kept.value(), b.feet_kept.value());
    near(a.yield_share, b.yield_share);
    near(a.cost, b.cost);
    near(a.bound, b.bound);
    near(a.gap, b.gap);
    let plain = |t: &Totals| Totals {
        feet_used: Volume::ZERO,
        feet_fronts: Volume::ZERO,
        feet_kept: Volume::ZERO,
        yield_share: 0.0,
        cost: 0.0,
        bound: 0.0,
        gap: 0.0,
        ..t.clone()
    };
    assert_eq!(plain(a), plain(b));
}

#[test]
fn a_plan_comes_back_as_it_was_written() {
    for unit in [Unit::Inch, Unit::Mm] {
        let mut job = job();
        job.settings.unit = unit;
        let read = from_json(&job, &to_json(&job, &plan())).expect("a plan");
        assert_same(&read, &plan());
    }
}

#[test]
fn money_comes_back_too() {
    let (job, mut plan) = (job(), plan());
    plan.totals = crate::plan::totals(&job, &plan, true);
    let read = from_json(&job, &to_json(&job, &plan)).expect("a plan");
    let money = read.totals.money.expect("money");
    assert!((money.buy - plan.totals.money.expect("money").buy).abs() < 1e-9);
}

#[test]
fn a_plan_comes_back_exact_to_the_nanometre_from_nine_decimals_and_not_from_six() {
    // The same plan, every length of it and of the job about a third: no round numbers.
    let (mut job, mut plan) = (job(), plan());
    shrink(&mut job, &mut plan);
    retotal(&mut plan, &job);
    assert_eq!(check(&job, &plan, false, &Limits::default()), Ok(()));
    let mut value = serde_json::from_str(&to_json(&job, &plan)).expect("json");
    round(&mut value, 1e9);
    let read = from_json(&job, &value.to_string()).expect("a plan");
    assert_eq!(read.boards, plan.boards);
    round(&mut value, 1e6);
    let read = from_json(&job, &value.to_string()).expect("a plan");
    assert_ne!(read.boards, plan.boards, "nothing was rounded");
    assert!(check(&job, &read, false, &Limits::default()).is_err());
}

fn round(value: &mut Value, by: f64) {
    match value {
        Value::Array(items) => items.iter_mut().for_each(|item| round(item, by)),
        Value::Object(fields) => fields.values_mut().for_each(|field| round(field, by)),
        Value::Number(number) if number.is_f64() => {
            let rounded = number.as_f64().map(|x| (x * by).round() / by);
            *value = rounded.into();
        }
        _ => {}
    }
}

#[test]
fn the_format_before_this_one_is_still_read() {
    let text = to_json(&job(), &plan());
    assert!(text.starts_with("{\n  \"format\": 2,"), "{text}");
    let before = text.replacen("\"format\": 2", "\"format\": 1", 1);
    assert_same(&from_json(&job(), &before).expect("a plan"), &plan());
    let earlier = super::earlier_from_json(&job(), &before).expect("a plan");
    assert_eq!((earlier.format, earlier.plan.boards), (1, plan().boards));
}

fn shrink(job: &mut Job, plan: &mut Plan) {
    let allow = &mut job.settings.allowances;
    let mut lengths = vec![
        &mut allow.crosscut_kerf,
        &mut allow.rip_kerf,
        &mut allow.end_trim,
        &mut allow.edge_trim,
        &mut allow.rough_length,
        &mut allow.rough_width,
        &mut allow.clear,
        &mut allow.longest_skip,
        &mut allow.shortest_safe,
        &mut allow.keep_width,
        &mut job.settings.glue.joint,
        &mut job.settings.glue.least_stave,
        &mut job.settings.glue.step,
    ];
    lengths.extend(allow.keep_offcut.as_mut());
    for front in &mut job.fronts {
        lengths.extend([&mut front.width, &mut front.height]);
    }
    for board in &mut job.boards {
        lengths.extend([&mut board.length, &mut board.width]);
        for d in &mut board.defects {
            lengths.extend([&mut d.from, &mut d.to, &mut d.low, &mut d.high]);
        }
    }
    for planned in &mut plan.boards {
        for k in &mut planned.kept {
            lengths.extend([&mut k.from, &mut k.to, &mut k.low, &mut k.high]);
        }
        for section in &mut planned.sections {
            lengths.extend([&mut section.from, &mut section.to]);
            for strip in &mut section.strips {
                lengths.extend([&mut strip.low, &mut strip.high]);
                for b in &mut strip.blanks {
                    lengths.extend([&mut b.from, &mut b.to, &mut b.low, &mut b.high]);
                }
            }
        }
    }
    // Every length is a whole number of 64ths, 396 875 nm.
    for length in lengths {
        *length = Length::from_nm(length.nm() / 396_875 * 131_071);
    }
}

#[test]
fn what_is_no_plan_of_the_job_is_named() {
    let faults = |text: &str| from_json(&job(), text).unwrap_err();
    let good = to_json(&job(), &plan());
    assert_eq!(
        faults(&good.replace("\"format\": 2", "\"format\": 7")),
        [PlanFault::Format { found: 7 }]
    );
    let renamed = good
        .replace("\"D2\"", "\"Q2\"")
        .replace("\"board\": \"B\"", "\"board\": \"Z\"");
    let texts: Vec<String> = faults(&renamed).iter().map(ToString::to_string).collect();
    assert_eq!(
        texts,
        [
            "front Q2 is not in the job's fronts.csv",
            "board Z, copy 1, is not in the job's boards.csv",
        ]
    );
    let cut_off = &good[..good.len() / 2];
    assert!(matches!(faults(cut_off)[..], [PlanFault::Syntax { .. }]));
    let missing = good.replacen("\"copy\": 1,", "", 1);
    let text = faults(&missing)[0].to_string();
    assert!(text.contains("missing field `copy`"), "{text}");
}

proptest! {
    #[test]
    fn any_length_survives(nm in 0i64..5_000_000_000, metric in any::<bool>()) {
        let (mut job, mut plan) = (job(), plan());
        job.settings.unit = if metric { Unit::Mm } else { Unit::Inch };
        plan.boards[0].kept[0].from = Length::from_nm(nm);
        let read = from_json(&job, &to_json(&job, &plan)).expect("a plan");
        prop_assert_eq!(read.boards, plan.boards);
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in ".{0,200}", at in 0usize..4000, byte in "[ -~]") {
        let _ = from_json(&job(), &text);
        let mut good = to_json(&job(), &plan());
        let at = at % good.len();
        good.replace_range(at..=at, &byte);
        let _ = from_json(&job(), &good);
    }
}
