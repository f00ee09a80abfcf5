//! What every command that searches can be asked.

use std::time::Duration;

use clap::Args;

/// How long and with what to search
#[derive(Clone, Copy, Debug, Args)]
pub struct Search {
    /// Stop the search after this long with the best result so far; drawing many boards takes more
    #[arg(long, value_name = "SECONDS", default_value = "60", value_parser = seconds)]
    pub time: Duration,
    /// Threads to search with, 0 for all; changes no answer
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub threads: usize,
    /// Seed of the random steps
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub seed: u64,
}

/// Seconds, above zero; a day at most.
fn seconds(text: &str) -> Result<Duration, String> {
    const DAY: f64 = 86_400.0;
    let seconds = amount(text)?;
    if seconds == 0.0 || seconds > DAY {
        return Err("seconds above 0, at most 86400 (a day)".to_owned());
    }
    Ok(Duration::from_secs_f64(seconds))
}

/// A number of zero or more.
pub fn amount(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if number.is_finite() && number >= 0.0 => Ok(number),
        _ => Err("a number of zero or more".to_owned()),
    }
}
