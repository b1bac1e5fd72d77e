//! Clauses of parts: what rubs on them, and how they are drawn.

use super::After::{Keyword, Later, Word};
use super::Next::{Fixed, Names, Words};
use super::{ClauseWord, Sort, Use, often, once};
use crate::syntax::grammar::Rule;

/// What a part can be in the picture of a side
const DRAWN_AS: [&str; 7] =
    ["front wheel", "rear wheel", "drive wheel", "raised wheel", "hub", "bottom row", "top row"];

pub(super) const CLAUSES: &[ClauseWord] = &[
    ClauseWord {
        word: "rubs",
        rule: Rule::rubs,
        blocks: &[once(Sort::Part)],
        follow: &[(Keyword, Names(&[Sort::Part]))],
        says: "Names the part that this one wears against. The two make a contact pair.",
        example: "rubs chain",
        section: None,
        uses: &[Use {
            written: "`rubs PART`",
            of: &[],
            means: "wears against that part",
            without: "rubs nothing",
        }],
    },
    ClauseWord {
        word: "drawn",
        rule: Rule::drawn,
        blocks: &[often(Sort::Part)],
        follow: &[
            (Keyword, Words(&["as", "along"])),
            (Word("as"), Fixed(&DRAWN_AS)),
            (Word("along"), Fixed(&["frame", "top run"])),
            (Later, Words(&["where"])),
        ],
        says: "Says where the part stands in the picture of a side: as a wheel at its front or rear, as the driven one, low or raised above the frame, as its hub, as a row of small wheels at the bottom or the top; or along the frame or the top run, so far from the front. The first line that holds counts.",
        example: "drawn as raised wheel where layout is elevated",
        section: Some("Places"),
        uses: &[
            Use {
                written: "`drawn as front wheel where TEST` (or `rear wheel`, `drive wheel`, `raised wheel`, `hub`)",
                of: &[],
                means: "which wheel of the picture it is; several lines, first that holds",
                without: "its number stands in the middle of the frame",
            },
            Use {
                written: "`drawn as top row of 2` (or `bottom row`)",
                of: &[],
                means: "a row of small wheels; of a numbered part as many as the case tells",
                without: "as above",
            },
            Use {
                written: "`drawn along frame 20%` (or `top run`)",
                of: &[],
                means: "where its number stands, from the front",
                without: "as above",
            },
        ],
    },
];
