//! The two streams, the screen, and how a run ends.

use crate::invariant::{self, Fault};
use crate::problem::Problems;
use crate::report::form::text::text;
use crate::report::prose::Prose;
use crate::report::rules::problems::{self, Screen};
use crate::source::Sources;
use std::io::{self, IsTerminal, Write};
use std::process::{ExitCode, Termination};

/// Columns taken when the screen does not say
const USUAL_WIDTH: usize = 80;
/// Narrowest and widest text still easy to read
const READABLE: (usize, usize) = (40, 100);

/// How a run ended
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Exit {
    /// Done
    Done,
    /// A rule file, a case file or a folder is faulty
    FaultyInput,
    /// The call is faulty: nothing on this machine has the name asked for
    FaultyCall,
    /// The program itself is faulty
    FaultyProgram,
}

impl Exit {
    /// The number the program ends with
    pub fn number(self) -> u8 {
        match self {
            Exit::Done => 0,
            Exit::FaultyInput => 1,
            Exit::FaultyCall => 2,
            Exit::FaultyProgram => 70,
        }
    }
}

impl Termination for Exit {
    fn report(self) -> ExitCode {
        ExitCode::from(self.number())
    }
}

/// Runs the program; a fault of its own ends it with one line that says so, and no answer
pub fn guarded(program: impl FnOnce() -> Exit) -> Exit {
    invariant::quiet();
    match invariant::caught(program) {
        Ok(exit) => exit,
        Err(fault) => at_fault(&fault),
    }
}

/// Tells a fault of the program, on standard error
pub(super) fn at_fault(fault: &Fault) -> Exit {
    drop(writeln!(io::stderr(), "pinboss: {fault}"));
    Exit::FaultyProgram
}

/// Why a command ends before its work is done
#[derive(Debug)]
pub(super) enum Halt {
    /// What is wrong has been told, and the run ends so
    Reported(Exit),
    /// A fault of the outside world, which is still to be told
    Fault(io::Error),
}

/// What a command, or a piece of its work, comes to
pub(super) type Run<T = Exit> = Result<T, Halt>;

impl From<io::Error> for Halt {
    fn from(fault: io::Error) -> Self {
        Halt::Fault(fault)
    }
}

impl From<serde_json::Error> for Halt {
    fn from(fault: serde_json::Error) -> Self {
        Halt::Fault(fault.into())
    }
}

/// How a command that ran to its end, or was halted, ends the program: a broken pipe is success
pub(super) fn ended(done: Run) -> Exit {
    match done {
        Ok(exit) | Err(Halt::Reported(exit)) => exit,
        Err(Halt::Fault(fault)) if fault.kind() == io::ErrorKind::BrokenPipe => Exit::Done,
        Err(Halt::Fault(fault)) => {
            drop(writeln!(io::stderr(), "pinboss: {fault}"));
            Exit::FaultyInput
        }
    }
}

/// Gives an answer, on standard output
pub(super) fn answer(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()
}

/// Gives an answer as text, filled to the width of the screen
pub(super) fn show(prose: &Prose) -> io::Result<()> {
    answer(&text(prose, width()))
}

/// Says a word beside the answer, on standard error
pub(super) fn say(text: &str) -> io::Result<()> {
    io::stderr().lock().write_all(text.as_bytes())
}

/// Says what is wrong with the call, which ends the run
pub(super) fn refuse(words: impl AsRef<str>) -> Halt {
    match say(&format!("pinboss: {}\n", words.as_ref())) {
        Ok(()) => Halt::Reported(Exit::FaultyCall),
        Err(fault) => Halt::Fault(fault),
    }
}

/// Tells problems, on standard error
pub(super) fn tell(problems: &Problems, sources: &Sources) -> io::Result<()> {
    let screen = Screen { width: width(), colour: io::stderr().is_terminal() && colour_wanted() };
    say(&problems::text(problems, sources, screen))?;
    if io::stderr().is_terminal() {
        say(&problems::where_more(problems))?;
    }
    Ok(())
}

fn colour_wanted() -> bool {
    std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
}

/// Columns to fill: those of the terminal, or of `COLUMNS`, within what is easy to read
pub(super) fn width() -> usize {
    let given = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
    let measured = || io::stdout().is_terminal().then(textwrap::termwidth);
    let columns: usize = given.or_else(measured).unwrap_or(USUAL_WIDTH); // else: nobody says how many
    columns.clamp(READABLE.0, READABLE.1)
}
