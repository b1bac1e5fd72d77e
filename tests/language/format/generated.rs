//! Rule files made at random, in any layout: laying out twice is laying out once, and nothing is lost.

use pinboss::source::Sources;
use pinboss::syntax::{self, tree::File};
use proptest::prelude::*;
use proptest::strategy::Union;

fn name() -> impl Strategy<Value = String> {
    "x[a-z0-9_]{0,6}"
}

fn grade() -> impl Strategy<Value = String> {
    "g[a-z0-9_]{0,4}"
}

/// A grade with an opposite
fn mirrored() -> impl Strategy<Value = &'static str> {
    prop::sample::select(&["gin", "gout"][..])
}

fn text() -> impl Strategy<Value = String> {
    "\"[ !#-~äß°–]{0,20}\""
}

fn number() -> impl Strategy<Value = String> {
    "(0|[1-9][0-9]{0,3})(\\.[0-9]{1,3})?"
}

fn percent() -> impl Strategy<Value = String> {
    number().prop_map(|number| format!("{number} %"))
}

fn quantity() -> impl Strategy<Value = String> {
    (prop::option::of(Just("-")), number(), prop_oneof![Just(""), Just(" mm"), Just("h"), Just(" %")])
        .prop_map(|(sign, number, unit)| format!("{}{number}{unit}", sign.unwrap_or("")))
}

fn frequency() -> impl Strategy<Value = String> {
    prop_oneof![percent(), name()]
}

/// One to three of something with a word between them
fn list(one: impl Strategy<Value = String> + 'static, between: &'static str) -> BoxedStrategy<String> {
    prop::collection::vec(one, 1..4).prop_map(move |all| all.join(between)).boxed()
}

fn term() -> impl Strategy<Value = String> {
    let value =
        prop_oneof!["[a-z0-9]{1,2}_[a-z0-9]{0,3}", Just("in front half".to_owned()), Just("last".to_owned())];
    prop_oneof![
        (name(), prop_oneof![Just("is"), Just("are not"), Just("is not")], list(value, " or "))
            .prop_map(|(subject, relation, values)| format!("{subject} {relation} {values}")),
        (name(), prop_oneof![Just("over"), Just("under")], quantity())
            .prop_map(|(subject, relation, bound)| format!("{subject} {relation} {bound}")),
    ]
}

fn line_where() -> impl Strategy<Value = String> {
    prop_oneof![
        2 => Just(String::new()),
        1 => list(term(), " and ").prop_map(|test| format!(" where {test}")),
        1 => list(term(), " and ").prop_map(|test| format!(" only where {test}")),
    ]
}

fn sum() -> impl Strategy<Value = String> {
    let leaf = prop_oneof![
        name(),
        quantity(),
        name().prop_map(|name| format!("worn {name}")),
        name().prop_map(|name| format!("hours of {name} since turned")),
    ];
    leaf.prop_recursive(3, 8, 2, |inner| {
        prop_oneof![
            (inner.clone(), prop_oneof!["[-+*/]"], inner.clone())
                .prop_map(|(left, sign, right)| format!("{left} {sign} {right}")),
            inner.clone().prop_map(|inner| format!("( {inner} )")),
            inner.clone().prop_map(|inner| format!("half of ( {inner} )")),
            inner.prop_map(|inner| format!("mean of ( {inner} ) across front half of rollers")),
        ]
    })
}

fn parent() -> impl Strategy<Value = String> {
    let reach =
        prop_oneof![Just(""), Just(" on either side"), Just(" toward the other side"), Just(" on any xr")];
    (name(), prop::option::of(grade()), reach)
        .prop_map(|(name, grade, reach)| format!("{name} {}{reach}", grade.unwrap_or_default()))
}

/// A clause, with the sentence that may follow it
fn clause() -> BoxedStrategy<String> {
    let effects =
        || list((frequency(), grade()).prop_map(|(share, grade)| format!("{share} {grade}")), " , ");
    let all: Vec<BoxedStrategy<String>> = vec![
        (list(parent(), " and "), effects(), prop_oneof![Just(""), Just("  slowly")], line_where())
            .prop_map(|(parents, effects, slowly, test)| format!("with {parents} : {effects}{slowly}{test}"))
            .boxed(),
        (effects(), line_where()).prop_map(|(effects, test)| format!("without {effects}{test}")).boxed(),
        (frequency(), line_where())
            .prop_map(|(share, test)| format!("chance {share} of sides , toward one side{test}"))
            .boxed(),
        (
            list(("[a-z0-9]{1,3}_", percent()).prop_map(|(word, share)| format!("{word} {share}")), " , "),
            line_where(),
        )
            .prop_map(|(choices, test)| format!("choices {choices}{test}"))
            .boxed(),
        prop::collection::vec((grade(), "[,|<>]"), 1..4)
            .prop_map(|all| {
                let pairs: Vec<String> = all.iter().map(|(grade, sign)| format!("{grade} {sign}")).collect();
                format!("grades {} glast", pairs.join(" "))
            })
            .boxed(),
        list(term(), " and ").prop_map(|test| format!("only where {test}")).boxed(),
        (sum(), grade(), quantity())
            .prop_map(|(sum, grade, bound)| format!("from {sum} : {grade} , gother under {bound}"))
            .boxed(),
        sum().prop_map(|sum| format!("is {sum}")).boxed(),
        (grade(), number())
            .prop_map(|(grade, number)| {
                format!("counts {grade} {number} , gother over 5 % of things or  others")
            })
            .boxed(),
        list(name(), " , ").prop_map(|names| format!("shows {names}")).boxed(),
        list(text(), " , ").prop_map(|texts| format!("needs {texts}")).boxed(),
        (text(), number()).prop_map(|(text, number)| format!("left {text} loses {number}")).boxed(),
        (name(), percent()).prop_map(|(name, share)| format!("renews {name} from {share}")).boxed(),
        (name(), percent(), percent())
            .prop_map(|(name, from, to)| format!("renews {name} from {from} to {to}"))
            .boxed(),
        list(name(), " , ").prop_map(|names| format!("spares {names}")).boxed(),
        (name(), percent(), percent(), line_where())
            .prop_map(|(name, share, again, test)| format!("lasts {name} {share} of {again}{test}"))
            .boxed(),
        text().prop_map(|text| format!("tell {text}")).boxed(),
        quantity().prop_map(|quantity| format!("takes {quantity}")).boxed(),
        Just("unit mm".to_owned()).boxed(),
        (number(), number()).prop_map(|(low, high)| format!("range -{low} to {high}")).boxed(),
        number().prop_map(|number| format!("error {number}")).boxed(),
        name().prop_map(|name| format!("rubs {name}")).boxed(),
        (percent(), line_where())
            .prop_map(|(share, test)| format!("drawn along  frame {share}{}", test.replace("only ", "")))
            .boxed(),
        Just("drawn as  top row of 2".to_owned()).boxed(),
        name().prop_map(|name| format!("gives way to {name}")).boxed(),
        percent().prop_map(|share| format!("shared {share}")).boxed(),
        percent().prop_map(|share| format!("recent  {share}")).boxed(),
        Just("finds out".to_owned()).boxed(),
        Just("on site".to_owned()).boxed(),
        prop_oneof![Just("sets right".to_owned()), Just("sets right  last".to_owned())].boxed(),
        number().prop_map(|number| format!("spans {number} links  between pins")).boxed(),
        Just("anew since turned".to_owned()).boxed(),
        prop_oneof![
            Just("basis common practice".to_owned()),
            text().prop_map(|text| format!("basis {text}"))
        ]
        .boxed(),
        (name(), mirrored(), frequency(), mirrored())
            .prop_map(|(parent, form, share, grade)| format!("mirror {parent} {form} : {share} {grade}"))
            .boxed(),
    ];
    Union::new(all).boxed()
}

fn row() -> impl Strategy<Value = String> {
    (
        name(),
        list((quantity(), percent()).prop_map(|(size, worn)| format!("{size} {worn}")), " , "),
        line_where(),
    )
        .prop_map(|(name, points, test)| {
            format!("{name} {points} , after that 2 times as fast tolerance 1 mm{test}")
        })
}

/// A head with its clauses
fn block() -> BoxedStrategy<(String, Vec<String>)> {
    let sorts =
        || prop::sample::select(&["part", "fact", "cause", "symptom", "measure", "check", "remedy"][..]);
    let place = prop_oneof![
        Just(""),
        Just(" , each side"),
        Just(" , each roller , of xp"),
        Just(" , numbered 5 to 9")
    ];
    let named = (sorts(), name(), place, text(), prop::collection::vec(clause(), 0..6))
        .prop_map(|(sort, name, place, label, clauses)| (format!("{sort} {name}{place} : {label}"), clauses));
    let twins = (name(), mirrored(), frequency()).prop_map(|(parent, grade, share)| {
        let other = if grade == "gin" { "gout" } else { "gin" };
        let line = |grade: &str| format!("with {parent} {grade} : {share} {grade}");
        let clauses = vec![line(grade), format!("\"{grade}.\""), line(other), format!("\"{other}.\"")];
        ("condition xm : \"x\"".to_owned(), clauses)
    });
    let based = (name(), prop::sample::select(&["estimate", "common practice"][..]))
        .prop_map(|(name, basis)| (format!("cause {name} : \"x\""), vec![format!("basis {basis}")]));
    let classes = (name(), prop::sample::select(&["1", "1.5", "0.9"][..])).prop_map(|(name, times)| {
        (format!("life {name} : \"x\""), vec![format!("as xlife times {times} , to the nearest 50h")])
    });
    let sentence = (name(), effects_line(), text())
        .prop_map(|(name, line, text)| (format!("symptom {name} : \"x\""), vec![line, text]));
    let table =
        (prop_oneof![Just("dimensions"), Just("life")], name(), text(), prop::collection::vec(row(), 1..4))
            .prop_map(|(sort, name, label, rows)| (format!("{sort} {name} : {label}"), rows));
    let scale =
        prop::collection::vec((name(), percent()).prop_map(|(word, share)| format!("{word} {share}")), 1..4)
            .prop_map(|words| ("scale".to_owned(), words));
    let kind = (name(), text())
        .prop_map(|(name, label)| (format!("kind {name} : {label} counts against xo"), vec![]));
    prop_oneof![4 => named, 2 => sentence, 2 => twins, 4 => based, 1 => classes, 1 => table, 1 => scale, 1 => kind].boxed()
}

fn effects_line() -> impl Strategy<Value = String> {
    (name(), frequency()).prop_map(|(parent, share)| format!("with {parent} : {share}"))
}

/// How the author pressed his keys: for each space how wide, for each line end what stands there
struct Hand<'a> {
    presses: std::iter::Cycle<std::slice::Iter<'a, u8>>,
    comments: Vec<String>,
}

impl Hand<'_> {
    fn press(&mut self) -> u8 {
        *self.presses.next().unwrap()
    }

    /// The same words with other blanks between them
    fn blanks(&mut self, words: &str) -> String {
        let mut out = String::new();
        let mut quoted = false;
        for sign in words.chars() {
            quoted ^= sign == '"';
            match sign {
                ' ' if !quoted => out.push_str([" ", "  ", "\t", "    "][usize::from(self.press() % 4)]),
                _ => out.push(sign),
            }
        }
        out
    }

    fn comment(&mut self) -> String {
        let comment = format!("#{} \"{}", self.comments.len(), self.press());
        self.comments.push(comment.clone());
        comment
    }

    /// The end of a line, and what may stand between it and the next
    fn line_end(&mut self) -> String {
        match self.press() % 8 {
            0 => format!(" {}\n", self.comment()),
            1 => format!("\n\n   {}\n", self.comment()),
            2 => format!("\n{}\n\n", self.comment()),
            3 => "\r\n".to_owned(),
            4 => "\n\n\n".to_owned(),
            _ => " \n".to_owned(),
        }
    }

    fn write(&mut self, blocks: &[(String, Vec<String>)]) -> String {
        let mut out = String::new();
        out.push_str("opposites \"gin\" and \"gout\"\n");
        for (head, clauses) in blocks {
            out.push_str(&self.blanks(head));
            for clause in clauses {
                // Behind a line these could be taken for the end of it.
                let alone =
                    ['"', 'x'].iter().any(|sign| clause.starts_with(*sign)) || clause.starts_with("left");
                if alone || !self.press().is_multiple_of(3) {
                    out.push_str(&self.line_end());
                    out.push_str([" ", "\t", "      "][usize::from(self.press() % 3)]);
                } else {
                    out.push_str("  ");
                }
                out.push_str(&self.blanks(clause));
            }
            out.push_str(&self.line_end());
        }
        out
    }
}

fn read(text: &str) -> (File, Vec<String>) {
    let mut sources = Sources::default();
    let id = sources.add("a.rules", text);
    let (file, problems) = syntax::parse(&sources, id);
    (file, problems.sorted().iter().map(|problem| problem.message.clone()).collect())
}

/// What a text means with nothing said in short
fn whole(text: &str) -> Vec<File> {
    syntax::short::written_out(&[read(text).0]).0
}

/// The comments of a text, found without the formatter
fn comments(text: &str) -> Vec<String> {
    let comment = |line: &str| {
        line.match_indices('#').find_map(|(at, _)| {
            line[..at].matches('"').count().is_multiple_of(2).then(|| line[at..].trim_end().to_owned())
        })
    };
    text.lines().filter_map(comment).collect()
}

proptest! {
    #[test]
    fn nothing_is_lost_and_twice_is_once(
        blocks in prop::collection::vec(block(), 0..5),
        presses in prop::collection::vec(any::<u8>(), 40..200),
    ) {
        let mut hand = Hand { presses: presses.iter().cycle(), comments: Vec::new() };
        let text = hand.write(&blocks);
        let (tree, said) = read(&text);
        prop_assert_eq!(&said, &Vec::<String>::new(), "{}", text);
        prop_assert_eq!(tree.declarations.len(), blocks.len(), "{}", text);
        let laid_out = super::format(&text).unwrap_or_else(|said| panic!("{said:?}\n{text}"));
        prop_assert_eq!(whole(&laid_out), whole(&text), "{}\n{}", text, laid_out);
        prop_assert_eq!(comments(&laid_out), hand.comments);
        prop_assert_eq!(&super::format(&laid_out).unwrap(), &laid_out);
        if let Ok(long) = super::long(&laid_out) {
            prop_assert_eq!(whole(&long), whole(&text), "{}\n{}", laid_out, long);
        }
    }

    /// Whatever is typed, the layout keeps the tree and is its own layout, or the file is refused
    #[test]
    fn any_text_is_laid_out_or_refused(text in "(#|\"|[a-z]{1,4}|cause|with|:|,| |\n|\r|\t|5|-|%|\\.|where|is|\u{b0}){0,60}") {
        if let Ok(laid_out) = super::format(&text) {
            prop_assert_eq!(super::format(&laid_out).unwrap(), laid_out);
        }
    }
}
