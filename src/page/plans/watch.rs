//! Who waits for a search: told how it goes, and gone when something newer is wanted.

use std::sync::atomic::Ordering;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use serde_json::json;

use super::Shared;
use crate::layout::{News, Watch};
use crate::page::hub::Hub;

/// Told no more often than that.
const EVERY: Duration = Duration::from_millis(200);

/// Waits for the plan of one state of the files, until there is a newer one.
pub struct Newer {
    shared: Arc<Shared>,
    /// The state whose plan is waited for; nothing when any will do.
    version: Option<u64>,
    hub: Option<Hub>,
    told: Mutex<Option<Instant>>,
}

impl Newer {
    /// Tells every browser how it goes.
    pub fn telling(shared: &Arc<Shared>, version: u64, hub: &Hub) -> Newer {
        Newer {
            shared: Arc::clone(shared),
            version: Some(version),
            hub: Some(hub.clone()),
            told: Mutex::default(),
        }
    }

    /// Tells nobody.
    pub fn silent(shared: &Arc<Shared>) -> Newer {
        Newer {
            shared: Arc::clone(shared),
            version: Some(shared.wanted.load(Ordering::SeqCst)),
            hub: None,
            told: Mutex::default(),
        }
    }

    /// Tells nobody, and waits whatever changes.
    pub fn lasting(shared: &Arc<Shared>) -> Newer {
        Newer {
            version: None,
            ..Newer::silent(shared)
        }
    }
}

impl Watch for Newer {
    fn news(&self, news: &News) {
        let Some(hub) = &self.hub else {
            return;
        };
        let mut told = self.told.lock().unwrap_or_else(PoisonError::into_inner);
        if told.is_some_and(|told| told.elapsed() < EVERY) {
            return;
        }
        *told = Some(Instant::now());
        let bound = news.bound.is_finite().then_some(news.bound);
        let value = json!({
            "version": self.version,
            "cost": news.cost,
            "bound": bound,
            "made": news.made,
            "seconds": news.seconds,
        });
        hub.tell("progress", &value);
    }

    fn stop(&self) -> bool {
        match self.version {
            Some(version) => !self.shared.is_newest(version),
            None => self.shared.is_closing(),
        }
    }
}
