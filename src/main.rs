//! The program: parse the arguments, run the command, exit.

use clap::Parser;
use pinboss::command::{Arguments, Exit, guarded, run};

fn main() -> Exit {
    guarded(|| run(Arguments::parse()))
}
