//! The tree in a short notation of its own, so that a table can say what a line must read to.

use pinboss::syntax::tree::{
    Attribute, Basis, Clause, Declaration, Drawn, Frequency, Line, Parent, Quantity, Reach, Relation, Sum,
    Term, Value,
};

use pinboss::source::Spanned;

/// `cause idler_off [side] "label" against owner`
pub fn head(declaration: &Declaration) -> String {
    let mut shown = format!("{} {}", declaration.sort.value.word(), declaration.name.value);
    for attribute in &declaration.attributes {
        shown += &match &attribute.value {
            Attribute::Each(word) => format!(" each={}", word.value),
            Attribute::Numbered(None) => " numbered".to_owned(),
            Attribute::Numbered(Some((least, most))) => format!(" numbered={least}..{most}"),
            Attribute::Of(part) => format!(" of={}", part.value),
        };
    }
    if let Some(label) = &declaration.label {
        shown += &format!(" {:?}", label.value);
    }
    if let Some(against) = &declaration.against {
        shown += &format!(" against={}", against.value);
    }
    shown
}

/// A clause with its pieces in brackets, the tests behind `if`, the sentence behind `--`
pub fn clause(clause: &Clause) -> String {
    match clause {
        Clause::Grades(grades) => {
            let signs =
                std::iter::once(String::new()).chain(grades.signs.iter().map(|sign| format!("{sign} ")));
            let grades: Vec<String> =
                signs.zip(&grades.words).map(|(sign, word)| sign + &word.value).collect();
            format!("grades {}", grades.join(" "))
        }
        Clause::With(of) => format!("with {}", line(of)),
        Clause::Mirror(of) => format!("mirror {}", line(of)),
        Clause::Without(of) => format!("without {}", line(of)),
        Clause::Shared(share) => format!("shared {}", share.value),
        Clause::Recent(share) => format!("recent {}", share.value),
        Clause::Chance(chance) => {
            let noun = chance.noun.as_ref().map_or(String::new(), |noun| format!(" of={}", noun.value));
            let toward = if chance.toward.is_some() { " toward" } else { "" };
            format!("chance {}{noun}{toward}{}", frequency(&chance.frequency.value), test(&chance.test))
        }
        Clause::Choices { choices, test: terms } => {
            let choices: Vec<String> =
                choices.iter().map(|(choice, share)| format!("{}={}", choice.value, share.value)).collect();
            format!("choices {}{}", choices.join(" "), test(terms))
        }
        Clause::OnlyWhere(terms) => format!("gate{}", test(terms)),
        Clause::Basis(Basis::CommonPractice) => "basis practice".to_owned(),
        Clause::Basis(Basis::Estimate) => "basis estimate".to_owned(),
        Clause::Basis(Basis::Source(source)) => format!("basis {:?}", source.value),
        Clause::From { sum: of, bounds } => {
            let bounds: Vec<String> = bounds
                .iter()
                .map(|bounded| match &bounded.bound {
                    None => bounded.grade.value.clone(),
                    Some((over, figure)) => {
                        let sign = if *over { '>' } else { '<' };
                        format!("{}{sign}{}", bounded.grade.value, quantity(&figure.value))
                    }
                })
                .collect();
            format!("from {}: {}", sum(of), bounds.join(" "))
        }
        Clause::Counts { grades, of } => {
            let counted: Vec<String> = grades
                .iter()
                .map(|it| {
                    let sign = if it.over { ">" } else { ">=" };
                    format!("{}{sign}{}", it.grade.value, quantity(&it.from.value))
                })
                .collect();
            format!("counts {} of {}", counted.join(" "), listed(of))
        }
        Clause::Range(range) => format!("range {}..{}", range.value.0, range.value.1),
        Clause::Renews(renewed) => {
            let renewed: Vec<String> = renewed
                .iter()
                .map(|it| {
                    let to = it.to.as_ref().map_or(String::new(), |to| format!("..{}", to.value));
                    format!("{}>={}{to}", it.name.value, it.from.value)
                })
                .collect();
            format!("renews {}", renewed.join(" "))
        }
        Clause::Mends(mended) => {
            let mended: Vec<String> = mended
                .iter()
                .map(|it| {
                    it.grade
                        .as_ref()
                        .map_or(it.name.value.clone(), |own| format!("{}>={}", it.name.value, own.value))
                })
                .collect();
            format!("mends {}", mended.join(" "))
        }
        Clause::Along(taken) => {
            let taken: Vec<String> =
                taken.iter().map(|it| format!("{}>={}", it.name.value, it.from.value)).collect();
            format!("along {}", taken.join(" "))
        }
        Clause::AmongWorst => "among worst".to_owned(),
        Clause::Spans { count, of, between } => {
            format!("spans {} {} {}", count.value, of.value, between.value)
        }
        Clause::Anew => "anew".to_owned(),
        Clause::FindsOut => "finds out".to_owned(),
        Clause::OnSite => "on site".to_owned(),
        Clause::Drawn { as_what, test: terms } => {
            let row = |count: &Option<Spanned<f64>>| {
                count.as_ref().map_or(String::new(), |it| format!(" {}", it.value))
            };
            let told = match &as_what.value {
                Drawn::FrontWheel => "front".to_owned(),
                Drawn::RearWheel => "rear".to_owned(),
                Drawn::DriveWheel => "drive".to_owned(),
                Drawn::RaisedWheel => "raised".to_owned(),
                Drawn::Hub => "hub".to_owned(),
                Drawn::BottomRow(count) => format!("bottom{}", row(count)),
                Drawn::TopRow(count) => format!("top{}", row(count)),
                Drawn::Frame(share) => format!("frame {}", share.value),
                Drawn::TopRun(share) => format!("run {}", share.value),
            };
            format!("drawn {told}{}", test(terms))
        }
        Clause::SetsRight(last) => format!("sets right{}", if *last { " last" } else { "" }),
        Clause::Spares(names) => format!("spares {}", listed(names)),
        Clause::Lasts(it) => {
            format!("lasts {} {} of={}{}", it.name.value, it.share.value, it.again.value, test(&it.test))
        }
        Clause::Left(text, loses) => {
            let loses = loses.as_ref().map_or(String::new(), |loses| format!(" loses={}", loses.value));
            format!("left {:?}{loses}", text.value)
        }
        Clause::Entry(entry) => {
            let points: Vec<String> = entry
                .points
                .iter()
                .map(|(size, percent)| {
                    let percent = percent.as_ref().map_or(String::new(), |it| format!("@{}", it.value));
                    quantity(&size.value) + &percent
                })
                .collect();
            let after = entry.after.as_ref().map_or(String::new(), |after| format!(" after={}", after.value));
            let tolerance = entry.tolerance.as_ref();
            let tolerance =
                tolerance.map_or(String::new(), |it| format!(" tolerance={}", quantity(&it.value)));
            format!("row {} {}{after}{tolerance}{}", entry.name.value, points.join(" "), test(&entry.test))
        }
        Clause::Takes(time) => format!("takes {}", quantity(&time.value)),
        Clause::Within(time, over) => {
            let over = over.as_ref().map_or(String::new(), |over| format!(" over={}", over.value));
            format!("within {}{over}", quantity(&time.value))
        }
        Clause::Costs(figure) => format!("costs {}", figure.value),
        Clause::Error(figure) => format!("error {}", figure.value),
        Clause::Seen { share, noun } => {
            format!("seen {} of {}", share.value, noun.as_ref().map_or("-", |noun| noun.value.as_str()))
        }
        Clause::As(other) => {
            let times =
                other.times.as_ref().map_or_else(String::new, |times| format!(" times {}", times.value));
            let nearest = other.nearest.as_ref();
            let nearest = nearest.map_or_else(String::new, |it| format!(" nearest {}", quantity(&it.value)));
            format!("as {}{times}{nearest}", other.class.value)
        }
        Clause::Spread(figure) => format!("spread {}", figure.value),
        Clause::Is { sum: of, test: terms } => format!("is {}{}", sum(of), test(terms)),
        Clause::Against { sum: of, tolerance } => {
            let tolerance = tolerance.as_ref();
            let tolerance =
                tolerance.map_or(String::new(), |it| format!(" tolerance={}", quantity(&it.value)));
            format!("against {}{tolerance}", sum(of))
        }
        Clause::More(text) => format!("more {:?}", text.value),
        Clause::Less(text) => format!("less {:?}", text.value),
        Clause::Advice { text, test: terms } => format!("advice {:?}{}", text.value, test(terms)),
        Clause::Forms(names) => format!("forms {}", listed(names)),
        Clause::Shows(names) => format!("shows {}", listed(names)),
        Clause::Reads(names) => format!("reads {}", listed(names)),
        Clause::Ends(names) => format!("ends {}", listed(names)),
        Clause::Fixes(names) => format!("fixes {}", listed(names)),
        Clause::Needs(texts) => format!(
            "needs {}",
            texts.iter().map(|it| format!("{:?}", it.value)).collect::<Vec<_>>().join(" ")
        ),
        Clause::Kind(name) => format!("kind {}", name.value),
        Clause::GivesWay(name) => format!("gives way {}", name.value),
        Clause::Unit(word) => format!("unit {}", word.value),
        Clause::While(name) => format!("while {}", name.value),
        Clause::Makes(name) => format!("makes {}", name.value),
        Clause::Access(word) => format!("access {}", word.value),
        Clause::Rubs(name) => format!("rubs {}", name.value),
        Clause::Text(text) => format!("text {:?}", text.value),
        Clause::Tell(text) => format!("tell {:?}", text.value),
        Clause::Caution(text) => format!("caution {:?}", text.value),
    }
}

fn listed(names: &[Spanned<String>]) -> String {
    names.iter().map(|name| name.value.as_str()).collect::<Vec<_>>().join(" ")
}

fn line(line: &Line) -> String {
    let parents: Vec<String> = line.parents.iter().map(parent).collect();
    let effects: Vec<String> = line
        .effects
        .iter()
        .map(|effect| {
            let grade = effect.grade.as_ref().map_or("", |grade| grade.value.as_str());
            format!("{}>{grade}", frequency(&effect.frequency.value))
        })
        .collect();
    let because = line.because.as_ref().map_or(String::new(), |text| format!(" -- {}", text.value));
    let slowly = if line.slowly.is_some() { " slowly" } else { "" };
    format!("[{}] {}{slowly}{}{because}", parents.join(" & "), effects.join(" "), test(&line.test))
}

fn parent(parent: &Parent) -> String {
    let grade = parent.grade.as_ref().map_or(String::new(), |grade| format!(":{}", grade.value));
    let reach = parent.reach.as_ref().map_or(String::new(), |reach| match &reach.value {
        Reach::EitherSide => "@either".to_owned(),
        Reach::Any(part) => format!("@any-{}", part.value),
        Reach::ThisSide => "@this".to_owned(),
        Reach::OtherSide => "@other".to_owned(),
    });
    format!("{}{grade}{reach}", parent.name.value)
}

fn frequency(frequency: &Frequency) -> String {
    match frequency {
        Frequency::Percent(percent) => format!("{percent}%"),
        Frequency::Word(word) => word.clone(),
    }
}

fn quantity(quantity: &Quantity) -> String {
    let unit = quantity.unit.as_ref().map_or("", |unit| unit.value.as_str());
    format!("{}{unit}", quantity.value)
}

fn test(terms: &[Term]) -> String {
    let terms: Vec<String> = terms.iter().map(term).collect();
    if terms.is_empty() { String::new() } else { format!(" if {}", terms.join(" & ")) }
}

fn term(term: &Term) -> String {
    let relation = match &term.relation {
        Relation::Is { negated, values } => {
            let values: Vec<&str> = values.iter().map(|it| value(&it.value)).collect();
            format!("{}{}", if *negated { "!=" } else { "=" }, values.join("/"))
        }
        Relation::Over(figure) => format!(">{}", quantity(&figure.value)),
        Relation::Under(figure) => format!("<{}", quantity(&figure.value)),
    };
    term.subject.value.clone() + &relation
}

fn value(value: &Value) -> &str {
    match value {
        Value::Word(word) => word,
        Value::FrontHalf => "FRONT",
        Value::RearHalf => "REAR",
    }
}

/// An expression with the sign first: `(- (new gap) (half rail))`
pub fn sum(of: &Spanned<Sum>) -> String {
    match &of.value {
        Sum::Figure(figure) => quantity(figure),
        Sum::Measure(name) => name.value.clone(),
        Sum::About(about, name) => {
            format!("({} {})", about.word(), name.value)
        }
        Sum::Hours(part) => format!("(hours {})", part.value),
        Sum::HoursSinceTurned(part) => format!("(hours-turned {})", part.value),
        Sum::Turn(part) => format!("(turn {})", part.value),
        Sum::Half(of) => format!("(half {})", sum(of)),
        Sum::Across { gather, of, half, row } => {
            let half = match half {
                None => "",
                Some(true) => "front ",
                Some(false) => "rear ",
            };
            format!("({} {half}{} {})", gather.word(), row.value, sum(of))
        }
        Sum::Among { gather, of } => {
            let figures: Vec<String> = of.iter().map(sum).collect();
            format!("({} {})", gather.word(), figures.join(" & "))
        }
        Sum::Pair(first, sign, second) => format!("({sign} {} {})", sum(first), sum(second)),
    }
}
