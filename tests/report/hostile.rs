//! Text of a case that would be markup if it could.

use super::bench::{Desk, drawings};

/// A case whose every free text is `text`, in YAML's own quotes
fn case_of(text: &str) -> String {
    let quoted = serde_json::to_string(text).unwrap();
    format!(
        "case: {quoted}\nin_question: [flange_worn left]\nmachine: {{tag: {quoted}, hours: 2000, size: medium, facts: {{rollers: 7}}}}\n\
         visit: {{by: {quoted}, place: {quoted}}}\n\
         seen:\n  left:\n    looked: [sight_idler]\n    found: {{flange_worn: inboard}}\n\
         \x20   read: {{link_height: 107 mm, bushing_rev: {{value: 60 mm, void: {quoted}}}}}\n\
         \x20   not_possible: {{hub_oil: {quoted}}}\n"
    )
}

/// Markup of a page with its text taken out: tags alone, in order
fn tags(page: &str) -> Vec<String> {
    let body = page.split("</style>").nth(1).unwrap();
    body.split('<').skip(1).map(|rest| rest.split('>').next().unwrap().to_owned()).collect()
}

/// Each would be markup, an address, a template or an end of what it stands in, if it could
const TEXTS: [&str; 8] = [
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "' onmouseover='alert(1)",
    "</title></style></svg><script>alert(1)</script>",
    "javascript:alert(1)",
    "<!-- --><![CDATA[ ]]>",
    "{{ 7 * 7 }}{% raw %}&lt;b&gt;&#60;",
    "http://nowhere.example/",
];

#[test]
fn it_stays_text() {
    let plain = Desk::with(&case_of("plain")).report();
    let page = Desk::with(&case_of(&TEXTS.join(" "))).report();
    assert_eq!(tags(&page), tags(&plain), "the markup is that of a harmless case");
    for text in TEXTS {
        assert!(page.contains(&escaped(text)), "{text} is there to be read");
    }
}

/// What a browser takes for text that reads so
fn escaped(text: &str) -> String {
    let marks = [("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ("\"", "&quot;"), ("'", "&#39;")];
    marks.iter().fold(text.to_owned(), |text, (mark, safe)| text.replace(mark, safe))
}

#[test]
fn marks_that_turn_the_direction_of_text_are_shown_and_drawings_are_whole() {
    let page = Desk::with(&case_of("worn \u{202e}%02 ylno\u{202c} \u{2066}x\u{2069} ]]></desc><g>")).report();
    assert!(page.contains("worn \u{fffd}%02 ylno\u{fffd}"));
    for mark in ('\u{202a}'..='\u{202e}').chain('\u{2066}'..='\u{2069}') {
        assert!(!page.contains(mark), "{mark:?}");
    }
    for drawing in drawings(&page, "track") {
        let drawing = format!("<svg class=\"track\"{}", drawing.split("</svg>").next().unwrap());
        assert!(roxmltree::Document::parse(&format!("{drawing}</svg>")).is_ok(), "{drawing}");
    }
}
