//! What a choice of starts comes to.
//!
//! Every end of every row is looked at by itself. How far its tile reaches into the row is `x`, from one least piece
//! up to a pitch more: under a tile's width it is a cut of that width; from there on the tile is whole, flush with
//! the end where `x` is the tile's width and else short of it by up to two joints. A strip narrower than a least piece
//! is no piece, so the tile beside it counts as the end's, which is why `x` runs on past the pitch.

use super::pairing::{Cut, tiles_for, tiles_for_directional};
use super::run::{AtEnds, Beside, Edge, End, Group, Leaves, Row, Run};

/// The figures of a choice. Every course counts as if it were of whole height.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Tally {
    /// Ends at which a cut edge shows, or tile stops short of a bare edge.
    pub(super) shown: i64,
    /// Ends at which a cut edge must be dressed.
    pub(super) dressed: i64,
    /// Whole tiles and those cut for row ends.
    pub(super) tiles: i64,
    /// Those cut for row ends.
    pub(super) row_end_tiles: i64,
    /// The narrowest row end; [`i64::MAX`] where none is cut.
    pub(super) narrowest: i64,
    /// Row ends that are cut.
    pub(super) cuts: i64,
    /// Row ends that show narrower than the least, and legs and webs thinner than theirs.
    pub(super) slivers: i64,
    /// How far ends and facing walls are from equal.
    pub(super) unequal: i64,
    /// Upright sides of openings that lie on joints, course by course.
    pub(super) on_joints: i64,
}

/// A choice of starts in the making. What one run comes to is worked out when its start is set, and nothing is
/// allocated for a choice.
pub(super) struct Bench<'g> {
    group: &'g Group,
    starts: Vec<i64>,
    runs: Vec<Own>,
    /// What the wall's own ends show.
    ends: [Vec<Cut>; 2],
    /// The cuts of all runs.
    all: [Vec<Cut>; 2],
}

/// What one run comes to by itself, its row ends not yet paired.
struct Own {
    tally: Tally,
    /// By kind of tile: the cuts at left ends, and those at right ends and between two ends.
    cuts: Vec<[Vec<Cut>; 2]>,
}

/// What happens in one row.
struct Laid {
    whole: i64,
    /// What is cut at each end. A single piece from end to end counts once, at the right.
    cut: [Option<i64>; 2],
    /// How far the tile at each end reaches into the row.
    x: [i64; 2],
    /// A single piece at most is all there is from end to end.
    alone: bool,
}

impl Tally {
    pub(super) const NOTHING: Self = Self {
        shown: 0,
        dressed: 0,
        tiles: 0,
        row_end_tiles: 0,
        narrowest: i64::MAX,
        cuts: 0,
        slivers: 0,
        unequal: 0,
        on_joints: 0,
    };

    /// The figures to compare by, each the better the less it is.
    pub(super) fn costs(&self) -> [i64; 8] {
        [
            self.shown,
            self.slivers,
            self.tiles,
            -self.narrowest,
            self.unequal,
            -self.on_joints,
            self.cuts,
            self.dressed,
        ]
    }

    /// That of two choices for different walls together.
    pub(super) fn and(&self, other: &Self) -> Self {
        Self {
            shown: self.shown + other.shown,
            dressed: self.dressed + other.dressed,
            tiles: self.tiles + other.tiles,
            row_end_tiles: self.row_end_tiles + other.row_end_tiles,
            narrowest: self.narrowest.min(other.narrowest),
            cuts: self.cuts + other.cuts,
            slivers: self.slivers + other.slivers,
            unequal: self.unequal + other.unequal,
            on_joints: self.on_joints + other.on_joints,
        }
    }
}

impl<'g> Bench<'g> {
    pub(super) fn of(group: &'g Group) -> Self {
        let own = |_| Own { tally: Tally::NOTHING, cuts: vec![Default::default(); group.directional.len()] };
        let mut bench = Self {
            group,
            starts: vec![0; group.runs.len()],
            runs: (0..group.runs.len()).map(own).collect(),
            ends: Default::default(),
            all: Default::default(),
        };
        for (run, own) in group.runs.iter().enumerate() {
            bench.set(run, own.fixed.unwrap_or(0));
        }
        bench
    }

    pub(super) fn starts(&self) -> &[i64] {
        &self.starts
    }

    /// Sets the start of a run, from 0 up to the pitch.
    pub(super) fn set(&mut self, run: usize, start: i64) {
        let (group, own) = (self.group, &mut self.runs[run]);
        let run_here = &group.runs[run];
        self.starts[run] = start;
        own.tally = Tally::NOTHING;
        own.cuts.iter_mut().flatten().for_each(Vec::clear);
        self.ends.iter_mut().for_each(Vec::clear);
        let mut off_flush = [0, 0];
        for row in &run_here.rows {
            let laid = group.lay(row, start);
            own.tally.tiles += laid.whole * row.count;
            judge(group, &mut own.tally, run_here, row, &laid);
            for (side, width) in laid.cut.iter().enumerate() {
                if let Some(width) = width {
                    own.cuts[row.kind][side].push(Cut { width: *width, count: row.count });
                }
            }
            for (side, end) in row.ends().iter().enumerate() {
                if end.of_wall && !laid.alone {
                    off_flush[side] += (group.tile - laid.x[side]).abs() * row.count;
                    let width = group.shows(end, laid.x[side]);
                    self.ends[side].push(Cut { width, count: row.count });
                }
            }
        }
        let [left, right] = &mut self.ends;
        // With both ends in corners the narrowest is held beside the narrowest; at an open end tiles are held against
        // flush. Rows of a single piece are left out.
        own.tally.unequal = match run_here.open {
            [true, true] => off_flush[0] + off_flush[1],
            [true, false] => off_flush[0],
            [false, true] => off_flush[1],
            [false, false] => apart(left, right),
        };
        for beside in &run_here.openings {
            let (slivers, on_joints) = group.beside(beside, start);
            own.tally.slivers += slivers * beside.count;
            own.tally.on_joints += on_joints * beside.count;
        }
    }

    /// The figures with as few tiles as two row ends a tile would take.
    pub(super) fn at_least(&self) -> Tally {
        let mut tally = self.runs.iter().fold(Tally::NOTHING, |tally, own| tally.and(&own.tally));
        tally.unequal += self.group.unequal_faces(&self.starts);
        tally.row_end_tiles = tally.cuts - tally.cuts.div_euclid(2);
        tally.tiles += tally.row_end_tiles;
        tally
    }

    /// The figures, from those of [`Self::at_least`].
    pub(super) fn exactly(&mut self, at_least: &Tally) -> Tally {
        let mut row_end_tiles = 0;
        for (kind, directional) in self.group.directional.iter().enumerate() {
            self.all.iter_mut().for_each(Vec::clear);
            let [left, right] = &mut self.all;
            for own in &self.runs {
                left.extend_from_slice(&own.cuts[kind][0]);
                right.extend_from_slice(&own.cuts[kind][1]);
            }
            row_end_tiles += if *directional {
                tiles_for_directional(left, right, self.group.reach)
            } else {
                left.append(right);
                tiles_for(left, self.group.reach)
            };
        }
        let tiles = at_least.tiles - at_least.row_end_tiles + row_end_tiles;
        Tally { tiles, row_end_tiles, ..*at_least }
    }
}

impl Group {
    fn lay(&self, row: &Row, start: i64) -> Laid {
        let (left, right) = (self.over(row.left.at + start), self.over(row.right.at - start + self.pitch));
        let between = row.slots - i64::from(left + right > row.rest);
        let x = [left + self.least_piece, right + self.least_piece];
        let is_whole = x.map(|x| x >= self.tile);
        let whole = between + i64::from(is_whole[0]) + i64::from(is_whole[1]);
        if between < 0 && whole < 1 {
            // Cut at one end it ends short of the other by what its tile reaches too far there. A joint with nothing
            // but crumbs beside it may also be all there is.
            let piece = (is_whole != [true, true]).then(|| row.room.min(x[0]).min(x[1]));
            return Laid { whole: 0, cut: [None, piece], x, alone: true };
        }
        let cut = |side: usize| (!is_whole[side]).then_some(x[side]);
        Laid { whole, cut: [cut(0), cut(1)], x, alone: false }
    }

    /// A sum of two things under a pitch, brought under a pitch.
    fn over(&self, sum: i64) -> i64 {
        if sum >= self.pitch { sum - self.pitch } else { sum }
    }

    /// What a tile that reaches `x` into the row shows at an end, beside what a neighbour hides.
    fn shows(&self, end: &End, x: i64) -> i64 {
        (x - end.hidden).clamp(0, self.tile)
    }

    /// How far facing walls are from mirroring each other: the differences between what they show in the back corner
    /// and at their open ends, course by course.
    fn unequal_faces(&self, starts: &[i64]) -> i64 {
        let mut unequal = 0;
        for facing in &self.facing {
            let shows = |wall: usize, side: usize, rows: AtEnds| {
                let run = facing.runs[wall];
                let row = &self.runs[run].rows[rows[side]?];
                let laid = self.lay(row, starts[run]);
                (!laid.alone).then(|| self.shows(&row.ends()[side], laid.x[side]))
            };
            for &(one, other, count) in &facing.rows {
                for side in [0, 1] {
                    if let (Some(one), Some(other)) = (shows(0, side, one), shows(1, 1 - side, other)) {
                        unequal += (one - other).abs() * count;
                    }
                }
            }
        }
        unequal
    }

    /// Thin legs and webs in the tiles of one course that an opening takes from, and its sides that lie on joints.
    fn beside(&self, beside: &Beside, start: i64) -> (i64, i64) {
        // Where the left side lies in its tile, and the right side.
        let left = self.over(beside.at - start + self.pitch);
        let right = (left + beside.width).rem_euclid(self.pitch);
        let [is_left_on_wall, is_right_on_wall] = beside.clear.map(|clear| clear > 0);
        let on_joints =
            i64::from(is_left_on_wall && left == self.tile) + i64::from(is_right_on_wall && right == 0);
        let slivers = match beside.leaves {
            Leaves::Nothing => 0,
            Leaves::Leg { thin } => self.thin_legs(beside, left, right, thin),
            Leaves::Hole { thin_leg, thin_web } => {
                let in_one_tile = 0 < left && left + beside.width < self.tile;
                if in_one_tile {
                    let webs = [left.min(beside.clear[0]), (self.tile - right).min(beside.clear[1])];
                    i64::from(thin_web || webs.iter().any(|web| *web < beside.thinnest_web))
                } else {
                    self.thin_legs(beside, left, right, thin_leg)
                }
            }
        };
        (slivers, if beside.has_sides { on_joints } else { 0 })
    }

    /// How many of the tiles that an opening takes from keep a thin leg.
    fn thin_legs(&self, beside: &Beside, left: i64, right: i64, all_thin: bool) -> i64 {
        let touches_first = left < self.tile;
        let touches_last = right > 0;
        let last = (left + beside.width).div_euclid(self.pitch);
        let touched = last + 1 - i64::from(!touches_first) - i64::from(!touches_last);
        if all_thin {
            return touched.max(0);
        }
        let is_thin = |leg: i64| 0 < leg && leg < beside.thinnest_leg;
        let left_thin = touches_first && is_thin(left.min(beside.clear[0]));
        let right_thin = touches_last && is_thin((self.tile - right).min(beside.clear[1]));
        if last == 0 {
            i64::from(left_thin || right_thin)
        } else {
            i64::from(left_thin) + i64::from(right_thin)
        }
    }
}

/// Counts the cuts of one row and the edges that show.
fn judge(group: &Group, tally: &mut Tally, run: &Run, row: &Row, laid: &Laid) {
    let ends = [row.left, row.right];
    for (side, end) in ends.iter().enumerate() {
        let Some(width) = laid.cut[side] else { continue };
        tally.cuts += row.count;
        tally.narrowest = tally.narrowest.min(width);
        let shows = if laid.alone {
            let hidden = |side: usize| ends[side].hidden.max(laid.x[side] - group.tile);
            row.room - hidden(0) - hidden(1)
        } else {
            width - end.hidden
        };
        if 0 < shows && shows < run.least {
            tally.slivers += row.count;
        }
    }
    // A piece alone between two ends can have its factory edge at either that it touches, a bare one first.
    let turned = laid.alone.then(|| {
        let touched = |side: &usize| laid.x[*side] <= group.tile && ends[*side].edge != Edge::Covered;
        [0, 1].into_iter().filter(touched).max_by_key(|side| ends[*side].edge)
    });
    for (side, end) in ends.iter().enumerate() {
        let flush = match turned {
            Some(turned) => turned == Some(side),
            None => laid.x[side] == group.tile,
        };
        match end.edge {
            Edge::Covered => {}
            Edge::Dressed => tally.dressed += i64::from(!flush) * row.count,
            Edge::Shown => tally.shown += i64::from(!flush) * row.count,
        }
    }
}

/// The differences between two lists of widths, the narrowest beside the narrowest; what one list has more is left.
fn apart(left: &mut [Cut], right: &mut [Cut]) -> i64 {
    left.sort_unstable();
    right.sort_unstable();
    let (mut one, mut other, mut sum) = (0, 0, 0);
    while let (Some(l), Some(r)) = (left.get_mut(one), right.get_mut(other)) {
        let both = l.count.min(r.count);
        sum += (l.width - r.width).abs() * both;
        l.count -= both;
        r.count -= both;
        one += usize::from(l.count == 0);
        other += usize::from(r.count == 0);
    }
    sum
}
