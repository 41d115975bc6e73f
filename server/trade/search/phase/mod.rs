//! The starts worth choosing between when the courses and the joint are known.
//!
//! A start decides where every row of a wall is cut. The sizes of the cuts change evenly with it, so that whatever a
//! layout is judged by is best at one of a list of starts that can be written down ([`events`]); with several walls,
//! whose offcuts cross over, at a corner between such starts and lines between two of them ([`vertices`]). The search
//! visits those ([`tally`] says what each comes to, [`pairing`] how many tiles its row ends take) and keeps what no
//! other beats ([`front`]).
//!
//! Left to the plan of the whole layout: pieces that are cut in height, which count here as if they were not, and
//! pieces without a factory side, of which more than two may come from one tile.

mod events;
mod front;
mod joints;
mod pairing;
mod run;
mod search;
mod segments;
mod tally;
mod vertices;

use std::collections::BTreeMap;
use std::ops::ControlFlow;

use super::Reach;
use crate::course::Courses;
use crate::measure::{Job, Layout, Length, SurfaceId};

use front::Front;
use run::{Key, groups};
use search::Search;
use tally::Tally;

pub use joints::{MOST_JOINTS, joint_candidates};
pub use search::{MOST_CHOICES, MOST_CORNERS};

/// The starts worth choosing between under given courses and joint.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StartFront {
    /// No choice is beaten by another on all of its figures; the best first in the usual order of importance. Never
    /// empty, at most [`MOST_CHOICES`]: of more, the best by each figure in turn.
    pub choices: Vec<Starts>,
    /// Whether every corner was visited, and every choice kept that no other beats.
    pub reach: Reach,
    /// How many choices were looked at.
    pub visited: u64,
}

/// A start for every surface and for every band with one of its own, and what they come to.
///
/// The figures are of the rows' ends, with every course counted as if it were of whole height.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Starts {
    /// x of the centre of an upright joint in course 1, by surface.
    pub starts: BTreeMap<SurfaceId, Length>,
    /// The same for bands with a start of their own.
    pub band_starts: BTreeMap<(SurfaceId, usize), Length>,
    /// Whole tiles and those cut for row ends.
    pub row_tiles: usize,
    /// Those cut for row ends: as few as any pairing needs.
    pub row_end_tiles: usize,
    /// The narrowest row end, a strip's too; `None` where no row end is cut.
    pub narrowest: Option<Length>,
    /// Row ends that are cut.
    pub cuts: usize,
    /// Row ends that show narrower than the smallest cut, and legs and webs beside openings thinner than theirs.
    pub slivers: usize,
    /// How far the ends of each wall, and facing walls, are from equal, over all courses. Where both ends are in
    /// corners: the differences between what they show, the narrowest beside the narrowest. At an open end, bare or
    /// trimmed: how far its tiles are from having their factory edge there. Two walls of one level line and the same
    /// bands that are open at opposite ends face each other, and mirror each other where both show the same in the
    /// back corner and at their open ends, course by course. Rows of a single piece are left out.
    pub unequal: Length,
    /// Upright sides of rectangular openings that lie on an edge of a whole tile, course by course.
    pub opening_edges_on_joints: usize,
    /// Row ends at bare edges that show a cut edge or stop short.
    pub shown: usize,
    /// Row ends at trimmed edges without a factory edge.
    pub dressed: usize,
}

/// The starts worth choosing between under given courses and joint: no choice beaten by another on all of its
/// measures. `layout` says what the lead chose already: starts there stay. `go_on` is asked every so often; when it
/// says stop, what was found by then is the answer.
pub fn start_front(
    job: &Job,
    layout: &Layout,
    courses: &Courses,
    go_on: &mut dyn FnMut() -> ControlFlow<()>,
) -> StartFront {
    let mut search = Search::new(go_on);
    let mut joined: Vec<(Tally, Vec<(Key, i64)>)> = vec![(Tally::NOTHING, Vec::new())];
    for group in groups(job, layout, &courses.walls) {
        let found = search.group(&group);
        let mut both = Front::new();
        for (tally, choice) in &joined {
            for (more, starts) in &found {
                let named = || {
                    let keys = group.runs.iter().map(|run| run.key.clone());
                    choice.iter().cloned().chain(keys.zip(starts.iter().copied())).collect()
                };
                both.offer(tally.and(more), named);
            }
        }
        joined = search.thinned(both);
    }
    joined.sort_by(|(one, a), (other, b)| (one.costs(), a).cmp(&(other.costs(), b)));
    StartFront {
        choices: joined.into_iter().map(|(tally, starts)| Starts::of(&tally, starts)).collect(),
        reach: search.reach,
        visited: search.visited,
    }
}

impl Starts {
    fn of(tally: &Tally, chosen: Vec<(Key, i64)>) -> Self {
        let (mut starts, mut band_starts) = (BTreeMap::new(), BTreeMap::new());
        for ((surface, band), start) in chosen {
            let start = Length::from_units(start);
            match band {
                None => starts.insert(surface, start),
                Some(band) => band_starts.insert((surface, band), start),
            };
        }
        let count = |n: i64| usize::try_from(n).unwrap_or(0);
        Self {
            starts,
            band_starts,
            row_tiles: count(tally.tiles),
            row_end_tiles: count(tally.row_end_tiles),
            narrowest: (tally.narrowest < i64::MAX).then(|| Length::from_units(tally.narrowest)),
            cuts: count(tally.cuts),
            slivers: count(tally.slivers),
            unequal: Length::from_units(tally.unequal),
            opening_edges_on_joints: count(tally.on_joints),
            shown: count(tally.shown),
            dressed: count(tally.dressed),
        }
    }
}

#[cfg(test)]
mod tests;
