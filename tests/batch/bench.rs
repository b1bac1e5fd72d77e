//! Runs of the program over lines, and a small set of rules that is quick to read.

use crate::support::program::command;
use serde_json::Value;
use std::fs;
use std::io::Write;
use std::path::PathBuf;
use std::process::Stdio;
use tempfile::TempDir;

/// Two signs of one cause; that shims are missing and the flange is sound cannot be
pub const RULES: &str = "\
kind upkeep: \"upkeep put off\" counts against owner
part idler, each side: \"front idler\"
cause idler_off, each side: \"idler off the middle\"
    kind    upkeep
    chance  10% of sides
symptom rubbed, each side, of idler: \"rubbed flange\"
    with    idler_off: 100%
    without 2%
symptom shims_gone, each side, of idler: \"missing shims\"
    with    idler_off: 70%
check look, each side: \"Look at the idler from in front\"
    shows   rubbed, shims_gone
    takes   2 min
";

/// A folder with [`RULES`] and room for files
pub struct Bench {
    folder: TempDir,
}

/// What a run gave
pub struct Ran {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Ran {
    /// Each line of the answer
    pub fn lines(&self) -> Vec<Value> {
        self.out.lines().map(|line| serde_json::from_str(line).unwrap()).collect()
    }
}

impl Bench {
    pub fn new() -> Self {
        let folder = TempDir::new().unwrap();
        fs::create_dir(folder.path().join("rules")).unwrap();
        fs::write(folder.path().join("rules/idler.rules"), RULES).unwrap();
        Bench { folder }
    }

    /// A file of the folder
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file of the folder
    pub fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        fs::write(self.path(name), bytes).unwrap();
        self.path(name)
    }

    /// `batch` by the small rules over an input
    pub fn batch(&self, input: impl AsRef<[u8]>, arguments: &[&str]) -> Ran {
        let rules = self.path("rules");
        let rules = ["batch", "--rules", rules.to_str().unwrap()];
        run(input, &[&rules, arguments].concat())
    }
}

/// The program over an input
pub fn run(input: impl AsRef<[u8]>, arguments: &[&str]) -> Ran {
    let mut child = command(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let input = input.as_ref().to_vec();
    // A run that refuses its call reads nothing, which is no fault of the pipe.
    let feeding = std::thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output().unwrap();
    feeding.join().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    Ran { code: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
}

/// Some cases drawn from the small rules, one a line
pub fn small_cases(bench: &Bench, count: u32) -> String {
    let rules = bench.path("rules");
    run("", &["rules", "simulate", rules.to_str().unwrap(), "--count", &count.to_string()]).out
}

/// Some cases drawn from the shipped rules, one a line
pub fn cases(count: u32) -> String {
    run("", &["rules", "simulate", "--count", &count.to_string()]).out
}
