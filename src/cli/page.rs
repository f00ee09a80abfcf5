//! `grainrow page`

use std::io;
use std::net::Ipv4Addr;
use std::path::PathBuf;

use clap::Args;
use grainrow::commands::Failure;
use grainrow::page::{self, PageOrder, PageTrouble, Talk, interfaces, qr_lines};

use super::exit::Exit;
use super::report::Report;
use super::stop::Stop;

/// Open a job on a page in the browser: type, tap, see the plan change, tick off cuts
#[derive(Debug, Args)]
#[command(after_help = "\
The page is served by this program, on this machine only, and needs no network. Ctrl-C ends it.

Examples:
  grainrow page               choose a job, begin one, or play with the sample
  grainrow page my-chest
  grainrow page my-chest --lan     for a phone in the shop too")]
pub struct Page {
    /// The job's folder
    job: Option<PathBuf>,
    /// The port to serve on; one that is free when not given
    #[arg(long)]
    port: Option<u16>,
    /// Do not open the browser: print the address only
    #[arg(long)]
    no_open: bool,
    /// Let phones of the same network in too, by a code. What is sent is not encrypted
    #[arg(long, value_name = "ADDRESS", num_args = 0..=1, require_equals = true, default_missing_value = "")]
    lan: Option<String>,
}

impl Page {
    pub fn run(self, report: &Report) -> Result<Exit, Failure> {
        let lan = match self.lan.as_deref().map(chosen).transpose() {
            Ok(lan) => lan,
            Err(why) => {
                report.usage(&why);
                return Ok(Exit::BadInput);
            }
        };
        let order = PageOrder {
            job: self.job,
            home: std::env::current_dir().unwrap_or_default(),
            port: self.port,
            lan,
            open: !self.no_open,
        };
        let terminal = Terminal {
            report,
            stop: Stop::listen(),
        };
        match page::serve(&order, &terminal) {
            Ok(()) => Ok(Exit::Done),
            Err(PageTrouble::Job(failure)) => Err(failure),
            Err(why) => {
                report.usage(&why.to_string());
                Ok(Exit::NotWritten)
            }
        }
    }
}

/// The address of this machine that phones are to use.
fn chosen(typed: &str) -> Result<Ipv4Addr, String> {
    let all = interfaces();
    let list: Vec<String> = all
        .iter()
        .map(|one| format!("{} ({})", one.address, one.name))
        .collect();
    let list = list.join(", ");
    match (typed, all.as_slice()) {
        (_, []) => Err("this machine is in no network that a phone could reach it by".to_owned()),
        ("", [only]) => Ok(only.address),
        ("", _) => Err(format!(
            "say which network, as in --lan={}: {list}",
            all[0].address
        )),
        (typed, all) => all
            .iter()
            .find(|one| one.name == typed || one.address.to_string() == typed)
            .map(|one| one.address)
            .ok_or_else(|| format!("`{typed}` is no address of this machine; it has {list}")),
    }
}

struct Terminal<'r> {
    report: &'r Report,
    stop: Stop,
}

impl Talk for Terminal<'_> {
    fn serving(&self, address: &str, phone: Option<&str>) {
        let mut text = format!(
            "The page is at {address}\nThat address lets one browser in, once. Ctrl-C ends the page; \
             every change is in the job's files already.\n"
        );
        if let Some(phone) = phone {
            text += &format!(
                "\nOn a phone in the same network, within ten minutes: {phone}\n{}\n\nWhat the phone \
                 and this machine send each other is not encrypted: whoever is in that network can \
                 read it, so use it at home or in the shop, not in a public one.\n",
                qr_lines(phone).join("\n")
            );
        }
        // A terminal that has gone away needs no address.
        let _ = self.report.text(&text);
    }

    fn not_opened(&self, why: &io::Error) {
        self.report.warning(&format!(
            "no browser could be opened ({why}): copy the address"
        ));
    }

    fn ends(&self) -> bool {
        self.stop.pressed()
    }
}
