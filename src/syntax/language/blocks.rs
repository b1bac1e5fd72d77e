//! The words that declare a block.

use super::ROW;

/// What the keyword of a declaration says it is
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Sort {
    /// What the words of frequency mean
    Scale,
    /// A kind of cause
    Kind,
    /// A state the machine can be in
    State,
    /// A part of the machine
    Part,
    /// A fact of the machine that changes which rules apply
    Fact,
    /// What went wrong at the root
    Cause,
    /// A hidden state between cause and symptom
    Condition,
    /// What can be seen, heard, felt or reckoned
    Symptom,
    /// A dimension read with an instrument, or reckoned from others
    Measure,
    /// New and worn sizes of one size class
    Dimensions,
    /// Hours to 100 % of one size class
    Life,
    /// A procedure that shows symptoms or takes measures
    Check,
    /// What is done about a cause, a condition or a worn part
    Remedy,
}

/// The word that declares a sort of block
#[derive(Clone, Copy, Debug)]
pub struct BlockWord {
    /// The word
    pub word: &'static str,
    /// A block of the sort, as it is spoken of
    pub spoken: &'static str,
    /// Clauses of which it must have one, group by group
    pub must: &'static [&'static [&'static str]],
    /// What it says, in a sentence or two
    pub says: &'static str,
    /// It in use
    pub example: &'static str,
    /// How it is written in the handbook's list
    pub written: &'static str,
    /// What it means there
    pub means: &'static str,
}

impl Sort {
    /// Every sort, in the order of the language's description
    pub const ALL: [Sort; 13] = [
        Sort::Scale,
        Sort::Kind,
        Sort::State,
        Sort::Part,
        Sort::Fact,
        Sort::Cause,
        Sort::Condition,
        Sort::Symptom,
        Sort::Measure,
        Sort::Dimensions,
        Sort::Life,
        Sort::Check,
        Sort::Remedy,
    ];

    /// Whether its blocks say where they come from
    pub fn has_basis(self) -> bool {
        super::taken(self).any(|(clause, _)| clause.word == "basis")
    }

    /// The keyword
    pub fn word(self) -> &'static str {
        self.block().word
    }

    /// The sort that a keyword declares
    pub fn of(word: &str) -> Option<Sort> {
        Sort::ALL.into_iter().find(|sort| sort.word() == word)
    }

    /// The keyword with all that is said of it
    pub fn block(self) -> &'static BlockWord {
        match self {
            Sort::Scale => &SCALE,
            Sort::Kind => &KIND,
            Sort::State => &STATE,
            Sort::Part => &PART,
            Sort::Fact => &FACT,
            Sort::Cause => &CAUSE,
            Sort::Condition => &CONDITION,
            Sort::Symptom => &SYMPTOM,
            Sort::Measure => &MEASURE,
            Sort::Dimensions => &DIMENSIONS,
            Sort::Life => &LIFE,
            Sort::Check => &CHECK,
            Sort::Remedy => &REMEDY,
        }
    }
}

const SCALE: BlockWord = BlockWord {
    word: "scale",
    spoken: "the scale",
    must: &[&[ROW]],
    says: "Says what the words of frequency mean, in per cent. There is one scale for all files.",
    example: "scale\n    always 98%   often 60%",
    written: "scale",
    means: "words of frequency, one row each: `often 60%`; without it only per cents",
};

const KIND: BlockWord = BlockWord {
    word: "kind",
    spoken: "a kind",
    must: &[],
    says: "Declares a kind of cause, and the party it counts against: operator, owner, fitter, maker, site or nobody.",
    example: "kind upkeep: \"upkeep put off\" counts against owner",
    written: "kind NAME: \"…\" counts against WHO",
    means: "a sort of cause; WHO is operator, owner, fitter, maker, site or nobody",
};

const STATE: BlockWord = BlockWord {
    word: "state",
    spoken: "a state",
    must: &[],
    says: "Declares a state the machine can be in when it is looked at. Their order is the one that cannot be gone back.",
    example: "state cleaned: \"scraped and dry\"",
    written: "state NAME: \"…\"",
    means: "how the machine can be on arrival or be made; declared in the order in which they pass away",
};

const PART: BlockWord = BlockWord {
    word: "part",
    spoken: "a part",
    must: &[],
    says: "Declares a part of the machine: one of it, one for each side, or several numbered along each side.",
    example: "part roller, each side, numbered 5 to 9: \"bottom roller\"",
    written: "part NAME, each side, numbered 5 to 9: \"…\"",
    means: "a place on the machine; `numbered` alone allows any number up to 99; a case tells how many a side has, as a fact with an s behind the name: `rollers: 7`",
};

const FACT: BlockWord = BlockWord {
    word: "fact",
    spoken: "a fact",
    must: &[&["choices"]],
    says: "Declares something that is so about this machine and changes which rules hold. It is no fault.",
    example: "fact chain_type: \"kind of track chain\"\n    choices sealed 80%, dry 20%",
    written: "fact NAME, each side: \"…\"",
    means: "what is so and changes which rules apply",
};

const CAUSE: BlockWord = BlockWord {
    word: "cause",
    spoken: "a cause",
    must: &[&["kind"], &["chance"]],
    says: "Declares what can go wrong at the root. It has a kind and a chance of being there before anything is seen.",
    example: "cause yoke_bent, each side: \"idler yoke bent\"\n    kind    damage\n    chance  0.4% of sides",
    written: "cause NAME, PLACE: \"…\"",
    means: "what went wrong at the root",
};

const CONDITION: BlockWord = BlockWord {
    word: "condition",
    spoken: "a condition",
    must: &[&["with", "without"]],
    says: "Declares a hidden state between causes and symptoms. It cannot be seen itself, only by what it brings about.",
    example: "condition joints_dry, each side: \"joints without oil\"\n    with    seals_gone: often\n    without 3%",
    written: "condition NAME, PLACE, of PART: \"…\"",
    means: "a hidden state between cause and symptom",
};

const SYMPTOM: BlockWord = BlockWord {
    word: "symptom",
    spoken: "a symptom",
    must: &[&["with", "without"]],
    says: "Declares what can be seen, heard, felt or reckoned from readings, in grades, the normal one among them.",
    example: "symptom oil_streak, each roller: \"oil run down the roller's end\"\n    with    seal_failed: always\n    without 1%",
    written: "symptom NAME, PLACE, of PART: \"…\"",
    means: "what is seen, heard, felt, or graded from a reading",
};

const MEASURE: BlockWord = BlockWord {
    word: "measure",
    spoken: "a measure",
    must: &[&["unit", "is"], &["range"], &["error"]],
    says: "Declares a dimension that is read with an instrument, or reckoned from other measures.",
    example: "measure link_height, each side, of chain: \"link height\"\n    unit mm   range 60 to 160   error 0.5",
    written: "measure NAME, PLACE, of PART: \"…\"",
    means: "what is read with an instrument, or reckoned",
};

const DIMENSIONS: BlockWord = BlockWord {
    word: "dimensions",
    spoken: "`dimensions`",
    must: &[&[ROW]],
    says: "Gives, for one size class, the sizes of measures with the per cent worn that each means.",
    example: "dimensions medium: \"20 t class; invented figures\"\n    link_height 114 mm 0%, 103 mm 100%",
    written: "dimensions SIZE: \"…\"",
    means: "new and worn sizes of one size class",
};

const LIFE: BlockWord = BlockWord {
    word: "life",
    spoken: "`life`",
    must: &[&[ROW]],
    says: "Gives, for one size class, the hours in which measures go from new to 100 % worn.",
    example: "life medium: \"mixed dozing; invented figures\"\n    link_height 5000 h",
    written: "life SIZE: \"…\"",
    means: "hours to 100 % in one size class",
};

const CHECK: BlockWord = BlockWord {
    word: "check",
    spoken: "a check",
    must: &[&["shows", "reads", "makes"], &["takes"]],
    says: "Declares a procedure that shows symptoms or takes measures, or brings the machine into a state.",
    example: "check sight_idler, each side: \"Sight along the idler\"\n    shows   flange_worn\n    takes   2 min",
    written: "check NAME, PLACE: \"…\"",
    means: "what somebody does to see or read",
};

const REMEDY: BlockWord = BlockWord {
    word: "remedy",
    spoken: "a remedy",
    must: &[&["fixes", "mends", "renews"]],
    says: "Declares what is done about a cause, a condition or a worn part.",
    example: "remedy move_shims, each side: \"Move the shims\"\n    fixes   idler_off\n    takes   3 h",
    written: "remedy NAME, PLACE: \"…\"",
    means: "what is done about it",
};
