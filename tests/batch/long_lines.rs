//! Lines at the bound of what is taken in: of one past it no more is held than shows that it is too large.

use crate::batch::bench::Bench;
use pinboss::source::LARGEST_FILE;
use serde_json::Value;

/// The digest is that of what is held, so that it tells how much of a line that was; the line behind is whole
#[test]
fn a_huge_line_is_not_held() {
    let bench = Bench::new();
    let told = |long: usize| -> Vec<Value> {
        let mut text = vec![b'x'; long];
        text.extend(b"\n{}\n");
        bench.batch(text, &[]).lines()
    };
    let [fits, past, far_past] = [LARGEST_FILE, LARGEST_FILE + 1, 5 * LARGEST_FILE].map(told);
    let code = |lines: &[Value]| lines[0]["problems"][0]["code"].as_str().unwrap().to_owned();
    assert_ne!(code(&fits), "file-too-large");
    assert_eq!([code(&past), code(&far_past)], ["file-too-large"; 2]);
    assert_ne!(fits[0]["case_digest"], past[0]["case_digest"]);
    assert_eq!(past[0]["case_digest"], far_past[0]["case_digest"]);
    for lines in [&fits, &past, &far_past] {
        assert_eq!((lines.len(), lines[1]["line"].as_u64()), (2, Some(2)));
        assert_eq!(lines[1]["case_digest"], fits[1]["case_digest"]);
    }
}
