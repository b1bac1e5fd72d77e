//! Where everything in the graph lies: each cluster laid out by itself, the clusters in columns beside one another.

use super::layered::{self, Layered};
use super::{Graph, Node};
use std::cmp::Reverse;

/// Columns of text in a box
const TEXT_COLUMNS: usize = 27;
/// Width of a box, in pixels
const BOX_WIDTH: f64 = 206.0;
/// Height of a line of text
pub(super) const LINE: f64 = 15.0;
/// Room above the first line of a box and below the last
const BOX_ROOM: f64 = 8.0;
/// Room inside a cluster around its boxes, its title above
const CLUSTER_ROOM: f64 = 18.0;
/// Height of a cluster's title
pub(super) const CLUSTER_TITLE: f64 = 26.0;
/// Room between clusters
const GAP: (f64, f64) = (110.0, 34.0);
/// Height of a page that need not be higher
const PAGE: f64 = 760.0;
/// How far an edge between clusters runs straight out of its box
const REACH: f64 = 70.0;

/// A rectangle, by its top left corner
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Area {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) width: f64,
    pub(super) height: f64,
}

/// Everything with its place
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Placed {
    /// Size of the whole
    pub(super) size: (f64, f64),
    /// The clusters, in their order
    pub(super) clusters: Vec<Area>,
    /// The boxes of the nodes, in their order
    pub(super) boxes: Vec<Area>,
    /// Lines of text in each, and how many of them are the label
    pub(super) words: Vec<(Vec<String>, usize)>,
    /// The edges, in their order: a start, then two control points and an end for each piece
    pub(super) curves: Vec<Vec<(f64, f64)>>,
}

/// Places everything below a heading of the given height
pub(super) fn place(graph: &Graph, top: f64) -> Placed {
    let words: Vec<(Vec<String>, usize)> = graph.nodes.iter().map(words).collect();
    let size = |number: usize| {
        let lines = words.get(number).map_or(1, |(lines, _)| lines.len());
        (BOX_WIDTH, 2.0 * BOX_ROOM + LINE * f64::from(u32::try_from(lines).unwrap_or(1)))
    };
    let clusters: Vec<Cluster> = (0..graph.clusters.len()).map(|own| Cluster::of(graph, own, size)).collect();
    let mut placed = Placed {
        boxes: vec![Area::default(); graph.nodes.len()],
        curves: vec![Vec::new(); graph.edges.len()],
        clusters: columns(graph, &clusters, top),
        ..Placed::default()
    };
    for (cluster, area) in clusters.iter().zip(placed.clusters.clone()) {
        cluster.set(area, size, &mut placed);
    }
    for (edge, curve) in graph.edges.iter().zip(&mut placed.curves) {
        if let (true, Some(from), Some(to)) =
            (curve.is_empty(), placed.boxes.get(edge.from), placed.boxes.get(edge.to))
        {
            *curve = across(*from, *to);
        }
    }
    let ends = placed.clusters.iter().map(|area| (area.x + area.width, area.y + area.height));
    placed.size = ends.fold((0.0, top), |size, end| (f64::max(size.0, end.0), f64::max(size.1, end.1)));
    Placed { words, ..placed }
}

/// A cluster laid out by itself
struct Cluster {
    /// Numbers of its nodes
    nodes: Vec<usize>,
    /// Numbers of the edges inside it
    edges: Vec<usize>,
    laid: Layered,
    area: Area,
}

impl Cluster {
    fn of(graph: &Graph, own: usize, size: impl Fn(usize) -> (f64, f64)) -> Self {
        let is_in = |node: usize| graph.nodes.get(node).is_some_and(|node| node.cluster == own);
        let nodes: Vec<usize> = (0..graph.nodes.len()).filter(|node| is_in(*node)).collect();
        let inside = graph.edges.iter().enumerate().filter(|(_, edge)| is_in(edge.from) && is_in(edge.to));
        let place = |node: usize| nodes.iter().position(|own| *own == node).unwrap_or(0);
        let (edges, ends): (Vec<usize>, Vec<(usize, usize)>) =
            inside.map(|(number, edge)| (number, (place(edge.from), place(edge.to)))).unzip();
        let sizes: Vec<(f64, f64)> = nodes.iter().map(|node| size(*node)).collect();
        let laid = layered::place(&sizes, &ends);
        let area = bounds(&laid, &sizes);
        Cluster { nodes, edges, laid, area }
    }

    /// Moves all of it to where the cluster lies
    fn set(&self, area: Area, size: impl Fn(usize) -> (f64, f64), placed: &mut Placed) {
        let (dx, dy) = (area.x - self.area.x, area.y - self.area.y);
        for (&node, (x, y)) in self.nodes.iter().zip(&self.laid.corners) {
            if let Some(slot) = placed.boxes.get_mut(node) {
                let (width, height) = size(node);
                *slot = Area { x: x + dx, y: y + dy, width, height };
            }
        }
        for (&edge, curve) in self.edges.iter().zip(&self.laid.curves) {
            if let Some(slot) = placed.curves.get_mut(edge) {
                *slot = curve.iter().map(|(x, y)| (x + dx, y + dy)).collect();
            }
        }
    }
}

/// The lines of a box: the label, then what more is written in it
fn words(node: &Node) -> (Vec<String>, usize) {
    let fill = |text: &String| {
        textwrap::wrap(text, TEXT_COLUMNS).into_iter().map(|line| line.into_owned()).collect::<Vec<_>>()
    };
    let label = fill(&node.label);
    let count = label.len();
    (label.into_iter().chain(node.lines.iter().flat_map(fill)).collect(), count)
}

/// The rectangle around a cluster as it was laid out
fn bounds(laid: &Layered, sizes: &[(f64, f64)]) -> Area {
    let start = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
    let boxes = laid.corners.iter().zip(sizes);
    let boxes = boxes.map(|((x, y), (width, height))| (*x, *y, x + width, y + height));
    let lines = laid.curves.iter().flatten().map(|(x, y)| (*x, *y, *x, *y));
    let (left, top, right, bottom) = boxes
        .chain(lines)
        .fold(start, |all, one| (all.0.min(one.0), all.1.min(one.1), all.2.max(one.2), all.3.max(one.3)));
    Area {
        x: left - CLUSTER_ROOM,
        y: top - CLUSTER_ROOM - CLUSTER_TITLE,
        width: right - left + 2.0 * CLUSTER_ROOM,
        height: bottom - top + 2.0 * CLUSTER_ROOM + CLUSTER_TITLE,
    }
}

/// The clusters in columns, those that more edges leave than reach first
fn columns(graph: &Graph, clusters: &[Cluster], top: f64) -> Vec<Area> {
    let mut placed: Vec<Area> = clusters.iter().map(|cluster| cluster.area).collect();
    let mut order: Vec<usize> = (0..placed.len()).collect();
    let cluster = |node: usize| graph.nodes.get(node).map(|node| node.cluster);
    let outward = |own: usize| {
        let crossing = graph.edges.iter().map(|edge| (cluster(edge.from), cluster(edge.to)));
        let crossing = crossing.filter(|(from, to)| from != to);
        crossing.map(|(from, to)| i64::from(from == Some(own)) - i64::from(to == Some(own))).sum::<i64>()
    };
    order.sort_by_key(|own| Reverse(outward(*own)));
    let tallest = placed.iter().map(|area| area.height).fold(PAGE, f64::max);
    let room: f64 = placed.iter().map(|area| (area.width + GAP.0) * (area.height + GAP.1)).sum();
    let height = f64::max(tallest, libm::sqrt(room * 0.8));
    let (mut x, mut y, mut widest) = (0.0, 0.0, 0.0);
    for number in order {
        let Some(area) = placed.get_mut(number) else { continue };
        if y > 0.0 && y + area.height > height {
            x += widest + GAP.0;
            (y, widest) = (0.0, 0.0);
        }
        (area.x, area.y) = (x, top + y);
        y += area.height + GAP.1;
        widest = f64::max(widest, area.width);
    }
    placed
}

/// An edge from one cluster to another: out of the right of its box, into the left of the other
fn across(from: Area, to: Area) -> Vec<(f64, f64)> {
    let start = (from.x + from.width, from.y + from.height / 2.0);
    let end = (to.x, to.y + to.height / 2.0);
    vec![start, (start.0 + REACH, start.1), (end.0 - REACH, end.1), end]
}
