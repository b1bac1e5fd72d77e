//! `--budget`: how long to narrow bounds where the findings are too entangled for exact figures.

use crate::infer::bounds::Budget;

/// Most seconds that can be asked for: a day
const MOST: f64 = 86_400.0;

/// Time allowed past the width up to which everything is exact
#[derive(Clone, Copy, Debug, clap::Args)]
pub(super) struct BudgetArgs {
    /// Seconds of work allowed where the findings are too entangled for exact figures; counted in steps, so that the
    /// same budget gives the same answer on every machine
    #[arg(long = "budget", value_name = "SECONDS", default_value_t = 1.0, value_parser = seconds)]
    seconds: f64,
}

impl BudgetArgs {
    /// So many seconds
    #[cfg(feature = "page")]
    pub(super) fn of(seconds: f64) -> Self {
        BudgetArgs { seconds }
    }

    pub(super) fn seconds(self) -> f64 {
        self.seconds
    }

    pub(super) fn budget(self) -> Budget {
        Budget::seconds(self.seconds)
    }
}

/// Seconds as they are given in a call
///
/// # Errors
/// That they are none, or too many.
pub(super) fn seconds(words: &str) -> Result<f64, String> {
    match words.parse::<f64>() {
        Ok(seconds) if (0.0..=MOST).contains(&seconds) => Ok(seconds),
        _ => Err(format!("give seconds from 0 to {MOST}, such as 1 or 0.5")),
    }
}
