//! What an editor says of itself at the start, and what it is told that it can ask for.

use super::position::Encoding;
use super::uri;
use crate::invariant::Fault;
use lsp_server::{Notification, Request};
use lsp_types::{
    ChangeNotifications, CompletionOptions, DefinitionProvider, DocumentFormattingProvider,
    DocumentSymbolProvider, HoverProvider, InitializeResult, MessageType, PositionEncodingKind,
    ReferencesProvider, RenameOptions, RenameProvider, ServerCapabilities, ServerInfo, TextDocumentSync,
    TextDocumentSyncKind, WorkspaceFoldersServerCapabilities, WorkspaceOptions, WorkspaceSymbolProvider,
};
use serde_json::{Value, json};
use std::path::PathBuf;

/// What an editor can do
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Client {
    /// What it counts in on a line
    pub(super) encoding: Encoding,
    /// It shows Markdown where it tells what a word means
    pub(super) markdown: bool,
    /// It tells of changed files when asked to
    pub(super) watches_files: bool,
}

impl Client {
    /// Reads what an editor says of itself; what it leaves out it cannot do
    pub(super) fn read(params: &Value) -> Self {
        let holds = |path: &str, word: &str| {
            let list = params.pointer(path).and_then(Value::as_array);
            list.is_some_and(|list| list.iter().any(|item| item == word))
        };
        let encodings = "/capabilities/general/positionEncodings";
        let watching = "/capabilities/workspace/didChangeWatchedFiles/dynamicRegistration";
        Client {
            encoding: if holds(encodings, "utf-8") { Encoding::Utf8 } else { Encoding::Utf16 },
            markdown: holds("/capabilities/textDocument/hover/contentFormat", "markdown"),
            watches_files: params.pointer(watching) == Some(&Value::Bool(true)),
        }
    }
}

/// The folders an editor works in
pub(super) fn folders(params: &Value) -> Vec<PathBuf> {
    let list = params.get("workspaceFolders").and_then(Value::as_array);
    let uris: Vec<&str> = match list {
        Some(list) => list.iter().filter_map(|folder| folder.get("uri")?.as_str()).collect(),
        None => params.get("rootUri").and_then(Value::as_str).into_iter().collect(),
    };
    uris.into_iter().filter_map(uri::path).collect()
}

/// What an editor is told that it can ask for
pub(super) fn capabilities(client: &Client) -> InitializeResult {
    let capabilities = ServerCapabilities {
        position_encoding: Some(match client.encoding {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
        }),
        // Rule files are small: a whole text cannot drift apart from what the editor shows.
        text_document_sync: Some(TextDocumentSync::Kind(TextDocumentSyncKind::Full)),
        hover_provider: Some(HoverProvider::Bool(true)),
        definition_provider: Some(DefinitionProvider::Bool(true)),
        references_provider: Some(ReferencesProvider::Bool(true)),
        document_symbol_provider: Some(DocumentSymbolProvider::Bool(true)),
        workspace_symbol_provider: Some(WorkspaceSymbolProvider::Bool(true)),
        document_formatting_provider: Some(DocumentFormattingProvider::Bool(true)),
        rename_provider: Some(RenameProvider::RenameOptions(RenameOptions {
            prepare_provider: Some(true),
            ..RenameOptions::default()
        })),
        completion_provider: Some(CompletionOptions {
            trigger_characters: Some(vec![" ".to_owned(), ",".to_owned(), ":".to_owned()]),
            ..CompletionOptions::default()
        }),
        workspace: Some(WorkspaceOptions {
            workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                supported: Some(true),
                change_notifications: Some(ChangeNotifications::Bool(true)),
            }),
            ..WorkspaceOptions::default()
        }),
        ..ServerCapabilities::default()
    };
    let name = env!("CARGO_PKG_NAME").to_owned();
    let version = Some(env!("CARGO_PKG_VERSION").to_owned());
    InitializeResult { capabilities, server_info: Some(ServerInfo { name, version }) }
}

/// Has an editor show that the program is at fault, where no question is there to be refused
pub(super) fn tell(fault: &Fault) -> Notification {
    let params = json!({ "type": MessageType::Error, "message": fault.to_string() });
    Notification { method: "window/showMessage".to_owned(), params }
}

/// Asks an editor to tell of rule files that change on the disk
pub(super) fn watch_files() -> Request {
    let watchers = json!([{ "globPattern": "**/*.rules" }]);
    let method = "workspace/didChangeWatchedFiles";
    let registration =
        json!({ "id": "rule-files", "method": method, "registerOptions": { "watchers": watchers } });
    Request {
        id: "rule-files".to_owned().into(),
        method: "client/registerCapability".to_owned(),
        params: json!({ "registrations": [registration] }),
    }
}
