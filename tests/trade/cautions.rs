//! Hazards of the work, and that every check and remedy of the shipped rules that meets one says what matters of it.

use crate::support::shipped::SHIPPED;
use pinboss::model::{Check, Model, Remedy};

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

    /// True when one of these words or phrases, whole, tells what is done
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

/// Something that can hurt, and whom it must be said to
struct Hazard {
    what: &'static str,
    /// Whether a check or remedy meets it
    bears: fn(&Work) -> bool,
    /// How many do at the least
    least: usize,
    /// What each of them must say; any of those parted by ` | ` will do
    said: &'static [&'static str],
}

const HAZARDS: [Hazard; 26] = [
    // 29 CFR 1926.600(a)(3)(i): what is raised is blocked or cribbed before anyone works under it.
    Hazard { what: "raised", bears: |work| work.access == "lifted", least: 5, said: &["crib"] },
    // MA FACE 13-MA-002-01; MSHA FAB13C01, FAB00C29: people died under loads held by a jack alone.
    Hazard {
        what: "never on a jack alone",
        bears: |work| work.does(&["set it on cribbing", "rock the hub", "bar the rear"]),
        least: 3,
        said: &["jack", "hydraulics"],
    },
    // 30 CFR 56.14105: no motion but for trying and measuring, and people kept out of it.
    Hazard {
        what: "moving",
        bears: |work| work.access == "moved",
        least: 20,
        said: &["driver's view | driver sees | clear | aside | nobody | engine off"],
    },
    // 29 CFR 1926.600(a)(3), 30 CFR 56.14206(b): engine off, brakes set, blade down before hands go near.
    Hazard {
        what: "hands near a parked machine",
        bears: |work| {
            work.access == "parked"
                && !work.does(&["prints", "lanes", "the ground holds", "blade is pressed"])
        },
        least: 50,
        said: &["engine off", "brake", "blade"],
    },
    // HSE Safety Alert STSU 2-2017 and TB 43-PS-703: grease under pressure; a fitting that flew has killed.
    Hazard {
        what: "looking at the adjuster",
        bears: |work| {
            !work.is_remedy()
                && work.does(&["adjuster", "adjuster's valve", "mark at the yoke", "look for grease"])
                && !work.does(&["grease of every pivot"])
        },
        least: 3,
        said: &[
            "pressure | has killed",
            "loosen nothing | touch no valve | neither strike nor turn",
            "from outside | to the side | never search",
        ],
    },
    Hazard {
        what: "setting the tension",
        bears: |work| work.is_remedy() && work.does(&["sag", "slack", "valve", "cylinder seal"]),
        least: 4,
        said: &["aside | beside", "eye protection", "trained"],
    },
    // 29 CFR 1910.147(d)(5): stored pressure is let off, and it is made sure that it is off.
    Hazard {
        what: "opening the adjuster",
        bears: |work| work.is_remedy() && work.does(&["new valve"]),
        least: 2,
        said: &["make sure it is off", "never refit"],
    },
    Hazard {
        what: "taking up slack",
        bears: |work| work.does(&["set the sag as the machine's manual says"]),
        least: 1,
        said: &["never over-tighten"],
    },
    // Common medical teaching: what grease does under the skin is a matter for a surgeon at once.
    Hazard {
        what: "looking for grease",
        bears: |work| work.does(&["look for grease"]),
        least: 1,
        said: &["skin", "surgeon", "finger"],
    },
    // TM 5-3805-280-24-1: the preload of a recoil spring is very large; its proper tool and cover, not in the field.
    Hazard {
        what: "near the recoil spring",
        bears: |work| work.does(&["recoil", "spring", "yoke", "front frame tube"]),
        least: 8,
        said: &["spring"],
    },
    Hazard {
        what: "opening the recoil",
        bears: |work| work.is_remedy() && work.does(&["recoil assembly", "slide", "front frame tube"]),
        least: 3,
        said: &["under a proper press | a load that kills", "trained"],
    },
    // TM 5-2410-233-23, WP 0119: a track moves fast when it parts; clear in front and behind.
    Hazard {
        what: "parting the track",
        bears: |work| {
            work.is_remedy()
                && work.does(&[
                    "turn pins",
                    "the turn, which",
                    "wet turn",
                    "new chain",
                    "odd links",
                    "chain on",
                    "plan chain",
                    "master",
                    "seals to the maker",
                    "bushings to the maker",
                    "the idler",
                    "idler before",
                    "rear idler",
                    "the yoke",
                ])
                && !work.does(&["shims until", "mark the yoke"])
        },
        least: 12,
        said: &["clear | nobody in front | ends clear", "part | opening"],
    },
    Hazard {
        what: "at the master joint",
        bears: |work| !work.is_remedy() && work.does(&["check the master"]),
        least: 2,
        said: &["parts"],
    },
    // State safety alerts: hardened steel sheds splinters when it is driven; sound tools, a face shield, others away.
    Hazard {
        what: "driving and pressing pins",
        bears: |work| {
            work.is_remedy()
                && work.does(&["pin", "pins", "press the", "oversize"])
                && !work.does(&["drill-check"])
        },
        least: 9,
        said: &["face shield"],
    },
    Hazard {
        what: "striking and brushing",
        bears: |work| {
            work.uses(&["wire brush", "hammer", "grinder", "file"]) && !work.does(&["treads of four"])
        },
        least: 15,
        said: &["eye protection"],
    },
    // Common practice: metal from work burns; a thermometer, not a hand.
    Hazard {
        what: "hot from work",
        bears: |work| {
            work.state == "hot"
                || !work.is_remedy() && work.does(&["work half an hour", "after work", "long drive"])
        },
        least: 8,
        said: &["burn | hot"],
    },
    Hazard {
        what: "feeling for heat",
        bears: |work| work.uses(&["infrared thermometer"]),
        least: 6,
        said: &["thermometer, not the hand"],
    },
    // TM 5-3805-261-23-1, WP 0020: hot oil is let cool, and the cap eased.
    Hazard {
        what: "opening what holds hot oil",
        bears: |work| {
            work.does(&[
                "ease the plug",
                "level plug",
                "oil of the final drive",
                "fill the final drive",
                "reseal the final drive",
                "draw a sample",
            ])
        },
        least: 6,
        said: &["cool"],
    },
    // Common practice: dye penetrant and its solvent.
    Hazard { what: "solvent", bears: |work| work.uses(&["dye penetrant"]), least: 3, said: &["fresh air"] },
    // Common practice, to local codes: welding on a machine takes fire watch and licensed people.
    Hazard {
        what: "welding",
        bears: |work| {
            work.is_remedy()
                && work.does(&["weld", "welds", "welded", "bracket"])
                && !work.does(&["look over"])
        },
        least: 6,
        said: &["fire watch", "licensed | trained"],
    },
    Hazard {
        what: "welding on the machine",
        bears: |work| work.is_remedy() && work.does(&["weld or renew", "weld new", "welded by", "bracket"]),
        least: 4,
        said: &["battery"],
    },
    // TM 5-2410-233-34, para 7-10, for frames; parts too heavy to catch, common practice.
    Hazard {
        what: "rollers off",
        bears: |work| {
            work.is_remedy()
                && work.does(&["roller", "rollers"])
                && work.does(CHANGES)
                && !work.does(&["carrier"])
        },
        least: 10,
        said: &["crib | cradle"],
    },
    Hazard {
        what: "carrier rollers off",
        bears: |work| work.is_remedy() && work.does(&["carrier"]),
        least: 4,
        said: &["chain is lifted | block the chain"],
    },
    Hazard {
        what: "frames bars and drives off",
        bears: |work| {
            work.is_remedy()
                && work.does(&["frame", "bar", "brace", "bogies", "rear mount", "final drive", "centre pin"])
                && work.does(&[CHANGES, &["straightened", "set the frame", "lean"]].concat())
                && !work.does(&["oil of", "fill the"])
        },
        least: 10,
        said: &["crib | support"],
    },
    // Common practice: a bar under load slips and kicks.
    Hazard {
        what: "barring",
        bears: |work| work.uses(&["bar"]),
        least: 8,
        said: &["slip | kick | no hand | no finger | lets go"],
    },
    // Common practice: worn and broken edges cut.
    Hazard {
        what: "sharp edges",
        bears: |work| {
            work.is_remedy()
                && work.does(&["segments", "set of teeth", "shoes", "broken shoe"])
                && work.does(CHANGES)
                && !work.does(&["weld new bars"])
        },
        least: 6,
        said: &["sharp"],
    },
];

impl Hazard {
    /// What is wrong: too few works meet it, or some that do keep silent
    fn faults(&self, works: &[Work]) -> Vec<String> {
        let met: Vec<&Work> = works.iter().filter(|work| (self.bears)(work)).collect();
        let mut faults = Vec::new();
        if met.len() < self.least {
            let names: Vec<&str> = met.iter().map(|work| work.name.as_str()).collect();
            faults.push(format!("{}: only {} meet it: {names:?}", self.what, met.len()));
        }
        for work in met {
            let missing =
                self.said.iter().filter(|any| !any.split(" | ").any(|said| work.cautions.contains(said)));
            faults.extend(missing.map(|any| format!("{}: {} does not say \"{any}\"", self.what, work.name)));
        }
        faults
    }
}

#[test]
fn whoever_meets_a_hazard_is_told_what_matters() {
    let works = works();
    let faults: Vec<String> = HAZARDS.iter().flat_map(|hazard| hazard.faults(&works)).collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

/// The judge itself: a bare roller change is found out, and so is a hazard that nobody meets
#[test]
fn who_keeps_silent_is_found_out() {
    let bare = Work {
        name: "change".to_owned(),
        does: "change the roller".to_owned(),
        tools: String::new(),
        access: String::new(),
        state: String::new(),
        cautions: "mind the roller.".to_owned(),
    };
    let crib =
        Hazard { what: "rollers", bears: |work| work.does(&["roller"]), least: 1, said: &["crib | cradle"] };
    assert_eq!(crib.faults(&[bare]), ["rollers: change does not say \"crib | cradle\""]);
    assert_eq!(crib.faults(&[]), ["rollers: only 0 meet it: []"]);
}
