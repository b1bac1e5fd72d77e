//! `pinboss lsp`: speaks with an editor about rule files, by the Language Server Protocol, version 3.17.
//!
//! Only this module knows the protocol; what is said is found out by `editor`.

mod answer;
mod client;
pub mod position;
mod publish;
mod uri;
mod watch;
mod workspace;

use super::shell::Exit;
use crate::invariant::{self, Hold};
use answer::Refusal;
use client::Client;
use lsp_server::{Connection, ErrorCode, Message, Notification, Request, RequestId, Response, ResponseError};
use serde_json::Value;
use std::io::{self, BufRead, Read, Write};
use std::thread;
pub use watch::Watch;
use workspace::Workspace;

/// Largest message taken in: rule files have a megabyte at most
const LARGEST_MESSAGE: u64 = 64 << 20;
/// Longest line taken of the head of a message
const LONGEST_LINE: u64 = 4 << 10;
/// Longest head taken
const LONGEST_HEAD: usize = 64 << 10;

/// Speak with an editor about rule files, over standard input and output
///
/// An editor starts this by itself, by the Language Server Protocol: tell it to run `pinboss lsp` for files that end
/// in `.rules`. It then shows problems while you type, tells what a word means, and finds, renames and completes names.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Taken for the sake of editors that add it; standard input and output are used anyway
    #[arg(long, hide = true)]
    stdio: bool,
}

pub(super) fn run(_args: &Args) -> io::Result<Exit> {
    let (server, editor) = Connection::memory();
    let Connection { sender, receiver } = editor;
    // This thread may wait for input when the program ends, and ends with it.
    thread::spawn(move || read(&mut io::stdin().lock(), |message| sender.send(message).is_ok()));
    let writer = thread::spawn(move || -> io::Result<()> {
        let mut out = io::stdout().lock();
        receiver.into_iter().try_for_each(|message| message.write(&mut out))?;
        out.flush()
    });
    let exit = serve(&server);
    drop(server);
    // else: a panic over there is told as one here would be
    writer.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))?;
    Ok(exit)
}

/// Takes messages in until the input ends or nobody takes them; one that is none is passed over
fn read(input: &mut impl BufRead, mut take: impl FnMut(Message) -> bool) {
    loop {
        match next(input) {
            Ok(Some(message)) => {
                if !take(message) {
                    return;
                }
            }
            Err(fault) if fault.kind() == io::ErrorKind::InvalidData => {
                drop(writeln!(io::stderr(), "pinboss lsp: a message was not understood: {fault}"));
            }
            Ok(None) | Err(_) => return,
        }
    }
}

/// The next message; none at the end of the input
fn next(input: &mut impl BufRead) -> io::Result<Option<Message>> {
    let mut head = Vec::new();
    let mut length: u64 = 0;
    loop {
        let start = head.len();
        input.by_ref().take(LONGEST_LINE).read_until(b'\n', &mut head)?;
        let line = head.get(start..).hold("a line is read behind what there was");
        if let Some(number) = content_length(line) {
            length = number;
        }
        // What is no line of a head is told by the library.
        let is_head = line.ends_with(b"\r\n") && line.contains(&b':');
        if !is_head || head.len() > LONGEST_HEAD {
            break;
        }
    }
    if length > LARGEST_MESSAGE {
        io::copy(&mut input.take(length), &mut io::sink())?;
        return Err(io::Error::new(io::ErrorKind::InvalidData, format!("{length} bytes are too many")));
    }
    Message::read(&mut head.as_slice().chain(input))
}

fn content_length(line: &[u8]) -> Option<u64> {
    let (name, number) = std::str::from_utf8(line).ok()?.split_once(':')?;
    name.eq_ignore_ascii_case("content-length").then_some(())?;
    number.trim().parse().ok()
}

/// How far a conversation has come
#[derive(Clone, Copy, PartialEq)]
enum Stage {
    /// The editor has not said who it is
    Silent,
    /// Between `initialize` and `shutdown`
    Open,
    /// After `shutdown`
    Closed,
}

/// A conversation with one editor
struct Talk<'c> {
    connection: &'c Connection,
    stage: Stage,
    client: Client,
    workspace: Workspace,
    published: publish::Published,
    watch: Watch,
}

/// Speaks with an editor until it says `exit` or is gone; done well only after it said `shutdown`
pub fn serve(connection: &Connection) -> Exit {
    serve_watched(connection, |_| {})
}

/// The same with somebody watching; what goes wrong there is a fault of the work it was told of
pub fn serve_watched(connection: &Connection, watch: Watch) -> Exit {
    let mut talk = Talk {
        connection,
        stage: Stage::Silent,
        client: Client::default(),
        workspace: Workspace::new(Vec::new(), watch),
        published: publish::Published::default(),
        watch,
    };
    let closed = loop {
        let message = match connection.receiver.try_recv() {
            Ok(message) => message,
            // With nothing more to read there is time to look the rules over, once for many changes.
            Err(_) => {
                talk.publish();
                match connection.receiver.recv() {
                    Ok(message) => message,
                    Err(_) => break talk.stage == Stage::Closed,
                }
            }
        };
        match message {
            Message::Request(request) => talk.request(request),
            Message::Notification(notification) if notification.method == "exit" => {
                break talk.stage == Stage::Closed;
            }
            Message::Notification(notification) if talk.stage == Stage::Open => talk.notice(notification),
            Message::Notification(_) | Message::Response(_) => {}
        }
    };
    if closed { Exit::Done } else { Exit::FaultyInput }
}

impl Talk<'_> {
    fn request(&mut self, request: Request) {
        let Request { id, method, params } = request;
        let answer = match (self.stage, method.as_str()) {
            (Stage::Silent, "initialize") => {
                self.stage = Stage::Open;
                self.client = Client::read(&params);
                self.workspace = Workspace::new(client::folders(&params), self.watch);
                answer::json(&client::capabilities(&self.client))
            }
            (Stage::Silent, _) => {
                Err(Refusal::new(ErrorCode::ServerNotInitialized, "the first request must be `initialize`"))
            }
            (Stage::Open, "initialize") => {
                Err(Refusal::new(ErrorCode::InvalidRequest, "`initialize` has been said before"))
            }
            (Stage::Open, "shutdown") => {
                self.stage = Stage::Closed;
                Ok(Value::Null)
            }
            (Stage::Open, method) => {
                let found = || {
                    (self.watch)(method);
                    answer::answer(method, params, &self.client, &mut self.workspace)
                };
                // else: it costs this question only
                invariant::caught(found).unwrap_or_else(|fault| Err(fault.into()))
            }
            (Stage::Closed, _) => {
                Err(Refusal::new(ErrorCode::InvalidRequest, "`shutdown` has been said before"))
            }
        };
        self.respond(id, answer);
    }

    fn respond(&self, id: RequestId, answer: Result<Value, Refusal>) {
        let response_result = answer.map_err(|refusal| ResponseError {
            code: refusal.code as i32,
            message: refusal.message,
            data: None,
        });
        self.send(Response { id, response_result }.into());
    }

    fn notice(&mut self, notification: Notification) {
        if notification.method == "initialized" && self.client.watches_files {
            self.send(client::watch_files().into());
        }
        let taken = || self.workspace.notice(&notification.method, notification.params, &self.client);
        if let Err(fault) = invariant::caught(taken) {
            self.send(client::tell(&fault).into());
        }
    }

    /// Tells what is wrong or doubtful in the sets that have changed
    fn publish(&mut self) {
        if self.stage != Stage::Open {
            return;
        }
        let news = || publish::news(&mut self.workspace, &mut self.published, &self.client);
        // else: nobody asked, so that it is told by itself
        let news = invariant::caught(news).unwrap_or_else(|fault| vec![client::tell(&fault)]);
        for notification in news {
            self.send(notification.into());
        }
    }

    /// Sends a message; an editor that is gone is told of by the other channel
    fn send(&self, message: Message) {
        drop(self.connection.sender.send(message));
    }
}
