use std::collections::BTreeMap;

use proptest::prelude::*;
use serde_json::{Value, json};

use super::samples::jobs;
use super::*;
use crate::measure::{
    BandHeight, FirstCourse, Fraction, Layout, LeastSize, Length, OpeningEdge, Pattern, Role, SurfaceId,
    TileId, Unit,
};

mod outlines;
mod plans;

/// A wall 910 mm wide with a valve, in tiles of 598 by 298.
fn bath() -> Value {
    json!({
        "coursebook": 1,
        "name": "Alder Court, upstairs bath",
        "unit": "mm",
        "tiles": {
            "wall": {"width": 598, "height": 298, "thickness": 9, "rectified": true, "directional": false,
                     "quarter_turn": false, "size_variation": 0.4, "warpage": 0.5, "per_box": 6}
        },
        "joint": 3, "joint_range": [2, 4], "kerf": 2,
        "gaps": {"base": 3, "corner": 3, "ceiling": 3, "trim": 3, "opening": 3},
        "base_gap_max": 6, "smallest_cut": 100,
        "surfaces": [
            {"id": "A", "name": "left wall", "kind": "wall", "width": 910,
             "base": [{"x": 0, "drop": 1203}, {"x": 910, "drop": 1200}],
             "top": [{"x": 0, "rise": 1000}],
             "edges": {"left": "bare", "right": "corner", "base": "base", "top": "ceiling"},
             "openings": [{"kind": "circle", "name": "valve", "x": 455, "y": -150, "diameter": 38, "edge": "plate"}],
             "bands": [{"tile": "wall", "courses": "fill"}],
             "pattern": {"name": "running", "step": "1/3"}}
        ],
        "layout": {"course_line": -897.5, "starts": {"A": 599.5}}
    })
}

/// The file with only what is required.
fn bare_bones() -> Value {
    json!({
        "unit": "mm", "tiles": {"wall": {"width": 598, "height": 298}}, "joint": 3, "kerf": 2,
        "gaps": {"base": 4},
        "surfaces": [{
            "id": "A", "width": 910, "base": {"drop": 1200}, "top": {"rise": 1000},
            "edges": {"left": "bare", "right": "hidden", "base": "base", "top": "bare"}
        }]
    })
}

fn wall(file: &mut Value) -> &mut Value {
    &mut file["surfaces"][0]
}

fn job(file: &Value) -> Job {
    read(&file.to_string()).unwrap().job
}

fn faults(file: &Value) -> Vec<String> {
    read(&file.to_string()).unwrap_err().iter().map(ToString::to_string).collect()
}

/// The fault that appears when one change is made to the usual file.
fn fault_after(change: impl Fn(&mut Value)) -> String {
    let mut file = bath();
    change(&mut file);
    let faults = faults(&file);
    assert_eq!(faults.len(), 1, "{faults:#?}");
    faults.into_iter().next().unwrap_or_default()
}

fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

fn a() -> SurfaceId {
    SurfaceId::new("A").unwrap()
}

#[test]
fn the_usual_file_says_what_it_says() {
    let read = read(&bath().to_string()).unwrap();
    assert_eq!(read.ignored, Vec::<String>::new());
    let job = read.job;
    assert_eq!((job.name.as_str(), job.unit), ("Alder Court, upstairs bath", Unit::Millimetre));
    let tile = &job.tiles[&TileId("wall".to_owned())];
    assert_eq!((tile.width, tile.height, tile.thickness), (mm(598), mm(298), Some(mm(9))));
    assert_eq!(tile.size_variation, Some(Length::from_units(4 * 7680)));
    assert_eq!((tile.rectified, tile.per_box), (Some(true), Some(6)));
    assert_eq!((job.joint, job.joint_range, job.kerf), (mm(3), (mm(2), mm(4)), mm(2)));
    assert_eq!((job.gaps.corner, job.gaps.mitre, job.base_gap_max), (mm(3), mm(0), mm(6)));
    assert_eq!(job.smallest_cut, Some(LeastSize { width: mm(100), height: mm(100) }));
    let wall = &job.surfaces[0];
    assert_eq!(
        (wall.width, wall.base[1].x, wall.base[0].drop, wall.top[0].rise),
        (mm(910), mm(910), mm(1203), mm(1000))
    );
    assert_eq!((wall.edges.left, wall.edges.top), (Role::Bare, Role::Ceiling));
    assert_eq!((wall.openings[0].clearance, wall.openings[0].edge), (mm(3), OpeningEdge::Plate));
    assert_eq!(wall.pattern, Pattern::Running { step: Fraction::new(1, 3).unwrap(), mirror: false });
    let layout = job.layout.unwrap();
    assert_eq!(layout.course_line, BTreeMap::from([(a(), Length::from_units(-68_928_000))]));
    assert_eq!(layout.starts, BTreeMap::from([(a(), Length::from_units(46_041_600))]));
}

#[test]
fn what_is_absent_has_its_default() {
    let job = job(&bare_bones());
    assert_eq!(job.joint_range, (mm(3), mm(3)));
    assert_eq!(job.base_gap_max, mm(4));
    assert_eq!(
        (job.smallest_cut, job.thinnest_leg, job.thinnest_web, job.spare),
        (None, mm(50), mm(25), mm(0))
    );
    assert_eq!((job.start_course, job.layout, job.setting_order), (1, None, vec![]));
    let tile = &job.tiles[&TileId("wall".to_owned())];
    assert_eq!(
        (tile.thickness, tile.rectified, tile.directional, tile.quarter_turn),
        (None, None, false, false)
    );
    let wall = &job.surfaces[0];
    assert_eq!((wall.name.as_str(), wall.line.0.as_str(), wall.top_may_move), ("A", "", mm(0)));
    assert_eq!((wall.base[0].x, wall.base[0].carries, wall.top[0].x), (mm(0), true, mm(0)));
    assert_eq!(wall.pattern, Pattern::Straight);
    assert_eq!(
        (wall.bands.len(), wall.bands[0].height, wall.bands[0].tile.0.as_str()),
        (1, BandHeight::Fill, "wall")
    );
}

#[test]
fn openings_take_the_gap_and_the_usual_edge() {
    let mut file = bath();
    wall(&mut file)["openings"] = json!([
        {"kind": "circle", "x": 455, "y": -150, "diameter": 38},
        {"kind": "rectangle", "x": 300, "y": 100, "width": 300, "height": 400},
        {"kind": "rectangle", "x": 300, "y": 100, "width": 300, "height": 400, "clearance": -10, "edge": "lapped"}
    ]);
    let openings: Vec<_> = job(&file).surfaces[0].openings.iter().map(|o| (o.clearance, o.edge)).collect();
    assert_eq!(
        openings,
        [(mm(3), OpeningEdge::Plate), (mm(3), OpeningEdge::Trim), (mm(-10), OpeningEdge::Lapped)]
    );
}

#[test]
fn lengths_in_inches_are_read_exactly() {
    let mut file = bare_bones();
    file["unit"] = "in".into();
    file["tiles"]["wall"] = json!({"width": "23 1/2", "height": 11.75});
    file["joint"] = json!(0.125);
    file["kerf"] = "2 mm".into();
    file["gaps"]["base"] = "1/8\"".into();
    wall(&mut file)["width"] = "3' 0\"".into();
    wall(&mut file)["base"] = json!([{"x": 0, "drop": "47 3/8"}]);
    wall(&mut file)["top"] = json!({"rise": 40});
    let job = job(&file);
    let tile = &job.tiles[&TileId("wall".to_owned())];
    assert_eq!(
        (tile.width, tile.height),
        (Length::sixty_fourths(23 * 64 + 32), Length::sixty_fourths(11 * 64 + 48))
    );
    assert_eq!(
        (job.joint, job.kerf, job.gaps.base),
        (Length::sixty_fourths(8), mm(2), Length::sixty_fourths(8))
    );
    assert_eq!(job.surfaces[0].width, Length::sixty_fourths(36 * 64));
}

#[test]
fn bands_strips_and_cycles_are_read() {
    let mut file = bath();
    file["tiles"]["strip"] = json!({"width": 300, "height": 20});
    wall(&mut file)["bands"] = json!([
        {"tile": "wall"},
        {"tile": "strip", "bottom_between": [100, 250], "joint_above": 2, "pattern": {"name": "straight"}},
        {"tile": "wall", "courses": 2, "upright": true},
        {"tile": "wall", "courses": "fill"}
    ]);
    wall(&mut file)["pattern"] = json!({"name": "running", "cycle": ["2/3", "0", 0.25]});
    file["layout"] = json!({"band_starts": {"A": {"1": 20}}, "first_course": {"A": "scribed"}, "mirror": {"A": true}, "joint": 2});
    let job = job(&file);
    let wall = &job.surfaces[0];
    let heights: Vec<_> = wall.bands.iter().map(|band| band.height).collect();
    assert_eq!(heights, [BandHeight::Fill, BandHeight::Courses(1), BandHeight::Courses(2), BandHeight::Fill]);
    assert_eq!(wall.bands[1].bottom_between, Some((mm(100), mm(250))));
    let shifts = [(2, 3), (0, 1), (25, 100)].map(|(n, d)| Fraction::new(n, d).unwrap());
    assert_eq!(wall.pattern, Pattern::Cycle { shifts: shifts.to_vec() });
    let expected = Layout {
        band_starts: BTreeMap::from([((a(), 1), mm(20))]),
        first_course: BTreeMap::from([(a(), FirstCourse::Scribed)]),
        mirror: BTreeMap::from([(a(), true)]),
        joint: Some(mm(2)),
        ..Layout::default()
    };
    assert_eq!(job.layout, Some(expected));
}

#[test]
fn unknown_keys_are_named_by_their_path_and_ignored() {
    let mut file = bath();
    file["colour"] = "white".into();
    file["tiles"]["wall"]["glaze"] = json!({"matt": true});
    wall(&mut file)["base"][1]["read by"] = "R.".into();
    let read = read(&file.to_string()).unwrap();
    assert_eq!(read.job, job(&bath()));
    assert_eq!(read.ignored, ["$.tiles.wall.glaze", "$.surfaces[0].base[1][\"read by\"]", "$.colour"]);
}

#[test]
fn forty_faults_give_forty_lines() {
    let mut file = bath();
    let base: Vec<_> = (0..40).map(|x| json!({"x": x, "drop": "deep"})).collect();
    wall(&mut file)["base"] = base.into();
    let faults = faults(&file);
    assert_eq!(faults.len(), 40);
    assert_eq!(
        faults[39],
        "$.surfaces[0].base[39].drop: found \"deep\"; expected a length in mm, such as 603, or \"60.3 cm\""
    );
}

#[test]
fn faults_of_every_part_are_found_at_once() {
    let file = json!({
        "coursebook": 2, "unit": "cubits", "name": 7,
        "tiles": {"wall": {"width": -598, "height": true}, "floor": {"width": 600, "height": 600, "per_box": 0}},
        "joint": "wide", "joint_range": [4], "spare": -1, "gaps": {"base": "1,234", "bare": 2}, "start_course": 0,
        "surfaces": [
            {"id": "A b", "width": 0, "base": [{"x": 10, "drop": 1200}, {"drop": 1200}, {"x": 5, "drop": "3/0"}],
             "edges": {"left": "wall", "right": "trim", "base": "base"}, "pattern": {"name": "chevron"},
             "bands": [{"tile": "stone", "courses": 0}]},
            "B"
        ],
        "setting_order": ["C"], "layout": {"starts": {"C": 1}, "first_course": {"B": "floating"}}
    });
    let mut paths: Vec<_> =
        read(&file.to_string()).unwrap_err().into_iter().map(|fault| fault.path).collect();
    paths.sort();
    let mut expected = vec![
        "$.coursebook",
        "$.unit",
        "$.name",
        "$.tiles.wall.width",
        "$.tiles.wall.height",
        "$.tiles.floor.per_box",
        "$.joint",
        "$.joint_range",
        "$.kerf",
        "$.spare",
        "$.gaps.base",
        "$.gaps.bare",
        "$.start_course",
        "$.surfaces[0].id",
        "$.surfaces[0].width",
        "$.surfaces[0].base[1].x",
        "$.surfaces[0].base[2].x",
        "$.surfaces[0].base[2].drop",
        "$.surfaces[0].top",
        "$.surfaces[0].edges.left",
        "$.surfaces[0].edges.top",
        "$.surfaces[0].pattern.name",
        "$.surfaces[0].bands[0].tile",
        "$.surfaces[0].bands[0].courses",
        "$.surfaces[1]",
        "$.setting_order[0]",
        "$.layout.starts.C",
        "$.layout.first_course.B",
        "$.layout.first_course.B",
    ];
    expected.sort_unstable();
    assert_eq!(paths, expected);
}

#[test]
fn what_the_lead_puts_first_is_read_and_written_back_and_an_unknown_name_is_refused_in_one_sentence() {
    let mut file = bath();
    assert_eq!(read(&file.to_string()).unwrap().priorities, Priorities::default());
    file["priorities"] = json!(["cuts", "tiles"]);
    let asked = read(&file.to_string()).unwrap();
    assert_eq!(asked.priorities, Priorities::named(["cuts", "tiles"]).unwrap());
    assert_eq!(read(&write_with_priorities(&asked.job, &asked.priorities)), Ok(asked));
    file["priorities"] = json!(["cuts", "speed"]);
    let faults = faults(&file);
    assert_eq!(faults.len(), 1);
    assert!(
        faults[0].starts_with("$.priorities: found")
            && faults[0].contains("\"speed\" is nothing a layout is judged by")
    );
    file["priorities"] = json!("cuts");
    assert!(read(&file.to_string()).is_err());
}

#[test]
fn a_file_that_is_no_json_says_where() {
    let faults = read("{\"unit\": \"mm\",, }").unwrap_err();
    assert_eq!(faults.len(), 1);
    assert!(faults[0].to_string().contains("line 1 column 15"), "{}", faults[0]);
    assert_eq!(read("[]").unwrap_err()[0].to_string(), "$: found []; expected a JSON object");
    assert_eq!(read("{}").unwrap_err().len(), 5);
    assert_eq!(read(&" ".repeat(limits::BYTES + 1)).unwrap_err()[0].found, "4000001 bytes");
    assert!(read(&format!("\u{feff}{}", bath())).is_ok());
}

#[test]
fn a_key_that_stands_twice_is_a_fault() {
    let text = bath().to_string().replace("\"kerf\":2", "\"kerf\":2,\"kerf\":3");
    let faults: Vec<_> = read(&text).unwrap_err().iter().map(ToString::to_string).collect();
    assert_eq!(faults, ["$.kerf: found the key twice; expected it once"]);
    let text = bath().to_string().replace("\"drop\":1200", "\"drop\":1200,\"drop\":1200");
    assert_eq!(read(&text).unwrap_err()[0].path, "$.surfaces[0].base[1].drop");
}

#[test]
fn what_cannot_be_so_is_refused() {
    let says = |fault: String, words: &str| assert_eq!(fault, words);
    says(
        fault_after(|file| wall(file)["bands"][0]["tile"] = "stone".into()),
        "$.surfaces[0].bands[0].tile: found \"stone\"; expected the name of one of the tiles",
    );
    says(
        fault_after(|file| {
            let copy = wall(file).clone();
            file["surfaces"].as_array_mut().unwrap().push(copy);
        }),
        "$.surfaces[1].id: found \"A\"; expected an id that no other surface has",
    );
    says(
        fault_after(|file| wall(file)["width"] = 0.into()),
        "$.surfaces[0].width: found 0; expected a length above 0",
    );
    says(
        fault_after(|file| file["joint_range"] = json!([2, 298])),
        "$.joint_range: found 298 mm; expected a joint narrower than tile wall, 298 mm",
    );
    says(
        fault_after(|file| {
            file["joint"] = 300.into();
            file["joint_range"] = Value::Null;
        }),
        "$.joint: found 300 mm; expected a joint narrower than tile wall, 298 mm",
    );
    says(
        fault_after(|file| file["joint_range"] = json!([4, 5])),
        "$.joint_range: found [4,5]; expected a least and a greatest joint with the joint of 3 mm between",
    );
    says(
        fault_after(|file| wall(file)["openings"][0]["x"] = 929.into()),
        "$.surfaces[0].openings[0]: found an opening outside the surface; expected an opening at least partly on the surface",
    );
    says(
        fault_after(|file| wall(file)["openings"][0]["y"] = (-1222).into()),
        "$.surfaces[0].openings[0]: found an opening outside the surface; expected an opening at least partly on the surface",
    );
    says(
        fault_after(|file| wall(file)["openings"][0]["clearance"] = (-19).into()),
        "$.surfaces[0].openings[0]: found a clearance that closes the opening; expected an opening larger than tile laps over it",
    );
    says(
        fault_after(|file| wall(file)["base"] = json!([{"x": 910, "drop": 1200}, {"x": 0, "drop": 1203}])),
        "$.surfaces[0].base[1].x: found 0 mm; expected no less than the reading before it, 910 mm",
    );
    says(
        fault_after(|file| wall(file)["base"][1]["x"] = 911.into()),
        "$.surfaces[0].base[1].x: found 911 mm; expected from 0 to the wall's width, 910 mm",
    );
    says(
        fault_after(|file| wall(file)["top"] = json!({"rise": -1200})),
        "$.surfaces[0].top: found a top no higher than the base at x = 910 mm; expected a top above the base everywhere",
    );
    says(
        fault_after(|file| wall(file)["bands"][0] = json!({"tile": "wall", "bottom_between": [200, 100]})),
        "$.surfaces[0].bands[0].bottom_between: found [200,100]; expected the least and the greatest y of the strip's lower edge, the lesser first",
    );
    says(
        fault_after(|file| {
            wall(file)["bands"][0] = json!({"tile": "wall", "bottom_between": [1, 2], "courses": 2})
        }),
        "$.surfaces[0].bands[0].courses: found 2; expected 1: a strip is one course",
    );
    says(
        fault_after(|file| {
            wall(file)["bands"] = json!([{"tile": "wall"}, {"tile": "wall", "courses": "fill"}])
        }),
        "$.surfaces[0].bands[1].courses: found a second \"fill\"; expected one \"fill\" below, between or above strips",
    );
    says(
        fault_after(|file| file["gaps"]["corner"] = Value::Null),
        "$.gaps.corner: found nothing; expected a gap, since a surface has one at corner",
    );
    says(
        fault_after(|file| file["gaps"]["opening"] = Value::Null),
        "$.gaps.opening: found nothing; expected a gap, since a surface has one at opening",
    );
    says(
        fault_after(|file| file["base_gap_max"] = 2.into()),
        "$.base_gap_max: found 2; expected no less than the gap at the base, 3 mm",
    );
    says(
        fault_after(|file| wall(file)["covered"] = json!({"left": 900, "right": 10})),
        "$.surfaces[0].covered: found the whole width; expected less than the width in all",
    );
    says(
        fault_after(|file| {
            file["tiles"]["strip"] = json!({"width": 300, "height": 20});
            wall(file)["bands"] = Value::Null;
        }),
        "$.surfaces[0].bands: found nothing; expected which tile, since there is more than one",
    );
    says(
        fault_after(|file| file["layout"]["joint"] = json!(4.5)),
        "$.layout.joint: found 4.5; expected a joint from 2 mm to 4 mm",
    );
    says(
        fault_after(|file| wall(file)["width"] = "1,234".into()),
        "$.surfaces[0].width: found \"1,234\"; expected a length without a comma before three digits",
    );
}

#[test]
fn a_course_line_for_all_needs_one_line() {
    let two_walls = |line: &str| {
        let mut file = bath();
        let mut other = wall(&mut file).clone();
        other["id"] = "B".into();
        other["line"] = line.into();
        file["surfaces"].as_array_mut().unwrap().push(other);
        file
    };
    assert_eq!(job(&two_walls("")).layout.unwrap().course_line.len(), 2);
    let faults = faults(&two_walls("downstairs"));
    assert_eq!(faults.len(), 1);
    assert!(faults[0].starts_with("$.layout.course_line: found -897.5; expected a height for each surface"));
}

#[test]
fn what_is_not_supported_yet_is_said_plainly() {
    let fault = fault_after(|file| wall(file)["left"] = json!([{"y": 1000, "lean": 5}]));
    assert!(fault.ends_with("expected nothing here: leaning corners are not supported yet"), "{fault}");
    for change in [
        |file: &mut Value| wall(file)["soft_joints"] = json!([[[1, 0], [1, 5]]]),
        |file: &mut Value| wall(file)["kind"] = "ceiling".into(),
        |file: &mut Value| wall(file)["round"] = true.into(),
        |file: &mut Value| {
            wall(file)["edges"]["right"] = json!({"role": "corner", "meets": "B", "round": true})
        },
        |file: &mut Value| {
            wall(file)["openings"][0] = json!({"kind": "polygon", "outline": [[0, 0], [1, 0], [1, 1]]})
        },
        |file: &mut Value| wall(file)["pattern"] = json!({"name": "herringbone"}),
        |file: &mut Value| file["joint_sizes"] = json!([2, 3]),
    ] {
        let mut file = bath();
        file["layout"] = Value::Null;
        change(&mut file);
        let faults = faults(&file);
        assert_eq!(faults.len(), 1, "{faults:#?}");
        assert!(faults[0].contains("not supported yet"), "{faults:#?}");
    }
    let mut plain = bath();
    wall(&mut plain)["soft_joints"] = json!([]);
    wall(&mut plain)["round"] = false.into();
    wall(&mut plain)["edges"]["right"] = json!({"role": "corner", "meets": "B"});
    assert_eq!(job(&plain), job(&bath()));
}

#[test]
fn no_file_can_ask_for_more_than_a_wall_of_tiles() {
    let fault = fault_after(|file| {
        file["joint_range"] = Value::Null;
        file["joint"] = 0.into();
        file["tiles"]["wall"] = json!({"width": "0.01 mm", "height": "0.01 mm"});
    });
    assert!(fault.ends_with("at most 100000 tiles on one wall"), "{fault}");
    let many = vec![json!({"x": 0, "rise": 1000}); limits::READINGS + 1];
    let fault = fault_after(|file| wall(file)["top"] = many.clone().into());
    assert!(fault.starts_with("$.surfaces[0].top: found a list of 201"), "{fault}");
    let fault = fault_after(|file| wall(file)["bands"][0]["courses"] = 4_000_000_000_u32.into());
    assert!(fault.starts_with("$.surfaces[0].bands[0].courses: found 4000000000"), "{fault}");
}

#[test]
fn what_stands_in_the_file_is_cut_to_a_line() {
    let fault = fault_after(|file| file["kerf"] = format!("a\n{}", "b".repeat(1000)).into());
    assert_eq!(fault.lines().count(), 1);
    assert!(fault.len() < 200, "{fault}");
}

proptest! {
    #![proptest_config(crate::cases(400))]

    #[test]
    fn a_job_written_and_read_is_the_same_job(job in jobs()) {
        let text = write_job(&job);
        let read = read(&text);
        prop_assert_eq!(read, Ok(Read { job, priorities: Priorities::default(), ignored: Vec::new() }), "{}", text);
    }

    #[test]
    fn a_file_with_one_part_spoilt_is_read_or_named_and_never_harms(
        at in any::<prop::sample::Index>(), by in prop_oneof![
            Just(Value::Null), Just(json!([])), Just(json!({})), Just(json!("x")), Just(json!(-1)), Just(json!(1e300)),
            Just(json!([[]])), Just(json!("fill")), Just(json!(0)), Just(json!(true)), Just(json!(u64::MAX)),
        ],
    ) {
        let mut file = bath();
        let mut paths = Vec::new();
        pointers(&file, String::new(), &mut paths);
        let path = &paths[at.index(paths.len())];
        *file.pointer_mut(path).unwrap() = by;
        match read(&file.to_string()) {
            Ok(spoilt) => prop_assert_eq!(read(&write_job(&spoilt.job)).map(|read| read.job), Ok(spoilt.job)),
            Err(faults) => {
                prop_assert!(!faults.is_empty());
                prop_assert!(faults.iter().all(|fault| fault.to_string().lines().count() == 1));
            }
        }
    }
}

fn pointers(value: &Value, path: String, found: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            map.iter().for_each(|(key, value)| pointers(value, format!("{path}/{key}"), found))
        }
        Value::Array(list) => {
            list.iter().enumerate().for_each(|(i, value)| pointers(value, format!("{path}/{i}"), found))
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
    found.push(path);
}
