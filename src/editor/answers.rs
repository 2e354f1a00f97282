//! Requests of an editor to their answers.

use std::path::PathBuf;

use lsp_server::{ErrorCode, Request, Response};
use lsp_types::{
    CodeActionParams, CompletionParams, DocumentFormattingParams, DocumentSymbolParams, FoldingRangeParams,
    GotoDefinitionParams, HoverParams, ReferenceParams, RenameParams, SemanticTokens, SemanticTokensParams,
    TextDocumentIdentifier, TextEdit,
};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::desk::Desk;
use super::found::Found;
use super::places::{path, range};
use super::{complete, hover, names, outline, told};
use crate::language::tidied;
use crate::source::FileId;

/// Answers one request from what was found out last.
pub(super) fn answer(found: &Found, desk: &Desk, request: Request) -> Response {
    let id = request.id.clone();
    match value(found, desk, &request) {
        Ok(value) => Response::new_ok(id, value),
        Err((code, words)) => Response::new_err(id, code as i32, words),
    }
}

/// What is to be said beside an answer: that records of jobs go on with a name that is written anew.
pub(super) fn beside(found: &Found, desk: &Desk, request: &Request) -> Vec<String> {
    if request.method != "textDocument/rename" {
        return Vec::new();
    }
    let Ok(asked) = read::<RenameParams>(request) else { return Vec::new() };
    let at = asked.text_document_position;
    let Some((path, text)) = opened(desk, &at.text_document) else { return Vec::new() };
    names::in_records(found, &path, &text, at.position)
}

type Answer = Result<Value, (ErrorCode, String)>;

fn value(found: &Found, desk: &Desk, request: &Request) -> Answer {
    match request.method.as_str() {
        "textDocument/completion" => {
            let asked: CompletionParams = read(request)?;
            let at = asked.text_document_position;
            with(desk, &at.text_document, |path, text| complete::complete(found, path, text, at.position))
        }
        "textDocument/hover" => {
            let asked: HoverParams = read(request)?;
            let at = asked.text_document_position_params;
            with(desk, &at.text_document, |path, text| hover::hover(found, path, text, at.position))
        }
        "textDocument/definition" => {
            let asked: GotoDefinitionParams = read(request)?;
            let at = asked.text_document_position_params;
            with(desk, &at.text_document, |path, text| names::declared(found, desk, path, text, at.position))
        }
        "textDocument/references" => {
            let asked: ReferenceParams = read(request)?;
            let at = asked.text_document_position;
            let declaration = asked.context.include_declaration;
            with(desk, &at.text_document, |path, text| {
                names::references(found, desk, path, text, at.position, declaration)
            })
        }
        "textDocument/rename" => {
            let asked: RenameParams = read(request)?;
            let at = asked.text_document_position;
            let new = asked.new_name;
            match opened(desk, &at.text_document) {
                Some((path, text)) => match names::renamed(found, desk, &path, &text, at.position, &new) {
                    Ok(edit) => written(edit),
                    Err(words) => Err((ErrorCode::RequestFailed, words)),
                },
                None => Ok(Value::Null),
            }
        }
        "textDocument/documentSymbol" => {
            let asked: DocumentSymbolParams = read(request)?;
            with(desk, &asked.text_document, |_, text| outline::symbols(text))
        }
        "textDocument/foldingRange" => {
            let asked: FoldingRangeParams = read(request)?;
            with(desk, &asked.text_document, |_, text| outline::folds(text))
        }
        "textDocument/semanticTokens/full" => {
            let asked: SemanticTokensParams = read(request)?;
            with(desk, &asked.text_document, |_, text| SemanticTokens {
                result_id: None,
                data: outline::colours(text),
            })
        }
        "textDocument/codeAction" => {
            let asked: CodeActionParams = read(request)?;
            // What was said of a text that has gone on since would mend the wrong place.
            let found = Some(found).filter(|found| found.revision == desk.revision());
            with(desk, &asked.text_document, |path, _| {
                found.map(|found| told::mends(found, desk, path, asked.range)).unwrap_or_default()
            })
        }
        "textDocument/formatting" => {
            let asked: DocumentFormattingParams = read(request)?;
            with(desk, &asked.text_document, |_, text| {
                let form = tidied(FileId::default(), text).value.filter(|form| form != text);
                form.map(|new_text| vec![TextEdit { range: range(text, 0, text.len()), new_text }])
            })
        }
        "benchleaf/order" => {
            let asked: TextDocumentIdentifier = read(request)?;
            let root = path(&asked.uri).and_then(|path| found.roots_of(&path).next());
            Ok(root.map(|root| outline::order(found, desk, root)).unwrap_or_default())
        }
        other => Err((ErrorCode::MethodNotFound, format!("`{other}` is not known here"))),
    }
}

/// What a request asks.
fn read<T: DeserializeOwned>(request: &Request) -> Result<T, (ErrorCode, String)> {
    serde_json::from_value(request.params.clone())
        .map_err(|error| (ErrorCode::InvalidParams, error.to_string()))
}

fn written(value: impl Serialize) -> Answer {
    serde_json::to_value(value).map_err(|error| (ErrorCode::InternalError, error.to_string()))
}

/// Path and text of an open document.
fn opened(desk: &Desk, document: &TextDocumentIdentifier) -> Option<(PathBuf, std::sync::Arc<str>)> {
    let path = path(&document.uri)?;
    let text = desk.text(&path)?;
    Some((path, text))
}

/// What is made of an open document; nothing of one that isn't.
fn with<T: Serialize>(
    desk: &Desk,
    document: &TextDocumentIdentifier,
    make: impl FnOnce(&std::path::Path, &str) -> T,
) -> Answer {
    match opened(desk, document) {
        Some((path, text)) => written(make(&path, &text)),
        None => Ok(Value::Null),
    }
}
