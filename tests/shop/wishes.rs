//! A maker argues with the plan: what each wish costs, against plans of the job with the same thing written under
//! `board` or `not_board`.

use crate::common::shop::Shop;
use grainrow::commands::{Asking, Failure, WishOrder, wish};
use grainrow::layout::{Request, Silent, WarmStart};
use predicates::str::contains;
use serde_json::Value;

const BOARDS: &str = "board,length,width,thickness,tone\nW1,62,6 1/4,4/4,5\nW2,55 1/2,5 5/8,4/4,7\nW3,49 3/4,7,4/4,5\n";
const FRONTS: [&str; 4] = ["a", "b", "c", "d"];
const SIZES: [&str; 4] = [
    "8 3/8,3,3/4,top",
    "8 3/8,3,3/4,top",
    "17 1/4,4 1/8,3/4,",
    "5 1/2,2 1/4,3/4,",
];

/// The fronts, one of which has a board under a column more.
fn fronts(column: &str, which: Option<(&str, &str)>) -> String {
    let rows = FRONTS.iter().zip(SIZES).map(|(front, size)| {
        let asked = which.filter(|(of, _)| of == front);
        format!("{front},{size},{}\n", asked.map_or("", |(_, board)| board))
    });
    format!(
        "front,width,height,thickness,run,{column}\n{}",
        rows.collect::<String>()
    )
}

fn shop() -> Shop {
    let shop = Shop::empty();
    std::fs::create_dir(shop.path("")).unwrap();
    shop.write("job.toml", "")
        .write("boards.csv", BOARDS)
        .write("fronts.csv", &fronts("board", None))
}

fn json(shop: &Shop, words: &[&str], code: i32) -> Value {
    let assert = shop.run(words).code(code);
    serde_json::from_slice(&assert.get_output().stdout).unwrap()
}

/// Cost of the best plan of the job as it is written.
fn cost(shop: &Shop) -> f64 {
    let plan = json(shop, &["plan", "--json", "--force"], 0);
    assert_eq!(plan["totals"]["proved"], true);
    plan["totals"]["cost"].as_f64().unwrap()
}

#[test]
fn a_wish_costs_what_the_plan_of_a_job_that_asks_for_it_costs_more() {
    let mut shop = shop();
    let best = cost(&shop);
    let mut dear = 0;
    for front in FRONTS {
        for board in ["W1", "W2", "W3"] {
            for (sign, column) in [("=", "board"), ("!=", "not_board")] {
                let wish = format!("{front}{sign}{board}");
                let told = json(&shop, &["wish", &wish, "--json"], 0);
                let price = told["wishes"][0]["cost"].as_f64().unwrap();
                assert_eq!(told["wishes"][0]["proved"], true, "{wish}");
                shop = shop.write("fronts.csv", &fronts(column, Some((front, board))));
                let asked = cost(&shop);
                shop = shop.write("fronts.csv", &fronts("board", None));
                assert!(
                    (best + price - asked).abs() < 1e-6,
                    "{wish}: {price}, {asked}"
                );
                assert!(price >= 0.0, "{wish}");
                dear += usize::from(price > 0.0);
            }
        }
    }
    assert!(dear > 6, "{dear} wishes cost anything");
}

#[test]
fn wishes_are_kept_listed_and_dropped_where_the_maker_wrote_his_own() {
    let shop = shop().write("wishes.csv", "# from the client\nwish,notes\na!=W2,dark\n");
    shop.run(&["wish", "c=W3", "--keep"]).code(0);
    let kept = "# from the client\nwish,notes\na!=W2,dark\nc=W3,\n";
    assert_eq!(shop.read("wishes.csv"), kept);
    assert!(shop.read("wishes.csv.bak").ends_with("dark\n"));
    let plan = json(&shop, &["plan", "--json"], 0);
    let of_c = |board: &Value| {
        let text = board["sections"].to_string();
        text.contains("\"front\":\"c\"")
            .then(|| board["board"].clone())
    };
    let from: Vec<Value> = plan["boards"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(of_c)
        .collect();
    assert_eq!(from, ["W3"]);
    let list = json(&shop, &["wish", "--list", "--json"], 0);
    assert_eq!(list["wishes"].as_array().unwrap().len(), 2);
    shop.run(&["wish", "a!=W2", "--drop"]).code(0);
    assert_eq!(
        shop.read("wishes.csv"),
        "# from the client\nwish,notes\nc=W3,\n"
    );
}

#[test]
fn what_can_not_be_wished_is_told_and_nothing_is_written() {
    let shop = shop();
    for (words, said) in [
        (&["wish", "a=W9", "--keep"][..], "there is no board `W9`"),
        (
            &["wish", "a=W1", "a=W2", "--keep"],
            "together with what is asked",
        ),
        (&["wish", "a+c", "--keep"], "no neighbours of a run"),
        (&["wish", "a=W1", "--drop"], "not in force"),
    ] {
        shop.run(words).code(2).stderr(contains(said));
    }
    assert!(!shop.path("wishes.csv").exists());
}

/// What is cut has come from its board, whatever is wished.
#[test]
fn a_wish_that_the_saw_has_settled_is_told() {
    let shop = shop();
    shop.run(&["plan"]).code(0);
    shop.run(&["mark", "c", "--cut"]).code(0);
    let plan: Value = serde_json::from_str(&shop.read("out/plan.json")).unwrap();
    let of_c = |board: &&Value| board["sections"].to_string().contains("\"front\":\"c\"");
    let boards = plan["boards"].as_array().unwrap();
    let from = boards.iter().find(of_c).unwrap()["board"].as_str().unwrap();
    let other = if from == "W3" { "W1" } else { "W3" };
    shop.run(&["wish", &format!("c={other}"), "--keep"])
        .code(2)
        .stderr(contains("cut already"));
    let shop = shop.write("wishes.csv", &format!("wish\nc={from}\n"));
    shop.run(&["recut"]).code(0);
    let shop = shop.write("wishes.csv", &format!("wish\nc={other}\n"));
    shop.run(&["recut"])
        .code(2)
        .stderr(contains(format!("front c is cut from {from}")));
}

#[test]
fn a_plan_changed_by_hand_is_held_against_every_rule() {
    let shop = shop();
    shop.run(&["plan"]).code(0);
    let file = shop.path("out/plan.json").display().to_string();
    shop.run(&["check", "--plan", &file])
        .code(0)
        .stdout(contains("It keeps every rule"));
    let mut plan: Value = serde_json::from_str(&shop.read("out/plan.json")).unwrap();
    // Off its board by a foot.
    let blank = &mut plan["boards"][0]["sections"][0]["strips"][0]["blanks"][0];
    let to = blank["to"].as_f64().unwrap();
    blank["to"] = (to + 12.0).into();
    let shop = shop.write("changed.json", &plan.to_string());
    let file = shop.path("changed.json").display().to_string();
    let told = json(&shop, &["check", "--plan", &file, "--json"], 3);
    assert_eq!(told["keeps"], false);
    assert!(!told["faults"].as_array().unwrap().is_empty());
}

/// The plan is mirrored end for end by hand: as good as the best, and told to be changed on every sheet.
#[test]
fn a_plan_changed_by_hand_is_taken_as_it_stands_and_every_sheet_says_so() {
    let not_w1 = FRONTS.map(|front| format!("{front}!=W1\n")).concat();
    let shop = shop().write("wishes.csv", &format!("wish\n{not_w1}"));
    shop.run(&["plan"]).code(0);
    std::fs::rename(shop.path("out/plan.json"), shop.path("changed.json")).unwrap();
    let costs = |text: &str| -> f64 {
        let plan: Value = serde_json::from_str(text).unwrap();
        plan["totals"]["cost"].as_f64().unwrap()
    };
    let without_w1 = costs(&shop.read("changed.json"));
    std::fs::remove_file(shop.path("wishes.csv")).unwrap();
    let best = cost(&shop);
    assert!(without_w1 > best + 1e-6, "{without_w1}, {best}");
    let file = shop.path("changed.json").display().to_string();
    let line = format!(
        "changed by hand, over the best plan: {:.2}: ",
        without_w1 - best
    );
    shop.run(&["plan", "--from", &file])
        .code(0)
        .stdout(contains(line.clone()));
    assert!((costs(&shop.read("out/plan.json")) - without_w1).abs() < 1e-9);
    assert!(shop.read("out/packet.html").contains(&line));
    assert!(shop.read("out/elevation.svg").contains("changed by hand"));
    let plan: Value = serde_json::from_str(&shop.read("out/plan.json")).unwrap();
    assert_eq!(plan["totals"]["proved"], false);
    assert!(plan["totals"]["bound"].as_f64().unwrap() <= best + 1e-6);
}

#[test]
fn a_plan_that_breaks_a_rule_is_not_taken_and_nothing_is_written() {
    let shop = shop();
    shop.run(&["plan"]).code(0);
    let mut plan: Value = serde_json::from_str(&shop.read("out/plan.json")).unwrap();
    let blank = &mut plan["boards"][0]["sections"][0]["strips"][0]["blanks"][0];
    let to = blank["to"].as_f64().unwrap();
    blank["to"] = (to + 12.0).into();
    let before = shop.read("out/plan.json");
    let shop = shop.write("changed.json", &plan.to_string());
    let file = shop.path("changed.json").display().to_string();
    shop.run(&["plan", "--from", &file])
        .code(3)
        .stderr(contains("nothing was written: this plan breaks"));
    assert_eq!(shop.read("out/plan.json"), before);
}

#[derive(serde::Deserialize)]
struct Told {
    job: std::collections::BTreeMap<String, String>,
    wish: String,
    /// Nothing: it can't be met.
    price: Option<f64>,
}

/// What an exact method that knows no wishes says: `tests/reference/wishes.py` writes each into the job's tables and
/// takes the difference of two optima, found by trying every place there is.
#[test]
fn wishes_cost_what_an_exact_method_says() {
    let told: Vec<Told> = serde_json::from_str(include_str!("../reference/wishes.json"))
        .expect("as wishes.py writes it");
    let (mut dear, mut impossible) = (0, 0);
    for (number, told) in told.iter().enumerate() {
        let mut shop = Shop::empty();
        std::fs::create_dir(shop.path("")).unwrap();
        for (name, text) in told.job.iter().filter(|(_, text)| !text.is_empty()) {
            shop = shop.write(name, text);
        }
        let order = WishOrder {
            warm: WarmStart::default(),
            folder: shop.path(""),
            wishes: vec![told.wish.clone()],
            what: Asking::Price,
            request: Request::default(),
        };
        let about = format!("{number}: {} {:?}", told.wish, told.price);
        match wish(&order, &Silent) {
            Ok(found) => {
                let one = &found.wishes[0];
                assert_eq!(one.possible, told.price.is_some(), "{about}");
                let near = |(a, b): (f64, f64)| (a - b).abs() < 1e-6;
                assert!(
                    one.cost.zip(told.price).is_none_or(near),
                    "{about}: {one:?}"
                );
                assert!(one.proved || !one.possible, "{about}");
                dear += usize::from(told.price.is_some_and(|price| price > 1e-6));
            }
            // So already, or against what the job itself asks.
            Err(failure) => assert!(
                matches!(failure, Failure::Faults(_))
                    && told.price.is_none_or(|price| price < 1e-6),
                "{about}: {failure}"
            ),
        }
        impossible += usize::from(told.price.is_none());
    }
    assert!(
        dear >= 10 && impossible >= 5,
        "{dear} dear, {impossible} impossible"
    );
}

/// Of each board 36 in are left between its trims, and a blank takes 21: each front may come from A, not both.
#[test]
fn two_wishes_that_each_can_be_met_and_not_both_are_named() {
    let shop = Shop::empty();
    std::fs::create_dir(shop.path("")).unwrap();
    let shop = shop
        .write("job.toml", "")
        .write(
            "boards.csv",
            "board,length,width,thickness,tone\nA,40,6,4/4,5\nB,40,6,4/4,5\n",
        )
        .write(
            "fronts.csv",
            "front,width,height,thickness\nf,20,5,3/4\ng,20,5,3/4\n",
        );
    let told = json(&shop, &["wish", "f=A", "g=A", "--json"], 3);
    assert_eq!(told["conflicts"], serde_json::json!([["f=A", "g=A"]]));
    for wish in told["wishes"].as_array().unwrap() {
        assert_eq!(
            (&wish["possible"], &wish["cost"]),
            (&true.into(), &0.0.into())
        );
    }
    shop.run(&["wish", "f=A", "g=A", "--keep"]).code(3);
    assert!(!shop.path("wishes.csv").exists());
}
