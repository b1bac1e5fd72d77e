//! A fault of the program in a conversation: it costs the question, or the set of rules, that it was met at, and no more.

use lsp_server::{Connection, ErrorCode, Message, Notification, Request};
use pinboss::command::Exit;
use pinboss::command::lsp::{Watch, serve_watched};
use pinboss::invariant;
use serde_json::{Value, json};
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// A conversation with a program at fault
struct Talk {
    editor: Connection,
    serving: JoinHandle<Exit>,
    /// What was told without having been asked for
    told: Vec<Notification>,
    asked: i32,
}

/// Why a question has no answer
type Refused = (i32, String);

impl Talk {
    fn begun(watch: Watch) -> Self {
        let (server, editor) = Connection::memory();
        let serving = thread::spawn(move || serve_watched(&server, watch));
        let mut talk = Talk { editor, serving, told: Vec::new(), asked: 0 };
        talk.ask("initialize", json!({ "capabilities": {} })).unwrap();
        talk
    }

    fn ask(&mut self, method: &str, params: Value) -> Result<Value, Refused> {
        self.asked += 1;
        let request = Request { id: self.asked.into(), method: method.to_owned(), params };
        self.editor.sender.send(request.into()).unwrap();
        loop {
            match self.editor.receiver.recv_timeout(Duration::from_secs(60)).unwrap() {
                Message::Response(response) => {
                    return response.response_result.map_err(|refusal| (refusal.code, refusal.message));
                }
                Message::Notification(told) => self.told.push(told),
                other @ Message::Request(_) => panic!("{other:?} is no answer"),
            }
        }
    }

    fn tell(&self, method: &str, params: Value) {
        self.editor.sender.send(Notification { method: method.to_owned(), params }.into()).unwrap();
    }

    fn open(&self, uri: &str, text: &str) {
        let document = json!({ "uri": uri, "languageId": "rules", "version": 1, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }));
    }

    /// Names of the blocks of a text
    fn outline(&mut self, uri: &str) -> Result<Vec<String>, Refused> {
        let found = self.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": uri } }))?;
        Ok(found.as_array().unwrap().iter().map(|block| block["name"].as_str().unwrap().to_owned()).collect())
    }

    fn ended(mut self) -> Exit {
        self.ask("shutdown", Value::Null).unwrap();
        self.tell("exit", Value::Null);
        self.serving.join().unwrap()
    }
}

/// Each question at fault is refused as the program's own fault, and the next one has its answer
#[test]
fn a_fault_of_the_program_costs_one_question() {
    let mut talk = Talk::begun(|work| match work {
        "textDocument/hover" => invariant::broken("no word is like this"),
        "textDocument/definition" => panic!("a library does not like this"),
        _ => {}
    });
    for (method, why) in [
        ("textDocument/hover", "no word is like this"),
        ("textDocument/definition", "a library does not like this"),
    ] {
        let (code, message) = talk.ask(method, Value::Null).unwrap_err();
        assert_eq!(code, ErrorCode::InternalError as i32);
        assert!(message.starts_with(&format!("a fault in Pinboss, not in your file: {why}")), "{message}");
    }
    assert_eq!(talk.ask("workspace/symbol", json!({ "query": "" })).unwrap(), json!([]));
    assert_eq!(talk.ended(), Exit::Done);
}

/// A set that the program fails to read has no answer until it is changed, and the others have theirs; that it failed is told
#[test]
fn a_fault_in_reading_costs_one_set_until_it_is_changed() {
    static AT_FAULT: AtomicBool = AtomicBool::new(false);
    const URI: &str = "file:///nowhere/a.rules";
    let mut talk = Talk::begun(|work| {
        if work == "/nowhere/a.rules" && AT_FAULT.load(Ordering::SeqCst) {
            invariant::broken("no rules are like these");
        }
    });
    talk.open(URI, "kind a: \"x\"\n");
    talk.open("untitled:b", "kind b: \"x\"\n");
    assert_eq!(talk.outline(URI), Ok(vec!["a".to_owned()]));
    AT_FAULT.store(true, Ordering::SeqCst);
    talk.open(URI, "kind a: \"x\"\n");
    for _ in 0..2 {
        let (code, message) = talk.outline(URI).unwrap_err();
        assert_eq!(code, ErrorCode::InternalError as i32);
        assert!(message.contains("no rules are like these"), "{message}");
        assert_eq!(talk.outline("untitled:b"), Ok(vec!["b".to_owned()]));
    }
    AT_FAULT.store(false, Ordering::SeqCst);
    assert!(talk.outline(URI).is_err(), "it is not read again before it is changed");
    talk.open(URI, "kind c: \"x\"\n");
    assert_eq!(talk.outline(URI), Ok(vec!["c".to_owned()]));
    let shown = talk.told.iter().filter(|told| told.method == "window/showMessage");
    let shown: Vec<&str> = shown.map(|told| told.params["message"].as_str().unwrap()).collect();
    assert!(matches!(shown[..], [one] if one.contains("no rules are like these")), "{shown:?}");
    assert_eq!(talk.ended(), Exit::Done);
}
