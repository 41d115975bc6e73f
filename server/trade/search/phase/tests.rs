//! The corners against every start on a fine grid, and what a setter would say of a few walls.

use proptest::prelude::*;

use super::*;
use crate::course::sample::{at, id, job, mm, tenths, tile, wall};
use crate::course::{self};
use crate::measure::{
    Covered, Fraction, LeastSize, Opening, OpeningEdge, OpeningShape, Pattern, Role, Surface, TileId,
};

use by_hand::{ByHand, by_hand};

mod by_hand;

fn all_of_it() -> ControlFlow<()> {
    ControlFlow::Continue(())
}

/// The job laid with the lowest course whole, its courses, and the starts worth choosing between.
fn front(job: &Job) -> (Layout, Courses, StartFront) {
    let layout = at(job, mm(-1000));
    let courses = course::lay(job, &layout).expect("it can be laid");
    let found = start_front(job, &layout, &courses, &mut all_of_it);
    (layout, courses, found)
}

/// A small tile, so that every start on a grid can be tried.
fn small_tile(width: i64, walls: Vec<Surface>) -> Job {
    let mut job = job(walls);
    job.tiles.insert(TileId("wall".to_owned()), tile(mm(width), mm(298)));
    job
}

fn with(layout: &Layout, starts: &[(&str, Length)]) -> Layout {
    let starts = starts.iter().map(|(name, start)| (id(name), *start)).collect();
    Layout { starts, ..layout.clone() }
}

fn found_by_search(job: &Job, starts: &Starts) -> ByHand {
    ByHand {
        tiles: starts.row_tiles,
        row_end_tiles: starts.row_end_tiles,
        narrowest: starts.narrowest.unwrap_or(mm(1_000_000)),
        cuts: starts.cuts,
        slivers: starts.slivers,
        unequal: starts.unequal,
        shown: starts.shown,
        dressed: starts.dressed,
        on_joints: starts.opening_edges_on_joints,
    }
    .without_legs(job)
}

impl ByHand {
    /// By hand no legs are looked for.
    fn without_legs(self, job: &Job) -> Self {
        assert_eq!((job.thinnest_leg, job.thinnest_web), (mm(0), mm(0)), "legs are tested by themselves");
        self
    }

    /// Every order of two or three figures that a lead may ask for; the least is the best.
    fn orders(&self) -> [[i64; 4]; 14] {
        let count = |n: usize| i64::try_from(n).expect("few");
        let (tiles, cuts, slivers) = (count(self.tiles), count(self.cuts), count(self.slivers));
        let (shown, dressed, off_joints) = (count(self.shown), count(self.dressed), -count(self.on_joints));
        // Half units are rounded, shifts too.
        let narrowest = -((self.narrowest.units() + 4).div_euclid(8));
        let unequal = (self.unequal.units() + 64).div_euclid(128);
        [
            [tiles, narrowest, 0, 0],
            [narrowest, tiles, 0, 0],
            [slivers, tiles, narrowest, 0],
            [slivers, narrowest, tiles, 0],
            [tiles, slivers, narrowest, 0],
            [shown, slivers, tiles, narrowest],
            [shown, dressed, tiles, narrowest],
            [shown, dressed, narrowest, tiles],
            [cuts, tiles, narrowest, 0],
            [unequal, 0, 0, 0],
            [slivers, unequal, 0, 0],
            [tiles, unequal, 0, 0],
            [off_joints, tiles, narrowest, 0],
            [off_joints, slivers, narrowest, 0],
        ]
    }
}

/// The best of each order among some choices.
fn best(choices: impl Iterator<Item = ByHand>) -> Option<[[i64; 4]; 14]> {
    choices.map(|choice| choice.orders()).reduce(|mut best, orders| {
        for (best, order) in best.iter_mut().zip(orders) {
            *best = (*best).min(order);
        }
        best
    })
}

/// Ends are found as equal as on a grid to within 1.5 mm over all courses.
fn nearly(mut best: [[i64; 4]; 14]) -> [[i64; 4]; 14] {
    let slack = tenths(15).units() / 128;
    best[9][0] += slack;
    best[10][1] += slack;
    best[11][1] += slack;
    best
}

prop_compose! {
    fn any_wall(name: &'static str)(
        width in 900_i64..6000,
        rows in prop::sample::select(vec![(0_i64, 1_i64), (1, 2), (1, 3), (2, 3), (1, 4)]),
        cycle in prop::option::weighted(0.2, Just([(2, 3), (0, 1), (1, 3)])),
        roles in [role(), role()],
        covered in [prop::sample::select(vec![0_i64, 0, 9, 14]), prop::sample::select(vec![0_i64, 0, 11])],
        niche in prop::option::weighted(0.4, (0..5000_i64, -1100..700_i64, 100..2000_i64, 200..900_i64)),
        bare in any::<bool>(),
    ) -> Surface {
        let fraction = |(n, d)| Fraction::new(n, d).expect("a good step");
        let pattern = match (cycle, rows) {
            (Some(cycle), _) => Pattern::Cycle { shifts: cycle.map(fraction).to_vec() },
            (None, (0, _)) => Pattern::Straight,
            (None, step) => Pattern::Running { step: fraction(step), mirror: width % 2 == 0 },
        };
        let mut wall = Surface { width: tenths(width), pattern, ..wall(name, 0, &[(0, 1200)]) };
        wall.edges.left = roles[0];
        wall.edges.right = roles[1];
        wall.covered = Covered { left: mm(covered[0]), right: mm(covered[1]) };
        // What an opening leaves of a tile beside a bare end, or where it ends under the last tile of a row but past the
        // wall or less than a millimetre from it, is judged by the pieces alone.
        let in_gap = |from: i64| (-1200..=10).contains(&from);
        let judged_by_starts = |&(x, _, wide, _): &(i64, i64, i64, i64)| {
            (roles[0] != Role::Bare || 60 <= x)
                && (roles[1] != Role::Bare || x + wide + 60 <= width)
                && !in_gap(x - 30 - 30)
                && !in_gap(width - 30 - (x + wide + 30))
        };
        wall.openings.extend(niche.filter(judged_by_starts).map(|(x, y, width, height)| Opening {
            name: "niche".to_owned(),
            shape: OpeningShape::Rectangle { x: tenths(x), y: mm(y), width: tenths(width), height: mm(height) },
            clearance: mm(3),
            edge: if bare { OpeningEdge::Bare } else { OpeningEdge::Trim },
        }));
        wall
    }
}

fn role() -> impl Strategy<Value = Role> {
    prop::sample::select(vec![Role::Corner, Role::Corner, Role::Trim, Role::Bare])
}

prop_compose! {
    fn any_job(walls: usize, widest: i64)(
        surfaces in [any_wall("A"), any_wall("B"), any_wall("C")],
        tile_width in 40..widest,
        joint in 0_i64..40,
        kerf in 0_i64..30,
        least in prop::option::of(10..35_i64),
        directional in prop::bool::weighted(0.2),
    ) -> Job {
        let mut job = small_tile(tile_width, surfaces.into_iter().take(walls).collect());
        job.joint = tenths(joint);
        job.kerf = tenths(kerf);
        job.smallest_cut = least.map(|least| LeastSize { width: mm(least), height: mm(100) });
        job.thinnest_leg = mm(0);
        job.thinnest_web = mm(0);
        job.tiles.get_mut(&TileId("wall".to_owned())).expect("the tile").directional = directional;
        // A bare niche's shown edges are counted by the search alone.
        for surface in &mut job.surfaces {
            surface.openings.iter_mut().for_each(|opening| opening.edge = OpeningEdge::Trim);
        }
        job
    }
}

proptest! {
    #![proptest_config(crate::cases(300))]

    #[test]
    fn no_start_on_a_fine_grid_is_better_in_any_order(job in any_job(1, 80)) {
        let (layout, courses, found) = front(&job);
        prop_assert_eq!(found.reach, Reach::All);
        let pitch = (job.tiles[&job.surfaces[0].bands[0].tile].width + job.joint).units() / tenths(1).units();
        let grid = (0..pitch).map(|tenth| by_hand(&job, &with(&layout, &[("A", tenths(tenth))]), &courses));
        let on_grid = nearly(best(grid).expect("a start"));
        let chosen = best(found.choices.iter().map(|starts| found_by_search(&job, starts))).expect("a choice");
        for (order, (chosen, on_grid)) in chosen.iter().zip(&on_grid).enumerate() {
            prop_assert!(chosen <= on_grid, "order {}: {:?} is worse than {:?}", order, chosen, on_grid);
        }
    }

    #[test]
    fn any_starts_come_to_what_the_tiles_themselves_come_to(
        job in any_job(2, 110), starts in [0_i64..1200, 0_i64..1200]
    ) {
        let pitch = job.tiles[&job.surfaces[0].bands[0].tile].width + job.joint;
        let chosen = [("A", tenths(starts[0]).modulo(pitch)), ("B", tenths(starts[1]).modulo(pitch))];
        let layout = with(&at(&job, mm(-1000)), &chosen);
        let courses = course::lay(&job, &layout).expect("it can be laid");
        let found = start_front(&job, &layout, &courses, &mut all_of_it);
        prop_assert_eq!(found.choices.len(), 1, "what the lead chose stays");
        prop_assert_eq!(&found.choices[0].starts, &layout.starts);
        prop_assert_eq!(found_by_search(&job, &found.choices[0]), by_hand(&job, &layout, &courses));
        for starts in front(&job).2.choices.iter().take(10) {
            let laid = Layout { starts: starts.starts.clone(), ..layout.clone() };
            prop_assert_eq!(found_by_search(&job, starts), by_hand(&job, &laid, &courses));
        }
    }
}

proptest! {
    #![proptest_config(crate::cases(10))]

    #[test]
    fn no_two_starts_on_a_grid_are_better_together(job in any_job(2, 60)) {
        let (layout, courses, found) = front(&job);
        prop_assume!(found.reach == Reach::All);
        let step = 10;
        let pitch = (job.tiles[&job.surfaces[0].bands[0].tile].width + job.joint).units() / tenths(step).units();
        let grid = (0..=pitch).flat_map(|one| (0..=pitch).map(move |other| (tenths(one * step), tenths(other * step))));
        let grid = grid.map(|(one, other)| by_hand(&job, &with(&layout, &[("A", one), ("B", other)]), &courses));
        let on_grid = nearly(best(grid).expect("two starts"));
        let chosen = best(found.choices.iter().map(|starts| found_by_search(&job, starts))).expect("a choice");
        for (order, (chosen, on_grid)) in chosen.iter().zip(&on_grid).enumerate() {
            prop_assert!(chosen <= on_grid, "order {}: {:?} is worse than {:?}", order, chosen, on_grid);
        }
    }
}

#[test]
fn a_shower_of_three_walls_is_searched_whole() {
    for (step, most) in [((0, 1), 40_000), ((1, 2), 250_000), ((1, 3), 1_000_000)] {
        let step = Fraction::new(step.0, step.1).expect("a good step");
        let pattern = Pattern::Running { step, mirror: false };
        let walls = [("A", 910), ("B", 1500), ("C", 910)];
        let mut walls = walls
            .map(|(name, width)| Surface { pattern: pattern.clone(), ..wall(name, width, &[(0, 1200)]) });
        walls[0].edges.left = Role::Bare;
        walls[2].edges.right = Role::Bare;
        let (_, _, found) = front(&job(walls.to_vec()));
        assert_eq!(found.reach, Reach::All);
        assert!(found.visited < most, "{} corners", found.visited);
    }
}

#[test]
fn a_search_that_is_stopped_still_has_a_choice() {
    let job = job(["A", "B", "C"].map(|name| wall(name, 1517, &[(0, 1200)])).to_vec());
    let layout = at(&job, mm(-1000));
    let courses = course::lay(&job, &layout).expect("it can be laid");
    let found = start_front(&job, &layout, &courses, &mut || ControlFlow::Break(()));
    assert_eq!(found.reach, Reach::Searched);
    assert_eq!(found.choices[0].starts.len(), 3);
    assert!(found.visited < 10_000);
}

#[test]
fn a_tile_is_saved_by_cutting_across_two_walls() {
    // On one wall alone 200 and 200 mm are left over beside whole tiles, on the other 396: 200 + 2 + 396 = 598.
    let mut walls = [wall("A", 0, &[(0, 1200)]), wall("B", 0, &[(0, 1200)])];
    walls[0].width = mm(6 + 598 * 2 + 3 * 2 + 200);
    walls[1].width = mm(6 + 598 + 3 + 396);
    let (_, _, found) = front(&job(walls.to_vec()));
    let courses = 8;
    let least = found.choices.iter().map(|starts| starts.row_tiles).min();
    assert_eq!(least, Some(courses * (2 + 1 + 1)), "three whole tiles and one for both cuts");
}

#[test]
fn a_wall_open_at_one_end_keeps_its_factory_edge_there_and_facing_walls_mirror_each_other() {
    let mut walls =
        [wall("A", 910, &[(0, 1200)]), wall("B", 1517, &[(0, 1200)]), wall("C", 910, &[(0, 1200)])];
    walls[0].edges.left = Role::Bare;
    walls[2].edges.right = Role::Bare;
    let (_, _, found) = front(&job(walls.to_vec()));
    let looks_best =
        found.choices.iter().min_by_key(|starts| (starts.unequal, starts.slivers)).expect("a choice");
    assert_eq!((looks_best.unequal, looks_best.shown), (mm(0), 0));
    // Flush left at 0; flush right at 910; the back wall with equal ends.
    assert_eq!(looks_best.starts[&id("A")], tenths(5995));
    assert_eq!((looks_best.starts[&id("C")] + tenths(15)).modulo(mm(601)), mm(910 - 598));
}

#[test]
fn a_strip_has_a_start_of_its_own() {
    use crate::course::sample::{field, strip};
    use crate::measure::BandHeight;
    let mut job = job(vec![wall("A", 1606, &[(0, 1200)])]);
    job.surfaces[0].bands =
        vec![field("wall", BandHeight::Fill), strip(-50, 300), field("wall", BandHeight::Fill)];
    let (_, _, found) = front(&job);
    assert_eq!(found.reach, Reach::All);
    let keys: Vec<_> = found.choices[0].band_starts.keys().collect();
    assert_eq!(keys, [&(id("A"), 1)]);
    assert_eq!(found.choices[0].starts.len(), 1);
}

#[test]
fn the_rows_of_a_floor_end_at_its_outline() {
    use crate::geometry::Point;
    use crate::measure::{LineId, Outline, OutlineKind};
    let points = [(-700, 50), (1000, 50), (1000, 1250), (-200, 1250), (-200, 953), (-700, 953)];
    let points = points.map(|(x, y)| Point::new(mm(x), mm(y)));
    let outline = Outline::new(OutlineKind::Floor, &points, &[Role::Corner; 6]).expect("an outline");
    let floor = Surface {
        line: LineId::of(&id("A")),
        width: outline.bounds().width(),
        base: vec![outline.base()],
        top: vec![outline.top()],
        edges: outline.edges(),
        outline: Some(outline),
        ..wall("A", 1700, &[(0, 1200)])
    };
    let mut job = job(vec![floor]);
    job.smallest_cut = Some(LeastSize { width: mm(0), height: mm(0) });
    // Three courses from wall to wall and one in the narrow part, which begins with a course.
    for start in [0, 100, 250, 400, 550] {
        let layout = with(&at(&job, tenths(3525)), &[("A", mm(start))]);
        let courses = course::lay(&job, &layout).expect("it can be laid");
        let found = start_front(&job, &layout, &courses, &mut all_of_it);
        let laid = &courses.walls[&id("A")];
        let pieces = crate::place::pieces(&job, &job.surfaces[0], &laid.courses, &layout, laid).pieces;
        let widths = || pieces.iter().map(|piece| (piece.bounds.width(), piece.cell.width()));
        let cut = widths().filter(|(kept, whole)| kept < whole);
        assert_eq!(found.choices[0].cuts, cut.clone().count(), "{start}");
        assert_eq!(found.choices[0].narrowest, cut.map(|(kept, _)| kept).min(), "{start}");
    }
}
