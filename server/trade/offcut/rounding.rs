//! Plans from the linear program, by fixing one pattern after the other, and going back where that led to nothing.
//!
//! The patterns that the program uses whole are used so often, or else the one it uses most of ("diving"), one at a time
//! where nothing may be missed; then the program is solved for what is left. Where it needs more tiles than aimed at,
//! the last choice is taken back: that pattern is used no more from there on. Each choice being either made or
//! forbidden, nothing is missed: when all choices are taken back there is no such plan, provided that the pool holds
//! every pattern and that each time the tiles were too many whole prices say so too, not only the program's floating
//! point.

use super::board::Board;
use super::kinds::Kinds;
use super::master::{Column, Master};
use super::odd_sets::{half, half_wanted};
use super::relax::{Relaxed, optimise, tiles_of_master, up};
use super::steps::{Chance, Steps};

/// What came of a search.
pub(super) enum Outcome {
    /// The columns of a plan, as often as each is used.
    Found(Vec<usize>),
    /// There is no such plan; so many cases were looked at.
    None { cases: u64 },
    /// The steps or the patience ran out.
    Unknown,
}

/// How to search.
#[derive(Clone, Copy)]
pub(super) struct Manner {
    /// The most new tiles.
    pub(super) aim: usize,
    /// The most cases.
    pub(super) cases: u64,
    /// Nothing may be missed.
    pub(super) thorough: bool,
}

/// A choice that was made, and all before it.
struct Frame {
    state: State,
    choice: usize,
}

/// What is still wanted, and the program for it.
#[derive(Clone)]
pub(super) struct State {
    master: Master,
    wanted: Vec<usize>,
    halves: Vec<usize>,
    tiles: usize,
    chosen: Vec<usize>,
    /// How much of which kind is to come in another's place.
    flows: Vec<f64>,
}

/// The most numbers kept in the states to go back to: 64 MB of them.
const MOST_KEPT: usize = 8_000_000;

/// Looks for a plan of at most so many tiles. Columns may be added from the pool.
pub(super) fn search(
    kinds: &Kinds<'_>,
    relaxed: &mut Relaxed,
    pool: &[Column],
    sets: &[Vec<bool>],
    manner: Manner,
    chance: Option<&mut Chance>,
    steps: &mut Steps,
) -> Outcome {
    let known = relaxed.columns.len();
    let outcome = go_through(kinds, relaxed, pool, sets, manner, chance, steps);
    // What was made to stand in for other patterns is of no more use.
    if !matches!(outcome, Outcome::Found(_)) && !relaxed.master.swaps.is_empty() {
        relaxed.columns.truncate(known);
    }
    outcome
}

fn go_through(
    kinds: &Kinds<'_>,
    relaxed: &mut Relaxed,
    pool: &[Column],
    sets: &[Vec<bool>],
    manner: Manner,
    chance: Option<&mut Chance>,
    steps: &mut Steps,
) -> Outcome {
    let wanted = kinds.counts();
    let halves = sets.iter().map(|set| half_wanted(&wanted, set)).collect();
    let master = relaxed.master.clone();
    let mut state = State { master, wanted, halves, tiles: 0, chosen: Vec::new(), flows: Vec::new() };
    let columns = &mut relaxed.columns;
    let mut frames: Vec<Frame> = Vec::new();
    let mut exhaustive = manner.thorough;
    let mut cases = 0;
    let mut chance = chance;
    loop {
        cases += 1;
        if cases > manner.cases || steps.spent() {
            return Outcome::Unknown;
        }
        let solved =
            state.master.restore(columns, steps) && optimise(&mut state.master, columns, pool, steps);
        let hopeless = !solved || state.tiles + up(state.master.tiles(columns)) > manner.aim;
        if hopeless {
            exhaustive &= solved && surely_hopeless(kinds, &state, columns, pool, manner.aim);
        } else {
            state.flows = state.master.flows();
            let choices = choices(&state, columns, manner.thorough, chance.as_deref_mut());
            if state.wanted.iter().all(|count| *count == 0) {
                return Outcome::Found(state.chosen);
            }
            let mut made = false;
            for choice in choices {
                let Some(choice) = state.fitted(kinds, choice, columns, sets, !made) else { continue };
                if !made || manner.thorough {
                    frames.push(Frame { state: state.clone(), choice });
                    let size = state.master.size();
                    if frames.len() * size > MOST_KEPT {
                        frames.remove(0);
                        exhaustive = false;
                    }
                }
                made = true;
                state.choose(choice, columns);
            }
            if made {
                continue;
            }
            exhaustive = false;
        }
        let Some(frame) = frames.pop() else {
            return if exhaustive { Outcome::None { cases } } else { Outcome::Unknown };
        };
        state = frame.state;
        state.master.forbid(frame.choice, columns);
    }
}

impl State {
    /// At the beginning, where there are no odd sets.
    pub(super) fn new(kinds: &Kinds<'_>, master: Master) -> Self {
        let flows = master.flows();
        Self { master, wanted: kinds.counts(), halves: Vec::new(), tiles: 0, chosen: Vec::new(), flows }
    }

    /// Takes what one use of a column gives off what is wanted, and leaves the program as it is.
    pub(super) fn take(&mut self, column: &Column) {
        for (kind, count) in &column.counts {
            let given = usize::try_from(*count).unwrap_or(usize::MAX);
            self.wanted[*kind] = self.wanted[*kind].saturating_sub(given);
        }
    }

    /// The column with what is still wanted in the place of what is not, where kinds may stand in for others; nothing
    /// where too little of it is wanted.
    pub(super) fn fitted(
        &mut self,
        kinds: &Kinds<'_>,
        choice: usize,
        columns: &mut Vec<Column>,
        sets: &[Vec<bool>],
        in_part: bool,
    ) -> Option<usize> {
        if self.master.swaps.is_empty() {
            return Some(choice);
        }
        let mut left = self.wanted.clone();
        let mut flows = self.flows.clone();
        let mut exchange = Vec::new();
        let mut lacking = 0;
        let mut given = 0;
        let counts = columns[choice].counts.iter();
        for kind in counts.flat_map(|(kind, count)| (0..*count).map(|_| *kind)) {
            let to = if left[kind] > 0 { Some(kind) } else { self.master.stand_in(kind, &left, &mut flows) };
            match to {
                Some(to) => {
                    left[to] -= 1;
                    given += 1;
                    if to != kind {
                        exchange.push((kind, to));
                    }
                }
                None => lacking += 1,
            }
        }
        if given == 0 || lacking > 0 && !in_part {
            return None;
        }
        self.flows = flows;
        if exchange.is_empty() {
            return Some(choice);
        }
        let layout = columns[choice].layout.as_ref()?.exchanged(kinds, &mut exchange);
        let mut column = Column::of(kinds, layout, columns[choice].rack);
        column.halves = sets.iter().map(|set| half(&column, set)).collect();
        columns.push(column);
        Some(columns.len() - 1)
    }

    fn choose(&mut self, choice: usize, columns: &[Column]) {
        self.tiles += usize::from(columns[choice].rack.is_none());
        self.master.fix(&columns[choice], &mut self.wanted, &mut self.halves);
        self.chosen.push(choice);
    }
}

/// Whole uses, or else the largest part of one; only the first where nothing may be missed.
pub(super) fn choices(
    state: &State,
    columns: &[Column],
    thorough: bool,
    chance: Option<&mut Chance>,
) -> Vec<usize> {
    let wants = |kind: usize| {
        state.wanted[kind] > 0 || state.master.dearest_in_place_of(kind, &state.wanted).is_some()
    };
    let useful = |nth: usize| {
        columns[nth].layout.is_some() && columns[nth].counts.iter().any(|(kind, _)| wants(*kind))
    };
    let mut uses: Vec<(usize, f64)> = state.master.uses().filter(|(nth, _)| useful(*nth)).collect();
    let mut fixed = Vec::new();
    for (nth, amount) in &uses {
        let mut left = amount + 1e-3;
        while left >= 1.0 {
            fixed.push(*nth);
            left -= 1.0;
        }
    }
    if fixed.is_empty() {
        if let Some(chance) = chance {
            for (_, amount) in &mut uses {
                *amount *= f64::from(u32::try_from(chance.below(1000)).unwrap_or(0)) + 300.0;
            }
        }
        fixed.extend(uses.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map(|(nth, _)| *nth));
    }
    if thorough {
        fixed.truncate(1);
    }
    fixed
}

/// Whether prices in whole numbers say too that what is left takes too many tiles.
fn surely_hopeless(
    kinds: &Kinds<'_>,
    state: &State,
    columns: &[Column],
    pool: &[Column],
    aim: usize,
) -> bool {
    let allowed = columns.iter().chain(pool).filter(|column| !state.master.forbids(column));
    let mut idle = vec![true; kinds.problem.rack().len()];
    for rack in state.chosen.iter().filter_map(|nth| columns[*nth].rack) {
        idle[rack] = false;
    }
    state.tiles + tiles_of_master(&state.master, allowed, &state.wanted, &state.halves, &idle) > aim
}

/// Cuts the columns from boards, pieces in setting order; nothing where pieces are left over.
pub(super) fn boards<'p>(kinds: &Kinds<'p>, columns: &[Column], chosen: &[usize]) -> Option<Vec<Board<'p>>> {
    let mut wanted = kinds.counts();
    let mut pieces: Vec<Vec<usize>> = kinds.all.iter().map(|kind| kind.pieces.clone()).collect();
    let mut boards = Vec::new();
    for &nth in chosen {
        let column = &columns[nth];
        if let Some(layout) = column.layout.as_ref()?.only(&mut wanted) {
            let mut board = match column.rack {
                None => Board::whole(kinds.problem),
                Some(rack) => Board::racked(kinds.problem, rack),
            };
            layout.lay(kinds, &mut pieces, &mut board);
            boards.push(board);
        }
    }
    wanted.iter().all(|count| *count == 0).then_some(boards)
}
