//! Texts as they are taken in, whatever is in them, and the places in them.

use pinboss::source::{LARGEST_FILE, Sources, Span, Unreadable};

#[test]
fn a_byte_order_mark_is_dropped_and_columns_count_characters() {
    let mut sources = Sources::default();
    let id = sources.add("a.rules", "\u{feff}one\nzwölf drei\n");
    let start = sources.text(id).find("drei").unwrap();
    let place = sources.place(Span { source: id, start, end: start + 4 });
    assert_eq!((place.line, place.column), (2, 7));
}

#[test]
fn bytes_that_are_no_text_say_where() {
    let mut sources = Sources::default();
    let (id, fault) = sources.add_bytes("b", vec![b'a', 0xff]).unwrap_err();
    assert_eq!(fault, Unreadable::NotText { byte: 1 });
    assert_eq!(sources.text(id), "");
    assert!(sources.add_bytes("c", vec![0; LARGEST_FILE + 1]).is_err());
}
