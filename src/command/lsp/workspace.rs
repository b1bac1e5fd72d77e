//! The rule files an editor works on: texts open in it over those on the disk, a folder of them being one set.
//!
//! An editor's set is the folder of the file, as for `rules check DIR`, so that both say the same; a text that is no rule file
//! of a folder, such as one never saved, is a set by itself. The whole set is checked again on every change; only a file whose
//! text has changed is parsed again.

use super::client::Client;
use super::position::{Encoding, Lines};
use super::uri;
use super::watch::Watch;
use crate::command::files::{self, Sort};
use crate::command::rulebook;
use crate::editor::{Cursor, Rules};
use crate::invariant::{self, Fault};
use crate::problem::Problems;
use crate::source::{SourceId, Sources, Span};
use crate::syntax::{self, tree::File};
use lsp_types::{
    DidChangeTextDocumentParams, DidChangeWatchedFilesParams, DidChangeWorkspaceFoldersParams,
    DidCloseTextDocumentParams, DidOpenTextDocumentParams, DidSaveTextDocumentParams, Location, Position,
    TextDocumentContentChangeEvent, Uri,
};
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// All that an editor works on
pub(super) struct Workspace {
    /// Is told of every file before it is read
    watch: Watch,
    /// Folders that are looked over whether a file of them is open or not
    folders: BTreeSet<PathBuf>,
    /// Open texts by their addresses
    open: BTreeMap<String, Open>,
    sets: BTreeMap<Key, Set>,
    /// Sets that could not be read for a fault of the program
    broken: BTreeMap<Key, Fault>,
    /// Sets whose texts have changed since they were read
    stale: BTreeSet<Key>,
    /// Sets read again since their problems were told
    news: BTreeSet<Key>,
}

/// Which set a text belongs to
#[derive(Clone, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub(super) enum Key {
    /// The rule files of a folder
    Folder(PathBuf),
    /// A text that is no rule file of a folder
    Alone(String),
}

/// A text open in the editor
struct Open {
    text: String,
    /// The editor holds a byte order mark in front of the text
    mark: bool,
    version: i32,
}

/// A set of rules with the addresses of its files
#[derive(Default)]
pub(super) struct Set {
    /// The rules
    pub(super) rules: Rules,
    /// Its files, in the order of the sources
    pub(super) files: Vec<FileOfSet>,
    /// What was said of the form of each file, for those that are the same when the set is read again
    said: BTreeMap<SourceId, Problems>,
}

/// One file of a set
pub(super) struct FileOfSet {
    /// Its text among the sources
    pub(super) id: SourceId,
    /// Its address, as the editor writes it where it is open
    pub(super) uri: String,
    /// Version of the text, where it is open
    pub(super) version: Option<i32>,
    mark: bool,
}

impl Key {
    fn of(address: &str) -> Key {
        let path = uri::path(address).filter(|path| Sort::Rules.fits(path));
        let folder = path.and_then(|path| path.parent().map(Path::to_owned));
        folder.map_or_else(|| Key::Alone(address.to_owned()), Key::Folder)
    }
}

impl Workspace {
    /// A workspace with these folders, of which nothing has been read
    pub(super) fn new(folders: Vec<PathBuf>, watch: Watch) -> Self {
        let stale = folders.iter().cloned().map(Key::Folder).collect();
        let (open, sets, broken, news) = Default::default();
        Workspace { watch, folders: folders.into_iter().collect(), open, sets, broken, stale, news }
    }

    /// Takes note of what an editor tells; what cannot be read tells nothing
    pub(super) fn notice(&mut self, method: &str, params: Value, client: &Client) {
        match method {
            "textDocument/didOpen" => self.opened(params),
            "textDocument/didChange" => self.changed(params, client.encoding),
            "textDocument/didClose" => {
                if let Some(params) = read::<DidCloseTextDocumentParams>(params) {
                    self.open.remove(&params.text_document.uri.0);
                    self.stale.insert(Key::of(&params.text_document.uri.0));
                }
            }
            "textDocument/didSave" => {
                if let Some(params) = read::<DidSaveTextDocumentParams>(params) {
                    self.stale.insert(Key::of(&params.text_document.uri.0));
                }
            }
            "workspace/didChangeWatchedFiles" => {
                let params = read::<DidChangeWatchedFilesParams>(params);
                let changed = params.into_iter().flat_map(|params| params.changes);
                self.stale.extend(changed.map(|change| Key::of(&change.uri.0)));
            }
            "workspace/didChangeWorkspaceFolders" => self.folders_changed(params),
            _ => {}
        }
    }

    fn opened(&mut self, params: Value) {
        let Some(params) = read::<DidOpenTextDocumentParams>(params) else { return };
        let document = params.text_document;
        self.stale.insert(Key::of(&document.uri.0));
        self.open.insert(document.uri.0, Open::new(document.text, document.version));
    }

    fn changed(&mut self, params: Value, encoding: Encoding) {
        let Some(params) = read::<DidChangeTextDocumentParams>(params) else { return };
        let address = params.text_document.text_document_identifier.uri.0;
        let Some(open) = self.open.get_mut(&address) else { return };
        for change in params.content_changes {
            open.change(change, encoding);
        }
        open.version = params.text_document.version;
        self.stale.insert(Key::of(&address));
    }

    fn folders_changed(&mut self, params: Value) {
        let Some(params) = read::<DidChangeWorkspaceFoldersParams>(params) else { return };
        for folder in params.event.removed.iter().filter_map(|folder| uri::path(&folder.uri.0)) {
            self.folders.remove(&folder);
            self.stale.insert(Key::Folder(folder));
        }
        for folder in params.event.added.iter().filter_map(|folder| uri::path(&folder.uri.0)) {
            self.folders.insert(folder.clone());
            self.stale.insert(Key::Folder(folder));
        }
    }

    /// Reads again what has changed
    fn refresh(&mut self) {
        for key in std::mem::take(&mut self.stale) {
            let read = invariant::caught(|| self.read_set(&key));
            self.keep(key, read);
        }
    }

    /// Puts a set in the place of what there was of it; a fault of the program in reading it costs this set only
    fn keep(&mut self, key: Key, read: Result<Set, Fault>) {
        self.sets.remove(&key);
        self.broken.remove(&key);
        match read {
            Ok(set) if set.files.is_empty() => {}
            Ok(set) => _ = self.sets.insert(key.clone(), set),
            Err(fault) => _ = self.broken.insert(key.clone(), fault),
        }
        self.news.insert(key);
    }

    fn read_set(&self, key: &Key) -> Set {
        let mut sources = Sources::default();
        let mut problems = Problems::default();
        let mut files = Vec::new();
        for (name, address) in self.members(key) {
            (self.watch)(&name);
            let open = address.as_ref().and_then(|address| self.open.get(address));
            let id = match open {
                Some(open) => {
                    let (what, bytes) = (format!("the file `{name}`"), open.text.clone().into_bytes());
                    files::take(&name, &what, bytes, &mut sources, &mut problems)
                }
                None => files::read(Path::new(&name), &mut sources, &mut problems),
            };
            files.push(FileOfSet {
                id,
                uri: address.unwrap_or_else(|| uri::of_path(Path::new(&name))), // else: it is not open
                version: open.map(|open| open.version),
                mark: open.is_some_and(|open| open.mark),
            });
        }
        if files.is_empty() {
            return Set::default();
        }
        let ids: Vec<SourceId> = files.iter().map(|file| file.id).collect();
        let before = self.sets.get(key);
        let mut said = BTreeMap::new();
        let (trees, model) = rulebook::judge(&ids, &mut sources, &mut problems, |sources, id| {
            let known = before.and_then(|before| before.known(id, sources.text(id)));
            let parsed = known.unwrap_or_else(|| syntax::parse(sources, id)); // else: it is new or has changed
            said.insert(id, parsed.1.clone());
            parsed
        });
        let model = (!problems.any_error()).then_some(model);
        Set { rules: Rules { sources, files: trees, model, problems }, files, said }
    }

    /// Names of the files of a set, in order, with the addresses of those that are open
    fn members(&self, key: &Key) -> Vec<(String, Option<String>)> {
        let open = self.open.keys().filter(|address| Key::of(address) == *key);
        let folder = match key {
            Key::Alone(_) => return open.map(|address| (address.clone(), Some(address.clone()))).collect(),
            Key::Folder(folder) => folder,
        };
        let open: BTreeMap<PathBuf, &String> =
            open.filter_map(|address| Some((uri::path(address)?, address))).collect();
        if open.is_empty() && !self.folders.contains(folder) {
            return Vec::new();
        }
        // else: the folder is gone, or nobody may read it: the open texts alone
        let on_disk = files::in_folder(folder, Sort::Rules).unwrap_or_default();
        let paths: BTreeSet<&PathBuf> = on_disk.iter().chain(open.keys()).collect();
        let member = |path: &PathBuf| (path.display().to_string(), open.get(path).map(|it| (*it).clone()));
        paths.into_iter().map(member).collect()
    }

    /// The set that a text belongs to, and the place in it
    pub(super) fn at(&mut self, uri: &Uri, position: Position, client: &Client) -> Option<(&Set, Cursor)> {
        let (set, source) = self.set_of(uri)?;
        let at = set.lines(source, client.encoding).byte(position)?;
        Some((set, Cursor { source, at }))
    }

    /// The set that a text belongs to, and the text; one that could not be read has no answer to any question
    pub(super) fn set_of(&mut self, uri: &Uri) -> Option<(&Set, SourceId)> {
        self.refresh();
        let key = Key::of(&uri.0);
        if let Some(fault) = self.broken.get(&key) {
            invariant::again(fault.clone());
        }
        let set = self.sets.get(&key)?;
        let path = uri::path(&uri.0);
        let is_meant =
            |file: &&FileOfSet| file.uri == uri.0 || path.is_some() && uri::path(&file.uri) == path;
        let file = set.files.iter().find(is_meant)?;
        Some((set, file.id))
    }

    /// Every set
    pub(super) fn sets(&mut self) -> impl Iterator<Item = &Set> {
        self.refresh();
        self.sets.values()
    }

    /// The sets read again since this was asked last, with what there is of them now, or why they could not be read
    pub(super) fn news(&mut self) -> Vec<(Key, Result<Option<&Set>, &Fault>)> {
        self.refresh();
        let news = std::mem::take(&mut self.news);
        let now = |key: &Key| self.broken.get(key).map_or_else(|| Ok(self.sets.get(key)), Err);
        news.into_iter().map(|key| (key.clone(), now(&key))).collect()
    }
}

impl Open {
    fn new(text: String, version: i32) -> Self {
        let bare = text.strip_prefix('\u{feff}').map(str::to_owned);
        let mark = bare.is_some();
        Open { text: bare.unwrap_or(text), mark, version } // else: there is no mark in front
    }

    fn change(&mut self, change: TextDocumentContentChangeEvent, encoding: Encoding) {
        match change {
            TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole) => {
                *self = Open::new(whole.text, self.version);
            }
            TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                let lines = Lines::new(&self.text, encoding, self.mark);
                let end = self.text.len();
                // else: it lies past the last line
                let from = lines.byte(part.range.start).unwrap_or(end);
                let to = lines.byte(part.range.end).unwrap_or(end).max(from);
                self.text.replace_range(from..to, &part.text);
            }
        }
    }
}

impl Set {
    /// What was read of a file, if its text was the same; its places are those of its number among the sources
    fn known(&self, id: SourceId, text: &str) -> Option<(File, Problems)> {
        let number = self.files.iter().position(|file| file.id == id)?;
        let same = self.rules.sources.text(id) == text;
        same.then(|| Some((self.rules.files.get(number)?.clone(), self.said.get(&id)?.clone())))?
    }

    /// The lines of one of its texts
    pub(super) fn lines(&self, id: SourceId, encoding: Encoding) -> Lines<'_> {
        let mark = self.files.iter().any(|file| file.id == id && file.mark);
        Lines::new(self.rules.sources.text(id), encoding, mark)
    }

    /// The lines of all its texts
    pub(super) fn places(&self, encoding: Encoding) -> Places<'_> {
        let lines = |file: &FileOfSet| (file.id, (file.uri.clone(), self.lines(file.id, encoding)));
        Places(self.files.iter().map(lines).collect())
    }
}

/// The lines of all texts of a set, with their addresses
pub(super) struct Places<'s>(BTreeMap<SourceId, (String, Lines<'s>)>);

impl Places<'_> {
    /// Where a piece of one of the texts stands
    pub(super) fn location(&self, span: Span) -> Option<Location> {
        let (uri, lines) = self.0.get(&span.source)?;
        Some(Location { uri: Uri(uri.clone()), range: lines.range(span) })
    }
}

fn read<T: DeserializeOwned>(params: Value) -> Option<T> {
    serde_json::from_value(params).ok()
}
