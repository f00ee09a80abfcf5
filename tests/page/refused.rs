//! What is refused.

use std::io::{Read, Write};

use serde_json::json;

use crate::ask::{Served, answer};

/// A change as the page sends it, some of its headers otherwise.
fn change(served: &Served, host: &str, headers: &str) -> u16 {
    let text = json!({ "changes": [{ "op": "wish", "keep": ["evil=out"] }] }).to_string();
    let (cookie, length) = (&served.cookie, text.len());
    let request = format!(
        "POST /api/change HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n{headers}\
         Content-Length: {length}\r\n\r\n{text}"
    );
    served.raw(request.as_bytes()).status
}

#[test]
fn a_foreign_host_origin_or_a_missing_header_changes_nothing() {
    let served = Served::example();
    let own = served.host.clone();
    let port = own.split(':').next_back().unwrap();
    let right = format!("Origin: http://{own}\r\nX-Grainrow: 1\r\n");
    for (host, headers) in [
        // DNS rebinding: a foreign name that leads here.
        ("evil.example", right.as_str()),
        (&format!("evil.example:{port}"), &right),
        ("127.0.0.1", &right),
        (&own, "X-Grainrow: 1\r\n"),
        (&own, "Origin: http://evil.example\r\nX-Grainrow: 1\r\n"),
        (&own, "Origin: null\r\nX-Grainrow: 1\r\n"),
        (&own, &format!("Origin: https://{own}\r\nX-Grainrow: 1\r\n")),
        (&own, &format!("Origin: http://{own}\r\n")),
        (&own, &format!("Origin: http://{own}\r\nX-Grainrow: 2\r\n")),
    ] {
        let status = change(&served, host, headers);
        assert!(status == 403 || status == 421, "{host} {headers}: {status}");
    }
    assert!(!served.job().join("wishes.csv").exists());
}

#[test]
fn nothing_is_told_without_the_cookie() {
    let served = Served::example();
    for path in [
        "/api/state",
        "/api/events",
        "/static/main.js",
        "/packet/packet.html",
    ] {
        for cookie in ["", "Cookie: grainrow=1\r\n", "Cookie: grainrow-1=x\r\n"] {
            let host = &served.host;
            let request = format!("GET {path} HTTP/1.1\r\nHost: {host}\r\n{cookie}\r\n");
            let answer = served.raw(request.as_bytes());
            assert_eq!(answer.status, 403, "{path} {cookie}");
            assert!(!answer.body.contains("boards"), "{}", answer.body);
        }
    }
}

#[test]
fn no_name_becomes_a_path() {
    let served = Served::example();
    std::fs::write(served.folder.path().join("secret.jpg"), "secret").unwrap();
    for path in [
        "/static/../../Cargo.toml",
        "/static/..%2f..%2fsecret.jpg",
        "/static/%2e%2e/secret.jpg",
        "/api/face/..%2f..%2f..%2fsecret.jpg",
        "/api/face/%2fetc%2fpasswd",
        "/packet/..%2f..%2fjob.toml",
        "/packet/plan.json",
        "/api/picture/..%2f1",
        "//etc/passwd",
        "/..%00/",
    ] {
        let answer = served.get(path);
        assert!(answer.status >= 400, "{path}: {}", answer.status);
        assert!(
            !answer.body.contains("secret") && !answer.body.contains("root:"),
            "{path}"
        );
    }
    for name in ["..", "../job", "/etc", "job/../..", ""] {
        let opened = served.post("/api/open", &json!({ "name": name }));
        assert_eq!(opened.status, 422, "{name}");
    }
    // A piece is called what it is called; its folder lies where jobs lie.
    let name = "../../../tmp/<b>\u{202e}evil";
    let begun = served.post(
        "/api/start",
        &json!({ "what": "empty", "name": name, "unit": "mm" }),
    );
    assert_eq!(begun.status, 200, "{}", begun.body);
    let state = served.state();
    let folder = std::path::PathBuf::from(state["folder"].as_str().unwrap());
    let home = served.folder.path().canonicalize().unwrap();
    assert_eq!(folder.canonicalize().unwrap().parent().unwrap(), home);
}

#[test]
fn a_picture_outside_the_job_is_not_shown() {
    let served = Served::example();
    std::fs::write(served.folder.path().join("secret.jpg"), b"\xff\xd8secret").unwrap();
    for photo in ["../secret.jpg", "/etc/passwd", "job.toml"] {
        let add = json!({ "changes": [{ "op": "add", "file": "photos.csv", "before": null,
            "cells": { "photo": photo, "board": "B1" } }] });
        let added = served.post("/api/change", &add).body;
        let added: serde_json::Value = serde_json::from_str(&added).unwrap();
        let answer = served.get(&format!("/api/picture/{}", added["added"][0]));
        assert_eq!(answer.status, 422, "{photo}");
        assert!(!answer.body.contains("secret"), "{photo}");
    }
}

#[test]
fn a_gigabyte_is_refused_before_it_is_sent() {
    let served = Served::example();
    let (host, cookie) = (&served.host, &served.cookie);
    for (method, path) in [("PUT", "/api/photo/B1"), ("POST", "/api/change")] {
        let request = format!(
            "{method} {path} HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nOrigin: http://{host}\r\n\
             X-Grainrow: 1\r\nContent-Length: 1073741824\r\n\r\n"
        );
        assert_eq!(served.raw(request.as_bytes()).status, 413, "{path}");
        // And while it is sent, where no length is told.
        let request = request.replace("Content-Length: 1073741824", "Transfer-Encoding: chunked");
        let mut stream = served.connect();
        stream.write_all(request.as_bytes()).unwrap();
        let chunk = format!("100000\r\n{}\r\n", "x".repeat(0x0010_0000));
        // What is refused is not read to its end.
        while stream.write_all(chunk.as_bytes()).is_ok() {}
        assert_eq!(served.get("/api/jobs").status, 200);
    }
    assert!(!served.job().join("photos").exists());
}

#[test]
fn what_is_no_picture_is_not_taken_in() {
    let served = Served::example();
    let (host, cookie) = (&served.host, &served.cookie);
    for body in [
        "<script>alert(1)</script>",
        "\u{0}\u{0}\u{0}\u{18}ftypheic",
        "",
    ] {
        let length = body.len();
        let request = format!(
            "PUT /api/photo/B1 HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nOrigin: http://{host}\r\n\
             X-Grainrow: 1\r\nContent-Length: {length}\r\n\r\n{body}"
        );
        assert_eq!(served.raw(request.as_bytes()).status, 422, "{body}");
    }
    assert!(!served.job().join("photos").exists());
    assert!(!served.job().join("photos.csv").exists());
}

#[test]
fn who_sends_too_slowly_is_not_waited_for() {
    let served = Served::example();
    let (host, cookie) = (&served.host, &served.cookie);
    // Half a head, and half a body: the connection is ended from the other side.
    let mut head = served.connect();
    head.write_all(b"GET /api/state HTTP/1.1\r\nHost: ")
        .unwrap();
    let mut body = served.connect();
    let request = format!(
        "POST /api/change HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nOrigin: http://{host}\r\n\
         X-Grainrow: 1\r\nContent-Length: 100\r\n\r\n{{"
    );
    body.write_all(request.as_bytes()).unwrap();
    assert_eq!(answer(&mut body).status, 408);
    let mut rest = Vec::new();
    head.read_to_end(&mut rest).unwrap();
}

#[test]
fn requests_that_can_be_read_in_two_ways_are_not_answered() {
    let served = Served::example();
    let (host, cookie) = (&served.host, &served.cookie);
    for request in [
        format!(
            "GET http://evil.example/api/state HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\n\r\n"
        ),
        format!(
            "GET /api/state HTTP/1.1\r\nHost: {host}\r\nHost: evil.example\r\nCookie: {cookie}\r\n\r\n"
        ),
        format!("GET /api/state HTTP/1.1\r\nCookie: {cookie}\r\n\r\n"),
    ] {
        let status = served.raw(request.as_bytes()).status;
        assert!(status == 421 || status == 400, "{request}: {status}");
    }
}
