//! A plan with the fewest tiles, and the proof.
//!
//! Groups of pieces that never mix are planned one by one. Each is first planned in several quick ways, none of which
//! always wins: as pairs, and piece after piece in many habits; the best has the fewest tiles, then the offcuts that wait
//! the shortest, then the fewest cuts, and is improved while it is above the quick bound. The careful tiler's way is one
//! of those tried, so that no plan takes more tiles than setting order does. Then the gap is closed as far as it can be:
//! see the module `exact`.

use std::ops::ControlFlow;

use super::board::Board;
use super::bound::{PAIR_STEPS, quick_bound};
use super::exact::{Group, close, new_tiles};
use super::fronts::Fronts;
use super::greedy::{CAREFUL, Habit, Order, all_habits};
use super::improve::{save_tiles, waiting};
use super::matching::most_pairs;
use super::problem::Problem;
use super::sharing::Sharing;
use super::steps::{Steps, Watch};
use super::{Plan, Proof, ProofPart};

/// Steps for one stage of planning a group, for each piece in it: enough that a room is planned in a blink and
/// five hundred pieces in less than a second.
const STEPS_A_PIECE: usize = 30_000;

/// And for any group, however large.
const MOST_STEPS: usize = 12_000_000;

/// Steps for a whole problem that is one of many: about a second.
const BRIEF_STEPS: usize = 60_000_000;

/// Steps for a whole problem by itself: minutes.
const PATIENT_STEPS: usize = 20_000_000_000;

/// How much work planning may take, in counted steps, so that the same problem always gives the same plan.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Effort {
    /// About a second at most, for one layout of several.
    Brief,
    /// Minutes where they are needed.
    Patient,
}

/// Plans which pieces are cut from the same tile, with about a second's work at most.
pub fn solve(problem: &Problem) -> Plan {
    solve_while(problem, Effort::Brief, &mut |_| ControlFlow::Continue(()))
}

/// How far planning has come.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Progress {
    /// New tiles of the best plan so far.
    pub tiles: usize,
    /// The best bound so far.
    pub bound: usize,
}

/// Plans for as long as `go_on` says so, which is asked every few milliseconds; the best plan and the best bound found by
/// then are the answer.
pub fn solve_while(
    problem: &Problem,
    effort: Effort,
    go_on: &mut dyn FnMut(Progress) -> ControlFlow<()>,
) -> Plan {
    let steps = match effort {
        Effort::Brief => BRIEF_STEPS,
        Effort::Patient => PATIENT_STEPS,
    };
    plan(problem, &Watch::new(go_on, steps))
}

fn plan(problem: &Problem, watch: &Watch<'_>) -> Plan {
    let sharing = Sharing::new(problem);
    let mut groups = Vec::new();
    for pieces in sharing.groups() {
        groups.push(plan_quickly(&sharing, pieces, STEPS_A_PIECE, watch));
        watch.reached(reached(&groups, &[]));
    }
    // The small ones, which are soon done, before a large one takes the time.
    groups.sort_by_key(|group| group.pieces.len());
    let mut parts: Vec<ProofPart> = Vec::new();
    for nth in 0..groups.len() {
        // A group that will not close leaves something to those after it.
        watch.keep_half(nth + 1 < groups.len());
        parts.push(close(&sharing, &mut groups[nth], watch));
        watch.reached(reached(&groups, &parts));
    }
    parts.sort_by_key(|part| part.pieces.first().copied());
    let in_setting_order = groups.iter().map(|group| group.in_setting_order).sum();
    let mut boards: Vec<Board<'_>> = groups.into_iter().flat_map(|group| group.boards).collect();
    boards.sort_by_key(|board| board.pieces().iter().min().copied());
    Plan {
        stock: boards.iter().map(Board::stock).collect(),
        bound: parts.iter().map(|part| part.tiles).sum(),
        proof: Proof { parts },
        in_setting_order,
    }
}

/// What [`solve`] would find, estimated in a small part of the time and without a proof: no plan takes fewer tiles than
/// `bound`, and some plan takes `tiles`. For a search that compares hundreds of layouts.
pub fn estimate(problem: &Problem) -> Progress {
    let sharing = Sharing::new(problem);
    let mut go_on = |_| ControlFlow::Continue(());
    let watch = Watch::new(&mut go_on, BRIEF_STEPS);
    let groups = sharing.groups().into_iter();
    let groups: Vec<_> =
        groups.map(|group| plan_quickly(&sharing, group, STEPS_A_PIECE / 10, &watch)).collect();
    reached(&groups, &[])
}

/// Bounds that are proved count, for the other groups the quick ones.
fn reached(groups: &[Group<'_>], proved: &[ProofPart]) -> Progress {
    let tiles = groups.iter().map(Group::tiles).sum();
    let quick = groups[proved.len()..].iter().map(|group| group.quick);
    Progress { tiles, bound: proved.iter().map(|part| part.tiles).chain(quick).sum() }
}

/// In several ways of which none always wins; the best is then improved while it is above the quick bound.
fn plan_quickly<'p>(
    sharing: &Sharing<'p>,
    pieces: Vec<usize>,
    steps_a_piece: usize,
    watch: &Watch<'_>,
) -> Group<'p> {
    let problem = sharing.problem;
    let steps = || watch.steps(pieces.len().saturating_mul(steps_a_piece).min(MOST_STEPS));
    let quick = quick_bound(sharing, &pieces, &mut watch.steps(PAIR_STEPS));
    let careful = cut_all(problem, &pieces, CAREFUL, &mut steps());
    let in_setting_order = new_tiles(&careful);
    let mut boards = careful;
    if pieces.len() > 1 {
        boards = better(boards, cut_pairs(sharing, &pieces, &mut steps()));
        boards = best_habit(problem, &pieces, boards, &mut steps());
        boards = save_tiles(sharing, boards, quick, &mut steps());
    }
    boards.retain(|board| !board.pieces().is_empty());
    Group { pieces, boards, quick, in_setting_order }
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
    let mut boards: Vec<Board<'p>> =
        (0..problem.rack().len()).map(|rack| Board::racked(problem, rack)).collect();
    let most = boards.len() + group.len();
    habit.cut(problem, &pieces, &mut boards, most, steps);
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
    (new_tiles(boards), wait, boards.iter().map(Board::cuts).sum())
}
