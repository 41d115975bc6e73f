use super::*;
use Side::{Bottom, Left, Right, Top};

fn crosscut(from: Side, at: i64) -> Mark {
    Mark::Crosscut { from, at: mm(at), at_other_end: mm(at) }
}

fn rip(from: Side, at: i64) -> Mark {
    Mark::Rip { from, at: mm(at), at_other_end: mm(at) }
}

#[test]
fn a_cut_edge_goes_to_the_corner_and_the_factory_edge_to_the_joint() {
    let wall = Wall::new(907, (598, 298), 3, 1).edges(Role::Bare, Role::Corner).with_left_edge_at(0);
    let (whole, cut) = (wall.piece("A1-1"), wall.piece("A1-2"));
    assert!(whole.full && whole.marks.is_empty() && whole.factory == Sides::ALL);
    assert_eq!(cut.outline, rect(601, 0, 907, 298).corners());
    assert_eq!(cut.factory, sides(&[Left, Bottom, Top]));
    assert_eq!(cut.shows, Sides::NONE);
    assert_eq!(cut.marks, [crosscut(Left, 306)]);
    assert_eq!(cut.sliver, None);
}

#[test]
fn both_ends_of_a_row_keep_the_edge_at_the_joint() {
    let wall = Wall::new(1000, (300, 200), 2, 2).with_left_edge_at(150);
    assert_eq!(wall.piece("A1-1").factory, sides(&[Right, Bottom, Top]));
    assert_eq!(wall.piece("A1-1").marks, [crosscut(Right, 148)]);
    assert_eq!(wall.piece("A1-1").sliver, Some(Sliver::Narrow(mm(148))));
    assert_eq!(wall.piece("A2-4").factory, sides(&[Left, Bottom, Top]));
    assert_eq!(wall.piece("A2-4").marks, [crosscut(Left, 246)]);
}

#[test]
fn a_third_step_starts_with_two_thirds_a_full_and_a_third_and_repeats_every_three_courses() {
    let wall = Wall::new(1197, (297, 97), 3, 7).pattern(running(1, 3)).with_left_edge_at(-100);
    let first_widths: Vec<Length> =
        (1..=7).map(|course| wall.piece(&format!("A{course}-1")).bounds.width()).collect();
    let third = [mm(197), mm(297), mm(97)];
    assert_eq!(first_widths, [third[0], third[1], third[2], third[0], third[1], third[2], third[0]]);
}

#[test]
fn a_mirrored_step_starts_with_two_thirds_a_third_and_a_full() {
    let mut wall = Wall::new(1197, (297, 97), 3, 4).pattern(running(1, 3)).with_left_edge_at(-100);
    wall.layout.mirror.insert(wall.surface().id.clone(), true);
    let first_widths: Vec<Length> =
        (1..=4).map(|course| wall.piece(&format!("A{course}-1")).bounds.width()).collect();
    assert_eq!(first_widths, [mm(197), mm(97), mm(297), mm(197)]);
}

#[test]
fn thirds_of_a_pitch_that_three_does_not_divide_never_drift() {
    let mut wall = Wall::new(1000, (297, 97), 3, 300).pattern(running(1, 3)).with_left_edge_at(0);
    wall.job.joint = mm(3) + Length::from_units(1);
    let slots: Vec<Length> = wall.place().pieces.iter().map(|piece| piece.cell.left).collect();
    let pitch = mm(300) + Length::from_units(1);
    let lefts: std::collections::BTreeSet<Length> =
        slots.into_iter().map(|left| left.modulo(pitch)).collect();
    assert_eq!(lefts.len(), 3, "the same three places in 300 courses");
}

#[test]
fn a_joint_of_an_odd_number_of_units_is_split_the_same_way_everywhere() {
    let mut wall = Wall::new(1000, (300, 200), 2, 1);
    let unit = Length::from_units(1);
    wall.job.joint = mm(2) + unit;
    wall.layout.starts.insert(wall.surface().id.clone(), mm(500));
    let pieces = wall.pieces();
    let right_of_joint = pieces.iter().find(|piece| piece.cell.left > mm(500)).unwrap();
    let left_of_joint = pieces.iter().rev().find(|piece| piece.cell.right < mm(500)).unwrap();
    assert_eq!(right_of_joint.cell.left, mm(501) + unit);
    assert_eq!(left_of_joint.cell.right, mm(499));
}

#[test]
fn a_valve_in_the_middle_of_a_tile_is_drilled_from_two_factory_sides() {
    let wall = Wall::new(600, (600, 300), 3, 1)
        .opening(circle(300, 100, 38), 3, OpeningEdge::Plate)
        .with_left_edge_at(0);
    let tile = wall.piece("A1-1");
    assert!(!tile.full, "a drilled tile stands in the saw's queue");
    assert_eq!(tile.outline, rect(0, 0, 600, 300).corners());
    assert_eq!(tile.holes, [Hole::Round { centre: at(300, 100), diameter: mm(44) }]);
    let mark = Mark::Hole { from: (Left, Bottom), x: mm(300), y: mm(100), diameter: mm(44) };
    assert_eq!(tile.marks, [mark]);
    assert_eq!(tile.factory, Sides::ALL, "as long and as high as the tile");
    assert_eq!(tile.sliver, None);
}

#[test]
fn a_valve_near_the_edge_leaves_a_thin_web() {
    let valve = |y: i64| {
        let shape = circle(300, y, 40);
        Wall::new(600, (600, 300), 3, 1)
            .opening(shape, 0, OpeningEdge::Plate)
            .with_left_edge_at(0)
            .piece("A1-1")
    };
    assert_eq!(valve(44).sliver, Some(Sliver::Web(mm(24))));
    assert_eq!(valve(45).sliver, None);
}

#[test]
fn a_valve_across_a_joint_bites_two_tiles() {
    let wall = Wall::new(1203, (600, 300), 3, 1)
        .opening(circle(600, 150, 40), 0, OpeningEdge::Plate)
        .with_left_edge_at(0);
    let (left, right) = (wall.piece("A1-1"), wall.piece("A1-2"));
    assert!(left.holes.is_empty() && right.holes.is_empty());
    let hole =
        |x: i64, from: Side| Mark::Hole { from: (from, Bottom), x: mm(x), y: mm(150), diameter: mm(40) };
    assert_eq!(left.marks, [hole(0, Right)]);
    assert_eq!(right.marks, [hole(603, Right)], "the centre lies 3 mm beyond the left edge");
    assert!(left.factory.has(Right) && right.factory.has(Left), "the joint goes on above and below");
}

#[test]
fn a_niche_notches_four_tiles() {
    let wall = Wall::new(1203, (600, 300), 3, 2)
        .opening(rectangle(500, 200, 203, 203), 0, OpeningEdge::Trim)
        .with_left_edge_at(0);
    let notch =
        |from: (Side, Side)| Mark::Notch { from, x: mm(0), y: mm(0), width: mm(100), height: mm(100) };
    assert_eq!(wall.piece("A1-1").marks, [notch((Right, Top))]);
    assert_eq!(wall.piece("A1-2").marks, [notch((Left, Top))]);
    assert_eq!(wall.piece("A2-1").marks, [notch((Right, Bottom))]);
    assert_eq!(wall.piece("A2-2").marks, [notch((Left, Bottom))]);
    let notched = [(0, 0), (600, 0), (600, 200), (500, 200), (500, 300), (0, 300)];
    assert_eq!(wall.piece("A1-1").outline, polygon_of(&notched));
    assert_eq!(wall.piece("A1-1").sliver, None);
    assert_eq!(wall.pieces().len(), 4);
}

#[test]
fn a_notch_that_leaves_a_thin_leg_is_a_sliver() {
    let wall = Wall::new(600, (600, 300), 3, 1)
        .opening(rectangle(40, 200, 200, 200), 0, OpeningEdge::Trim)
        .with_left_edge_at(0);
    assert_eq!(wall.piece("A1-1").sliver, Some(Sliver::Leg(mm(40))));
}

#[test]
fn a_window_wider_than_a_tile_parts_it_and_each_part_has_its_own_label() {
    let wall = Wall::new(600, (600, 300), 3, 1)
        .opening(rectangle(-10, 100, 700, 50), 0, OpeningEdge::Trim)
        .with_left_edge_at(0);
    let (lower, upper) = (wall.piece("A1-1"), wall.piece("A1-2"));
    assert_eq!((lower.bounds, upper.bounds), (rect(0, 0, 600, 100), rect(0, 150, 600, 300)));
    assert_eq!((lower.marks, upper.marks), (vec![rip(Bottom, 100)], vec![rip(Top, 150)]));
    assert_eq!(lower.sliver, Some(Sliver::Low(mm(100))));
    assert_eq!(upper.sliver, None, "half a tile is not lower than half a tile");
}

#[test]
fn a_running_bond_shows_a_cut_edge_at_a_bare_edge() {
    let wall = Wall::new(1000, (300, 100), 2, 2)
        .edges(Role::Bare, Role::Corner)
        .pattern(running(1, 2))
        .with_left_edge_at(0);
    assert_eq!(wall.piece("A1-1").shows, Sides::NONE);
    let part = wall.piece("A2-1");
    assert_eq!(part.shows, sides(&[Left]));
    assert_eq!(part.factory, sides(&[Right, Bottom, Top]), "the joint side keeps the factory edge");
    assert_eq!(part.marks, [crosscut(Right, 149)]);
}

#[test]
fn a_pier_narrower_than_a_tile_turns_its_factory_edge_to_the_bare_side() {
    let wall = Wall::new(200, (600, 300), 3, 1).edges(Role::Corner, Role::Bare).with_left_edge_at(-100);
    let piece = wall.piece("A1-1");
    assert_eq!(piece.bounds, rect(0, 0, 200, 300));
    assert_eq!(piece.factory, sides(&[Right, Bottom, Top]));
    assert_eq!(piece.shows, Sides::NONE);
    assert_eq!(piece.marks, [crosscut(Right, 200)]);
}

#[test]
fn a_wall_narrower_than_a_tile_takes_one_cut_and_no_sides() {
    let wall = Wall::new(200, (600, 300), 3, 1).with_left_edge_at(-100);
    let piece = wall.piece("A1-1");
    assert_eq!(piece.factory, sides(&[Bottom, Top]), "as high as the tile");
    assert_eq!(piece.marks, [crosscut(Left, 200)]);
}

#[test]
fn a_metric_module_of_597_and_3_gives_600() {
    let wall = Wall::new(2403, (597, 297), 3, 2).with_left_edge_at(3);
    let lefts: Vec<Length> =
        wall.place().pieces.iter().filter(|p| p.course == 1 && p.full).map(|p| p.bounds.left).collect();
    assert_eq!(lefts, [mm(3), mm(603), mm(1203), mm(1803)]);
}

#[test]
fn a_strip_one_joint_wide_at_the_corner_is_joint() {
    let wall = |width: i64| Wall::new(width, (300, 200), 3, 1).with_left_edge_at(0);
    let placed = wall(306).place();
    assert_eq!(placed.pieces.len(), 1);
    assert_eq!(placed.crumbs.len(), 1);
    assert_eq!((placed.crumbs[0].bounds, placed.crumbs[0].why), (rect(303, 0, 306, 200), NoPiece::Joint));
    assert_eq!(wall(307).pieces().len(), 2, "four millimetres are a piece, if a silly one");
}

#[test]
fn a_part_under_a_millimetre_is_listed_and_no_piece() {
    let mut wall = Wall::new(601, (300, 200), 0, 1).with_left_edge_at(0);
    wall.surface_mut().width = mm(600) + Length::from_units(MM / 2);
    let placed = wall.place();
    assert_eq!(placed.pieces.len(), 2);
    assert_eq!(placed.crumbs.iter().map(|crumb| crumb.why).collect::<Vec<_>>(), [NoPiece::TooSmall]);
    assert_eq!(wall.faults(&placed.pieces), []);
}

#[test]
fn a_wall_whose_base_falls_6_mm_is_scribed_with_a_tapered_rip() {
    let mut wall = Wall::new(600, (600, 300), 3, 1).with_left_edge_at(0);
    wall.lines.foot = (mm(20), mm(14));
    let piece = wall.piece("A1-1");
    assert_eq!(piece.outline, polygon_of(&[(0, 20), (600, 14), (600, 300), (0, 300)]));
    assert_eq!(piece.marks, [Mark::Rip { from: Top, at: mm(280), at_other_end: mm(286) }]);
    assert_eq!(piece.factory, sides(&[Left, Right]), "nothing lies beyond the top but the ceiling");
}

#[test]
fn a_scribed_tile_at_the_corner_is_cut_square_first() {
    let mut wall = Wall::new(903, (600, 300), 3, 2).with_left_edge_at(0);
    wall.lines.foot = (mm(30), mm(0));
    let piece = wall.piece("A1-2");
    assert_eq!(piece.bounds.right, mm(903));
    assert_eq!(piece.factory, sides(&[Left, Top]));
    let ends = (mm(300) - piece.outline[0].y, mm(300));
    assert_eq!(piece.marks, [crosscut(Left, 300), Mark::Rip { from: Top, at: ends.0, at_other_end: ends.1 }]);
}

#[test]
fn a_tub_end_notches_the_tile_over_it() {
    let mut wall = Wall::new(600, (600, 300), 3, 1).with_left_edge_at(0);
    wall.lines.step = Some((mm(400), mm(120)));
    let piece = wall.piece("A1-1");
    let notched = [(0, 0), (400, 0), (400, 120), (600, 120), (600, 300), (0, 300)];
    assert_eq!(piece.outline, polygon_of(&notched));
    assert_eq!(
        piece.marks,
        [Mark::Notch { from: (Right, Bottom), x: mm(0), y: mm(0), width: mm(200), height: mm(120) }]
    );
}

#[test]
fn what_the_neighbour_covers_does_not_count_for_a_sliver() {
    let mut wall = Wall::new(160, (300, 200), 3, 1).with_left_edge_at(0);
    assert_eq!(wall.piece("A1-1").sliver, None);
    wall.surface_mut().covered.right = mm(12);
    assert_eq!(wall.piece("A1-1").sliver, Some(Sliver::Narrow(mm(148))));
}

#[test]
fn a_strip_is_counted_apart_and_starts_where_it_is_told() {
    let mut wall = Wall::new(600, (300, 200), 3, 2).pattern(running(1, 2)).with_left_edge_at(0);
    let strip = TileId("strip".to_owned());
    let tile = wall.job.tiles[&TileId("wall".to_owned())].clone();
    wall.job.tiles.insert(strip.clone(), Tile { width: mm(200), height: mm(20), ..tile });
    let field = wall.surface().bands[0].clone();
    let band = Band {
        tile: strip.clone(),
        height: BandHeight::Courses(1),
        bottom_between: Some((mm(200), mm(210))),
        ..field.clone()
    };
    let lower = Band { height: BandHeight::Courses(1), ..field.clone() };
    wall.surface_mut().bands = vec![lower, band, field];
    let second = &mut wall.courses[1];
    (second.band, second.bottom, second.top) = (2, mm(226), mm(426));
    let between = Course { number: 1, band: 1, tile: strip, strip: true, bottom: mm(203), top: mm(223) };
    wall.courses.insert(1, between);
    wall.lines.head = (mm(426), mm(426));
    let labels: Vec<String> = wall.pieces().into_iter().map(|piece| piece.id.0).collect();
    assert_eq!(labels, ["A1-1", "A1-2", "A1s-1", "A1s-2", "A1s-3", "A2-1", "A2-2", "A2-3"]);
    assert_eq!(wall.piece("A1s-1").cell.left, mm(0));
    wall.layout.band_starts.insert((wall.surface().id.clone(), 1), mm(50) - mm(3) + mm(3).half());
    assert_eq!(wall.piece("A1s-2").bounds, rect(50, 203, 250, 223));
    assert_eq!(wall.piece("A1s-1").sliver, Some(Sliver::Narrow(mm(47))), "less than half of its own tile");
    assert_eq!(wall.piece("A2-1").bounds.width(), (mm(303).half() - mm(3)), "the strip restarts nothing");
}

#[test]
fn upright_tiles_stand_on_their_short_side() {
    let mut wall = Wall::new(203, (300, 100), 3, 1).with_left_edge_at(0);
    wall.surface_mut().bands[0].upright = true;
    wall.courses[0].top = mm(300);
    wall.lines.head = (mm(300), mm(300));
    let pieces = wall.pieces();
    assert!(pieces.iter().all(|piece| piece.full));
    assert_eq!(pieces[1].outline, rect(103, 0, 203, 300).corners());
}

#[test]
fn labels_of_surfaces_that_end_in_a_digit_stay_apart() {
    let mut wall = Wall::new(600, (300, 200), 3, 1).with_left_edge_at(0);
    let id = SurfaceId::new("A1").unwrap();
    wall.layout.starts.insert(id.clone(), Length::ZERO);
    wall.surface_mut().id = id;
    assert_eq!(wall.place().pieces[0].id.0, "A1.1-1");
}

#[test]
fn a_hole_with_a_bare_edge_shows_its_cut() {
    let wall = Wall::new(600, (600, 300), 3, 1)
        .opening(circle(300, 100, 38), 0, OpeningEdge::Bare)
        .with_left_edge_at(0);
    assert_eq!(wall.piece("A1-1").shows, Sides::ALL);
}

#[test]
fn a_bare_opening_resting_on_the_top_course_wants_its_factory_edge() {
    let wall = Wall::new(600, (600, 300), 3, 1)
        .opening(rectangle(100, 300, 200, 100), 0, OpeningEdge::Bare)
        .with_left_edge_at(-300);
    assert_eq!(wall.piece("A1-1").factory, sides(&[Right, Bottom, Top]));
}

#[test]
fn a_circle_that_only_its_polygon_reaches_leaves_the_tile_whole() {
    // 3, 4, 5: the circle just touches the corner, and the polygon's corner stands over it.
    let mut wall = Wall::new(600, (600, 300), 3, 1)
        .opening(circle(630, 340, 100), 0, OpeningEdge::Plate)
        .with_left_edge_at(0);
    wall.lines.head = (mm(400), mm(400));
    assert!(wall.piece("A1-1").full);
    wall.surface_mut().openings[0].clearance = Length::from_units(200);
    let bitten = wall.piece("A1-1");
    assert!(!bitten.full && bitten.marks.len() == 1);
}

#[test]
fn a_basketweave_is_only_data() {
    let units = |x: i64, y: i64, w: i64, h: i64| rect(x, y, x + w, y + h);
    let outlines = vec![units(0, 0, 2, 1), units(0, 1, 2, 1), units(2, 0, 1, 2), units(3, 0, 1, 2)];
    let weave = Arrangement::new([at(2, 2), at(4, 0)], outlines).unwrap();
    let window = rect(-7, -5, 8, 6);
    let tiles = weave.over(&window);
    let covered: i64 = tiles
        .iter()
        .map(|(_, tile)| tile.shared(&window))
        .map(|part| part.width().units() / MM * (part.height().units() / MM))
        .sum();
    assert_eq!(covered, 15 * 11, "no place is left out or covered twice");
    for (number, (_, tile)) in tiles.iter().enumerate() {
        assert!(tiles[number + 1..].iter().all(|(_, other)| !tile.overlaps(other)));
    }
    assert!(Arrangement::new([at(2, 2), at(4, 4)], vec![units(0, 0, 1, 1)]).is_none());
}

/// A wall of every kind of piece, and what the check must say when one of them is wrong.
#[test]
fn the_check_finds_each_kind_of_fault() {
    let wall = Wall::new(1000, (300, 200), 3, 3)
        .edges(Role::Bare, Role::Corner)
        .pattern(running(1, 2))
        .opening(rectangle(420, 150, 150, 120), 2, OpeningEdge::Trim)
        .opening(circle(750, 500, 40), 0, OpeningEdge::Plate)
        .with_left_edge_at(0);
    let sound = wall.pieces();
    let index = |label: &str| sound.iter().position(|piece| piece.id.0 == label).unwrap();
    let (whole, end, shown) = (index("A1-1"), index("A1-4"), index("A2-1"));
    let drilled = sound.iter().position(|piece| !piece.holes.is_empty()).unwrap();
    let notched =
        sound.iter().position(|piece| matches!(piece.marks.as_slice(), [Mark::Notch { .. }])).unwrap();
    let spoilt = |change: &dyn Fn(&mut Vec<Piece>)| {
        let mut pieces = sound.clone();
        change(&mut pieces);
        wall.faults(&pieces)
    };
    let id = |number: usize| sound[number].id.clone();
    let slid = |piece: &mut Piece, by: Length| {
        piece.outline.iter_mut().for_each(|corner| corner.x += by);
        piece.bounds = piece.bounds.moved(by, Length::ZERO);
        piece.cell = piece.cell.moved(by, Length::ZERO);
    };

    assert!(spoilt(&|p| p[end].id = id(whole)).contains(&Fault::SameLabel(id(whole))));
    assert!(spoilt(&|p| p[whole].outline.reverse()).contains(&Fault::Outline(id(whole))));
    assert!(spoilt(&|p| slid(&mut p[whole], mm(1))).contains(&Fault::OffPattern(id(whole))));
    assert!(spoilt(&|p| slid(&mut p[end], mm(1))).contains(&Fault::OverEdge(id(end), Right)));
    let removed = spoilt(&|p| drop(p.remove(end)));
    assert!(matches!(removed.as_slice(), [Fault::Uncovered(_)]), "{removed:?}");
    assert!(
        spoilt(&|p| p[drilled].holes.clear()).contains(&Fault::InOpening(id(drilled), "hole".to_owned()))
    );
    let twice = spoilt(&|p| {
        let mut again = p[whole].clone();
        again.id = PieceId("again".to_owned());
        p.push(again);
    });
    assert_eq!(twice, [Fault::Overlap(id(whole), PieceId("again".to_owned()))]);
    assert!(spoilt(&|p| p[end].factory = Sides::NONE).contains(&Fault::FactoryEdgeNeeded(id(end), Left)));
    assert!(spoilt(&|p| p[end].factory = Sides::ALL).contains(&Fault::NoFactoryEdge(id(end), Right)));
    assert!(spoilt(&|p| p[shown].shows = Sides::NONE).contains(&Fault::CutShows(id(shown), Left)));
    assert!(spoilt(&|p| p[end].shows = sides(&[Right])).contains(&Fault::NothingShows(id(end), Right)));
    assert!(spoilt(&|p| p[whole].full = false).contains(&Fault::Full(id(whole))));
    assert!(spoilt(&|p| p[end].full = true).contains(&Fault::Full(id(end))));
    let marked = |p: &mut Piece| p.marks = vec![crosscut(Left, 40)];
    assert!(matches!(spoilt(&|p| marked(&mut p[end])).as_slice(), [Fault::Marks(..)]));
    assert!(matches!(spoilt(&|p| marked(&mut p[notched])).as_slice(), [Fault::Marks(..)]));
    let mut larger = sound.clone();
    larger[end].cell.right += mm(1);
    assert_eq!(wall.faults(&larger), [Fault::NotOfOneTile(id(end))]);
    let thin = |p: &mut Vec<Piece>| {
        p[end].outline = rect(909, 0, 912, 200).corners();
        p[end].bounds = rect(909, 0, 912, 200);
    };
    assert!(spoilt(&thin).contains(&Fault::TooSmall(id(end))));
}

#[test]
fn courses_set_too_near_leave_a_narrow_joint() {
    let mut wall = Wall::new(600, (600, 300), 3, 2).with_left_edge_at(0);
    wall.courses[1].bottom -= mm(1);
    wall.courses[1].top -= mm(1);
    let pieces = wall.place().pieces;
    assert_eq!(wall.faults(&pieces), [Fault::NarrowJoint(pieces[0].id.clone(), pieces[1].id.clone())]);
    let second = wall.surface().bands[0].clone();
    wall.surface_mut().bands.push(second);
    wall.surface_mut().bands[0].joint_above = Some(mm(2));
    wall.courses[1].band = 1;
    assert_eq!(wall.faults(&wall.place().pieces), [], "the lower band may ask for 2 mm above it");
}
