//! A surface given by its outline: a floor, an L-shaped wall, a wall round the reveal of a window.
//!
//! Its axes are its own: x runs right and y up, seen from the front, or from above on a floor. Sides are level or
//! plumb; slanted ones are not here yet.

use std::collections::BTreeSet;

use super::{BaseReading, Edges, Gaps, Length, Role, TopReading};
use crate::geometry::polygon::{self, turn};
use crate::geometry::{Point, Rect, Side, rest_of};

/// The sides of a surface, one after the other, each with what may be seen there.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Outline {
    kind: OutlineKind,
    /// Counter-clockwise, so that the surface lies on the left of each.
    sides: Vec<OutlineSide>,
}

/// Where the surface lies.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum OutlineKind {
    /// Level, seen from above.
    Floor,
    /// Upright, seen from the front.
    Wall,
}

/// One side; the surface lies on the left of the way from `from` to `to`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct OutlineSide {
    /// Where it begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// What may be seen along it.
    pub role: Role,
}

/// Why points and roles make no outline; sides and points are counted from 0 in the order given.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
pub enum OutlineFault {
    /// Three points or fewer enclose nothing with level and plumb sides.
    #[error("an outline has at least 4 points, not {points}")]
    TooFewPoints { points: usize },
    /// Each side has one role.
    #[error("{points} sides need as many roles, not {roles}")]
    Roles { points: usize, roles: usize },
    /// A point is given twice in turn.
    #[error("side {side} has no length")]
    NoLength { side: usize },
    /// A side is neither level nor plumb.
    #[error("side {side} is neither level nor plumb")]
    Slanted { side: usize },
    /// Two sides have a point in common that is no corner between them.
    #[error("side {side} meets side {other}")]
    Crossing { side: usize, other: usize },
}

impl Outline {
    /// The outline through `points`, either way round, the first one not repeated; `roles[i]` is that of the side
    /// from point i to the next.
    ///
    /// # Errors
    /// Every fault of single sides; or, where there is none, the first two sides that meet elsewhere than at a
    /// corner.
    pub fn new(kind: OutlineKind, points: &[Point], roles: &[Role]) -> Result<Self, Vec<OutlineFault>> {
        let mut faults = Vec::new();
        if points.len() < 4 {
            faults.push(OutlineFault::TooFewPoints { points: points.len() });
        }
        if points.len() != roles.len() {
            faults.push(OutlineFault::Roles { points: points.len(), roles: roles.len() });
        }
        for (side, (from, to)) in polygon::edges(points).enumerate() {
            match (from.x == to.x, from.y == to.y) {
                (true, true) => faults.push(OutlineFault::NoLength { side }),
                (false, false) => faults.push(OutlineFault::Slanted { side }),
                (true, false) | (false, true) => {}
            }
        }
        if faults.is_empty() {
            faults.extend(first_crossing(points));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let sides = polygon::edges(points).zip(roles);
        let mut sides: Vec<_> = sides.map(|((from, to), &role)| OutlineSide { from, to, role }).collect();
        if polygon::area_doubled(points) < 0 {
            sides.reverse();
            sides.iter_mut().for_each(|side| std::mem::swap(&mut side.from, &mut side.to));
        }
        Ok(Self { kind, sides })
    }

    /// Where the surface lies.
    pub fn kind(&self) -> OutlineKind {
        self.kind
    }

    /// The sides, counter-clockwise.
    pub fn sides(&self) -> &[OutlineSide] {
        &self.sides
    }

    /// The points, counter-clockwise, side i beginning at point i.
    pub fn corners(&self) -> Vec<Point> {
        self.sides.iter().map(|side| side.from).collect()
    }

    /// The rectangle round it.
    pub fn bounds(&self) -> Rect {
        polygon::bounds(&self.corners())
    }

    /// Where tile may lie once every side keeps its gap, as rectangles that do not overlap.
    ///
    /// A gap is kept square to its side; in a corner that juts into the surface both gaps are kept, so that tile
    /// is notched square round it.
    pub fn room(&self, gaps: &Gaps) -> Vec<Rect> {
        let kept_free = self.kept_free(gaps);
        let open: Vec<Rect> = self.inside().iter().flat_map(|part| rest_of(part, &kept_free)).collect();
        let bounds = self.bounds();
        rest_of(&bounds, &rest_of(&bounds, &open))
    }

    /// The gap beside each side that has one.
    fn kept_free(&self, gaps: &Gaps) -> Vec<Rect> {
        let count = self.sides.len();
        let beside = (0..count).map(|at| {
            let [before, side, after] =
                [(at + count - 1) % count, at, (at + 1) % count].map(|at| self.sides[at]);
            let past = |one: &OutlineSide, next: &OutlineSide, other: &OutlineSide| {
                let juts_in = turn(one.from, one.to, next.to) < 0;
                if juts_in { gaps.at(other.role) } else { Length::ZERO }
            };
            side.strip(gaps.at(side.role), past(&before, &side, &before), past(&side, &after, &after))
        });
        beside.filter(|strip| !strip.is_empty()).collect()
    }

    /// The inside as rectangles, each between two heights at which a point lies.
    pub(super) fn inside(&self) -> Vec<Rect> {
        let heights: Vec<Length> =
            self.sides.iter().map(|side| side.from.y).collect::<BTreeSet<_>>().into_iter().collect();
        let mut parts = Vec::new();
        for pair in heights.windows(2) {
            let [bottom, top] = *pair else { continue };
            let crosses = |side: &&OutlineSide| {
                side.from.y.min(side.to.y) <= bottom && top <= side.from.y.max(side.to.y)
            };
            let mut ends: Vec<Length> = self.sides.iter().filter(crosses).map(|side| side.from.x).collect();
            ends.sort();
            parts.extend(ends.chunks(2).filter_map(|pair| match *pair {
                [left, right] => Some(Rect { left, bottom, right, top }),
                _ => None,
            }));
        }
        parts
    }

    /// The foot of the rectangle round it, as a reading from y = 0.
    pub fn base(&self) -> BaseReading {
        BaseReading { x: Length::ZERO, drop: -self.bounds().bottom, carries: true }
    }

    /// The head of the rectangle round it, as a reading from y = 0.
    pub fn top(&self) -> TopReading {
        TopReading { x: Length::ZERO, rise: self.bounds().top }
    }

    /// What may be seen along most of each side of the rectangle round it.
    pub fn edges(&self) -> Edges {
        let bounds = self.bounds();
        let role = |faced: Side| {
            let there = |side: &&OutlineSide| side.faces() == faced && side.at() == bounds.at(faced);
            let long = |role: &Role| -> Length {
                self.sides
                    .iter()
                    .filter(there)
                    .filter(|side| side.role == *role)
                    .map(OutlineSide::length)
                    .sum()
            };
            let mut roles: Vec<Role> = self.sides.iter().filter(there).map(|side| side.role).collect();
            roles.sort();
            roles.into_iter().max_by_key(long).unwrap_or(Role::Corner)
        };
        Edges {
            left: role(Side::Left),
            right: role(Side::Right),
            base: role(Side::Bottom),
            top: role(Side::Top),
        }
    }
}

impl OutlineSide {
    /// The way that the surface ends here: a side along the foot of it faces the bottom.
    pub fn faces(&self) -> Side {
        if self.from.x == self.to.x {
            if self.to.y > self.from.y { Side::Right } else { Side::Left }
        } else if self.to.x > self.from.x {
            Side::Bottom
        } else {
            Side::Top
        }
    }

    /// Its x where it is plumb, its y where it is level.
    pub fn at(&self) -> Length {
        if self.from.x == self.to.x { self.from.x } else { self.from.y }
    }

    /// How long it is.
    pub fn length(&self) -> Length {
        (self.to.x - self.from.x).abs() + (self.to.y - self.from.y).abs()
    }

    /// The strip of that width on its inner side, begun so much before its first end and ended after its last.
    fn strip(&self, width: Length, before: Length, after: Length) -> Rect {
        let along = polygon::bounds(&[self.from, self.to]);
        match self.faces() {
            Side::Bottom => Rect {
                left: along.left - before,
                right: along.right + after,
                top: along.bottom + width,
                ..along
            },
            Side::Top => Rect {
                left: along.left - after,
                right: along.right + before,
                bottom: along.top - width,
                ..along
            },
            Side::Right => Rect {
                bottom: along.bottom - before,
                top: along.top + after,
                left: along.right - width,
                ..along
            },
            Side::Left => Rect {
                bottom: along.bottom - after,
                top: along.top + before,
                right: along.left + width,
                ..along
            },
        }
    }
}

/// The first two sides with a point in common beside the corner between neighbours.
fn first_crossing(points: &[Point]) -> Option<OutlineFault> {
    let sides: Vec<_> = polygon::edges(points).collect();
    let pairs = (0..sides.len()).flat_map(|one| (one + 1..sides.len()).map(move |other| (one, other)));
    let meet = |&(one, other): &(usize, usize)| {
        let ((a, b), (c, d)) = (sides[one], sides[other]);
        if b == c {
            polygon::on_segment(a, b, d) || polygon::on_segment(c, d, a)
        } else if other + 1 == sides.len() && one == 0 {
            polygon::on_segment(a, b, c) || polygon::on_segment(c, d, b)
        } else {
            polygon::segments_meet(a, b, c, d)
        }
    };
    pairs.into_iter().find(meet).map(|(side, other)| OutlineFault::Crossing { side, other })
}

#[cfg(test)]
pub(crate) mod sample {
    //! Outlines to try things on.

    use proptest::prelude::*;

    use super::*;

    /// Columns of tile side by side: how wide each is, how far it begins above or below the one before, and how
    /// far its top lies above the lower of their tops at the least.
    #[derive(Clone, Debug)]
    pub(crate) struct Columns {
        widths: Vec<i64>,
        bottoms: Vec<i64>,
        heights: Vec<i64>,
        /// Columns become rows.
        lying: bool,
        backwards: bool,
    }

    /// Columns up to so many units wide and high.
    pub(crate) fn columns(most: i64) -> impl Strategy<Value = Columns> {
        (1_usize..5).prop_flat_map(move |count| {
            let vec = |from: i64, to: i64| prop::collection::vec(from..=to, count);
            let measures =
                (vec(1, most), vec(-most / 2, most / 2), vec(1, most), any::<bool>(), any::<bool>());
            measures.prop_map(|(widths, bottoms, heights, lying, backwards)| Columns {
                widths,
                bottoms,
                heights,
                lying,
                backwards,
            })
        })
    }

    impl Columns {
        /// The points of the outline round all columns, each of which meets the next along more than a point.
        pub(crate) fn points(&self) -> Vec<(i64, i64)> {
            let mut spans: Vec<(i64, i64)> = Vec::new();
            for (&bottom, &height) in self.bottoms.iter().zip(&self.heights) {
                let span = (bottom, bottom + height);
                let joined = match spans.last() {
                    Some(last) => (span.0.min(last.1 - 1), span.1.max(last.0 + 1)),
                    None => span,
                };
                spans.push(joined);
            }
            let (mut lower, mut upper, mut x) = (Vec::new(), Vec::new(), 0);
            for (&width, span) in self.widths.iter().zip(&spans) {
                lower.extend([(x, span.0), (x + width, span.0)]);
                upper.extend([(x, span.1), (x + width, span.1)]);
                x += width;
            }
            let mut points: Vec<(i64, i64)> = lower.into_iter().chain(upper.into_iter().rev()).collect();
            points.dedup();
            if self.lying {
                points.iter_mut().for_each(|point| *point = (point.1, point.0));
            }
            if self.backwards {
                points.reverse();
            }
            points
        }
    }

    proptest! {
        #[test]
        fn columns_make_an_outline_of_their_area(columns in columns(20)) {
            let points = columns.points();
            let at: Vec<Point> = points.iter().map(|&(x, y)| Point::new(Length::mm(x), Length::mm(y))).collect();
            let outline = Outline::new(OutlineKind::Wall, &at, &vec![Role::Hidden; at.len()]).unwrap();
            let area = |rect: &Rect| i128::from(rect.width().units()) * i128::from(rect.height().units());
            let inside: i128 = outline.inside().iter().map(area).sum();
            prop_assert_eq!(2 * inside, polygon::area_doubled(&at).abs());
            let room: i128 = outline.room(&Gaps::default()).iter().map(area).sum();
            prop_assert_eq!(room, inside);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(points: &[(i64, i64)]) -> Vec<Point> {
        points.iter().map(|&(x, y)| Point::new(Length::mm(x), Length::mm(y))).collect()
    }

    fn outline(points: &[(i64, i64)]) -> Result<Outline, Vec<OutlineFault>> {
        Outline::new(OutlineKind::Floor, &mm(points), &vec![Role::Corner; points.len()])
    }

    fn gaps(corner: i64) -> Gaps {
        Gaps { corner: Length::mm(corner), ..Gaps::default() }
    }

    const L: [(i64, i64); 6] = [(0, 0), (1000, 0), (1000, 400), (600, 400), (600, 900), (0, 900)];

    #[test]
    fn an_outline_reads_the_same_either_way_round() {
        let roles = [Role::Bare, Role::Corner, Role::Trim, Role::Mitre, Role::Hidden, Role::Base];
        let there = Outline::new(OutlineKind::Wall, &mm(&L), &roles).unwrap();
        let mut back = mm(&L);
        back.reverse();
        let mut roles_back = roles;
        roles_back.reverse();
        roles_back.rotate_left(1);
        let back = Outline::new(OutlineKind::Wall, &back, &roles_back).unwrap();
        let at =
            |outline: &Outline, role: Role| *outline.sides().iter().find(|side| side.role == role).unwrap();
        for role in roles {
            assert_eq!(at(&there, role), at(&back, role));
        }
        assert_eq!(there.edges().base, Role::Bare);
        assert_eq!(there.edges().right, Role::Corner);
    }

    #[test]
    fn a_corner_that_juts_in_keeps_both_gaps() {
        let room = outline(&L).unwrap().room(&gaps(10));
        let holds = |x: i64, y: i64| {
            let at = Rect {
                left: Length::mm(x),
                bottom: Length::mm(y),
                right: Length::mm(x + 1),
                top: Length::mm(y + 1),
            };
            room.iter().any(|part| part.holds(&at))
        };
        assert!(holds(589, 395) && holds(595, 389), "both legs go up to their gap");
        assert!(!holds(590, 390) && !holds(599, 399), "the square before the corner is left free");
        assert!(!holds(9, 9) && holds(10, 10));
        let area: i64 = room
            .iter()
            .map(|part| {
                part.width().units() / Length::UNITS_PER_MM * (part.height().units() / Length::UNITS_PER_MM)
            })
            .sum();
        assert_eq!(area, 980 * 380 + 580 * 500);
    }

    #[test]
    fn a_doorway_in_a_straight_side_has_its_own_gap() {
        let points = mm(&[(0, 0), (300, 0), (700, 0), (1000, 0), (1000, 500), (0, 500)]);
        let roles = [Role::Corner, Role::Trim, Role::Corner, Role::Corner, Role::Corner, Role::Corner];
        let room = Outline::new(OutlineKind::Floor, &points, &roles).unwrap().room(&gaps(5));
        let lowest = |left: i64| {
            let over = |part: &&Rect| part.left <= Length::mm(left) && Length::mm(left) < part.right;
            room.iter().filter(over).map(|part| part.bottom).min().unwrap()
        };
        assert_eq!((lowest(100), lowest(400)), (Length::mm(5), Length::ZERO));
    }

    #[test]
    fn what_is_no_outline_is_refused_by_its_side() {
        use OutlineFault::{Crossing, NoLength, Roles, Slanted, TooFewPoints};
        let fault = |points: &[(i64, i64)]| outline(points).unwrap_err();
        assert_eq!(fault(&[(0, 0), (9, 0), (9, 9)]), [TooFewPoints { points: 3 }, Slanted { side: 2 }]);
        assert_eq!(fault(&[(0, 0), (9, 0), (9, 9), (1, 9)]), [Slanted { side: 3 }]);
        assert_eq!(fault(&[(0, 0), (9, 0), (9, 0), (9, 9), (0, 9)]), [NoLength { side: 1 }]);
        let eight = [(0, 0), (4, 0), (4, 9), (9, 9), (9, 4), (0, 4)];
        assert_eq!(fault(&eight), [Crossing { side: 1, other: 4 }]);
        assert_eq!(fault(&[(0, 0), (9, 0), (4, 0), (4, 9), (0, 9)]), [Crossing { side: 0, other: 1 }]);
        let one_role = Outline::new(OutlineKind::Wall, &mm(&L), &[Role::Bare]);
        assert_eq!(one_role.unwrap_err(), [Roles { points: 6, roles: 1 }]);
    }
}
