//! Evidence far outside the range of a double, certainties, and evidence that cannot be

use pinboss::infer::draw::Dice;
use pinboss::infer::information::{Effort, information};
use pinboss::infer::{Finding, Limits, compile};
use pinboss::network::shape::Shape;
use pinboss::network::{Law, Network, NodeId, Path};
use proptest::collection::vec;
use proptest::prelude::*;
use rstest::rstest;

fn root(network: &mut Network, rows: &[f64]) -> NodeId {
    network.add("root", rows.len(), Law::Table { parents: Vec::new(), rows: rows.to_vec() }).unwrap()
}

/// Noisy-OR of one parent with a leak
fn effect(network: &mut Network, parent: NodeId, strength: f64, leak: f64) -> NodeId {
    let paths = vec![
        Path { parents: vec![parent], rows: vec![1.0, 0.0, 1.0 - strength, strength] },
        Path { parents: Vec::new(), rows: vec![1.0 - leak, leak] },
    ];
    network.add("effect", 2, Law::Max { shape: Shape::Ladder { grades: 2 }, paths }).unwrap()
}

/// One hundred findings say 1e300 to 1 for the cause and one hundred the same against it: they
/// cancel, though neither hundred fits a double
#[test]
fn findings_past_every_double_cancel() {
    let mut network = Network::new();
    let cause = root(&mut network, &[0.7, 0.3]);
    let mut findings = Vec::new();
    for number in 0..200 {
        let rows = if number < 100 { vec![1.0, 1e-300, 1e-300, 1.0] } else { vec![1e-300, 1.0, 1.0, 1e-300] };
        let node = network.add("sign", 2, Law::Table { parents: vec![cause], rows }).unwrap();
        findings.push(Finding::state(&network, node, 1));
    }
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    let beliefs = circuit.evaluate(&circuit.weights());
    assert!((beliefs.probability(cause, 1).unwrap() - 0.3).abs() < 1e-12);
    let expected = -30_000.0 * std::f64::consts::LN_10;
    assert!((beliefs.log_evidence / expected - 1.0).abs() < 1e-12, "{}", beliefs.log_evidence);
    let mut weights = circuit.weights();
    weights.switch(0, false);
    let left = circuit.evaluate(&weights).probability(cause, 1).unwrap();
    assert!((left / (0.3 / 0.7 * 1e-300) - 1.0).abs() < 1e-12, "odds of 1e-300 are left: {left}");
    let mut dice = Dice::seeded(3);
    let sampler = circuit.sampler(&circuit.weights()).unwrap().of(&[cause]).unwrap();
    let present = (0..10_000).filter(|_| sampler.draw(&mut dice) == [1]).count();
    assert!((2_800..3_200).contains(&present), "{present}");
}

#[test]
fn two_hundred_effects_of_one_cause_with_a_leak_of_nothing() {
    let mut network = Network::new();
    let cause = root(&mut network, &[1.0 - 1e-300, 1e-300]);
    let mut findings = Vec::new();
    for _ in 0..200 {
        let node = effect(&mut network, cause, 1e-300, 0.0);
        findings.push(Finding::state(&network, node, 1));
    }
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    let beliefs = circuit.evaluate(&circuit.weights());
    assert_eq!(beliefs.probability(cause, 1), Some(1.0), "nothing else can explain them");
    let expected = -300.0 * 201.0 * std::f64::consts::LN_10;
    assert!((beliefs.log_evidence / expected - 1.0).abs() < 1e-12, "{}", beliefs.log_evidence);
}

/// Two paths of one cause, each opening an arm once in 1e200: both arms at once have no double, but
/// they can be seen
#[test]
fn contributions_whose_product_is_no_double_still_meet() {
    let mut network = Network::new();
    let cause = root(&mut network, &[0.5, 0.5]);
    let path = |arm: usize| {
        let mut present = vec![1.0, 0.0, 0.0, 0.0];
        present[arm] = 1e-200;
        Path { parents: vec![cause], rows: [vec![1.0, 0.0, 0.0, 0.0], present].concat() }
    };
    let paths = vec![path(1), path(2)];
    let arms = network.add("arms", 4, Law::Max { shape: Shape::Arms { low: 1, high: 1 }, paths }).unwrap();
    let circuit = compile(&network, &[Finding::state(&network, arms, 3)], &[], &Limits::default()).unwrap();
    let beliefs = circuit.evaluate(&circuit.weights());
    assert_eq!(beliefs.probability(cause, 1), Some(1.0));
    let expected = -400.0 * std::f64::consts::LN_10 - std::f64::consts::LN_2;
    assert!((beliefs.log_evidence / expected - 1.0).abs() < 1e-12, "{}", beliefs.log_evidence);
}

/// Ratio of two probabilities of evidence, neither of which need be a double
#[test]
fn ratios_of_evidence() {
    let mut network = Network::new();
    let cause = root(&mut network, &[0.75, 0.25, 0.0]);
    let found = |likelihood: f64, state: usize| {
        let mut entries = vec![0.0; 3];
        entries[state] = likelihood;
        let findings: Vec<Finding> =
            (0..4).map(|_| Finding { node: cause, likelihood: entries.clone() }).collect();
        let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
        circuit.evaluate(&circuit.weights())
    };
    let (often, seldom, never) = (found(1e-200, 0), found(1e-200, 1), found(1.0, 2));
    assert!((often.evidence_over(&seldom) - 3.0).abs() < 1e-12);
    assert!((seldom.evidence_over(&found(1.0, 0)) / 1e-300).is_finite());
    assert_eq!(never.evidence_over(&often), 0.0);
    assert_eq!(often.evidence_over(&never), f64::INFINITY);
    assert_eq!(never.evidence_over(&never), 0.0);
}

/// A likelihood counts up to its scale, however large or small that is
#[rstest]
#[case::huge(1e300)]
#[case::tiny(1e-300)]
#[case::below_the_normal_range(1e-310)]
fn scale_only_moves_the_evidence(#[case] scale: f64) {
    let mut network = Network::new();
    let cause = root(&mut network, &[0.9, 0.1]);
    let findings: Vec<Finding> =
        (0..50).map(|_| Finding { node: cause, likelihood: vec![scale, scale] }).collect();
    let circuit = compile(&network, &findings, &[cause], &Limits::default()).unwrap();
    let mut weights = circuit.weights();
    assert!(weights.observe(cause, &[scale, scale]));
    let beliefs = circuit.evaluate(&weights);
    assert!((beliefs.probability(cause, 1).unwrap() - 0.1).abs() < 1e-12);
    let expected = 51.0 * libm::log(scale);
    assert!((beliefs.log_evidence / expected - 1.0).abs() < 1e-12, "{}", beliefs.log_evidence);
}

/// Certain copies of one node, three hundred in a row
#[test]
fn certainty_travels_along_a_row() {
    let mut network = Network::new();
    let mut last = root(&mut network, &[0.25, 0.75]);
    let first = last;
    for _ in 0..300 {
        let copy = Law::Table { parents: vec![last], rows: vec![1.0, 0.0, 0.0, 1.0] };
        last = network.add("copy", 2, copy).unwrap();
    }
    let findings = [Finding::state(&network, last, 0)];
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    let beliefs = circuit.evaluate(&circuit.weights());
    assert_eq!(beliefs.marginal(first), Some([1.0, 0.0].as_slice()));
    assert!((beliefs.log_evidence - libm::log(0.25)).abs() < 1e-12);
}

#[test]
fn impossible_findings_leave_no_posterior() {
    let mut network = Network::new();
    let cause = root(&mut network, &[0.9, 0.1]);
    let shown = effect(&mut network, cause, 0.8, 0.0);
    let apart = root(&mut network, &[0.5, 0.5]);
    let findings = [Finding::state(&network, cause, 0), Finding::state(&network, shown, 1)];
    let circuit = compile(&network, &findings, &[apart], &Limits::default()).unwrap();
    let beliefs = circuit.evaluate(&circuit.weights());
    assert!(beliefs.is_impossible());
    assert_eq!(beliefs.log_evidence, f64::NEG_INFINITY);
    assert_eq!(beliefs.marginal(apart), None, "not even of what has nothing to do with it");
    assert!(circuit.sampler(&circuit.weights()).is_none());
    let none =
        information(&network, &findings, &[apart], &[cause], &Limits::default(), &Effort::default()).unwrap();
    assert_eq!((none.bits, none.outcomes.len(), none.before.len()), (0.0, 0, 0));
    let mut weights = circuit.weights();
    assert!(weights.switch(0, false), "without one of the two they can be");
    assert_eq!(circuit.evaluate(&weights).probability(cause, 1), Some(1.0));
}

/// The leak alone can be what makes a factored finding impossible
#[test]
fn a_leak_that_always_shows_forbids_the_normal_state() {
    let mut network = Network::new();
    let cause = root(&mut network, &[0.9, 0.1]);
    let shown = effect(&mut network, cause, 0.8, 1.0);
    let findings = [Finding::state(&network, shown, 0)];
    let circuit = compile(&network, &findings, &[cause], &Limits::default()).unwrap();
    assert!(circuit.evaluate(&circuit.weights()).is_impossible());
    assert!(circuit.sampler(&circuit.weights()).is_none());
}

#[rstest]
#[case::not_a_number(&[f64::NAN, 1.0])]
#[case::negative(&[-1.0, 1.0])]
#[case::infinite(&[f64::INFINITY, 1.0])]
#[case::too_long(&[0.0, 1.0, 1.0])]
fn a_faulty_likelihood_counts_as_nought_where_it_is_faulty(#[case] likelihood: &[f64]) {
    let mut network = Network::new();
    let cause = root(&mut network, &[0.9, 0.1]);
    let findings = [Finding { node: cause, likelihood: likelihood.to_vec() }];
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    assert_eq!(circuit.evaluate(&circuit.weights()).marginal(cause), Some([0.0, 1.0].as_slice()));
}

#[test]
fn a_short_likelihood_forbids_the_rest() {
    let mut network = Network::new();
    let cause = root(&mut network, &[0.5, 0.25, 0.25]);
    let findings = [Finding { node: cause, likelihood: vec![1.0] }];
    let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
    assert_eq!(circuit.evaluate(&circuit.weights()).marginal(cause), Some([1.0, 0.0, 0.0].as_slice()));
}

proptest! {
    /// Two hundred signs of one cause, each with chances from the whole range of doubles, against
    /// sums of logarithms
    #[test]
    fn any_chances_against_sums_of_logarithms(
        prior in 0.01..0.99_f64,
        exponents in vec((-300..=0_i32, -300..=0_i32), 1..200),
    ) {
        let mut network = Network::new();
        let cause = root(&mut network, &[1.0 - prior, prior]);
        let mut findings = Vec::new();
        let mut sums = [libm::log(1.0 - prior), libm::log(prior)];
        for (absent, present) in exponents {
            let (absent, present) = (libm::exp10(f64::from(absent)), libm::exp10(f64::from(present)));
            let rows = vec![1.0 - absent, absent, 1.0 - present, present];
            let node = network.add("sign", 2, Law::Table { parents: vec![cause], rows }).unwrap();
            findings.push(Finding::state(&network, node, 1));
            sums = [sums[0] + libm::log(absent), sums[1] + libm::log(present)];
        }
        let circuit = compile(&network, &findings, &[], &Limits::default()).unwrap();
        let beliefs = circuit.evaluate(&circuit.weights());
        let top = sums[0].max(sums[1]);
        let log_sum = top + libm::log(libm::exp(sums[0] - top) + libm::exp(sums[1] - top));
        prop_assert!((beliefs.log_evidence - log_sum).abs() < 1e-9 * log_sum.abs().max(1.0));
        let expected = libm::exp(sums[1] - log_sum);
        prop_assert!((beliefs.probability(cause, 1).unwrap() - expected).abs() < 1e-9);
    }
}

/// Strengths and leaks at the ends of what a probability can be, and in the middle
fn strength() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), Just(1.0), Just(1e-300), Just(1e-17), Just(1.0 - f64::EPSILON), 0.0..1.0]
}

proptest! {
    /// Two hundred noisy-ORs of two causes, found normal or not, with certainties and chances of 1e-300 among their
    /// strengths, against sums of logarithms over the four states of the causes
    #[test]
    fn any_strengths_against_sums_of_logarithms(
        priors in [strength(), strength()],
        signs in vec((strength(), strength(), strength(), 0..2_usize), 200),
    ) {
        let mut network = Network::new();
        let causes = priors.map(|prior| root(&mut network, &[1.0 - prior, prior]));
        let mut findings = Vec::new();
        let states = [[0, 0], [0, 1], [1, 0], [1, 1]];
        let of = |state: usize, chance: f64| libm::log(if state == 1 { chance } else { 1.0 - chance });
        let mut sums = states.map(|[a, b]| of(a, priors[0]) + of(b, priors[1]));
        for (first, second, leak, found) in signs {
            let path = |cause, strength| Path { parents: vec![cause], rows: vec![1.0, 0.0, 1.0 - strength, strength] };
            let leaking = Path { parents: Vec::new(), rows: vec![1.0 - leak, leak] };
            let paths = vec![path(causes[0], first), path(causes[1], second), leaking];
            let node = network.add("sign", 2, Law::Max { shape: Shape::Ladder { grades: 2 }, paths }).unwrap();
            findings.push(Finding::state(&network, node, found));
            for (sum, [a, b]) in sums.iter_mut().zip(states) {
                let (first, second) = (first * a as f64, second * b as f64);
                let normal = (1.0 - first) * (1.0 - second) * (1.0 - leak);
                // Not one minus the normal: what is as small as 1e-300 would be lost.
                let shown = first + (1.0 - first) * (second + (1.0 - second) * leak);
                *sum += libm::log(if found == 1 { shown } else { normal });
            }
        }
        let circuit = compile(&network, &findings, &causes, &Limits::default()).unwrap();
        let beliefs = circuit.evaluate(&circuit.weights());
        let top = sums.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        prop_assert_eq!(beliefs.is_impossible(), top == f64::NEG_INFINITY);
        if beliefs.is_impossible() {
            prop_assert_eq!(beliefs.log_evidence, f64::NEG_INFINITY);
            return Ok(());
        }
        let log_sum = top + libm::log(sums.iter().map(|sum| libm::exp(sum - top)).sum());
        prop_assert!((beliefs.log_evidence - log_sum).abs() < 1e-9 * log_sum.abs().max(1.0));
        for (place, &cause) in causes.iter().enumerate() {
            let present = states.iter().zip(sums).filter(|(state, _)| state[place] == 1);
            let expected: f64 = present.map(|(_, sum)| libm::exp(sum - log_sum)).sum();
            let marginal = beliefs.marginal(cause).unwrap();
            prop_assert!((marginal[1] - expected).abs() < 1e-9, "{} for {}", marginal[1], expected);
            prop_assert!((marginal[0] + marginal[1] - 1.0).abs() < 1e-12);
        }
    }
}
