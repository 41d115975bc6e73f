//! Sets of pieces of which tiles hold an odd number, where the linear program splits tiles in half.
//!
//! Three row ends of which any two share a tile take two tiles, but the program uses each of the three pairs half and
//! finds one and a half. For a set S, in every plan the halves of its pieces on each tile, rounded up, add up to at
//! least half of S, rounded up: tiles that hold an odd number of S waste half a pair. Demanding that of the program
//! cuts such half uses off (J. Edmonds, "Maximum matching and a polyhedron with 0,1-vertices", 1965, for pairs).
//!
//! Which sets the program breaks is looked for where its uses are not whole: kinds that such patterns connect, then
//! kind by kind in and out while more is gained.

use super::master::{Column, Master};

/// Sets that the present use of the columns breaks, the worst first: which kinds are in each.
pub(super) fn broken(master: &Master, columns: &[Column], wanted: &[usize]) -> Vec<Vec<bool>> {
    const MOST: usize = 8;
    let uses: Vec<(&Column, f64)> = master.uses().map(|(nth, amount)| (&columns[nth], amount)).collect();
    let mut found: Vec<(f64, Vec<bool>)> = Vec::new();
    for least in [0.02, 0.2, 0.4] {
        let split: Vec<&Column> = uses
            .iter()
            .filter(|(_, amount)| (least..=1.0 - least).contains(&(amount % 1.0)))
            .map(|(column, _)| *column)
            .collect();
        for start in connected(&split, wanted.len()) {
            let mut set = start;
            let gained = improve(&mut set, &uses, wanted);
            if gained > 0.02 && found.iter().all(|(_, known)| *known != set) {
                found.push((gained, set));
            }
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.truncate(MOST);
    found.into_iter().map(|(_, set)| set).collect()
}

/// Half of the column's pieces in the set, rounded up.
pub(super) fn half(column: &Column, set: &[bool]) -> u32 {
    column.counts.iter().filter(|(kind, _)| set[*kind]).map(|(_, count)| count).sum::<u32>().div_ceil(2)
}

/// Half of the wanted pieces in the set, rounded up.
pub(super) fn half_wanted(wanted: &[usize], set: &[bool]) -> usize {
    wanted.iter().zip(set).filter(|(_, member)| **member).map(|(count, _)| count).sum::<usize>().div_ceil(2)
}

/// The kinds that the columns connect, group by group.
fn connected(columns: &[&Column], kinds: usize) -> Vec<Vec<bool>> {
    let mut root: Vec<usize> = (0..kinds).collect();
    let find = |root: &[usize], mut kind: usize| {
        while root[kind] != kind {
            kind = root[kind];
        }
        kind
    };
    for column in columns {
        for pair in column.counts.windows(2) {
            let (a, b) = (find(&root, pair[0].0), find(&root, pair[1].0));
            root[a.max(b)] = a.min(b);
        }
    }
    let mut touched = vec![false; kinds];
    for (kind, _) in columns.iter().flat_map(|column| &column.counts) {
        touched[*kind] = true;
    }
    let roots = (0..kinds).filter(|kind| root[*kind] == *kind && touched[*kind]);
    roots.map(|of| (0..kinds).map(|kind| touched[kind] && find(&root, kind) == of).collect()).collect()
}

/// Takes kinds in and out of the set while it is broken more by it; by how much it is in the end.
fn improve(set: &mut [bool], uses: &[(&Column, f64)], wanted: &[usize]) -> f64 {
    let lacking = |set: &[bool]| {
        let least = u32::try_from(half_wanted(wanted, set)).map_or(f64::MAX, f64::from);
        least - uses.iter().map(|(column, amount)| f64::from(half(column, set)) * amount).sum::<f64>()
    };
    let mut best = lacking(set);
    for _ in 0..3 {
        let before = best;
        for kind in 0..set.len() {
            set[kind] = !set[kind];
            let changed = lacking(set);
            if changed > best + 1e-6 {
                best = changed;
            } else {
                set[kind] = !set[kind];
            }
        }
        if best <= before {
            break;
        }
    }
    best
}
