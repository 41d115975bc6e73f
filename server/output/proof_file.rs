//! The proof of a job's tile figures as a file: for each kind of tile the pieces as an offcut file has them, and the
//! answer with its plan and its proof, for whoever wants to go over them.

use serde_json::{Value, json};
use trade::job_file::write_offcuts;
use trade::measure::{Length, TileId, Unit};
use trade::offcut::{Problem, Racked, Wanted};
use trade::search::{LayoutOption, TileCutting};

/// Every kind of tile; lengths are millimetres.
pub fn proof_file(option: &LayoutOption) -> String {
    let kinds = option.cutting.iter().map(|(id, cutting)| kind(id, cutting));
    format!("{:#}\n", json!({ "tiles": Value::from_iter(kinds) }))
}

fn kind(TileId(id): &TileId, cutting: &TileCutting) -> Value {
    let (problem, plan) = cutting.proved();
    let mut kind = json!({
        "tile": id,
        "whole": cutting.full,
        "offcuts": asked(problem),
        "answer": write_offcuts(Unit::Millimetre, problem, plan),
    });
    if cutting.open.is_some() {
        // The proof is about what was open when it was planned again; these were cut into before.
        kind["begun"] = json!(cutting.plan.tiles().saturating_sub(plan.tiles()));
    }
    kind
}

fn asked(problem: &Problem) -> Value {
    json!({
        "unit": "mm",
        "tile": { "width": number(problem.tile_width()), "height": number(problem.tile_height()) },
        "kerf": number(problem.kerf()),
        "half_turn": problem.half_turn(),
        "quarter_turn": problem.quarter_turn(),
        "pieces": Value::from_iter(problem.pieces().iter().map(piece)),
        "rack": Value::from_iter(problem.rack().iter().map(racked)),
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

fn racked(racked: &Racked) -> Value {
    let factory = racked.factory.iter().map(|side| Value::from(side.name()));
    json!({
        "id": racked.id,
        "width": number(racked.width),
        "height": number(racked.height),
        "factory": Value::from_iter(factory),
    })
}

fn number(length: Length) -> Value {
    Value::Number(length.to_json_number())
}
