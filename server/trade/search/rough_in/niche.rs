//! Places for a niche.

use std::collections::BTreeSet;

use super::{EdgeFit, Fit, Fitting, Framing, Laid, NoPlace, Off, Row, Span, Wish, corner, joints, middle};
use crate::geometry::{Rect, Side};
use crate::measure::{Length, OpeningShape};

/// One edge of the niche among the spans across it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Edge {
    /// In a joint, this far from the tile that stays.
    InJoint { space: Length },
    /// In a tile.
    InTile(Off),
}

/// What a place comes to; the least is the best.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Score {
    thin: usize,
    off: usize,
    /// Courses cut at the niche's sides.
    courses_cut: usize,
    unequal: Length,
    /// How far an edge misses a joint where the one across from it is in one.
    missed: Length,
    from_the_middle: Length,
}

/// One way to stand along the wall: the edges left and right in every row, where the row reaches past both.
struct Column {
    x: Length,
    edges: Vec<Option<(Edge, Edge)>>,
}

/// One height to stand at: the edges below and above, and the rows beside it.
struct Level {
    y: Length,
    bottom: Edge,
    top: Edge,
    rows: (usize, usize),
}

/// Every place worth trying where it has room, the best first.
pub(super) fn ranked(
    laid: &Laid<'_>,
    wish: &Wish,
    (width, height): (Length, Length),
    lining: Length,
) -> Result<Vec<Framing>, NoPlace> {
    let (across, up) = (width + lining * 2, height + lining * 2);
    let lacks = (across - wish.within.width(), up - wish.within.height());
    if lacks.0 > Length::ZERO || lacks.1 > Length::ZERO {
        return Err(NoPlace::RangeTooSmall { across: lacks.0, up: lacks.1 });
    }
    let niche = Niche { laid, wish, width, height, lining };
    let xs = (wish.within.left + lining, wish.within.right - lining - width);
    let ys = (wish.within.bottom + lining, wish.within.top - lining - height);
    let columns = niche.columns(xs);
    let levels = niche.levels(ys);
    let mut found: Vec<(Score, Framing)> = Vec::new();
    for level in &levels {
        for column in &columns {
            let mouth = niche.mouth(column.x, level.y);
            if let Some(edges) = niche.edges(column, level)
                && laid.is_free(&mouth.grown(wish.clearance))
            {
                let away = (column.x - middle(xs)).abs() + (level.y - middle(ys)).abs();
                found.push((niche.score(&edges, column, level, away), niche.framing(mouth, &edges)));
            }
        }
    }
    // Of equals the lowest, then the leftmost.
    found.sort_by_key(|(score, framing)| (*score, corner(&framing.shape).y, corner(&framing.shape).x));
    Ok(found.into_iter().map(|(_, framing)| framing).collect())
}

struct Niche<'a> {
    laid: &'a Laid<'a>,
    wish: &'a Wish,
    width: Length,
    height: Length,
    lining: Length,
}

impl Niche<'_> {
    fn mouth(&self, x: Length, y: Length) -> Rect {
        Rect { left: x, bottom: y, right: x + self.width, top: y + self.height }
    }

    fn columns(&self, range: Span) -> Vec<Column> {
        let mut xs = BTreeSet::new();
        for row in &self.laid.rows {
            xs.extend(self.starts(&row.tiles, self.laid.beside_openings(), self.width, range));
        }
        let (clear, width) = (self.wish.clearance, self.width);
        let column = |x: Length| Column {
            x,
            edges: self.laid.rows.iter().map(|row| row.sides(x - clear, x + width + clear)).collect(),
        };
        xs.into_iter().map(column).collect()
    }

    fn levels(&self, range: Span) -> Vec<Level> {
        let heights = self.laid.heights();
        let level = |y: Length| {
            let (low, high) = (y - self.wish.clearance, y + self.height + self.wish.clearance);
            let first = heights.partition_point(|row| row.1 <= low);
            let last = heights.partition_point(|row| row.0 < high);
            let (bottom, top) = (low_edge(&heights, low)?, high_edge(&heights, high)?);
            Some(Level { y, bottom, top, rows: (first, last) })
        };
        let starts = self.starts(&heights, self.laid.over_openings(), self.height, range);
        starts.into_iter().filter_map(level).collect()
    }

    /// Where its lower or left edge may begin, so that something changes there; within the range.
    fn starts(
        &self,
        spans: &[Span],
        kept_clear: impl Iterator<Item = Span>,
        size: Length,
        range: Span,
    ) -> BTreeSet<Length> {
        let (clear, leg) = (self.wish.clearance, self.laid.job.thinnest_leg);
        let begins = |edge: Length| edge + clear;
        let ends = |edge: Length| edge - clear - size;
        let centred = |at: Length| at - size.half();
        let of_joint = |joint: Span| {
            [begins(joint.0), begins(joint.1), ends(joint.0), ends(joint.1), centred(middle(joint))]
        };
        let of_tile = |tile: &Span| [begins(tile.0 + leg), ends(tile.1 - leg), centred(middle(*tile))];
        joints(spans)
            .flat_map(of_joint)
            .chain(spans.iter().flat_map(of_tile))
            .chain(kept_clear.flat_map(|(from, to)| [ends(from), begins(to)]))
            .chain([range.0, range.1, middle(range)])
            .filter(|start| range.0 <= *start && *start <= range.1)
            .collect()
    }

    /// Left, right, bottom, top; `None` where a row beside it does not reach past it.
    fn edges(&self, column: &Column, level: &Level) -> Option<[Edge; 4]> {
        let beside = column.edges.get(level.rows.0..level.rows.1)?;
        let (mut left, mut right): (Option<Edge>, Option<Edge>) = (None, None);
        for row in beside {
            let (at_left, at_right) = (*row)?;
            left = Some(left.map_or(at_left, |worst| worst.or_worse(at_left)));
            right = Some(right.map_or(at_right, |worst| worst.or_worse(at_right)));
        }
        Some([left?, right?, level.bottom, level.top])
    }

    fn score(&self, edges: &[Edge; 4], column: &Column, level: &Level, away: Length) -> Score {
        let [left, right, bottom, top] = edges;
        let offs = || edges.iter().filter_map(|edge| edge.off());
        let beside = column.edges[level.rows.0..level.rows.1].iter().flatten();
        let cut = beside.flat_map(|(left, right)| [left.off(), right.off()]).flatten();
        let upright = match (bottom, top) {
            (Edge::InJoint { space: below }, Edge::InJoint { space: above }) => (*below - *above).abs(),
            _ => Length::ZERO,
        };
        Score {
            thin: offs().filter(|off| off.leaves < self.laid.job.thinnest_leg).count(),
            off: offs().count(),
            courses_cut: cut.count(),
            unequal: left.unequal(right) + upright,
            missed: left.missed(right) + bottom.missed(top),
            from_the_middle: away,
        }
    }

    fn framing(&self, mouth: Rect, edges: &[Edge; 4]) -> Framing {
        let [left, right, bottom, top] = edges.map(|edge| edge.off());
        let fit = |side: Side| EdgeFit {
            side,
            off: match side {
                Side::Left => left,
                Side::Right => right,
                Side::Bottom => bottom,
                Side::Top => top,
            },
        };
        let (width, height) = (self.width, self.height);
        Framing {
            shape: OpeningShape::Rectangle { x: mouth.left, y: mouth.bottom, width, height },
            framed: Some(mouth.grown(self.lining)),
            fit: Fit::Niche(Side::ALL.map(fit)),
            pieces: Vec::new(),
            cut: 0,
            slivers: Vec::new(),
        }
    }
}

impl Row {
    /// The niche's edges in this row.
    fn sides(&self, left: Length, right: Length) -> Option<(Edge, Edge)> {
        Some((low_edge(&self.tiles, left)?, high_edge(&self.tiles, right)?))
    }
}

/// The sizes at which a niche at about this place would have both edges of a pair in joints.
pub(super) fn fitting(laid: &Laid<'_>, wish: &Wish, at: &Framing) -> Fitting {
    let OpeningShape::Rectangle { y, width, height, .. } = at.shape else { return Fitting::default() };
    let clear = wish.clearance;
    let beside = |row: &&Row| row.up.0 < y + height + clear && y - clear < row.up.1;
    let mut rows = laid.rows.iter().filter(beside);
    let first: Vec<Span> = rows.next().map(|row| joints(&row.tiles).collect()).unwrap_or_default();
    let upright = rows.fold(first, |common, row| {
        let here: BTreeSet<Span> = joints(&row.tiles).collect();
        common.into_iter().filter(|joint| here.contains(joint)).collect()
    });
    let level: Vec<Span> = joints(&laid.heights()).collect();
    let nearest = |joints: &[Span], size: Length| {
        let between = nearest_between(joints, size + clear * 2)? - clear * 2;
        (between != size && between > Length::ZERO).then_some(between)
    };
    Fitting { width: nearest(&upright, width), height: nearest(&level, height) }
}

/// The size nearest to `wanted` that reaches from somewhere in one joint to somewhere in another.
fn nearest_between(joints: &[Span], wanted: Length) -> Option<Length> {
    let pairs = (0..joints.len()).flat_map(|first| {
        joints[first + 1..].iter().map(move |second| (second.0 - joints[first].1, second.1 - joints[first].0))
    });
    pairs.map(|(least, most)| wanted.max(least).min(most)).min_by_key(|size| (*size - wanted).abs())
}

/// The niche's lower or left edge: what stays lies before it. `None` where no tile does.
fn low_edge(spans: &[Span], edge: Length) -> Option<Edge> {
    let next = spans.partition_point(|span| span.1 <= edge);
    match spans.get(next) {
        Some((from, to)) if *from < edge => Some(Edge::in_tile(edge - *from, *to - edge)),
        _ => {
            let before = spans.get(next.checked_sub(1)?)?;
            Some(Edge::InJoint { space: edge - before.1 })
        }
    }
}

/// The niche's upper or right edge: what stays lies after it.
fn high_edge(spans: &[Span], edge: Length) -> Option<Edge> {
    let next = spans.get(spans.partition_point(|span| span.1 <= edge))?;
    Some(if next.0 < edge {
        Edge::in_tile(next.1 - edge, edge - next.0)
    } else {
        Edge::InJoint { space: next.0 - edge }
    })
}

impl Edge {
    fn in_tile(leaves: Length, takes: Length) -> Self {
        Self::InTile(Off { by: leaves.min(takes), leaves })
    }

    fn off(self) -> Option<Off> {
        match self {
            Self::InJoint { .. } => None,
            Self::InTile(off) => Some(off),
        }
    }

    /// The worse of the same edge in two rows.
    fn or_worse(self, other: Self) -> Self {
        match (self, other) {
            (Self::InTile(one), Self::InTile(other)) => {
                Self::InTile(if other.leaves < one.leaves { other } else { one })
            }
            (Self::InTile(off), Self::InJoint { .. }) | (Self::InJoint { .. }, Self::InTile(off)) => {
                Self::InTile(off)
            }
            (Self::InJoint { space: one }, Self::InJoint { space: other }) => {
                Self::InJoint { space: one.max(other) }
            }
        }
    }

    /// How far one of the two is off its joint, where the other is in one: it can only move as far as that joint is wide.
    fn missed(&self, other: &Self) -> Length {
        match (self, other) {
            (Self::InJoint { .. }, Self::InTile(off)) | (Self::InTile(off), Self::InJoint { .. }) => off.by,
            (Self::InJoint { .. }, Self::InJoint { .. }) | (Self::InTile(_), Self::InTile(_)) => Length::ZERO,
        }
    }

    /// How unlike the two sides look, where both are alike in kind.
    fn unequal(&self, other: &Self) -> Length {
        match (self, other) {
            (Self::InJoint { space: one }, Self::InJoint { space: other }) => (*one - *other).abs(),
            (Self::InTile(one), Self::InTile(other)) => (one.leaves - other.leaves).abs(),
            (Self::InJoint { .. }, Self::InTile(_)) | (Self::InTile(_), Self::InJoint { .. }) => Length::ZERO,
        }
    }
}
