//! Layered placing of a small graph from left to right, by a library that is named here alone.

use layout::core::base::Orientation;
use layout::core::format::{ClipHandle, RenderBackend};
use layout::core::geometry::{Point, Position};
use layout::core::style::StyleAttr;
use layout::std_shapes::shapes::{Arrow, Element, ShapeKind};
use layout::topo::layout::VisualGraph;

/// Room between columns and between the boxes of one, in pixels
const ROOM: (f64, f64) = (70.0, 16.0);

/// Where boxes and edges lie, in pixels from the top left
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Layered {
    /// Top left corners of the boxes, in their order
    pub(super) corners: Vec<(f64, f64)>,
    /// Edges as cubic curves, in their order: the start, then two control points and an end for each piece
    pub(super) curves: Vec<Vec<(f64, f64)>>,
}

/// Places boxes of the given sizes; edges run from box to box by their numbers, in no ring
pub(super) fn place(sizes: &[(f64, f64)], edges: &[(usize, usize)]) -> Layered {
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
    pen.0
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
        self.0.curves.push(curve(path));
    }

    fn create_clip(&mut self, _: Point, _: Point, _: usize) -> ClipHandle {
        0
    }
}

/// The library gives a start with its control point, then for each piece a control point and an end; the control point at
/// the start of a later piece is the mirror of the one before its end
fn curve(path: &[(Point, Point)]) -> Vec<(f64, f64)> {
    let mut points = Vec::new();
    let mut leaving = None;
    for (place, &(first, second)) in path.iter().enumerate() {
        if place == 0 {
            points.push((first.x, first.y));
            leaving = Some((second.x, second.y));
            continue;
        }
        points.extend(leaving);
        points.extend([(first.x, first.y), (second.x, second.y)]);
        leaving = Some((2.0 * second.x - first.x, 2.0 * second.y - first.y));
    }
    points
}
