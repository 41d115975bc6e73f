//! Surfaces given by an outline.

use super::*;
use crate::measure::{LineId, OutlineKind};
use crate::search;

/// An L-shaped floor beside the wall of [`bath`].
fn with_floor() -> Value {
    let mut file = bath();
    file["surfaces"].as_array_mut().unwrap().push(json!({
        "id": "floor", "kind": "floor",
        "outline": [[-200, 0], [-200, 1800], [900, 1800], [900, 700], [1500, 700], [1500, 0]],
        "edge_roles": ["perimeter", "corner", "corner", "corner", "trim", "bare"],
        "openings": [{"kind": "circle", "name": "drain", "x": 300, "y": 900, "diameter": 110}]
    }));
    file["layout"] = Value::Null;
    file
}

fn floor(file: &mut Value) -> &mut Value {
    &mut file["surfaces"][1]
}

fn floor_faults(change: impl FnOnce(&mut Value)) -> Vec<String> {
    let mut file = with_floor();
    change(floor(&mut file));
    faults(&file)
}

#[test]
fn a_floor_is_read_beside_a_wall() {
    let job = job(&with_floor());
    let floor = &job.surfaces[1];
    let outline = floor.outline.as_ref().unwrap();
    assert_eq!((outline.kind(), floor.name.as_str()), (OutlineKind::Floor, "floor"));
    assert_eq!(floor.line, LineId("floor".to_owned()), "it shares no level line");
    assert_eq!((floor.left(), floor.right(), floor.bounds().top), (mm(-200), mm(1500), mm(1800)));
    let faces = |role: Role| outline.sides().iter().find(|side| side.role == role).unwrap().faces();
    assert_eq!(
        (faces(Role::Trim), faces(Role::Bare)),
        (crate::geometry::Side::Right, crate::geometry::Side::Bottom)
    );
    assert_eq!(floor.edges.left, Role::Corner, "a perimeter is a corner");
}

#[test]
fn the_plan_of_a_floor_says_nothing_of_props_and_put_back_is_the_same() {
    let job = job(&with_floor());
    let option = search::plan(&job).unwrap();
    let written = write_plan(&job, &[option]);
    let planned = &written["options"][0];
    let surfaces = planned["surfaces"].as_array().unwrap();
    assert!(surfaces[0]["first_course"].is_string() && surfaces[0]["stations"].is_array());
    assert_eq!((surfaces[1].get("first_course"), surfaces[1].get("stations")), (None, None));
    assert!(surfaces[1]["pieces"].as_array().unwrap().len() > 10);
    let begun: Vec<&String> = planned["layout"]["first_course"].as_object().unwrap().keys().collect();
    assert_eq!(begun, ["A"]);
    let mut again = with_floor();
    again["layout"] = planned["layout"].clone();
    let again = read(&again.to_string()).unwrap().job;
    let plan = search::plan(&again).unwrap();
    assert_eq!(&write_plan(&again, &[plan])["options"][0], planned);
}

#[test]
fn every_fault_of_an_outline_is_named_where_it_stands() {
    let at = "$.surfaces[1]";
    assert_eq!(
        floor_faults(|floor| floor["outline"] = json!([[0, 0], [900, 0], [900, 900]])),
        [
            format!("{at}.outline: found a list of 3; expected a list of at least 4 points [x, y], in order"),
            format!("{at}.edge_roles: found a list of 6; expected one role a side: 3"),
            format!(
                "{at}.outline[2]: found a slanted side to the next point; expected a level or a plumb side: slanted \
                 ones are not supported yet"
            ),
        ]
    );
    assert_eq!(
        floor_faults(|floor| floor["outline"][2] = json!([-200, 1800])),
        [
            format!("{at}.outline[1]: found the next point again; expected points apart from each other"),
            format!(
                "{at}.outline[2]: found a slanted side to the next point; expected a level or a plumb side: slanted \
                 ones are not supported yet"
            ),
        ]
    );
    assert_eq!(
        floor_faults(|floor| {
            floor["outline"][3] = json!([900, -700]);
            floor["outline"][4] = json!([1500, -700]);
        }),
        [format!(
            "{at}.outline[2]: found a side that meets the one from point 5; expected sides that meet only at the \
             corner between them"
        )]
    );
    assert_eq!(
        floor_faults(|floor| drop(floor["edge_roles"].as_array_mut().unwrap().pop())),
        [format!("{at}.edge_roles: found a list of 5; expected one role a side: 6")]
    );
    assert_eq!(
        floor_faults(|floor| floor["edge_roles"][1] = "wall".into()).len(),
        1,
        "a role that is none is named alone"
    );
    assert_eq!(
        floor_faults(|floor| floor["outline"][1] = json!([1])),
        [format!("{at}.outline[1]: found [1]; expected a point [x, y]")]
    );
    assert_eq!(
        floor_faults(|floor| floor["openings"][0]["x"] = 1300.into()),
        [format!(
            "{at}.openings[0]: found an opening outside the surface; expected an opening at least partly on the surface"
        )]
    );
}

#[test]
fn an_outline_stands_alone() {
    assert_eq!(
        floor_faults(|floor| {
            floor["width"] = 900.into();
            floor["base"] = json!({"drop": 1});
        }),
        [
            "$.surfaces[1].width: found 900; expected nothing beside an outline, which gives the whole shape",
            "$.surfaces[1].base: found {\"drop\":1}; expected nothing beside an outline, which gives the whole shape",
        ]
    );
    assert_eq!(
        floor_faults(|floor| floor["outline"] = Value::Null),
        ["$.surfaces[1].outline: found nothing; expected the outline of the floor"]
    );
    assert_eq!(
        floor_faults(|floor| floor["line"] = "".into()),
        [
            "$.surfaces[1].line: found line \"\" of another surface; expected a line of its own: an outline shares no level line"
        ]
    );
    let fault = floor_faults(|floor| floor["bands"] = json!([{"courses": 2}, {"courses": "fill"}]));
    assert!(fault[0].starts_with("$.surfaces[1].bands: found several bands; expected one band"), "{fault:?}");
    let strip = floor_faults(|floor| floor["bands"] = json!([{"bottom_between": [1, 2]}]));
    assert!(strip[0].starts_with("$.surfaces[1].bands: found a band that does not fill it"), "{strip:?}");
    let mut file = with_floor();
    file["layout"] = json!({"first_course": {"floor": "propped"}});
    assert_eq!(
        faults(&file),
        [
            "$.layout.first_course.floor: found a first course; expected nothing here: a surface given by its outline is neither propped nor scribed"
        ]
    );
    let mut file = bath();
    wall(&mut file)["edge_roles"] = json!(["bare"]);
    assert_eq!(
        faults(&file),
        [
            "$.surfaces[0].edge_roles: found [\"bare\"]; expected nothing here: without an outline the roles stand in \"edges\""
        ]
    );
}
