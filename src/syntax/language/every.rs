//! Clauses that nearly every block takes.

use super::After::{Keyword, Word};
use super::Next::Words;
use super::{ClauseWord, Use, once_each};
use crate::syntax::grammar::Rule;

pub(super) const CLAUSES: &[ClauseWord] = &[
    ClauseWord {
        word: "only where",
        rule: Rule::only_where,
        blocks: &once_each![Part, Fact, Cause, Condition, Symptom, Measure, Check, Remedy],
        follow: &[(Keyword, Words(&["where"]))],
        says: "`only where` says when the block exists at all. Where the test fails a cause is absent and a symptom normal. In a remedy it can also ask for a symptom: `bushing_cracked is none`.",
        example: "only where chain_type is sealed",
        section: Some("Facts, gates and tests"),
        uses: &[Use {
            written: "`only where TEST`",
            of: &[],
            means: "exists only there",
            without: "exists everywhere",
        }],
    },
    ClauseWord {
        word: "basis",
        rule: Rule::basis,
        blocks: &once_each![Dimensions, Life, Fact, Cause, Condition, Symptom, Measure, Check, Remedy],
        follow: &[(Keyword, Words(&["common practice", "estimate"])), (Word("common"), Words(&["practice"]))],
        says: "Says where the block comes from: `common practice`, an `estimate`, or the title of a published source. At the top of a file it is for all blocks that do not say so themselves.",
        example: "basis common practice",
        section: Some("Basis and text"),
        uses: &[Use {
            written: "`basis common practice`, `basis estimate`, `basis \"source\"`",
            of: &[],
            means: "where it comes from",
            without: "that of its file; else a warning in causes, conditions, symptoms",
        }],
    },
    ClauseWord {
        word: "text",
        rule: Rule::explanation,
        blocks: &once_each![
            Dimensions, Life, Kind, State, Part, Fact, Cause, Condition, Symptom, Measure, Check, Remedy
        ],
        follow: &[],
        says: "Says in a sentence or two what the thing is, or how it is done.",
        example: "text \"The yoke holds the idler in the frame.\"",
        section: Some("Basis and text"),
        uses: &[Use {
            written: "`text \"…\"`",
            of: &[],
            means: "what it is, how it is done",
            without: "nothing is said",
        }],
    },
];
