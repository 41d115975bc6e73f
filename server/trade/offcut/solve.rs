//! A plan with few tiles.
//!
//! Groups of pieces that never mix are planned one by one. Each is planned in several ways, none of which always
//! wins: as pairs, and piece after piece in many habits; the best is then improved while it is above the bound.
//! The best has the fewest tiles, then the offcuts that wait the shortest, then the fewest cuts. The careful
//! tiler's way is one of those tried, so that no plan takes more tiles than setting order does.

use std::ops::ControlFlow;

use super::board::Board;
use super::bound::bound_of_group;
use super::fronts::Fronts;
use super::greedy::{CAREFUL, Habit, Order, all_habits};
use super::improve::{save_tiles, wait_less, waiting};
use super::matching::most_pairs;
use super::problem::Problem;
use super::sharing::Sharing;
use super::steps::Steps;
use super::{Plan, Proof};

/// Steps for one stage of planning a group, for each piece in it: enough that a room is planned in a blink and
/// five hundred pieces in less than a second.
const STEPS_A_PIECE: usize = 30_000;

/// And for any group, however large.
const MOST_STEPS: usize = 12_000_000;

/// Plans which pieces are cut from the same tile. The same problem always gives the same plan.
pub fn solve(problem: &Problem) -> Plan {
    solve_while(problem, &mut |_| ControlFlow::Continue(()))
}

/// How far planning has come.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Progress {
    /// New tiles of the best plan so far.
    pub tiles: usize,
    /// The best bound so far.
    pub bound: usize,
}

/// Plans as [`solve`] does for as long as `go_on` says so, which is asked every so often; the best plan and the best
/// bound found by then are the answer.
pub fn solve_while(problem: &Problem, go_on: &mut dyn FnMut(Progress) -> ControlFlow<()>) -> Plan {
    let _ = go_on;
    let sharing = Sharing::new(problem);
    let mut boards = Vec::new();
    let mut bound = 0;
    let mut in_setting_order = 0;
    for group in sharing.groups() {
        let planned = plan_group(&sharing, &group);
        boards.extend(planned.boards);
        bound += planned.bound;
        in_setting_order += planned.in_setting_order;
    }
    boards.sort_by_key(|board| board.pieces().iter().min().copied());
    Plan {
        stock: boards.iter().map(Board::stock).collect(),
        bound,
        proof: Proof::default(),
        in_setting_order,
    }
}

struct Planned<'p> {
    boards: Vec<Board<'p>>,
    bound: usize,
    in_setting_order: usize,
}

fn plan_group<'p>(sharing: &Sharing<'p>, group: &[usize]) -> Planned<'p> {
    let problem = sharing.problem;
    let bound = bound_of_group(sharing, group);
    let steps = || Steps::of(group.len().saturating_mul(STEPS_A_PIECE).min(MOST_STEPS));
    let careful = cut_all(problem, group, CAREFUL, &mut steps());
    let in_setting_order = careful.len();
    let mut best = careful;
    if group.len() > 1 {
        best = better(best, cut_pairs(sharing, group, &mut steps()));
        best = best_habit(problem, group, best, &mut steps());
        best = save_tiles(sharing, best, bound, &mut steps());
        wait_less(sharing, &mut best, &mut steps());
    }
    Planned { boards: best, bound, in_setting_order }
}

fn best_habit<'p>(
    problem: &'p Problem,
    group: &[usize],
    known: Vec<Board<'p>>,
    steps: &mut Steps,
) -> Vec<Board<'p>> {
    let mut best = known;
    for habit in all_habits() {
        if steps.spent() {
            break;
        }
        best = better(best, cut_all(problem, group, habit, steps));
    }
    best
}

fn cut_all<'p>(problem: &'p Problem, group: &[usize], habit: Habit, steps: &mut Steps) -> Vec<Board<'p>> {
    let mut pieces = group.to_vec();
    habit.order.sort(problem, &mut pieces);
    let mut boards = Vec::new();
    habit.cut(problem, &pieces, &mut boards, group.len(), steps);
    boards
}

/// As many tiles with two pieces as there can be, one on each other: the best there is where no three share.
fn cut_pairs<'p>(sharing: &Sharing<'p>, group: &[usize], steps: &mut Steps) -> Vec<Board<'p>> {
    let mut pieces = group.to_vec();
    Order::Area.sort(sharing.problem, &mut pieces);
    let pairs = most_pairs(pieces.len(), |a, b| sharing.share(pieces[a], pieces[b]), steps);
    let mut boards = Vec::new();
    for (a, mate) in pairs.mate.iter().enumerate() {
        let together = match *mate {
            Some(b) if b < a => continue,
            Some(b) => vec![pieces[a], pieces[b]],
            None => vec![pieces[a]],
        };
        let all = (1 << together.len()) - 1;
        boards.extend(Fronts::new(sharing.problem, &together).board(all));
    }
    boards
}

fn better<'p>(a: Vec<Board<'p>>, b: Vec<Board<'p>>) -> Vec<Board<'p>> {
    if merit(&b) < merit(&a) { b } else { a }
}

/// Least is best: tiles, then how long offcuts wait, then cuts.
fn merit(boards: &[Board<'_>]) -> (usize, usize, usize) {
    let wait = boards.iter().map(|board| waiting(board.pieces())).sum();
    (boards.len(), wait, boards.iter().map(Board::cuts).sum())
}
