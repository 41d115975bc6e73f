//! The layout that the lead chose: read from a job file and written into job files and plans.
//!
//! It is written so that putting a plan's layout into the job file gives the same plan: where the job is in
//! inches, it names millimetres as the unit of its numbers.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value, json};

use super::read::{Joint, lines};
use super::walk::{Keys, Node, Walk, key_path};
use crate::measure::{FirstCourse, Job, Layout, Length, Surface, SurfaceId, Unit};

/// What a layout is read against.
pub(super) struct Ground<'a> {
    /// Every surface named.
    pub(super) known: &'a BTreeSet<SurfaceId>,
    /// The surfaces that could be read.
    pub(super) read: &'a [&'a Surface],
    /// The joint and its range, where they could be read.
    pub(super) joint: Option<Joint>,
}

pub(super) fn read(walk: &mut Walk, node: &Node, ground: &Ground) -> Option<Layout> {
    let mut object = walk.keys(node, "an object that describes a layout")?;
    let jobs_unit = walk.unit;
    let unit = walk.or(&mut object, "unit", jobs_unit, |walk, node| {
        walk.word(node, &[("mm", Unit::Millimetre), ("in", Unit::Inch)])
    });
    walk.unit = unit.unwrap_or(jobs_unit);
    let layout = read_keys(walk, &mut object, ground);
    walk.unit = jobs_unit;
    walk.close(object);
    layout
}

fn read_keys(walk: &mut Walk, keys: &mut Keys, ground: &Ground) -> Option<Layout> {
    let course_line =
        walk.or(keys, "course_line", BTreeMap::new(), |walk, node| course_line(walk, node, ground));
    let starts =
        walk.or(keys, "starts", BTreeMap::new(), |walk, node| by_surface(walk, node, ground, Walk::length));
    let band_starts =
        walk.or(keys, "band_starts", BTreeMap::new(), |walk, node| band_starts(walk, node, ground));
    let first_course = walk.or(keys, "first_course", BTreeMap::new(), |walk, node| {
        let read = by_surface(walk, node, ground, |walk, node| {
            walk.word(node, &[(PROPPED, FirstCourse::Propped), (SCRIBED, FirstCourse::Scribed)])
        })?;
        let outlined = ground.read.iter().filter(|surface| surface.outline.is_some());
        match outlined.into_iter().find(|surface| read.contains_key(&surface.id)) {
            Some(surface) => walk.note(
                &key_path(&node.path, surface.id.as_str()),
                "a first course",
                "nothing here: a surface given by its outline is neither propped nor scribed",
            ),
            None => Some(read),
        }
    });
    let mirror =
        walk.or(keys, "mirror", BTreeMap::new(), |walk, node| by_surface(walk, node, ground, Walk::truth));
    let joint = walk.optional(keys, "joint", |walk, node| {
        let joint = walk.gap(node)?;
        match ground.joint.filter(|given| joint < given.range.0 || given.range.1 < joint) {
            Some(Joint { range: (least, most), .. }) => {
                walk.refuse(node, format!("a joint from {} to {}", least.exact(), most.exact()))
            }
            None => Some(joint),
        }
    });
    Some(Layout {
        course_line: course_line?,
        starts: starts?,
        band_starts: band_starts?,
        first_course: first_course?,
        mirror: mirror?,
        joint: joint?,
    })
}

const PROPPED: &str = "propped";
const SCRIBED: &str = "scribed";

/// One height for all surfaces, where they share a line, or a map.
fn course_line(walk: &mut Walk, node: &Node, ground: &Ground) -> Option<BTreeMap<SurfaceId, Length>> {
    if node.value.is_object() {
        return by_surface(walk, node, ground, Walk::length);
    }
    let y = walk.length(node)?;
    if lines(ground.read).len() > 1 {
        return walk.refuse(node, "a height for each surface, {\"A\": 0}, since they do not share one line");
    }
    Some(ground.read.iter().map(|surface| (surface.id.clone(), y)).collect())
}

fn by_surface<'a, T>(
    walk: &mut Walk,
    node: &Node<'a>,
    ground: &Ground,
    mut read: impl FnMut(&mut Walk, &Node<'a>) -> Option<T>,
) -> Option<BTreeMap<SurfaceId, T>> {
    let entries = walk.entries(node, "an object with a value for each surface, by its id")?;
    let read: Vec<_> = entries
        .iter()
        .map(|(name, node)| {
            let value = read(walk, node);
            let id = SurfaceId::new(name).filter(|id| ground.known.contains(id));
            match id {
                Some(id) => Some((id, value?)),
                None => walk.note(&node.path, "a surface of that name", "the id of one of the surfaces"),
            }
        })
        .collect();
    read.into_iter().collect()
}

/// `{"A": {"2": 30}}`: x of an upright joint in the third band of surface A.
fn band_starts(
    walk: &mut Walk,
    node: &Node,
    ground: &Ground,
) -> Option<BTreeMap<(SurfaceId, usize), Length>> {
    let surfaces = by_surface(walk, node, ground, |walk, node| {
        walk.entries(node, "an object with an x for each band, by its number from 0 up")
    })?;
    let mut read = Vec::new();
    for (id, entries) in surfaces {
        let surface = ground.read.iter().find(|surface| surface.id == id);
        // Of a surface with faults the bands are not known.
        let count = surface.map_or(usize::MAX, |surface| surface.bands.len());
        for (name, node) in entries {
            let x = walk.length(&node);
            // Only the plainest form of a number names a band, so that no band is named twice.
            let band = name.parse().ok().filter(|band: &usize| *band < count && band.to_string() == name);
            read.push(match band {
                Some(band) => x.map(|x| ((id.clone(), band), x)),
                None => walk.note(&node.path, "a band of that number", "a band of this surface, from 0 up"),
            });
        }
    }
    read.into_iter().collect()
}

/// The layout as it stands in files.
pub(super) fn written(job: &Job, layout: &Layout) -> Value {
    let number = |length: &Length| Value::Number(length.to_json_number());
    let by_surface = |lengths: &BTreeMap<SurfaceId, Length>| -> Value {
        lengths.iter().map(|(id, length)| (id.to_string(), number(length))).collect()
    };
    let first_course: Value = layout
        .first_course
        .iter()
        .map(|(id, way)| (id.to_string(), Value::from(first_course_name(*way))))
        .collect();
    let mirror: Value =
        layout.mirror.iter().map(|(id, mirror)| (id.to_string(), Value::from(*mirror))).collect();
    let mut object = Map::new();
    if job.unit != Unit::Millimetre {
        object.insert("unit".to_owned(), "mm".into());
    }
    object.insert(
        "course_line".to_owned(),
        one_for_all(job, layout).map_or_else(|| by_surface(&layout.course_line), |y| number(&y)),
    );
    object.insert("starts".to_owned(), by_surface(&layout.starts));
    if !layout.band_starts.is_empty() {
        object.insert("band_starts".to_owned(), written_band_starts(layout));
    }
    if let Some(joint) = layout.joint {
        object.insert("joint".to_owned(), number(&joint));
    }
    object.insert("first_course".to_owned(), first_course);
    object.insert("mirror".to_owned(), mirror);
    Value::Object(object)
}

/// The name of a way to start, in files.
pub(super) fn first_course_name(way: FirstCourse) -> &'static str {
    match way {
        FirstCourse::Propped => PROPPED,
        FirstCourse::Scribed => SCRIBED,
    }
}

/// The course line as one number, where every surface has it from one line.
fn one_for_all(job: &Job, layout: &Layout) -> Option<Length> {
    let surfaces: Vec<&Surface> = job.surfaces.iter().collect();
    let first = *layout.course_line.values().next()?;
    let all = surfaces.iter().all(|surface| layout.course_line.get(&surface.id) == Some(&first));
    (all && lines(&surfaces).len() == 1).then_some(first)
}

fn written_band_starts(layout: &Layout) -> Value {
    let mut starts = json!({});
    for ((id, band), x) in &layout.band_starts {
        starts[id.as_str()][band.to_string()] = Value::Number(x.to_json_number());
    }
    starts
}
