//! Layered placing of a small graph from left to right, by a library that is named here alone.

use layout::core::base::Orientation;
use layout::core::format::{ClipHandle, RenderBackend};
use layout::core::geometry::{Point, Position};
use layout::core::style::StyleAttr;
use layout::std_shapes::shapes::{Arrow, Element, ShapeKind};
use layout::topo::layout::VisualGraph;

/// Room between columns and between the boxes of one, in pixels
const ROOM: (f64, f64) = (70.0, 16.0);

/// Edges of a cluster up to which the order of its boxes is improved; the time for it grows steeply
const MOST_UNTANGLED: usize = 160;
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
    let too_many_to_untangle = edges.len() > MOST_UNTANGLED;
    graph.do_it(false, too_many_to_untangle, false, &mut pen);
    let mut laid = pen.0;
    let middles: Vec<f64> =
        laid.corners.iter().zip(sizes).map(|((x, _), (width, _))| x + width / 2.0).collect();
    for (x, _) in laid.bends.iter_mut().flatten() {
        // The library shifts lanes a little along their way, for edges that run slantwise; these do not.
        let near = middles.iter().copied().min_by(|a, b| (a - *x).abs().total_cmp(&(b - *x).abs()));
        *x = near.filter(|near| (near - *x).abs() < MOST_SHIFT).unwrap_or(*x); // else: it was not shifted
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
        let between = path.get(1..path.len().saturating_sub(1)).unwrap_or_default(); // else: it has no lanes
        self.0.bends.push(between.iter().map(|(_, middle)| (middle.x, middle.y)).collect());
    }

    fn create_clip(&mut self, _: Point, _: Point, _: usize) -> ClipHandle {
        0
    }
}
