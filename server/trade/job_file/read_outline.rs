//! A surface given by its outline, from its JSON value.
//!
//! Refused, and said so: slanted sides, and anything laid but one band that fills the surface.

use super::limits;
use super::read::Context;
use super::read_surface::{self, Head, Listed};
use super::walk::{Keys, Node, Walk};
use crate::geometry::Point;
use crate::measure::sound;
use crate::measure::{
    Band, BandHeight, Covered, Length, LineId, Opening, Outline, OutlineFault, OutlineKind, Pattern, Role,
    Surface,
};

/// A surface whose `outline` is at `outline`; `head` is what every surface has.
pub(super) fn surface(
    walk: &mut Walk,
    keys: &mut Keys,
    head: Head,
    outline: &Node,
    context: &mut Context,
) -> Option<Surface> {
    for key in ["width", "base", "top", "edges", "covered", "top_may_move"] {
        if let Some(beside) = keys.get(key) {
            walk.refuse::<()>(&beside, "nothing beside an outline, which gives the whole shape");
        }
    }
    let surface = head.node;
    let roles = walk.required(keys, "edge_roles", ROLES, |walk, node| roles(walk, node, context));
    let outline = shape(walk, outline, head.kind, roles, &format!("{}.edge_roles", surface.path));
    let openings =
        walk.or(keys, "openings", Vec::new(), |walk, node| read_surface::openings(walk, node, context));
    let bands = match keys.get("bands") {
        Some(node) => one_fill(walk, &node, context),
        None => read_surface::one_fill(walk, surface, context),
    };
    let pattern = walk.or(keys, "pattern", Pattern::Straight, read_surface::pattern);
    let (outline, openings) = (outline?, openings?);
    note_openings(walk, &outline, &openings);
    let id = head.id?;
    let surface = Surface {
        name: head.name?.unwrap_or_else(|| id.to_string()),
        line: head.line?.unwrap_or_else(|| LineId::of(&id)),
        id,
        width: outline.bounds().width(),
        base: vec![outline.base()],
        top: vec![outline.top()],
        edges: outline.edges(),
        outline: Some(outline),
        covered: Covered::default(),
        openings: openings.into_iter().map(|(opening, _)| opening).collect(),
        bands: bands?,
        pattern: pattern?,
        top_may_move: Length::ZERO,
    };
    read_surface::not_too_many_tiles(walk, head.node, &surface, context)?;
    Some(surface)
}

const POINTS: &str = "a list of at least 4 points [x, y], in order";
const ROLES: &str = "a list with the role of each side, the first from point 0 to point 1";

/// The outline through the points at `node`.
fn shape(
    walk: &mut Walk,
    node: &Node,
    kind: OutlineKind,
    roles: Option<Vec<Role>>,
    roles_path: &str,
) -> Option<Outline> {
    let nodes = walk.list(node, limits::POINTS, POINTS)?;
    let points: Vec<Option<Point>> = nodes.iter().map(|node| point(walk, node)).collect();
    let points: Vec<Point> = points.into_iter().collect::<Option<_>>()?;
    // Where the roles cannot be read, the faults of the shape are still told.
    let usual = || vec![Role::Corner; points.len()];
    match Outline::new(kind, &points, &roles.clone().unwrap_or_else(usual)) {
        Ok(outline) => roles.map(|_| outline),
        Err(faults) => {
            for fault in faults {
                note(walk, &node.path, roles_path, fault);
            }
            None
        }
    }
}

fn note(walk: &mut Walk, path: &str, roles_path: &str, fault: OutlineFault) {
    let at = |side: usize| format!("{path}[{side}]");
    match fault {
        OutlineFault::TooFewPoints { points } => walk.note(path, format!("a list of {points}"), POINTS),
        OutlineFault::Roles { points, roles } => {
            walk.note::<()>(roles_path, format!("a list of {roles}"), format!("one role a side: {points}"))
        }
        OutlineFault::NoLength { side } => {
            walk.note(&at(side), "the next point again", "points apart from each other")
        }
        OutlineFault::Slanted { side } => walk.note(
            &at(side),
            "a slanted side to the next point",
            "a level or a plumb side: slanted ones are not supported yet",
        ),
        OutlineFault::Crossing { side, other } => walk.note(
            &at(side),
            format!("a side that meets the one from point {other}"),
            "sides that meet only at the corner between them",
        ),
    };
}

fn point(walk: &mut Walk, node: &Node) -> Option<Point> {
    const POINT: &str = "a point [x, y]";
    let pair = node.value.as_array().filter(|pair| pair.len() == 2);
    if pair.is_none() {
        return walk.refuse(node, POINT);
    }
    let lengths: Vec<Option<Length>> =
        walk.list(node, 2, POINT)?.iter().map(|node| walk.length(node)).collect();
    match *lengths {
        [x, y] => Some(Point::new(x?, y?)),
        _ => None,
    }
}

fn roles(walk: &mut Walk, node: &Node, context: &mut Context) -> Option<Vec<Role>> {
    let nodes = walk.list(node, limits::POINTS, ROLES)?;
    let roles: Vec<Option<Role>> = nodes.iter().map(|node| read_surface::role(walk, node)).collect();
    context.roles.extend(roles.iter().flatten());
    roles.into_iter().collect()
}

fn one_fill(walk: &mut Walk, node: &Node, context: &Context) -> Option<Vec<Band>> {
    let bands = read_surface::bands(walk, node, context)?;
    match bands.as_slice() {
        [band] if !band.is_strip() && band.height == BandHeight::Fill => Some(bands),
        _ => walk.note(
            &node.path,
            if bands.len() == 1 { "a band that does not fill it" } else { "several bands" },
            "one band, a \"fill\": strips and stacked bands are laid on walls with readings only, so far",
        ),
    }
}

fn note_openings(walk: &mut Walk, outline: &Outline, openings: &Listed<Opening>) {
    let all: Vec<Opening> = openings.iter().map(|(opening, _)| opening.clone()).collect();
    for fault in sound::opening_faults(outline, &all) {
        read_surface::note_opening(walk, openings, &fault);
    }
}
