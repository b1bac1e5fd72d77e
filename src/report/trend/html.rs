//! The wear of a machine as one page that stands by itself: a table of all parts, and a curve of each.

use super::{LeftTold, PartTold, Trend, curve};
use crate::report::curve::STYLE;
use crate::report::picture::{INK, escaped};
use crate::report::words::{capital, figure, plain, several};

/// Looks of the page; on paper the table's head comes again on every sheet
const LOOK: &str = "\
body{font:15px/1.45 system-ui,'DejaVu Sans',Verdana,sans-serif;color:var(--ink);background:var(--paper);max-width:62rem;margin:0 auto;padding:1rem}\
table{border-collapse:collapse;width:100%}th,td{text-align:left;padding:.25rem .5rem;border-bottom:1px solid var(--line);vertical-align:top}\
td.figure{text-align:right;white-space:nowrap}caption{text-align:left;color:var(--soft)}thead{display:table-header-group}\
figure{margin:1rem 0;break-inside:avoid}svg{max-width:100%;height:auto}";

/// The whole file; `words` is the report in words, which the page repeats below its table and curves
pub fn html(report: &Trend, words: &str) -> String {
    let title = format!("{}: wear over {}", report.machine, several(report.visits.len(), "visit", "visits"));
    let rows: String = report.parts.iter().map(row).collect();
    let figures: String = report
        .parts
        .iter()
        .filter_map(curve)
        .map(|curve| format!("<figure>\n{}</figure>\n", curve.figure()))
        .collect();
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n<title>{0}</title>\n\
         <style>{INK}{LOOK}{STYLE}</style>\n</head>\n<body>\n<h1>{0}</h1>\n<table>\n\
         <caption>Hours left hold as long as ground, work and care stay as they were; nine of ten parts end within the hours in \
         brackets.</caption>\n<thead><tr><th>Place</th><th>Measure</th><th>Read</th><th>Worn</th><th>Hours on it</th>\
         <th>Hours left</th></tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n<h2>How it went on</h2>\n{figures}\
         <h2>In words</h2>\n<pre style=\"white-space:pre-wrap\">{1}</pre>\n</body>\n</html>\n",
        escaped(&title),
        escaped(words)
    )
}

fn row(part: &PartTold) -> String {
    let hours = part.hours.filter(|_| part.new.is_some());
    let hours = hours.map_or_else(|| "not told".to_owned(), |hours| format!("{hours:.0}"));
    format!(
        "<tr><td>{}</td><td>{}</td><td class=\"figure\">{} {}</td><td class=\"figure\">{:.0} % ± {:.0}</td>\
         <td class=\"figure\">{hours}</td><td class=\"figure\">{}</td></tr>\n",
        escaped(&capital(&plain(&part.place))),
        escaped(&part.label),
        figure(part.read),
        escaped(part.unit),
        part.percent,
        part.sigma.max(1.0),
        part.left.map_or_else(String::new, left)
    )
}

fn left(left: LeftTold) -> String {
    match left.upper {
        Some(upper) => format!("{:.0} ({:.0} to {upper:.0})", left.hours, left.lower),
        None => format!("{:.0} ({:.0} or more)", left.hours, left.lower),
    }
}
