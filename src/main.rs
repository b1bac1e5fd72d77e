//! The program: parse the arguments, run the command, exit.

use clap::Parser;
use pinboss::command::{Arguments, Exit, run};

fn main() -> Exit {
    run(Arguments::parse())
}
