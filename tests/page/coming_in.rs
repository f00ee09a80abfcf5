//! Who is let in, once, and how the server ends.

use std::io::{Read, Write};

use serde_json::json;

use crate::ask::Served;

#[test]
fn the_printed_address_lets_one_browser_in_once() {
    let served = Served::example();
    assert_eq!(served.come_in(&served.code), None);
    let refused = served.raw(format!("GET / HTTP/1.1\r\nHost: {}\r\n\r\n", served.host).as_bytes());
    assert_eq!(refused.status, 403);
    assert!(refused.body.contains("grainrow page"), "{}", refused.body);
    assert_eq!(served.get("/").status, 200);
}

#[test]
fn every_answer_keeps_the_browser_to_this_server() {
    let served = Served::example();
    for path in [
        "/",
        "/api/state",
        "/static/main.js",
        "/nowhere",
        "/in?code=x",
    ] {
        let answer = served.get(path);
        let policy = "content-security-policy: default-src 'none'; script-src 'self'";
        assert!(
            answer.headers.contains(policy),
            "{path}: {}",
            answer.headers
        );
        for header in [
            "x-content-type-options: nosniff",
            "x-frame-options: DENY",
            "referrer-policy: no-referrer",
            "cache-control: no-store",
        ] {
            assert!(answer.headers.contains(header), "{path}: {header}");
        }
    }
    let page = served.get("/").body;
    assert!(
        !page.contains("<style") && !page.contains("style="),
        "{page}"
    );
    assert!(
        !page.contains("https://") && !page.contains("onclick"),
        "{page}"
    );
}

#[test]
fn who_is_thrown_out_stays_out() {
    let served = Served::example();
    let you = served.get("/api/devices").body;
    let you: serde_json::Value = serde_json::from_str(&you).unwrap();
    assert_eq!(you["devices"].as_array().unwrap().len(), 1);
    let out = served.post("/api/out", &json!({ "number": you["you"] }));
    assert_eq!(out.status, 200);
    assert_eq!(served.get("/api/state").status, 403);
}

#[cfg(unix)]
#[test]
fn asked_to_end_it_ends_its_streams_first_and_leaves_the_files_whole() {
    let mut served = Served::example();
    let mut stream = served.connect();
    let (host, cookie) = (&served.host, &served.cookie);
    let request = format!("GET /api/events HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n");
    stream.write_all(request.as_bytes()).unwrap();
    let mut first = [0; 64];
    assert!(stream.read(&mut first).unwrap() > 0);
    let pid = served.child.id().to_string();
    let asked = std::process::Command::new("kill").arg(&pid).status();
    assert!(asked.unwrap().success());
    // The stream comes to its proper end: the last chunk of RFC 9112, section 7.1.
    let mut rest = Vec::new();
    stream.read_to_end(&mut rest).unwrap();
    assert!(
        rest.ends_with(b"0\r\n\r\n"),
        "{:?}",
        String::from_utf8_lossy(&rest)
    );
    assert!(served.child.wait().unwrap().success());
}
