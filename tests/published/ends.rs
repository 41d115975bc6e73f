//! Ends of a course between two corners.

use trade::measure::Length;
use trade::search::{LayoutOption, plan};

use super::{job, wall};

const fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

/// The first course of a wall of `width`, in the layout proposed for a 300 x 300 tile.
fn course(width: Length, joint: Length, tile: Length) -> LayoutOption {
    let wall = wall("A", width, mm(0), tile * 3 + joint * 2);
    plan(&job((tile, tile), joint, mm(0), vec![wall])).unwrap()
}

/// Whole tiles, and the widths of the cut ones from left to right.
fn ends(option: &LayoutOption) -> (usize, Vec<Length>) {
    let first: Vec<_> = option.pieces.iter().filter(|piece| piece.course == 1).collect();
    let cut = first.iter().filter(|piece| !piece.full).map(|piece| piece.bounds.width()).collect();
    (first.iter().filter(|piece| piece.full).count(), cut)
}

/// Half-tile rule of NAVEDTRA 14044 (US Navy Builder), ch. 7, pp. 7-22 to 7-24: give up one full tile and share
/// what is left between the ends. The wall is that of flooringtech.com.au, unit 4, section 3, lesson 4; the page's
/// own "7 full tiles and 2 border tiles of 115" does not add up to 2630, and this is the corrected pair.
#[test]
fn a_wall_of_2630_takes_seven_whole_tiles_and_two_of_265() {
    assert_eq!(ends(&course(mm(2630), mm(0), mm(300))), (7, vec![mm(265), mm(265)]));
}

/// The same rule on the other wall of the same room.
#[test]
fn a_wall_of_3540_takes_ten_whole_tiles_and_two_of_270() {
    assert_eq!(ends(&course(mm(3540), mm(0), mm(300))), (10, vec![mm(270), mm(270)]));
}

/// flooringtech.com.au as above: 2630 x 3540 mm in 300 mm tile is 9 by 12, 108 tiles, counted by the rounded-up
/// grid. From a corner the ends are 230 and 240 mm wide, so no two share a tile and no plan buys fewer.
#[test]
fn the_room_of_2630_by_3540_is_a_grid_of_108() {
    let wall = wall("A", mm(2630), mm(0), mm(3540));
    let mut job = job((mm(300), mm(300)), mm(0), mm(0), vec![wall]);
    let id = job.surfaces[0].id.clone();
    let mut layout = trade::measure::Layout::default();
    layout.starts.insert(id.clone(), mm(0));
    layout.course_line.insert(id, mm(300));
    job.layout = Some(layout);
    let option = plan(&job).unwrap();
    assert_eq!(option.pieces.len(), 108);
    let counts = option.cutting.values().map(|cutting| (cutting.bought(), cutting.bound()));
    assert_eq!(counts.collect::<Vec<_>>(), [(108, 108)]);
}

/// NAVEDTRA 14044's rule for any wall: after giving up one full tile each end is at least half a tile and less than
/// a whole one.
#[test]
fn on_any_wall_the_ends_are_at_least_half_a_tile() {
    for width in (1000..4000).step_by(37) {
        let option = course(mm(width), mm(0), mm(300));
        let (full, cut) = ends(&option);
        let tiles = width / 300;
        if width % 300 == 0 {
            assert_eq!((full, cut.len()), (usize::try_from(tiles).unwrap(), 0), "{width}");
        } else {
            assert_eq!(full, usize::try_from(tiles - 1).unwrap(), "{width}");
            assert!(cut.iter().all(|end| *end * 2 >= mm(300) && *end < mm(300)), "{width}: {cut:?}");
        }
    }
}

/// Centring rule of tilersforums.com/threads/6815: 5.4 tiles, an odd whole part, centre a joint; the borders are
/// (1 + 0.4) / 2 = 0.70 of a tile.
#[test]
fn five_and_two_fifths_tiles_are_centred_on_a_joint() {
    let option = course(mm(540), mm(0), mm(100));
    assert_eq!(ends(&option), (4, vec![mm(70), mm(70)]));
    assert!(option.pieces.iter().any(|piece| piece.course == 1 && piece.bounds.left == mm(270)));
}

/// The same rule: 4.7 tiles, an even whole part, centre a tile; the borders are (1 + 0.7) / 2 = 0.85.
#[test]
fn four_and_seven_tenths_tiles_are_centred_on_a_tile() {
    let option = course(mm(470), mm(0), mm(100));
    assert_eq!(ends(&option), (3, vec![mm(85), mm(85)]));
    let centre = mm(235);
    let centred = |piece: &&trade::place::Piece| piece.bounds.left + piece.bounds.right == centre * 2;
    assert!(option.pieces.iter().filter(|piece| piece.course == 1).any(|piece| centred(&piece)));
}

/// Metric module of baunetzwissen.de/glossar/f/fliesenmasse-3275703: work size 597 mm and joint 3 mm make a
/// co-ordination size of 600 mm, so ten tiles and nine joints fill 5997 mm with no cut.
#[test]
fn tile_597_and_joint_3_make_a_module_of_600() {
    let option = course(mm(5997), mm(3), mm(597));
    assert_eq!(ends(&option), (10, Vec::new()));
    let lefts: Vec<Length> =
        option.pieces.iter().filter(|piece| piece.course == 1).map(|piece| piece.bounds.left).collect();
    assert!(lefts.windows(2).all(|pair| pair[1] - pair[0] == mm(600)));
}
