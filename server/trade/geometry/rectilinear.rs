//! An upright rectangle less upright rectangles: exact, with nothing rounded.

use std::collections::{BTreeMap, BTreeSet};

use super::polygon::{Where, area_doubled, locate, tidy, tidy_hole};
use super::{Point, Rect, Shape};
use crate::measure::Length;

/// The connected parts of `whole` outside every rectangle of `taken`, left to right. Parts that meet only at a
/// corner are two.
///
/// The rectangles' own lines cut `whole` into a small grid; its open fields are gathered into parts, and the
/// border of each part is walked with the part on the left.
pub fn minus_rects(whole: &Rect, taken: &[Rect]) -> Vec<Shape> {
    if whole.is_empty() {
        return Vec::new();
    }
    let grid = Grid::new(whole, taken);
    let mut left: BTreeSet<Field> = grid.open_fields(taken);
    let mut shapes = Vec::new();
    while let Some(first) = left.pop_first() {
        shapes.extend(grid.walk_round(&gather(first, &mut left)));
    }
    shapes
}

/// Column and row of a field of the grid.
type Field = (usize, usize);

struct Grid {
    xs: Vec<Length>,
    ys: Vec<Length>,
}

impl Grid {
    fn new(whole: &Rect, taken: &[Rect]) -> Self {
        let lines = |low: Length, high: Length, of: &dyn Fn(&Rect) -> [Length; 2]| {
            let cuts = taken.iter().flat_map(of).filter(|&at| low < at && at < high);
            cuts.chain([low, high]).collect::<BTreeSet<_>>().into_iter().collect()
        };
        Self {
            xs: lines(whole.left, whole.right, &|rect| [rect.left, rect.right]),
            ys: lines(whole.bottom, whole.top, &|rect| [rect.bottom, rect.top]),
        }
    }

    fn rect(&self, (column, row): Field) -> Rect {
        Rect {
            left: self.xs[column],
            bottom: self.ys[row],
            right: self.xs[column + 1],
            top: self.ys[row + 1],
        }
    }

    fn open_fields(&self, taken: &[Rect]) -> BTreeSet<Field> {
        let columns = 0..self.xs.len() - 1;
        let fields = columns.flat_map(|column| (0..self.ys.len() - 1).map(move |row| (column, row)));
        fields.filter(|&field| !taken.iter().any(|rect| rect.overlaps(&self.rect(field)))).collect()
    }

    /// The outline and holes of a part. At a corner where two of its fields meet diagonally the walk turns
    /// right, so that a hole that touches the outline there stays a loop of its own and every loop is simple.
    fn walk_round(&self, part: &BTreeSet<Field>) -> Option<Shape> {
        let mut ahead: BTreeMap<(usize, usize), Vec<(usize, usize)>> = BTreeMap::new();
        for &(column, row) in part {
            let corners = [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)];
            let neighbours = [
                row.checked_sub(1).map(|row| (column, row)),
                Some((column + 1, row)),
                Some((column, row + 1)),
                column.checked_sub(1).map(|column| (column, row)),
            ];
            for (side, neighbour) in neighbours.into_iter().enumerate() {
                if !neighbour.is_some_and(|field| part.contains(&field)) {
                    ahead.entry(corners[side]).or_default().push(corners[(side + 1) % 4]);
                }
            }
        }
        let mut shape = Shape::default();
        while let Some((&start, _)) = ahead.first_key_value() {
            let ring: Vec<Point> = self.one_loop(start, &mut ahead);
            if area_doubled(&ring) > 0 {
                shape.outline = tidy(&ring);
            } else {
                shape.holes.push(tidy_hole(&ring));
            }
        }
        (!shape.outline.is_empty()).then_some(shape)
    }

    fn one_loop(
        &self,
        start: (usize, usize),
        ahead: &mut BTreeMap<(usize, usize), Vec<(usize, usize)>>,
    ) -> Vec<Point> {
        let place = |(column, row): (usize, usize)| Point::new(self.xs[column], self.ys[row]);
        let mut ring = Vec::new();
        let (mut before, mut here) = (None, start);
        while let Some(ways) = ahead.get_mut(&here) {
            let rightmost = |&&way: &&(usize, usize)| {
                before.map_or(0, |before| super::polygon::turn(place(before), place(here), place(way)))
            };
            let Some(&next) = ways.iter().min_by_key(rightmost) else { break };
            ways.retain(|&way| way != next);
            if ways.is_empty() {
                ahead.remove(&here);
            }
            ring.push(place(here));
            (before, here) = (Some(here), next);
            if here == start {
                break;
            }
        }
        ring
    }
}

/// Takes out of `left` all fields that hang together with `first` by whole sides.
fn gather(first: Field, left: &mut BTreeSet<Field>) -> BTreeSet<Field> {
    let mut part = BTreeSet::from([first]);
    let mut waiting = vec![first];
    while let Some((column, row)) = waiting.pop() {
        let around = [
            Some((column + 1, row)),
            Some((column, row + 1)),
            column.checked_sub(1).map(|column| (column, row)),
            row.checked_sub(1).map(|row| (column, row)),
        ];
        for field in around.into_iter().flatten() {
            if left.remove(&field) {
                part.insert(field);
                waiting.push(field);
            }
        }
    }
    part
}

impl Shape {
    /// Whether a point lies in the shape's open inside.
    pub fn has_inside(&self, point: Point) -> bool {
        locate(&self.outline, point) == Where::Inside
            && self.holes.iter().all(|hole| locate(hole, point) == Where::Outside)
    }
}
