//! Fewer tiles from a plan that is already good, and offcuts that wait less.

use super::board::Board;
use super::exact::new_tiles;
use super::fronts::{Fronts, MOST_TOGETHER};
use super::greedy::{Habit, Order, Pick, Split};
use super::problem::Problem;
use super::sharing::Sharing;
use super::steps::{Chance, Steps};

/// Tries to do with one new tile less, again and again, until `enough` is reached or the steps are spent.
///
/// The tile with the least on it is taken away and its pieces are over. Then a few tiles at a time, drawn by lot,
/// are emptied and cut anew with the pieces that are over among theirs, in the order and the habit that the lot
/// says; what comes out no worse is kept (after the "ruin and recreate" principle of G. Schrimpf and others,
/// 2000). When nothing is over, a tile is saved.
pub(super) fn save_tiles<'p>(
    sharing: &Sharing<'p>,
    mut boards: Vec<Board<'p>>,
    enough: usize,
    steps: &mut Steps,
) -> Vec<Board<'p>> {
    let problem = sharing.problem;
    let mut chance = Chance::new();
    while new_tiles(&boards) > enough {
        let mut fewer = boards.clone();
        let new = (0..fewer.len()).filter(|index| fewer[*index].rack().is_none());
        let Some(least) = new.min_by_key(|index| weight(problem, fewer[*index].pieces())) else { break };
        let over = fewer.swap_remove(least).pieces().to_vec();
        match place_all(sharing, fewer, over, &mut chance, steps) {
            Some(saved) => boards = saved,
            None => break,
        }
    }
    boards
}

fn place_all<'p>(
    sharing: &Sharing<'p>,
    mut boards: Vec<Board<'p>>,
    mut over: Vec<usize>,
    chance: &mut Chance,
    steps: &mut Steps,
) -> Option<Vec<Board<'p>>> {
    let problem = sharing.problem;
    let most = boards.len();
    while !over.is_empty() {
        if most == 0 || !steps.spend(most) {
            return None;
        }
        let mut trial = boards.clone();
        let mut pool = over.clone();
        let mut emptied = Vec::new();
        for _ in 0..(1 + chance.below(3)).min(most) {
            let taken = trial.swap_remove(draw_tile(sharing, &trial, &pool, chance));
            pool.extend(taken.pieces());
            emptied.push(taken.emptied());
        }
        trial.extend(emptied);
        let left = recut(problem, pool, &mut trial, most, chance, steps);
        if weight(problem, &left) <= weight(problem, &over) {
            boards = trial;
            over = left;
        }
    }
    Some(boards)
}

/// A tile drawn by lot, if need be several times, until one of its pieces could share with one of the pool.
fn draw_tile(sharing: &Sharing<'_>, boards: &[Board<'_>], pool: &[usize], chance: &mut Chance) -> usize {
    let mut tile = chance.below(boards.len());
    for _ in 0..8 {
        let with = pool[chance.below(pool.len())];
        if boards[tile].pieces().iter().any(|&piece| sharing.share(piece, with)) {
            break;
        }
        tile = chance.below(boards.len());
    }
    tile
}

/// Cuts the pool in an order near that of size, and one in eight pieces out of turn.
fn recut<'p>(
    problem: &'p Problem,
    mut pool: Vec<usize>,
    boards: &mut Vec<Board<'p>>,
    most: usize,
    chance: &mut Chance,
    steps: &mut Steps,
) -> Vec<usize> {
    const ORDERS: [Order; 5] = [Order::Area, Order::Needs, Order::LongSide, Order::Width, Order::Height];
    const PICKS: [Pick; 3] = [Pick::Smallest, Pick::SpareSides, Pick::Tightest];
    const SPLITS: [Split; 4] = [Split::LargeRest, Split::SmallRest, Split::AcrossX, Split::AcrossY];
    let habit = Habit {
        order: ORDERS[chance.below(ORDERS.len())],
        pick: PICKS[chance.below(PICKS.len())],
        split: SPLITS[chance.below(SPLITS.len())],
    };
    pool.sort_unstable();
    habit.order.sort(problem, &mut pool);
    for index in 0..pool.len() {
        if chance.below(4) == 0 {
            let other = chance.below(pool.len());
            pool.swap(index, other);
        }
    }
    habit.cut(problem, &pool, boards, most, steps)
}

/// What is over, judged by area and, since small pieces have needs too, by number.
fn weight(problem: &Problem, pieces: &[usize]) -> i128 {
    let tile = Board::whole(problem).part(0).at;
    let each = i128::from(tile.width().units()) * i128::from(tile.height().units()) / 8;
    pieces.iter().map(|piece| each + problem.shapes(*piece)[0].area()).sum()
}

/// How long offcuts wait: for every piece but the first of its tile, how many pieces are set in between.
pub(super) fn waiting(pieces: &[usize]) -> usize {
    let first = pieces.iter().min().copied().unwrap_or(0);
    pieces.iter().map(|piece| piece - first).sum()
}

/// Changes pieces between tiles, one for one, while offcuts wait less after it.
pub(super) fn wait_less<'p>(sharing: &Sharing<'p>, boards: &mut [Board<'p>], steps: &mut Steps) {
    loop {
        let mut better = false;
        for a in 0..boards.len() {
            for b in a + 1..boards.len() {
                if !steps.spend(1) {
                    return;
                }
                while let Some((new_a, new_b)) = exchange(sharing, &boards[a], &boards[b], steps) {
                    boards[a] = new_a;
                    boards[b] = new_b;
                    better = true;
                }
            }
        }
        if !better {
            return;
        }
    }
}

/// The two tiles after the first exchange that shortens the wait, if there is one.
fn exchange<'p>(
    sharing: &Sharing<'p>,
    a: &Board<'p>,
    b: &Board<'p>,
    steps: &mut Steps,
) -> Option<(Board<'p>, Board<'p>)> {
    let now = waiting(a.pieces()) + waiting(b.pieces());
    for &from_a in a.pieces() {
        for &from_b in b.pieces() {
            let new_a = swapped(a.pieces(), from_a, from_b);
            let new_b = swapped(b.pieces(), from_b, from_a);
            if !steps.spend(new_a.len() + new_b.len()) {
                return None;
            }
            if waiting(&new_a) + waiting(&new_b) >= now {
                continue;
            }
            if sharing.kind(from_a) == sharing.kind(from_b) {
                let (mut a, mut b) = (a.clone(), b.clone());
                a.rename(from_a, from_b);
                b.rename(from_b, from_a);
                return Some((a, b));
            }
            if a.rack().or(b.rack()).is_some() {
                continue;
            }
            if let (Some(a), Some(b)) = (together(sharing, &new_a, steps), together(sharing, &new_b, steps)) {
                return Some((a, b));
            }
        }
    }
    None
}

fn swapped(pieces: &[usize], old: usize, new: usize) -> Vec<usize> {
    pieces.iter().map(|&piece| if piece == old { new } else { piece }).collect()
}

fn together<'p>(sharing: &Sharing<'p>, pieces: &[usize], steps: &mut Steps) -> Option<Board<'p>> {
    let pairwise =
        pieces.iter().enumerate().all(|(index, &a)| pieces[index + 1..].iter().all(|&b| sharing.share(a, b)));
    if pieces.len() > MOST_TOGETHER
        || !(pairwise || pieces.len() == 1)
        || !steps.spend(fronts_cost(pieces.len()))
    {
        return None;
    }
    Fronts::new(sharing.problem, pieces).board((1 << pieces.len()) - 1)
}

/// Joins of fronts, one for each way to part each subset in two, and about so many rooms against rooms a join.
fn fronts_cost(pieces: usize) -> usize {
    const ROOMS: usize = 30;
    (0..pieces).fold(ROOMS, |cost, _| cost * 3)
}
