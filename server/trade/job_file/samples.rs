//! Jobs by chance for the tests of any room: sound, of every shape that a file can hold, with lengths that are
//! no round numbers.

use std::collections::BTreeMap;

use proptest::prelude::*;
use proptest::sample::{select, subsequence};

use crate::geometry::Point;
use crate::measure::outline_sample::columns;
use crate::measure::sound;
use crate::measure::{
    Band, BandHeight, BaseReading, Covered, Edges, FirstCourse, Fraction, Gaps, Job, Layout, LeastSize,
    Length, LineId, Opening, OpeningEdge, OpeningShape, Outline, OutlineKind, Pattern, Role, Surface,
    SurfaceId, Tile, TileId, TopReading, Unit,
};

/// Any sound job with one to three walls.
pub(crate) fn jobs() -> impl Strategy<Value = Job> {
    (tiles(), lengths(0, 4), select(vec![Unit::Millimetre, Unit::Inch])).prop_flat_map(
        |(tiles, joint, unit)| {
            let names: Vec<TileId> = tiles.keys().cloned().collect();
            let surfaces = (1..=3_usize).prop_flat_map(move |count| {
                (0..count).map(|index| surfaces(index, names.clone())).collect::<Vec<_>>()
            });
            (surfaces, Just(tiles), Just(joint), Just(unit)).prop_flat_map(
                |(surfaces, tiles, joint, unit)| {
                    let first = job_of(surfaces, tiles, joint, unit);
                    (Just(first.clone()), rest(&first)).prop_map(|(job, rest)| rest.put_into(job))
                },
            )
        },
    )
}

/// Lengths from `least` to `most` millimetres, in whole units of 1/76800 mm.
pub(crate) fn lengths(least: i64, most: i64) -> impl Strategy<Value = Length> + Clone {
    (Length::mm(least).units()..=Length::mm(most).units()).prop_map(Length::from_units)
}

/// What a job has beside tiles, joint and surfaces.
#[derive(Clone, Debug)]
struct Rest {
    name: String,
    joint_spread: (Length, Length),
    saw: (Length, Length),
    gaps: [Length; 6],
    base_gap_more: Length,
    smallest_cut: Option<(Length, Length)>,
    thinnest: (Length, Length),
    setting_order: Vec<SurfaceId>,
    start_course: u32,
    layout: Option<Layout>,
}

fn job_of(surfaces: Vec<Surface>, tiles: BTreeMap<TileId, Tile>, joint: Length, unit: Unit) -> Job {
    Job {
        name: String::new(),
        unit,
        tiles,
        joint,
        joint_range: (joint, joint),
        kerf: Length::mm(2),
        spare: Length::ZERO,
        gaps: Gaps::default(),
        base_gap_max: Length::ZERO,
        smallest_cut: None,
        thinnest_leg: Length::mm(50),
        thinnest_web: Length::mm(25),
        setting_order: Vec::new(),
        start_course: 1,
        surfaces,
        layout: None,
    }
}

fn rest(job: &Job) -> impl Strategy<Value = Rest> + use<> {
    let ids: Vec<SurfaceId> = job.surfaces.iter().map(|surface| surface.id.clone()).collect();
    let count = ids.len();
    let narrower = lengths(0, 4).prop_map({
        let joint = job.joint;
        move |less| less.min(joint)
    });
    let first = (
        names(0),
        (narrower, lengths(0, 5)),
        (lengths(0, 4), lengths(0, 2)),
        prop::array::uniform6(lengths(0, 12)),
        lengths(0, 10),
    );
    let second = (
        prop::option::of((lengths(0, 300), lengths(0, 300))),
        (lengths(0, 60), lengths(0, 60)),
        subsequence(ids, 0..=count).prop_shuffle(),
        1..20_u32,
        prop::option::of(layouts(job)),
    );
    (first, second).prop_map(|((name, joint_spread, saw, gaps, base_gap_more), second)| {
        let (smallest_cut, thinnest, setting_order, start_course, layout) = second;
        Rest {
            name,
            joint_spread,
            saw,
            gaps,
            base_gap_more,
            smallest_cut,
            thinnest,
            setting_order,
            start_course,
            layout,
        }
    })
}

impl Rest {
    fn put_into(self, job: Job) -> Job {
        let [corner, base, ceiling, trim, mitre, opening] = self.gaps;
        Job {
            name: self.name,
            joint_range: (job.joint - self.joint_spread.0, job.joint + self.joint_spread.1),
            kerf: self.saw.0,
            spare: self.saw.1,
            gaps: Gaps { corner, base, ceiling, trim, mitre, opening },
            base_gap_max: base + self.base_gap_more,
            smallest_cut: self.smallest_cut.map(|(width, height)| LeastSize { width, height }),
            thinnest_leg: self.thinnest.0,
            thinnest_web: self.thinnest.1,
            setting_order: self.setting_order,
            start_course: self.start_course,
            layout: self.layout,
            ..job
        }
    }
}

/// Layouts that name some of the job's surfaces; the joint is the job's own or not chosen.
fn layouts(job: &Job) -> impl Strategy<Value = Layout> + use<> {
    let ids: Vec<SurfaceId> = job.surfaces.iter().map(|surface| surface.id.clone()).collect();
    let walls: Vec<SurfaceId> = job
        .surfaces
        .iter()
        .filter(|surface| surface.outline.is_none())
        .map(|surface| surface.id.clone())
        .collect();
    let bands: Vec<(SurfaceId, usize)> = job
        .surfaces
        .iter()
        .flat_map(|surface| (0..surface.bands.len()).map(|band| (surface.id.clone(), band)))
        .collect();
    let ways = select(vec![FirstCourse::Propped, FirstCourse::Scribed]);
    let joint = prop::option::of(Just(job.joint));
    let shared = (lengths(-900, 900), Just(ids.clone()))
        .prop_map(|(y, ids)| ids.into_iter().map(|id| (id, y)).collect());
    (
        prop_oneof![shared, some_of(ids.clone(), lengths(-900, 900))],
        some_of(ids.clone(), lengths(-900, 900)),
        some_of(bands, lengths(-900, 900)),
        some_of(walls, ways),
        some_of(ids, any::<bool>()),
        joint,
    )
        .prop_map(|(course_line, starts, band_starts, first_course, mirror, joint)| Layout {
            course_line,
            starts,
            band_starts,
            first_course,
            mirror,
            joint,
        })
}

fn some_of<K, V>(keys: Vec<K>, values: impl Strategy<Value = V>) -> impl Strategy<Value = BTreeMap<K, V>>
where
    K: Ord + Clone + std::fmt::Debug + 'static,
    V: std::fmt::Debug,
{
    let count = keys.len();
    let values = prop::collection::vec(values, count);
    (subsequence(keys, 0..=count), values).prop_map(|(keys, values)| keys.into_iter().zip(values).collect())
}

fn names(least: usize) -> impl Strategy<Value = String> {
    prop::collection::vec(any::<char>(), least..12).prop_map(String::from_iter)
}

fn tiles() -> impl Strategy<Value = BTreeMap<TileId, Tile>> {
    prop::collection::btree_map(names(1).prop_map(TileId), tile(), 1..4)
}

fn tile() -> impl Strategy<Value = Tile> {
    let known = (lengths(50, 1200), lengths(50, 1200), any::<bool>(), any::<bool>());
    let perhaps = (
        prop::option::of(lengths(4, 20)),
        prop::option::of(any::<bool>()),
        prop::option::of(lengths(0, 2)),
        prop::option::of(lengths(0, 2)),
        prop::option::of(1..40_u32),
    );
    (known, perhaps).prop_map(|((width, height, directional, quarter_turn), perhaps)| {
        let (thickness, rectified, size_variation, warpage, per_box) = perhaps;
        Tile {
            width,
            height,
            thickness,
            rectified,
            directional,
            quarter_turn,
            size_variation,
            warpage,
            per_box,
        }
    })
}

fn surfaces(index: usize, tiles: Vec<TileId>) -> impl Strategy<Value = Surface> {
    prop_oneof![3 => walls(index, tiles.clone()), 1 => outlined(index, tiles)]
}

/// A surface given by its outline, with one fill on it.
fn outlined(index: usize, tiles: Vec<TileId>) -> impl Strategy<Value = Surface> {
    let id = SurfaceId::new(&format!("floor-{index}")).expect("a name of letters, a hyphen and a digit");
    let kinds = select(vec![OutlineKind::Floor, OutlineKind::Wall]);
    let roles = prop::collection::vec(select(Role::ALL.to_vec()), 20);
    let shape = (kinds, columns(2000), lengths(0, 1), roles);
    (names(0), shape, select(tiles), patterns(), any::<bool>()).prop_map(
        move |(name, (kind, columns, off, roles), tile, pattern, own_line)| {
            let points = columns.points();
            let point = |&(x, y): &(i64, i64)| Point::new(Length::mm(x) + off, Length::mm(y) - off);
            let points: Vec<Point> = points.iter().map(point).collect();
            let roles: Vec<Role> = roles.into_iter().cycle().take(points.len()).collect();
            let outline = Outline::new(kind, &points, &roles).expect("columns that hang together");
            let line = if own_line { LineId(format!("line {index}")) } else { LineId::of(&id) };
            let height = BandHeight::Fill;
            Surface {
                id: id.clone(),
                name,
                line,
                width: outline.bounds().width(),
                base: vec![outline.base()],
                top: vec![outline.top()],
                edges: outline.edges(),
                outline: Some(outline),
                covered: Covered::default(),
                openings: Vec::new(),
                bands: vec![Band {
                    tile,
                    upright: own_line,
                    height,
                    bottom_between: None,
                    joint_above: None,
                    pattern: None,
                }],
                pattern,
                top_may_move: Length::ZERO,
            }
        },
    )
}

fn walls(index: usize, tiles: Vec<TileId>) -> impl Strategy<Value = Surface> {
    let id = SurfaceId::new(&format!("wall-{index}")).expect("a name of letters, a hyphen and a digit");
    lengths(300, 4000).prop_flat_map(move |width| {
        let at = move || (0..=width.units()).prop_map(Length::from_units);
        let base = prop::collection::vec((at(), lengths(800, 1300), any::<bool>()), 1..5);
        let top = prop::collection::vec((at(), lengths(500, 1500)), 1..4);
        let covered = (lengths(0, 20), lengths(0, 20));
        let measured = (names(0), select(vec!["", "upstairs"]), base, top, edges(), covered);
        let laid =
            (prop::collection::vec(openings(width), 0..3), bands(tiles.clone()), patterns(), lengths(0, 50));
        let id = id.clone();
        (measured, laid).prop_map(move |((name, line, mut base, mut top, edges, covered), laid)| {
            let (mut openings, bands, pattern, top_may_move) = laid;
            while let Some(clashing) = sound::clashing(&openings) {
                openings.remove(clashing);
            }
            base.sort_by_key(|reading| reading.0);
            top.sort_by_key(|reading| reading.0);
            Surface {
                id: id.clone(),
                name,
                line: LineId(line.to_owned()),
                outline: None,
                width,
                base: base.into_iter().map(|(x, drop, carries)| BaseReading { x, drop, carries }).collect(),
                top: top.into_iter().map(|(x, rise)| TopReading { x, rise }).collect(),
                edges,
                covered: Covered { left: covered.0, right: covered.1 },
                openings,
                bands,
                pattern,
                top_may_move,
            }
        })
    })
}

fn edges() -> impl Strategy<Value = Edges> {
    let roles =
        [Role::Corner, Role::Base, Role::Ceiling, Role::Trim, Role::Mitre, Role::Bare, Role::Hidden].to_vec();
    prop::array::uniform4(select(roles)).prop_map(|[left, right, base, top]| Edges { left, right, base, top })
}

/// Openings whose lower left or centre lies on a wall of that width.
fn openings(width: Length) -> impl Strategy<Value = Opening> {
    let edges =
        [OpeningEdge::Plate, OpeningEdge::Trim, OpeningEdge::Lapped, OpeningEdge::Mitre, OpeningEdge::Bare];
    let x = (0..width.units()).prop_map(Length::from_units);
    let place = (x, lengths(-700, 400), lengths(20, 900), lengths(20, 900), any::<bool>());
    (place, names(0), lengths(-5, 10), select(edges.to_vec())).prop_map(|(place, name, clearance, edge)| {
        let shape = match place {
            (x, y, width, height, true) => OpeningShape::Rectangle { x, y, width, height },
            (x, y, diameter, _, false) => OpeningShape::Circle { x, y, diameter },
        };
        Opening { name, shape, clearance, edge }
    })
}

/// One fill; or some courses below it; or a strip between two fills.
fn bands(tiles: Vec<TileId>) -> impl Strategy<Value = Vec<Band>> {
    let band = move |height: BoxedStrategy<BandHeight>| {
        let perhaps = (prop::option::of(lengths(0, 6)), prop::option::of(patterns()));
        (select(tiles.clone()), any::<bool>(), height, perhaps).prop_map(
            |(tile, upright, height, (joint_above, pattern))| Band {
                tile,
                upright,
                height,
                bottom_between: None,
                joint_above,
                pattern,
            },
        )
    };
    let fill = || band(Just(BandHeight::Fill).boxed());
    let some = band((1..9_u32).prop_map(BandHeight::Courses).boxed());
    let strip = (band(Just(BandHeight::Courses(1)).boxed()), lengths(-500, 0), lengths(0, 400))
        .prop_map(|(band, from, to)| Band { bottom_between: Some((from, to)), ..band });
    prop_oneof![
        fill().prop_map(|fill| vec![fill]),
        (some, fill()).prop_map(|(some, fill)| vec![some, fill]),
        (fill(), strip, fill()).prop_map(|(below, strip, above)| vec![below, strip, above]),
    ]
}

fn patterns() -> impl Strategy<Value = Pattern> {
    let fraction = || {
        (-20..=20_i64, 1..=20_i64).prop_map(|(numerator, denominator)| {
            Fraction::new(numerator, denominator).expect("both are within a thousand")
        })
    };
    prop_oneof![
        Just(Pattern::Straight),
        (fraction(), any::<bool>()).prop_map(|(step, mirror)| Pattern::Running { step, mirror }),
        prop::collection::vec(fraction(), 1..5).prop_map(|shifts| Pattern::Cycle { shifts }),
    ]
}
