//! Opening the maker's browser.

use std::io::{self, Write};
use std::process::{Command, Stdio};

use maud::{DOCTYPE, html};
use tempfile::NamedTempFile;

/// Opens an address in the browser the system has, by way of a file only its owner can read: what
/// is on a command line any program on the machine may see. The file must live until the browser
/// has read it.
///
/// # Errors
/// When the file can't be written or the browser can't be started.
pub fn open(address: &str) -> io::Result<NamedTempFile> {
    let page = html! {
        (DOCTYPE)
        html {
            head {
                meta charset="utf-8";
                meta http-equiv="refresh" content={ "0;url=" (address) };
                title { "grainrow" }
            }
            body { a href=(address) { "To the page" } }
        }
    };
    let mut file = tempfile::Builder::new()
        .prefix("grainrow-")
        .suffix(".html")
        .tempfile()?;
    file.write_all(page.into_string().as_bytes())?;
    let mut command = opener();
    command.arg(file.path());
    command.stdin(Stdio::null());
    command.stdout(Stdio::null()).stderr(Stdio::null());
    let mut child = command.spawn()?;
    // It ends by itself; nobody need wait for it.
    std::thread::spawn(move || child.wait());
    Ok(file)
}

#[cfg(target_os = "macos")]
fn opener() -> Command {
    Command::new("open")
}

#[cfg(windows)]
fn opener() -> Command {
    Command::new("explorer")
}

#[cfg(not(any(windows, target_os = "macos")))]
fn opener() -> Command {
    Command::new("xdg-open")
}
