//! What another layout changes and costs, in words: before it is chosen, and in the log after.

use trade::measure::{FirstCourse, Layout, Length, SurfaceId};

use super::words::Words;
use crate::store::{Changed, Relaid, TileCount};

/// What no longer fits, and how many tiles that costs.
pub fn costs(words: &Words, relaid: &Relaid) -> Vec<String> {
    let misfits = words.say1("price-misfits", "count", &relaid.misfits);
    let several = relaid.tiles.len() > 1;
    let tiles = relaid.tiles.iter().map(|count| cost(words, count, several));
    std::iter::once(misfits).chain(tiles).collect()
}

fn cost(words: &Words, count: &TileCount, several: bool) -> String {
    let (before, after) = (count.before, count.after);
    let key = match after.cmp(&before) {
        std::cmp::Ordering::Equal => "price-as-many",
        std::cmp::Ordering::Greater => "price-more",
        std::cmp::Ordering::Less => "price-fewer",
    };
    let says = words.say_with(key, &[("count", &after.abs_diff(before)), ("all", &after)]);
    if several { format!("{}: {says}", count.tile.0) } else { says }
}

/// From what to what, a line each; what the tape does not show is left out.
pub fn changes(words: &Words, relaid: &Relaid) -> Vec<String> {
    let Relaid { changed, before, after, .. } = relaid;
    let wall = |id: &str| SurfaceId::new(id).map_or_else(|| id.to_owned(), |id| words.wall(&id));
    let mut lines: Vec<String> = changed
        .iter()
        .map(|changed| match changed {
            Changed::Wall(id) => words.say1("relaid-wall", "wall", &wall(id)),
            Changed::NoWall(id) => words.say1("relaid-no-wall", "wall", &wall(id)),
            Changed::Terms => words.say("relaid-terms"),
        })
        .collect();
    lines.extend(lines_moved(words, before, after));
    for (wall, now) in &after.starts {
        let was = before.starts.get(wall);
        lines.extend(moved(
            words,
            "relaid-start",
            Some(wall),
            was.map(|was| words.tape.show(*was)),
            words.tape.show(*now),
        ));
    }
    for ((wall, band), now) in &after.band_starts {
        let was = before.band_starts.get(&(wall.clone(), *band));
        lines.extend(moved(
            words,
            "relaid-strip",
            Some(wall),
            was.map(|was| words.tape.show(*was)),
            words.tape.show(*now),
        ));
    }
    for (wall, now) in &after.first_course {
        let was = before.first_course.get(wall);
        lines.extend(moved(
            words,
            "relaid-first",
            Some(wall),
            was.map(|was| first(words, *was)),
            first(words, *now),
        ));
    }
    for (wall, now) in &after.mirror {
        // Where nobody chose, it climbs as it was measured.
        let was = before.mirror.get(wall).copied().unwrap_or(!now);
        lines.extend(moved(words, "relaid-climb", Some(wall), Some(climb(words, was)), climb(words, *now)));
    }
    let joint = |joint: Option<Length>| joint.map(|joint| words.tape.show_gap(joint));
    if let Some(now) = joint(after.joint) {
        lines.extend(moved(words, "relaid-joint", None, joint(before.joint), now));
    }
    lines
}

/// One line for walls whose courses moved alike.
fn lines_moved(words: &Words, before: &Layout, after: &Layout) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for (wall, now) in &after.course_line {
        let was = before.course_line.get(wall).map(|was| words.height(*was));
        let says = moved(words, "relaid-line", None, was, words.height(*now));
        lines.extend(says.filter(|says| !lines.contains(says)));
    }
    lines
}

fn moved(
    words: &Words,
    key: &str,
    wall: Option<&SurfaceId>,
    was: Option<String>,
    now: String,
) -> Option<String> {
    let was = was?;
    let wall = wall.map(|wall| words.wall(wall)).unwrap_or_default();
    (was != now).then(|| words.say_with(key, &[("wall", &wall), ("before", &was), ("after", &now)]))
}

fn first(words: &Words, first: FirstCourse) -> String {
    words.say(match first {
        FirstCourse::Propped => "layout-first-propped",
        FirstCourse::Scribed => "layout-first-scribed",
    })
}

fn climb(words: &Words, left: bool) -> String {
    words.say(if left { "relaid-left" } else { "relaid-right" })
}
