//! All the ways to fill a tile: which kinds, and how many of each, can be cut from one tile together.
//!
//! Patterns of one piece more are made from those of one piece less, level by level: a set can be cut only if every set
//! with one piece less can, so only sets are looked at that two patterns of the level below make together. What a set
//! takes is its front, the list of its smallest rooms as in [`super::fronts`]: the first cut parts it in two patterns
//! that are known already. No more pieces of a kind are taken than are wanted ("proper" patterns): a plan never needs
//! others. Only those count to which no further piece can be added, since what is cut too much may be left out.

use super::Axis;
use super::board::Board;
use super::fronts::Room;
use super::kinds::Kinds;
use super::layout::Layout;
use super::master::Column;
use super::problem::Problem;
use super::steps::Steps;
use crate::geometry::Side;
use crate::measure::Length;

/// The patterns of a group, smaller ones first. They are kept as a tree: below each pattern are those with one piece
/// more, of a kind that is not before its last.
pub(super) struct Pool<'k, 'p> {
    kinds: &'k Kinds<'p>,
    nodes: Vec<Node>,
    /// No pattern is missing.
    pub(super) complete: bool,
}

#[derive(Default)]
struct Node {
    /// In ascending order, a kind as often as it is in the pattern.
    members: Vec<usize>,
    front: Vec<Room>,
    /// By the kind that is added.
    below: Vec<(usize, usize)>,
    /// Nothing can be added.
    full: bool,
    weight: Weight,
}

/// Sums that no tile exceeds.
#[derive(Clone, Copy, Default)]
struct Weight {
    area: i128,
    corners: usize,
}

/// The most patterns that are kept.
const MOST_NODES: usize = 60_000;

/// The most pieces in one pattern: the ways to part them in two double with each.
const MOST_MEMBERS: usize = 9;

impl<'k, 'p> Pool<'k, 'p> {
    /// As many as the steps and the room for them allow.
    pub(super) fn new(kinds: &'k Kinds<'p>, steps: &mut Steps) -> Self {
        let mut pool = Self { kinds, nodes: vec![Node::default()], complete: true };
        for (kind, of) in kinds.all.iter().enumerate() {
            let front = of.shapes.iter().map(Room::of).collect();
            pool.add(0, Node { members: vec![kind], front, full: true, ..weighed(kinds, kind) });
        }
        let mut level = 1..pool.nodes.len();
        while !level.is_empty() && pool.complete {
            let next = pool.nodes.len();
            for node in level {
                if !pool.grow(node, steps) {
                    pool.complete = false;
                    break;
                }
            }
            level = next..pool.nodes.len();
        }
        pool
    }

    /// Those to which nothing can be added, as columns. (Where the pool is not complete, as far as is known.)
    pub(super) fn columns(&self) -> Vec<Column> {
        let full = (1..self.nodes.len()).filter(|node| self.nodes[*node].full);
        let of_tiles = full.filter_map(|node| self.column(node, None, self.nodes[node].front.first()?));
        let racks = 0..self.kinds.problem.rack().len();
        of_tiles.chain(racks.flat_map(|rack| self.columns_of_rack(rack))).collect()
    }

    /// What can be cut from the racked offcut, where nothing can be added.
    fn columns_of_rack(&self, rack: usize) -> Vec<Column> {
        let board = Board::racked(self.kinds.problem, rack);
        let room_of = |node: &Node| node.front.iter().find(|room| room.goes_into(board.part(0))).copied();
        let fitting: Vec<Option<Room>> = self.nodes.iter().map(room_of).collect();
        let mut part_of_more = vec![false; self.nodes.len()];
        for (node, _) in
            self.nodes.iter().zip(&fitting).filter(|(node, room)| room.is_some() && node.members.len() > 1)
        {
            for smaller in self.one_less(&node.members).unwrap_or_default() {
                part_of_more[smaller] = true;
            }
        }
        let full = (1..self.nodes.len()).filter(|node| !part_of_more[*node]);
        full.filter_map(|node| self.column(node, Some(rack), fitting[node].as_ref()?)).collect()
    }

    fn column(&self, node: usize, rack: Option<usize>, room: &Room) -> Option<Column> {
        let members = &self.nodes[node].members;
        let mut counts: Vec<(usize, u32)> = Vec::new();
        for &kind in members {
            match counts.last_mut() {
                Some((last, count)) if *last == kind => *count += 1,
                _ => counts.push((kind, 1)),
            }
        }
        let layout = self.layout(members, room)?;
        Some(Column { counts, rack, halves: Vec::new(), layout: Some(layout) })
    }

    fn add(&mut self, parent: usize, node: Node) {
        let index = self.nodes.len();
        if let Some(&last) = node.members.last() {
            self.nodes[parent].below.push((last, index));
        }
        self.nodes.push(node);
    }

    /// Adds the patterns with one piece more; false when that is too much.
    fn grow(&mut self, node: usize, steps: &mut Steps) -> bool {
        let members = self.nodes[node].members.clone();
        let Some((&last, before)) = members.split_last() else { return true };
        if self.kinds.all[last].alone {
            return true;
        }
        let Some(parent) = self.find(before.iter().copied()) else { return true };
        let beside: Vec<(usize, usize)> =
            self.nodes[parent].below.iter().copied().filter(|(kind, _)| *kind >= last).collect();
        for (kind, sibling) in beside {
            if !steps.spend(1) {
                return false;
            }
            let weight =
                self.nodes[node].weight.plus(self.nodes[sibling].weight).less(self.nodes[parent].weight);
            if weight.is_too_much(self.kinds.problem) || self.kinds.all[kind].alone {
                continue;
            }
            let taken = members.iter().filter(|member| **member == kind).count();
            if taken >= self.kinds.all[kind].pieces.len() {
                continue;
            }
            let mut more = members.clone();
            more.push(kind);
            let Some(smaller) = self.one_less(&more) else { continue };
            let front = self.front(&more, steps);
            if front.is_empty() {
                continue;
            }
            if self.nodes.len() >= MOST_NODES || more.len() > MOST_MEMBERS {
                return false;
            }
            for smaller in smaller {
                self.nodes[smaller].full = false;
            }
            self.add(node, Node { members: more, front, full: true, weight, below: Vec::new() });
        }
        true
    }

    /// The patterns with one piece less, if all are.
    fn one_less(&self, members: &[usize]) -> Option<Vec<usize>> {
        let without = |left_out: usize| {
            let others = members.iter().enumerate().filter(move |(nth, _)| *nth != left_out);
            self.find(others.map(|(_, kind)| *kind))
        };
        let firsts = (0..members.len()).filter(|nth| *nth == 0 || members[*nth] != members[*nth - 1]);
        firsts.map(without).collect()
    }

    fn find(&self, members: impl Iterator<Item = usize>) -> Option<usize> {
        let mut node = 0;
        for kind in members {
            let below = &self.nodes[node].below;
            let at = below.binary_search_by_key(&kind, |(kind, _)| *kind).ok()?;
            node = below[at].1;
        }
        Some(node)
    }

    /// The smallest rooms of a set all of whose parts are known.
    fn front(&self, members: &[usize], steps: &mut Steps) -> Vec<Room> {
        let mut front: Vec<Room> = Vec::new();
        let mut tried = 0;
        self.rooms(members, |room, _| {
            tried += 1;
            if !front.iter().any(|known| known.serves_as(&room)) {
                front.retain(|known| !room.serves_as(known));
                front.push(room);
            }
            false
        });
        steps.spend(tried);
        front
    }

    /// One of the ways to cut a set in a room of its front.
    fn layout(&self, members: &[usize], room: &Room) -> Option<Layout> {
        if let [kind] = *members {
            let shapes = self.kinds.all[kind].shapes.iter();
            let shape = shapes.into_iter().find(|shape| Room::of(shape) == *room)?;
            return Some(Layout::Piece { kind, shape: *shape });
        }
        let mut found = None;
        self.rooms(members, |one, Split { across, first, second }| {
            if one == *room {
                let parts = (self.layout(first.0, first.1), self.layout(second.0, second.1));
                found = parts.0.zip(parts.1).map(|(first, second)| Layout::cut(across, first, second));
            }
            one == *room
        });
        found
    }

    /// Every room that a first cut of the set makes, until `seen` has seen enough.
    fn rooms(&self, members: &[usize], mut seen: impl FnMut(Room, Split<'_>) -> bool) {
        let (width, height) = (self.kinds.problem.tile_width(), self.kinds.problem.tile_height());
        let kerf = self.kinds.problem.kerf();
        for (one, two) in halves(members) {
            let (Some(a), Some(b)) = (self.find(one.iter().copied()), self.find(two.iter().copied())) else {
                continue;
            };
            for room_a in &self.nodes[a].front {
                for room_b in &self.nodes[b].front {
                    for across in [Axis::X, Axis::Y] {
                        let (lower, upper) = ((one.as_slice(), room_a), (two.as_slice(), room_b));
                        for (first, second) in [(lower, upper), (upper, lower)] {
                            let room = first.1.before(second.1, across, kerf);
                            let fits = |room: &Room| room.width <= width && room.height <= height;
                            if room
                                .filter(fits)
                                .is_some_and(|room| seen(room, Split { across, first, second }))
                            {
                                return;
                            }
                        }
                    }
                }
            }
        }
    }
}

/// A first cut: what lies on either side of it, and in which room.
struct Split<'s> {
    across: Axis,
    first: (&'s [usize], &'s Room),
    second: (&'s [usize], &'s Room),
}

impl Weight {
    fn plus(self, other: Self) -> Self {
        Self { area: self.area + other.area, corners: self.corners + other.corners }
    }

    fn less(self, other: Self) -> Self {
        Self { area: self.area - other.area, corners: self.corners - other.corners }
    }

    fn is_too_much(self, problem: &Problem) -> bool {
        self.corners > 4 || self.area > area(problem, problem.tile_width(), problem.tile_height())
    }
}

/// A node with the weight of one kind alone.
fn weighed(kinds: &Kinds<'_>, kind: usize) -> Node {
    let of = &kinds.all[kind];
    let corners = |needs: crate::geometry::Sides| {
        [
            (Side::Left, Side::Bottom),
            (Side::Left, Side::Top),
            (Side::Right, Side::Bottom),
            (Side::Right, Side::Top),
        ]
        .into_iter()
        .filter(|(one, other)| needs.has(*one) && needs.has(*other))
        .count()
    };
    let weight = Weight {
        area: area(kinds.problem, of.shapes[0].width, of.shapes[0].height),
        corners: of.shapes.iter().map(|shape| corners(shape.needs)).min().unwrap_or(0),
    };
    Node { weight, ..Node::default() }
}

/// Kerf included: such areas add up to no more than the tile's.
fn area(problem: &Problem, width: Length, height: Length) -> i128 {
    let with_kerf = |length: Length| i128::from((length + problem.kerf()).units());
    with_kerf(width) * with_kerf(height)
}

/// Every way to part a set in two, each about once: of equal members the first ones go to the first part.
fn halves(members: &[usize]) -> impl Iterator<Item = (Vec<usize>, Vec<usize>)> {
    let in_first = |mask: usize, nth: usize| nth == 0 || mask & (1 << (nth - 1)) != 0;
    let plain = move |mask: &usize| {
        (1..members.len())
            .all(|nth| !in_first(*mask, nth) || members[nth] != members[nth - 1] || in_first(*mask, nth - 1))
    };
    (0..(1_usize << (members.len() - 1)) - 1).filter(plain).map(move |mask| {
        let part = |first: bool| {
            let of = members.iter().enumerate().filter(move |(nth, _)| in_first(mask, *nth) == first);
            of.map(|(_, kind)| *kind).collect()
        };
        (part(true), part(false))
    })
}
