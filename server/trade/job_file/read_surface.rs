//! One surface from its JSON value: a wall given by readings here, an outline in [`super::read_outline`].

use super::limits;
use super::read::Context;
use super::read_outline;
use super::walk::{Keys, Node, Walk, a_length};
use crate::measure::sound::{self, Height, Shape, SurfaceFault};
use crate::measure::{
    Band, BandHeight, BaseReading, Covered, Edges, Fraction, Length, LineId, Opening, OpeningEdge,
    OpeningShape, OutlineKind, Pattern, Role, Surface, SurfaceId, TileId, TopReading,
};

/// What stands in a list, with the path of each for faults found later.
pub(super) type Listed<T> = Vec<(T, String)>;

/// What every surface has, as far as it could be read.
pub(super) struct Head<'a> {
    pub(super) node: &'a Node<'a>,
    pub(super) kind: OutlineKind,
    pub(super) id: Option<SurfaceId>,
    pub(super) name: Option<Option<String>>,
    pub(super) line: Option<Option<LineId>>,
}

/// Readings of one list; a coordinate may be readable where its height is not.
struct Readings<R> {
    /// Where they lie, as far as that could be read.
    at: Listed<Length>,
    /// Every reading, where all could be read.
    all: Option<Vec<R>>,
}

pub(super) fn surface(walk: &mut Walk, node: &Node, context: &mut Context) -> Option<Surface> {
    let mut object = walk.keys(node, "an object that describes a surface")?;
    let keys = &mut object;
    let id = walk.required(keys, "id", ID, |walk, node| new_id(walk, node, context));
    let name = walk.optional(keys, "name", |walk, node| walk.text(node).map(str::to_owned));
    let line = walk.optional(keys, "line", |walk, node| walk.text(node).map(|line| LineId(line.to_owned())));
    let kind = walk.or(keys, "kind", OutlineKind::Wall, kind);
    walk.unsupported(keys, "soft_joints", "soft joints are");
    walk.unsupported(keys, "left", "leaning corners are");
    walk.unsupported(keys, "right", "leaning corners are");
    walk.unsupported(keys, "round", "patterns that run round corners are");
    let Some(kind) = kind else {
        // What a wall must have is not asked of anything else.
        keys.leave(WHAT_A_SURFACE_HAS);
        walk.close(object);
        return None;
    };
    if let Some(outline) = keys.get("outline") {
        let read = read_outline::surface(walk, keys, Head { node, kind, id, name, line }, &outline, context);
        walk.close(object);
        return read;
    }
    if kind == OutlineKind::Floor {
        walk.note::<()>(&format!("{}.outline", node.path), "nothing", "the outline of the floor");
        keys.leave(WHAT_A_SURFACE_HAS);
        walk.close(object);
        return None;
    }
    if let Some(roles) = keys.get("edge_roles") {
        walk.refuse::<()>(&roles, "nothing here: without an outline the roles stand in \"edges\"");
    }
    let width = walk.required(keys, "width", "the width at the line", Walk::size);
    let base = walk.required(keys, "base", BASE, base_readings);
    let top = walk.required(keys, "top", TOP, top_readings);
    let edges = walk.required(keys, "edges", EDGES, |walk, node| edges(walk, node, context));
    let covered = walk.or(keys, "covered", Covered::default(), covered);
    let openings = walk.or(keys, "openings", Vec::new(), |walk, node| openings(walk, node, context));
    let bands = match keys.get("bands") {
        Some(node) => bands(walk, &node, context),
        None => one_fill(walk, node, context),
    };
    let pattern = walk.or(keys, "pattern", Pattern::Straight, pattern);
    let top_may_move = walk.or(keys, "top_may_move", Length::ZERO, Walk::gap);
    walk.close(object);

    let openings = openings.unwrap_or_default();
    let measured = Measured { path: &node.path, width, covered, base: &base, top: &top, openings: &openings };
    measured.note_faults(walk);
    let surface = Surface {
        name: name?.unwrap_or_else(|| id.as_ref().map(ToString::to_string).unwrap_or_default()),
        id: id?,
        line: line?.unwrap_or_default(),
        outline: None,
        width: width?,
        base: base?.all?,
        top: top?.all?,
        edges: edges?,
        covered: covered?,
        openings: openings.into_iter().map(|(opening, _)| opening).collect(),
        bands: bands?,
        pattern: pattern?,
        top_may_move: top_may_move?,
    };
    not_too_many_tiles(walk, node, &surface, context)?;
    Some(surface)
}

const WHAT_A_SURFACE_HAS: [&str; 10] = [
    "width",
    "base",
    "top",
    "edges",
    "edge_roles",
    "covered",
    "openings",
    "bands",
    "pattern",
    "top_may_move",
];
const ID: &str = "an id of 1 to 24 letters, digits, - or _";
const BASE: &str = "readings down to the base, such as [{\"x\": 0, \"drop\": 1200}]";
const TOP: &str = "readings up to the top, such as {\"rise\": 1000}";
const EDGES: &str = "the roles of the edges left, right, base and top";
const A_ROLE: &str = "the role of this edge";

fn kind(walk: &mut Walk, node: &Node) -> Option<OutlineKind> {
    match node.value.as_str() {
        Some("wall") => Some(OutlineKind::Wall),
        Some("floor") => Some(OutlineKind::Floor),
        _ => walk.refuse(node, "\"wall\" or \"floor\": ceilings are not supported yet"),
    }
}

fn new_id(walk: &mut Walk, node: &Node, context: &mut Context) -> Option<SurfaceId> {
    match node.value.as_str().and_then(SurfaceId::new) {
        None => walk.refuse(node, ID),
        Some(id) if context.surfaces.contains(&id) => walk.refuse(node, "an id that no other surface has"),
        Some(id) => {
            context.surfaces.insert(id.clone());
            Some(id)
        }
    }
}

fn base_readings(walk: &mut Walk, node: &Node) -> Option<Readings<BaseReading>> {
    readings(walk, node, BASE, |walk, node, alone| {
        let mut keys = walk.keys(node, BASE)?;
        let x = reading_x(walk, &mut keys, alone);
        let drop = walk.required(&mut keys, "drop", &a_length(walk.unit), Walk::length);
        let carries = walk.or(&mut keys, "carries", true, Walk::truth);
        walk.close(keys);
        Some((x, drop.zip(carries).and_then(|(drop, carries)| Some(BaseReading { x: x?, drop, carries }))))
    })
}

fn top_readings(walk: &mut Walk, node: &Node) -> Option<Readings<TopReading>> {
    readings(walk, node, TOP, |walk, node, alone| {
        let mut keys = walk.keys(node, TOP)?;
        let x = reading_x(walk, &mut keys, alone);
        let rise = walk.required(&mut keys, "rise", &a_length(walk.unit), Walk::length);
        walk.close(keys);
        Some((x, rise.and_then(|rise| Some(TopReading { x: x?, rise }))))
    })
}

/// A list of readings, or one alone, which need not say where it lies.
fn readings<R>(
    walk: &mut Walk,
    node: &Node,
    what: &str,
    read: impl Fn(&mut Walk, &Node, Alone) -> Option<(Option<Length>, Option<R>)>,
) -> Option<Readings<R>> {
    let nodes =
        if node.value.is_object() { vec![node.clone()] } else { walk.list(node, limits::READINGS, what)? };
    let alone = if nodes.len() == 1 { Alone::Yes } else { Alone::No };
    let mut at = Vec::new();
    let mut all = Some(Vec::new());
    for node in nodes {
        let (x, reading) = read(walk, &node, alone).unwrap_or((None, None));
        at.extend(x.map(|x| (x, node.path)));
        all = all.zip(reading).map(|(mut all, reading)| {
            all.push(reading);
            all
        });
    }
    Some(Readings { at, all })
}

/// Whether a reading is the only one of its list.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Alone {
    Yes,
    No,
}

fn reading_x(walk: &mut Walk, keys: &mut Keys, alone: Alone) -> Option<Length> {
    match alone {
        Alone::Yes => walk.or(keys, "x", Length::ZERO, Walk::length),
        Alone::No => walk.required(keys, "x", "the distance from the wall's left end", Walk::length),
    }
}

fn edges(walk: &mut Walk, node: &Node, context: &mut Context) -> Option<Edges> {
    let mut object = walk.keys(node, EDGES)?;
    let mut side = |key| walk.required(&mut object, key, A_ROLE, role);
    let (left, right, base, top) = (side("left"), side("right"), side("base"), side("top"));
    walk.close(object);
    context.roles.extend([left, right, base, top].into_iter().flatten());
    Some(Edges { left: left?, right: right?, base: base?, top: top? })
}

/// A role, or an object with the role and what the edge meets, which only matters where a pattern runs round.
pub(super) fn role(walk: &mut Walk, node: &Node) -> Option<Role> {
    if !node.value.is_object() {
        return walk.word(
            node,
            &[
                ("corner", Role::Corner),
                ("perimeter", Role::Corner),
                ("base", Role::Base),
                ("ceiling", Role::Ceiling),
                ("trim", Role::Trim),
                ("mitre", Role::Mitre),
                ("bare", Role::Bare),
                ("hidden", Role::Hidden),
            ],
        );
    }
    let mut object = walk.keys(node, A_ROLE)?;
    let read = walk.required(&mut object, "role", A_ROLE, role);
    walk.optional(&mut object, "meets", |walk, node| walk.text(node).map(|_| ()));
    walk.unsupported(&mut object, "round", "patterns that run round corners are");
    walk.close(object);
    read
}

fn covered(walk: &mut Walk, node: &Node) -> Option<Covered> {
    let mut object = walk.keys(node, "what neighbours hide at left and right")?;
    let left = walk.or(&mut object, "left", Length::ZERO, Walk::gap);
    let right = walk.or(&mut object, "right", Length::ZERO, Walk::gap);
    walk.close(object);
    Some(Covered { left: left?, right: right? })
}

/// The openings that could be read.
pub(super) fn openings(walk: &mut Walk, node: &Node, context: &mut Context) -> Option<Listed<Opening>> {
    if node.value.as_array().is_some_and(Vec::is_empty) {
        return Some(Vec::new());
    }
    let nodes = walk.list(node, limits::OPENINGS, "a list of openings")?;
    Some(nodes.iter().filter_map(|node| Some((opening(walk, node, context)?, node.path.clone()))).collect())
}

fn opening(walk: &mut Walk, node: &Node, context: &mut Context) -> Option<Opening> {
    let mut object = walk.keys(node, "an object that describes an opening")?;
    let keys = &mut object;
    let kind = walk.required(keys, "kind", KIND, |walk, node| match node.value.as_str() {
        Some("rectangle") => Some(Kind::Rectangle),
        Some("circle") => Some(Kind::Circle),
        Some("polygon") => walk.refuse(node, format!("{KIND}: polygon openings are not supported yet")),
        _ => walk.refuse(node, KIND),
    });
    let name = walk.or(keys, "name", String::new(), |walk, node| walk.text(node).map(str::to_owned));
    let shape = match kind {
        Some(kind) => opening_shape(walk, keys, kind),
        None => {
            keys.leave(["x", "y", "width", "height", "diameter", "outline"]);
            None
        }
    };
    let clearance = walk.optional(keys, "clearance", Walk::length);
    context.opening_gap_used |= clearance == Some(None);
    let usual = if kind == Some(Kind::Circle) { OpeningEdge::Plate } else { OpeningEdge::Trim };
    let edge = walk.or(keys, "edge", usual, |walk, node| {
        walk.word(
            node,
            &[
                ("plate", OpeningEdge::Plate),
                ("trim", OpeningEdge::Trim),
                ("lapped", OpeningEdge::Lapped),
                ("mitre", OpeningEdge::Mitre),
                ("bare", OpeningEdge::Bare),
            ],
        )
    });
    walk.close(object);
    // A gap that is missing or wrong has its own fault.
    let clearance = clearance?.or(context.opening_gap).unwrap_or(Length::ZERO);
    Some(Opening { name: name?, shape: shape?, clearance, edge: edge? })
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Rectangle,
    Circle,
}

const KIND: &str = "\"rectangle\" or \"circle\"";

fn opening_shape(walk: &mut Walk, keys: &mut Keys, kind: Kind) -> Option<OpeningShape> {
    let length = a_length(walk.unit);
    let (x, y) =
        (walk.required(keys, "x", &length, Walk::length), walk.required(keys, "y", &length, Walk::length));
    match kind {
        Kind::Rectangle => {
            let width = walk.required(keys, "width", &length, Walk::size);
            let height = walk.required(keys, "height", &length, Walk::size);
            Some(OpeningShape::Rectangle { x: x?, y: y?, width: width?, height: height? })
        }
        Kind::Circle => {
            let diameter = walk.required(keys, "diameter", &length, Walk::size);
            Some(OpeningShape::Circle { x: x?, y: y?, diameter: diameter? })
        }
    }
}

pub(super) fn bands(walk: &mut Walk, node: &Node, context: &Context) -> Option<Vec<Band>> {
    let nodes = walk.list(node, limits::BANDS, "a list of bands, from the bottom up")?;
    let bands: Vec<_> = nodes.iter().map(|node| band(walk, node, context)).collect();
    let mut filled = false;
    for (node, band) in nodes.iter().zip(&bands) {
        let Some(band) = band else { continue };
        if band.is_strip() {
            filled = false;
        } else if band.height == BandHeight::Fill {
            if filled {
                walk.note::<()>(
                    &format!("{}.courses", node.path),
                    "a second \"fill\"",
                    "one \"fill\" below, between or above strips",
                );
            }
            filled = true;
        }
    }
    bands.into_iter().collect()
}

fn band(walk: &mut Walk, node: &Node, context: &Context) -> Option<Band> {
    let mut object = walk.keys(node, "an object that describes a band")?;
    let keys = &mut object;
    let tile = match keys.get("tile") {
        Some(node) => known_tile(walk, &node, context),
        None => only_tile(walk, &format!("{}.tile", node.path), context),
    };
    let upright = walk.or(keys, "upright", false, Walk::truth);
    let bottom_between = walk.optional(keys, "bottom_between", |walk, node| {
        walk.range(node, "the least and the greatest y of the strip's lower edge")
    });
    let strip = matches!(bottom_between, Some(Some(_)) | None);
    let usual = if strip { BandHeight::Courses(1) } else { BandHeight::Fill };
    let height = walk.or(keys, "courses", usual, |walk, node| match node.value.as_str() {
        _ if strip && node.value.as_u64() != Some(1) => walk.refuse(node, "1: a strip is one course"),
        Some("fill") => Some(BandHeight::Fill),
        Some(_) => walk.refuse(node, "a number of courses or \"fill\""),
        None => walk.count(node, limits::COURSES).map(BandHeight::Courses),
    });
    let joint_above = walk.optional(keys, "joint_above", Walk::gap);
    let pattern = walk.optional(keys, "pattern", pattern);
    walk.close(object);
    Some(Band {
        tile: tile?,
        upright: upright?,
        height: height?,
        bottom_between: bottom_between?,
        joint_above: joint_above?,
        pattern: pattern?,
    })
}

pub(super) fn one_fill(walk: &mut Walk, surface: &Node, context: &Context) -> Option<Vec<Band>> {
    let tile = only_tile(walk, &format!("{}.bands", surface.path), context)?;
    let height = BandHeight::Fill;
    Some(vec![Band { tile, upright: false, height, bottom_between: None, joint_above: None, pattern: None }])
}

fn known_tile(walk: &mut Walk, node: &Node, context: &Context) -> Option<TileId> {
    let tile = node.value.as_str().map(|name| TileId(name.to_owned()));
    match tile.filter(|tile| context.tile_names.contains(tile)) {
        Some(tile) => Some(tile),
        None => walk.refuse(node, "the name of one of the tiles"),
    }
}

/// The tile of a job that has only one. Where no tiles could be read, that has been said.
fn only_tile(walk: &mut Walk, path: &str, context: &Context) -> Option<TileId> {
    let mut names = context.tile_names.iter();
    match (names.next(), names.next()) {
        (Some(only), None) => Some(only.clone()),
        (None, _) => None,
        (Some(_), Some(_)) => walk.note(path, "nothing", "which tile, since there is more than one"),
    }
}

pub(super) fn pattern(walk: &mut Walk, node: &Node) -> Option<Pattern> {
    #[derive(Clone, Copy)]
    enum Name {
        Straight,
        Running,
    }
    let mut object = walk.keys(node, "an object that describes a pattern")?;
    let keys = &mut object;
    let name = walk.required(keys, "name", PATTERN, |walk, node| match node.value.as_str() {
        Some("straight") => Some(Name::Straight),
        Some("running") => Some(Name::Running),
        _ => walk.refuse(node, PATTERN),
    });
    let read = match name {
        Some(Name::Straight) => Some(Pattern::Straight),
        Some(Name::Running) => running(walk, keys),
        None => {
            keys.leave(["step", "mirror", "cycle"]);
            None
        }
    };
    walk.close(object);
    read
}

const PATTERN: &str = "\"straight\" or \"running\": other patterns are not supported yet";
const STEP: &str = "a part of a tile and joint, such as \"1/3\"";

fn running(walk: &mut Walk, keys: &mut Keys) -> Option<Pattern> {
    let Some(cycle) = keys.get("cycle") else {
        let step = walk.required(keys, "step", STEP, fraction);
        let mirror = walk.or(keys, "mirror", false, Walk::truth);
        return Some(Pattern::Running { step: step?, mirror: mirror? });
    };
    for other in ["step", "mirror"] {
        if let Some(node) = keys.get(other).filter(|node| node.value.as_bool() != Some(false)) {
            walk.refuse::<()>(&node, "nothing beside a cycle, which gives every shift itself");
        }
    }
    let shifts =
        walk.list(&cycle, limits::SHIFTS, "the shift of each course, such as [\"2/3\", \"0\", \"1/3\"]")?;
    let shifts: Vec<_> = shifts.iter().map(|node| fraction(walk, node)).collect();
    Some(Pattern::Cycle { shifts: shifts.into_iter().collect::<Option<_>>()? })
}

/// `"1/3"`, `"0"`, or a decimal of at most three places.
fn fraction(walk: &mut Walk, node: &Node) -> Option<Fraction> {
    let text = match node.value {
        serde_json::Value::Number(number) => number.to_string(),
        serde_json::Value::String(text) => text.clone(),
        _ => return walk.refuse(node, STEP),
    };
    match fraction_of(&text) {
        Some(fraction) => Some(fraction),
        None => walk.refuse(node, STEP),
    }
}

fn fraction_of(text: &str) -> Option<Fraction> {
    if let Some((above, below)) = text.split_once('/') {
        return Fraction::new(above.trim().parse().ok()?, below.trim().parse().ok()?);
    }
    let (whole, decimals) = text.trim().split_once('.').unwrap_or((text.trim(), ""));
    let places = u32::try_from(decimals.len()).ok().filter(|places| *places <= 3)?;
    if !decimals.bytes().all(|digit| digit.is_ascii_digit()) {
        return None;
    }
    Fraction::new(format!("{whole}{decimals}").parse().ok()?, 10_i64.pow(places))
}

/// What was measured, for the faults that show only when it is all seen together.
struct Measured<'a> {
    path: &'a str,
    width: Option<Length>,
    covered: Option<Covered>,
    base: &'a Option<Readings<BaseReading>>,
    top: &'a Option<Readings<TopReading>>,
    openings: &'a [(Opening, String)],
}

impl Measured<'_> {
    fn note_faults(&self, walk: &mut Walk) {
        for fault in self.faults() {
            self.note(walk, &fault);
        }
    }

    fn faults(&self) -> Vec<SurfaceFault> {
        let base = self.base.as_ref().and_then(|readings| readings.all.as_ref());
        let top = self.top.as_ref().and_then(|readings| readings.all.as_ref());
        if let (Some(width), Some(base), Some(top)) = (self.width, base, top) {
            let openings: Vec<_> = self.openings.iter().map(|(opening, _)| opening.clone()).collect();
            let covered = self.covered.unwrap_or_default();
            return sound::faults(&Shape { width, base, top, covered, openings: &openings });
        }
        // Where something is missing, the readings that are there can still be judged by where they lie.
        let lists = [(Height::Base, self.at(Height::Base)), (Height::Top, self.at(Height::Top))];
        let read = lists.into_iter().filter(|(_, at)| !at.is_empty());
        read.flat_map(|(height, at)| {
            let at: Vec<Length> = at.iter().map(|(x, _)| *x).collect();
            sound::reading_faults(height, &at, self.width)
        })
        .collect()
    }

    fn note(&self, walk: &mut Walk, fault: &SurfaceFault) {
        let path = self.path;
        match fault {
            // The sizes and lists were read as more than nothing.
            SurfaceFault::NoWidth => walk.note(&format!("{path}.width"), "no width", "a width above 0"),
            SurfaceFault::NoReading(height) => {
                walk.note(&format!("{path}.{height}"), "no reading", "a reading")
            }
            SurfaceFault::OutOfOrder { height, index } => {
                let (at, before) = (self.at(*height), index.checked_sub(1));
                let before =
                    before.and_then(|index| at.get(index)).map(|(x, _)| x.exact()).unwrap_or_default();
                let expected = format!("no less than the reading before it, {before}");
                self.at_reading(walk, *height, *index, expected)
            }
            SurfaceFault::Beside { height, index } => {
                let width = self.width.map(Length::exact).unwrap_or_default();
                self.at_reading(walk, *height, *index, format!("from 0 to the wall's width, {width}"))
            }
            SurfaceFault::NoHeight { x } => walk.note(
                &format!("{path}.top"),
                format!("a top no higher than the base at x = {}", x.exact()),
                "a top above the base everywhere",
            ),
            SurfaceFault::AllCovered => {
                walk.note(&format!("{path}.covered"), "the whole width", "less than the width in all")
            }
            SurfaceFault::OpeningOutside { .. }
            | SurfaceFault::OpeningClosed { .. }
            | SurfaceFault::OpeningsClash { .. } => note_opening(walk, self.openings, fault),
        };
    }

    fn at_reading(&self, walk: &mut Walk, height: Height, index: usize, expected: String) -> Option<()> {
        let (x, path) = self.at(height).get(index)?;
        walk.note(&format!("{path}.x"), x.exact(), expected)
    }

    fn at(&self, height: Height) -> &[(Length, String)] {
        match height {
            Height::Base => self.base.as_ref().map_or(&[], |readings| &readings.at),
            Height::Top => self.top.as_ref().map_or(&[], |readings| &readings.at),
        }
    }
}

/// Notes a fault of an opening; others are none of it.
pub(super) fn note_opening(
    walk: &mut Walk,
    openings: &[(Opening, String)],
    fault: &SurfaceFault,
) -> Option<()> {
    let (index, found, expected) = match fault {
        SurfaceFault::OpeningOutside { index } => {
            (*index, "an opening outside the surface", "an opening at least partly on the surface")
        }
        SurfaceFault::OpeningClosed { index } => {
            (*index, "a clearance that closes the opening", "an opening larger than tile laps over it")
        }
        SurfaceFault::OpeningsClash { index } => (
            *index,
            "an opening that runs into another with another kind of edge",
            "openings apart, or both bare, or neither",
        ),
        SurfaceFault::NoWidth
        | SurfaceFault::NoReading(_)
        | SurfaceFault::OutOfOrder { .. }
        | SurfaceFault::Beside { .. }
        | SurfaceFault::NoHeight { .. }
        | SurfaceFault::AllCovered => return None,
    };
    let (_, path) = openings.get(index)?;
    walk.note(path, found, expected)
}

/// Refuses surfaces that would take more tiles than anyone lays on one.
pub(super) fn not_too_many_tiles(
    walk: &mut Walk,
    node: &Node,
    surface: &Surface,
    context: &Context,
) -> Option<()> {
    let lowest = surface.base.iter().map(|reading| -reading.drop).min()?;
    let highest = surface.top.iter().map(|reading| reading.rise).max()?;
    let joint = context.joint.unwrap_or_default();
    let most = surface.bands.iter().filter_map(|band| {
        let tile = context.tiles.get(&band.tile)?;
        let (across, up) = if band.upright { (tile.height, tile.width) } else { (tile.width, tile.height) };
        let columns = surface.width.units() / (across + joint).units() + 1;
        let courses = (highest - lowest).units() / (up + joint).units() + 1;
        Some(columns.saturating_mul(courses))
    });
    match most.max().filter(|tiles| *tiles > limits::TILES_ON_A_WALL) {
        Some(tiles) => walk.note(
            &node.path,
            format!("a wall of about {tiles} tiles"),
            format!("at most {} tiles on one wall", limits::TILES_ON_A_WALL),
        ),
        None => Some(()),
    }
}
