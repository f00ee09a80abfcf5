//! Tells the program what it is built from, for `grainrow --version`.

use std::path::Path;
use std::process::Command;

fn main() {
    println!("cargo::rerun-if-changed=.ci/built_from.rs");
    println!("cargo::rerun-if-env-changed=GRAINROW_BUILT_FROM");
    let told = std::env::var("GRAINROW_BUILT_FROM").ok();
    // Builds to try things out need not be made anew after each commit.
    let tried_out = std::env::var("PROFILE").is_ok_and(|profile| profile == "debug");
    let tried_out = tried_out.then(|| "a tree being worked on".to_owned());
    let from = told
        .or(tried_out)
        .or_else(commit)
        .unwrap_or("a source archive".to_owned());
    let target = std::env::var("TARGET").unwrap_or_default();
    println!("cargo::rustc-env=GRAINROW_BUILT_FROM={from}, for {target}");
}

/// The commit of a checkout of this project. A source archive unpacked within another one is not
/// built from that one's commit.
fn commit() -> Option<String> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    if !here.join(".git").exists() {
        return None;
    }
    // HEAD changes with the branch, its log with each commit.
    for name in ["HEAD", "logs/HEAD"] {
        let path = git(&["rev-parse", "--git-path", name])?;
        // Cargo takes a file that is not there to have changed each time.
        if Path::new(&path).exists() {
            println!("cargo::rerun-if-changed={path}");
        }
    }
    let commit = git(&["rev-parse", "--short=12", "HEAD"])?;
    let date = git(&["show", "-s", "--format=%cs", "HEAD"])?;
    Some(format!("commit {commit} of {date}"))
}

fn git(words: &[&str]) -> Option<String> {
    let output = Command::new("git").args(words).output().ok()?;
    let text = String::from_utf8(output.stdout).ok()?;
    let text = text.trim();
    (output.status.success() && !text.is_empty()).then(|| text.to_owned())
}
