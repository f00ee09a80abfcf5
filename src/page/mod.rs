//! The page: a job in the browser, served from the maker's own machine.
//!
//! ```text
//! browser ── guard: who may ask, how much and how fast
//!   │  routes: one small function a question
//!   ▼
//! desk: the job's files, changed cell by cell, with the way back
//!   │  plans: one thread plans whatever the files say now
//!   ▼
//! show: tables, faults, plan as the page reads them ── hub ── every browser let in
//! ```
//!
//! The files stay what they are: the page is one more way to write and read them. It calls what the
//! command line calls ([`commands`](crate::commands)) and decides nothing of wood itself. What the
//! browser gets is in `static/`: plain scripts and one sheet of style, built in, nothing from
//! elsewhere.

mod app;
mod browser;
pub mod desk;
mod guard;
mod hub;
mod lan;
mod plans;
mod routes;
mod server;
mod show;
mod statics;

pub use lan::{Interface, interfaces, qr_lines};
pub use server::{PageOrder, PageTrouble, Talk, serve};
