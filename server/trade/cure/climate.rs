//! How cold a wall has been, stretch by stretch: what was read, when that surely held, and what is taken where
//! nothing was read.
//!
//! Wherever there is a choice, the colder is taken:
//!
//! - between two readings at most [`Climate::APART`] apart, the colder of the two;
//! - elsewhere (before the first reading, after the last, in a longer gap) the coldest of the neighbouring readings
//!   and the lowest night temperature given for the job. Whoever gives one speaks of the nights to come and of the
//!   day that has just passed; before the first was given, the first counts;
//! - elsewhere with no night temperature given, the neighbouring readings, and no faster than the product's longer
//!   window allows ([`Stretch::unknown`]).
//!
//! A reading told late may be of any moment between the time told and its receipt, and where clocks were changed or
//! the machine was off, of any moment that they leave open. Over all of those it counts beside its neighbours,
//! which is colder or the same. So adding doubt never shortens a wait, nor does a colder reading.

use std::collections::BTreeMap;

use super::trust::at_most_elapsed;
use super::{ColdRule, EntryId, GRACE, Heartbeats, Instant, Now, Span, Stamp, Temperature, WallClock};
use crate::measure::SurfaceId;

/// A temperature that was read, or a correction of one. Kept in the order received.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Reading {
    /// Its number in the log, which orders it among the entries of stages.
    pub id: EntryId,
    /// Which wall, or the whole job.
    pub surface: Option<SurfaceId>,
    /// How warm; `None` takes back what it corrects.
    pub temperature: Option<Temperature>,
    /// From when it held, as told.
    pub held_from: Instant,
    /// When it was received, by the server's clocks.
    pub received: Stamp,
    /// The reading that this one corrects: it counts in its place, from its time and receipt.
    pub supersedes: Option<EntryId>,
}

/// The lowest temperature that nights come to, from when the job's lead gave it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Night {
    /// Its number in the log.
    pub id: EntryId,
    /// As cold as the walls get.
    pub lowest: Temperature,
    /// When it was given, by the server's clocks.
    pub received: Stamp,
}

/// All that was told of temperature on a job.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Climate {
    readings: Vec<Reading>,
    nights: Vec<Night>,
    rule: ColdRule,
}

/// A stretch of time, by how long ago it began and ended, in which one temperature counts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stretch {
    /// How long ago it began.
    pub began: Span,
    /// How long ago it ended; less than nothing where it lasts on.
    pub ended: Span,
    /// The coldest that it may have been by what was told; `None` where nothing was.
    pub temperature: Option<Temperature>,
    /// A night may lie in it of which nobody knows anything.
    pub unknown: bool,
}

/// The moment from which times ago are counted, by the clocks at its receipt.
pub(super) struct Anchor<'a> {
    /// What came before it in the log; everything, for the present.
    pub id: Option<EntryId>,
    pub stamp: &'a Stamp,
    /// How long before its receipt it was.
    pub age: Span,
}

/// What was told of one wall, each by how long ago it may have been.
pub(super) struct Places {
    readings: Ordered,
    nights: Vec<Place>,
}

/// A temperature that was told, and between how long ago it held.
#[derive(Clone, Copy, Debug)]
struct Place {
    least: Span,
    most: Span,
    temperature: Temperature,
}

/// Places with what finds the neighbours of a moment among thousands.
#[derive(Default)]
struct Ordered {
    /// By the least.
    places: Vec<Place>,
    /// The largest `most` of the places up to each.
    most_so_far: Vec<Span>,
    /// The smallest `most` of the places from each on.
    least_most_from: Vec<Span>,
    /// Each `most` in order, with the largest `least` of those up to it.
    by_most: Vec<(Span, Span)>,
}

/// Longer ago than anything.
const EVER: Span = Span::from_millis(i64::MAX);

impl Climate {
    /// Readings further apart than this may have a night's cold between them: no more than a morning or an
    /// afternoon (common practice).
    pub const APART: Span = Span::from_hours(6);
    /// So long before it was given a night temperature still speaks of: the night before (common practice).
    pub const NIGHT_SPEAKS_BACK: Span = Span::from_hours(24);

    /// What was told, each in the order received. A reading that another corrects counts as corrected.
    pub fn new(told: Vec<Reading>, nights: Vec<Night>) -> Self {
        let mut standing: BTreeMap<EntryId, Reading> = BTreeMap::new();
        // Where each reading came in, through however many corrections.
        let mut origins: BTreeMap<EntryId, EntryId> = BTreeMap::new();
        for reading in told {
            let corrected = reading.supersedes.and_then(|old| origins.get(&old).copied());
            let origin = corrected.unwrap_or(reading.id);
            origins.insert(reading.id, origin);
            match standing.get_mut(&origin) {
                Some(first) => first.temperature = reading.temperature,
                None => drop(standing.insert(origin, reading)),
            }
        }
        let readings = standing.into_values().filter(|reading| reading.temperature.is_some()).collect();
        Self { readings, nights, rule: ColdRule::default() }
    }

    /// The same by another rule of the cold.
    #[must_use]
    pub fn with_rule(self, rule: ColdRule) -> Self {
        Self { rule, ..self }
    }

    /// How much longer everything takes in the cold.
    pub fn rule(&self) -> &ColdRule {
        &self.rule
    }

    /// The readings that count, in the order received, each with its first number, time and receipt.
    pub fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.readings.iter()
    }

    /// The night temperatures that were given, in the order received.
    pub fn nights(&self) -> &[Night] {
        &self.nights
    }

    /// The night temperature given last.
    pub fn night(&self) -> Option<Temperature> {
        self.nights.last().map(|night| night.lowest)
    }

    /// The stretches of the last so long on a wall, the oldest first.
    pub fn stretches(&self, surface: &SurfaceId, last: Span, now: &Now) -> Vec<Stretch> {
        self.before(surface, &Anchor::of(now), &now.heartbeats).stretches(last)
    }

    /// What counts on a wall from now on, until something is told.
    pub fn present(&self, surface: &SurfaceId, now: &Now) -> Stretch {
        self.before(surface, &Anchor::of(now), &now.heartbeats).present()
    }

    /// What was told of a wall, as it lies before that moment. What surely came after it does not count: a later
    /// cold night makes no earlier work wrong.
    pub(super) fn before(&self, surface: &SurfaceId, anchor: &Anchor<'_>, beats: &Heartbeats) -> Places {
        let of_it = |reading: &&Reading| reading.surface.as_ref().is_none_or(|of| of == surface);
        let place = |id, received: &Stamp, ages, temperature| {
            let place = anchor.place(id, received, ages, temperature, beats);
            (place.most >= Span::ZERO).then_some(place)
        };
        let readings =
            self.readings.iter().filter(of_it).filter_map(|reading| {
                place(reading.id, &reading.received, reading.ages(), reading.temperature?)
            });
        let readings = Ordered::new(readings.collect());
        let at_once = (Span::ZERO, Span::ZERO);
        let nights = self.nights.iter();
        let nights = nights.filter_map(|night| place(night.id, &night.received, at_once, night.lowest));
        Places { readings, nights: nights.collect() }
    }
}

impl Reading {
    /// Between how long before its receipt it held. One told for now held then. One told for an earlier time is
    /// taken to have held somewhere between: whoever remembers may be wrong, and a time of the clock cannot be set
    /// against one that was not trusted.
    fn ages(&self) -> (Span, Span) {
        let told = self.received.wall - self.held_from;
        if told <= Span::ZERO {
            (Span::ZERO, Span::ZERO)
        } else if self.received.wall_clock == WallClock::Trusted {
            (Span::ZERO, told + GRACE)
        } else {
            (Span::ZERO, EVER)
        }
    }
}

impl<'a> Anchor<'a> {
    pub(super) fn of(now: &'a Now) -> Self {
        Self { id: None, stamp: &now.at, age: Span::ZERO }
    }

    fn place(
        &self,
        id: EntryId,
        received: &Stamp,
        (least_age, most_age): (Span, Span),
        temperature: Temperature,
        beats: &Heartbeats,
    ) -> Place {
        let (least, most) = if self.id.is_none_or(|own| id < own) {
            (
                beats.surely_elapsed(received, self.stamp),
                at_most_elapsed(received, self.stamp).unwrap_or(EVER),
            )
        } else {
            let most_after = at_most_elapsed(self.stamp, received).unwrap_or(EVER);
            (-most_after, -beats.surely_elapsed(self.stamp, received))
        };
        let most = if most == EVER || most_age == EVER { EVER } else { most + most_age - self.age };
        Place { least: least + least_age - self.age, most, temperature }
    }
}

impl Places {
    /// The stretches of the last so long, the oldest first. Nothing where that is no time.
    pub(super) fn stretches(&self, last: Span) -> Vec<Stretch> {
        let mut ends = self.ends();
        ends.retain(|end| *end > Span::ZERO && *end < last);
        ends.push(Span::ZERO);
        ends.push(last.max(Span::ZERO));
        ends.sort_unstable();
        ends.dedup();
        ends.windows(2).rev().filter_map(|pair| Some(self.between(*pair.get(1)?, *pair.first()?))).collect()
    }

    /// What counts from now on, until something is told.
    pub(super) fn present(&self) -> Stretch {
        self.between(Span::ZERO, -EVER)
    }

    /// Whatever changes between two of these, none of it changes what counts.
    fn ends(&self) -> Vec<Span> {
        let readings = self.readings.places.iter().flat_map(|place| [place.least, place.most]);
        let night = |night: &Place| [night.least, night.most, night.most + Climate::NIGHT_SPEAKS_BACK];
        readings.chain(self.nights.iter().flat_map(night)).collect()
    }

    /// One stretch in which nothing that was told begins or ends to be possible.
    fn between(&self, began: Span, ended: Span) -> Stretch {
        let readings = &self.readings;
        let (older, newer) = (readings.surely_older(began), readings.surely_newer(ended));
        let near = older.zip(newer).is_some_and(|(older, newer)| older - newer <= Climate::APART);
        let coldest = readings.coldest_beside(began, ended, older, newer);
        if near {
            return Stretch { began, ended, temperature: coldest, unknown: false };
        }
        let temperature = coldest.into_iter().chain(self.night(began, ended)).min();
        Stretch { began, ended, temperature, unknown: self.nights.is_empty() }
    }

    /// The coldest of the night temperatures that may speak of this stretch.
    fn night(&self, began: Span, ended: Span) -> Option<Temperature> {
        let in_force = self.nights.iter().filter(|night| night.least >= began).map(|night| night.most).min();
        let first_after =
            self.nights.iter().filter(|night| night.most <= ended).map(|night| night.least).max();
        let speaks = |night: &&Place| {
            let was_in_force = night.most >= began && in_force.is_none_or(|last| night.least <= last);
            let given_after = night.least <= ended;
            let soon_after = night.most + Climate::NIGHT_SPEAKS_BACK >= began;
            let the_first = in_force.is_none() && first_after.is_none_or(|first| night.most >= first);
            was_in_force || given_after && (soon_after || the_first)
        };
        self.nights.iter().filter(speaks).map(|night| night.temperature).min()
    }
}

impl Ordered {
    fn new(mut places: Vec<Place>) -> Self {
        places.sort_by_key(|place| place.least);
        let most_so_far = places.iter().scan(Span::ZERO, |largest, place| {
            *largest = place.most.max(*largest);
            Some(*largest)
        });
        let mut least_most_from: Vec<Span> = places
            .iter()
            .rev()
            .scan(EVER, |smallest, place| {
                *smallest = place.most.min(*smallest);
                Some(*smallest)
            })
            .collect();
        least_most_from.reverse();
        let mut by_most: Vec<(Span, Span)> = places.iter().map(|place| (place.most, place.least)).collect();
        by_most.sort_unstable();
        let mut largest = -EVER;
        for (_, least) in &mut by_most {
            largest = largest.max(*least);
            *least = largest;
        }
        Self { most_so_far: most_so_far.collect(), least_most_from, by_most, places }
    }

    /// Some reading surely held that long ago or earlier, and no earlier than this.
    fn surely_older(&self, began: Span) -> Option<Span> {
        let from = self.places.partition_point(|place| place.least < began);
        self.least_most_from.get(from).copied()
    }

    /// Some reading surely held no longer ago than that, and no later than this.
    fn surely_newer(&self, ended: Span) -> Option<Span> {
        let to = self.by_most.partition_point(|(most, _)| *most <= ended);
        to.checked_sub(1).and_then(|last| self.by_most.get(last)).map(|(_, least)| *least)
    }

    /// The coldest of all that may be the last reading before a stretch or the first one after it.
    fn coldest_beside(
        &self,
        began: Span,
        ended: Span,
        older: Option<Span>,
        newer: Option<Span>,
    ) -> Option<Temperature> {
        let older = older.unwrap_or(EVER);
        let newer = newer.unwrap_or(-EVER);
        let to = |least: Span| self.places.partition_point(|place| place.least <= least);
        let from = |most: Span| self.most_so_far.partition_point(|largest| *largest < most);
        let before = self.places.get(from(began)..to(older).max(from(began))).unwrap_or_default();
        let after = self.places.get(from(newer)..to(ended).max(from(newer))).unwrap_or_default();
        let before = before.iter().filter(|place| place.most >= began);
        let after = after.iter().filter(|place| place.most >= newer);
        before.chain(after).map(|place| place.temperature).min()
    }
}

#[cfg(test)]
mod tests;
