//! Layered placing of a small graph from left to right, by a library that is named here alone.

use layout::core::base::Orientation;
use layout::core::format::{ClipHandle, RenderBackend};
use layout::core::geometry::{Point, Position};
use layout::core::style::StyleAttr;
use layout::std_shapes::shapes::{Arrow, Element, ShapeKind};
use layout::topo::layout::VisualGraph;

/// Room between columns and between the boxes of one, in pixels
const ROOM: (f64, f64) = (70.0, 16.0);

/// The most by which the library shifts a lane out of the middle of its column
const MOST_SHIFT: f64 = 100.0;

/// Where boxes and edges lie, in pixels from the top left
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Layered {
    /// Top left corners of the boxes, in their order
    pub(super) corners: Vec<(f64, f64)>,
    /// For each edge, in their order, the points in the columns between its ends where it has a lane of its own
    pub(super) bends: Vec<Vec<(f64, f64)>>,
}

/// Places boxes of the given sizes; edges run from box to box by their numbers, in no ring
pub(super) fn place(sizes: &[(f64, f64)], edges: &[(usize, usize)]) -> Layered {
    // Boxes without an edge go into rows below the others: the library may put two of them on one another.
    let (bound, lone): (Vec<usize>, Vec<usize>) =
        (0..sizes.len()).partition(|own| edges.iter().any(|(from, to)| from == own || to == own));
    let number = |own: usize| bound.binary_search(&own).unwrap_or(0);
    let bound_sizes: Vec<(f64, f64)> = bound.iter().filter_map(|own| sizes.get(*own).copied()).collect();
    let bound_edges: Vec<(usize, usize)> =
        edges.iter().map(|(from, to)| (number(*from), number(*to))).collect();
    let laid = by_library(&bound_sizes, &bound_edges);
    let ends = laid.corners.iter().zip(&bound_sizes).map(|((x, y), (width, height))| (x + width, y + height));
    let lanes = laid.bends.iter().flatten().copied();
    let (width, height) =
        ends.chain(lanes).fold((0.0, 0.0), |most, end| (f64::max(most.0, end.0), f64::max(most.1, end.1)));
    let left = laid.corners.iter().map(|(x, _)| *x).fold(f64::INFINITY, f64::min);
    let left = if left.is_finite() { left } else { 0.0 };
    let mut corners = vec![(0.0, 0.0); sizes.len()];
    let mut set = |own: usize, corner: (f64, f64)| {
        if let Some(slot) = corners.get_mut(own) {
            *slot = corner;
        }
    };
    bound.iter().zip(&laid.corners).for_each(|(own, corner)| set(*own, *corner));
    let (mut x, mut y, mut tallest) = (left, if bound.is_empty() { 0.0 } else { height + ROOM.1 }, 0.0);
    for own in lone {
        let Some(&(own_width, own_height)) = sizes.get(own) else { continue };
        if x > left && x + own_width > width {
            (x, y, tallest) = (left, y + tallest + ROOM.1, 0.0);
        }
        set(own, (x, y));
        x += own_width + ROOM.0;
        tallest = f64::max(tallest, own_height);
    }
    Layered { corners, bends: laid.bends }
}

fn by_library(sizes: &[(f64, f64)], edges: &[(usize, usize)]) -> Layered {
    if sizes.is_empty() {
        return Layered::default();
    }
    let way = Orientation::LeftToRight;
    let mut graph = VisualGraph::new(way);
    // Its own checks of every step take longer than the steps.
    graph.dag.set_validate(false);
    let handles: Vec<_> = sizes
        .iter()
        .map(|&(width, height)| {
            let size = Point::new(width, height);
            let mut element = Element::create(ShapeKind::new_box(""), StyleAttr::simple(), way, size);
            element.pos = Position::new(Point::zero(), size, Point::zero(), Point::new(ROOM.0, ROOM.1));
            graph.add_node(element)
        })
        .collect();
    for &(from, to) in edges {
        if let (Some(from), Some(to)) = (handles.get(from), handles.get(to)) {
            graph.add_edge(Arrow::simple(""), *from, *to);
        }
    }
    let mut pen = Pen::default();
    graph.do_it(false, false, false, &mut pen);
    let mut laid = pen.0;
    let middles: Vec<f64> =
        laid.corners.iter().zip(sizes).map(|((x, _), (width, _))| x + width / 2.0).collect();
    for (x, _) in laid.bends.iter_mut().flatten() {
        // The library shifts lanes a little along their way, for edges that run slantwise; these do not.
        let near = middles.iter().copied().min_by(|a, b| (a - *x).abs().total_cmp(&(b - *x).abs()));
        *x = near.filter(|near| (near - *x).abs() < MOST_SHIFT).unwrap_or(*x);
    }
    laid
}

/// Takes down what the library would draw
#[derive(Default)]
struct Pen(Layered);

impl RenderBackend for Pen {
    fn draw_rect(&mut self, at: Point, _: Point, _: &StyleAttr, _: Option<String>, _: Option<ClipHandle>) {
        self.0.corners.push((at.x, at.y));
    }

    fn draw_line(&mut self, _: Point, _: Point, _: &StyleAttr, _: Option<String>) {}

    fn draw_circle(&mut self, _: Point, _: Point, _: &StyleAttr, _: Option<String>) {}

    fn draw_text(&mut self, _: Point, _: &str, _: &StyleAttr) {}

    fn draw_arrow(
        &mut self,
        path: &[(Point, Point)],
        _: bool,
        _: (bool, bool),
        _: &StyleAttr,
        _: Option<String>,
        _: &str,
    ) {
        // The first point and the last are the ends; every other entry leads to the middle of a lane.
        let between = path.get(1..path.len().saturating_sub(1)).unwrap_or_default();
        self.0.bends.push(between.iter().map(|(_, middle)| (middle.x, middle.y)).collect());
    }

    fn create_clip(&mut self, _: Point, _: Point, _: usize) -> ClipHandle {
        0
    }
}
