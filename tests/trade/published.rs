//! What published sources put a picture down to, each as a case of an invented machine; and how often, over all cases, what
//! strip-down showed comes first.

use crate::support::rules::{SHIPPED, listed, shipped, told};
use pinboss::case::{self, Inspection};
use pinboss::ground::ground;
use pinboss::reason::Weighing;
use pinboss::source::Sources;
use pinboss::trial::claim::{ABSENT_UNDER, By, Claim};
use pinboss::trial::true_cause::{AMONG, Tally};
use pinboss::trial::{self, Extent, Trial};
use rstest::rstest;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

/// A case, what came of it, and where its true causes stand
struct Tried {
    file: String,
    /// The lines before the case itself, where its source is named
    head: String,
    inspection: Inspection,
    trial: Trial,
}

impl Tried {
    fn of(path: &Path) -> Self {
        let file = path.file_stem().unwrap().to_string_lossy().into_owned();
        let text = fs::read_to_string(path).unwrap();
        let comments = text.lines().map_while(|line| line.strip_prefix("# "));
        let head = comments.collect::<Vec<_>>().join(" ");
        let mut sources = Sources::default();
        let id = sources.add(&file, text);
        let (inspection, problems) = case::read(&sources, id);
        let inspection = inspection.unwrap_or_else(|| panic!("{:#?}", told(&problems, &sources)));
        let (ground, problems) = ground(&SHIPPED.model, &inspection);
        assert!(!problems.any_error(), "{:#?}", told(&problems, &sources));
        let weighing = Weighing::new(shipped(), ground).within(trial::settings());
        let trial = trial::run(&weighing, &inspection, Extent::Claims).unwrap();
        Self { file, head, inspection, trial }
    }

    /// Every true cause with its place among all causes
    fn true_causes(&self) -> Vec<(&str, usize)> {
        let claimed = self.trial.claims.iter();
        let above = claimed.filter(|own| own.by == By::Truth && matches!(own.claim, Claim::Above(..)));
        let place = |place: &Option<usize>| place.unwrap_or(usize::MAX);
        above.map(|own| own.name.as_str()).zip(self.trial.places.iter().map(place)).collect()
    }

    /// True where strip-down found nothing wrong
    fn is_sound(&self) -> bool {
        self.inspection.truth.as_ref().is_some_and(|truth| truth.sound.is_some())
    }

    /// Chance of the likeliest cause
    fn likeliest(&self) -> f64 {
        self.trial.answers.causes.first().map_or(0.0, |first| first.probability)
    }
}

/// Every shipped case, tried once for all tests
static TRIED: LazyLock<Vec<Tried>> =
    LazyLock::new(|| listed("cases", "yaml").iter().map(|path| Tried::of(path)).collect());

/// A picture with the causes that a source names, and the case that shows it
struct Published {
    source: &'static str,
    file: &'static str,
    causes: &'static [&'static str],
}

impl Published {
    fn tried(&self) -> &'static Tried {
        let tried = TRIED.iter().find(|tried| tried.file == self.file);
        tried.unwrap_or_else(|| panic!("no case {}", self.file))
    }
}

const LOOSE_BOTH: &[&str] = &["track_slack left", "track_slack right"];
const TIGHT_BOTH: &[&str] = &["track_too_tight left", "track_too_tight right"];

const PUBLISHED: [Published; 10] = [
    // NAVEDTRA 14081, ch. 11: everything that the chain runs on wears fast and power is short: too tight.
    Published { source: "NAVEDTRA 14081, ch. 11", file: "clay_dozer_short_of_power", causes: TIGHT_BOTH },
    // The same: it comes off in turns, flanges and the sides of the teeth wear: too loose.
    Published { source: "NAVEDTRA 14081, ch. 11", file: "marsh_dozer_slack_tracks", causes: LOOSE_BOTH },
    // The same: whipping at speed, carrier rollers and what holds them beaten: too loose.
    Published {
        source: "NAVEDTRA 14081, ch. 11",
        file: "levee_dozer_whipping_track",
        causes: &["track_slack left"],
    },
    // The same: the sprocket jumps bushings when backing, and both wear: very loose.
    Published {
        source: "NAVEDTRA 14081, ch. 11",
        file: "ramp_dozer_jumps_backing",
        causes: &["track_slack left"],
    },
    // TB 43-PS-558: flapping, with worn roller flanges and teeth: too loose.
    Published { source: "TB 43-PS-558", file: "causeway_dozer_flapping_tracks", causes: LOOSE_BOTH },
    // TB 43-PS-558: undue stress in undercarriage and drive train: too tight.
    Published { source: "TB 43-PS-558", file: "site_dozer_tight_tracks", causes: TIGHT_BOTH },
    // TB 43-PS-560: the track jumps off its sprocket: teeth worn out.
    Published { source: "TB 43-PS-560", file: "estate_dozer_spent_teeth", causes: &["old_teeth_kept left"] },
    // TB 43-PS-560: a bright ring at a bolt head, shoes and links hurt: a loose shoe bolt.
    Published { source: "TB 43-PS-560", file: "gravel_bank_dozer_shoe_bolts", causes: &["shoe_bolts_left"] },
    // TB 43-PS-560: dirt and rock inside the track, little grip: a grouser broken or gone.
    Published { source: "TB 43-PS-560", file: "bank_dozer_lost_bar", causes: &["grouser_broken left"] },
    // HSE Safety Alert STSU 2-2017: tension that keeps going has a fault to be found, and is not pumped up again.
    Published {
        source: "HSE Safety Alert STSU 2-2017",
        file: "quarry_dozer_recoil",
        causes: &["recoil_broken right"],
    },
];

/// Share of the published pictures whose cause must come first of all
const PUBLISHED_FIRST: f64 = 0.8;
/// Share of all cases with a true cause in which one must come first
const FIRST: f64 = 0.9;
/// How far behind the number of true causes the last of them may stand
const BEHIND: usize = 2;

/// `part` of `whole` is this share or more
fn is_share(part: usize, whole: usize, share: f64) -> bool {
    let figure = |number: usize| f64::from(u32::try_from(number).unwrap());
    figure(part) >= share * figure(whole)
}

#[test]
fn every_published_picture_is_a_case_that_names_its_source_and_has_its_cause() {
    for row in &PUBLISHED {
        let tried = row.tried();
        assert!(tried.head.contains(row.source), "{}: {} is not named", row.file, row.source);
        for cause in row.causes {
            assert!(tried.true_causes().iter().any(|(name, _)| name == cause), "{}: {cause}", row.file);
        }
    }
}

#[test]
fn the_cause_that_a_source_names_comes_first_or_among_the_first_three() {
    let mut first = 0;
    for row in &PUBLISHED {
        let places: Vec<_> =
            row.tried().true_causes().into_iter().filter(|(name, _)| row.causes.contains(name)).collect();
        assert!(places.iter().all(|(_, place)| *place <= AMONG), "{}: {places:?}", row.file);
        first += usize::from(places.iter().any(|(_, place)| *place == 1));
    }
    assert!(is_share(first, PUBLISHED.len(), PUBLISHED_FIRST), "{first} of {}", PUBLISHED.len());
}

/// TM 5-3805-280-10, p. 21-16, of an excavator: teeth worn at their tips alone over sound seats, and reverse faces more worn
/// than forward ones, are usual and no reason to reject
#[rstest]
#[case::tips("pipeline_dozer_worn_tips", "teeth_sharp", "none")]
#[case::tips_and_reverse_faces("cutting_dozer_usual_teeth", "teeth_sharp", "none")]
#[case::reverse_faces("cutting_dozer_usual_teeth", "teeth_faces", "neither")]
fn what_a_source_calls_usual_wear_blames_nobody(
    #[case] file: &'static str,
    #[case] symptom: &str,
    #[case] normal: &str,
) {
    let row = Published { source: "TM 5-3805-280-10, p. 21-16", file, causes: &[] };
    let tried = row.tried();
    assert!(tried.head.contains(row.source) && tried.is_sound());
    assert!(seen(tried, symptom).is_some_and(|grade| grade != normal), "{symptom} shows in {file}");
    assert!(tried.likeliest() < ABSENT_UNDER, "{}", tried.likeliest());
}

/// The most told grade of a symptom in a case
fn seen(tried: &Tried, symptom: &str) -> Option<&'static str> {
    let (ground, _) = ground(&SHIPPED.model, &tried.inspection);
    let name = |own: &pinboss::ground::Observation| &SHIPPED.model[own.symptom].effect;
    let own = ground.observations.iter().filter(|own| name(own).common.name == symptom);
    own.max_by_key(|own| own.grade).map(|own| name(own).grades.name(own.grade))
}

#[test]
fn a_true_cause_mostly_comes_first() {
    let mut tally = Tally::default();
    for tried in TRIED.iter() {
        tally.add(&tried.trial.places);
    }
    assert!(tally.cases >= 50, "{tally:?}");
    assert!(is_share(tally.first, tally.cases, FIRST), "{tally:?}");
}

#[test]
fn every_true_cause_stands_close_behind_the_first() {
    for tried in TRIED.iter() {
        let all = tried.true_causes();
        let late: Vec<_> = all.iter().filter(|(_, place)| *place > all.len() + BEHIND).collect();
        assert!(late.is_empty(), "{}: {late:?} of {}", tried.file, all.len());
    }
}

#[test]
fn no_cause_stands_out_on_a_sound_machine() {
    let sound: Vec<&Tried> = TRIED.iter().filter(|tried| tried.is_sound()).collect();
    assert!(sound.len() >= 5, "{}", sound.len());
    for tried in sound {
        assert!(tried.likeliest() <= ABSENT_UNDER, "{}: {}", tried.file, tried.likeliest());
    }
}
