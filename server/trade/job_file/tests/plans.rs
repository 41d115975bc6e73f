//! What a plan looks like in its file.

use super::*;
use crate::advice::{Advice, Finding};
use crate::course::{self, Course, Station};
use crate::geometry::{Point, Rect, Side, Sides};
use crate::offcut::{Axis, Cut, Demand, Place, Plan, Problem, Proof, Stock, Turn, Wanted};
use crate::place::{Hole, Mark, Piece, PieceId, Sliver};
use crate::search::{Figures, LayoutOption, TileCutting};

fn rect(x: i64, y: i64, width: i64, height: i64) -> Rect {
    Rect { left: mm(x), bottom: mm(y), right: mm(x + width), top: mm(y + height) }
}

fn outline(rect: Rect) -> Vec<Point> {
    let Rect { left, bottom, right, top } = rect;
    vec![Point::new(left, bottom), Point::new(right, bottom), Point::new(right, top), Point::new(left, top)]
}

fn tile() -> TileId {
    TileId("wall".to_owned())
}

fn whole_tile() -> Piece {
    let cell = rect(0, -1197, 598, 298);
    Piece {
        id: PieceId("A1-1".to_owned()),
        surface: a(),
        tile: tile(),
        band: 0,
        course: 1,
        full: true,
        cell,
        bounds: cell,
        outline: outline(cell),
        holes: vec![],
        factory: Sides::ALL,
        shows: Sides::NONE,
        marks: vec![],
        sliver: None,
    }
}

/// The end of the course, with the valve in it.
fn row_end() -> Piece {
    let bounds = rect(601, -1197, 306, 298);
    Piece {
        id: PieceId("A1-2".to_owned()),
        full: false,
        bounds,
        outline: outline(bounds),
        holes: vec![Hole::Round { centre: Point::new(mm(700), mm(-1000)), diameter: mm(44) }],
        factory: [Side::Left, Side::Bottom, Side::Top].into_iter().collect(),
        shows: Sides::NONE.with(Side::Left),
        marks: vec![
            Mark::Crosscut { from: Side::Left, at: mm(306), at_other_end: mm(307) },
            Mark::Hole { from: (Side::Left, Side::Bottom), x: mm(99), y: mm(197), diameter: mm(44) },
            Mark::Notch { from: (Side::Left, Side::Top), x: mm(0), y: mm(0), width: mm(10), height: mm(20) },
        ],
        sliver: Some(Sliver::Web(mm(20))),
        ..whole_tile()
    }
}

fn option() -> LayoutOption {
    let wanted = Wanted {
        id: "A1-2".to_owned(),
        width: mm(306),
        height: mm(298),
        factory: row_end().factory,
        alone: false,
    };
    let place = Place { piece: 0, at: rect(292, 0, 306, 298), turn: Turn::Half };
    let cut = Cut { part: rect(0, 0, 598, 298), across: Axis::X, at: mm(290) };
    let course = |number, strip, bottom, top| Course {
        number,
        band: 0,
        tile: tile(),
        strip,
        bottom: mm(bottom),
        top: mm(top),
    };
    let station = |x, gap| Station { x: mm(x), gap: mm(gap), cut_height: mm(298), carries: true };
    let layout = Layout {
        course_line: BTreeMap::from([(a(), Length::from_units(-68_928_000))]),
        starts: BTreeMap::from([(a(), mm(600))]),
        first_course: BTreeMap::from([(a(), FirstCourse::Propped)]),
        ..Layout::default()
    };
    let mut courses = course::lay(&job(&bath()), &layout).unwrap();
    let wall = courses.walls.get_mut(&a()).unwrap();
    wall.courses = vec![course(1, false, -1197, -899), course(1, true, -896, -876)];
    wall.stations = vec![station(0, 6), station(910, 3)];
    LayoutOption {
        layout,
        courses,
        pieces: vec![whole_tile(), row_end()],
        measured: crate::place::Measured::new(),
        cutting: BTreeMap::from([(
            tile(),
            TileCutting {
                full: 1,
                problem: Problem::new(Demand {
                    tile_width: mm(598),
                    tile_height: mm(298),
                    kerf: mm(2),
                    half_turn: true,
                    quarter_turn: false,
                    pieces: vec![wanted],
                    rack: Vec::new(),
                })
                .unwrap(),
                plan: Plan {
                    stock: vec![Stock { rack: None, begun: None, places: vec![place], cuts: vec![cut] }],
                    proof: Proof::default(),
                    bound: 1,
                    in_setting_order: 2,
                },
                open: None,
            },
        )]),
        figures: Figures {
            bought: 2,
            narrowest_cut: Some(mm(306)),
            cuts: 1,
            slivers: 1,
            unequal: Length::ZERO,
            opening_edges_on_joints: 0,
            base_gap_largest: mm(6),
            warnings: 1,
        },
        advice: vec![Advice {
            rule: "smallest-cut",
            source: "common practice",
            passes: true,
            says: Finding::SmallestCut { pieces: 0, least: None },
        }],
    }
}

#[test]
fn a_plan_has_the_shape_that_readers_rely_on() {
    let written = write_plan(&job(&bath()), &[option()]);
    let surfaces = json!([{
        "id": "A", "first_course": "propped",
        "stations": [{"x": 0, "gap": 6}, {"x": 910, "gap": 3}],
        "pieces": [
            {"id": "A1-1", "tile": "wall", "course": 1, "full": true,
             "outline": [[0, -1197], [598, -1197], [598, -899], [0, -899]], "holes": [],
             "factory": ["left", "right", "bottom", "top"]},
            {"id": "A1-2", "tile": "wall", "course": 1, "full": false,
             "outline": [[601, -1197], [907, -1197], [907, -899], [601, -899]],
             "holes": [{"x": 700, "y": -1000, "diameter": 44}],
             "factory": ["left", "bottom", "top"], "shows": ["left"], "sliver": {"kind": "web", "size": 20},
             "marks": [
                 {"kind": "crosscut", "from": "left", "at": 306, "at_other_end": 307},
                 {"kind": "hole", "from": ["left", "bottom"], "x": 99, "y": 197, "diameter": 44},
                 {"kind": "notch", "from": ["left", "top"], "x": 0, "y": 0, "width": 10, "height": 20}
             ],
             "from": {"stock": 1, "x": 292, "y": 0, "width": 306, "height": 298, "turn": 180}}]
    }]);
    let expected = json!({ "options": [{
        "id": 1,
        "layout": {"course_line": -897.5, "starts": {"A": 600}, "joint": 3, "first_course": {"A": "propped"}, "mirror": {}},
        "tiles": {"wall": {"bought": 2, "bound": 2, "full": 1, "cut": 1, "in_setting_order": 3}},
        "narrowest_cut": 306, "cuts": 1, "slivers": 1, "base_gap_largest": 6,
        "unequal": 0, "opening_edges_on_joints": 0, "warnings": 1,
        "courses": [{"n": 1, "bottom": -1197, "top": -899}],
        "strips": [{"n": 1, "bottom": -896, "top": -876}],
        "surfaces": surfaces,
        "stock": [{"n": 1, "tile": "wall", "pieces": ["A1-2"],
                   "cuts": [{"part": [0, 0, 598, 298], "across": "x", "at": 292}]}],
        "advice": [{"rule": "smallest-cut", "source": "common practice", "passes": true, "says": "no cut is smaller than half a tile"}]
    }]});
    assert_eq!(written, expected);
}

#[test]
fn the_layout_of_an_option_put_back_is_the_same_choice_in_either_unit() {
    for unit in ["mm", "in"] {
        let mut file = bath();
        file["unit"] = unit.into();
        file["layout"] = Value::Null;
        let plan = write_plan(&job(&file), &[option()]);
        file["layout"] = plan["options"][0]["layout"].clone();
        let chosen = job(&file).layout.unwrap();
        assert_eq!(Layout { joint: None, ..chosen.clone() }, option().layout, "{unit}");
        assert_eq!(chosen.joint, Some(job(&file).joint), "{unit}");
    }
}

#[test]
fn stock_is_numbered_over_all_kinds_of_tile() {
    let mut option = option();
    let again = option.cutting[&tile()].clone();
    option.cutting.insert(TileId("accent".to_owned()), again);
    let written = write_plan(&job(&bath()), &[option]);
    let stock = &written["options"][0]["stock"];
    assert_eq!((&stock[0]["n"], &stock[0]["tile"]), (&json!(1), &json!("accent")));
    assert_eq!((&stock[1]["n"], &stock[1]["tile"]), (&json!(2), &json!("wall")));
    assert_eq!(written["options"][0]["surfaces"][0]["pieces"][1]["from"]["stock"], 2);
}

proptest! {
    #[test]
    fn any_layout_put_back_is_the_same_choice(job in jobs()) {
        let Some(layout) = &job.layout else { return Ok(()) };
        let mut file: Value = write_job(&Job { layout: None, ..job.clone() }).parse().unwrap();
        file["layout"] = layout::written(&job, layout);
        let read = read(&file.to_string()).map(|read| read.job);
        prop_assert_eq!(read, Ok(job));
    }
}
