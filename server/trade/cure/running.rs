//! How much of a window has run, through warm stretches and cold ones.

use super::climate::Places;
use super::cold::{Share, Slowdown};
use super::{ColdRule, Product, ProductClass, Span, Stretch, Temperature, Window};
use crate::cure::Bed;

/// A window and what bears on how fast it runs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Terms {
    /// How long it is where it is warm.
    pub window: Span,
    /// How long where nobody knows.
    pub longer: Span,
    /// Colder than this it stands still.
    pub lowest: Temperature,
}

/// How fast a window runs in a stretch.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Pace {
    /// As fast as the bag says, at 21 °C and more.
    AsTheBagSays,
    /// The cold slows it down: the whole window would take so long.
    Cold { temperature: Temperature, whole: Span },
    /// Nobody knows how cold it is: the whole window is taken to be so long.
    Unknown { whole: Span },
    /// It is colder than the product works at.
    Stopped { temperature: Temperature },
}

/// Where a window stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Ran {
    /// It is over, since so long ago.
    Over(Span),
    /// It still runs.
    Still {
        /// Until it is over, if nothing else is told; `None` where it stands still.
        to_go: Option<Span>,
        /// How much of it is left by the bag.
        by_the_bag: Span,
        pace: Pace,
    },
}

impl Terms {
    /// The window of a product over a bed; of one that nobody named or that states no such window, the longest of
    /// any class.
    pub fn of(product: Option<&Product>, window: Window, bed: Bed) -> Self {
        let stated = product.and_then(|product| product.window(window, bed));
        let longer = product.and_then(|product| product.longer_window(window));
        let any =
            || Bed::ALL.into_iter().map(|bed| window.longest_default(bed)).max().unwrap_or(Product::LONGEST);
        Self {
            window: stated.unwrap_or_else(|| window.longest_default(bed)),
            longer: longer.unwrap_or_else(any),
            lowest: product.map_or_else(ProductClass::highest_lowest, Product::lowest),
        }
    }

    /// How fast it runs in that stretch.
    pub fn pace(&self, stretch: &Stretch, rule: &ColdRule) -> Pace {
        let Some(slowdown) = self.slowdown(stretch, rule) else {
            let temperature = stretch.temperature.unwrap_or(self.lowest);
            return Pace::Stopped { temperature };
        };
        let whole = slowdown.stretched(self.window);
        match stretch.temperature {
            _ if slowdown == Slowdown::NONE => Pace::AsTheBagSays,
            Some(temperature) if slowdown == rule.slowdown(temperature) => Pace::Cold { temperature, whole },
            Some(_) | None => Pace::Unknown { whole },
        }
    }

    /// `None` where it stands still.
    fn slowdown(&self, stretch: &Stretch, rule: &ColdRule) -> Option<Slowdown> {
        let unknown = if stretch.unknown { self.unknown() } else { Slowdown::NONE };
        match stretch.temperature {
            Some(temperature) if temperature < self.lowest => None,
            Some(temperature) => Some(rule.slowdown(temperature).max(unknown)),
            None => Some(unknown),
        }
    }

    fn unknown(&self) -> Slowdown {
        Slowdown::between(self.window, self.longer)
    }

    /// Where it stands once so long has surely passed since the finish. The stretches are walked from the oldest,
    /// and each gives what part of the window it surely holds.
    pub(super) fn run(&self, places: &Places, elapsed: Span, rule: &ColdRule) -> Ran {
        if self.window <= Span::ZERO && elapsed >= Span::ZERO {
            return Ran::Over(elapsed);
        }
        let mut left = Share::of(self.window);
        for stretch in places.stretches(elapsed) {
            let Some(slowdown) = self.slowdown(&stretch, rule) else { continue };
            match left.less(slowdown.share(stretch.began - stretch.ended)) {
                Some(still) => left = still,
                None => return Ran::Over(stretch.began - slowdown.time_for(left)),
            }
        }
        let present = places.present();
        // A finish told for a time to come: nothing has run, and that time has to come first.
        let to_come = (-elapsed).max(Span::ZERO);
        Ran::Still {
            to_go: self.slowdown(&present, rule).map(|slowdown| slowdown.time_for(left) + to_come),
            by_the_bag: Slowdown::NONE.time_for(left) + to_come,
            pace: self.pace(&present, rule),
        }
    }

    /// Whether it may have been below freezing before the window had run out. So long has surely passed since the
    /// finish, and at most `perhaps`; in what lies between nothing is taken to have run.
    pub(super) fn froze(&self, places: &Places, elapsed: Span, perhaps: Span, rule: &ColdRule) -> bool {
        let mut left = Some(Share::of(self.window)).filter(|_| self.window > Span::ZERO);
        for stretch in places.stretches(perhaps.max(elapsed)) {
            let Some(still) = left else { return false };
            if stretch.temperature.is_some_and(|coldest| coldest < Temperature::FREEZING) {
                return true;
            }
            let counted = stretch.began.min(elapsed.max(stretch.ended)) - stretch.ended;
            if let Some(slowdown) = self.slowdown(&stretch, rule) {
                left = still.less(slowdown.share(counted));
            }
        }
        false
    }
}
