//! What an editor asks, and the answers in the protocol's shapes.

mod show;

use super::client::Client;
use super::workspace::Workspace;
use crate::editor::{Cursor, Rules, complete, hover, outline, rename, uses};
use crate::invariant::Fault;
use crate::source::Span;
use crate::syntax::format::format;
use lsp_server::ErrorCode;
use lsp_types::{
    CompletionRequest, CompletionResponse, Definition, DefinitionRequest, DefinitionResponse,
    DocumentFormattingRequest, DocumentSymbolRequest, DocumentSymbolResponse, HoverRequest, Location,
    PrepareRenamePlaceholder, PrepareRenameRequest, PrepareRenameResult, ReferencesRequest, RenameRequest,
    Request, TextDocumentPositionParams, TextEdit, Uri, WorkspaceEdit, WorkspaceSymbolRequest,
    WorkspaceSymbolResponse,
};
use serde::Serialize;
use serde_json::Value;
use std::collections::HashMap;

/// Why a question gets no answer
pub(super) struct Refusal {
    /// The protocol's number
    pub(super) code: ErrorCode,
    /// Why, for the person
    pub(super) message: String,
}

impl Refusal {
    /// A refusal with its words
    pub(super) fn new(code: ErrorCode, message: impl Into<String>) -> Self {
        Refusal { code, message: message.into() }
    }
}

impl From<Fault> for Refusal {
    fn from(fault: Fault) -> Self {
        Refusal::new(ErrorCode::InternalError, fault.to_string())
    }
}

/// The answer to a question
pub(super) fn answer(
    method: &str,
    params: Value,
    client: &Client,
    workspace: &mut Workspace,
) -> Result<Value, Refusal> {
    match method.into() {
        HoverRequest::METHOD => ask::<HoverRequest>(params, |params| {
            let at = params.text_document_position_params;
            let found = workspace.at(&at.text_document.uri, at.position, client);
            Ok(found
                .and_then(|(set, cursor)| Some(show::hover(&hover::hover(&set.rules, cursor)?, set, client))))
        }),
        DefinitionRequest::METHOD => ask::<DefinitionRequest>(params, |params| {
            let found = places(&params.text_document_position_params, client, workspace, uses::declared);
            Ok(Some(DefinitionResponse::Definition(Definition::LocationList(found))))
        }),
        ReferencesRequest::METHOD => ask::<ReferencesRequest>(params, |params| {
            let with_declaration = params.context.include_declaration;
            let find = |rules: &_, cursor| uses::uses(rules, cursor, with_declaration);
            Ok(Some(places(&params.text_document_position_params, client, workspace, find)))
        }),
        PrepareRenameRequest::METHOD => ask::<PrepareRenameRequest>(params, |params| {
            prepare_rename(&params.text_document_position_params, client, workspace)
        }),
        RenameRequest::METHOD => ask::<RenameRequest>(params, |params| {
            rename(&params.text_document_position_params, &params.new_name, client, workspace)
        }),
        CompletionRequest::METHOD => ask::<CompletionRequest>(params, |params| {
            let at = params.text_document_position_params;
            let found = workspace.at(&at.text_document.uri, at.position, client);
            let items = found.map_or_else(Vec::new, |(set, cursor)| {
                show::completions(&complete::complete(&set.rules, cursor), set, client)
            });
            Ok(Some(CompletionResponse::CompletionItemList(items)))
        }),
        DocumentSymbolRequest::METHOD => ask::<DocumentSymbolRequest>(params, |params| {
            let found = workspace.set_of(&params.text_document.uri);
            let symbols = found.map_or_else(Vec::new, |(set, id)| {
                let lines = set.lines(id, client.encoding);
                outline::of_file(&set.rules, id).into_iter().map(|item| show::symbol(item, &lines)).collect()
            });
            Ok(Some(DocumentSymbolResponse::DocumentSymbolList(symbols)))
        }),
        WorkspaceSymbolRequest::METHOD => ask::<WorkspaceSymbolRequest>(params, |params| {
            let found = workspace.sets().flat_map(|set| {
                let places = set.places(client.encoding);
                let items = outline::search(&set.rules, &params.query);
                let shown = items.into_iter().filter_map(|item| show::symbol_anywhere(item, &places));
                shown.collect::<Vec<_>>()
            });
            Ok(Some(WorkspaceSymbolResponse::WorkspaceSymbolList(found.collect())))
        }),
        DocumentFormattingRequest::METHOD => ask::<DocumentFormattingRequest>(params, |params| {
            Ok(Some(laid_out(&params.text_document.uri, client, workspace)))
        }),
        _ => Err(Refusal::new(ErrorCode::MethodNotFound, format!("`{method}` is not known here"))),
    }
}

/// Reads what is asked, and writes the answer
fn ask<R: Request>(
    params: Value,
    answer: impl FnOnce(R::Params) -> Result<R::Result, Refusal>,
) -> Result<Value, Refusal> {
    let params = serde_json::from_value(params)
        .map_err(|fault| Refusal::new(ErrorCode::InvalidParams, fault.to_string()))?;
    json(&answer(params)?)
}

/// Anything as JSON
pub(super) fn json(answer: &impl Serialize) -> Result<Value, Refusal> {
    serde_json::to_value(answer).map_err(|fault| Refusal::new(ErrorCode::InternalError, fault.to_string()))
}

/// The places that are found from a place
fn places(
    at: &TextDocumentPositionParams,
    client: &Client,
    workspace: &mut Workspace,
    find: impl FnOnce(&Rules, Cursor) -> Vec<Span>,
) -> Vec<Location> {
    let found = workspace.at(&at.text_document.uri, at.position, client);
    found.map_or_else(Vec::new, |(set, cursor)| {
        let places = set.places(client.encoding);
        find(&set.rules, cursor).into_iter().filter_map(|span| places.location(span)).collect()
    })
}

fn prepare_rename(
    at: &TextDocumentPositionParams,
    client: &Client,
    workspace: &mut Workspace,
) -> Result<Option<PrepareRenameResult>, Refusal> {
    let Some((set, cursor)) = workspace.at(&at.text_document.uri, at.position, client) else {
        return Ok(None);
    };
    let renamed = rename::renamed(&set.rules, cursor).map_err(refused)?;
    Ok(renamed.map(|(span, placeholder)| {
        let range = set.lines(span.source, client.encoding).range(span);
        PrepareRenameResult::PrepareRenamePlaceholder(PrepareRenamePlaceholder { range, placeholder })
    }))
}

fn rename(
    at: &TextDocumentPositionParams,
    name: &str,
    client: &Client,
    workspace: &mut Workspace,
) -> Result<Option<WorkspaceEdit>, Refusal> {
    let Some((set, cursor)) = workspace.at(&at.text_document.uri, at.position, client) else {
        return Ok(None);
    };
    let edits = rename::rename(&set.rules, cursor, name).map_err(refused)?;
    let places = set.places(client.encoding);
    let mut changes: HashMap<Uri, Vec<TextEdit>> = HashMap::new();
    for (span, new_text) in edits {
        if let Some(Location { uri, range }) = places.location(span) {
            changes.entry(uri).or_default().push(TextEdit { range, new_text });
        }
    }
    Ok((!changes.is_empty()).then(|| WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() }))
}

/// The edit that lays a text out the one way; none where it is laid out so, or holds an error
fn laid_out(uri: &Uri, client: &Client, workspace: &mut Workspace) -> Vec<TextEdit> {
    let Some((set, id)) = workspace.set_of(uri) else {
        return Vec::new();
    };
    let sources = &set.rules.sources;
    match format(sources, id, &set.rules.files) {
        Ok(new_text) if new_text != sources.text(id) => {
            let range = set.lines(id, client.encoding).range(sources.whole(id));
            vec![TextEdit { range, new_text }]
        }
        Ok(_) | Err(_) => Vec::new(),
    }
}

fn refused(why: String) -> Refusal {
    Refusal::new(ErrorCode::RequestFailed, why)
}
