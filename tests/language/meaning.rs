//! From clauses to the model: names resolved, figures in base units, tests as choices, lines in their order.

use crate::language::said::model;
use pinboss::model::formula::{Formula, Operator, Row};
use pinboss::model::grades::Shape;
use pinboss::model::test::{Bound, Spot, Term};
use pinboss::model::{
    Basis, CauseId, ConditionId, Counted, Extent, FactId, Forms, Hidden, How, MeasureId, Model, Parent,
    ParentGrade, PartId, Reach, RemedyId, Renewed, Setting, Sign, StateId, SymptomId, Threshold,
};
use pinboss::place::Side;
use pinboss::units::Unit;
use rstest::rstest;

/// Something of every sort, to hang the lines below on
const START: &str = r#"
scale
    seldom 8%   always 98%   often 60%
kind wear: "wear" counts against nobody
state cleaned: "cleaned"
state hot: "hot"
part roller, each side, numbered 5 to 9: "roller"
part idler, each side: "idler"  only where layout is high
part chain, each side: "chain"  rubs roller
fact layout: "layout"
    choices low 60%, high 30%, odd 10%
fact age, each side: "age"
    choices early 50%, late 50%
cause slope: "slope"
    kind wear
    chance 6% of machines, toward one side
cause seal, each roller: "seal"
    kind wear
    chance 1% of rollers
    forms inner, outer
condition toe, each side: "toe"
    grades far_in < toed_in < straight > toed_out
    without 1% toed_in
measure height, each side: "height"
    unit mm   range 60 to 160   error 0.5
measure gap, each roller: "gap"
    unit in   range 0 to 2   error 0.1
    needs "wedge", "lamp"
symptom visible, each side: "seen"
    without 1%
"#;

fn with(text: &str) -> Model {
    model(&format!("{START}{text}"))
}

#[test]
fn the_words_of_the_scale_stand_commonest_first() {
    let scale = with("").scale;
    let scale: Vec<(&str, f64)> = scale.iter().map(|(word, share)| (word.as_str(), *share)).collect();
    assert_eq!(scale, [("always", 0.98), ("often", 0.6), ("seldom", 0.08)]);
}

#[rstest]
#[case("", &["no", "yes"], Shape::Ladder)]
#[case("    grades none, slight, heavy\n", &["none", "slight", "heavy"], Shape::Ladder)]
#[case("    grades none, a | b | c, both\n", &["none", "a", "b", "c", "both"], Shape::Alternatives)]
#[case("    grades far < low < right > high\n", &["right", "low", "far", "high"], Shape::Arms { low: 2 })]
fn grades_stand_normal_first(#[case] grades: &str, #[case] names: &[&str], #[case] shape: Shape) {
    let effect = if names.len() == 2 { String::new() } else { format!(" {}", names[1]) };
    let model = with(&format!("condition c: \"c\"\n{grades}    without 0%{effect}\n"));
    let grades = &model.conditions[1].grades;
    assert_eq!((&grades.names, grades.shape), (&owned(names), shape));
}

/// Words as the strings of a model
fn owned(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

const SLOPE: Hidden = Hidden::Cause(CauseId(0));
const SEAL: Hidden = Hidden::Cause(CauseId(1));
const TOE: Hidden = Hidden::Condition(ConditionId(0));

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("each side", "slope", SLOPE, ParentGrade::Any, Reach::Here)]
#[case("each side", "slope toward this side", SLOPE, ParentGrade::ThisSide, Reach::Here)]
#[case("each roller", "slope toward the other side", SLOPE, ParentGrade::OtherSide, Reach::Here)]
#[case("each side", "slope left", SLOPE, ParentGrade::Grade(1), Reach::Here)]
#[case("each side", "slope right", SLOPE, ParentGrade::Grade(2), Reach::Here)]
#[case("each roller", "seal outer", SEAL, ParentGrade::Grade(2), Reach::Here)]
#[case("each side", "seal on any roller", SEAL, ParentGrade::Any, Reach::Each)]
#[case("each side", "seal inner on any roller", SEAL, ParentGrade::Grade(1), Reach::Each)]
#[case("each side", "toe toed_in", TOE, ParentGrade::Grade(1), Reach::Here)]
#[case("each roller", "toe far_in", TOE, ParentGrade::Grade(2), Reach::Here)]
#[case("each side", "toe toed_out", TOE, ParentGrade::Grade(3), Reach::Here)]
fn a_parent_means(
    #[case] place: &str, #[case] parent: &str, #[case] of: Hidden, #[case] grade: ParentGrade, #[case] reach: Reach,
) {
    let model = with(&format!("symptom s, {place}: \"s\"\n    with {parent}: often\n         \"Why.\"\n"));
    let [line] = model.symptoms[1].effect.lines.as_slice() else { panic!("one line") };
    assert_eq!(line.parents, [Parent { of, grade, reach }]);
    assert_eq!((line.effects.as_slice(), line.because.as_deref()), (&[(1, 0.6)][..], Some("Why.")));
}

/// Effects name states: on two arms, the state in which the grade alone shows
#[test]
fn effects_are_shares_of_states() {
    let model = with(
        "symptom s, each side: \"s\"\n    grades a < n > b > c\n    with toe: often b, 5% a, seldom c\n    without 0.5% c\n",
    );
    let effect = &model.symptoms[1].effect;
    assert_eq!(effect.lines[0].effects, [(1, 0.6), (3, 0.05), (2, 0.08)]);
    assert_eq!(effect.leaks[0].effects, [(2, 0.005)]);
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("layout is low or odd", Term::Fact { fact: FactId(0), choices: vec![0, 2] })]
#[case("layout is not low", Term::Fact { fact: FactId(0), choices: vec![1, 2] })]
#[case("age are late", Term::Fact { fact: FactId(1), choices: vec![1] })]
#[case("rollers over 6", Term::Count { part: PartId(0), bound: Bound::Over(6.0) })]
#[case("rollers under 7", Term::Count { part: PartId(0), bound: Bound::Under(7.0) })]
#[case("rollers is 5 or 6", Term::Count { part: PartId(0), bound: Bound::OneOf(vec![5.0, 6.0], false) })]
#[case("rollers is not 5", Term::Count { part: PartId(0), bound: Bound::OneOf(vec![5.0], true) })]
#[case("hours over 2000", Term::Hours(Bound::Over(2000.0)))]
#[case("hours under 90 min", Term::Hours(Bound::Under(1.5)))]
#[case("side is right", Term::Side(Side::Right))]
#[case("side is not right", Term::Side(Side::Left))]
#[case("roller is first or last", Term::Spot { part: PartId(0), spots: vec![Spot::First, Spot::Last], negated: false })]
#[case("roller is not in rear half", Term::Spot { part: PartId(0), spots: vec![Spot::RearHalf], negated: true })]
fn a_test_means(#[case] test: &str, #[case] term: Term) {
    let model = with(&format!("symptom s, each roller: \"s\"\n    without 1% where {test}\n"));
    assert_eq!(model.symptoms[1].effect.leaks[0].test.terms, [term]);
}

/// A gate is the block's own and that of the part it is seen on
#[test]
fn a_gate_is_the_blocks_own_and_its_parts() {
    let model = with("symptom s, each side, of idler: \"s\"\n    only where age is late\n    without 1%\n");
    let own = Term::Fact { fact: FactId(1), choices: vec![1] };
    let part = Term::Fact { fact: FactId(0), choices: vec![1] };
    assert_eq!(model.symptoms[1].effect.common.gate.terms, [own, part]);
    assert_eq!(model.symptoms[1].effect.common.part, Some(PartId(1)));
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("height: a, b under 100 mm, c under 90 mm", &[(0, 100.0, f64::INFINITY), (1, 90.0, 100.0), (2, f64::NEG_INFINITY, 90.0)])]
#[case("height: a, b over 5 in", &[(0, f64::NEG_INFINITY, 127.0), (1, 127.0, f64::INFINITY)])]
#[case("worn height: a, b over 40%, c over 80%", &[(0, f64::NEG_INFINITY, 40.0), (1, 40.0, 80.0), (2, 80.0, f64::INFINITY)])]
#[case("pace height: a, b over 150%", &[(0, f64::NEG_INFINITY, 1.5), (1, 1.5, f64::INFINITY)])]
#[case("height / new height: a, b under 0.9", &[(0, 0.9, f64::INFINITY), (1, f64::NEG_INFINITY, 0.9)])]
#[case("height: a, b under 90 mm, c over 110 mm", &[(0, 90.0, 110.0), (2, 110.0, f64::INFINITY), (1, f64::NEG_INFINITY, 90.0)])]
#[case("hours of chain: a, b over 90 min", &[(0, f64::NEG_INFINITY, 1.5), (1, 1.5, f64::INFINITY)])]
fn bounds_become_intervals(#[case] from: &str, #[case] intervals: &[(usize, f64, f64)]) {
    let model = with(&format!("symptom s, each side: \"s\"\n    grades a, b, c\n    from {from}\n    without 1% b\n"));
    let (_, bounds) = model.symptoms[1].reading.as_ref().unwrap();
    assert_eq!(bounds.intervals, intervals);
}

#[test]
fn an_expression_is_resolved() {
    let model = with(
        "symptom s, each side: \"s\"\n    from half of height - mean of gap across front half of rollers: no, yes over 1 mm\n    without 1%\n",
    );
    let (formula, _) = model.symptoms[1].reading.as_ref().unwrap();
    let Formula::Pair(first, Operator::Minus, second) = formula else { panic!("{formula:?}") };
    let half = Formula::Pair(
        Box::new(Formula::Measure(MeasureId(0))),
        Operator::Times,
        Box::new(Formula::Figure(0.5)),
    );
    assert_eq!(**first, half);
    let Formula::Across { of, row, .. } = &**second else { panic!("{second:?}") };
    assert_eq!((&**of, row), (&Formula::Measure(MeasureId(1)), &Row::Front(PartId(0))));
}

#[test]
fn a_fact_is_reckoned() {
    let model = with(
        "fact turned, each side: \"t\"\n    from turn of chain: first, second\n    choices first 50%, second 50%\n    tell \"Look.\"  takes 0.1 h\n",
    );
    let fact = &model.facts[2];
    let (formula, bounds) = fact.derived.as_ref().unwrap();
    assert_eq!(*formula, Formula::Turn(PartId(2)));
    assert_eq!((bounds.grade(0.0), bounds.grade(1.0)), (Some(0), Some(1)));
    assert_eq!(fact.tell, Some(("Look.".to_owned(), 6.0)));
    assert_eq!(fact.shares[0].1, [0.5, 0.5]);
}

#[test]
fn numbers_of_joints_become_thresholds() {
    let model = with(
        "symptom s, each side: \"s\"\n    grades none, one, most\n    counts one 2, most over 40% of joints or pins\n    gives way to visible\n    without 1% one\n",
    );
    let symptom = &model.symptoms[1];
    let counted = [
        Counted { grade: 1, from: Threshold::Number(2.0), over: false },
        Counted { grade: 2, from: Threshold::Share(0.4), over: true },
    ];
    assert_eq!(
        (symptom.counts.as_slice(), symptom.gives_way.as_slice()),
        (&counted[..], &[SymptomId(0)][..])
    );
    assert_eq!(symptom.counted, ["joints", "pins"]);
}

#[test]
fn causes_have_kinds_forms_and_chances() {
    let model = with(
        "cause c, each roller: \"c\"\n    kind wear\n    chance often of sides where age is late\n    chance 0.3% of rollers\n",
    );
    assert_eq!(
        (&model.causes[0].forms, &model.causes[1].forms),
        (&Forms::Sides, &Forms::Named(owned(&["inner", "outer"])))
    );
    let cause = &model.causes[2];
    assert_eq!(
        (cause.common.extent, cause.kind.0, &cause.forms),
        (Extent::Each(PartId(0)), 0, &Forms::Plain)
    );
    let chances: Vec<(f64, Extent, usize)> =
        cause.chances.iter().map(|chance| (chance.share, chance.noun, chance.test.terms.len())).collect();
    assert_eq!(chances, [(0.6, Extent::Side, 1), (0.003, Extent::Each(PartId(0)), 0)]);
    assert_eq!(model.parts[0].numbered, Some((5, 9)));
    assert_eq!(model.parts[2].rubs, Some(PartId(0)));
}

/// What a remedy asks of signs stands apart from its gate, which hangs on facts alone
#[test]
fn a_remedy_asks_what_was_seen() {
    let model = with(
        "remedy r, each roller: \"Renew\"
    fixes seal
    only where age is late and visible is not no
",
    );
    let remedy = &model.remedies[0];
    assert_eq!(remedy.signs, [Sign { symptom: SymptomId(0), grades: vec![1] }]);
    assert_eq!(remedy.common.gate.terms, [Term::Fact { fact: FactId(1), choices: vec![1] }]);
}

/// Sizes in the base unit of the measure, whatever they are written in
#[test]
fn sizes_and_lives() {
    let model = with(
        "dimensions medium: \"invented\"
    gap 1 in 0%, 12.7 mm 100%, after that 2.5 times as fast tolerance 0.1 in where age is late
    gap 20 mm
life medium: \"hours\"  spread 18%
    gap 600 min where age is late
    gap 5000 h
",
    );
    let size = &model.sizes["medium"];
    let rows = &size.dimensions[&MeasureId(1)];
    assert_eq!(rows[0].points, [(25.4, 0.0), (12.7, 100.0)]);
    assert!((rows[0].tolerance - 2.54).abs() < 1e-12);
    assert_eq!(
        (rows[0].after, rows[0].test.terms.len(), rows[1].points.as_slice()),
        (2.5, 1, &[(20.0, 0.0)][..])
    );
    let lives: Vec<f64> = size.life[&MeasureId(1)].iter().map(|(hours, _)| *hours).collect();
    assert_eq!((lives.as_slice(), size.spread, size.label.as_str()), (&[10.0, 5000.0][..], 0.18, "invented"));
    let How::Read { unit, range, error, .. } = &model.measures[1].how else { panic!("read") };
    assert_eq!((*unit, *range), (Unit::Inch, (0.0, 50.8)));
    assert!((error - 2.54).abs() < 1e-12);
    assert_eq!(model.measures[1].needs, ["wedge", "lamp"]);
}

#[test]
fn checks_and_remedies() {
    let model = with(
        "check k, each side: \"Look\"
    shows visible
    reads height, gap
    while cleaned
    makes hot
    ends cleaned
    takes 0.5 h
    needs \"torch\"
    needs \"rod\"
    access lifted
    caution \"Crib it.\"
    caution \"Stand clear.\"
remedy r: \"Renew\"
    fixes slope, toe
    renews height from 85%, gap from 90% to 115%
    spares s
    lasts height 55% of 80% where hours over 8000
    while cleaned
    takes 90 min
    costs 150
    within 100 h
    left \"It goes on.\" loses 4000
    caution \"Heavy.\"
    basis \"A book, page 3\"
    text \"How.\"
remedy s: \"Wait\"
    fixes toe
    finds out
    takes 1 h
    basis estimate
remedy t: \"Set it\"
    fixes toe
    sets right last
    basis estimate
",
    );
    let check = &model.checks[0];
    assert_eq!(
        (check.shows.as_slice(), check.reads.as_slice()),
        (&[SymptomId(0)][..], &[MeasureId(0), MeasureId(1)][..])
    );
    assert_eq!(
        (check.needs_state, check.makes, check.ends.as_slice()),
        (Some(StateId(0)), Some(StateId(1)), &[StateId(0)][..])
    );
    assert_eq!((check.minutes, check.needs.as_slice()), (30.0, owned(&["torch", "rod"]).as_slice()));
    assert_eq!((check.access.as_deref(), check.cautions.len()), (Some("lifted"), 2));
    let remedy = &model.remedies[0];
    assert_eq!(
        (remedy.fixes.as_slice(), remedy.renews.as_slice()),
        (
            &[SLOPE, TOE][..],
            &[
                Renewed { measure: MeasureId(0), from: 85.0, to: None },
                Renewed { measure: MeasureId(1), from: 90.0, to: Some(115.0) },
            ][..]
        )
    );
    assert_eq!((remedy.spares.as_slice(), remedy.state), (&[RemedyId(1)][..], Some(StateId(0))));
    assert_eq!((remedy.finds_out, model.remedies[1].finds_out), (false, true));
    assert_eq!((remedy.sets_right, model.remedies[2].sets_right), (None, Some(Setting::Last)));
    let lasting = &remedy.lasts[0];
    assert_eq!((lasting.measure, lasting.share, lasting.again), (MeasureId(0), 0.55, 0.8));
    assert_eq!(lasting.test.terms.len(), 1);
    assert_eq!((remedy.hours, remedy.costs, remedy.within), (1.5, Some(150.0), Some(100.0)));
    assert_eq!(remedy.left, Some(("It goes on.".to_owned(), 4000.0)));
    assert_eq!(
        (&remedy.common.basis, remedy.common.text.as_deref()),
        (&Some(Basis::Source("A book, page 3".to_owned())), Some("How."))
    );
}

/// An order that computing can go by: parents first
#[test]
fn facts_and_conditions_stand_in_an_order() {
    let model = with(
        "condition c: \"c\"
    with d: 5%
condition d: \"d\"
    with e: 5%
condition e: \"e\"
    without 5%
fact f: \"f\"
    choices a 50%, b 50% where g is a
    choices a 50%, b 50%
fact g: \"g\"
    choices a 50%, b 50%
",
    );
    assert_eq!(model.condition_order, [ConditionId(0), ConditionId(3), ConditionId(2), ConditionId(1)]);
    assert_eq!(model.fact_order, [FactId(0), FactId(1), FactId(3), FactId(2)]);
}
