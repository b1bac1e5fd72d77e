//! Hazards of the work, and that every check and remedy of the shipped rules that meets one says what matters of it.

use crate::bench::SHIPPED;
use pinboss::model::{Check, Model, Remedy};
use rstest::rstest;

/// A check or a remedy, in low letters
struct Work {
    name: String,
    /// What it is called, and how it is done
    does: String,
    /// Tools of a check
    tools: String,
    /// How the machine stands for a check; empty for a remedy
    access: String,
    /// The state a check needs; empty for a remedy
    state: String,
    /// All that is said to beware of
    cautions: String,
}

impl Work {
    fn of_check(model: &Model, check: &Check) -> Self {
        let text = check.common.text.as_deref().unwrap_or("");
        Self {
            name: check.common.name.clone(),
            does: format!("{} {text}", check.common.label).to_lowercase(),
            tools: check.needs.join(", "),
            access: check.access.clone().unwrap_or_default(),
            state: check.needs_state.map_or_else(String::new, |id| model[id].common.name.clone()),
            cautions: check.cautions.join(" ").to_lowercase(),
        }
    }

    fn of_remedy(remedy: &Remedy) -> Self {
        Self {
            name: remedy.common.name.clone(),
            does: remedy.common.label.to_lowercase(),
            tools: String::new(),
            access: String::new(),
            state: String::new(),
            cautions: remedy.cautions.join(" ").to_lowercase(),
        }
    }

    fn is_remedy(&self) -> bool {
        self.access.is_empty()
    }

    /// True when one of these words or phrases tells what is done
    fn does(&self, words: &[&str]) -> bool {
        let whole = |found: usize, word: &str| {
            let letter = |sign: Option<char>| sign.is_some_and(char::is_alphanumeric);
            let (before, after) = (&self.does[..found], &self.does[found + word.len()..]);
            !letter(before.chars().next_back()) && !letter(after.chars().next())
        };
        words.iter().any(|word| self.does.match_indices(word).any(|(found, _)| whole(found, word)))
    }

    fn uses(&self, tools: &[&str]) -> bool {
        tools.iter().any(|tool| self.tools.split(", ").any(|own| own == *tool))
    }
}

fn works() -> Vec<Work> {
    let model = &SHIPPED.model;
    let checks = model.checks.iter().map(|check| Work::of_check(model, check));
    checks.chain(model.remedies.iter().map(Work::of_remedy)).collect()
}

/// Verbs of taking a part off or putting one on
const CHANGES: &[&str] =
    &["change", "exchange", "fit", "put", "renew", "reseal", "reshelled", "swap", "weld", "open"];

/// Which works a hazard bears on, the least number of them, and what each must say, one of those parted by ` | `
#[rstest]
// 29 CFR 1926.600(a)(3)(i): what is raised is blocked or cribbed before anyone works under it.
#[case::raised(|work: &Work| work.access == "lifted", 5, &["crib"])]
// MA FACE 13-MA-002-01; MSHA FAB13C01, FAB00C29: people died under loads held by a jack alone.
#[case::never_on_a_jack_alone(|work: &Work| work.does(&["set it on cribbing", "rock the hub", "bar the rear"]), 3, &["jack", "hydraulics"])]
// 30 CFR 56.14105: no motion but for trying and measuring, and people kept out of it.
#[case::moving(|work: &Work| work.access == "moved", 20, &["driver's view | driver sees | clear | aside | nobody | engine off"])]
// 29 CFR 1926.600(a)(3), 30 CFR 56.14206(b): engine off, brakes set, blade down before hands go near.
#[case::hands_near_a_parked_machine(
    |work: &Work| work.access == "parked" && !work.does(&["prints", "lanes", "the ground holds", "blade is pressed"]),
    50,
    &["engine off", "brake", "blade"]
)]
// HSE Safety Alert STSU 2-2017 and TB 43-PS-703: grease under pressure; a fitting that flew has killed.
#[case::looking_at_the_adjuster(
    |work: &Work| !work.is_remedy() && work.does(&["adjuster", "adjuster's valve", "mark at the yoke", "look for grease"]) && !work.does(&["grease of every pivot"]),
    3,
    &["pressure | has killed", "loosen nothing | touch no valve | neither strike nor turn", "from outside | to the side | never search"]
)]
#[case::setting_the_tension(
    |work: &Work| work.is_remedy() && work.does(&["sag", "slack", "valve", "cylinder seal"]),
    4,
    &["aside | beside", "eye protection", "trained"]
)]
// 29 CFR 1910.147(d)(5): stored pressure is let off, and it is made sure that it is off.
#[case::opening_the_adjuster(
    |work: &Work| work.is_remedy() && work.does(&["new valve"]),
    2,
    &["make sure it is off", "never refit"]
)]
#[case::taking_up_slack(|work: &Work| work.does(&["take up the slack"]), 1, &["never over-tighten"])]
// Common medical teaching: what grease does under the skin is a matter for a surgeon at once.
#[case::looking_for_grease(|work: &Work| work.does(&["look for grease"]), 1, &["skin", "surgeon", "finger"])]
// TM 5-3805-280-24-1: the preload of a recoil spring is very large; its proper tool and cover, not in the field.
#[case::near_the_recoil_spring(|work: &Work| work.does(&["recoil", "spring", "yoke", "front frame tube"]), 8, &["spring"])]
#[case::opening_the_recoil(
    |work: &Work| work.is_remedy() && work.does(&["recoil assembly", "slide", "front frame tube"]),
    3,
    &["under a proper press | a load that kills", "trained"]
)]
// TM 5-2410-233-23, WP 0119: a track moves fast when it parts; clear in front and behind.
#[case::parting_the_track(
    |work: &Work| work.is_remedy()
        && work.does(&["turn pins", "the turn, which", "wet turn", "new chain", "odd links", "chain on", "plan chain", "master", "seals to the maker", "bushings to the maker", "the idler", "idler before", "rear idler", "the yoke"])
        && !work.does(&["shims until", "mark the yoke"]),
    12,
    &["clear | nobody in front | ends clear", "part | opening"]
)]
#[case::at_the_master_joint(|work: &Work| !work.is_remedy() && work.does(&["check the master"]), 2, &["parts"])]
// State safety alerts: hardened steel sheds splinters when it is driven; sound tools, a face shield, others away.
#[case::driving_and_pressing_pins(
    |work: &Work| work.is_remedy() && work.does(&["pin", "pins", "press the", "oversize"]) && !work.does(&["drill-check"]),
    9,
    &["face shield"]
)]
#[case::striking_and_brushing(
    |work: &Work| work.uses(&["wire brush", "hammer", "grinder", "file"]) && !work.does(&["treads of four"]),
    15,
    &["eye protection"]
)]
// Common practice: metal from work burns; a thermometer, not a hand.
#[case::hot_from_work(
    |work: &Work| work.state == "hot" || !work.is_remedy() && work.does(&["work half an hour", "after work", "long drive"]),
    8,
    &["burn | hot"]
)]
#[case::feeling_for_heat(|work: &Work| work.uses(&["infrared thermometer"]), 6, &["thermometer, not the hand"])]
// TM 5-3805-261-23-1, WP 0020: hot oil is let cool, and the cap eased.
#[case::opening_what_holds_hot_oil(
    |work: &Work| work.does(&["ease the plug", "level plug", "oil of the final drive", "fill the final drive", "reseal the final drive", "draw a sample"]),
    6,
    &["cool"]
)]
// Common practice: dye penetrant and its solvent.
#[case::solvent(|work: &Work| work.uses(&["dye penetrant"]), 3, &["fresh air"])]
// Common practice, to local codes: welding on a machine takes fire watch and licensed people.
#[case::welding(
    |work: &Work| work.is_remedy() && work.does(&["weld", "welds", "welded", "bracket"]) && !work.does(&["look over"]),
    6,
    &["fire watch", "licensed | trained"]
)]
#[case::welding_on_the_machine(
    |work: &Work| work.is_remedy() && work.does(&["weld or renew", "weld new", "welded by", "bracket"]),
    4,
    &["battery"]
)]
// TM 5-2410-233-34, para 7-10, for frames; parts too heavy to catch, common practice.
#[case::rollers_off(
    |work: &Work| work.is_remedy() && work.does(&["roller", "rollers"]) && work.does(CHANGES) && !work.does(&["carrier"]),
    10,
    &["crib | cradle"]
)]
#[case::carrier_rollers_off(
    |work: &Work| work.is_remedy() && work.does(&["carrier"]),
    4,
    &["chain is lifted | block the chain"]
)]
#[case::frames_bars_and_drives_off(
    |work: &Work| work.is_remedy() && work.does(&["frame", "bar", "brace", "bogies", "rear mount", "final drive", "centre pin"]) && work.does(&[CHANGES, &["straightened", "set the frame", "lean"]].concat()) && !work.does(&["oil of", "fill the"]),
    10,
    &["crib | support"]
)]
// Common practice: a bar under load slips and kicks.
#[case::barring(|work: &Work| work.uses(&["bar"]), 8, &["slip | kick | no hand | no finger | lets go"])]
// Common practice: worn and broken edges cut.
#[case::sharp_edges(
    |work: &Work| work.is_remedy() && work.does(&["segments", "set of teeth", "shoes", "broken shoe"]) && work.does(CHANGES) && !work.does(&["weld new bars"]),
    6,
    &["sharp"]
)]
fn whoever_meets_the_hazard_is_told_what_matters(
    #[case] bears: fn(&Work) -> bool,
    #[case] least: usize,
    #[case] said: &[&str],
) {
    let met: Vec<Work> = works().into_iter().filter(|work| bears(work)).collect();
    let names: Vec<&str> = met.iter().map(|work| work.name.as_str()).collect();
    assert!(met.len() >= least, "only {}: {names:?}", met.len());
    let mut silent = Vec::new();
    for work in &met {
        let missing = said.iter().filter(|any| !any.split(" | ").any(|words| work.cautions.contains(words)));
        silent.extend(missing.map(|any| format!("{} does not say \"{any}\": {}", work.name, work.cautions)));
    }
    assert!(silent.is_empty(), "of {names:?}: {silent:#?}");
}
