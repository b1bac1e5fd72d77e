//! Tests for choices of facts that never come together by the shares the facts give them.

use crate::check::names::Names;
use crate::check::situation::{situations, tests_of_shares};
use crate::check::written::{Written, gates, lists};
use crate::model::Model;
use crate::problem::code::Code;
use crate::problem::{Problem, Problems};

/// Says which gates and tests hold only where the facts leave no share
pub(super) fn check(model: &Model, names: &Names<'_>, problems: &mut Problems) {
    for gate in gates(model, names) {
        tell(model, &gate, problems);
    }
    for line in lists(model, names).iter().flatten() {
        // What its gate leaves without a share is told there.
        if !line.test.always() && has_share(model, &Written { test: line.gate, ..*line }) {
            tell(model, line, problems);
        }
    }
}

fn tell(model: &Model, written: &Written<'_>, problems: &mut Problems) {
    if !has_share(model, written) {
        problems.push(
            Problem::new(
                Code::GateWithoutShare,
                written.at,
                "the facts give no share to any machine that passes this test",
            )
            .help(
                "look at the `choices` lines of these facts: what they give 0 % together is asked for here",
            ),
        );
    }
}

/// Whether some situation with a share passes a test within its gate; taken as so where there are too many
fn has_share(model: &Model, written: &Written<'_>) -> bool {
    let own = [written.test, written.gate];
    let tests = tests_of_shares(model, &own);
    let Some(situations) = situations(model, tests.into_iter().chain(own)) else {
        return true;
    };
    situations.iter().any(|it| own.iter().all(|test| it.holds(test)) && it.has_share(model))
}
