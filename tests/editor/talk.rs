//! An editor's side of a conversation, over a connection in memory.

use lsp_server::{Connection, Message, Notification, Request, Response};
use pinboss::command::{Exit, lsp};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// Longest wait for a message: far more than any takes
const PATIENCE: Duration = Duration::from_secs(60);

/// A conversation with a server
pub struct Talk {
    editor: Connection,
    server: JoinHandle<Exit>,
    next: i32,
    /// Problems told last, by address and version
    told: BTreeMap<(String, Option<i64>), Vec<Value>>,
    /// Questions of the server
    pub asked: Vec<Request>,
}

/// A server that nobody has spoken to
pub fn silent() -> Talk {
    let (server, editor) = Connection::memory();
    let server = thread::spawn(move || lsp::serve(&server));
    Talk { editor, server, next: 0, told: BTreeMap::new(), asked: Vec::new() }
}

/// A server that has been told what the editor can do
pub fn begun(capabilities: &Value, folder: Option<&Path>) -> Talk {
    let mut talk = silent();
    let folders = folder.map(|folder| json!([{ "uri": address(folder), "name": "rules" }]));
    let params = json!({ "processId": null, "rootUri": null, "capabilities": capabilities, "workspaceFolders": folders });
    talk.ask("initialize", params).unwrap();
    talk.tell("initialized", json!({}));
    talk
}

/// The address of a file
pub fn address(path: &Path) -> String {
    format!("file://{}", path.display())
}

impl Talk {
    /// Asks, and waits for the answer: what it is, or the number and words of the refusal
    pub fn ask(&mut self, method: &str, params: Value) -> Result<Value, (i32, String)> {
        self.next += 1;
        let id = self.next.into();
        let request = Request { id, method: method.to_owned(), params };
        self.editor.sender.send(request.into()).unwrap();
        loop {
            if let Message::Response(Response { id, response_result }) = self.receive() {
                assert_eq!(id, self.next.into());
                return response_result.map_err(|refusal| (refusal.code, refusal.message));
            }
        }
    }

    /// Tells something that has no answer
    pub fn tell(&mut self, method: &str, params: Value) {
        let notification = Notification { method: method.to_owned(), params };
        self.editor.sender.send(notification.into()).unwrap();
    }

    /// Opens a text
    pub fn open(&mut self, uri: &str, text: &str) {
        let document = json!({ "uri": uri, "languageId": "rules", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }));
    }

    /// Puts another text in the place of an open one
    pub fn change(&mut self, uri: &str, version: i64, text: &str) {
        let document = json!({ "uri": uri, "version": version });
        self.tell(
            "textDocument/didChange",
            json!({ "textDocument": document, "contentChanges": [{ "text": text }] }),
        );
    }

    /// Waits for the problems of a text in a version; none for the version of a file that is not open
    pub fn problems(&mut self, uri: &str, version: Option<i64>) -> Vec<Value> {
        loop {
            if let Some(told) = self.told.remove(&(uri.to_owned(), version)) {
                return told;
            }
            self.receive();
        }
    }

    /// Takes one message in, problems noted
    fn receive(&mut self) -> Message {
        let message = self.editor.receiver.recv_timeout(PATIENCE).expect("a message from the server");
        match &message {
            Message::Notification(it) => {
                assert_eq!(it.method, "textDocument/publishDiagnostics");
                let uri = it.params["uri"].as_str().unwrap().to_owned();
                let told = it.params["diagnostics"].as_array().unwrap().clone();
                self.told.insert((uri, it.params["version"].as_i64()), told);
            }
            Message::Request(request) => self.asked.push(request.clone()),
            Message::Response(_) => {}
        }
        message
    }

    /// Says `exit`, and gives how the server ended
    pub fn exit(mut self) -> Exit {
        self.tell("exit", Value::Null);
        self.server.join().expect("the server does not panic")
    }

    /// Goes away without a word, and gives how the server ended
    pub fn vanish(self) -> Exit {
        drop(self.editor);
        self.server.join().expect("the server does not panic")
    }
}

/// What is said of a place: `start line:column end line:column`
pub fn range(value: &Value) -> String {
    let at = |end: &str| format!("{}:{}", value[end]["line"], value[end]["character"]);
    format!("{}-{}", at("start"), at("end"))
}
