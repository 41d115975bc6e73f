//! What came of a measurement: which pieces have another size, and what it costs.

use askama::Template;
use trade::geometry::Rect;
use trade::place::{PieceId, TrueSize, Way};

use super::page::{BackForm, frame, place};
use super::room::Room;
use super::words::Words;
use crate::app::App;
use crate::store::{MeasuredRecord, TileCount};
use crate::web::page::Frame;
use crate::web::urls;

/// The answer to a measurement.
#[derive(Template)]
#[template(path = "fit/told.html")]
pub struct Told {
    frame: Frame,
    place: String,
    /// What it costs, a line a kind of tile.
    costs: Vec<String>,
    /// What the tape read, and what that comes to.
    sums: Vec<String>,
    lines: Vec<Line>,
    /// Why it does not stand, where it does not.
    gone: Option<String>,
    back: Option<BackForm>,
    /// To the saw, or to the first piece that is to be trimmed or cut anew.
    saw_url: String,
    saw_words: String,
    again_url: String,
}

/// One piece.
struct Line {
    piece: String,
    url: String,
    says: String,
    /// It was cut before, and does not fit any more.
    look: Option<String>,
    /// Who else has it in hand.
    held: Option<String>,
}

impl Told {
    /// The page of one measurement.
    pub fn new(app: &App, room: &Room, record: &MeasuredRecord) -> Self {
        let words = Words::new(&app.texts, room.head.unit);
        let found = &record.found;
        let stands = room.yard.log.sawn.measured.iter().any(|of| of.event == record.event);
        let held = room.holds(&record.piece, record);
        let gone = match (stands, held) {
            (false, _) => Some(words.say("fit-told-taken-back")),
            (true, false) => Some(words.say("fit-told-other-plan")),
            (true, true) => None,
        };
        let changed = found.sizes.iter().filter(|(_, size)| as_measured(size) != size.planned).count();
        let title = match changed {
            0 => words.say_with("fit-told-same", &[("piece", &record.piece.0)]),
            _ => words.say_with("fit-told-sizes", &[("piece", &record.piece.0), ("count", &changed)]),
        };
        let clear = room.clear();
        let sums = found.readings.iter().filter_map(|reading| {
            let clear = clear.iter().find(|clear| clear.way == reading.way)?;
            Some(words.comes_to(&record.piece, clear, reading.opening))
        });
        let several = found.tiles.len() > 1;
        let saw = &room.yard.saw;
        let is_off = |piece: &&PieceId| {
            let entry = saw.entry(piece);
            entry.and_then(|entry| entry.fits(room.head.unit)).is_some_and(|fits| fits.is_off())
        };
        let to_mend = found.sizes.iter().map(|(piece, _)| piece).find(is_off);
        let anew = found.sizes.iter().filter(|(piece, _)| saw.is_to_be_cut_anew(piece));
        let anew = anew.map(|(piece, _)| words.say_with("fit-cost-anew", &[("piece", &piece.0)]));
        let costs = found.tiles.iter().map(|count| cost(&words, count, several));
        Self {
            place: place(app, room),
            costs: anew.chain(costs).collect(),
            sums: sums.collect(),
            lines: found.sizes.iter().map(|(piece, size)| line(room, &words, piece, size)).collect(),
            back: stands.then(|| BackForm::of(room, record)),
            gone,
            saw_url: to_mend
                .map_or_else(|| urls::cuts(&room.head.id), |piece| urls::cut(&room.head.id, &piece.0)),
            saw_words: to_mend.map_or_else(
                || words.say("fit-to-saw"),
                |piece| {
                    words.say_with(
                        if saw.is_to_be_cut_anew(piece) { "fit-to-anew" } else { "fit-to-trim" },
                        &[("piece", &piece.0)],
                    )
                },
            ),
            again_url: urls::fit(&room.head.id, &record.piece.0),
            frame: frame(app, room, title),
        }
    }
}

/// The bounds that a piece has by its true size.
pub fn as_measured(size: &TrueSize) -> Rect {
    use trade::geometry::Side;
    let Rect { left, bottom, right, top } = size.planned;
    Rect {
        left: left - size.by(Side::Left),
        bottom: bottom - size.by(Side::Bottom),
        right: right + size.by(Side::Right),
        top: top + size.by(Side::Top),
    }
}

fn cost(words: &Words, count: &TileCount, several: bool) -> String {
    let (before, after) = (count.before, count.after);
    let says = match after.cmp(&before) {
        std::cmp::Ordering::Equal => words.say_with("fit-cost-none", &[("all", &after)]),
        std::cmp::Ordering::Greater => {
            words.say_with("fit-cost-more", &[("count", &(after - before)), ("all", &after)])
        }
        std::cmp::Ordering::Less => {
            words.say_with("fit-cost-fewer", &[("count", &(before - after)), ("all", &after)])
        }
    };
    if several { format!("{}: {says}", count.tile.0) } else { says }
}

fn line(room: &Room, words: &Words, piece: &PieceId, size: &TrueSize) -> Line {
    let now = as_measured(size);
    let says = [Way::Across, Way::Up].into_iter().filter(|way| way.size(&now) != way.size(&size.planned));
    let says = says.map(|way| {
        let key = match way {
            Way::Across => "fit-line-across",
            Way::Up => "fit-line-up",
        };
        let (now, was) = (words.cut(way.size(&now)), words.cut(way.size(&size.planned)));
        words.say_with(key, &[("now", &now), ("was", &was)])
    });
    let says: Vec<String> = says.collect();
    let entry = room.yard.saw.entry(piece);
    let unit = room.head.unit;
    let misfit = entry.filter(|entry| entry.fits(unit).is_some_and(|fits| fits.is_off()));
    let to_trim = misfit.is_some_and(|entry| room.yard.saw.trimming(entry).is_some());
    let held = room.yard.hands.others(piece).map(|claim| {
        let who = room.yard.log.name(&claim.person).to_owned();
        words.say_with("fit-line-held", &[("who", &who)])
    });
    let full = room.piece_now(piece).is_some_and(|piece| piece.full);
    Line {
        piece: piece.0.clone(),
        url: if full { urls::cuts(&room.head.id) } else { urls::cut(&room.head.id, &piece.0) },
        says: match (says.is_empty(), full) {
            (_, true) => words.say("fit-line-whole"),
            (true, false) => words.say("fit-line-same"),
            (false, false) => says.join(", "),
        },
        held: held.filter(|_| !says.is_empty()),
        look: misfit.map(|_| words.say(if to_trim { "fit-line-trim" } else { "fit-line-cut" })),
    }
}
