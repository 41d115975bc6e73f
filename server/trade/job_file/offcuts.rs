//! The offcut file: a list of pieces from anywhere in, the fewest tiles that they can be cut from out.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value, json};

use super::walk::{Keys, Node, Walk};
use super::{Fault, json_of, limits};
use crate::geometry::{Rect, Side, Sides};
use crate::measure::{Length, Unit};
use crate::offcut::{
    Axis, Cut, Demand, MOST_PIECES, Place, Plan, Prices, Problem, ProblemFault, ProofPart, Racked, Reason,
    Stock, Wanted,
};

/// What an offcut file says.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ReadOffcuts {
    /// The pieces that are wanted.
    pub problem: Problem,
    /// The unit of the file's numbers, and of those in the answer.
    pub unit: Unit,
    /// JSON paths of keys that mean nothing here.
    pub ignored: Vec<String>,
}

/// Reads an offcut file.
///
/// Lengths are read as in a job file. A piece with `count` stands for so many equal ones, set one after the
/// other. Any kerf of 0 or more is taken, also one wider than the tile: then no two pieces share one.
///
/// # Errors
/// Every fault found, in no more than one line each.
pub fn read_offcuts(text: &str) -> Result<ReadOffcuts, Vec<Fault>> {
    let (value, faults) = json_of(text)?;
    let mut walk = Walk { unit: Unit::Millimetre, faults, ignored: Vec::new() };
    let root = Node { path: "$".to_owned(), value: &value };
    let demand = walk.keys(&root, "a JSON object").and_then(|keys| demand(&mut walk, keys));
    match demand {
        Some((demand, origins)) if walk.faults.is_empty() => match Problem::new(demand) {
            Ok(problem) => Ok(ReadOffcuts { problem, unit: walk.unit, ignored: walk.ignored }),
            Err(faults) => Err(refused(&faults, &origins)),
        },
        _ => Err(walk.faults),
    }
}

/// For each piece of the demand, where it stands in the file: `count` pieces stand at one place.
type Origins = Vec<String>;

fn demand(walk: &mut Walk, mut object: Keys) -> Option<(Demand, Origins)> {
    let keys = &mut object;
    let unit = walk.or(keys, "unit", Unit::Millimetre, |walk, node| {
        walk.word(node, &[("mm", Unit::Millimetre), ("in", Unit::Inch)])
    });
    walk.unit = unit.unwrap_or(Unit::Millimetre);
    let tile = walk.required(keys, "tile", "an object with the tile's width and height", tile);
    let kerf = walk.required(keys, "kerf", "the width of the saw cut, 0 where none is lost", Walk::gap);
    let half_turn = walk.or(keys, "half_turn", true, Walk::truth);
    let quarter_turn = walk.or(keys, "quarter_turn", false, Walk::truth);
    let pieces = walk.required(keys, "pieces", "a list of pieces", pieces);
    let rack = walk.or(keys, "rack", Vec::new(), rack);
    walk.close(object);
    let (tile_width, tile_height) = tile?;
    let (pieces, origins) = pieces?;
    let (kerf, half_turn, quarter_turn, rack) = (kerf?, half_turn?, quarter_turn?, rack?);
    Some((Demand { tile_width, tile_height, kerf, half_turn, quarter_turn, pieces, rack }, origins))
}

fn tile(walk: &mut Walk, node: &Node) -> Option<(Length, Length)> {
    let mut object = walk.keys(node, "an object with the tile's width and height")?;
    let width = walk.required(&mut object, "width", "the tile's measured width", Walk::size);
    let height = walk.required(&mut object, "height", "the tile's measured height", Walk::size);
    walk.close(object);
    Some((width?, height?))
}

fn pieces(walk: &mut Walk, node: &Node) -> Option<(Vec<Wanted>, Origins)> {
    let nodes = walk.list(node, MOST_PIECES, "a list of pieces")?;
    let mut ids = BTreeSet::new();
    let read: Vec<_> = nodes.iter().map(|node| (piece(walk, node, &mut ids), &node.path)).collect();
    let counts = read.iter().filter_map(|(piece, _)| piece.as_ref()).map(|(_, count)| u64::from(*count));
    let (all, most) = (counts.sum::<u64>(), u64::try_from(MOST_PIECES).unwrap_or(u64::MAX));
    if all > most {
        let expected = format!("at most {MOST_PIECES} pieces in all: plan room by room");
        return walk.note(&node.path, format!("{all} pieces"), expected);
    }
    let (mut pieces, mut origins) = (Vec::new(), Vec::new());
    for (piece, path) in read {
        let (piece, count) = piece?;
        for _ in 0..count {
            pieces.push(piece.clone());
            origins.push(path.clone());
        }
    }
    Some((pieces, origins))
}

fn piece(walk: &mut Walk, node: &Node, ids: &mut BTreeSet<String>) -> Option<(Wanted, u32)> {
    let mut object = walk.keys(node, "an object that describes a piece")?;
    let keys = &mut object;
    let id = walk.required(keys, "id", "the piece's name", |walk, node| name(walk, node, ids));
    let width = walk.required(keys, "width", "the piece's width on the wall", Walk::size);
    let height = walk.required(keys, "height", "the piece's height on the wall", Walk::size);
    let factory = walk.or(keys, "factory", Sides::NONE, sides);
    let alone = walk.or(keys, "alone", false, Walk::truth);
    let most = u32::try_from(MOST_PIECES).unwrap_or(u32::MAX);
    let count = walk.or(keys, "count", 1, |walk, node| count(walk, node, most));
    walk.close(object);
    Some((Wanted { id: id?, width: width?, height: height?, factory: factory?, alone: alone? }, count?))
}

/// A number beyond what can be planned is counted with the others, so that one line says how many there are.
fn count(walk: &mut Walk, node: &Node, most: u32) -> Option<u32> {
    match node.value.as_u64().and_then(|count| u32::try_from(count).ok()) {
        Some(many) if many > most => Some(many),
        _ => walk.count(node, most),
    }
}

fn rack(walk: &mut Walk, node: &Node) -> Option<Vec<Racked>> {
    if node.value.as_array().is_some_and(Vec::is_empty) {
        return Some(Vec::new());
    }
    let nodes = walk.list(node, MOST_PIECES, "a list of offcuts at hand")?;
    let mut ids = BTreeSet::new();
    let read: Vec<_> = nodes.iter().map(|node| racked(walk, node, &mut ids)).collect();
    read.into_iter().collect()
}

fn racked(walk: &mut Walk, node: &Node, ids: &mut BTreeSet<String>) -> Option<Racked> {
    let mut object = walk.keys(node, "an object that describes an offcut")?;
    let keys = &mut object;
    let id = walk.required(keys, "id", "the offcut's name", |walk, node| name(walk, node, ids));
    let width = walk.required(keys, "width", "the offcut's width on the table", Walk::size);
    let height = walk.required(keys, "height", "the offcut's height on the table", Walk::size);
    let factory = walk.or(keys, "factory", Sides::NONE, sides);
    walk.close(object);
    Some(Racked { id: id?, width: width?, height: height?, factory: factory? })
}

/// A name of at least one character that no other in the list has.
fn name(walk: &mut Walk, node: &Node, ids: &mut BTreeSet<String>) -> Option<String> {
    let name = walk.text(node)?;
    if name.is_empty() {
        return walk.refuse(node, format!("a name of 1 to {} characters", limits::NAME));
    }
    if !ids.insert(name.to_owned()) {
        return walk.refuse(node, "a name that no other has (equal pieces are one with a \"count\")");
    }
    Some(name.to_owned())
}

fn sides(walk: &mut Walk, node: &Node) -> Option<Sides> {
    const WHAT: &str = "a list of sides";
    if node.value.as_array().is_some_and(Vec::is_empty) {
        return Some(Sides::NONE);
    }
    let words = Side::ALL.map(|side| (side.name(), side));
    let nodes = walk.list(node, Side::ALL.len(), WHAT)?;
    let mut found = Sides::NONE;
    for node in &nodes {
        let side = walk.word(node, &words)?;
        if found.has(side) {
            return walk.refuse(node, "each side once");
        }
        found = found.with(side);
    }
    Some(found)
}

/// What the problem refuses, by where it stands in the file; what `count` pieces have in common once.
fn refused(faults: &[ProblemFault], origins: &[String]) -> Vec<Fault> {
    let origin = |piece: &usize| origins.get(*piece).cloned().unwrap_or_else(|| "$.pieces".to_owned());
    let racked = |rack: &usize| format!("$.rack[{rack}]");
    let mut lines = Vec::new();
    for fault in faults {
        let (path, expected) = match fault {
            ProblemFault::TileSize => ("$.tile".to_owned(), "a width and a height above 0"),
            ProblemFault::TileTooLong => ("$.tile".to_owned(), "a tile of at most 100 m"),
            ProblemFault::NegativeKerf => ("$.kerf".to_owned(), "a length of 0 or more"),
            ProblemFault::KerfTooWide => ("$.kerf".to_owned(), "a kerf of at most 100 m"),
            ProblemFault::TooManyPieces { .. } => ("$.pieces".to_owned(), "fewer pieces"),
            ProblemFault::PieceSize { piece, .. } => (origin(piece), "a width and a height above 0"),
            ProblemFault::PieceTooLarge { piece, .. } => (origin(piece), "a piece that fits on the tile"),
            ProblemFault::OppositeSides { piece, .. } => {
                (origin(piece), "factory sides that a piece of this size can keep")
            }
            ProblemFault::TooManyRacked { .. } => ("$.rack".to_owned(), "fewer offcuts"),
            ProblemFault::RackedSize { rack, .. } => (racked(rack), "a width and a height above 0"),
            ProblemFault::RackedTooLarge { rack, .. } => (racked(rack), "an offcut no larger than the tile"),
            ProblemFault::RackedOppositeSides { rack, .. } => {
                (racked(rack), "factory sides that an offcut of this size can have")
            }
        };
        let line =
            Fault { path, found: format!("what cannot be cut: {fault}"), expected: expected.to_owned() };
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
}

/// The plan as it stands in the answer's file, lengths in the unit asked.
pub fn write_offcuts(unit: Unit, problem: &Problem, plan: &Plan) -> Value {
    let written = Written { unit, problem };
    let stock = (1..).zip(&plan.stock).map(|(n, stock)| written.stock(n, stock));
    json!({
        "tiles": plan.tiles(),
        "bound": plan.bound,
        "optimal": plan.is_proved(),
        "proof": written.proof(&plan.proof.parts),
        "in_setting_order": plan.in_setting_order,
        "stock": Value::from_iter(stock),
    })
}

struct Written<'p> {
    unit: Unit,
    problem: &'p Problem,
}

impl Written<'_> {
    fn stock(&self, n: usize, stock: &Stock) -> Value {
        let mut written = json!({ "n": n });
        if let Some(racked) = stock.rack.and_then(|rack| self.problem.rack().get(rack)) {
            written["rack"] = racked.id.as_str().into();
        }
        written["pieces"] = stock.places.iter().map(|place| self.place(place)).collect();
        written["cuts"] = stock.cuts.iter().map(|cut| self.cut(stock, cut)).collect();
        written
    }

    fn place(&self, place: &Place) -> Value {
        let at = place.at;
        json!({
            "id": self.id(place.piece), "x": self.length(at.left), "y": self.length(at.bottom),
            "width": self.length(at.width()), "height": self.length(at.height()), "turn": place.turn.degrees(),
        })
    }

    fn cut(&self, stock: &Stock, cut: &Cut) -> Value {
        let Rect { left, bottom, .. } = cut.part;
        let part = [left, bottom, cut.part.width(), cut.part.height()].map(|length| self.length(length));
        let across = match cut.across {
            Axis::X => "x",
            Axis::Y => "y",
        };
        json!({ "part": part, "across": across, "at": self.length(stock.mark(cut, self.problem.kerf())) })
    }

    /// One part's reason by itself; several with the pieces and tiles of each.
    fn proof(&self, parts: &[ProofPart]) -> Value {
        if let [part] = parts {
            return self.reason(part);
        }
        let part = |part: &ProofPart| {
            let pieces = self.counted(&part.pieces);
            json!({ "pieces": pieces, "tiles": part.tiles, "proof": self.reason(part) })
        };
        json!({ "kind": "parts", "parts": Value::from_iter(parts.iter().map(part)) })
    }

    fn reason(&self, part: &ProofPart) -> Value {
        let (kind, prices) = match &part.reason {
            Reason::Prices(prices) => ("prices", prices),
            Reason::OddSets { prices, .. } => ("odd_sets", prices),
            Reason::Search { prices, .. } => ("search", prices),
        };
        let mut written = json!({ "kind": kind, "prices": self.prices(part, prices) });
        written["best_pattern"] = prices.best_pattern.into();
        if !self.problem.rack().is_empty() {
            let rack = self.problem.rack().iter().zip(&prices.best_of_rack);
            written["best_of_rack"] =
                rack.map(|(racked, best)| (racked.id.clone(), Value::from(*best))).collect();
        }
        match &part.reason {
            Reason::Prices(_) => {}
            Reason::OddSets { sets, .. } => {
                let sets =
                    sets.iter().map(|set| json!({ "pieces": self.counted(&set.pieces), "price": set.price }));
                written["sets"] = sets.collect();
            }
            Reason::Search { cases, .. } => written["cases"] = (*cases).into(),
        }
        written
    }

    /// By name, once for all equal pieces; a list in the rare case that those were given different prices.
    fn prices(&self, part: &ProofPart, prices: &Prices) -> Value {
        let mut by_id: BTreeMap<&str, Vec<i64>> = BTreeMap::new();
        for (&piece, &price) in part.pieces.iter().zip(&prices.each) {
            by_id.entry(self.id(piece)).or_default().push(price);
        }
        let one_or_all = |mut prices: Vec<i64>| {
            if prices.windows(2).all(|pair| pair[0] == pair[1]) {
                prices.truncate(1);
            }
            match prices[..] {
                [price] => Value::from(price),
                _ => Value::from(prices),
            }
        };
        by_id.into_iter().map(|(id, prices)| (id.to_owned(), one_or_all(prices))).collect()
    }

    /// How many there are of each name.
    fn counted(&self, pieces: &[usize]) -> Value {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for piece in pieces {
            *counts.entry(self.id(*piece)).or_default() += 1;
        }
        Value::Object(
            counts.into_iter().map(|(id, count)| (id.to_owned(), count.into())).collect::<Map<_, _>>(),
        )
    }

    fn id(&self, piece: usize) -> &str {
        self.problem.pieces().get(piece).map_or("", |piece| &piece.id)
    }

    fn length(&self, length: Length) -> Value {
        Value::Number(length.to_json_number_in(self.unit))
    }
}
