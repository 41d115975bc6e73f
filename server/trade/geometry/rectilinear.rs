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

/// What of `whole` the rectangles leave open, as rectangles that do not overlap: whole columns of it where they are
/// fewer than rows, else rows.
pub fn rest_of(whole: &Rect, taken: &[Rect]) -> Vec<Rect> {
    if whole.is_empty() {
        return Vec::new();
    }
    let near: Vec<Rect> = taken.iter().filter(|rect| rect.overlaps(whole)).copied().collect();
    let grid = Grid::new(whole, &near);
    let open = grid.open_fields(&near);
    let rows = grid.joined(&open, |(column, row)| (row, column));
    let columns = grid.joined(&open, |field| field);
    if columns.len() < rows.len() { columns } else { rows }
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

    /// Open fields joined into runs along `order`, whose second number counts along a run, and runs of equal length
    /// that lie side by side joined again.
    fn joined(&self, open: &BTreeSet<Field>, order: impl Fn(Field) -> Field) -> Vec<Rect> {
        let in_order: BTreeSet<Field> = open.iter().map(|&field| order(field)).collect();
        let mut runs: Vec<(usize, usize, usize)> = Vec::new();
        for (across, along) in in_order {
            match runs.last_mut() {
                Some((of, _, end)) if *of == across && *end == along => *end += 1,
                _ => runs.push((across, along, along + 1)),
            }
        }
        // By the stretch that they cover, then side by side.
        runs.sort_by_key(|&(across, from, to)| (from, to, across));
        let mut blocks: Vec<(Field, Field)> = Vec::new();
        for (across, from, to) in runs {
            match blocks.last_mut() {
                Some((first, last)) if (first.1, last.1, last.0) == (from, to, across) => last.0 += 1,
                _ => blocks.push(((across, from), (across + 1, to))),
            }
        }
        let rects = blocks.into_iter().map(|(first, last)| {
            let (low, high) = (order(first), order(last));
            Rect {
                left: self.xs[low.0],
                bottom: self.ys[low.1],
                right: self.xs[high.0],
                top: self.ys[high.1],
            }
        });
        let mut rects: Vec<Rect> = rects.collect();
        rects.sort_by_key(|rect| (rect.bottom, rect.left));
        rects
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
