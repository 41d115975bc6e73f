//! The proof of a job's tile figures as a file: pieces, tile, and why no plan uses fewer. Lengths are millimetres.

use serde_json::{Map, Value, json};
use trade::measure::{Length, TileId};
use trade::offcut::{Prices, Problem, ProofPart, Reason, Wanted};
use trade::search::{LayoutOption, TileCutting};

/// Every kind of tile with its pieces, its bound and the argument for it.
pub fn proof_file(option: &LayoutOption) -> String {
    let kinds = option.cutting.iter().map(|(id, cutting)| kind(id, cutting));
    format!("{:#}\n", json!({ "unit": "mm", "tiles": Value::from_iter(kinds) }))
}

fn number(length: Length) -> Value {
    Value::Number(length.to_json_number())
}

fn kind(TileId(id): &TileId, cutting: &TileCutting) -> Value {
    let (problem, plan) = (&cutting.problem, &cutting.plan);
    json!({
        "id": id,
        "tile": { "width": number(problem.tile_width()), "height": number(problem.tile_height()) },
        "kerf": number(problem.kerf()),
        "half_turn": problem.half_turn(),
        "quarter_turn": problem.quarter_turn(),
        "whole": cutting.full,
        "cut_into": plan.tiles(),
        "bound": plan.bound,
        "pieces": Value::from_iter(problem.pieces().iter().map(piece)),
        "proof": Value::from_iter(plan.proof.parts.iter().map(|of| part(problem, of))),
    })
}

fn piece(piece: &Wanted) -> Value {
    let factory = piece.factory.iter().map(|side| Value::from(side.name()));
    json!({
        "id": piece.id,
        "width": number(piece.width),
        "height": number(piece.height),
        "factory": Value::from_iter(factory),
        "alone": piece.alone,
    })
}

fn part(problem: &Problem, part: &ProofPart) -> Value {
    let name = |piece: &usize| problem.pieces()[*piece].id.clone();
    let mut object = json!({ "tiles": part.tiles });
    let (kind, prices) = match &part.reason {
        Reason::Prices(prices) => ("prices", prices),
        Reason::OddSets { prices, sets } => {
            let set = |set: &trade::offcut::OddSet| json!({ "pieces": Value::from_iter(set.pieces.iter().map(name)), "price": set.price });
            object["odd_sets"] = sets.iter().map(set).collect();
            ("odd_sets", prices)
        }
        Reason::Search { prices, cases } => {
            object["cases"] = (*cases).into();
            ("search", prices)
        }
    };
    object["kind"] = kind.into();
    object["prices"] = named_prices(problem, part, prices);
    object["best_pattern"] = prices.best_pattern.into();
    object
}

fn named_prices(problem: &Problem, part: &ProofPart, prices: &Prices) -> Value {
    let named = part.pieces.iter().zip(&prices.each);
    let named: Map<String, Value> =
        named.map(|(piece, price)| (problem.pieces()[*piece].id.clone(), Value::from(*price))).collect();
    Value::Object(named)
}
