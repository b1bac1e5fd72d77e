//! Rules with every strength drawn anew around its value.

use crate::support::setting::set;
use pinboss::infer::draw::Dice;
use pinboss::model::{Basis, Effect, Model};
use pinboss::reason::strengths::{moved, spread};
use rstest::rstest;
use std::sync::Arc;

const RULES: &str = "\
fact ground: \"ground\"
    choices soft 75%, hard 25%
    tell \"Look.\"  takes 1 min
cause loose: \"bolts loose\"
    kind upkeep
    chance 20% of machines where ground is soft
    chance 100% of machines
    basis common practice
condition toe: \"toe\"
    grades  none, some, much
    with    loose: 50% some, 50% much
    without 0% some, 3% much
    basis   \"a field manual\"
symptom knock: \"knock\"
    grades  none, faint, loud
    with    loose: often faint, sometimes loud
    with    toe: always loud
    without 2% faint
    basis   estimate
check look: \"Look at it\"
    shows knock
    takes 2 min
";

const DRAWS: usize = 4000;

fn rules() -> Arc<Model> {
    set(RULES, "case: c\nmachine: {tag: T}\n").model
}

fn odds(share: f64, rest: f64) -> f64 {
    libm::log(share / rest)
}

fn shares(row: &[(usize, f64)]) -> Vec<f64> {
    row.iter().map(|(_, share)| *share).collect()
}

/// Logarithm of the odds of each share that moves against what its line leaves over, cause's chance first
fn log_odds(model: &Model) -> [f64; 5] {
    let chance = model.causes[0].chances[0].share;
    let line = |effect: &Effect, row: &[(usize, f64)], number: usize| {
        assert!(number < row.len() && row.len() < effect.grades.states());
        odds(row[number].1, 1.0 - shares(row).iter().sum::<f64>())
    };
    let toe = &model.conditions[0];
    let knock = &model.symptoms[0].effect;
    [
        odds(chance, 1.0 - chance),
        line(toe, &toe.leaks[0].effects, 1),
        line(knock, &knock.lines[0].effects, 0),
        line(knock, &knock.lines[0].effects, 1),
        line(knock, &knock.leaks[0].effects, 0),
    ]
}

#[rstest]
#[case(0, 0.5)]
#[case(1, 0.3)]
#[case(2, 0.7)]
#[case(3, 0.7)]
#[case(4, 0.7)]
fn log_odds_keep_their_middle_and_spread_by_basis(#[case] number: usize, #[case] spread: f64) {
    let model = rules();
    let middle = log_odds(&model)[number];
    let mut dice = Dice::seeded(5);
    let mut drawn: Vec<f64> =
        (0..DRAWS).map(|_| log_odds(&moved(&model, &mut dice))[number] - middle).collect();
    drawn.sort_by(f64::total_cmp);
    let count = DRAWS as f64;
    let mean = drawn.iter().sum::<f64>() / count;
    let variance = drawn.iter().map(|one| (one - mean) * (one - mean)).sum::<f64>() / count;
    // Four standard errors of a median, and of a standard deviation, of so many normal draws.
    let error = 4.0 * spread * libm::sqrt(std::f64::consts::FRAC_PI_2 / count);
    assert!(drawn[DRAWS / 2].abs() < error, "the median strays by {}", drawn[DRAWS / 2]);
    let strays = libm::sqrt(variance) - spread;
    assert!(strays.abs() < 4.0 * spread / libm::sqrt(2.0 * count), "the spread strays by {strays}");
    // And the form: so much of a normal distribution lies within one standard deviation.
    let within = drawn.iter().filter(|one| one.abs() < spread).count() as f64 / count;
    assert!((within - 0.6827).abs() < 4.0 * libm::sqrt(0.6827 * 0.3173 / count), "{within}");
}

#[test]
fn every_strength_draws_its_own_number() {
    let model = rules();
    let middle = log_odds(&model);
    let drawn = log_odds(&moved(&model, &mut Dice::seeded(1)));
    let mut steps: Vec<f64> = drawn.iter().zip(middle).map(|(own, middle)| own - middle).collect();
    steps.sort_by(f64::total_cmp);
    assert!(steps.windows(2).all(|pair| pair[1] - pair[0] > 1e-6), "{steps:?}");
}

#[test]
fn shares_stay_shares_and_certain_ones_stay_as_they_are() {
    let model = rules();
    let mut dice = Dice::seeded(2);
    for _ in 0..200 {
        let drawn = moved(&model, &mut dice);
        assert_eq!(drawn.causes[0].chances[1].share, 1.0);
        let toe = &drawn.conditions[0];
        assert_eq!(toe.leaks[0].effects[0].1, 0.0);
        assert!(
            (shares(&toe.lines[0].effects).iter().sum::<f64>() - 1.0).abs() < 1e-12,
            "filled, and stays so"
        );
        assert!(toe.lines[0].effects[0].1 != 0.5, "but its halves move");
        let knock = &drawn.symptoms[0].effect;
        assert_eq!(shares(&knock.lines[1].effects), [1.0], "`always` is 100 % in these rules");
        assert!(shares(&knock.lines[0].effects).iter().sum::<f64>() < 1.0);
        assert_eq!(drawn.facts, model.facts);
    }
}

#[test]
fn the_same_dice_draw_the_same_rules() {
    let model = rules();
    let draws = |seed: u64| {
        let mut dice = Dice::seeded(seed);
        [moved(&model, &mut dice), moved(&model, &mut dice)].map(|drawn| log_odds(&drawn).map(f64::to_bits))
    };
    assert_eq!(draws(3), draws(3));
    assert_ne!(draws(3), draws(4));
    assert_ne!(draws(3)[0], draws(3)[1]);
}

#[rstest]
#[case(Some(Basis::CommonPractice), 0.5)]
#[case(Some(Basis::Source("a field manual".to_owned())), 0.3)]
#[case(Some(Basis::Estimate), 0.7)]
#[case(None, 0.7)]
fn what_a_strength_rests_on_says_how_far_it_may_be_off(#[case] basis: Option<Basis>, #[case] expected: f64) {
    assert_eq!(spread(basis.as_ref()), expected);
}
