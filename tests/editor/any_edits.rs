//! The shipped rules under any edits: nothing panics, and the problems told are those of `rules check`.

use crate::editor::talk::{address, begun};
use proptest::prelude::*;
use proptest::sample::Index;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

/// Pieces that hands put in by intent and by slip
const PIECES: [&str; 16] = [
    "",
    "\n",
    "\"",
    " ",
    "  ",
    "ä",
    "𝄞",
    "\r\n",
    "with ",
    "idler_out_of_line",
    ":",
    "50% ",
    "# ",
    "\u{1}",
    "cause x: \"x\"\n",
    "(",
];

/// One edit: which file, from where, how many bytes out, which piece in
type Edit = (Index, Index, usize, Index);

fn edits() -> impl Strategy<Value = Vec<Edit>> {
    let long = prop_oneof![4 => 0_usize..12, 1 => 0_usize..3000];
    prop::collection::vec((any::<Index>(), any::<Index>(), long, any::<Index>()), 1..8)
}

fn edited(text: &mut String, from: Index, out: usize, piece: &str) {
    let boundary = |mut at: usize, text: &str| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = boundary(from.index(text.len() + 1), text);
    let end = boundary((start + out).min(text.len()), text);
    text.replace_range(start..end, piece);
}

/// One problem as `file:line:column code message`, columns in characters
type Shown = Vec<String>;

fn checked(folder: &Path) -> Shown {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pinboss"));
    let output = command.args(["rules", "check", "--format", "json"]).arg(folder).output().unwrap();
    let problems: Vec<Value> = serde_json::from_slice(&output.stdout).unwrap();
    let shown = problems.iter().map(|it| {
        let file = Path::new(it["file"].as_str().unwrap()).file_name().unwrap().to_str().unwrap();
        let help = it["help"].as_str().map_or(String::new(), |help| format!("\n{help}"));
        let message = it["message"].as_str().unwrap();
        format!("{file}:{}:{} {} {message}{help}", it["line"], it["column"], it["code"].as_str().unwrap())
    });
    shown.collect()
}

fn told(name: &str, text: &str, problems: &[Value]) -> Shown {
    let lines: Vec<&str> = text.split('\n').collect();
    let shown = problems.iter().map(|it| {
        let start = &it["range"]["start"];
        let line = usize::try_from(start["line"].as_u64().unwrap()).unwrap();
        let units = usize::try_from(start["character"].as_u64().unwrap()).unwrap();
        let before: Vec<u16> = lines[line].encode_utf16().take(units).collect();
        let column = String::from_utf16(&before).unwrap().chars().count() + 1;
        let message = it["message"].as_str().unwrap();
        format!("{name}:{}:{column} {} {message}", line + 1, it["code"].as_str().unwrap())
    });
    shown.collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, max_shrink_iters: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn problems_are_those_of_rules_check(edits in edits()) {
        let shipped = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
        let folder = tempfile::tempdir().unwrap();
        let mut texts: BTreeMap<String, String> = BTreeMap::new();
        for entry in fs::read_dir(shipped).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            if !name.ends_with(".rules") {
                continue;
            }
            fs::copy(&path, folder.path().join(&name)).unwrap();
            texts.insert(name, fs::read_to_string(path).unwrap());
        }
        let uri = |name: &str| address(&folder.path().join(name));
        let mut talk = begun(&json!({}), Some(folder.path()));
        for (name, text) in &texts {
            talk.open(&uri(name), text);
        }
        let names: Vec<String> = texts.keys().cloned().collect();
        let mut versions: BTreeMap<&str, i64> = names.iter().map(|name| (name.as_str(), 1)).collect();
        for (file, from, out, piece) in edits {
            let name = file.get(&names).as_str();
            let text = texts.get_mut(name).unwrap();
            edited(text, from, out, PIECES[piece.index(PIECES.len())]);
            let version = versions.get_mut(name).unwrap();
            *version += 1;
            talk.change(&uri(name), *version, text);
            let line = text.matches('\n').count() / 2;
            let place = json!({ "textDocument": { "uri": uri(name) }, "position": { "line": line, "character": 9 } });
            for method in ["hover", "definition", "completion", "prepareRename"] {
                // A refusal is an answer too; what counts is that there is one.
                drop(talk.ask(&format!("textDocument/{method}"), place.clone()));
            }
        }
        let mut shown = Shown::new();
        talk.tell("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": uri(&names[0]), "type": 2 }] }));
        drop(talk.ask("workspace/symbol", json!({ "query": "idler" })));
        for name in &names {
            fs::write(folder.path().join(name), &texts[name]).unwrap();
            let problems = talk.problems(&uri(name), Some(versions[name.as_str()]));
            shown.extend(told(name, &texts[name], &problems));
        }
        let mut expected = checked(folder.path());
        expected.sort();
        shown.sort();
        prop_assert_eq!(shown, expected);
    }
}
