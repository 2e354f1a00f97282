//! The loop: messages in, messages out, a thread that checks beside it.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::mpsc::{Sender, channel};

use lsp_server::{Connection, Message, Notification, Response};
use lsp_types::{
    CodeActionProviderCapability, CompletionOptions, DidChangeTextDocumentParams, DidCloseTextDocumentParams,
    DidOpenTextDocumentParams, FoldingRangeProviderCapability, HoverProviderCapability, MessageType, OneOf,
    PublishDiagnosticsParams, SemanticTokenType, SemanticTokensFullOptions, SemanticTokensLegend,
    SemanticTokensOptions, SemanticTokensServerCapabilities, ServerCapabilities, ShowMessageParams,
    TextDocumentSyncCapability, TextDocumentSyncKind,
};
use serde_json::{Value, json};

use super::desk::{Desk, Snapshot};
use super::event::Event;
use super::found::Found;
use super::outline::LEGEND;
use super::places::path;
use super::{answers, checking, told};
use crate::workshop::JobView;

/// Talks with an editor until it leaves.
///
/// # Errors
/// What went wrong between the two, in words.
pub(crate) fn serve() -> Result<(), String> {
    let (connection, threads) = Connection::stdio();
    let abilities = serde_json::to_value(abilities()).map_err(|error| error.to_string())?;
    let (id, _) = connection.initialize_start().map_err(|_| "it never greeted".to_owned())?;
    let greeting = json!({
        "capabilities": abilities,
        "serverInfo": { "name": "benchleaf", "version": env!("CARGO_PKG_VERSION") },
    });
    connection.initialize_finish(id, greeting).map_err(|_| "it left at once".to_owned())?;
    let (events, coming) = channel();
    let (desks, waiting) = channel();
    let said = events.clone();
    let Connection { sender, receiver } = connection;
    std::thread::spawn(move || {
        for message in receiver {
            if said.send(Event::Said(message)).is_err() {
                return;
            }
        }
        let _ = said.send(Event::Gone);
    });
    let (checked, unplanned) = channel();
    let planned = events.clone();
    std::thread::spawn(move || checking::run(&waiting, &events, &checked));
    let typed = Arc::new(AtomicU64::new(0));
    let changes = Arc::clone(&typed);
    std::thread::spawn(move || checking::plan(&unplanned, &planned, &changes));
    let (spent, past) = channel();
    // What is no longer shown is cleared away beside the loop: that takes as long as an answer.
    std::thread::spawn(move || past.into_iter().for_each(drop::<Found>));
    let say = move |message: Message| sender.send(message).is_ok();
    let mut server = Server {
        desk: Desk::default(),
        found: Found::nothing(),
        told: BTreeSet::new(),
        say: &say,
        desks,
        typed,
        spent,
        leaving: false,
    };
    for event in coming {
        if !server.meets(event) {
            break;
        }
    }
    let left = server.leaving;
    drop(server);
    drop(say);
    threads.join().map_err(|error| error.to_string())?;
    if left { Ok(()) } else { Err("it left without saying so".to_owned()) }
}

/// What is offered.
fn abilities() -> ServerCapabilities {
    let legend = SemanticTokensLegend {
        token_types: LEGEND.map(SemanticTokenType::new).to_vec(),
        token_modifiers: Vec::new(),
    };
    let colours = SemanticTokensOptions {
        legend,
        full: Some(SemanticTokensFullOptions::Bool(true)),
        ..SemanticTokensOptions::default()
    };
    ServerCapabilities {
        text_document_sync: Some(TextDocumentSyncCapability::Kind(TextDocumentSyncKind::INCREMENTAL)),
        completion_provider: Some(CompletionOptions::default()),
        hover_provider: Some(HoverProviderCapability::Simple(true)),
        definition_provider: Some(OneOf::Left(true)),
        references_provider: Some(OneOf::Left(true)),
        rename_provider: Some(OneOf::Left(true)),
        document_symbol_provider: Some(OneOf::Left(true)),
        folding_range_provider: Some(FoldingRangeProviderCapability::Simple(true)),
        code_action_provider: Some(CodeActionProviderCapability::Simple(true)),
        document_formatting_provider: Some(OneOf::Left(true)),
        semantic_tokens_provider: Some(SemanticTokensServerCapabilities::SemanticTokensOptions(colours)),
        ..ServerCapabilities::default()
    }
}

struct Server<'a> {
    desk: Desk,
    found: Found,
    /// Files about which something was said last.
    told: BTreeSet<PathBuf>,
    say: &'a dyn Fn(Message) -> bool,
    desks: Sender<Snapshot>,
    /// How often anything on the desk has changed.
    typed: Arc<AtomicU64>,
    /// What isn't needed any more.
    spent: Sender<Found>,
    /// The editor has said that it will leave.
    leaving: bool,
}

impl Server<'_> {
    /// Takes one event; false when there is nothing more to do.
    fn meets(&mut self, event: Event) -> bool {
        match event {
            Event::Gone => return false,
            Event::Said(Message::Request(request)) if request.method == "shutdown" => {
                self.leaving = true;
                return (self.say)(Message::Response(Response::new_ok(request.id, Value::Null)));
            }
            Event::Said(Message::Request(request)) => {
                for words in answers::beside(&self.found, &self.desk, &request) {
                    let params = ShowMessageParams { typ: MessageType::WARNING, message: words };
                    (self.say)(Message::Notification(Notification::new(
                        "window/showMessage".to_owned(),
                        params,
                    )));
                }
                return (self.say)(Message::Response(answers::answer(&self.found, &self.desk, request)));
            }
            Event::Said(Message::Notification(note)) => {
                if note.method == "exit" {
                    return false;
                }
                self.heard(note);
            }
            Event::Said(Message::Response(_)) => {}
            Event::Found(found) => self.learnt(*found),
            Event::Planned(revision, path, view) => self.planned(revision, &path, *view),
        }
        true
    }

    fn heard(&mut self, note: Notification) {
        match note.method.as_str() {
            "textDocument/didOpen" => {
                let Ok(opened) = serde_json::from_value::<DidOpenTextDocumentParams>(note.params) else {
                    return;
                };
                let document = opened.text_document;
                let Some(path) = path(&document.uri) else { return };
                self.desk.open(&path, document.uri, document.version, &document.text);
            }
            "textDocument/didChange" => {
                let Ok(changed) = serde_json::from_value::<DidChangeTextDocumentParams>(note.params) else {
                    return;
                };
                let Some(path) = path(&changed.text_document.uri) else { return };
                self.desk.change(&path, changed.text_document.version, changed.content_changes);
            }
            "textDocument/didClose" => {
                let Ok(closed) = serde_json::from_value::<DidCloseTextDocumentParams>(note.params) else {
                    return;
                };
                let Some(path) = path(&closed.text_document.uri) else { return };
                self.desk.close(&path);
            }
            "textDocument/didSave" | "workspace/didChangeWatchedFiles" => self.desk.touched(),
            _ => return,
        }
        self.typed.store(self.desk.revision(), Ordering::Relaxed);
        let _ = self.desks.send(self.desk.snapshot());
    }

    /// Shows what was found out, unless the texts have gone on since.
    fn learnt(&mut self, mut found: Found) {
        if found.revision != self.desk.revision() {
            let _ = self.spent.send(found);
            return;
        }
        // Until its order is worked out anew, a procedure keeps the one that it had.
        for root in &mut found.roots {
            let known = self.found.roots.iter_mut().find(|known| known.path == root.path);
            root.view = known.and_then(|known| known.view.take());
        }
        let past = std::mem::replace(&mut self.found, found);
        let mut files = told::by_file(&self.found, &self.desk);
        // Of what is open it is also said that nothing is wrong; and of what has nothing wrong any more.
        for path in self.told.iter().chain(self.desk.paths()) {
            files.entry(path.clone()).or_default();
        }
        self.told.clear();
        for (path, complaints) in files {
            if !complaints.is_empty() {
                self.told.insert(path.clone());
            }
            let Some(uri) = told::uri(&self.desk, &path) else { continue };
            let version = self.desk.known(&path).map(|(_, version)| *version);
            let params = PublishDiagnosticsParams { uri, diagnostics: complaints, version };
            (self.say)(Message::Notification(Notification::new(
                "textDocument/publishDiagnostics".to_owned(),
                params,
            )));
        }
        let _ = self.spent.send(past);
    }

    fn planned(&mut self, revision: u64, path: &std::path::Path, view: Option<JobView>) {
        if revision != self.desk.revision() {
            return;
        }
        let Some(root) = self.found.roots.iter_mut().find(|root| root.path == path) else { return };
        root.view = view;
        let uri = told::uri(&self.desk, path);
        (self.say)(Message::Notification(Notification::new(
            "benchleaf/orderChanged".to_owned(),
            json!({ "uri": uri }),
        )));
    }
}
