//! What the work plan of every shipped case costs, its rules read already.
//!
//! `cargo bench --bench plan` prints for each case, slowest first, the time from the text of the case to its plan, and to its plan
//! with what one gauge error would do to its cost; each the least of [`TIMES`] runs. It ends with an error when a plan takes
//! longer than [`AT_MOST`].

#![expect(clippy::unwrap_used, reason = "a bench that cannot read its cases should stop")]
#![expect(clippy::print_stdout, reason = "what it says goes to the person who asked")]

#[path = "support/inspected.rs"]
#[expect(dead_code, reason = "of what benches share only the rules are used")]
mod inspected;

use pinboss::case;
use pinboss::consultation::{Consultation, Visit};
use pinboss::ground::ground;
use pinboss::model::Model;
use pinboss::source::Sources;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Runs of each
const TIMES: usize = 5;
/// Longest that a plan may take
const AT_MOST: Duration = Duration::from_millis(50);

fn main() -> ExitCode {
    let model = Arc::new(inspected::shipped().unwrap());
    let mut rows: Vec<(Duration, Duration, String)> = cases()
        .iter()
        .map(|path| {
            let text = fs::read_to_string(path).unwrap();
            let plan = least(|| consultation(&model, &text).plan().unwrap().cost);
            let swing = least(|| consultation(&model, &text).swing().unwrap().upper);
            (plan, swing, path.file_stem().unwrap().to_string_lossy().into_owned())
        })
        .collect();
    rows.sort();
    rows.reverse();
    println!("{:>8} {:>12}  case", "plan, ms", "with errors");
    for (plan, swing, name) in &rows {
        println!("{:8.1} {:12.1}  {name}", milliseconds(*plan), milliseconds(*swing));
    }
    match rows.iter().all(|(plan, ..)| *plan <= AT_MOST) {
        true => ExitCode::SUCCESS,
        false => ExitCode::FAILURE,
    }
}

fn cases() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut paths: Vec<PathBuf> =
        paths.filter(|path| path.extension().is_some_and(|own| own == "yaml")).collect();
    paths.sort();
    paths
}

fn consultation(model: &Arc<Model>, text: &str) -> Consultation {
    let mut sources = Sources::default();
    let id = sources.add("case.yaml", text);
    let inspection = case::read(&sources, id).0.unwrap();
    let (ground, _) = ground(model, &inspection);
    let visit = Visit { inspection: Arc::new(inspection), ground: Arc::new(ground) };
    Consultation::new(Arc::clone(model), visit)
}

fn least(mut run: impl FnMut() -> f64) -> Duration {
    let runs = (0..TIMES).map(|_| {
        let start = Instant::now();
        std::hint::black_box(run());
        start.elapsed()
    });
    runs.min().unwrap()
}

fn milliseconds(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}
