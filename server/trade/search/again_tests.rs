use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use proptest::sample::Index;

use super::*;
use crate::course::sample::{job, mm, tenths, wall};
use crate::geometry::Side;
use crate::measure::{Length, Opening, OpeningEdge, OpeningShape, Role, Surface};
use crate::offcut::{Step, Take, queue};
use crate::place::{NoFit, PieceId, Reach, Reading, Refit, Shift, Stop, TrueSize, Way, cut_sides};
use crate::search::plan;
use crate::search::work_out::tests::{running, walls};

/// A crew that cuts what the plan says and measures again.
#[derive(Clone)]
struct Crew {
    job: Job,
    planned: LayoutOption,
    now: LayoutOption,
    measured: Measured,
    /// Each piece with the name of the tile it was cut from.
    cut: BTreeMap<String, String>,
    /// Tiles named so far.
    names: usize,
    /// What was lost since the plan in force was made, by kind of tile, with the name of its tile.
    lost: Vec<(TileId, Opened)>,
}

impl Crew {
    fn at(job: Job) -> Self {
        let planned = plan(&job).expect("can be planned");
        Self {
            now: planned.clone(),
            job,
            planned,
            measured: Measured::new(),
            cut: BTreeMap::new(),
            names: 0,
            lost: Vec::new(),
        }
    }

    /// What was cut by the plan in force: a tile that is begun bears its name, the others have none yet.
    fn sawn(&self) -> BTreeMap<TileId, Sawn> {
        let of_kind = |(id, cutting): (&TileId, &TileCutting)| {
            let mut sawn = Sawn::default();
            let name_of = |piece: usize| self.cut.get(&cutting.problem.pieces()[piece].id);
            for (stock, of) in cutting.plan.stock.iter().enumerate() {
                let own = of.begun.as_ref().map(|begun| &begun.name);
                let cut = of.places.iter().filter_map(|place| Some((place.piece, name_of(place.piece)?)));
                let (here, elsewhere): (Vec<_>, Vec<_>) =
                    cut.partition(|(_, name)| own.is_none_or(|own| own == *name));
                sawn.elsewhere.extend(elsewhere.iter().map(|(piece, _)| piece));
                let lost =
                    self.lost.iter().find(|(of, lost)| of == id && lost.stock == stock).map(|(_, lost)| lost);
                let before = own.filter(|_| !of.gone().is_empty());
                let name = here.first().map(|(_, name)| *name).or(lost.map(|lost| &lost.name)).or(before);
                if let Some(name) = name.cloned() {
                    let here = here.iter().map(|(piece, _)| *piece).collect();
                    let lost = lost.map_or_else(Vec::new, |lost| lost.lost.clone());
                    sawn.tiles.push(Opened { stock, name, here, lost });
                }
            }
            (id.clone(), sawn)
        };
        self.now.cutting.iter().map(of_kind).collect()
    }

    fn progress(&self, sawn: &Sawn) -> Progress {
        Progress { here: sawn.here(), elsewhere: sawn.elsewhere.clone() }
    }

    fn steps(&self) -> Vec<(TileId, String, Step)> {
        let sawn = self.sawn();
        let kinds = self.now.cutting.iter();
        let steps = kinds.flat_map(|(id, cutting)| {
            let steps = queue(&cutting.problem, &cutting.plan, &self.progress(&sawn[id]));
            steps.into_iter().map(|step| (id.clone(), cutting.problem.pieces()[step.piece].id.clone(), step))
        });
        steps.collect()
    }

    /// Cuts the first piece that can be cut of those that are not.
    fn cut_next(&mut self) {
        let steps = self.steps();
        let next = steps.iter().find(|(_, id, step)| step.after.is_none() && !self.cut.contains_key(id));
        let Some((tile, id, step)) = next else { return };
        let same_tile = |(of, other, at): &&(TileId, String, Step)| {
            of == tile && at.stock == step.stock && self.cut.contains_key(other)
        };
        let begun = self.now.cutting[tile].plan.stock[step.stock].begun.as_ref();
        let name = steps.iter().find(same_tile).map(|(_, other, _)| self.cut[other].clone());
        let name = name.or_else(|| begun.map(|begun| begun.name.clone()));
        self.names += 1;
        self.cut.insert(id.clone(), name.unwrap_or_else(|| format!("tile {}", self.names)));
    }

    /// A piece that was cut breaks on the way to the wall.
    fn loses(&mut self, id: &str) {
        let steps = self.steps();
        let (tile, _, step) = steps.iter().find(|(_, of, _)| of == id).expect("a piece at the saw");
        let name = self.cut.remove(id).expect("it is cut");
        self.names += 1;
        let loss = Lost { piece: step.piece, part: LostPart::Piece, entry: format!("loss {}", self.names) };
        let of_tile = |(of, lost): &&mut (TileId, Opened)| of == tile && lost.stock == step.stock;
        match self.lost.iter_mut().find(of_tile) {
            Some((_, opened)) => opened.lost.push(loss),
            None => {
                let here = BTreeSet::new();
                self.lost.push((tile.clone(), Opened { stock: step.stock, name, here, lost: vec![loss] }));
            }
        }
    }

    fn wall<T>(&self, surface: &crate::measure::SurfaceId, ask: impl FnOnce(&Wall<'_>) -> T) -> T {
        let courses = &self.planned.courses.walls[surface];
        let planned: Vec<Piece> =
            self.planned.pieces.iter().filter(|piece| piece.surface == *surface).cloned().collect();
        ask(&Wall {
            job: &self.job,
            surface: self.job.surface(surface).expect("a surface of the job"),
            courses: &courses.courses,
            layout: &self.planned.layout,
            limits: courses,
            planned: &planned,
            before: &self.measured,
            done: &self.cut.keys().cloned().map(PieceId).collect(),
        })
    }

    fn asks<T>(&self, id: &str, ask: impl FnOnce(&Wall<'_>, &PieceId) -> T) -> T {
        let piece = self.planned.pieces.iter().find(|piece| piece.id.0 == id).expect("a piece of the plan");
        self.wall(&piece.surface, |wall| ask(wall, &piece.id))
    }

    /// The tape reads this much more or less than the plan says.
    fn finds(&mut self, id: &str, way: Way, more: Length, reach: Reach) -> Result<Vec<Refit>, Vec<NoFit>> {
        let refits = self.asks(id, |wall, piece| {
            let clear = wall.clear(piece).into_iter().find(|clear| clear.way == way);
            let opening = clear.map_or(Length::ZERO, |clear| clear.opening()) + more;
            wall.refit(piece, &[Reading { way, opening, reach }])
        })?;
        for refit in &refits {
            let size = refit.size.after(self.measured.get(&refit.piece.id));
            self.measured.insert(refit.piece.id.clone(), size);
        }
        let sawn = self.sawn();
        let field = InField {
            job: &self.job,
            planned: &self.planned,
            now: &self.now,
            measured: &self.measured,
            sawn: &sawn,
        };
        self.now = field.plan_again().expect("the plan passes its checks");
        self.lost.clear();
        Ok(refits)
    }

    fn piece(&self, id: &str) -> &Piece {
        self.now.pieces.iter().find(|piece| piece.id.0 == id).expect("a piece of the plan")
    }

    fn tiles(&self) -> usize {
        self.now.figures.bought
    }
}

/// A wall 1700 wide: two whole tiles and a piece into the corner in each course.
fn row_ends() -> Crew {
    ends_of(1700)
}

fn ends_of(width: i64) -> Crew {
    let mut job = job(vec![wall("A", width, &[(0, 1000)])]);
    job.layout = Some(crate::measure::Layout {
        starts: BTreeMap::from([(job.surfaces[0].id.clone(), tenths(6025))]),
        ..crate::measure::Layout::default()
    });
    Crew::at(job)
}

fn ends(refits: &[Refit]) -> Vec<&str> {
    refits.iter().map(|refit| refit.piece.id.0.as_str()).collect()
}

#[test]
fn a_row_end_loses_at_its_cut_side_what_the_opening_lacks() {
    let mut crew = row_ends();
    let before = crew.piece("A3-3").clone();
    let clear = crew.asks("A3-3", |wall, piece| wall.clear(piece));
    let across = clear.iter().find(|clear| clear.way == Way::Across).expect("it is cut across");
    assert_eq!((&across.low, &across.high), (&Stop::Tile(mm(3)), &Stop::Edge(Role::Corner, mm(3))));
    assert_eq!((across.side, across.size), (Side::Right, before.bounds.width()));
    assert_eq!(across.opening(), before.bounds.width() + mm(6));

    let refits = crew.finds("A3-3", Way::Across, mm(-4), Reach::Piece).expect("there is room");
    assert_eq!(ends(&refits), ["A3-3"]);
    let after = crew.piece("A3-3");
    assert_eq!(after.bounds, Rect { right: before.bounds.right - mm(4), ..before.bounds });
    assert_eq!((after.factory, after.cell), (before.factory, before.cell));
    let untouched = |piece: &&Piece| piece.id.0 != "A3-3";
    assert!(crew.now.pieces.iter().filter(untouched).eq(crew.planned.pieces.iter().filter(untouched)));
}

#[test]
fn an_end_that_is_cut_to_the_base_keeps_its_slope_where_the_wall_is_nearer() {
    // The base falls away under the last tile alone, from its middle on, so that the line of its foot is another one
    // for each end that the tile may have.
    let mut job = job(vec![wall("A", 1700, &[(0, 1000), (1400, 1000), (1700, 1012)])]);
    let surface = job.surfaces[0].id.clone();
    job.layout = Some(crate::measure::Layout {
        starts: BTreeMap::from([(surface.clone(), tenths(6025))]),
        first_course: BTreeMap::from([(surface, crate::measure::FirstCourse::Scribed)]),
        ..crate::measure::Layout::default()
    });
    let mut crew = Crew::at(job);
    let foot = |piece: &Piece| {
        let mut low = piece.outline.clone();
        low.sort_by_key(|point| (point.y, point.x));
        let (one, other) = (low[0], low[1]);
        if one.x < other.x { (one, other) } else { (other, one) }
    };
    let before = crew.piece("A1-3").clone();
    let (left, right) = foot(&before);
    assert_ne!(left.y, right.y, "its foot tapers: {before:?}");
    for narrower in [-4, -200] {
        crew.finds("A1-3", Way::Across, mm(narrower), Reach::Piece).expect("there is room");
        let (kept, moved) = foot(crew.piece("A1-3"));
        assert_eq!(kept, left);
        let on_the_line = crate::geometry::polygon::height_at(left, right, moved.x);
        assert!(
            (moved.y - on_the_line).abs() <= Length::from_units(1),
            "{moved:?} is not on the foot as planned"
        );
    }
}

#[test]
fn what_was_found_once_more_counts_from_the_plan_and_not_from_what_was_found_before() {
    let mut crew = row_ends();
    let planned = crew.piece("A3-3").bounds;
    crew.finds("A3-3", Way::Across, mm(-4), Reach::Piece).expect("there is room");
    crew.finds("A3-3", Way::Across, mm(1), Reach::Piece).expect("there is room");
    assert_eq!(crew.piece("A3-3").bounds.right, planned.right - mm(3));
    assert_eq!(crew.measured[&PieceId("A3-3".to_owned())].by(Side::Right), mm(-3));
    crew.finds("A3-3", Way::Across, mm(3), Reach::Piece).expect("there is room");
    assert_eq!(crew.now.pieces, crew.planned.pieces);
}

#[test]
fn what_is_found_one_way_says_nothing_of_what_was_found_the_other_way_before() {
    let mut crew = row_ends();
    let top = crew.planned.pieces.last().expect("pieces").clone();
    assert!(cut_sides(&top).has(Side::Top) && cut_sides(&top).has(Side::Right), "{top:?}");
    crew.finds(&top.id.0, Way::Across, mm(-4), Reach::Piece).expect("there is room");
    let refits = crew.finds(&top.id.0, Way::Up, mm(-3), Reach::Piece).expect("there is room");
    assert_eq!(refits[0].size.shifts, [Shift { side: Side::Top, by: mm(-3) }]);
    let both = Rect { right: top.bounds.right - mm(4), top: top.bounds.top - mm(3), ..top.bounds };
    assert_eq!((refits[0].piece.bounds, crew.piece(&top.id.0).bounds), (both, both));
}

#[test]
fn the_ends_of_the_courses_above_stop_at_the_same_wall() {
    let mut crew = row_ends();
    let refits = crew.finds("A2-3", Way::Across, mm(-4), Reach::Above).expect("there is room");
    let above: Vec<String> = crew
        .planned
        .pieces
        .iter()
        .filter(|piece| piece.course > 2 && cut_sides(piece).has(Side::Right))
        .map(|piece| piece.id.0.clone())
        .collect();
    assert!(above.len() >= 3, "{above:?}");
    assert_eq!(ends(&refits), [vec!["A2-3"], above.iter().map(String::as_str).collect()].concat());
    let of_course =
        |wall: &Wall<'_>, piece: &PieceId| wall.alike(piece, Way::Across, Reach::Course, mm(-4)).len();
    assert_eq!(crew.asks("A2-3", of_course), 0, "its course has no other end there");
}

#[test]
fn under_the_top_the_rest_of_the_course_has_the_same_height() {
    let mut crew = row_ends();
    let top = crew.planned.pieces.last().expect("pieces").clone();
    assert!(cut_sides(&top).has(Side::Top), "{top:?}");
    let refits = crew.finds(&top.id.0, Way::Up, mm(-3), Reach::Course).expect("there is room");
    assert_eq!(refits.len(), 3);
    for refit in &refits {
        assert_eq!(refit.piece.bounds.top, top.bounds.top - mm(3));
        assert_eq!(refit.piece.bounds.bottom, top.bounds.bottom);
    }
}

#[test]
fn no_piece_is_cut_larger_than_its_tile_nor_to_nothing() {
    let mut crew = row_ends();
    let piece = crew.piece("A3-3").bounds;
    let id = PieceId("A3-3".to_owned());
    let wanted = mm(599);
    let larger = crew.finds("A3-3", Way::Across, wanted - piece.width(), Reach::Piece);
    let fault = NoFit::LargerThanTile { piece: id.clone(), way: Way::Across, wanted, tile: mm(598) };
    assert_eq!(larger, Err(vec![fault]));
    let left = mm(3);
    let nothing = crew.finds("A3-3", Way::Across, left - piece.width(), Reach::Piece);
    assert_eq!(nothing, Err(vec![NoFit::NothingLeft { piece: id, way: Way::Across, left }]));
    assert_eq!(crew.now, crew.planned, "nothing was kept");
    assert_eq!(crew.finds("A3-2", Way::Across, mm(-3), Reach::Piece), Err(vec![NoFit::NotCut(Way::Across)]));
}

#[test]
fn a_piece_as_large_as_the_tile_is_a_whole_tile() {
    let mut crew = row_ends();
    let piece = crew.piece("A3-3").bounds;
    crew.finds("A3-3", Way::Across, mm(598) - piece.width(), Reach::Piece).expect("it is a tile");
    assert!(crew.piece("A3-3").full);
    let tile = &crew.now.cutting[&TileId("wall".to_owned())];
    assert!(tile.problem.pieces().iter().all(|piece| piece.id != "A3-3"));
    assert_eq!(tile.full, crew.planned.cutting[&TileId("wall".to_owned())].full + 1);
}

#[test]
fn a_notch_stays_where_it_is_from_the_kept_edges() {
    let mut back = wall("A", 1700, &[(0, 1000)]);
    back.openings.push(Opening {
        name: "window".to_owned(),
        shape: OpeningShape::Rectangle { x: mm(1400), y: mm(-250), width: mm(150), height: mm(400) },
        clearance: mm(3),
        edge: OpeningEdge::Trim,
    });
    let mut job = job(vec![back]);
    job.layout = Some(crate::measure::Layout {
        starts: BTreeMap::from([(job.surfaces[0].id.clone(), tenths(6025))]),
        ..crate::measure::Layout::default()
    });
    let mut crew = Crew::at(job);
    let notched = |piece: &&Piece| cut_sides(piece).has(Side::Right) && piece.outline.len() > 4;
    let before = crew.planned.pieces.iter().find(notched).expect("a notched end").clone();
    let refits = crew.finds(&before.id.0, Way::Across, mm(-4), Reach::Piece).expect("there is room");
    let after = &refits[0].piece;
    assert_eq!(after.outline.len(), before.outline.len());
    for (was, is) in before.outline.iter().zip(&after.outline) {
        let moved = if was.x == before.bounds.right { was.x - mm(4) } else { was.x };
        assert_eq!((is.x, is.y), (moved, was.y));
    }
}

#[test]
fn the_jamb_of_a_window_is_where_the_tape_finds_it() {
    let mut back = wall("A", 1700, &[(0, 1000)]);
    back.openings.push(Opening {
        name: "window".to_owned(),
        shape: OpeningShape::Rectangle { x: mm(900), y: mm(-700), width: mm(300), height: mm(1000) },
        clearance: mm(3),
        edge: OpeningEdge::Trim,
    });
    let mut crew = Crew::at(job(vec![back]));
    let at_jamb = |piece: &&Piece| piece.bounds.right == mm(897) && cut_sides(piece).has(Side::Right);
    let jamb: Vec<Piece> = crew.planned.pieces.iter().filter(at_jamb).cloned().collect();
    let lowest = jamb.first().expect("a piece at the jamb").clone();
    let clear = crew.asks(&lowest.id.0, |wall, piece| wall.clear(piece));
    assert_eq!(clear[0].high, Stop::Opening("window".to_owned(), mm(3)));
    let refits = crew.finds(&lowest.id.0, Way::Across, mm(2), Reach::Above).expect("there is room");
    assert!(refits.len() > 1 && refits.iter().all(|refit| refit.piece.bounds.right == mm(899)), "{refits:?}");
}

#[test]
fn the_offcut_on_the_rack_serves_whoever_fits_into_it_now() {
    // Each end is 292 wide, so that two come out of one tile.
    let mut crew = ends_of(1500);
    crew.cut_next();
    let first = crew.cut.keys().next().expect("a cut").clone();
    let tiles = crew.tiles();
    let rack = crew.steps().into_iter().filter(|(_, _, step)| matches!(step.take, Take::Offcut(_)));
    let second = rack.map(|(_, id, _)| id).next().expect("a piece from the first one's offcut");
    // Too wide now for what the first one left.
    let width = crew.piece(&second).bounds.width();
    crew.finds(&second, Way::Across, mm(400) - width, Reach::Piece).expect("there is room");
    let now = crew.steps();
    let of_first = now.iter().find(|(_, id, _)| *id == first).expect("it is on its tile still");
    let begun = crew.now.cutting[&of_first.0].plan.stock[of_first.2.stock].begun.as_ref().expect("begun");
    assert_eq!(begun.written.len(), 1, "what the first one left bears a label");
    let taken: Vec<&str> = now
        .iter()
        .filter(|(_, id, step)| step.stock == of_first.2.stock && *id != first)
        .map(|(_, id, _)| id.as_str())
        .collect();
    assert!(taken.len() == 1 && taken[0] != second, "{taken:?}");
    assert!(crew.tiles() <= tiles + 1);
}

#[test]
fn what_a_lost_piece_left_over_is_cut_from_all_the_same() {
    // Each end is 292 wide, so that two come out of one tile.
    let mut crew = ends_of(1500);
    crew.cut_next();
    let first = crew.cut.keys().next().expect("a cut").clone();
    let (rack, tiles) = (on_the_rack(&crew), crew.tiles());
    let own = crew.cut[&first].clone();
    crew.loses(&first);
    let far = crew.planned.pieces.iter().rfind(|piece| !piece.full).expect("a cut piece").id.0.clone();
    let way = if cut_sides(crew.piece(&far)).has(Side::Right) { Way::Across } else { Way::Up };
    crew.finds(&far, way, mm(-1), Reach::Piece).expect("there is room");

    assert_eq!(on_the_rack(&crew), rack, "it lies there still, under the same label");
    let from_it: Vec<String> = crew
        .steps()
        .into_iter()
        .filter(|(tile, _, step)| {
            let begun = crew.now.cutting[tile].plan.stock[step.stock].begun.as_ref();
            begun.is_some_and(|begun| begun.name == own) && matches!(step.take, Take::Offcut(_))
        })
        .map(|(_, id, _)| id)
        .collect();
    assert_eq!(from_it.len(), 1, "something comes out of it");
    // Five ends come out of three tiles; with half a tile lost, six halves are needed.
    assert!(crew.tiles() <= tiles + 1, "{} and {tiles}", crew.tiles());
    // Whatever comes out of it can break too, and then nothing lies there.
    crew.cut.insert(from_it[0].clone(), own.clone());
    crew.loses(&from_it[0]);
    crew.finds(&far, way, mm(-1), Reach::Piece).expect("there is room");
    assert!(on_the_rack(&crew).keys().all(|(tile, _)| *tile != own), "{:?}", on_the_rack(&crew));
}

#[test]
fn a_size_found_of_a_piece_that_is_planned_otherwise_by_now_does_not_hold() {
    let crew = row_ends();
    let piece = crew.piece("A3-3");
    let shifts = vec![Shift { side: Side::Right, by: mm(-4) }];
    let of =
        |planned: Rect| Measured::from([(piece.id.clone(), TrueSize { planned, shifts: shifts.clone() })]);
    let pieces = |measured: &Measured| {
        let (job, planned, now, sawn) = (&crew.job, &crew.planned, &crew.now, &BTreeMap::new());
        InField { job, planned, now, measured, sawn }.pieces()
    };
    assert_eq!(pieces(&of(piece.bounds)).1.len(), 1);
    let (same, hold) = pieces(&of(piece.bounds.moved(mm(1), mm(0))));
    assert!(hold.is_empty() && same == crew.planned.pieces);
}

/// The second piece of a tile is lost first, and then the one that was cut before it: what lay beside both is no whole
/// part of the tile again.
#[test]
fn two_pieces_lost_of_one_tile_in_either_order_leave_what_is_left_of_it() {
    let wall = Surface { pattern: running(1, 3), ..wall("A", 472, &[(0, 1180), (236, 1180), (472, 1181)]) };
    let mut crew = Crew::at(job(vec![wall]));
    crew.cut_next();
    crew.cut_next();
    let done: Vec<String> = crew.cut.keys().cloned().collect();
    for lost in done.iter().rev() {
        crew.loses(lost);
        crew.finds(&done[0], Way::Up, mm(0), Reach::Piece).expect("it fits");
    }
    let lying: Vec<Rect> = on_the_rack(&crew).into_values().collect();
    let gone: Vec<Rect> = crew
        .now
        .cutting
        .values()
        .flat_map(|cutting| &cutting.plan.stock)
        .flat_map(|stock| stock.gone())
        .map(|gone| gone.at)
        .collect();
    assert_eq!(gone.len(), 2);
    assert!(lying.iter().all(|part| gone.iter().all(|gone| !part.holds(gone))), "{lying:?}");
    crew.finds(&done[0], Way::Up, mm(1), Reach::Piece).expect("it fits");
}

/// Where every cut piece lies on its tile, and the cuts on the way to it, with the tile's name.
fn cut_so_far(crew: &Crew) -> BTreeMap<String, (String, Rect, Vec<Cut>)> {
    let mut all = BTreeMap::new();
    for cutting in crew.now.cutting.values() {
        for stock in &cutting.plan.stock {
            for place in &stock.places {
                let piece = &cutting.problem.pieces()[place.piece].id;
                let Some(name) = crew.cut.get(piece) else { continue };
                let on_its_way = |cut: &&Cut| cut.part.holds(&place.at) && cut.part != place.at;
                let cuts = stock.cuts.iter().filter(on_its_way).copied().collect();
                all.insert(piece.clone(), (name.clone(), place.at, cuts));
            }
        }
    }
    all
}

/// What lies on the rack, by its tile's name and its label.
fn on_the_rack(crew: &Crew) -> BTreeMap<(String, usize), Rect> {
    let mut rack = BTreeMap::new();
    for (tile, sawn) in crew.sawn() {
        let cutting = &crew.now.cutting[&tile];
        for opened in &sawn.tiles {
            let of = (opened.stock, &cutting.plan.stock[opened.stock]);
            let progress = Progress { here: opened.here.clone(), elsewhere: BTreeSet::new() };
            for lying in offcut::lying(&cutting.problem, of, &progress) {
                let label = (opened.name.clone(), lying.label.nth);
                assert_eq!(rack.insert(label, lying.part.at), None, "two of one label");
            }
        }
    }
    rack
}

proptest! {
    #![proptest_config(crate::cases(120))]

    /// [`InField::plan_again`] answers nothing that the checks find fault with: joints, overlaps, the true openings
    /// and the saw's cuts are tested by an answer at all.
    #[test]
    fn whatever_the_tape_finds_what_is_cut_stays_and_the_rest_passes_its_checks(
        job in walls(),
        found in prop::collection::vec(
            ((0..4_usize, prop::option::of(any::<Index>())), any::<Index>(), any::<bool>(), -20_i64..20, prop::sample::select(vec![Reach::Piece, Reach::Course, Reach::Above])),
            1..4,
        ),
    ) {
        let mut crew = Crew::at(job);
        for ((cuts, breaks), which, across, more, reach) in found {
            (0..cuts).for_each(|_| crew.cut_next());
            let way = if across { Way::Across } else { Way::Up };
            let cut: Vec<String> =
                crew.planned.pieces.iter().filter(|piece| !piece.full).map(|piece| piece.id.0.clone()).collect();
            if cut.is_empty() {
                return Ok(());
            }
            let (racked, pieces, measured) = (on_the_rack(&crew), crew.now.pieces.clone(), crew.measured.clone());
            let done: Vec<String> = crew.cut.keys().cloned().collect();
            if let Some(breaks) = breaks.filter(|_| !done.is_empty()) {
                crew.loses(breaks.get(&done[..]).as_str());
            }
            let before = cut_so_far(&crew);
            let Ok(refits) = crew.finds(which.get(&cut[..]).as_str(), way, mm(more), reach) else { return Ok(()) };
            prop_assert_eq!(cut_so_far(&crew), before);
            let rack = on_the_rack(&crew);
            for (label, at) in &racked {
                prop_assert_eq!(rack.get(label), Some(at), "{:?} is no longer called so", label);
            }
            let named: BTreeSet<&str> = ends(&refits).into_iter().collect();
            for (was, is) in pieces.iter().zip(&crew.now.pieces) {
                let size = crew.measured.get(&was.id);
                if !named.contains(was.id.0.as_str()) {
                    prop_assert_eq!(was, is);
                } else if let Some(size) = size {
                    let earlier = |side| measured.get(&was.id).map_or(Length::ZERO, |size| size.by(side));
                    for side in Side::ALL.into_iter().filter(|side| size.by(*side) == earlier(*side)) {
                        // A taper's ends move with its width, and a thin leg beside an opening may go or come.
                        let tapered = is.outline.iter().any(|p| p.y != is.bounds.bottom && p.y != is.bounds.top);
                        let notched = was.outline.len() > 4 || is.outline.len() > 4;
                        let stays = is.bounds.at(side) == was.bounds.at(side);
                        prop_assert!(tapered || notched || stays, "{:?} moved", side);
                    }
                }
            }
            let open = crew.now.cutting.values().flat_map(|cutting| &cutting.open);
            let open: usize = open.map(|open| open.problem.pieces().len()).sum();
            let all = crew.now.pieces.iter().filter(|piece| !piece.full);
            let uncut = all.filter(|piece| !crew.cut.contains_key(&piece.id.0)).count();
            prop_assert_eq!(open, uncut);
        }
    }
}
