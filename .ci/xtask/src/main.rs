//! What makers are handed.
//!
//! ```sh
//! cargo run -p xtask -- dist                 # target/dist/grainrow-VERSION-TARGET.tar.gz
//! cargo run -p xtask -- dist --target T      # for another target that is installed
//! cargo run -p xtask -- dist --program FILE  # of a program that is built already
//! cargo run -p xtask -- pages DIR            # man pages and completions only
//! cargo run -p xtask -- licences T           # of all that is built in for a target
//! ```
#![forbid(unsafe_code)]

/// The program's own command line: pages and completions can't say anything else.
#[path = "../../../src/cli/mod.rs"]
#[allow(dead_code, unreachable_pub)]
mod cli;
mod dist;
mod licences;
mod pages;

use std::error::Error;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Whatever kept a step from its end, in words.
type Done<T = ()> = Result<T, Box<dyn Error>>;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words[..] {
        ["dist"] => dist::dist(None),
        ["dist", "--target", target] => dist::dist(Some(target)),
        ["dist", "--program", file] => dist::dist_of(Path::new(file)),
        ["pages", folder] => pages::write(Path::new(folder)),
        ["licences", target] => licences::text(target).map(|text| print!("{text}")),
        _ => Err("say `dist`, `dist --target TARGET`, `dist --program FILE`, `pages DIR` or `licences TARGET`".into()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("error: {why}");
            ExitCode::from(2)
        }
    }
}

/// The project's folder.
fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_owned()
}
