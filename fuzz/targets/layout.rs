//! Any text as a rule file: laid out without a change of meaning and once for all, or left alone for its mistakes.
#![no_main]

use libfuzzer_sys::fuzz_target;
use pinboss::source::Sources;
use pinboss::syntax;

fuzz_target!(|text: &str| {
    let mut sources = Sources::default();
    let id = sources.add("a.rules", text);
    let (file, problems) = syntax::parse(&sources, id);
    let whole = |file| syntax::short::written_out(&[file]).0;
    match syntax::format::format(&sources, id, &[]) {
        Ok(laid_out) => {
            let again = sources.add("b.rules", laid_out.as_str());
            assert_eq!(whole(syntax::parse(&sources, again).0), whole(file));
            assert!(syntax::format::format(&sources, again, &[]).is_ok_and(|twice| twice == laid_out));
        }
        Err(_) => assert!(problems.any_error(), "what reads without a mistake can be laid out"),
    }
});
