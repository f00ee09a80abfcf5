//! How fast something may happen: so many at once, and so many a second from then on.

use std::sync::Mutex;
use std::time::Instant;

use crate::page::app::lock;

/// A pace that is kept.
#[derive(Debug)]
pub struct Pace {
    most: f64,
    a_second: f64,
    left: Mutex<(f64, Instant)>,
}

impl Pace {
    /// `most` at once, and `a_second` more each second.
    pub fn new(most: f64, a_second: f64) -> Pace {
        Pace {
            most,
            a_second,
            left: Mutex::new((most, Instant::now())),
        }
    }

    /// Takes one, if there is one to be had now.
    pub fn take(&self) -> bool {
        let mut left = lock(&self.left);
        let now = Instant::now();
        let more = now.duration_since(left.1).as_secs_f64() * self.a_second;
        *left = ((left.0 + more).min(self.most), now);
        if left.0 < 1.0 {
            return false;
        }
        left.0 -= 1.0;
        true
    }
}
