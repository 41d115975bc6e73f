//! A job as its file.

use serde_json::{Map, Value, json};

use super::layout;
use crate::measure::{
    Band, BandHeight, Edges, Fraction, Job, Length, LineId, Opening, OpeningEdge, OpeningShape, Outline,
    OutlineKind, Pattern, Role, Surface, Tile, Unit,
};
use crate::search::Priorities;

/// The job as a file that [`super::read`] reads back as the same job.
///
/// Lengths are numbers of millimetres with up to six decimals. Where the job's unit is the inch, in which a
/// length need not be a decimal, they are texts of millimetres instead (`"603.25 mm"`), so that the unit stays.
pub fn write_job(job: &Job) -> String {
    write_with_priorities(job, &Priorities::default())
}

/// The same with what the lead puts first, named where it is not the usual order.
pub fn write_with_priorities(job: &Job, priorities: &Priorities) -> String {
    let lengths = Lengths { unit: job.unit };
    let mut file = json!({ "coursebook": 1, "name": job.name, "unit": unit_name(job.unit) });
    file["tiles"] = job.tiles.iter().map(|(id, tile)| (id.0.clone(), lengths.tile(tile))).collect();
    file["joint"] = lengths.one(job.joint);
    file["joint_range"] = lengths.two(job.joint_range);
    file["kerf"] = lengths.one(job.kerf);
    file["spare"] = lengths.one(job.spare);
    file["gaps"] = json!({
        "corner": lengths.one(job.gaps.corner),
        "base": lengths.one(job.gaps.base),
        "ceiling": lengths.one(job.gaps.ceiling),
        "trim": lengths.one(job.gaps.trim),
        "mitre": lengths.one(job.gaps.mitre),
        "opening": lengths.one(job.gaps.opening),
    });
    file["base_gap_max"] = lengths.one(job.base_gap_max);
    if let Some(least) = job.smallest_cut {
        file["smallest_cut"] =
            json!({ "width": lengths.one(least.width), "height": lengths.one(least.height) });
    }
    file["thinnest_leg"] = lengths.one(job.thinnest_leg);
    file["thinnest_web"] = lengths.one(job.thinnest_web);
    file["setting_order"] = job.setting_order.iter().map(|id| Value::from(id.as_str())).collect();
    file["start_course"] = job.start_course.into();
    file["surfaces"] = job.surfaces.iter().map(|surface| lengths.surface(surface)).collect();
    if let Some(chosen) = &job.layout {
        file["layout"] = layout::written(job, chosen);
    }
    if *priorities != Priorities::default() {
        file["priorities"] = priorities.in_order().iter().map(|measure| measure.name()).collect();
    }
    // The alternate form is indented.
    format!("{file:#}\n")
}

/// How lengths are written in a job of this unit.
#[derive(Clone, Copy)]
struct Lengths {
    unit: Unit,
}

impl Lengths {
    fn one(self, length: Length) -> Value {
        match self.unit {
            Unit::Millimetre => Value::Number(length.to_json_number()),
            Unit::Inch => Value::String(length.exact()),
        }
    }

    fn two(self, (from, to): (Length, Length)) -> Value {
        json!([self.one(from), self.one(to)])
    }

    fn tile(self, tile: &Tile) -> Value {
        let mut object = json!({ "width": self.one(tile.width), "height": self.one(tile.height) });
        let known = [
            ("thickness", tile.thickness.map(|length| self.one(length))),
            ("rectified", tile.rectified.map(Value::from)),
            ("directional", Some(tile.directional.into())),
            ("quarter_turn", Some(tile.quarter_turn.into())),
            ("size_variation", tile.size_variation.map(|length| self.one(length))),
            ("warpage", tile.warpage.map(|length| self.one(length))),
            ("per_box", tile.per_box.map(Value::from)),
        ];
        put(&mut object, known);
        object
    }

    fn surface(self, surface: &Surface) -> Value {
        if let Some(outline) = &surface.outline {
            return self.outlined(surface, outline);
        }
        let base = surface.base.iter().map(|reading| {
            let mut object = json!({ "x": self.one(reading.x), "drop": self.one(reading.drop) });
            put(&mut object, [("carries", (!reading.carries).then_some(Value::Bool(false)))]);
            object
        });
        let top = surface
            .top
            .iter()
            .map(|reading| json!({ "x": self.one(reading.x), "rise": self.one(reading.rise) }));
        let mut object = json!({
            "id": surface.id.as_str(),
            "name": surface.name,
            "kind": "wall",
            "width": self.one(surface.width),
            "base": Value::from_iter(base),
            "top": Value::from_iter(top),
            "edges": edges(surface.edges),
            "covered": { "left": self.one(surface.covered.left), "right": self.one(surface.covered.right) },
            "openings": Value::from_iter(surface.openings.iter().map(|opening| self.opening(opening))),
            "bands": Value::from_iter(surface.bands.iter().map(|band| self.band(band))),
            "pattern": pattern(&surface.pattern),
            "top_may_move": self.one(surface.top_may_move),
        });
        let line = &surface.line.0;
        put(&mut object, [("line", (!line.is_empty()).then(|| line.as_str().into()))]);
        object
    }

    fn outlined(self, surface: &Surface, outline: &Outline) -> Value {
        let kind = match outline.kind() {
            OutlineKind::Floor => "floor",
            OutlineKind::Wall => "wall",
        };
        let points = outline.corners();
        let points = points.iter().map(|point| json!([self.one(point.x), self.one(point.y)]));
        let mut object = json!({
            "id": surface.id.as_str(),
            "name": surface.name,
            "kind": kind,
            "outline": Value::from_iter(points),
            "edge_roles": Value::from_iter(outline.sides().iter().map(|side| role(side.role))),
            "openings": Value::from_iter(surface.openings.iter().map(|opening| self.opening(opening))),
            "bands": Value::from_iter(surface.bands.iter().map(|band| self.band(band))),
            "pattern": pattern(&surface.pattern),
        });
        let line = &surface.line;
        put(&mut object, [("line", (*line != LineId::of(&surface.id)).then(|| line.0.as_str().into()))]);
        object
    }

    fn opening(self, opening: &Opening) -> Value {
        let mut object = match opening.shape {
            OpeningShape::Rectangle { x, y, width, height } => json!({
                "kind": "rectangle", "x": self.one(x), "y": self.one(y),
                "width": self.one(width), "height": self.one(height),
            }),
            OpeningShape::Circle { x, y, diameter } => json!({
                "kind": "circle", "x": self.one(x), "y": self.one(y), "diameter": self.one(diameter),
            }),
        };
        object["name"] = opening.name.as_str().into();
        object["clearance"] = self.one(opening.clearance);
        object["edge"] = opening_edge(opening.edge).into();
        object
    }

    fn band(self, band: &Band) -> Value {
        let courses = match band.height {
            BandHeight::Fill => Value::from("fill"),
            BandHeight::Courses(courses) => courses.into(),
        };
        let mut object = json!({ "tile": band.tile.0, "upright": band.upright, "courses": courses });
        let known = [
            ("bottom_between", band.bottom_between.map(|range| self.two(range))),
            ("joint_above", band.joint_above.map(|joint| self.one(joint))),
            ("pattern", band.pattern.as_ref().map(pattern)),
        ];
        put(&mut object, known);
        object
    }
}

/// Adds the keys that have a value.
fn put<const KEYS: usize>(object: &mut Value, keys: [(&str, Option<Value>); KEYS]) {
    let known = keys.into_iter().filter_map(|(key, value)| Some((key.to_owned(), value?)));
    if let Value::Object(object) = object {
        object.extend(known.collect::<Map<_, _>>());
    }
}

fn edges(edges: Edges) -> Value {
    json!({
        "left": role(edges.left), "right": role(edges.right), "base": role(edges.base), "top": role(edges.top),
    })
}

fn pattern(pattern: &Pattern) -> Value {
    match pattern {
        Pattern::Straight => json!({ "name": "straight" }),
        Pattern::Running { step, mirror } => {
            json!({ "name": "running", "step": fraction(*step), "mirror": mirror })
        }
        Pattern::Cycle { shifts } => {
            let cycle: Value = shifts.iter().copied().map(fraction).collect();
            json!({ "name": "running", "cycle": cycle })
        }
    }
}

fn fraction(fraction: Fraction) -> String {
    match fraction.denominator() {
        1 => fraction.numerator().to_string(),
        denominator => format!("{}/{denominator}", fraction.numerator()),
    }
}

fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Millimetre => "mm",
        Unit::Inch => "in",
    }
}

fn role(role: Role) -> &'static str {
    match role {
        Role::Corner => "corner",
        Role::Base => "base",
        Role::Ceiling => "ceiling",
        Role::Trim => "trim",
        Role::Mitre => "mitre",
        Role::Bare => "bare",
        Role::Hidden => "hidden",
    }
}

fn opening_edge(edge: OpeningEdge) -> &'static str {
    match edge {
        OpeningEdge::Plate => "plate",
        OpeningEdge::Trim => "trim",
        OpeningEdge::Lapped => "lapped",
        OpeningEdge::Mitre => "mitre",
        OpeningEdge::Bare => "bare",
    }
}
