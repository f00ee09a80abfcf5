//! Ctrl-C: the first asks a search to stop and write its best plan, the second leaves at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::exit::Exit;

/// Whether Ctrl-C was pressed.
#[derive(Clone, Debug, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Listens for Ctrl-C from now on. Where the system does not allow it, Ctrl-C ends the
    /// program as usual.
    pub fn listen() -> Stop {
        let stop = Stop::default();
        let pressed = stop.clone();
        let _ = ctrlc::set_handler(move || {
            if pressed.0.swap(true, Ordering::SeqCst) {
                std::process::exit(Exit::Stopped as i32);
            }
        });
        stop
    }

    pub fn pressed(&self) -> bool {
        self.0.load(Ordering::SeqCst)
    }
}
