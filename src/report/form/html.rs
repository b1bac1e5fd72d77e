//! A document as one HTML file that stands by itself: nothing is fetched, nothing runs.
//!
//! Scripts are shut out twice: values are escaped, and the page's own policy allows none. Marks that turn the direction of text
//! become the replacement character, in pages and in drawings.

mod wear;

pub use wear::wear;

use super::nest::{Section, sections};
use crate::report::draw::picture::{INK, escaped};
use crate::report::draw::{field, opinion, track};
use crate::report::extent::FULL;
use crate::report::prose::Prose;
use crate::report::record::diagnosis::Wear;
use crate::report::record::document::photo::Photo;
use crate::report::record::document::track::{Spot, Track};
use crate::report::record::document::{Document, Part};
use crate::report::record::evidence::in_words;
use crate::report::tell;
use crate::report::words::{at, capital, figure, is_machine, plain, worn};
use askama::Template;
use askama::filters::Escaper;
use std::fmt::{self, Write};

/// Looks of every page
const LOOK: &str = include_str!("html/look.css");
/// Digits of a digest at the foot of a page
const DIGITS: usize = 16;

/// Chapters in the order of the page
const CHAPTERS: [&str; 13] = [
    "short",
    "tracks",
    "wear",
    "causes",
    "firm",
    "next",
    "plan",
    "assessment",
    "doubts",
    "photos",
    "machine",
    "rules",
    "about",
];

/// Names under which a document's head says what it belongs to, for whoever checks it later
pub const MARKS: [&str; 4] = ["generator", "pinboss-rules", "pinboss-case", "pinboss-asked"];

/// Every value in a template goes through [`escaped`]
#[derive(Clone, Copy, Debug, Default)]
pub struct Escaping;

impl Escaper for Escaping {
    fn write_escaped_str<W: Write>(&self, mut out: W, text: &str) -> fmt::Result {
        out.write_str(&escaped(text))
    }
}

/// The document as a page
#[derive(Template)]
#[template(path = "report.html")]
struct Sheet<'d> {
    document: &'d Document,
    marks: [(&'static str, &'d str); 4],
    look: String,
    in_short: Vec<Section>,
    outlook: Vec<Section>,
    causes: Vec<Section>,
    next: Vec<Section>,
    plan: Vec<Section>,
    overall: Vec<Section>,
    mind: Vec<Section>,
    firm: Vec<Section>,
    assessment: Vec<Section>,
    doubts: Vec<Section>,
    counts: Vec<Section>,
}

/// The whole file
///
/// # Errors
/// When the library that fills templates fails, which it does not for what it writes into a text.
pub fn html(document: &Document) -> Result<String, fmt::Error> {
    let report = &document.diagnosis;
    let part = |tell: &dyn Fn(&mut Prose)| {
        let mut prose = Prose::new();
        tell(&mut prose);
        sections(prose)
    };
    let sheet = Sheet {
        document,
        marks: marks(document),
        look: look(document),
        in_short: sections(tell::in_short(document)),
        outlook: part(&|prose| tell::outlook(prose, &document.history)),
        causes: part(&|prose| tell::causes_and_states(prose, report)),
        next: part(&|prose| tell::what_next(prose, report, FULL)),
        plan: part(&|prose| tell::whole_plan(prose, &report.plan, &document.swing)),
        overall: part(&|prose| tell::as_a_whole(prose, report)),
        mind: part(&|prose| tell::to_mind(prose, report)),
        firm: part(&|prose| {
            if let Some(robust) = &document.robust {
                tell::firm(prose, robust);
            }
        }),
        assessment: part(&|prose| {
            if let Some(assessment) = &document.assessment {
                tell::whole_assessment(prose, assessment);
            }
        }),
        doubts: part(&|prose| tell::doubts(prose, report)),
        counts: part(&|prose| tell::counts(prose, report)),
    };
    sheet.render().map_err(|_| fmt::Error)
}

/// What a document belongs to, as its head says it
pub fn marks(document: &Document) -> [(&'static str, &str); 4] {
    let [made_by, rules, case, asked] = MARKS;
    let report = &document.diagnosis;
    [
        (made_by, document.made_by),
        (rules, &report.rules_digest),
        (case, &report.case_digest),
        (asked, &document.asked),
    ]
}

/// The style sheet, with digests at the foot of every printed page
fn look(document: &Document) -> String {
    let report = &document.diagnosis;
    let short = |digest: &str| {
        let digits = digest.chars().filter(char::is_ascii_alphanumeric);
        digits.skip("sha256".len()).take(DIGITS).collect::<String>()
    };
    let foot = format!(
        "@page{{@bottom-left{{content:\"case {}, rules {}\"}}}}",
        short(&report.case_digest),
        short(&report.rules_digest)
    );
    format!("{INK}{}{}{}{foot}", LOOK, field::STYLE, track::STYLE)
}

/// A heading with its address
#[derive(Clone, Debug)]
struct Head {
    id: String,
    words: String,
}

/// Headings of what is told under one address, each with an address of its own
fn heads(sections: &[Section], id: &str) -> Vec<Head> {
    let number = |number: usize| if number == 0 { String::new() } else { format!("-{}", number + 1) };
    let heads = sections.iter().enumerate();
    heads
        .map(|(at, own)| Head { id: format!("{id}-head{}", number(at)), words: own.heading.clone() })
        .collect()
}

/// What the template asks for
impl Sheet<'_> {
    /// The headings of a chapter: one of its own, or those of what is told there; none where there is nothing to tell
    fn chapter(&self, id: &str) -> Vec<Head> {
        let document = self.document;
        let own = match id {
            "short" => Some("In short"),
            "tracks" => Some("The two tracks"),
            "wear" => (!document.diagnosis.wear.is_empty()).then_some("How worn what was read is"),
            "causes" => return heads(&self.causes, id),
            "firm" => return heads(&self.firm, id),
            "next" => return heads(&self.next, id),
            "plan" => Some("Work plan"),
            "assessment" => (!self.assessment.is_empty()).then_some("For and against: the assessment"),
            "doubts" => return heads(&self.doubts, id),
            "photos" => (!document.photos.is_empty()).then_some("Pictures"),
            "machine" => Some("The machine, and what was sound"),
            "rules" => Some("The rules it rests on"),
            "about" => Some("About this report"),
            _ => None,
        };
        own.map(|words| Head { id: format!("{id}-head"), words: words.to_owned() }).into_iter().collect()
    }

    /// The headings of all chapters, in order
    fn contents(&self) -> Vec<Head> {
        CHAPTERS.iter().flat_map(|id| self.chapter(id)).collect()
    }

    fn scale(&self) -> &'static str {
        tell::SCALE
    }

    fn of_curves(&self) -> &'static str {
        tell::CURVES
    }

    fn drawing(&self, track: &Track) -> String {
        track::track(track)
    }

    fn place(&self, place: &str) -> String {
        if is_machine(place) { "Machine".to_owned() } else { capital(&plain(place)) }
    }

    fn where_it_is(&self, place: &str) -> String {
        at(place)
    }

    fn begun(&self, words: &str) -> String {
        capital(words)
    }

    /// `Left roller 1, 2, 5` for places in one row
    fn places(&self, places: &[String]) -> String {
        let numbers = places.iter().skip(1).filter_map(|place| place.rsplit_once(' '));
        let numbers: String = numbers.map(|(_, number)| format!(", {number}")).collect();
        places.first().map_or_else(String::new, |first| self.place(first) + &numbers)
    }

    fn hours(&self, hours: &f64) -> String {
        format!("{} h", figure(*hours))
    }

    fn part_words(&self, part: &Part) -> String {
        let history = [
            part.on.map(|on| format!("on at {} h", figure(on))),
            part.turned.map(|turned| format!("turned at {} h", figure(turned))),
            part.never_turned.then(|| "never turned".to_owned()),
        ];
        history.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    fn spot_name(&self, spot: &Spot) -> String {
        match spot.along {
            Some(along) => format!("{} {along}", capital(&spot.label)),
            None => capital(&spot.label),
        }
    }

    /// Findings and readings of a spot, a sentence each, without the place that its head names
    fn spot_words(&self, spot: &Spot) -> Vec<String> {
        let found = spot
            .findings
            .iter()
            .map(|finding| format!("{}: {}.", capital(&finding.label), plain(&finding.grade)));
        let read = spot
            .wear
            .iter()
            .map(|wear| format!("{}: {}, {}.", capital(&wear.label), self.read(wear), self.worn(wear)));
        found.chain(read).collect()
    }

    fn read(&self, wear: &Wear) -> String {
        format!("{} {}", figure(wear.read), wear.unit)
    }

    fn worn(&self, wear: &Wear) -> String {
        worn(wear.percent, wear.give_or_take)
    }

    /// How far a bar is filled, per cent
    fn filled(&self, wear: &Wear) -> String {
        format!("{:.0}", wear.percent.clamp(0.0, 100.0))
    }

    fn left(&self, wear: &Wear) -> String {
        let left = tell::hours_left(wear);
        left.map_or_else(|| "not known".to_owned(), |left| capital(&left))
    }

    fn machine_findings(&self) -> Vec<String> {
        self.document
            .on_the_machine
            .iter()
            .map(|finding| format!("{}.", capital(&in_words(finding))))
            .collect()
    }

    /// What the findings do to an opinion, a picture with its caption for each party that they bear on
    fn opinions(&self) -> Vec<(String, String)> {
        let against = self.document.assessment.iter().flat_map(|own| &own.against);
        against.filter_map(|own| Some((opinion::figure(own)?, opinion::title(own)))).collect()
    }

    /// Each file that a picture was read from, once, with its digest
    fn picture_files(&self) -> Vec<(&str, &str)> {
        let mut all: Vec<(&str, &str)> = Vec::new();
        for photo in &self.document.photos {
            if all.iter().all(|(file, _)| *file != photo.file) {
                all.push((&photo.file, &photo.digest));
            }
        }
        all
    }

    fn caption(&self, photo: &Photo) -> String {
        let says = photo.says.as_ref().map_or_else(String::new, |says| format!(": {}", plain(says)));
        format!("{}{}{says}", capital(&photo.label), at(&photo.place))
    }

    fn listed(&self, what: &[String]) -> String {
        capital(&what.join("; "))
    }
}
