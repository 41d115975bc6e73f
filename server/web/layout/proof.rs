//! How it is known that no plan uses fewer tiles, in words a lead can repeat, and the figures for those who want to go
//! over it.

use std::collections::BTreeMap;

use trade::offcut::{Prices, Problem, ProofPart, Reason};
use trade::search::TileCutting;

use super::words::Words;

/// How the figure of one kind of tile is known.
pub struct ProofWords {
    /// What is set whole and what has to be cut.
    pub begins: String,
    pub parts: Vec<PartWords>,
}

/// Pieces that share tiles only with one another.
pub struct PartWords {
    pub claims: String,
    pub why: Vec<String>,
    pub prices: Vec<Price>,
    /// What a whole tile can hold at most.
    pub best: String,
}

/// Pieces of one price.
pub struct Price {
    pub pieces: String,
    pub points: i64,
}

impl ProofWords {
    /// The argument for a bound, part by part; pieces that share with no other are told together.
    pub fn of(words: &Words, cutting: &TileCutting) -> Self {
        let (problem, plan) = cutting.proved();
        let parts = &plan.proof.parts;
        let (alone, together): (Vec<&ProofPart>, Vec<&ProofPart>) =
            parts.iter().partition(|part| part.pieces.len() == 1 && part.tiles == 1);
        let cut = problem.pieces().len();
        let mut told: Vec<PartWords> =
            together.into_iter().map(|part| PartWords::of(words, problem, part)).collect();
        told.extend((!alone.is_empty()).then(|| PartWords::alone(words, problem, &alone)));
        let begins = words.say_with("proof-begins", &[("whole", &cutting.full), ("cut", &cut)]);
        let begins = if cutting.open.is_some() {
            let begun = cutting.plan.tiles().saturating_sub(plan.tiles());
            format!("{} {begins}", words.say1("fit-proof-open", "count", &begun))
        } else {
            begins
        };
        Self { begins, parts: told }
    }
}

impl PartWords {
    fn of(words: &Words, problem: &Problem, part: &ProofPart) -> Self {
        let claims = words.say_with("proof-part", &[("count", &part.pieces.len()), ("tiles", &part.tiles)]);
        let (prices, more) = match &part.reason {
            Reason::Prices(prices) => (prices, None),
            Reason::OddSets { prices, sets } => {
                (prices, Some(words.say1("proof-odd-sets", "count", &sets.len())))
            }
            // One case: no search was made, the pieces were counted as a whole.
            Reason::Search { prices, cases: 1 } => (prices, Some(words.say("proof-counted"))),
            Reason::Search { prices, cases } => {
                let cases = i64::try_from(*cases).unwrap_or(i64::MAX);
                (prices, Some(words.say1("proof-search", "cases", &cases)))
            }
        };
        let mut why: Vec<String> = points(words, prices).into_iter().collect();
        why.extend(more);
        Self { claims, why, prices: by_price(problem, part, prices), best: best(words, prices) }
    }

    fn alone(words: &Words, problem: &Problem, parts: &[&ProofPart]) -> Self {
        let pieces = parts.iter().flat_map(|part| &part.pieces);
        let labels: Vec<&str> = pieces.map(|piece| problem.pieces()[*piece].id.as_str()).collect();
        Self {
            claims: words.say1("proof-alone", "count", &labels.len()),
            why: vec![labels.join(", ")],
            prices: Vec::new(),
            best: String::new(),
        }
    }
}

/// What the points alone say; nothing where there are none.
fn points(words: &Words, prices: &Prices) -> Option<String> {
    let all: i64 = prices.each.iter().sum();
    let racked: i64 = prices.best_of_rack.iter().sum();
    let same = prices.each.first().filter(|first| prices.each.iter().all(|each| each == *first));
    let is_told_by_number = |each: &&&i64| ***each > 0 && prices.best_pattern % ***each == 0 && racked == 0;
    if let Some(each) = same.as_ref().filter(is_told_by_number) {
        return Some(words.say1("proof-at-most", "most", &(prices.best_pattern / **each)));
    }
    (all > 0 && prices.best_pattern > 0).then(|| {
        let key = if racked > 0 { "proof-points-rack" } else { "proof-points" };
        words.say_with(key, &[("all", &all), ("best", &prices.best_pattern), ("racked", &racked)])
    })
}

fn best(words: &Words, prices: &Prices) -> String {
    words.say1("proof-best", "best", &prices.best_pattern)
}

/// Pieces by what they are worth, the dearest first.
fn by_price(problem: &Problem, part: &ProofPart, prices: &Prices) -> Vec<Price> {
    let mut by_price: BTreeMap<i64, Vec<&str>> = BTreeMap::new();
    for (piece, price) in part.pieces.iter().zip(&prices.each) {
        by_price.entry(*price).or_default().push(&problem.pieces()[*piece].id);
    }
    let price = |(points, pieces): (i64, Vec<&str>)| Price { pieces: pieces.join(", "), points };
    by_price.into_iter().rev().map(price).collect()
}
