//! The work itself over HTTP: changes, faults, plans, ticks.

use serde_json::{Value, json};

use crate::ask::Served;

fn row(file: &Value, column: &str, says: &str) -> u64 {
    let rows = file["rows"].as_array().unwrap();
    let row = rows.iter().find(|row| row["cells"][column] == says);
    row.unwrap()["id"].as_u64().unwrap()
}

fn set(file: &str, row: u64, column: &str, value: &str, was: &str) -> Value {
    json!({ "changes": [{ "op": "set", "file": file, "row": row, "column": column, "value": value, "was": was }] })
}

#[test]
fn a_fault_is_told_in_the_words_of_check_and_the_last_good_plan_stays() {
    let served = Served::example();
    let good = served.planned();
    let id = row(&served.file("fronts.csv"), "front", "D1");
    let changed = served.post(
        "/api/change",
        &set("fronts.csv", id, "width", "wide", "17 3/8"),
    );
    assert_eq!(changed.status, 200, "{}", changed.body);
    let state = served.wait(|state| state["faults"]["forbid"] == true);
    let fault = &state["faults"]["faults"][0];
    assert_eq!(
        (fault["file"].as_str(), fault["column"].as_str()),
        (Some("fronts.csv"), Some("width"))
    );
    assert_eq!(state["plan"]["boards"], good["plan"]["boards"]);
    // The command line's own words.
    let check = std::process::Command::new(env!("CARGO_BIN_EXE_grainrow"))
        .args(["check", "--json"])
        .arg(served.job())
        .output()
        .unwrap();
    let told: Value = serde_json::from_slice(&check.stdout).unwrap();
    assert_eq!(told["faults"][0], *fault);
}

#[test]
fn a_plan_goes_to_the_shop_and_is_ticked_off_and_a_mishap_is_planned_round() {
    let served = Served::example();
    served.planned();
    let taken = served.post("/api/hand", &json!({}));
    assert_eq!(taken.status, 200, "{}", taken.body);
    let shop: Value = serde_json::from_str(&served.get("/api/shop").body).unwrap();
    assert_eq!(shop["same"], true);
    let packet = served.get("/packet/packet.html");
    assert!(
        packet.headers.contains("content-security-policy: sandbox"),
        "{}",
        packet.headers
    );
    assert!(packet.body.contains("D1"));
    let cut = json!({ "what": "fronts", "names": ["D1", "D2", "D3"], "now": "cut" });
    assert_eq!(served.post("/api/mark", &cut).status, 200);
    assert!(served.read("done.csv").contains("D1,cut"));
    let spoiled =
        json!({ "what": "fronts", "names": ["D2"], "now": "spoiled", "notes": "tear-out" });
    assert_eq!(served.post("/api/mark", &spoiled).status, 200);
    let recut = served.wait(|state| {
        state["plan"]["begun"] == true && state["plan"]["version"] == state["version"]
    });
    let changes = recut["plan"]["changes"].as_array().unwrap();
    let anew = changes
        .iter()
        .find(|change| change["front"] == "D2")
        .unwrap();
    assert!(
        anew["kind"] == "new" || anew["kind"] == "not_made",
        "{anew}"
    );
    // Taken only when asked for.
    let before = served.read("out/plan.json");
    assert_eq!(served.post("/api/hand", &json!({})).status, 200);
    assert_ne!(served.read("out/plan.json"), before);
}

#[test]
fn a_wish_is_priced_as_the_command_line_does() {
    let served = Served::example();
    served.planned();
    let told = served.post("/api/wish", &json!({ "wishes": ["B1=out"] }));
    let told: Value = serde_json::from_str(&told.body).unwrap();
    let command = std::process::Command::new(env!("CARGO_BIN_EXE_grainrow"))
        .arg("wish")
        .arg(served.job())
        .args(["B1=out", "--json"])
        .output()
        .unwrap();
    let command: Value = serde_json::from_slice(&command.stdout).unwrap();
    assert_eq!(told["wishes"], command["wishes"]);
    assert!(!served.job().join("wishes.csv").exists());
}

#[test]
fn what_an_editor_changes_meanwhile_is_taken_in() {
    let served = Served::example();
    served.planned();
    let text = served.read("boards.csv").replace("B4,", "B4a,");
    std::fs::write(served.job().join("boards.csv"), &text).unwrap();
    served.wait(|state| {
        let files = state["files"].as_array().unwrap();
        let boards = files
            .iter()
            .find(|file| file["file"] == "boards.csv")
            .unwrap();
        boards["rows"]
            .as_array()
            .unwrap()
            .iter()
            .any(|row| row["cells"]["board"] == "B4a")
    });
    let id = row(&served.file("boards.csv"), "board", "B4a");
    let clash = served.post("/api/change", &set("boards.csv", id, "board", "B5", "B4"));
    assert_eq!(clash.status, 409);
    assert_eq!(served.read("boards.csv"), text);
}

#[test]
fn script_in_every_name_stays_text() {
    let served = Served::example();
    let evil = "<script>alert(1)</script>";
    let file = served.file("boards.csv");
    let id = row(&file, "board", "B1");
    assert_eq!(
        served
            .post("/api/change", &set("boards.csv", id, "board", evil, "B1"))
            .status,
        200
    );
    let key = json!({ "changes": [{ "op": "key", "section": "", "key": "title", "value": evil }] });
    assert_eq!(served.post("/api/change", &key).status, 200);
    served.planned();
    for path in ["/api/state", "/api/shop", "/api/jobs"] {
        let answer = served.get(path);
        assert!(
            answer.headers.contains("content-type: application/json"),
            "{path}"
        );
    }
    served.post("/api/hand", &json!({}));
    let packet = served.get("/packet/packet.html").body;
    assert!(packet.contains("&lt;script&gt;") && !packet.contains(evil));
    let svg = served.get("/api/shop/board/0").body;
    assert!(svg.contains("<svg") && !svg.contains(evil));
}
