//! The graph as a picture: text that can be marked, sorts told apart by shape, a title on every node and edge.

use super::place::{Area, CLUSTER_TITLE, LINE, Placed, place};
use super::{Graph, Node, Sort};
use crate::report::draw::picture::escaped;

/// Room around the picture
const MARGIN: f64 = 24.0;
/// Height of the title and the legend above the graph
const HEAD: f64 = 96.0;
/// Least width, so that title and legend have room
const LEAST_WIDTH: f64 = 1040.0;
/// Widest that a letter of the title may come out
const LETTER: f64 = 12.5;
/// Looks of everything; sorts differ in shape first, and in shades that a grey print keeps apart
const STYLE: &str = "\
text{font-family:'DejaVu Sans',Verdana,Helvetica,sans-serif;font-size:12px;fill:#1b1f24}\
.head{font-size:19px;font-weight:bold}.sub{fill:#4a525c}\
.cluster{fill:#f4f6f8;stroke:#b4bcc6}\
.cluster-title{font-size:14px;font-weight:bold;paint-order:stroke;stroke:#f4f6f8;stroke-width:5px}\
.edge{fill:none;stroke:#5a6470;stroke-width:1.2;marker-end:url(#tip)}\
.far{stroke:#8e98a5;stroke-width:1}\
.odds{stroke-dasharray:5 4}\
.shape{stroke:#39424d;stroke-width:1.2}\
.fact .shape{fill:#e9ecef}.cause .shape{fill:#cfe0f5}.condition .shape{fill:#e6dcf2}.symptom .shape{fill:#fff}\
.seen .shape{stroke-width:3.5}.more{fill:#30363d;font-style:italic}.seen .more{font-weight:bold;font-style:normal}";

/// The graph as SVG
pub fn svg(graph: &Graph) -> String {
    let placed = place(graph, HEAD);
    let heading = LETTER * graph.title.chars().count() as f64;
    let width = placed.size.0.max(LEAST_WIDTH).max(heading) + 2.0 * MARGIN;
    let height = placed.size.1 + 2.0 * MARGIN;
    let title = escaped(&graph.title);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.0}\" height=\"{height:.0}\" \
         viewBox=\"{:.0} {:.0} {width:.0} {height:.0}\" role=\"img\" aria-labelledby=\"title desc\">\n",
        -MARGIN, -MARGIN
    );
    out.push_str(&format!("<title id=\"title\">{title}</title>\n"));
    out.push_str(&format!("<desc id=\"desc\">{}</desc>\n", escaped(&described(graph))));
    out.push_str(&format!("<style>{STYLE}</style>\n"));
    out.push_str(
        "<defs><marker id=\"tip\" viewBox=\"0 0 8 8\" refX=\"7\" refY=\"4\" markerWidth=\"7\" markerHeight=\"7\" \
         orient=\"auto\"><path d=\"M0 0 8 4 0 8z\" fill=\"#5a6470\"/></marker></defs>\n",
    );
    out.push_str(&format!(
        "<rect x=\"{0:.0}\" y=\"{0:.0}\" width=\"{width:.0}\" height=\"{height:.0}\" fill=\"#fff\"/>\n",
        -MARGIN
    ));
    out.push_str(&format!("<text class=\"head\" x=\"0\" y=\"18\">{title}</text>\n"));
    legend(&mut out);
    if graph.nodes.is_empty() {
        let words = "Nothing was found out of order, so nothing hangs together here.";
        out.push_str(&format!("<text x=\"0\" y=\"{HEAD:.0}\">{words}</text>\n"));
    }
    for area in &placed.clusters {
        out.push_str(&format!("<rect class=\"cluster\" {} rx=\"6\"/>\n", corners(*area)));
    }
    edges(&mut out, graph, &placed);
    for (name, area) in graph.clusters.iter().zip(&placed.clusters) {
        let (x, y) = (area.x + 12.0, area.y + CLUSTER_TITLE - 6.0);
        out.push_str(&format!(
            "<text class=\"cluster-title\" x=\"{x:.1}\" y=\"{y:.1}\">{}</text>\n",
            escaped(name)
        ));
    }
    for ((node, area), (words, label)) in graph.nodes.iter().zip(&placed.boxes).zip(&placed.words) {
        self::node(&mut out, node, *area, words, *label);
    }
    out.push_str("</svg>\n");
    out
}

fn described(graph: &Graph) -> String {
    let counts = Sort::ALL.iter().map(|sort| {
        let count = graph.nodes.iter().filter(|node| node.sort == *sort).count();
        format!("{count} {}s", sort.word())
    });
    let counts: Vec<String> = counts.collect();
    format!(
        "{} and {} arrows from what brings about to what is brought about.",
        counts.join(", "),
        graph.edges.len()
    )
}

/// Shapes with their words
fn legend(out: &mut String) {
    out.push_str("<g class=\"legend\">\n");
    let mut x = 0.0;
    for sort in Sort::ALL {
        let area = Area { x, y: 34.0, width: 104.0, height: 26.0 };
        out.push_str(&format!("<g class=\"{}\">{}", sort.word(), shape(sort, area)));
        out.push_str(&format!(
            "<text x=\"{:.0}\" y=\"51\" text-anchor=\"middle\">{}</text></g>\n",
            x + 52.0,
            sort.word()
        ));
        x += 124.0;
    }
    let lines = [("edge", "brings about"), ("edge odds", "opens a rule or sets its odds")];
    for (class, word) in lines {
        out.push_str(&format!("<path class=\"{class}\" d=\"M{x:.0} 47h44\"/>"));
        out.push_str(&format!("<text x=\"{:.0}\" y=\"51\">{word}</text>\n", x + 52.0));
        x += 160.0;
    }
    out.push_str(
        "<text class=\"sub\" x=\"0\" y=\"82\">A thick frame: seen or read. Boxes hide the arrows that pass beneath them.</text>\n</g>\n",
    );
}

fn edges(out: &mut String, graph: &Graph, placed: &Placed) {
    out.push_str("<g class=\"edges\">\n");
    for (edge, curve) in graph.edges.iter().zip(&placed.curves) {
        let (Some(from), Some(to)) = (graph.nodes.get(edge.from), graph.nodes.get(edge.to)) else { continue };
        let far = if from.cluster == to.cluster { "" } else { " far" };
        let odds = if graph.is_from_fact(*edge) { " odds" } else { "" };
        let mut path = String::new();
        for (place, (x, y)) in curve.iter().enumerate() {
            let letter = match place {
                0 => "M",
                1 => "C",
                _ => " ",
            };
            path.push_str(&format!("{letter}{x:.1} {y:.1}"));
        }
        let words = escaped(&format!("{} → {}", from.label, to.label));
        out.push_str(&format!(
            "<path class=\"edge{far}{odds}\" d=\"{path}\"><title>{words}</title></path>\n"
        ));
    }
    out.push_str("</g>\n");
}

fn node(out: &mut String, node: &Node, area: Area, words: &[String], label: usize) {
    let seen = if node.seen { " seen" } else { "" };
    out.push_str(&format!(
        "<g class=\"node {}{seen}\" id=\"{}\">",
        node.sort.word(),
        escaped(&node.id.replace(' ', "-"))
    ));
    let lines: Vec<&str> =
        std::iter::once(node.label.as_str()).chain(node.lines.iter().map(String::as_str)).collect();
    let title = format!("{}: {} ({})", node.sort.word(), lines.join("; "), node.name);
    out.push_str(&format!("<title>{}</title>{}\n", escaped(&title), shape(node.sort, area)));
    let (x, mut y) = (area.x + area.width / 2.0, area.y + 8.0 + 11.0);
    out.push_str(&format!("<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"middle\">"));
    for (number, line) in words.iter().enumerate() {
        let class = if number < label { "" } else { " class=\"more\"" };
        out.push_str(&format!("<tspan{class} x=\"{x:.1}\" y=\"{y:.1}\">{}</tspan>", escaped(line)));
        y += LINE;
    }
    out.push_str("</text></g>\n");
}

/// A fact is a sheet with a corner cut off, a cause pointed at both ends, a condition round at both ends, a symptom a plain box
fn shape(sort: Sort, area: Area) -> String {
    let Area { x, y, width, height } = area;
    let (right, bottom, middle) = (x + width, y + height, y + height / 2.0);
    let polygon = |points: &[(f64, f64)]| {
        let points: Vec<String> = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
        format!("<polygon class=\"shape\" points=\"{}\"/>", points.join(" "))
    };
    match sort {
        Sort::Fact => polygon(&[(x, y), (right - 12.0, y), (right, y + 12.0), (right, bottom), (x, bottom)]),
        Sort::Cause => polygon(&[
            (x, middle),
            (x + 9.0, y),
            (right - 9.0, y),
            (right, middle),
            (right - 9.0, bottom),
            (x + 9.0, bottom),
        ]),
        Sort::Condition => {
            format!("<rect class=\"shape\" {} rx=\"{:.1}\"/>", corners(area), f64::min(height / 2.0, 22.0))
        }
        Sort::Symptom => format!("<rect class=\"shape\" {}/>", corners(area)),
    }
}

fn corners(area: Area) -> String {
    let Area { x, y, width, height } = area;
    format!("x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\"")
}
