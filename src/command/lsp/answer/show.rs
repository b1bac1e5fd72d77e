//! What `editor` finds out, in the protocol's shapes.

use crate::command::lsp::client::Client;
use crate::command::lsp::position::Lines;
use crate::command::lsp::workspace::{Places, Set};
use crate::editor::complete::{Offer, Offers, What};
use crate::editor::hover::HoverText;
use crate::editor::outline::Item;
use crate::syntax::tree::Sort;
use lsp_types::{
    BaseSymbolInformation, CompletionItem, CompletionItemKind, CompletionItemTextEdit, Contents,
    DocumentSymbol, Hover, MarkupContent, MarkupKind, SymbolKind, TextEdit, WorkspaceSymbol,
    WorkspaceSymbolLocation,
};

/// What a word means
pub(super) fn hover(text: &HoverText, set: &Set, client: &Client) -> Hover {
    let (kind, value) = if client.markdown {
        let mut paragraphs: Vec<String> = text.paragraphs.iter().map(|it| escaped(it)).collect();
        if !text.example.is_empty() {
            paragraphs.push(format!("```rules\n{}\n```", text.example));
        }
        (MarkupKind::Markdown, paragraphs.join("\n\n"))
    } else {
        let mut paragraphs = text.paragraphs.clone();
        if !text.example.is_empty() {
            paragraphs.push(text.example.clone());
        }
        (MarkupKind::PlainText, paragraphs.join("\n"))
    };
    let range = set.lines(text.at.source, client.encoding).range(text.at);
    Hover { contents: Contents::MarkupContent(MarkupContent { kind, value }), range: Some(range) }
}

/// A paragraph whose signs stand for themselves in Markdown, but for back quotes
fn escaped(paragraph: &str) -> String {
    let mut escaped = String::with_capacity(paragraph.len());
    let mut is_quoted = false;
    for sign in paragraph.chars() {
        if sign == '`' {
            is_quoted = !is_quoted;
        } else if !is_quoted && "\\*_<>[]#|~&".contains(sign) {
            escaped.push('\\');
        }
        escaped.push(sign);
    }
    escaped
}

/// What could stand at a place, in the order given
pub(super) fn completions(offers: &Offers, set: &Set, client: &Client) -> Vec<CompletionItem> {
    let range = set.lines(offers.replaces.source, client.encoding).range(offers.replaces);
    let item = |(number, offer): (usize, &Offer)| CompletionItem {
        label: offer.word.clone(),
        kind: Some(match offer.what {
            What::Keyword => CompletionItemKind::Keyword,
            What::Name(sort) => completion_kind(sort),
            What::Grade => CompletionItemKind::EnumMember,
            What::Share => CompletionItemKind::Value,
            What::Fixed => CompletionItemKind::Constant,
        }),
        detail: (!offer.detail.is_empty()).then(|| offer.detail.clone()),
        sort_text: Some(format!("{number:04}")),
        text_edit: Some(CompletionItemTextEdit::TextEdit(TextEdit { range, new_text: offer.word.clone() })),
        ..CompletionItem::default()
    };
    offers.list.iter().enumerate().map(item).collect()
}

fn completion_kind(sort: Sort) -> CompletionItemKind {
    match sort {
        Sort::Cause | Sort::Condition => CompletionItemKind::Event,
        Sort::Symptom => CompletionItemKind::Property,
        Sort::Measure => CompletionItemKind::Unit,
        Sort::Part => CompletionItemKind::Module,
        Sort::Check | Sort::Remedy => CompletionItemKind::Function,
        _ => CompletionItemKind::Variable,
    }
}

/// A declaration in the list of a file
pub(super) fn symbol(item: Item, lines: &Lines<'_>) -> DocumentSymbol {
    #[expect(deprecated, reason = "the type has a field that is no longer to be used, and must be given it")]
    DocumentSymbol {
        name: item.name,
        detail: Some(item.detail),
        kind: symbol_kind(item.sort),
        tags: None,
        deprecated: None,
        range: lines.range(item.whole),
        selection_range: lines.range(item.at),
        children: None,
    }
}

/// A declaration in the list of all files
pub(super) fn symbol_anywhere(item: Item, places: &Places<'_>) -> Option<WorkspaceSymbol> {
    let location = places.location(item.at)?;
    Some(WorkspaceSymbol {
        location: WorkspaceSymbolLocation::Location(location),
        data: None,
        base_symbol_information: BaseSymbolInformation {
            name: item.name,
            kind: symbol_kind(item.sort),
            tags: None,
            container_name: Some(item.detail),
        },
    })
}

fn symbol_kind(sort: Sort) -> SymbolKind {
    match sort {
        Sort::Scale | Sort::Dimensions | Sort::Life => SymbolKind::Array,
        Sort::Kind => SymbolKind::Enum,
        Sort::State => SymbolKind::EnumMember,
        Sort::Part => SymbolKind::Module,
        Sort::Fact => SymbolKind::Variable,
        Sort::Cause => SymbolKind::Event,
        Sort::Condition => SymbolKind::Class,
        Sort::Symptom => SymbolKind::Property,
        Sort::Measure => SymbolKind::Number,
        Sort::Check => SymbolKind::Method,
        Sort::Remedy => SymbolKind::Function,
    }
}
