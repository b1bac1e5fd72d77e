//! The protocol: what is told, asked and answered, and how a conversation ends.

use crate::editor::marked::{PARTS, SIGNS};
use crate::editor::talk::{Talk, address, begun, range, silent};
use lsp_server::Message;
use pinboss::command::Exit;
use rstest::rstest;
use serde_json::{Value, json};
use std::fs;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// A folder with the sound rules, and the addresses of its files
fn folder() -> (TempDir, String, String) {
    let folder = tempfile::Builder::new().prefix("rules").tempdir().unwrap();
    let path = |name: &str| -> PathBuf { folder.path().join(name) };
    fs::write(path("parts.rules"), PARTS).unwrap();
    fs::write(path("signs.rules"), SIGNS).unwrap();
    let addresses = (address(&path("parts.rules")), address(&path("signs.rules")));
    (folder, addresses.0, addresses.1)
}

/// A place in a text as an editor counts it in UTF-16: the sign of the cursor in a piece of it
fn position(text: &str, marked: &str) -> Value {
    let (before, after) = marked.split_once('‸').unwrap();
    let at = text.find(&format!("{before}{after}")).unwrap() + before.len();
    let line = text[..at].matches('\n').count();
    let start = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
    json!({ "line": line, "character": text[start..at].encode_utf16().count() })
}

fn at(uri: &str, text: &str, marked: &str) -> Value {
    json!({ "textDocument": { "uri": uri }, "position": position(text, marked) })
}

/// Problems as `range code`
fn codes(problems: &[Value]) -> Vec<String> {
    problems.iter().map(|it| format!("{} {}", range(&it["range"]), it["code"].as_str().unwrap())).collect()
}

#[test]
fn problems_are_told_as_they_come_and_go() {
    let (folder, parts, signs) = folder();
    let mut talk = begun(&json!({}), Some(folder.path()));
    let unfixed = ["19:6-19:17 cause-nothing-fixes", "23:6-23:11 cause-nothing-fixes"];
    assert_eq!(codes(&talk.problems(&parts, None)), unfixed.map(str::to_owned));
    let before = codes(&talk.problems(&signs, None));
    talk.open(&signs, SIGNS);
    assert_eq!(codes(&talk.problems(&signs, Some(1))), before);
    // 𝄞 is two units of UTF-16.
    let faulty = SIGNS
        .replace("  grades none, slight", "  grades nöne 𝄞 , slight")
        .replace("toe toed_in:", "teo toed_in:");
    talk.change(&signs, 2, &faulty);
    let told = talk.problems(&signs, Some(2));
    let codes: Vec<String> = codes(&told);
    assert!(codes.contains(&"10:12-10:15 unknown-name".to_owned()), "{codes:?}");
    let unknown = told.iter().find(|it| it["code"] == "unknown-name").unwrap();
    assert_eq!(unknown["message"], "no cause or condition is called `teo`\ndid you mean `toe`?");
    assert_eq!((&unknown["severity"], &unknown["source"]), (&json!(1), &json!("pinboss")));
    talk.change(&signs, 3, SIGNS);
    assert_eq!(self::codes(&talk.problems(&signs, Some(3))), before);
    assert_eq!(talk.ask("shutdown", Value::Null), Ok(Value::Null));
    assert_eq!(talk.exit(), Exit::Done);
}

/// A name declared in two files is told with the other place; what is open stands over what is on the disk
#[test]
fn the_other_place_of_a_problem_is_told_with_its_file() {
    let (folder, parts, signs) = folder();
    let third = folder.path().join("third.rules");
    let mut talk = begun(&json!({}), Some(folder.path()));
    talk.problems(&parts, None);
    talk.open(&address(&third), "state toe: \"x\"\n");
    let told = talk.problems(&address(&third), Some(1));
    assert_eq!(codes(&told), ["0:6-0:9 name-twice"]);
    let related = &told[0]["relatedInformation"][0];
    assert_eq!(related["location"]["uri"], signs);
    assert_eq!(range(&related["location"]["range"]), "1:10-1:13");
    assert_eq!(related["message"], "first declared here");
    // Once it is closed without having been saved, nothing is left of it.
    talk.tell("textDocument/didClose", json!({ "textDocument": { "uri": address(&third) } }));
    assert_eq!(talk.problems(&address(&third), None), Vec::<Value>::new());
    assert_eq!(talk.vanish(), Exit::FaultyInput);
}

/// A file is opened without a folder: the files beside it are its set, and its problems go when it is closed
#[test]
fn an_opened_file_brings_the_files_beside_it() {
    let (_folder, parts, signs) = folder();
    let mut talk = begun(&json!({}), None);
    talk.open(&signs, &SIGNS.replace("with    off_line:", "with    of_line:"));
    assert!(codes(&talk.problems(&signs, Some(1))).contains(&"8:12-8:19 unknown-name".to_owned()));
    assert_eq!(talk.problems(&parts, None), Vec::<Value>::new());
    let found = talk.ask("textDocument/definition", at(&signs, SIGNS, "with    ‸slope")).unwrap();
    assert_eq!((&found[0]["uri"], range(&found[0]["range"])), (&json!(parts), "23:6-23:11".to_owned()));
    talk.tell("textDocument/didClose", json!({ "textDocument": { "uri": signs } }));
    assert_eq!(talk.problems(&signs, None), Vec::<Value>::new());
    assert_eq!(talk.exit(), Exit::FaultyInput);
}

/// Changes of a file on the disk are taken up when the editor tells of them, and it is asked to
#[test]
fn changes_on_the_disk_are_taken_up() {
    let (folder, parts, signs) = folder();
    let able = json!({ "workspace": { "didChangeWatchedFiles": { "dynamicRegistration": true } } });
    let mut talk = begun(&able, Some(folder.path()));
    talk.problems(&parts, None);
    talk.ask("workspace/symbol", json!({ "query": "" })).unwrap();
    assert_eq!(talk.asked[0].method, "client/registerCapability");
    talk.problems(&signs, None);
    fs::write(folder.path().join("signs.rules"), "condition x: \"x\"\n    with y: 5%\n").unwrap();
    let changes = json!([{ "uri": signs, "type": 2 }]);
    talk.tell("workspace/didChangeWatchedFiles", json!({ "changes": changes }));
    assert!(codes(&talk.problems(&signs, None)).contains(&"1:9-1:10 unknown-name".to_owned()));
}

#[test]
fn questions_are_answered_in_the_shapes_of_the_protocol() {
    let (folder, parts, signs) = folder();
    let able = json!({ "textDocument": { "hover": { "contentFormat": ["markdown"] } } });
    let mut talk = begun(&able, Some(folder.path()));
    let told = talk.ask("textDocument/hover", at(&signs, SIGNS, "of id‸ler")).unwrap();
    assert_eq!(told["contents"]["kind"], "markdown");
    assert!(
        told["contents"]["value"].as_str().unwrap().starts_with("`idler`: Leitrad 𝄞\n\nA part"),
        "{told}"
    );
    assert_eq!(range(&told["range"]), "7:28-7:33");
    let told = talk.ask("textDocument/hover", at(&signs, SIGNS, "wi‸th    off_line:")).unwrap();
    assert!(told["contents"]["value"].as_str().unwrap().contains("```rules\nwith idler_off"), "{told}");
    let mut asked = at(&parts, PARTS, "cause off_‸line");
    asked["context"] = json!({ "includeDeclaration": true });
    let found = talk.ask("textDocument/references", asked).unwrap();
    assert_eq!(found.as_array().unwrap().len(), 4);
    let items = talk.ask("textDocument/completion", at(&signs, SIGNS, "shows   ‸edge")).unwrap();
    assert_eq!(items[0]["textEdit"]["newText"], "edge");
    assert_eq!(items[0]["detail"], "side wear – „Kante“");
    let symbols =
        talk.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": parts } })).unwrap();
    assert_eq!((&symbols[3]["name"], &symbols[3]["detail"]), (&json!("idler"), &json!("part: Leitrad 𝄞")));
    let symbols = talk.ask("workspace/symbol", json!({ "query": "kante" })).unwrap();
    assert_eq!((&symbols[0]["name"], &symbols[0]["location"]["uri"]), (&json!("edge"), &json!(signs)));
}

/// Renaming: what can be, what comes of it in both files behind wide signs, and what is refused
#[test]
fn a_name_is_changed_in_all_files() {
    let (folder, parts, signs) = folder();
    let mut talk = begun(&json!({}), Some(folder.path()));
    let here = at(&signs, SIGNS, "of id‸ler");
    let told = talk.ask("textDocument/prepareRename", here.clone()).unwrap();
    assert_eq!((range(&told["range"]), &told["placeholder"]), ("7:28-7:33".to_owned(), &json!("idler")));
    let mut asked = here.clone();
    asked["newName"] = json!("front_wheel");
    let told = talk.ask("textDocument/rename", asked).unwrap();
    let edits = |uri: &str| -> Vec<String> {
        told["changes"][uri].as_array().unwrap().iter().map(|it| range(&it["range"])).collect()
    };
    assert_eq!((edits(&parts), edits(&signs)), (vec!["5:5-5:10".to_owned()], vec!["7:28-7:33".to_owned()]));
    let mut asked = here;
    asked["newName"] = json!("roller");
    let refused = talk.ask("textDocument/rename", asked).unwrap_err();
    assert_eq!(refused, (-32803, "there is a part called `roller` already".to_owned()));
    assert_eq!(talk.ask("textDocument/prepareRename", at(&signs, SIGNS, "ran‸ge 0")), Ok(Value::Null));
}

#[rstest]
#[case(json!({ "general": { "positionEncodings": ["utf-16", "utf-8"] } }), "utf-8", 26)]
#[case(json!({ "general": { "positionEncodings": ["utf-16", "utf-32"] } }), "utf-16", 23)]
#[case(json!({}), "utf-16", 23)]
fn columns_are_counted_as_agreed(#[case] able: Value, #[case] encoding: &str, #[case] column: u32) {
    let mut talk = silent();
    let told = talk.ask("initialize", json!({ "capabilities": able })).unwrap();
    assert_eq!(told["capabilities"]["positionEncoding"], encoding);
    let uri = "untitled:one";
    talk.open(uri, "cause c: \"ä𝄞\"  kind   k\n");
    let told = talk.problems(uri, Some(1));
    let unknown = told.iter().find(|it| it["code"] == "unknown-name").unwrap();
    assert_eq!(unknown["range"]["start"]["character"], column);
}

/// A byte order mark in front of an open text is counted on its first line, and stands in no text
#[test]
fn a_byte_order_mark_is_counted_on_the_first_line() {
    let mut talk = begun(&json!({}), None);
    talk.open("untitled:one", "\u{feff}cause c: \"x\"  kind k\n    chance 5% of machines\n    kind k\n");
    let told = codes(&talk.problems("untitled:one", Some(1)));
    assert_eq!(told, ["0:20-0:21 unknown-name", "2:4-2:8 clause-twice"].map(str::to_owned));
}

/// A text is laid out the one way by one edit; one that is laid out so, or holds an error, is left alone
#[rstest]
#[case("# ä\nstate  ä:  \"x\"\n", None)]
#[case("state  a:  \"𝄞\"  text \"x\"\r\n# end", Some("0:0-1:5"))]
#[case("state a: \"𝄞\"\n", None)]
fn a_text_is_laid_out(#[case] text: &str, #[case] edited: Option<&str>) {
    let mut talk = begun(&json!({}), None);
    talk.open("untitled:one", text);
    let options = json!({ "tabSize": 4, "insertSpaces": true });
    let asked = json!({ "textDocument": { "uri": "untitled:one" }, "options": options });
    let edits = talk.ask("textDocument/formatting", asked).unwrap();
    let ranges: Vec<String> = edits.as_array().unwrap().iter().map(|it| range(&it["range"])).collect();
    assert_eq!(ranges, edited.map(str::to_owned).into_iter().collect::<Vec<_>>());
    if edited.is_some() {
        assert_eq!(edits[0]["newText"], "state a: \"𝄞\"\n    text    \"x\"\n\n# end\n");
    }
}

/// Pieces of a text put in the place of others, for editors that send no whole texts
#[test]
fn a_change_of_a_piece_is_taken_too() {
    let mut talk = begun(&json!({}), None);
    let uri = "untitled:one";
    talk.open(uri, "state ä: \"𝄞\"\n");
    let change = json!({ "range": { "start": { "line": 0, "character": 6 }, "end": { "line": 0, "character": 7 } }, "text": "a" });
    let document = json!({ "uri": uri, "version": 2 });
    talk.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": [change] }));
    assert!(talk.problems(uri, Some(2)).iter().all(|it| it["code"] != "not-understood"));
    let symbols = talk.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": uri } })).unwrap();
    assert_eq!(symbols[0]["name"], "a");
}

#[rstest]
#[case("textDocument/hover", json!({ "textDocument": { "uri": "untitled:one" }, "position": { "line": 99, "character": 0 } }), Ok(Value::Null))]
#[case("textDocument/hover", json!({ "textDocument": { "uri": "untitled:none" }, "position": { "line": 0, "character": 0 } }), Ok(Value::Null))]
#[case("textDocument/hover", json!({ "textDocument": { "uri": "no address" }, "position": { "line": 0, "character": 4294967295_u32 } }), Ok(Value::Null))]
#[case("textDocument/definition", json!({ "textDocument": { "uri": "untitled:one" }, "position": { "line": 4294967295_u32, "character": 7 } }), Ok(json!([])))]
#[case("textDocument/completion", json!({ "textDocument": { "uri": "untitled:one" }, "position": { "line": 9, "character": 7 } }), Ok(json!([])))]
#[case("textDocument/documentSymbol", json!({ "textDocument": { "uri": "file:///nowhere/a.rules" } }), Ok(json!([])))]
#[case("textDocument/hover", json!({ "position": 5 }), Err(-32602))]
#[case("textDocument/hover", Value::Null, Err(-32602))]
#[case("textDocument/foldingRange", json!({}), Err(-32601))]
#[case("$/unheard", json!([1]), Err(-32601))]
#[case("initialize", json!({}), Err(-32600))]
fn odd_questions_get_an_empty_answer_or_a_refusal(
    #[case] method: &str,
    #[case] params: Value,
    #[case] expected: Result<Value, i32>,
) {
    let mut talk = begun(&json!({}), None);
    talk.open("untitled:one", "state a: \"x\"\n");
    for odd in [
        "textDocument/didOpen",
        "textDocument/didChange",
        "$/setTrace",
        "workspace/didChangeWorkspaceFolders",
    ] {
        talk.tell(odd, json!({ "textDocument": 3 }));
    }
    talk.change("untitled:never_opened", 2, "x");
    assert_eq!(talk.ask(method, params).map_err(|refusal| refusal.0), expected);
    talk.ask("shutdown", Value::Null).unwrap();
    assert_eq!(talk.ask("textDocument/hover", json!({})).unwrap_err().0, -32600);
    assert_eq!(talk.exit(), Exit::Done);
}

#[test]
fn nothing_is_answered_before_the_beginning() {
    let mut talk: Talk = silent();
    assert_eq!(talk.ask("textDocument/hover", json!({})).unwrap_err().0, -32002);
    talk.open("untitled:one", "state a: \"x\"\n");
    assert_eq!(talk.exit(), Exit::FaultyInput);
}

/// The program itself, over its streams: what it writes is framed, what is no message is passed over, and it ends with
/// 0 only after `shutdown`
#[rstest]
#[case(&["nonsense", INITIALIZE, SHUTDOWN, EXIT], 2, 0)]
#[case(&[INITIALIZE, EXIT], 1, 1)]
#[case(&[INITIALIZE, SHUTDOWN], 2, 0)]
#[case(&[INITIALIZE], 1, 1)]
#[case(&[], 0, 1)]
fn the_program_ends_as_the_protocol_says(
    #[case] messages: &[&str],
    #[case] answers: usize,
    #[case] code: i32,
) {
    let framed = messages.iter().map(|message| format!("Content-Length: {}\r\n\r\n{message}", message.len()));
    assert_eq!(spoken(&framed.collect::<String>()), (answers, Some(code)));
}

/// How many answers the program writes to this input, which are all that it writes, and how it ends
fn spoken(text: &str) -> (usize, Option<i32>) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_pinboss"));
    let streams = program.arg("lsp").stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut running = streams.spawn().unwrap();
    let mut input = running.stdin.take().unwrap();
    // A program that ends at a word reads no further.
    drop(input.write_all(text.as_bytes()));
    drop(input);
    let output = running.wait_with_output().unwrap();
    let mut written = output.stdout.as_slice();
    let mut read = 0;
    while let Some(message) = Message::read(&mut written).unwrap() {
        assert!(matches!(message, Message::Response(_)), "{message:?}");
        read += 1;
    }
    (read, output.status.code())
}

/// What is no message is passed over, however it is none, and the next one is taken
#[test]
fn what_is_no_message_is_passed_over() {
    let framed = |text: &str| format!("Content-Length: {}\r\n\r\n{text}", text.len());
    let none = ["{\"id\":1.5}", "[1,2]", "no json", "\u{e4}"].map(framed).concat();
    let heads = "Content-Length: many\r\n\r\nContent-Length: 99999999999999\r\n\r\nand no more";
    let sound = [INITIALIZE, SHUTDOWN, EXIT].map(framed).concat();
    let (answers, code) = spoken(&format!("nonsense\r\n{none}{sound}"));
    assert_eq!((answers, code), (2, Some(0)));
    let (answers, code) = spoken(&format!("{}{none}{}{heads}", framed(INITIALIZE), framed(SHUTDOWN)));
    assert_eq!((answers, code), (2, Some(0)));
}

const INITIALIZE: &str = r#"{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}"#;
const SHUTDOWN: &str = r#"{"jsonrpc":"2.0","id":"last","method":"shutdown"}"#;
const EXIT: &str = r#"{"jsonrpc":"2.0","method":"exit"}"#;
