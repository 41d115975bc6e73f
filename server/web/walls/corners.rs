//! Inside corners belong to two walls: what is said on one is said on the other too.

use trade::measure::bare::{BareWall, End, Meeting, SetFirst};
use trade::measure::{Length, Role, Sheet, SurfaceId};

/// The wall with every neighbour whose end changes with it. A wall's left end meets its neighbour's right.
pub fn with_neighbours(sheet: &Sheet, wall: BareWall) -> Vec<BareWall> {
    let mut changed = Vec::new();
    for other in sheet.walls.iter().filter(|other| other.id != wall.id) {
        let mut answered = other.clone();
        answer(&mut answered.right, &wall.left, &wall.id, &other.id);
        answer(&mut answered.left, &wall.right, &wall.id, &other.id);
        if answered != *other {
            changed.push(answered);
        }
    }
    changed.push(wall);
    changed
}

/// The end of a neighbour that meets a wall's left or right end.
pub fn opposite_end<'a>(neighbour: &'a BareWall, end: &str) -> &'a End {
    if end == "left" { &neighbour.right } else { &neighbour.left }
}

/// Walls that meet one another in a row come round to the first again when they are so many.
const ROUND_A_ROOM: usize = 4;

/// The ends at an inside corner of which no wall is named, where another such end of the job may be the one that they
/// meet: a left end and a right one. Of two or three walls in a row the outer ends cannot meet each other.
pub fn open(sheet: &Sheet) -> Vec<(&SurfaceId, &'static str)> {
    let rows = rows(sheet);
    let may_meet = |one: usize, other: usize| {
        let length = rows.iter().filter(|row| **row == rows[one]).count();
        one != other && (rows[one] != rows[other] || length >= ROUND_A_ROOM)
    };
    let free = |end: &End| end.role == Role::Corner && end.meets.is_none();
    let any = |wall: usize, opposite: fn(&BareWall) -> &End| {
        let mut others = sheet.walls.iter().enumerate();
        others.any(|(other, is)| free(opposite(is)) && may_meet(wall, other))
    };
    let mut found = Vec::new();
    for (index, wall) in sheet.walls.iter().enumerate() {
        if free(&wall.left) && any(index, |other| &other.right) {
            found.push((&wall.id, "left"));
        }
        if free(&wall.right) && any(index, |other| &other.left) {
            found.push((&wall.id, "right"));
        }
    }
    found
}

/// For each wall a number that it has in common with those it meets, directly or by others.
fn rows(sheet: &Sheet) -> Vec<usize> {
    let mut rows: Vec<usize> = (0..sheet.walls.len()).collect();
    for (index, wall) in sheet.walls.iter().enumerate() {
        for meets in [&wall.left, &wall.right].into_iter().filter_map(|end| end.meets.as_ref()) {
            let Some(other) = sheet.walls.iter().position(|other| other.id == meets.neighbour) else {
                continue;
            };
            let (one, same) = (rows[index], rows[other]);
            rows.iter_mut().filter(|row| **row == one).for_each(|row| *row = same);
        }
    }
    rows
}

/// The sheet with this wall and its neighbours in their places.
pub fn placed(sheet: &Sheet, wall: &BareWall) -> Sheet {
    let mut sheet = sheet.clone();
    for changed in with_neighbours(&sheet, wall.clone()) {
        match sheet.walls.iter_mut().find(|other| other.id == changed.id) {
            Some(other) => *other = changed,
            None => sheet.walls.push(changed),
        }
    }
    sheet
}

/// What an end says of us, after what our end says of its wall.
fn answer(theirs: &mut End, ours: &End, our_name: &SurfaceId, their_name: &SurfaceId) {
    let of_them = ours.meets.as_ref().filter(|meets| meets.neighbour == *their_name);
    let of_us = theirs.meets.as_ref().map(|meets| meets.neighbour == *our_name);
    match (of_them, of_us) {
        (Some(meets), None | Some(true)) => {
            let set_first = match meets.set_first {
                SetFirst::ThisWall => SetFirst::Neighbour,
                SetFirst::Neighbour => SetFirst::ThisWall,
            };
            theirs.role = Role::Corner;
            theirs.meets = Some(Meeting { neighbour: our_name.clone(), set_first, build_up: Length::ZERO });
        }
        (None, Some(true)) => theirs.meets = None,
        (Some(_), Some(false)) | (None, None | Some(false)) => {}
    }
}
