//! The plan's file: what the planner answered, in millimetres with up to six decimals.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value, json};

use super::layout;
use crate::advice::Advice;
use crate::course::{Course, Station};
use crate::geometry::{Point, Rect, Side, Sides};
use crate::measure::{Job, Layout, Length, LineId, Surface, TileId};
use crate::offcut::{Axis, Cut, Place, Stock};
use crate::place::{Hole, Mark, Piece, Sliver};
use crate::search::{LayoutOption, Options, Reach, TileCutting};

/// Layouts to choose between, with whether all there are were looked at or only the promising ones.
pub fn write_options(job: &Job, found: &Options) -> Value {
    let mut written = write_plan(job, &found.options);
    written["reach"] = match found.reach {
        Reach::All => "all".into(),
        Reach::Searched => "searched".into(),
    };
    written
}

/// The options as they stand in a plan's file, numbered from 1 in the order given.
pub fn write_plan(job: &Job, options: &[LayoutOption]) -> Value {
    let options: Vec<Value> = (1..).zip(options).map(|(id, option)| layout_option(job, id, option)).collect();
    json!({ "options": options })
}

fn layout_option(job: &Job, id: usize, option: &LayoutOption) -> Value {
    let stock = numbered_stock(option);
    let places = places(&stock);
    let joint = Some(option.layout.joint.unwrap_or(job.joint));
    let tiles: Map<_, _> =
        option.cutting.iter().map(|(id, cutting)| (id.0.clone(), counts(cutting))).collect();
    let figures = &option.figures;
    let mut written = json!({
        "id": id,
        "layout": layout::written(job, &Layout { joint, ..option.layout.clone() }),
        "tiles": tiles,
        "narrowest_cut": figures.narrowest_cut.map(number),
        "cuts": figures.cuts,
        "slivers": figures.slivers,
        "base_gap_largest": number(figures.base_gap_largest),
        "unequal": number(figures.unequal),
        "opening_edges_on_joints": figures.opening_edges_on_joints,
        "warnings": figures.warnings,
        "courses": courses(job, option, |course| !course.strip),
    });
    let strips = courses(job, option, |course| course.strip);
    if !strips.is_empty() {
        written["strips"] = strips.into();
    }
    written["surfaces"] = job.surfaces.iter().map(|surface| surface_of(surface, option, &places)).collect();
    written["stock"] = stock.iter().map(stock_tile).collect();
    written["advice"] = option.advice.iter().map(advice).collect();
    written
}

fn counts(cutting: &TileCutting) -> Value {
    json!({
        "bought": cutting.bought(),
        "bound": cutting.bound(),
        "full": cutting.full,
        "cut": cutting.problem.pieces().len(),
        "in_setting_order": cutting.full + cutting.plan.in_setting_order,
    })
}

/// The courses of every line, each once; they name their line where there is more than one. A strip is apart,
/// since it has the number of the course below it.
fn courses(job: &Job, option: &LayoutOption, wanted: impl Fn(&Course) -> bool) -> Vec<Value> {
    let lines: BTreeSet<&LineId> = job.surfaces.iter().map(|surface| &surface.line).collect();
    let mut found = BTreeSet::new();
    for surface in &job.surfaces {
        let courses = option.courses.walls.get(&surface.id).map(|wall| wall.courses.as_slice());
        for course in courses.unwrap_or_default().iter().filter(|course| wanted(course)) {
            found.insert((&surface.line, course.number, course.bottom, course.top));
        }
    }
    let written = found.into_iter().map(|(line, n, bottom, top)| {
        let mut course = json!({ "n": n, "bottom": number(bottom), "top": number(top) });
        if lines.len() > 1 {
            course["line"] = line.0.as_str().into();
        }
        course
    });
    written.collect()
}

fn surface_of(surface: &Surface, option: &LayoutOption, places: &Places) -> Value {
    let mut written = json!({ "id": surface.id.as_str() });
    if let Some(wall) = option.courses.walls.get(&surface.id).filter(|_| surface.outline.is_none()) {
        let station = |station: &Station| json!({ "x": number(station.x), "gap": number(station.gap) });
        written["first_course"] = layout::first_course_name(wall.first_course).into();
        written["stations"] = wall.stations.iter().map(station).collect();
    }
    let pieces = option.pieces.iter().filter(|piece| piece.surface == surface.id);
    written["pieces"] = pieces.map(|piece| piece_of(piece, places)).collect();
    written
}

fn piece_of(piece: &Piece, places: &Places) -> Value {
    let mut written = json!({
        "id": piece.id.0,
        "tile": piece.tile.0,
        "course": piece.course,
        "full": piece.full,
        "outline": outline(&piece.outline),
        "holes": Value::from_iter(piece.holes.iter().map(hole)),
        "factory": sides(piece.factory),
    });
    if !piece.shows.is_empty() {
        written["shows"] = sides(piece.shows);
    }
    if let Some(why) = piece.sliver {
        written["sliver"] = sliver(why);
    }
    if piece.full {
        return written;
    }
    written["marks"] = piece.marks.iter().map(mark).collect();
    if let Some((stock, place)) = places.get(&(&piece.tile, piece.id.0.as_str())) {
        let (at, turn) = (place.at, place.turn.degrees());
        written["from"] = json!({
            "stock": stock, "x": number(at.left), "y": number(at.bottom),
            "width": number(at.width()), "height": number(at.height()), "turn": turn,
        });
    }
    written
}

/// A tile cut into, with its number over all kinds of tile.
struct Numbered<'a> {
    number: usize,
    tile: &'a TileId,
    cutting: &'a TileCutting,
    stock: &'a Stock,
}

/// Where each cut piece is cut from, by tile and label.
type Places<'a> = BTreeMap<(&'a TileId, &'a str), (usize, &'a Place)>;

fn numbered_stock(option: &LayoutOption) -> Vec<Numbered<'_>> {
    let stock = option
        .cutting
        .iter()
        .flat_map(|(tile, cutting)| cutting.plan.stock.iter().map(move |stock| (tile, cutting, stock)));
    (1..)
        .zip(stock)
        .map(|(number, (tile, cutting, stock))| Numbered { number, tile, cutting, stock })
        .collect()
}

fn places<'a>(stock: &[Numbered<'a>]) -> Places<'a> {
    let all = stock.iter().flat_map(|tile| tile.places().map(move |(label, place)| (tile, label, place)));
    all.map(|(tile, label, place)| ((tile.tile, label), (tile.number, place))).collect()
}

impl<'a> Numbered<'a> {
    /// Every piece on it by its label.
    fn places(&self) -> impl Iterator<Item = (&'a str, &'a Place)> {
        let pieces = self.cutting.problem.pieces();
        self.stock.places.iter().filter_map(|place| Some((pieces.get(place.piece)?.id.as_str(), place)))
    }
}

fn stock_tile(tile: &Numbered) -> Value {
    let labels: Vec<&str> = tile.places().map(|(label, _)| label).collect();
    let cuts: Vec<Value> = tile.stock.cuts.iter().map(|cut| cut_of(tile, cut)).collect();
    json!({ "n": tile.number, "tile": tile.tile.0, "pieces": labels, "cuts": cuts })
}

fn cut_of(tile: &Numbered<'_>, cut: &Cut) -> Value {
    let across = match cut.across {
        Axis::X => "x",
        Axis::Y => "y",
    };
    json!({ "part": rectangle(&cut.part), "across": across, "at": number(tile.stock.mark(cut, tile.cutting.problem.kerf())) })
}

fn mark(mark: &Mark) -> Value {
    let straight = |kind: &str, from: Side, at: Length, at_other_end: Length| json!({ "kind": kind, "from": from.name(), "at": number(at), "at_other_end": number(at_other_end) });
    match mark {
        Mark::Crosscut { from, at, at_other_end } => straight("crosscut", *from, *at, *at_other_end),
        Mark::Rip { from, at, at_other_end } => straight("rip", *from, *at, *at_other_end),
        Mark::Notch { from, x, y, width, height } => json!({
            "kind": "notch", "from": [from.0.name(), from.1.name()], "x": number(*x), "y": number(*y),
            "width": number(*width), "height": number(*height),
        }),
        Mark::Hole { from, x, y, diameter } => json!({
            "kind": "hole", "from": [from.0.name(), from.1.name()], "x": number(*x), "y": number(*y),
            "diameter": number(*diameter),
        }),
    }
}

fn hole(hole: &Hole) -> Value {
    match hole {
        Hole::Round { centre, diameter } => {
            json!({ "x": number(centre.x), "y": number(centre.y), "diameter": number(*diameter) })
        }
        Hole::Polygon(points) => json!({ "outline": outline(points) }),
    }
}

fn sliver(sliver: Sliver) -> Value {
    let (kind, size) = match sliver {
        Sliver::Narrow(size) => ("narrow", size),
        Sliver::Low(size) => ("low", size),
        Sliver::Leg(size) => ("leg", size),
        Sliver::Web(size) => ("web", size),
    };
    json!({ "kind": kind, "size": number(size) })
}

fn advice(advice: &Advice) -> Value {
    json!({ "rule": advice.rule, "source": advice.source, "passes": advice.passes, "says": advice.says.to_string() })
}

fn number(length: Length) -> Value {
    Value::Number(length.to_json_number())
}

fn outline(points: &[Point]) -> Value {
    points.iter().map(|point| json!([number(point.x), number(point.y)])).collect()
}

/// `[x, y, width, height]`.
fn rectangle(rect: &Rect) -> Value {
    json!([number(rect.left), number(rect.bottom), number(rect.width()), number(rect.height())])
}

fn sides(sides: Sides) -> Value {
    sides.iter().map(|side| Value::from(side.name())).collect()
}
