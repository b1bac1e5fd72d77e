//! What a page claims of an answer: `idler_out_of_line left: 39 %`, held against the JSON of `diagnose`.

use super::reckoning::Written;
use serde_json::Value;

/// What is wrong with one claim
pub fn fault(line: &str, answer: &Value) -> Option<String> {
    let Some((what, claimed)) = line.rsplit_once(": ") else {
        return Some(format!("`{line}` is no `what: value`"));
    };
    let claimed = claimed.trim();
    let written = Written::parse(claimed);
    let found = match (&written, what.split_once(" for ")) {
        (Some(written), Some((finding, of))) => weight(finding, of, answer).map(|it| written.like(it)),
        (Some(written), None) => chance(what, answer).map(|it| written.like(it)),
        (None, _) => grade(what, answer),
    };
    match found {
        None => Some(format!("the answer knows no `{what}`")),
        Some(found) => (found != claimed).then(|| format!("`{what}` is {found}, not {claimed}")),
    }
}

/// `before NAME PLACE`, `worn MEASURE PLACE`, `NAME PLACE`, `NAME FORM`, `NAME GRADE PLACE`
fn chance(what: &str, answer: &Value) -> Option<f64> {
    if let Some(what) = what.strip_prefix("before ") {
        return of("causes", what, answer).or_else(|| of("conditions", what, answer))?["prior"].as_f64();
    }
    if let Some(what) = what.strip_prefix("worn ") {
        let (name, place) = place(what);
        let rows = answer["wear"].as_array()?;
        let row = rows.iter().find(|row| row["measure"] == name && row["place"] == place)?;
        return row["percent"].as_f64().map(|percent| percent / 100.0);
    }
    if let Some(whole) = of("causes", what, answer).or_else(|| of("conditions", what, answer)) {
        return whole["probability"].as_f64();
    }
    if let Some(form) = form(what, answer) {
        return Some(form);
    }
    let (names, place) = place(what);
    let (name, grade) = names.split_once(' ')?;
    let at = if place == "machine" { String::new() } else { format!(" {place}") };
    let block = of("conditions", &format!("{name}{at}"), answer)?;
    let grades = block["grades"].as_array()?;
    grades.iter().find(|it| it["name"] == grade)?["probability"].as_f64()
}

/// `slope_work left`: the likeliest form of a cause of the whole machine
fn form(what: &str, answer: &Value) -> Option<f64> {
    let (name, form) = what.split_once(' ')?;
    let own = &of("causes", name, answer)?["form"];
    (own["name"] == form).then(|| own["probability"].as_f64())?
}

/// Change of a cause's odds that one finding alone makes, in decibans
fn weight(finding: &str, cause: &str, answer: &Value) -> Option<f64> {
    let (name, place) = place(finding);
    let reasons = of("causes", cause, answer)?["reasons"].as_array()?;
    reasons.iter().find(|it| it["finding"] == name && it["place"] == place)?["alone"].as_f64()
}

/// `contradicts READING PLACE`, more, less or no; `held READING PLACE`, yes or no; or the grade a symptom counts with, as the reasons tell it
fn grade(what: &str, answer: &Value) -> Option<String> {
    if let Some(what) = what.strip_prefix("held ") {
        let (name, place) = place(what);
        let held = answer["held"].as_array()?.iter().any(|it| it["reading"] == name && it["place"] == place);
        return Some(if held { "yes" } else { "no" }.to_owned());
    }
    if let Some(what) = what.strip_prefix("contradicts ") {
        let (name, place) = place(what);
        let mut told = answer["contradictions"].as_array()?.iter();
        let excess = told.find(|it| it["measure"] == name && it["place"] == place);
        return Some(match excess.map(|it| it["excess"].as_f64()) {
            None => "no".to_owned(),
            Some(excess) => if excess? > 0.0 { "more" } else { "less" }.to_owned(),
        });
    }
    let (name, place) = place(what);
    let causes = answer["causes"].as_array()?.iter();
    let reasons: Vec<&Value> = causes.flat_map(|cause| cause["reasons"].as_array()).flatten().collect();
    let together = reasons.iter().flat_map(|reason| reason["together_with"].as_array()).flatten();
    let mut told = reasons.iter().copied().chain(together);
    told.find(|it| it["finding"] == name && it["place"] == place)?["grade"].as_str().map(str::to_owned)
}

fn of<'a>(list: &str, what: &str, answer: &'a Value) -> Option<&'a Value> {
    let (name, place) = place(what);
    answer[list].as_array()?.iter().find(|it| it["id"] == name && it["place"] == place)
}

/// `flange_worn left` in two; without a side it is the machine
fn place(what: &str) -> (&str, &str) {
    let side = [" left", " right"].iter().find_map(|side| what.find(side));
    side.map_or((what, "machine"), |at| (&what[..at], &what[at + 1..]))
}
