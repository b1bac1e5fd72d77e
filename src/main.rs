//! The program: parse the arguments, run the command by the rules built in here, exit.
//!
//! The rules are built in here and not in the library, so that a changed rule builds no more than this file anew.

use clap::Parser;
use pinboss::command::{Arguments, Exit, guarded, run};

macro_rules! built_in {
    ($($name:literal)*) => {
        /// The trade's rules as they stood when the program was built
        const BUILT_IN: &[(&str, &str)] = &[
            $( (concat!("rules/", $name), include_str!(concat!("../rules/", $name))), )*
        ];
    };
}

built_in! {
    "bogies.rules" "bushings.rules" "carrier.rules" "chain.rules" "dimensions.rules" "equalizer.rules" "facts.rules"
    "final_drive.rules" "frame.rules" "grousers.rules" "guards.rules" "habits.rules" "idler.rules" "joints.rules"
    "master.rules" "parts.rules" "pins.rules" "rails.rules" "rear_mount.rules" "roller.rules" "scale.rules"
    "shoes.rules" "sides.rules" "site.rules" "sprocket.rules" "tension.rules"
}

fn main() -> Exit {
    guarded(|| run(Arguments::parse(), BUILT_IN))
}
