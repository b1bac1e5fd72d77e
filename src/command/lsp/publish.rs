//! Problems as an editor is told them.

use super::client::{self, Client};
use super::workspace::{Key, Places, Set, Workspace};
use crate::problem::Problem;
use crate::problem::code::{Code, Severity};
use lsp_server::Notification;
use lsp_types::{
    Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, Message, PublishDiagnosticsParams, Uri,
};
use std::collections::{BTreeMap, BTreeSet};

/// The addresses whose problems have been told, by the sets they belong to
pub(super) type Published = BTreeMap<Key, BTreeSet<String>>;

/// What has to be told anew: the problems of every file of the sets that have changed, and that there are none any more
/// in files that have left a set
pub(super) fn news(
    workspace: &mut Workspace,
    published: &mut Published,
    client: &Client,
) -> Vec<Notification> {
    let mut news = Vec::new();
    for (key, set) in workspace.news() {
        // else: nothing of it is known any more
        let set = set.unwrap_or_else(|fault| {
            news.push(client::tell(fault));
            None
        });
        let mut before = published.remove(&key).unwrap_or_default(); // else: nothing was told of it
        let mut now = BTreeSet::new();
        for params in set.into_iter().flat_map(|set| of_set(set, client)) {
            before.remove(&params.uri.0);
            now.insert(params.uri.0.clone());
            news.extend(notification(params));
        }
        for gone in before {
            let params = PublishDiagnosticsParams { uri: Uri(gone), version: None, diagnostics: Vec::new() };
            news.extend(notification(params));
        }
        if !now.is_empty() {
            published.insert(key, now);
        }
    }
    news
}

fn notification(params: PublishDiagnosticsParams) -> Option<Notification> {
    let params = serde_json::to_value(params).ok()?;
    Some(Notification { method: "textDocument/publishDiagnostics".to_owned(), params })
}

/// The problems of every file of a set, also where there are none
fn of_set(set: &Set, client: &Client) -> Vec<PublishDiagnosticsParams> {
    let mut problems: Vec<Problem> = set.rules.problems.sorted().into_iter().cloned().collect();
    problems.extend(left_out(set));
    let places = set.places(client.encoding);
    let files = set.files.iter().map(|file| {
        let here = problems.iter().filter(|problem| problem.at.source == file.id);
        PublishDiagnosticsParams {
            uri: Uri(file.uri.clone()),
            version: file.version,
            diagnostics: here.filter_map(|problem| diagnostic(problem, &places)).collect(),
        }
    });
    files.collect()
}

/// Says, where the last problem stands, that more are left out
fn left_out(set: &Set) -> Option<Problem> {
    let problems = &set.rules.problems;
    let last = problems.sorted().last().filter(|_| problems.left_out() > 0)?.at;
    let message = format!("{} more are left out: mend these first", problems.left_out());
    Some(Problem::new(Code::TooMany, last, message))
}

fn diagnostic(problem: &Problem, places: &Places<'_>) -> Option<Diagnostic> {
    let also = problem.also.iter().filter_map(|(at, words)| {
        let location = places.location(*at)?;
        Some(DiagnosticRelatedInformation { location, message: words.clone() })
    });
    let also: Vec<DiagnosticRelatedInformation> = also.collect();
    let message = match problem.help.as_str() {
        "" => problem.message.clone(),
        help => format!("{}\n{help}", problem.message),
    };
    Some(Diagnostic {
        range: places.location(problem.at)?.range,
        severity: Some(match problem.code.severity() {
            Severity::Error => DiagnosticSeverity::Error,
            Severity::Warning => DiagnosticSeverity::Warning,
        }),
        code: Some(lsp_types::Code::String(problem.code.slug().to_owned())),
        code_description: None,
        source: Some("pinboss".to_owned()),
        message: Message::String(message),
        tags: None,
        related_information: (!also.is_empty()).then_some(also),
        data: None,
    })
}
