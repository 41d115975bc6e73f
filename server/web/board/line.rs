//! Entries of the log as lines to read: what was told, what corrected it, and what is doubtful about it.

use std::collections::BTreeSet;

use trade::cure::{Entry, EntryId, WallClock, What, done_early, may_have_frozen, standing};

use super::sight::Sight;
use super::words::Words;
use crate::web::urls;

/// One entry.
pub struct EntryLine {
    pub says: String,
    /// From which mixes.
    pub from: Option<String>,
    /// Who told it, and when where that was later.
    pub told: String,
    /// It no longer holds.
    pub struck: bool,
    /// What holds instead.
    pub correction: Option<String>,
    /// Why it corrects another.
    pub why: Option<String>,
    /// What to know before relying on it.
    pub doubts: Vec<String>,
    /// Where it can be corrected.
    pub mend_url: Option<String>,
}

/// The entries of stages, ready to be told.
pub struct Lines<'a> {
    sight: &'a Sight,
    words: &'a Words,
    standing: BTreeSet<EntryId>,
}

impl<'a> Lines<'a> {
    /// The log of a job.
    pub fn of(sight: &'a Sight, words: &'a Words) -> Self {
        let standing = standing(&sight.stages.log).into_iter().map(|entry| entry.id).collect();
        Self { sight, words, standing }
    }

    /// Whether nothing has corrected this entry.
    pub fn stands(&self, entry: &Entry) -> bool {
        self.standing.contains(&entry.id)
    }

    /// One entry as a line.
    pub fn line(&self, entry: &Entry) -> EntryLine {
        let stands = self.stands(entry);
        EntryLine {
            says: self.says(entry),
            from: self.from(entry),
            told: self.told(entry),
            struck: !stands,
            correction: self.corrected_by(entry).map(|by| self.correction(by)),
            why: self.why(entry),
            doubts: if stands { self.doubts(entry) } else { Vec::new() },
            mend_url: (stands && entry.what != What::Withdrawn).then(|| self.mend_url(entry)).flatten(),
        }
    }

    fn says(&self, entry: &Entry) -> String {
        self.words.entry(entry, self.sight.stages.products.get(&entry.stage))
    }

    fn from(&self, entry: &Entry) -> Option<String> {
        let note = self.sight.stages.notes.get(&entry.id)?;
        self.words.batches_named(self.sight, &note.batches)
    }

    fn told(&self, entry: &Entry) -> String {
        let who = self.sight.author(entry.id);
        let when = self.words.times.at(entry.received.wall);
        if entry.supersedes.is_none() {
            return self.words.say_with("entry-told", &[("who", &who), ("when", &when)]);
        }
        let first = self.sight.doer(entry.id);
        let key = match (entry.what, entry.confirmed) {
            (What::Withdrawn, _) => "entry-told-withdrawn",
            (What::Started | What::Finished, true) => "entry-told-confirmed",
            (What::Started | What::Finished, false) => "entry-told-corrected",
        };
        self.words.say_with(key, &[("first", &first), ("who", &who), ("when", &when)])
    }

    fn corrected_by(&self, entry: &Entry) -> Option<&Entry> {
        self.sight.stages.log.iter().find(|by| by.supersedes == Some(entry.id))
    }

    fn correction(&self, by: &Entry) -> String {
        let key = match (by.what, by.confirmed) {
            (What::Withdrawn, _) => "entry-corrected-never",
            (What::Started | What::Finished, true) => "entry-corrected-confirmed",
            (What::Started | What::Finished, false) => "entry-corrected",
        };
        let (who, when) = (self.sight.author(by.id), self.words.times.at(by.received.wall));
        let right = self.words.times.at(by.happened);
        self.words.say_with(key, &[("who", &who), ("when", &when), ("right", &right)])
    }

    fn why(&self, entry: &Entry) -> Option<String> {
        let reason = self.sight.stages.notes.get(&entry.id)?.reason.as_ref()?;
        Some(self.words.say_with("entry-why", &[("reason", reason)]))
    }

    fn doubts(&self, entry: &Entry) -> Vec<String> {
        let wall = self.sight.wall(&entry.part.surface).ok();
        let early = wall.is_some_and(|wall| {
            let work = wall.work(&self.sight.stages);
            entry.what != What::Withdrawn && done_early(&work, entry.id, &self.sight.stages.now)
        });
        let early = early.then(|| self.words.say("entry-early"));
        let froze = wall.is_some_and(|wall| {
            may_have_frozen(&wall.work(&self.sight.stages), entry.id, &self.sight.stages.now)
        });
        let froze = froze.then(|| self.words.say("entry-froze"));
        let behind = entry.received.wall_clock == WallClock::Behind;
        let behind = behind.then(|| self.words.say("entry-clock-behind"));
        early.into_iter().chain(froze).chain(self.words.told_late(entry)).chain(behind).collect()
    }

    fn mend_url(&self, entry: &Entry) -> Option<String> {
        let note = self.sight.stages.notes.get(&entry.id)?;
        self.sight.wall(&entry.part.surface).ok()?;
        Some(urls::entry(self.sight.job(), &entry.part.surface, entry.stage, &note.event))
    }
}
