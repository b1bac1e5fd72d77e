//! Runs of the program in the folder of the project.

use serde_json::Value;
use std::process::{Command, Output};

/// The program with these arguments, on a screen of 100 columns without colours
pub fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pinboss"));
    command
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("COLUMNS", "100")
        .env("NO_COLOR", "1")
        .args(arguments);
    command
}

/// What a run gives, whatever its end
pub fn pinboss(arguments: &[&str]) -> Output {
    command(arguments).output().unwrap()
}

/// What a run answers; it must have been done
pub fn answer(arguments: &[&str]) -> String {
    let output = pinboss(arguments);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// The same, as JSON
pub fn json(arguments: &[&str]) -> Value {
    serde_json::from_str(&answer(arguments)).unwrap()
}

/// Code and words of a run that was not done
pub fn refused(arguments: &[&str]) -> (Option<i32>, String) {
    let output = pinboss(arguments);
    assert!(!output.status.success());
    let said = [output.stdout, output.stderr].concat();
    (output.status.code(), String::from_utf8(said).unwrap())
}
