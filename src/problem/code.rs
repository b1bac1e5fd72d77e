//! The one table of everything the program can say about a file.
//!
//! Codes are words (`unknown-name`), not numbers: nobody has to look them up, and none can collide.

/// Whether a problem stops the work
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Severity {
    /// Nothing is computed until it is mended
    Error,
    /// Legal but doubtful
    Warning,
}

/// What a code is about
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub enum Group {
    /// Files and folders as such
    Files,
    /// How a line of a rule file is written
    Form,
    /// What a rule file names
    Names,
    /// Places, shares, units and tests
    Numbers,
    /// What only shows when all blocks are taken together
    Whole,
    /// Case files
    Cases,
}

impl Group {
    /// Every group, in the order of the table
    pub const ALL: [Group; 6] =
        [Group::Files, Group::Form, Group::Names, Group::Numbers, Group::Whole, Group::Cases];

    /// The heading its codes are listed under
    pub fn title(self) -> &'static str {
        match self {
            Group::Files => "Files",
            Group::Form => "Rule files: form",
            Group::Names => "Rule files: names",
            Group::Numbers => "Rule files: places and numbers",
            Group::Whole => "Rule files: the whole",
            Group::Cases => "Case files",
        }
    }
}

macro_rules! codes {
    ($( $group:ident { $( $code:ident $slug:literal $severity:ident $title:literal; )* } )*) => {
        /// One kind of problem
        #[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
        pub enum Code {
            $( $( #[doc = $title] $code, )* )*
        }

        impl Code {
            /// Every code, in the order of the table
            pub const ALL: &'static [Code] = &[ $( $( Code::$code, )* )* ];

            /// The name it is known by, as in `unknown-name`
            pub fn slug(self) -> &'static str {
                match self { $( $( Code::$code => $slug, )* )* }
            }

            /// Whether it stops the work
            pub fn severity(self) -> Severity {
                match self { $( $( Code::$code => Severity::$severity, )* )* }
            }

            /// What kind of fault it is, in a line
            pub fn title(self) -> &'static str {
                match self { $( $( Code::$code => $title, )* )* }
            }

            /// What it is about
            pub fn group(self) -> Group {
                match self { $( $( Code::$code => Group::$group, )* )* }
            }
        }
    };
}

impl Code {
    /// The code of a slug
    pub fn find(slug: &str) -> Option<Code> {
        Code::ALL.iter().copied().find(|code| code.slug() == slug)
    }
}

codes! {
    Files {
        FileTooLarge "file-too-large" Error "a file larger than the program takes in";
        FileNotText "file-not-text" Error "a file that is not UTF-8 text";
        FileUnreadable "file-unreadable" Error "a file or folder that cannot be read";
        NoRules "no-rules" Error "a folder without a rule file, or rule files without a rule";
    }
    Form {
        Syntax "not-understood" Error "a line that does not follow the language";
        TooDeep "too-deep" Error "an expression longer or deeper than anyone would read";
        UnclosedText "unclosed-text" Error "a text whose closing quote is missing";
        WrongClause "clause-not-here" Error "a clause that this kind of block does not take";
        RepeatedClause "clause-twice" Error "a clause given twice where one is enough";
        MissingClause "clause-missing" Error "a clause that this kind of block must have";
        NothingToMirror "nothing-to-mirror" Error "a mirrored line in which no grade has an opposite";
    }
    Names {
        UnknownName "unknown-name" Error "a name that nothing declares";
        DuplicateName "name-twice" Error "a name declared twice";
        WrongSort "wrong-sort-of-name" Error "a name of one sort where another sort belongs";
        ReservedName "reserved-name" Error "a name that is a word of the language";
        UnknownGrade "unknown-grade" Error "a grade that the block does not have";
        UnknownChoice "unknown-choice" Error "a choice that the fact does not have";
        NormalGrade "normal-grade" Error "the normal grade where only another can stand";
        BadGrades "bad-grades" Error "grades that fit none of the three shapes";
        TooMany "too-many" Error "more of something than can be told apart, or reckoned with";
    }
    Numbers {
        PlaceNeeded "place-needed" Error "a parent with more places than the block, without a word on which";
        PlaceUseless "place-not-fitting" Error "a place word that does not fit the block or its parent";
        BadShare "bad-share" Error "a share whose noun does not fit the block";
        ChanceRange "chance-off-range" Error "a chance under 0 % or over 100 %";
        EffectsOver "effects-over-100" Error "effects of one line that add up to over 100 %";
        ChoicesSum "choices-not-100" Error "choices of a fact that do not add up to 100 %";
        BadUnit "wrong-unit" Error "a unit that does not exist or does not fit";
        BadBounds "bad-bounds" Error "bounds that do not follow one another";
        BadTable "bad-table" Error "a table of dimensions that does not run one way";
        DeadLine "line-never-reached" Error "a line that an earlier one always answers before";
        GateNeverHolds "gate-never-holds" Error "a test that can never hold";
    }
    Whole {
        Loop "loop" Error "blocks that depend on one another in a ring";
        SharedReading "shared-reading" Error "more symptoms over the same readings than there are readings";
        ContactPair "contact-pair" Warning "two symptoms of parts that rub, with two parents in common and no condition between";
        CauseUnseen "cause-nothing-shows" Warning "a cause that nothing can show";
        ConditionUnseen "condition-nothing-shows" Warning "a condition that nothing can show";
        CauseUnfixed "cause-nothing-fixes" Warning "a cause that no remedy fixes";
        SymptomUnchecked "symptom-no-check-shows" Warning "a symptom that no check shows";
        HazardNoCaution "hazard-without-caution" Error "a check or a remedy with a hazard and no caution against it";
        NeverUsed "name-never-used" Warning "a name that is declared and used nowhere";
        RemedyForNothing "remedy-for-nothing" Warning "a remedy for what cannot be, or for what nobody can read";
        GateWithoutShare "gate-without-share" Warning "a test for choices that the facts never give together";
        SignSaysLittle "sign-says-little" Warning "a `with` line that is lost in what shows without any cause";
        CommonerWithout "commoner-without" Warning "a grade that shows more often with nothing wrong than by any cause";
        WorseShowsLess "worse-shows-less" Warning "a worse grade of a parent that brings less about than a milder one";
        NoBasis "no-basis" Warning "a block that does not say where it comes from";
        SharesOff "not-as-seen" Warning "a symptom that the rules show far more or far less often than is seen in practice";
    }
    Cases {
        CaseSyntax "not-yaml" Error "a case file that is not readable YAML";
        CaseShape "case-shape" Error "a value of the wrong sort in a case file";
        CaseUnknownKey "unknown-key" Error "a key that a case file does not have";
        CaseDuplicateKey "key-twice" Error "a key given twice";
        CaseMissing "key-missing" Error "something a case must say";
        CaseValue "bad-value" Error "a value that cannot be";
        CaseUnknownPlace "unknown-place" Error "a place that the machine does not have";
        CaseUnknownName "unknown-name-in-case" Error "a name that the rules do not have";
        CaseUnit "wrong-unit-in-case" Error "a quantity without a unit, or with one that does not fit";
        CaseRange "reading-out-of-range" Error "a reading outside what the measure can be";
        CaseHours "hours-backwards" Error "hours that run backwards";
        CaseTwice "said-twice" Error "the same thing said twice";
        CaseGatedOff "not-on-this-machine" Error "something that this machine's facts rule out";
        CaseImpossible "cannot-be-together" Error "findings that cannot occur together";
        CaseTooWide "too-entangled" Error "findings too entangled to be weighed exactly";
        PhotoUnusable "picture-unusable" Error "a picture that a report cannot show";
    }
}
