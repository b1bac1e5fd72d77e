//! How far a run is, on standard error.

use crate::command::shell;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::{self, IsTerminal};
use std::time::{Duration, Instant};

/// How often the line on a terminal is drawn anew
const BEAT: Duration = Duration::from_millis(200);
/// How often a line is written where there is no terminal
const REPORT: Duration = Duration::from_secs(10);

/// A line that counts the cases on a terminal; elsewhere, where it is asked for, a line now and then
pub(super) struct Progress {
    bar: ProgressBar,
    /// When the last line was written; none where no lines are
    last_line: Option<Instant>,
}

impl Progress {
    /// Nothing is shown unless standard error is a terminal, or it is asked for; so many cases were done before
    pub(super) fn new(asked: bool, before: u64) -> Self {
        let terminal = io::stderr().is_terminal();
        let target = if terminal { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() };
        let bar = ProgressBar::with_draw_target(None, target);
        // INVARIANT: the template is a constant that the library takes; without it the line has the usual look.
        if let Ok(style) = ProgressStyle::with_template("{pos} cases, {per_sec}, {elapsed}") {
            bar.set_style(style);
        }
        bar.set_position(before);
        bar.reset_eta();
        if terminal {
            bar.enable_steady_tick(BEAT);
        }
        Progress { bar, last_line: (asked && !terminal).then(Instant::now) }
    }

    /// So many cases are done
    ///
    /// # Errors
    /// When standard error cannot be written.
    pub(super) fn reached(&mut self, cases: u64) -> io::Result<()> {
        self.bar.set_position(cases);
        if self.last_line.is_some_and(|last| last.elapsed() >= REPORT) {
            shell::say(&format!("{cases} cases\n"))?;
            self.last_line = Some(Instant::now());
        }
        Ok(())
    }

    /// Says something else on standard error without tearing the line
    pub(super) fn beside<T>(&self, say: impl FnOnce() -> T) -> T {
        self.bar.suspend(say)
    }

    /// The run is over
    pub(super) fn done(&self) {
        self.bar.finish_and_clear();
    }
}
