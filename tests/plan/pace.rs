//! Hours to a per cent worn, at a pace that changes at the limit.

use pinboss::plan::pace::State;

/// Five points at a tenth of a per cent an hour, then ten more at a quarter: 50 h and 40 h
#[test]
fn past_the_limit_it_goes_faster_in_hours_alone() {
    let state = State {
        places: 1,
        percent: 95.0,
        sigma: 0.0,
        per_hour: Some(0.1),
        left: None,
        own_pace: true,
        past_limit: 2.5,
        worst: None,
    };
    for (percent, hours) in [(90.0, 0.0), (100.0, 50.0), (110.0, 90.0)] {
        assert!((state.hours_to(percent).unwrap() - hours).abs() < 1e-9, "{percent}");
    }
}
