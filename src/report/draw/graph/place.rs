//! Where everything in the graph lies: each cluster laid out by itself, the clusters in columns beside one another.
//!
//! A drawn graph is laid out part by part: `layered` gives each part's boxes and the lanes of its arrows by the library, here
//! the parts are set beside one another, causes to the left. Inside a part no arrow meets a box (a test draws any graph);
//! between parts arrows pass beneath the boxes.

use super::layered::{self, Layered};
use super::{Graph, Node};
use crate::invariant::Hold;
use std::cmp::Reverse;
use std::collections::BTreeMap;

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
/// Width of a letter of a cluster's title, at the most
const TITLE_LETTER: f64 = 9.4;
/// How far the bend of an edge reaches out of its box, inside a cluster and between clusters
const REACH: f64 = 34.0;
const FAR_REACH: f64 = 70.0;

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
        (BOX_WIDTH, 2.0 * BOX_ROOM + LINE * lines as f64)
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
        if let (Some(from), Some(to)) = (placed.boxes.get(edge.from), placed.boxes.get(edge.to)) {
            let far = graph.nodes.get(edge.from).map(|node| node.cluster)
                != graph.nodes.get(edge.to).map(|node| node.cluster);
            *curve = route(*from, curve, *to, if far { FAR_REACH } else { REACH });
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
        let place = |node: usize| nodes.iter().position(|own| *own == node).hold("both ends lie in it");
        let (edges, ends): (Vec<usize>, Vec<(usize, usize)>) =
            inside.map(|(number, edge)| (number, (place(edge.from), place(edge.to)))).unzip();
        let sizes: Vec<(f64, f64)> = nodes.iter().map(|node| size(*node)).collect();
        let laid = layered::place(&sizes, &ends);
        let letters = graph.clusters.get(own).map_or(0, |title| title.chars().count());
        let title = TITLE_LETTER * letters as f64 + CLUSTER_ROOM;
        let mut area = bounds(&laid, &sizes);
        area.width = f64::max(area.width, title);
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
        for (&edge, bends) in self.edges.iter().zip(&self.laid.bends) {
            if let Some(slot) = placed.curves.get_mut(edge) {
                *slot = bends.iter().map(|(x, y)| (x + dx, y + dy)).collect();
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
    if sizes.is_empty() {
        return Area { height: CLUSTER_TITLE + CLUSTER_ROOM, ..Area::default() };
    }
    let start = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
    let boxes = laid.corners.iter().zip(sizes);
    let boxes = boxes.map(|((x, y), (width, height))| (*x, *y, x + width, y + height));
    let lines = laid.bends.iter().flatten().map(|(x, y)| (*x, *y, *x, *y));
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

/// The clusters in columns: every one to the right of those that bring about what is in it, as far as they stand in no
/// ring; in a ring those come first that more edges leave than reach
fn columns(graph: &Graph, clusters: &[Cluster], top: f64) -> Vec<Area> {
    let mut placed: Vec<Area> = clusters.iter().map(|cluster| cluster.area).collect();
    let cluster = |node: usize| graph.nodes.get(node).map_or(0, |node| node.cluster);
    let ends = graph.edges.iter().map(|edge| (cluster(edge.from), cluster(edge.to)));
    let crossing: Vec<(usize, usize)> = ends.filter(|(from, to)| from != to).collect();
    let outward = |own: usize| {
        let count = |(from, to): &(usize, usize)| i64::from(*from == own) - i64::from(*to == own);
        crossing.iter().map(count).sum::<i64>()
    };
    let mut order: Vec<usize> = (0..placed.len()).collect();
    order.sort_by_key(|own| Reverse(outward(*own)));
    let mut column: BTreeMap<usize, usize> = BTreeMap::new();
    for own in order.iter().copied() {
        let before = crossing.iter().filter(|(_, to)| *to == own);
        let before = before.filter_map(|(from, _)| column.get(from)).max();
        let next = before.map_or(0, |before| before + 1);
        column.insert(own, next);
    }
    let mut x = 0.0;
    for number in 0..placed.len() {
        let (mut y, mut widest) = (top, 0.0);
        for own in order.iter().filter(|own| column.get(own) == Some(&number)) {
            let Some(area) = placed.get_mut(*own) else { continue };
            (area.x, area.y) = (x, y);
            y += area.height + GAP.1;
            widest = f64::max(widest, area.width);
        }
        x += if widest > 0.0 { widest + GAP.0 } else { 0.0 };
    }
    placed
}

/// An edge out of the right of a box into the left of another; past the columns between it runs straight along its lanes,
/// so that it meets no box there
fn route(from: Area, lanes: &[(f64, f64)], to: Area, reach: f64) -> Vec<(f64, f64)> {
    let mut points = vec![(from.x + from.width, from.y + from.height / 2.0)];
    let mut turn = |next: (f64, f64)| {
        if let Some(&last) = points.last() {
            points.extend([(last.0 + reach, last.1), (next.0 - reach, next.1), next]);
        }
    };
    for &(x, y) in lanes {
        turn((x - BOX_WIDTH / 2.0, y));
        turn((x + BOX_WIDTH / 2.0, y));
    }
    turn((to.x, to.y + to.height / 2.0));
    points
}
