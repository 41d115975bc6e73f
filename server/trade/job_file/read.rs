//! A job from the JSON value of its file.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use super::walk::{Keys, Node, Walk, key_path};
use super::{Fault, Read, layout, limits, read_surface};
use crate::measure::{Gaps, Job, LeastSize, Length, LineId, Role, Surface, SurfaceId, Tile, TileId, Unit};
use crate::search::Priorities;

/// What the surfaces of a file are read against, and what they turn out to need.
#[derive(Debug)]
pub(super) struct Context {
    /// Tiles that were read whole.
    pub(super) tiles: BTreeMap<TileId, Tile>,
    /// Tiles named, readable or not: a band may name any of them.
    pub(super) tile_names: BTreeSet<TileId>,
    /// The joint, where it could be read.
    pub(super) joint: Option<Length>,
    /// The clearance of openings that give none.
    pub(super) opening_gap: Option<Length>,
    /// Whether any opening gives none.
    pub(super) opening_gap_used: bool,
    /// Roles that any edge has.
    pub(super) roles: BTreeSet<Role>,
    /// Surface names met so far.
    pub(super) surfaces: BTreeSet<SurfaceId>,
}

/// The gaps as far as they are given.
#[derive(Clone, Copy, Default, Debug)]
struct GivenGaps {
    corner: Option<Length>,
    base: Option<Length>,
    ceiling: Option<Length>,
    trim: Option<Length>,
    mitre: Option<Length>,
    opening: Option<Length>,
}

/// The joint and what it may be.
#[derive(Clone, Copy, Debug)]
pub(super) struct Joint {
    pub(super) wanted: Length,
    pub(super) range: (Length, Length),
}

impl Context {
    fn new(
        tile_names: BTreeSet<TileId>,
        tiles: BTreeMap<TileId, Tile>,
        joint: Option<Length>,
        opening_gap: Option<Length>,
    ) -> Self {
        let (roles, surfaces) = (BTreeSet::new(), BTreeSet::new());
        Self { tiles, tile_names, joint, opening_gap, opening_gap_used: false, roles, surfaces }
    }
}

/// Reads the file's one object; `faults` are those found in its text already.
pub(super) fn job(value: &Value, faults: Vec<Fault>) -> Result<Read, Vec<Fault>> {
    let mut walk = Walk { unit: Unit::Millimetre, faults, ignored: Vec::new() };
    let root = Node { path: "$".to_owned(), value };
    let job = walk.keys(&root, "a JSON object").and_then(|keys| job_of(&mut walk, keys));
    match job {
        Some((job, priorities)) if walk.faults.is_empty() => {
            Ok(Read { job, priorities, ignored: walk.ignored })
        }
        _ => Err(walk.faults),
    }
}

fn job_of(walk: &mut Walk, mut object: Keys) -> Option<(Job, Priorities)> {
    let keys = &mut object;
    walk.optional(keys, "coursebook", version);
    let unit = walk.required(keys, "unit", "\"mm\" or \"in\"", |walk, node| {
        walk.word(node, &[("mm", Unit::Millimetre), ("in", Unit::Inch)])
    });
    // Where the unit cannot be read, millimetres let the other faults be found.
    walk.unit = unit.unwrap_or(Unit::Millimetre);
    let name = walk.or(keys, "name", String::new(), |walk, node| walk.text(node).map(str::to_owned));
    let named = walk.required(keys, "tiles", "an object of tiles by name", tiles);
    let (tile_names, tiles) = named.unwrap_or_default();
    let joint = joint(walk, keys, &tiles);
    let kerf = walk.required(keys, "kerf", "the width of the saw cut, 0 where none is lost", Walk::gap);
    let spare = walk.or(keys, "spare", Length::ZERO, Walk::gap);
    let given = walk.or(keys, "gaps", GivenGaps::default(), gaps);
    let smallest_cut = walk.optional(keys, "smallest_cut", smallest_cut);
    let thinnest_leg = walk.or(keys, "thinnest_leg", THINNEST_LEG, Walk::gap);
    let thinnest_web = walk.or(keys, "thinnest_web", THINNEST_WEB, Walk::gap);
    walk.unsupported(keys, "joint_sizes", "lists of joints are");
    let opening_gap = given.and_then(|given| given.opening);
    let mut context = Context::new(tile_names, tiles, joint.map(|joint| joint.wanted), opening_gap);
    let surfaces = walk.required(keys, "surfaces", SURFACES, |walk, node| surfaces(walk, node, &mut context));
    let gaps = given.map(|given| needed_gaps(walk, &given, &context));
    let base_gap_max = base_gap_max(walk, keys, gaps.as_ref());
    let setting_order =
        walk.or(keys, "setting_order", Vec::new(), |walk, node| setting_order(walk, node, &context));
    let start_course = walk.or(keys, "start_course", 1, |walk, node| walk.count(node, limits::COURSES));
    let read: Vec<&Surface> = surfaces.iter().flatten().flatten().collect();
    let layout = walk.optional(keys, "layout", |walk, node| {
        layout::read(walk, node, &layout::Ground { known: &context.surfaces, read: &read, joint })
    });
    let priorities = walk.or(keys, "priorities", Priorities::default(), priorities);
    walk.close(object);
    let joint = joint?;
    let job = Job {
        name: name?,
        unit: unit?,
        tiles: context.tiles,
        joint: joint.wanted,
        joint_range: joint.range,
        kerf: kerf?,
        spare: spare?,
        gaps: gaps?,
        base_gap_max: base_gap_max?,
        smallest_cut: smallest_cut?,
        thinnest_leg: thinnest_leg?,
        thinnest_web: thinnest_web?,
        setting_order: setting_order?,
        start_course: start_course?,
        surfaces: surfaces?.into_iter().collect::<Option<_>>()?,
        layout: layout?,
    };
    Some((job, priorities?))
}

const SURFACES: &str = "a list of surfaces";

/// A notch's leg thinner than this breaks in handling (common practice).
const THINNEST_LEG: Length = Length::mm(50);
/// A web between hole and edge thinner than this breaks in drilling (common practice).
const THINNEST_WEB: Length = Length::mm(25);

fn version(walk: &mut Walk, node: &Node) -> Option<()> {
    if node.value.as_u64() == Some(1) { Some(()) } else { walk.refuse(node, "1, the only version there is") }
}

/// Every surface, `None` in place of those with faults.
fn surfaces(walk: &mut Walk, node: &Node, context: &mut Context) -> Option<Vec<Option<Surface>>> {
    let nodes = walk.list(node, limits::SURFACES, SURFACES)?;
    let read: Vec<_> = nodes.iter().map(|node| read_surface::surface(walk, node, context)).collect();
    for (node, surface) in nodes.iter().zip(&read) {
        let Some(surface) = surface.as_ref().filter(|surface| surface.outline.is_some()) else { continue };
        let others = read.iter().flatten().filter(|other| other.id != surface.id);
        if others.into_iter().any(|other| other.line == surface.line) {
            walk.note::<()>(
                &format!("{}.line", node.path),
                format!("line {:?} of another surface", surface.line.0),
                "a line of its own: an outline shares no level line",
            );
        }
    }
    Some(read)
}

/// All names, and the tiles among them that could be read.
fn tiles(walk: &mut Walk, node: &Node) -> Option<(BTreeSet<TileId>, BTreeMap<TileId, Tile>)> {
    let entries = walk.entries(node, "an object of tiles by name")?;
    if entries.is_empty() || entries.len() > limits::TILES {
        let found = format!("{} tiles", entries.len());
        return walk.note(&node.path, found, format!("from 1 to {} tiles", limits::TILES));
    }
    let mut names = BTreeSet::new();
    let mut tiles = BTreeMap::new();
    for (name, node) in entries {
        if name.is_empty() || name.chars().count() > limits::NAME {
            walk.note::<()>(&node.path, "its name", format!("a name of 1 to {} characters", limits::NAME));
        }
        let id = TileId(name.to_owned());
        names.insert(id.clone());
        tiles.extend(tile(walk, &node).map(|tile| (id, tile)));
    }
    Some((names, tiles))
}

fn tile(walk: &mut Walk, node: &Node) -> Option<Tile> {
    let mut object = walk.keys(node, "an object that describes a tile")?;
    let keys = &mut object;
    let width = walk.required(keys, "width", "the tile's measured width", Walk::size);
    let height = walk.required(keys, "height", "the tile's measured height", Walk::size);
    let thickness = walk.optional(keys, "thickness", Walk::size);
    let rectified = walk.optional(keys, "rectified", Walk::truth);
    let directional = walk.or(keys, "directional", false, Walk::truth);
    let quarter_turn = walk.or(keys, "quarter_turn", false, Walk::truth);
    let size_variation = walk.optional(keys, "size_variation", Walk::gap);
    let warpage = walk.optional(keys, "warpage", Walk::gap);
    let per_box = walk.optional(keys, "per_box", |walk, node| walk.count(node, limits::TILES_IN_A_BOX));
    walk.close(object);
    Some(Tile {
        width: width?,
        height: height?,
        thickness: thickness?,
        rectified: rectified?,
        directional: directional?,
        quarter_turn: quarter_turn?,
        size_variation: size_variation?,
        warpage: warpage?,
        per_box: per_box?,
    })
}

fn joint(walk: &mut Walk, keys: &mut Keys, tiles: &BTreeMap<TileId, Tile>) -> Option<Joint> {
    let wanted = walk.required(keys, "joint", "the width of the joint", |walk, node| {
        let joint = walk.gap(node)?;
        narrower_than_the_tiles(walk, &node.path, joint, tiles)
    });
    let range = walk.optional(keys, "joint_range", |walk, node| {
        let range = walk.range(node, "a least and a greatest joint")?;
        if range.0 < Length::ZERO || wanted.is_some_and(|wanted| wanted < range.0 || range.1 < wanted) {
            let joint = wanted
                .map_or_else(|| "0 or more".to_owned(), |wanted| format!("the joint of {}", wanted.exact()));
            return walk.refuse(node, format!("a least and a greatest joint with {joint} between"));
        }
        // Where the joint itself is too wide already, that has been said.
        wanted?;
        narrower_than_the_tiles(walk, &node.path, range.1, tiles).map(|_| range)
    });
    let wanted = wanted?;
    Some(Joint { wanted, range: range?.unwrap_or((wanted, wanted)) })
}

fn narrower_than_the_tiles(
    walk: &mut Walk,
    path: &str,
    joint: Length,
    tiles: &BTreeMap<TileId, Tile>,
) -> Option<Length> {
    let sides = tiles.iter().map(|(name, tile)| (tile.width.min(tile.height), name));
    match sides.min().filter(|(side, _)| *side <= joint) {
        Some((side, TileId(name))) => {
            walk.note(path, joint.exact(), format!("a joint narrower than tile {name}, {}", side.exact()))
        }
        None => Some(joint),
    }
}

fn gaps(walk: &mut Walk, node: &Node) -> Option<GivenGaps> {
    let mut object = walk.keys(node, "an object of gaps by role")?;
    let keys = &mut object;
    let corner = walk.optional(keys, "corner", Walk::gap);
    let perimeter = walk.optional(keys, "perimeter", |walk, node| {
        let gap = walk.gap(node)?;
        // The same edge under the name that it has on floors.
        if corner.flatten().is_some_and(|corner| corner != gap) {
            return walk.refuse(node, "the gap given for corner");
        }
        Some(gap)
    });
    let base = walk.optional(keys, "base", Walk::gap);
    let ceiling = walk.optional(keys, "ceiling", Walk::gap);
    let trim = walk.optional(keys, "trim", Walk::gap);
    let mitre = walk.optional(keys, "mitre", Walk::gap);
    let opening = walk.optional(keys, "opening", Walk::gap);
    for none in ["bare", "hidden"] {
        walk.optional(keys, none, |walk, node| match walk.length(node)? {
            Length::ZERO => Some(()),
            _ => walk.refuse(node, "0: there is no gap at such an edge"),
        });
    }
    walk.close(object);
    Some(GivenGaps {
        corner: corner?.or(perimeter?),
        base: base?,
        ceiling: ceiling?,
        trim: trim?,
        mitre: mitre?,
        opening: opening?,
    })
}

/// The gaps, with a fault for every role that is used and has none.
fn needed_gaps(walk: &mut Walk, given: &GivenGaps, context: &Context) -> Gaps {
    let mut gap = |key: &str, gap: Option<Length>, used: bool| {
        if gap.is_none() && used {
            walk.note::<()>(
                &key_path("$.gaps", key),
                "nothing",
                format!("a gap, since a surface has one at {key}"),
            );
        }
        gap.unwrap_or(Length::ZERO)
    };
    let used = |role| context.roles.contains(&role);
    Gaps {
        corner: gap("corner", given.corner, used(Role::Corner)),
        base: gap("base", given.base, used(Role::Base)),
        ceiling: gap("ceiling", given.ceiling, used(Role::Ceiling)),
        trim: gap("trim", given.trim, used(Role::Trim)),
        mitre: gap("mitre", given.mitre, used(Role::Mitre)),
        opening: gap("opening", given.opening, context.opening_gap_used),
    }
}

fn base_gap_max(walk: &mut Walk, keys: &mut Keys, gaps: Option<&Gaps>) -> Option<Length> {
    let base = gaps.map_or(Length::ZERO, |gaps| gaps.base);
    walk.or(keys, "base_gap_max", base, |walk, node| {
        let most = walk.gap(node)?;
        if most < base {
            return walk.refuse(node, format!("no less than the gap at the base, {}", base.exact()));
        }
        Some(most)
    })
}

/// A length for both, or a width and a height.
fn smallest_cut(walk: &mut Walk, node: &Node) -> Option<LeastSize> {
    if !node.value.is_object() {
        return walk.gap(node).map(|side| LeastSize { width: side, height: side });
    }
    let mut object = walk.keys(node, "a length, or a width and a height")?;
    let width = walk.required(&mut object, "width", "the least width", Walk::gap);
    let height = walk.required(&mut object, "height", "the least height", Walk::gap);
    walk.close(object);
    Some(LeastSize { width: width?, height: height? })
}

fn setting_order(walk: &mut Walk, node: &Node, context: &Context) -> Option<Vec<SurfaceId>> {
    if node.value.as_array().is_some_and(Vec::is_empty) {
        return Some(Vec::new());
    }
    let nodes = walk.list(node, limits::SURFACES, "a list of surface names")?;
    let mut order = Vec::new();
    for node in &nodes {
        let known = walk.text(node).and_then(SurfaceId::new).filter(|id| context.surfaces.contains(id));
        match known {
            Some(id) if order.contains(&id) => walk.refuse(node, "each surface once")?,
            Some(id) => order.push(id),
            None => walk.refuse(node, "the id of one of the surfaces")?,
        }
    }
    Some(order)
}

/// What the lead puts first: names of measures, none of them twice.
fn priorities(walk: &mut Walk, node: &Node) -> Option<Priorities> {
    let Value::Array(list) = node.value else { return walk.refuse(node, "a list of what comes first") };
    let names: Vec<&str> = list.iter().map(|name| name.as_str().unwrap_or_default()).collect();
    match Priorities::named(names) {
        Ok(priorities) => Some(priorities),
        Err(fault) => walk.refuse(node, format!("names of measures, each once: {fault}")),
    }
}

/// The lines that the surfaces are measured from.
pub(super) fn lines<'a>(surfaces: &[&'a Surface]) -> BTreeSet<&'a LineId> {
    surfaces.iter().map(|surface| &surface.line).collect()
}
