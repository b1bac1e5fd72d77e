//! A chain and its rollers under rules of their own, and visits to the machine told in a line each.

use crate::support::setting::{Setting, set};
use pinboss::place::{Place, Side};
use pinboss::wear::history::Visit;
use pinboss::wear::trend::{PartTrend, Trend, trend};

/// A link height of 105.5 mm new and 96.5 mm at the limit, read to a fifth of a millimetre; a pitch that grows; a gap
/// that both close with the rollers
pub const RULES: &str = "\
part chain, each side: \"chain\"
fact bushings, each side: \"whether pins and bushings have been turned\"
    from    turn of chain: first_side, turned
    choices first_side 60%, turned 40%
measure link_height, each side, of chain: \"link height\"
    unit    mm   range 60 to 160   error 0.2
measure four_link_pitch, each side, of chain: \"length over four links\"
    unit    mm   range 550 to 1100   error 0.7
    spans   4 links between pins   anew since turned
    text    \"From pin to pin, never over the master joint.\"
measure bushing, each side, of chain: \"bushing across its worn face\"
    unit    mm   range 35 to 95   error 0.3
measure roller_tread, each roller: \"diameter of the roller tread\"
    unit    mm   range 100 to 300   error 0.8
measure flange_gap, each roller: \"gap between roller flange and pin boss\"
    unit    mm   range 0 to 60   error 1
measure gap_by_sum, each roller: \"gap that rail and roller wear leave\"
    is      new flange_gap - loss link_height - half of loss roller_tread
measure row_step, each side, of chain: \"outboard rail height less inboard rail height\"
    unit    mm   range -30 to 30   error 0.5
symptom bright, each side: \"bright spots\"
    without 1%
remedy new_chain, each side: \"Fit a new chain\"
    renews  link_height from 95%
    takes   10 h
remedy turn_bushings, each side: \"Turn pins and bushings\"
    renews  bushing from 90%
    only where bushings are first_side
    takes   20 h
dimensions medium: \"invented\"
    link_height         105.5 mm 0%, 96.5 mm 100%, after that 1.8 times as fast
    four_link_pitch     800 mm 0%, 809 mm 100%, after that 3 times as fast
    bushing             59 mm 0%, 54.8 mm 100%
    roller_tread        195 mm 0%, 171 mm 100%
    flange_gap          20 mm
life medium: \"invented\"  spread 18%
    link_height         4000 h
";

/// One visit: hours, what stands under `parts`, and what stands under `seen`
pub fn visit(hours: f64, parts: &str, seen: &str) -> Setting {
    let facts = "facts: {rollers: 3}";
    let case = format!(
        "case: c\nmachine: {{tag: T, hours: {hours}, size: medium, {facts}}}\nparts: [{parts}]\nseen: {{{seen}}}\n"
    );
    set(RULES, &case)
}

/// A link height on the left, the chain fitted at 0 h
pub fn height(hours: f64, read: &str) -> Setting {
    visit(hours, "{part: chain, on: 0 h}", &format!("left: {{read: {{link_height: {read}}}}}"))
}

/// What some visits in the order of hours say
pub fn trend_of(settings: &[Setting]) -> Trend {
    let visits: Vec<Visit<'_>> = settings
        .iter()
        .map(|own| Visit { machine: &own.ground.machine, readings: &own.ground.readings })
        .collect();
    trend(&settings.last().unwrap().model, &visits)
}

/// One measure of the left side
pub fn part<'t>(trend: &'t Trend, settings: &[Setting], measure: &str) -> &'t PartTrend {
    let model = &settings.last().unwrap().model;
    let own = |part: &&PartTrend| {
        model[part.history.measure].common.name == measure && part.history.place == Place::Side(Side::Left)
    };
    trend.parts.iter().find(own).unwrap_or_else(|| panic!("no {measure}"))
}

/// As far as a figure worked by hand to five places can tell
pub fn near(found: f64, by_hand: f64) {
    assert!((found - by_hand).abs() <= 1e-5 * by_hand.abs().max(1.0), "{found} against {by_hand}");
}
