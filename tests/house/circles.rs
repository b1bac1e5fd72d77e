//! Files of one folder that need one another in a circle: none can be read, or moved, without the others.

use super::{code, sources};
use std::collections::{BTreeMap, BTreeSet};

/// Folders with circles between files of which neither stands above the other, how many files they hold, and why
const BESIDE: &[(&str, usize, &str)] = &[
    ("case", 3, "the reader of a tree notes what is wrong with it, and what notes that reads trees"),
    ("command", 2, "a session opens the visits that its case names, and a visit is opened as a session is"),
    ("infer", 2, "weights are made from findings told, which hold weights"),
    ("reason", 4, "a weighing works steps out once, and a step names the rivals that its finding moves"),
    ("wear", 3, "hours left go by histories, and histories by what is estimated"),
];

/// Folders whose own file holds what the files under it are about and calls them as well, and how many files that binds
/// together
const UNDER: &[(&str, usize)] = &[
    ("assess", 4),
    ("case", 3),
    ("command", 29),
    ("editor", 7),
    ("infer", 14),
    ("model", 2),
    ("reason", 15),
    ("report", 28),
    ("syntax", 18),
    ("trial", 4),
    ("wear", 8),
];

type Needs = BTreeMap<String, BTreeSet<String>>;

/// For each file, as `plan::turn`, the others of its folder that it names
fn needs() -> Needs {
    let named = |file: &str| file.trim_end_matches(".rs").replace('/', "::");
    let files: BTreeMap<String, String> =
        sources().into_iter().map(|(file, text)| (named(&file), code(&text))).collect();
    let own = |name: &String, code: &String| {
        let all = paths(name, code);
        let known = all.iter().filter_map(|path| nearest(path, |path| files.contains_key(path)));
        known.filter(|other| other != name && folder(other) == folder(name)).collect()
    };
    files.iter().map(|(name, code)| (name.clone(), own(name, code))).collect()
}

/// The longest beginning of a path that is a file
fn nearest(path: &str, is_file: impl Fn(&str) -> bool) -> Option<String> {
    let mut path = path;
    while !is_file(path) {
        path = path.rsplit_once("::")?.0;
    }
    Some(path.to_owned())
}

/// Everything of the crate that a file names, from its root
fn paths(file: &str, code: &str) -> Vec<String> {
    let mut found = Vec::new();
    for root in ["crate::", "super::", "self::"] {
        for after in starts(code, root) {
            tree(after, root.trim_end_matches("::"), &mut found);
        }
    }
    for child in code.lines().filter_map(|line| line.trim().strip_suffix(';')?.split_once("mod ")) {
        if starts(code, &format!("{}::", child.1)).next().is_some() {
            found.push(format!("self::{}", child.1));
        }
    }
    found.iter().map(|path| from_root(file, path)).collect()
}

/// What follows on a path where it begins with `root`
fn starts<'c>(code: &'c str, root: &str) -> impl Iterator<Item = &'c str> {
    let inside = |before: &str| before.ends_with(|c: char| c.is_alphanumeric() || "_:".contains(c));
    let all = code.match_indices(root).map(|(at, found)| code.split_at(at + found.len()));
    let size = root.len();
    all.filter(move |(before, _)| !inside(&before[..before.len() - size])).map(|(_, after)| after)
}

/// Every path of a `use` that goes on after `before`; what is left of the text behind it
fn tree<'c>(text: &'c str, before: &str, found: &mut Vec<String>) -> &'c str {
    let text = text.trim_start();
    if let Some(mut rest) = text.strip_prefix('{') {
        loop {
            rest = rest.trim_start().trim_start_matches(',').trim_start();
            if rest.is_empty() || rest.starts_with('}') {
                return rest.get(1..).unwrap_or_default();
            }
            let after = tree(rest, before, found);
            rest = if after.len() < rest.len() { after } else { return "" };
            rest = rest.find([',', '}']).map_or("", |end| &rest[end..]);
        }
    }
    let end = text.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(text.len());
    let (word, rest) = text.split_at(end);
    let path = format!("{before}::{word}");
    match rest.strip_prefix("::").filter(|rest| rest.starts_with(|c: char| c.is_alphabetic() || c == '{')) {
        Some(on) => tree(on, &path, found),
        None => {
            found.push(path);
            rest
        }
    }
}

/// `super::pace` in `plan::turn` is `plan::pace`
fn from_root(file: &str, path: &str) -> String {
    let mut base: Vec<&str> = file.split("::").collect();
    let mut words = path.split("::").peekable();
    while let Some(word) = words.next_if(|word| ["crate", "super", "self"].contains(word)) {
        match word {
            "crate" => base.clear(),
            "super" => drop(base.pop()),
            _ => {}
        }
    }
    base.extend(words);
    base.join("::")
}

/// `plan` for `plan::turn`
fn folder(file: &str) -> &str {
    file.split("::").next().unwrap()
}

/// Whether a file stands above another, as `plan` above `plan::turn`
fn is_above(one: &str, other: &str) -> bool {
    other.strip_prefix(one).is_some_and(|rest| rest.starts_with("::"))
}

/// By folder, the files that need themselves by way of others
fn circles(needs: &Needs) -> BTreeMap<String, BTreeSet<String>> {
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for file in needs.keys() {
        let mut reached = BTreeSet::new();
        let mut open = vec![file];
        while let Some(next) = open.pop() {
            open.extend(needs[next].iter().filter(|other| reached.insert((*other).clone())));
        }
        if reached.contains(file) {
            found.entry(folder(file).to_owned()).or_default().insert(file.clone());
        }
    }
    found
}

/// Holds the circles of each folder against the most files that they may hold
fn hold(found: &BTreeMap<String, BTreeSet<String>>, most: impl Fn(&str) -> usize) {
    for (folder, files) in found {
        assert!(files.len() <= most(folder), "{folder}: {} files in circles: {files:?}", files.len());
    }
}

#[test]
fn files_beside_one_another_need_no_circle() {
    let mut needs = needs();
    for (file, others) in &mut needs {
        others.retain(|other| !is_above(other, file));
    }
    hold(&circles(&needs), |folder| BESIDE.iter().find(|(own, ..)| *own == folder).map_or(0, |it| it.1));
}

#[test]
fn what_files_share_stands_in_a_file_of_its_own() {
    hold(&circles(&needs()), |folder| UNDER.iter().find(|(own, _)| *own == folder).map_or(0, |it| it.1));
}

#[test]
fn the_reader_of_paths_sees_them() {
    let code = "use crate::plan::{pace::{self, State}, record::Job as J};\nmod turn;\nfn f() { super::wear::worn(turn::all()) }";
    let mut found = paths("plan", code);
    found.sort();
    assert_eq!(
        found,
        ["plan::pace::State", "plan::pace::self", "plan::record::Job", "plan::turn", "wear::worn"]
    );
}

#[test]
fn circles_are_found() {
    let all = [("plan", "plan::a"), ("plan::a", "plan::b"), ("plan::b", "plan::a"), ("wear", "wear::a")];
    let mut needs = Needs::new();
    for (one, other) in all {
        needs.entry(one.to_owned()).or_default().insert(other.to_owned());
        needs.entry(other.to_owned()).or_default();
    }
    let found = circles(&needs);
    assert_eq!(found.keys().collect::<Vec<_>>(), ["plan"]);
    assert_eq!(found["plan"].iter().collect::<Vec<_>>(), ["plan::a", "plan::b"]);
}
