//! How firm a cause stands, held against weighing the case anew under other strengths.

use crate::support::setting::{Setting, bind, set};
use pinboss::infer::draw::Dice;
use pinboss::model::{CauseId, ConditionId, Model, SymptomId};
use pinboss::network::NodeId;
use pinboss::place::{Place, Side};
use pinboss::reason::robust::{Block, Effort, Line, Robust, Strength, one_step};
use pinboss::reason::strengths::moved;
use rstest::rstest;

const RULES: &str = "\
fact ground: \"ground\"
    choices soft 60%, hard 40%
    tell \"Look.\"  takes 1 min
cause off, each side: \"idler off\"
    kind upkeep
    chance 10% of sides
    basis common practice
cause bent, each side: \"frame bent\"
    kind upkeep
    chance 8% of sides where ground is hard
    chance 3% of sides
    basis estimate
cause loose: \"bolts loose\"
    kind upkeep
    chance 6% of machines
    basis \"a field manual\"
cause knocks, each side: \"knocks\"
    kind upkeep
    chance 4% of machines
    basis estimate
condition toe, each side: \"toe\"
    grades straight, some, much
    with bent: often some, sometimes much
    with loose: seldom some
    without 1% some
    basis estimate
symptom rubbed, each side: \"flange worn\"
    grades none, little, much
    with off: often little, seldom much
    with toe some: sometimes little
    with toe much: usually much
    with knocks: seldom little
    without 2% little, 1% much
    basis common practice
symptom gouge, each side: \"sprocket gouged\"
    with toe: usually
    with knocks: sometimes
    without 2%
    basis common practice
symptom shims, each side: \"shims missing\"
    with off: usually
    without 5%
    basis estimate
check look, each side: \"Look\"
    shows rubbed, gouge, shims
    takes 2 min
";

/// A strong case, a close one, one with a normal look on either side, and one with a doubtful look and nothing told of the ground
const CASES: [&str; 4] = [
    "case: c\nmachine: {tag: T, facts: {rollers: 3, ground: soft}}\nseen:\n  left: {found: {rubbed: little, shims: yes}}\n",
    "case: c\nmachine: {tag: T, facts: {rollers: 3, ground: hard}}\nseen:\n  left: {found: {rubbed: much}}\n",
    "case: c\nmachine: {tag: T, facts: {rollers: 3, ground: soft}}\nseen:\n  left: {looked: [look], found: {rubbed: little, gouge: yes}}\n  right: {looked: [look]}\n",
    "case: c\nmachine: {tag: T, facts: {rollers: 3}}\nseen:\n  left: {found: {rubbed: {saw: little, sure: 80%}, shims: no}}\n  right: {found: {rubbed: little, gouge: yes}}\n",
];

const LEFT: Place = Place::Side(Side::Left);

fn node(setting: &Setting, cause: usize, place: &Place) -> NodeId {
    let causes = setting.ground.causes();
    causes
        .filter(|(id, at, _)| *id == CauseId(cause) && *at == place)
        .map(|(_, _, node)| node)
        .next()
        .unwrap()
}

fn firm(setting: &Setting, cause: NodeId, draws: usize) -> Robust {
    setting.weighing().robust(cause, &Effort::of(draws)).unwrap()
}

fn chance(setting: &Setting, node: NodeId) -> f64 {
    let weighing = setting.weighing();
    let causes = weighing.causes().unwrap();
    causes.iter().find(|one| one.node == node).unwrap().probability
}

/// Every share of the rules
fn strengths(model: &Model) -> Vec<Strength> {
    let mut all = Vec::new();
    let mut add = |block, line, count| all.extend((0..count).map(|share| Strength { block, line, share }));
    for (number, cause) in model.causes.iter().enumerate() {
        (0..cause.chances.len()).for_each(|line| add(Block::Cause(CauseId(number)), Line::Chance(line), 1));
    }
    let conditions = model.conditions.iter().enumerate();
    let conditions = conditions.map(|(number, effect)| (Block::Condition(ConditionId(number)), effect));
    let symptoms = model.symptoms.iter().enumerate();
    let symptoms = symptoms.map(|(number, symptom)| (Block::Symptom(SymptomId(number)), &symptom.effect));
    for (block, effect) in conditions.chain(symptoms) {
        for (number, line) in effect.lines.iter().enumerate() {
            add(block, Line::With(number), line.effects.len());
        }
        for (number, leak) in effect.leaks.iter().enumerate() {
            add(block, Line::Without(number), leak.effects.len());
        }
    }
    all
}

/// The case bound anew to the rules with one strength put in
fn with(model: &Model, case: &str, strength: Strength, share: f64) -> Setting {
    let mut model = model.clone();
    strength.put(&mut model, share);
    bind(model, case)
}

/// Whether the cause leads its field when the case is weighed anew; the field is that of the rules as they are
fn leads(setting: &Setting, own: &Robust) -> bool {
    let weighing = setting.weighing();
    let causes = weighing.causes().unwrap();
    let chance = |node: &NodeId| causes.iter().find(|one| one.node == *node).unwrap().probability;
    let compared = if own.leads { own.field.len() } else { own.field.len().min(1) };
    own.field.iter().take(compared).all(|rival| chance(&own.cause) >= chance(rival))
}

fn all_firm() -> Vec<(String, Setting, Robust)> {
    let mut all = Vec::new();
    for case in CASES {
        for cause in 0..4 {
            let setting = set(RULES, case);
            let place = if cause == 2 { Place::Machine } else { LEFT };
            let own = firm(&setting, node(&setting, cause, &place), 0);
            all.push((case.to_owned(), setting, own));
        }
    }
    all
}

#[test]
fn at_the_strength_told_two_causes_are_equally_likely_and_past_it_the_order_is_another() {
    let mut turns = 0;
    for (case, setting, own) in all_firm() {
        assert_eq!(leads(&setting, &own), own.leads);
        for crossing in &own.crossings {
            let at = with(&setting.model, &case, crossing.strength, crossing.at);
            let (cause, rival) = (chance(&at, own.cause), chance(&at, crossing.rival));
            assert!((cause - rival).abs() < 1e-6, "{cause} and {rival} at {crossing:?}");
            assert!((cause - crossing.probability).abs() < 1e-5, "{crossing:?}");
            let part = |part: f64| crossing.from + part * (crossing.at - crossing.from);
            assert_eq!(
                leads(&with(&setting.model, &case, crossing.strength, part(0.999)), &own),
                own.leads,
                "{crossing:?}"
            );
            assert_ne!(
                leads(&with(&setting.model, &case, crossing.strength, part(1.001)), &own),
                own.leads,
                "{crossing:?}"
            );
            turns += 1;
        }
    }
    assert!(turns > 10, "only {turns} strengths turn an order: the cases are too clear");
}

#[test]
fn every_strength_that_turns_the_order_within_a_step_is_told_and_no_other() {
    for (case, setting, own) in all_firm() {
        for strength in strengths(&setting.model) {
            let (down, up) = one_step(&setting.model, strength.of(&setting.model).unwrap());
            let up = up.min(strength.most(&setting.model));
            let turned = [down, up]
                .into_iter()
                .any(|end| leads(&with(&setting.model, &case, strength, end), &own) != own.leads);
            let told = own.crossings.iter().any(|crossing| crossing.strength == strength);
            assert_eq!(told, turned && !own.field.is_empty(), "{strength:?} of {case}");
        }
    }
}

#[test]
fn the_least_move_comes_first_and_keeps_within_a_step() {
    let odds = |share: f64| libm::log(share / (1.0 - share));
    for (_, setting, own) in all_firm() {
        let moves = own.crossings.iter().map(|crossing| (odds(crossing.at) - odds(crossing.from)).abs());
        assert!(moves.collect::<Vec<_>>().is_sorted());
        for crossing in &own.crossings {
            let (down, up) = one_step(&setting.model, crossing.from);
            assert!(
                crossing.at >= down - 1e-9 && crossing.at <= up + 1e-9,
                "{crossing:?} from {down} to {up}"
            );
        }
    }
}

/// As many draws by the slow way: rules drawn, the case bound and weighed anew
#[test]
fn draws_are_what_the_case_says_under_rules_drawn_anew() {
    const DRAWS: usize = 60;
    for case in CASES {
        let setting = set(RULES, case);
        let own = firm(&setting, node(&setting, 0, &LEFT), DRAWS);
        let mut chances = Vec::new();
        let (mut leading, mut first) = (0, 0);
        for number in 0..DRAWS {
            let model = moved(&setting.model, &mut Dice::numbered(own.draws.seed, number as u64));
            let drawn = bind(model, case);
            let weighing = drawn.weighing();
            let causes = weighing.causes().unwrap();
            let chance = |node: NodeId| causes.iter().find(|one| one.node == node).unwrap().probability;
            chances.push(chance(own.cause));
            leading += usize::from(own.field.iter().all(|rival| chance(own.cause) >= chance(*rival)));
            first += usize::from(causes[0].node == own.cause);
        }
        chances.sort_by(f64::total_cmp);
        let count = DRAWS as f64;
        assert_eq!((own.draws.draws, own.draws.cut), (DRAWS, false));
        assert_eq!(own.draws.leads, leading as f64 / count);
        assert_eq!(own.draws.first, first as f64 / count);
        assert!((own.draws.low - chances[2]).abs() < 1e-12, "the third of 60 is the 5 % point");
        assert!((own.draws.middle - chances[29]).abs() < 1e-12);
        assert!((own.draws.high - chances[56]).abs() < 1e-12);
    }
}

#[test]
fn the_same_seed_gives_the_same_and_work_has_a_bound() {
    let setting = set(RULES, CASES[2]);
    let cause = node(&setting, 0, &LEFT);
    let run = |effort: Effort| setting.weighing().robust(cause, &effort).unwrap().draws;
    assert_eq!(run(Effort::of(50)), run(Effort::of(50)));
    assert_ne!(run(Effort::of(50)), run(Effort { seed: 2, ..Effort::of(50) }));
    let cut = run(Effort { most_work: 4000, ..Effort::of(50) });
    assert!(cut.cut && cut.draws < 50, "{cut:?}");
}

#[test]
fn a_cause_at_its_other_place_is_no_rival() {
    let setting = set(RULES, CASES[3]);
    let own = firm(&setting, node(&setting, 0, &LEFT), 0);
    assert!(!own.field.contains(&node(&setting, 0, &Place::Side(Side::Right))));
    assert!(
        own.field.contains(&node(&setting, 1, &LEFT))
            && own.field.contains(&node(&setting, 2, &Place::Machine))
    );
}

/// Words of the test rules' scale: 8, 30, 60, 85 and 100 per cent; a step past an end is as long as the last between two words
#[rstest]
#[case(0.30, 0.08, 0.60)]
#[case(0.60, 0.30, 0.85)]
#[case(0.85, 0.60, 0.955_372)]
#[case(0.08, 0.017_337, 0.30)]
#[case(0.0, 0.0, 0.0)]
#[case(1.0, 1.0, 1.0)]
fn a_step_goes_to_the_next_word(#[case] share: f64, #[case] down: f64, #[case] up: f64) {
    let model = set(RULES, CASES[0]).model;
    let told = one_step(&model, share);
    assert!((told.0 - down).abs() < 1e-6 && (told.1 - up).abs() < 1e-6, "{told:?}");
}

#[test]
fn a_share_between_two_words_takes_a_whole_step() {
    let model = set(RULES, CASES[0]).model;
    let odds = |share: f64| libm::log(share / (1.0 - share));
    let middle = 1.0 / (1.0 + libm::exp(-0.5 * (odds(0.30) + odds(0.60))));
    let (down, up) = one_step(&model, middle);
    assert!((odds(down) - 0.5 * (odds(0.08) + odds(0.30))).abs() < 1e-12);
    assert!((odds(up) - 0.5 * (odds(0.60) + odds(0.85))).abs() < 1e-12);
    let nothing_said = one_step(&Model::default(), 0.5);
    assert!((odds(nothing_said.1) - 1.4).abs() < 1e-12, "without words a step is 1.4 of log-odds");
}
