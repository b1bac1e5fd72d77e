//! How the house is laid out: who may import whom, and what every file must have.

mod circles;

use rstest::rstest;
use std::fs;
use std::path::{Path, PathBuf};

/// Each module in the order of the flow, with the modules it may import
const MAY_IMPORT: &[(&str, &[&str])] = &[
    ("invariant", &[]),
    ("source", &[]),
    ("place", &[]),
    ("units", &[]),
    ("problem", &["source"]),
    ("syntax", &["source", "problem"]),
    ("model", &["source", "place", "units"]),
    ("check", &["source", "place", "units", "problem", "syntax", "model"]),
    ("case", &["source", "place", "units", "problem"]),
    ("machine", &["place", "model"]),
    ("wear", &["place", "units", "model", "machine"]),
    ("network", &[]),
    ("ground", &["source", "place", "units", "problem", "model", "case", "machine", "wear", "network"]),
    ("infer", &["network"]),
    ("reason", &["place", "model", "machine", "network", "ground", "infer"]),
    ("assess", &["place", "model", "case", "machine", "wear", "network", "ground", "infer", "reason"]),
    (
        "plan",
        &[
            "source", "place", "units", "problem", "model", "case", "machine", "wear", "ground", "infer",
            "reason",
        ],
    ),
    ("consultation", &["place", "case", "model", "wear", "ground", "infer", "reason", "plan"]),
    ("trial", &["source", "place", "model", "case", "machine", "network", "ground", "reason", "assess"]),
    (
        "report",
        &[
            "source", "place", "units", "problem", "syntax", "model", "case", "machine", "wear", "network",
            "ground", "infer", "reason", "assess", "plan", "trial",
        ],
    ),
    ("editor", &["source", "units", "problem", "syntax", "model", "check", "report"]),
    (
        "command",
        &[
            "source",
            "place",
            "problem",
            "syntax",
            "check",
            "model",
            "case",
            "machine",
            "wear",
            "network",
            "ground",
            "infer",
            "reason",
            "assess",
            "plan",
            "consultation",
            "trial",
            "report",
            "editor",
        ],
    ),
    ("lib", &[]),
    ("main", &["command"]),
];

/// What every module may import
const BELOW_ALL: &str = "invariant";

/// Where the protocol that editors speak is known
const EDITORS: &[&str] = &[
    "command/lsp.rs",
    "command/lsp/answer.rs",
    "command/lsp/answer/show.rs",
    "command/lsp/client.rs",
    "command/lsp/position.rs",
    "command/lsp/publish.rs",
    "command/lsp/uri.rs",
    "command/lsp/workspace.rs",
];

/// Libraries with one home each: nobody else may name them
const HOMES: &[(&str, &[&str])] = &[
    ("pest", &["syntax"]),
    ("pest_derive", &["syntax"]),
    ("petgraph", &["check", "network"]),
    ("miette", &["report/rules/problems.rs"]),
    ("layout", &["report/draw/graph/layered.rs"]),
    ("quick_xml", &["report/draw/markup.rs"]),
    ("askama", &["report/form/html.rs", "report/form/html/wear.rs"]),
    ("base64", &["report/record/document/photo.rs"]),
    ("clap", &["command", "main.rs"]),
    ("image", &["report/record/document/photo.rs"]),
    ("rayon", &["command/stream.rs"]),
    ("indicatif", &["command/batch/progress.rs"]),
    ("lsp_server", EDITORS),
    ("lsp_types", EDITORS),
    ("percent_encoding", EDITORS),
    ("serde_yaml", &["case"]),
    ("saphyr_parser", &["case"]),
    ("rand_chacha", &["infer"]),
    ("sha2", &["command"]),
    ("statrs", &["wear"]),
    ("strsim", &["problem"]),
    ("tempfile", &["command"]),
    ("std::fs", &["command"]),
    ("std::env", &["command"]),
];

/// The same inside `report`, by folder; a file that stands here by itself may see less than its folder
///
/// A form of running text sees the pieces it lays out and nothing else. `record` and `draw` see each other, for a document
/// holds its curves as they are drawn.
const REPORT: &[(&str, &[&str])] = &[
    ("words", &[]),
    ("prose", &[]),
    ("extent", &[]),
    ("draw/picture", &[]),
    ("draw/markup", &["draw/picture"]),
    ("rules", &["words", "prose", "draw/markup", "draw/picture"]),
    ("record", &["words", "extent", "rules", "draw"]),
    ("draw", &["words", "record"]),
    ("tell", &["words", "prose", "extent", "rules", "record", "draw"]),
    ("form/text", &["prose"]),
    ("form/nest", &["prose"]),
    ("form/markdown", &["prose"]),
    ("form", &["words", "prose", "extent", "rules", "record", "draw", "tell"]),
];

/// Longest file, tests included
const MOST_LINES: usize = 600;

fn sources() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut open = vec![root.clone()];
    let mut files: Vec<PathBuf> = Vec::new();
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() { open.push(path) } else { files.push(path) }
        }
    }
    files.retain(|path| path.extension().is_some_and(|extension| extension == "rs"));
    files.sort();
    let named = |path: PathBuf| {
        let name = path.strip_prefix(&root).unwrap().to_str().unwrap().to_owned();
        (name, fs::read_to_string(&path).unwrap())
    };
    files.into_iter().map(named).collect()
}

/// `syntax` for `syntax.rs` and all of `syntax/`
fn module(file: &str) -> &str {
    file.split('/').next().unwrap().trim_end_matches(".rs")
}

/// The code of a file without its comments
fn code(text: &str) -> String {
    let lines = text.lines().filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

/// Modules that a text names after `crate::`, in braces too
fn imported(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    for after in code.split("crate::").skip(1) {
        let list = match after.strip_prefix('{') {
            Some(braced) => braced.split('}').next().unwrap(),
            None => after,
        };
        let first_words = if after.starts_with('{') { list.split(',').collect() } else { vec![list] };
        for words in first_words {
            let name: String =
                words.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            found.push(name);
        }
    }
    found
}

#[test]
fn imports_keep_to_the_table() {
    let mut broken = Vec::new();
    for (file, text) in sources() {
        let own = module(&file);
        let Some((_, allowed)) = MAY_IMPORT.iter().find(|(name, _)| *name == own) else {
            broken.push(format!("{file}: `{own}` does not stand in the table"));
            continue;
        };
        for name in imported(&code(&text)) {
            if name != own && name != BELOW_ALL && !allowed.contains(&name.as_str()) {
                broken.push(format!("{file} imports {name}"));
            }
        }
    }
    assert_eq!(broken, Vec::<String>::new());
}

#[test]
fn imports_inside_report_keep_to_its_table() {
    let mut broken = Vec::new();
    for (file, text) in sources() {
        let Some(path) = file.strip_prefix("report/") else { continue };
        // The longest name that the file stands under counts: a file of its own before its folder.
        let under = |own: &str| path == format!("{own}.rs") || path.starts_with(&format!("{own}/"));
        let rows = REPORT.iter().filter(|(name, _)| under(name));
        let Some((own, allowed)) = rows.max_by_key(|(name, _)| name.len()) else {
            broken.push(format!("{file} stands under no row of the table"));
            continue;
        };
        let folder = own.split('/').next().unwrap();
        for after in code(&text).split("crate::report::").skip(1) {
            let path = after.split([';', '{', '(', ' ', ',']).next().unwrap().replace("::", "/");
            let within = |name: &str| path == name || path.starts_with(&format!("{name}/"));
            let known = REPORT.iter().any(|(name, _)| within(name.split('/').next().unwrap()));
            if known && !within(folder) && !allowed.iter().any(|name| within(name)) {
                broken.push(format!("{file} imports {path}"));
            }
        }
    }
    assert_eq!(broken, Vec::<String>::new());
}

#[test]
fn the_table_is_an_order_without_rings() {
    let place = |name: &str| MAY_IMPORT.iter().position(|(known, _)| *known == name).unwrap();
    for (name, allowed) in MAY_IMPORT {
        for other in *allowed {
            assert!(place(other) < place(name), "{name} may import {other}, which comes later");
        }
    }
}

#[test]
fn modules_stand_in_lib_in_the_order_of_the_table() {
    let lib = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/lib.rs")).unwrap();
    let listed: Vec<&str> =
        lib.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    let table: Vec<&str> =
        MAY_IMPORT.iter().map(|(name, _)| *name).filter(|name| !["lib", "main"].contains(name)).collect();
    assert_eq!(listed, table);
}

#[test]
fn libraries_stay_in_their_homes() {
    let mut broken = Vec::new();
    for (file, text) in sources() {
        let code = code(&text);
        for (library, homes) in HOMES {
            let at_home = homes.iter().any(|home| module(&file) == *home || file == *home);
            if code.contains(&format!("{library}::")) && !at_home {
                broken.push(format!("{file} names {library}"));
            }
        }
    }
    assert_eq!(broken, Vec::<String>::new());
}

#[test]
fn no_library_type_stands_in_a_public_signature() {
    let foreign =
        ["pest::", "petgraph::", "miette::", "serde_yaml::", "rand_chacha::", "DiGraph", "NodeIndex"];
    for (file, text) in sources() {
        for line in code(&text).lines().filter(|line| line.trim_start().starts_with("pub ")) {
            let named = foreign.iter().find(|name| line.contains(**name));
            assert_eq!(named, None, "{file}: {line}");
        }
    }
}

#[test]
fn every_file_says_what_it_is_for_and_is_short() {
    for (file, text) in sources() {
        assert!(text.starts_with("//! "), "{file} does not open with a sentence on what it is for");
        let lines = text.lines().count();
        assert!(lines <= MOST_LINES, "{file} has {lines} lines");
        assert!(!text.lines().any(|line| line.ends_with(' ')), "{file} has a space at the end of a line");
        assert!(!file.ends_with("mod.rs"), "{file}: a module is `name.rs` with `name/` beside it");
    }
}

/// The library is built without a harness of its own (`Cargo.toml`), so that a test in it would never run
#[test]
fn no_test_stands_in_the_library() {
    for (file, text) in sources() {
        assert!(
            !text.contains("cfg(test)") && !text.contains("#[test]"),
            "{file}: its tests belong under `tests/`"
        );
    }
}

/// Whether a line takes another value in the place of one that is missing
fn falls_back(line: &str) -> bool {
    [".unwrap_or(", ".unwrap_or_default(", ".unwrap_or_else("].iter().any(|way| line.contains(way))
}

/// What cannot be missing is held (`invariant`), and never made up: a value put in its place says when that is right,
/// by `// else: …` on its line or in one of the three lines above it
#[test]
fn what_falls_back_says_why() {
    let mut silent = Vec::new();
    for (file, text) in sources() {
        let lines: Vec<&str> = text.lines().collect();
        for (place, line) in lines.iter().enumerate().filter(|(_, line)| falls_back(line)) {
            let near = &lines[place.saturating_sub(3)..=place];
            if !near.iter().any(|line| line.contains("// else: ")) {
                silent.push(format!("src/{file}:{}: {}", place + 1, line.trim()));
            }
        }
    }
    assert_eq!(silent, Vec::<String>::new(), "hold what cannot be missing, or say `// else: …`");
}

#[rstest]
#[case("use crate::model::Model;", &["model"])]
#[case("use crate::{source, problem::code::Code};", &["source", "problem"])]
#[case("crate::wear::gap_in_words(&gap)", &["wear"])]
fn the_reader_of_imports_sees_them(#[case] code: &str, #[case] names: &[&str]) {
    assert_eq!(imported(code), names);
}

/// Folders whose files import one another in no ring, the file beside the folder left out, which puts them together
const WITHOUT_RINGS: &[&str] = &["check", "syntax", "syntax/language", "syntax/lower", "model", "editor"];

/// Files of a folder that a file of it names: after `super::`, in braces too, or by the whole way
fn siblings(folder: &str, code: &str) -> Vec<String> {
    let way = format!("crate::{}::", folder.replace('/', "::"));
    let list = code.replace(&way, "super::").replace("use super::{", "super::{");
    let mut found = Vec::new();
    for after in list.split("super::").skip(1) {
        let names: Vec<&str> = match after.strip_prefix('{') {
            Some(braced) => braced.split('}').next().unwrap().split(',').collect(),
            None => vec![after],
        };
        let word = |name: &str| {
            name.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>()
        };
        found.extend(names.into_iter().map(word));
    }
    found
}

#[test]
fn files_of_a_folder_import_one_another_in_no_ring() {
    let all = sources();
    let mut rings = Vec::new();
    for folder in WITHOUT_RINGS {
        let inside = |file: &str| {
            let name = file.strip_prefix(&format!("{folder}/"))?.strip_suffix(".rs")?;
            (!name.contains('/')).then(|| name.to_owned())
        };
        let files: Vec<(String, Vec<String>)> = all
            .iter()
            .filter_map(|(file, text)| Some((inside(file)?, siblings(folder, &code(text)))))
            .collect();
        assert!(files.len() > 2, "{folder} was not read");
        // What imports only files taken away before is taken away; a ring is never.
        let mut left: Vec<&(String, Vec<String>)> = files.iter().collect();
        loop {
            let names: Vec<&str> = left.iter().map(|(name, _)| name.as_str()).collect();
            let held = |(name, uses): &&(String, Vec<String>)| {
                uses.iter().any(|used| used != name && names.contains(&used.as_str()))
            };
            let next: Vec<_> = left.iter().copied().filter(held).collect();
            if next.len() == left.len() {
                break;
            }
            left = next;
        }
        rings.extend(left.iter().map(|(name, _)| format!("{folder}/{name}.rs")));
    }
    assert_eq!(rings, Vec::<String>::new());
}

#[rstest]
#[case("use super::{CheckContext, fact::percent, names};", &["CheckContext", "fact", "names"])]
#[case("use crate::check::value::step;", &["value"])]
fn the_reader_of_siblings_sees_them(#[case] code: &str, #[case] names: &[&str]) {
    assert_eq!(siblings("check", code), names);
}
