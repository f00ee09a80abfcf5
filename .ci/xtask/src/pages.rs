//! Man pages and completions.

use std::fs;
use std::path::Path;

use clap_complete::{Shell, generate_to};

use crate::{Done, cli};

const NAME: &str = "grainrow";

/// Writes `man/` and `completions/` into a folder.
pub fn write(folder: &Path) -> Done {
    let (man, completions) = (folder.join("man"), folder.join("completions"));
    fs::create_dir_all(&man)?;
    fs::create_dir_all(&completions)?;
    clap_mangen::generate_to(cli::command(), &man)?;
    for shell in [Shell::Bash, Shell::Zsh, Shell::Fish, Shell::PowerShell] {
        generate_to(shell, &mut cli::command(), NAME, &completions)?;
    }
    Ok(())
}
