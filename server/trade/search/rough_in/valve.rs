//! Places for a valve.

use std::collections::BTreeSet;

use super::{Fit, Framing, Laid, NoPlace, Seat, Span, Wish, joints, middle};
use crate::geometry::Rect;
use crate::measure::{Length, OpeningShape};

/// The hole one way: within a span, or across a joint.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Lies {
    Within { centred: bool, web: Length },
    OnJoint,
    AcrossEdge,
}

/// What a place comes to; the least is the best.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Score {
    /// Across an edge, or a web so thin that it breaks.
    breaks: bool,
    seat: Seat,
    /// Ways, along and up, in which it is in the middle of nothing.
    not_centred: usize,
    from_the_middle: Length,
}

/// Every place worth trying where it has room, the best first.
pub(super) fn ranked(laid: &Laid<'_>, wish: &Wish, diameter: Length) -> Result<Vec<Framing>, NoPlace> {
    let range = &wish.within;
    if range.left > range.right || range.bottom > range.top {
        return Err(NoPlace::RangeTooSmall { across: -range.width(), up: -range.height() });
    }
    let hole = diameter + wish.clearance * 2;
    let radius = hole - hole.half();
    let web = laid.job.thinnest_web;
    let (along, up) = ((range.left, range.right), (range.bottom, range.top));
    let xs: BTreeSet<Length> =
        laid.rows.iter().flat_map(|row| centres(&row.tiles, radius + web, along)).collect();
    let ys = centres(&laid.heights(), radius + web, up);
    let clear_of = |openings: Vec<Span>, range: Span| {
        let beside = openings.into_iter().flat_map(move |(from, to)| [from - radius, to + radius]);
        beside.filter(move |centre| range.0 <= *centre && *centre <= range.1)
    };
    let xs: BTreeSet<Length> =
        xs.into_iter().chain(clear_of(laid.beside_openings().collect(), along)).collect();
    let ys: BTreeSet<Length> = ys.into_iter().chain(clear_of(laid.over_openings().collect(), up)).collect();
    let mut found: Vec<(Score, Length, Length, Option<Length>)> = Vec::new();
    for y in &ys {
        for x in &xs {
            let square = Rect { left: *x, bottom: *y, right: *x, top: *y }.grown(radius);
            if !laid.is_free(&square) {
                continue;
            }
            if let Some((seat, least, not_centred)) = seated(laid, *x, *y, radius) {
                let score = Score {
                    breaks: seat == Seat::AcrossEdge || least.is_some_and(|least| least < web),
                    seat,
                    not_centred,
                    from_the_middle: (*x - middle(along)).abs() + (*y - middle(up)).abs(),
                };
                found.push((score, *y, *x, least));
            }
        }
    }
    found.sort();
    let framing = |(score, y, x, web): (Score, Length, Length, Option<Length>)| Framing {
        shape: OpeningShape::Circle { x, y, diameter },
        framed: None,
        fit: Fit::Valve { seat: score.seat, web },
        pieces: Vec::new(),
        cut: 0,
        slivers: Vec::new(),
    };
    Ok(found.into_iter().map(framing).collect())
}

/// Where its centre may be one way, so that something changes there.
fn centres(spans: &[Span], kept_off: Length, range: Span) -> BTreeSet<Length> {
    let of_span = |span: &Span| [middle(*span), span.0 + kept_off, span.1 - kept_off];
    joints(spans)
        .map(middle)
        .chain(spans.iter().flat_map(of_span))
        .chain([range.0, range.1, middle(range)])
        .filter(|centre| range.0 <= *centre && *centre <= range.1)
        .collect()
}

/// How it sits, its least web, and in how many ways it is centred on nothing; `None` where a row does not reach past
/// it.
fn seated(laid: &Laid<'_>, x: Length, y: Length, radius: Length) -> Option<(Seat, Option<Length>, usize)> {
    let up = lies(&laid.heights(), y, radius)?;
    let touched = laid.rows.iter().filter(|row| row.up.0 < y + radius && y - radius < row.up.1);
    let along: Vec<Lies> = touched.map(|row| lies(&row.tiles, x, radius)).collect::<Option<_>>()?;
    let all = || along.iter().chain([&up]);
    let web = all()
        .filter_map(|lies| match lies {
            Lies::Within { web, .. } => Some(*web),
            Lies::OnJoint | Lies::AcrossEdge => None,
        })
        .min();
    let within = all().filter(|lies| matches!(lies, Lies::Within { .. })).count();
    let in_the_middle = all().all(|lies| matches!(lies, Lies::Within { centred: true, .. }));
    let seat = if all().any(|lies| *lies == Lies::AcrossEdge) {
        Seat::AcrossEdge
    } else if in_the_middle {
        Seat::MiddleOfTile
    } else if within == 0 {
        Seat::Crossing
    } else if within == along.len() + 1 {
        Seat::WithinTile
    } else {
        Seat::OnJoint
    };
    let beside_itself = |lies: &&Lies| matches!(lies, Lies::Within { centred: false, .. });
    let not_centred =
        usize::from(beside_itself(&&up)) + usize::from(along.iter().any(|one| beside_itself(&one)));
    Some((seat, web, not_centred))
}

fn lies(spans: &[Span], centre: Length, radius: Length) -> Option<Lies> {
    let (from, to) = (centre - radius, centre + radius);
    let first = spans.partition_point(|span| span.1 <= from);
    let last = spans.partition_point(|span| span.0 < to);
    let is_middle = |span: Span| (centre * 2 - span.0 - span.1).abs() <= Length::from_units(1);
    match spans.get(first..last)? {
        // In the joint itself, past which there is tile on both sides.
        [] => (0 < first && first < spans.len()).then_some(Lies::OnJoint),
        [only] if only.0 <= from && to <= only.1 => {
            Some(Lies::Within { centred: is_middle(*only), web: (from - only.0).min(only.1 - to) })
        }
        [left, right] if is_middle((left.1, right.0)) && left.0 <= from && to <= right.1 => {
            Some(Lies::OnJoint)
        }
        [one, .., other] => (one.0 <= from && to <= other.1).then_some(Lies::AcrossEdge),
        // Over one edge of a tile, into the joint: tile must follow on that side.
        [_] => {
            let left_is_out = spans.get(first).is_some_and(|span| from < span.0);
            let followed = if left_is_out { first > 0 } else { last < spans.len() };
            followed.then_some(Lies::AcrossEdge)
        }
    }
}
