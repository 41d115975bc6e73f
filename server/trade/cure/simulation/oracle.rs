//! Whether a stage was truly safe to start: by true times, in floats, in its own plain way.

use super::*;

/// How long the classes' own windows are on an ordinary bed, until clips, grout and sealing: what counts where they
/// are longer and nobody knows how cold it is.
const ORDINARY: [i64; 3] = [24 * HOUR, 24 * HOUR, 72 * HOUR];
/// Nearer than this to the end of a window that cold made longer, float and whole numbers may differ.
const TOO_CLOSE: f64 = 3.0;

impl World {
    /// The oracle: by true time alone, is every course safe? `None` where the crew was told something false.
    pub(super) fn truly_safe(&self, first: u32, last: u32, stage: StageKind) -> Option<bool> {
        let waits: &[(StageKind, Option<usize>)] = match stage {
            StageKind::Set => &[],
            StageKind::ClipRemoval => &[(StageKind::Set, Some(0))],
            StageKind::Grout => &[(StageKind::Set, Some(1)), (StageKind::ClipRemoval, None)],
            StageKind::Seal => &[(StageKind::Grout, Some(2))],
            _ => return None,
        };
        if self.taken.iter().any(|taken| taken.mistyped) {
            return None;
        }
        let mut safe = true;
        for (from, window) in waits {
            for course in first..=last {
                let here = |at: &usize| {
                    let episode = &self.episodes[*at];
                    episode.stage == *from && episode.first <= course && course <= episode.last
                };
                let episodes: Vec<usize> = (0..self.episodes.len()).filter(here).collect();
                safe &= self.truly_over(&episodes, *window)?;
            }
        }
        Some(safe)
    }

    /// Whether all work told of one stage on one course is over, and its windows too. Work that was begun and
    /// whose own finish nobody told is over when someone later told a finish of the same course: that speaks
    /// for all who worked there.
    fn truly_over(&self, episodes: &[usize], window: Option<usize>) -> Option<bool> {
        let told_since = |end: i64| {
            let mut others = episodes.iter().map(|at| &self.episodes[*at]);
            others.any(|other| other.told.is_some() && other.finished.is_some_and(|last| last >= end))
        };
        let mut finished = false;
        let mut safe = true;
        for at in episodes {
            let episode = &self.episodes[*at];
            match (episode.told, episode.finished) {
                (Some(Told { falsely: true, .. }), _) => return None,
                (Some(told), Some(end)) => {
                    finished = true;
                    safe &= match window {
                        Some(which) => self.has_run(*at, which, end - told.slack)?,
                        None => self.time >= end - told.slack,
                    };
                }
                (None, Some(end)) => safe &= !episode.start_told || told_since(end),
                (_, None) => safe &= !episode.start_told,
            }
        }
        Some(finished && safe)
    }

    /// Whether a window has truly run since then; `None` where floats cannot tell.
    fn has_run(&self, at: usize, which: usize, since: i64) -> Option<bool> {
        let terms = self.terms(at, which);
        let (passed, plain) = self.passed(since, terms);
        let over = passed - whole(terms.0);
        (plain || over.abs() > TOO_CLOSE).then_some(over >= 0.0)
    }

    /// A window of an episode, and how long it is where nobody knows how cold it is.
    pub(super) fn terms(&self, at: usize, which: usize) -> (i64, i64) {
        let window = self.episodes[at].windows[which];
        (window, window.max(ORDINARY[which]))
    }

    /// How many milliseconds of the bag have passed since then, and whether each passed at full speed.
    pub(super) fn passed(&self, since: i64, terms: (i64, i64)) -> (f64, bool) {
        let nights = self.given.iter().flat_map(|(at, _)| [*at, at - 24 * HOUR]);
        let mut ends: Vec<i64> = self.taken.iter().map(|taken| taken.at).chain(nights).collect();
        ends.retain(|end| since < *end && *end < self.time);
        ends.extend([since, self.time.max(since)]);
        ends.sort_unstable();
        let stretches = ends.windows(2).map(|pair| (pair[1] - pair[0], self.rate(pair[1], terms)));
        let stretches: Vec<(i64, f64)> = stretches.filter(|(length, _)| *length > 0).collect();
        let plain = stretches.iter().all(|(_, rate)| (rate - 1.0).abs() < f64::EPSILON);
        (stretches.iter().map(|(length, rate)| whole(*length) * rate).sum(), plain && since <= self.time)
    }

    /// How fast a window runs just before that moment.
    pub(super) fn rate(&self, at: i64, (window, longer): (i64, i64)) -> f64 {
        let older = self.taken.iter().rev().find(|taken| taken.at < at);
        let newer = self.taken.iter().find(|taken| taken.at >= at && taken.at <= self.time);
        let near = older.zip(newer).is_some_and(|(older, newer)| newer.at - older.at <= 6 * HOUR);
        let mut coldest: Vec<i32> = older.into_iter().chain(newer).map(|taken| taken.tenths).collect();
        if !near {
            let before = self.given.iter().rev().find(|(given, _)| *given < at);
            let first = self.given.iter().find(|(given, _)| *given >= at).filter(|_| before.is_none());
            let soon = self.given.iter().filter(|(given, _)| (at..at + 24 * HOUR).contains(given));
            coldest.extend(before.into_iter().chain(first).chain(soon).map(|(_, tenths)| *tenths));
        }
        let by_cold = match coldest.into_iter().min() {
            Some(tenths) if tenths < 50 => 0.0,
            Some(tenths) if tenths < 210 => 0.5_f64.powf(f64::from(210 - tenths) / 80.0),
            _ => 1.0,
        };
        let unknown = !near && self.given.is_empty() && window > 0;
        if unknown { by_cold.min(whole(window) / whole(longer)) } else { by_cold }
    }
}
