//! Work on many jobs side by side. Not on rayon's own threads: one that waits for a plan would begin the next
//! job on top of it, and so on until its stack is full.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// What `work` makes of each of `count` things, in no telling order.
pub fn each<T: Send>(count: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let (next, done) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let threads = std::thread::available_parallelism().map_or(2, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let nth = next.fetch_add(1, Ordering::Relaxed);
                    if nth >= count {
                        return;
                    }
                    let made = work(nth);
                    done.lock().expect("no panic yet").push(made);
                }
            });
        }
    });
    done.into_inner().expect("no panic")
}
