//! One archive a target: the program with all that goes with it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::{Done, licences, pages, root};

/// Builds the program for a target (that of this machine when not given) and packs
/// `target/dist/grainrow-VERSION-TARGET.tar.gz`. On Linux the program is static: it asks for no
/// library of the system it is copied to.
pub fn dist(target: Option<&str>) -> Done {
    let target = match target {
        Some(target) => target.to_owned(),
        None => own_target()?,
    };
    pack(&target, &build(&target)?)
}

/// The same of a program for this machine that is built already.
pub fn dist_of(program: &Path) -> Done {
    pack(&own_target()?, program)
}

fn pack(target: &str, program: &Path) -> Done {
    let name = format!("grainrow-{}-{target}", grainrow::VERSION);
    let all = root().join("target/dist");
    let folder = all.join(&name);
    if folder.exists() {
        fs::remove_dir_all(&folder)?;
    }
    fs::create_dir_all(&folder)?;
    let file = program.file_name().ok_or("the program has no name")?;
    fs::copy(program, folder.join(file))?;
    for name in ["README.md", "LICENSE"] {
        fs::copy(root().join(name), folder.join(name))?;
    }
    copy_samples(&folder.join("sample-boards"))?;
    fs::write(folder.join("LICENSES.txt"), licences::text(target)?)?;
    pages::write(&folder)?;
    let archive = format!("{name}.tar.gz");
    // GNU tar and that of macOS and Windows know these words.
    run(Command::new("tar")
        .args(["-czf", &archive, &name])
        .current_dir(&all))?;
    println!("{}", all.join(archive).display());
    Ok(())
}

fn own_target() -> Done<String> {
    let told = Command::new("rustc").arg("-vV").output()?;
    let told = String::from_utf8(told.stdout)?;
    let host = told.lines().find_map(|line| line.strip_prefix("host: "));
    Ok(host.ok_or("rustc does not say its host")?.to_owned())
}

fn build(target: &str) -> Done<PathBuf> {
    let mut cargo = Command::new(env!("CARGO"));
    cargo.args([
        "build",
        "--locked",
        "--profile",
        "dist",
        "-p",
        "grainrow",
        "--target",
        target,
    ]);
    if target.ends_with("linux-gnu") || target.ends_with("windows-msvc") {
        cargo.env("RUSTFLAGS", "-C target-feature=+crt-static");
    }
    run(cargo.current_dir(root()))?;
    let file = if target.contains("windows") {
        "grainrow.exe"
    } else {
        "grainrow"
    };
    Ok(root().join("target").join(target).join("dist").join(file))
}

/// The samples as they are in the project: what was planned from them stays behind.
fn copy_samples(to: &Path) -> Done {
    for sample in ["chest", "small", "tall-case"] {
        fs::create_dir_all(to.join(sample))?;
        for entry in fs::read_dir(root().join("sample-boards").join(sample))? {
            let entry = entry?;
            if entry.path().is_file() {
                fs::copy(entry.path(), to.join(sample).join(entry.file_name()))?;
            }
        }
    }
    Ok(())
}

fn run(command: &mut Command) -> Done {
    let status = command.status()?;
    match status.success() {
        true => Ok(()),
        false => Err(format!("{command:?} ended with {status}").into()),
    }
}
