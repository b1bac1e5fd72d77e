//! Sums as they stand on the page: `1 - 0.4 * 0.95 = 62 %`.

/// A figure as it is written: so many places after the point, in per cent or not
pub struct Written<'a> {
    figure: &'a str,
    /// What stands behind the figure
    unit: &'a str,
}

impl<'a> Written<'a> {
    /// `62 %`, `10.9 decibans`
    pub fn parse(text: &'a str) -> Option<Self> {
        let (figure, unit) = text.trim().split_once(' ').unwrap_or((text.trim(), ""));
        figure.parse::<f64>().ok()?;
        Some(Written { figure, unit })
    }

    /// A value as it would have been written
    pub fn like(&self, value: f64) -> String {
        let value = if self.unit.starts_with('%') { value * 100.0 } else { value };
        let places = self.figure.split_once('.').map_or(0, |(_, places)| places.len());
        let shown = format!("{value:.places$} {}", self.unit);
        shown.trim_end().to_owned()
    }
}

/// What is wrong with a line of sums
pub fn fault(line: &str) -> Option<String> {
    let read = || {
        let (sum, result) = line.split_once(" = ")?;
        Some((sum, evaluate(sum)?, result, Written::parse(result)?))
    };
    let Some((sum, value, result, written)) = read() else {
        return Some(format!("`{line}` is no reckoning"));
    };
    let shown = written.like(value);
    (shown != result.trim()).then(|| format!("{sum} is {shown}, not {result}"))
}

fn evaluate(sum: &str) -> Option<f64> {
    let spaced = sum.replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().filter(|word| *word != "%").collect();
    let mut rest = words.as_slice();
    let value = level(&mut rest, 0)?;
    rest.is_empty().then_some(value)
}

/// Signs, each level binding closer than the one before
const SIGNS: [&[&str]; 3] = [&["+", "-"], &["*", "/"], &["^"]];

fn level(rest: &mut &[&str], depth: usize) -> Option<f64> {
    let Some(signs) = SIGNS.get(depth) else {
        return single(rest);
    };
    let mut value = level(rest, depth + 1)?;
    while let [sign, more @ ..] = *rest
        && signs.contains(sign)
    {
        *rest = more;
        let other = level(rest, depth + 1)?;
        value = match *sign {
            "+" => value + other,
            "-" => value - other,
            "*" => value * other,
            "/" => value / other,
            _ => libm::pow(value, other),
        };
    }
    Some(value)
}

fn single(rest: &mut &[&str]) -> Option<f64> {
    let (first, more) = rest.split_first()?;
    *rest = more;
    match *first {
        "log" => Some(libm::log10(single(rest)?)),
        "(" => {
            let value = level(rest, 0)?;
            let (close, more) = rest.split_first()?;
            *rest = more;
            (*close == ")").then_some(value)
        }
        figure => figure.parse().ok(),
    }
}
