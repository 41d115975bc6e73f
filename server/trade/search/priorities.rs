//! What a layout is judged by, and what the lead puts first.

use super::Figures;
use crate::measure::Length;

/// What a layout is judged by.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Measure {
    /// Tiles to buy: few.
    Tiles,
    /// The narrowest cut: wide.
    NarrowestCut,
    /// Saw cuts: few.
    Cuts,
    /// Slivers: none.
    Slivers,
    /// Equal ends and facing walls that mirror each other.
    Symmetry,
    /// Edges of openings on joints: many.
    OpeningEdges,
    /// The largest gap at the base: small.
    BaseGap,
    /// Rules not kept: none.
    Warnings,
}

/// A figure of a layout.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Amount {
    /// So many.
    Count(usize),
    /// So long.
    Size(Length),
}

/// Every measure, the most important first.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Priorities([Measure; 8]);

/// Why a list of measures is refused.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum PrioritiesFault {
    /// No measure has that name.
    #[error("\"{0}\" is nothing a layout is judged by; that is: {names}", names = Measure::ALL.map(Measure::name).join(", "))]
    Unknown(String),
    /// Named more than once.
    #[error("{} stands in the list twice", .0.name())]
    Twice(Measure),
}

impl Measure {
    /// All of them, in the usual order of importance (common practice).
    pub const ALL: [Self; 8] = [
        Self::Slivers,
        Self::Warnings,
        Self::Tiles,
        Self::NarrowestCut,
        Self::Symmetry,
        Self::OpeningEdges,
        Self::BaseGap,
        Self::Cuts,
    ];

    /// Its name in files and forms.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tiles => "tiles",
            Self::NarrowestCut => "narrowest-cut",
            Self::Cuts => "cuts",
            Self::Slivers => "slivers",
            Self::Symmetry => "symmetry",
            Self::OpeningEdges => "opening-edges",
            Self::BaseGap => "base-gap",
            Self::Warnings => "warnings",
        }
    }

    /// What it is on a layout. A layout without cuts has the widest cut there can be.
    pub fn of(self, figures: &Figures) -> Amount {
        match self {
            Self::Tiles => Amount::Count(figures.bought),
            Self::NarrowestCut => Amount::Size(figures.narrowest_cut.unwrap_or(Length::from_units(i64::MAX))),
            Self::Cuts => Amount::Count(figures.cuts),
            Self::Slivers => Amount::Count(figures.slivers),
            Self::Symmetry => Amount::Size(figures.unequal),
            Self::OpeningEdges => Amount::Count(figures.opening_edges_on_joints),
            Self::BaseGap => Amount::Size(figures.base_gap_largest),
            Self::Warnings => Amount::Count(figures.warnings),
        }
    }

    /// The same as a cost: less is better.
    pub(super) fn cost(self, figures: &Figures) -> i64 {
        let amount = match self.of(figures) {
            Amount::Count(count) => i64::try_from(count).unwrap_or(i64::MAX),
            Amount::Size(length) => length.units(),
        };
        if self.more_is_better() { -amount } else { amount }
    }

    /// Whether more of it is better.
    pub const fn more_is_better(self) -> bool {
        match self {
            Self::NarrowestCut | Self::OpeningEdges => true,
            Self::Tiles | Self::Cuts | Self::Slivers | Self::Symmetry | Self::BaseGap | Self::Warnings => {
                false
            }
        }
    }
}

impl Priorities {
    /// The measures named, in this order, then the others in the usual one.
    ///
    /// # Errors
    ///
    /// A name that is none, or one that stands there twice.
    pub fn named<'a>(names: impl IntoIterator<Item = &'a str>) -> Result<Self, PrioritiesFault> {
        let mut first: Vec<Measure> = Vec::new();
        for name in names {
            let measure = Measure::ALL
                .into_iter()
                .find(|measure| measure.name() == name)
                .ok_or_else(|| PrioritiesFault::Unknown(name.to_owned()))?;
            if first.contains(&measure) {
                return Err(PrioritiesFault::Twice(measure));
            }
            first.push(measure);
        }
        let mut all = Measure::ALL;
        all.sort_by_key(|measure| first.iter().position(|named| named == measure).unwrap_or(first.len()));
        Ok(Self(all))
    }

    /// The most important first.
    pub const fn in_order(&self) -> &[Measure; 8] {
        &self.0
    }
}

impl Default for Priorities {
    fn default() -> Self {
        Self(Measure::ALL)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_named_comes_first_and_the_rest_follows_in_the_usual_order() {
        let priorities = Priorities::named(["cuts", "tiles"]).expect("known");
        let names = priorities.in_order().map(Measure::name);
        assert_eq!(names[..4], ["cuts", "tiles", "slivers", "warnings"]);
        assert_eq!(Priorities::named([]), Ok(Priorities::default()));
    }

    #[test]
    fn an_unknown_name_and_a_name_given_twice_are_refused_in_words() {
        let unknown = Priorities::named(["speed"]).expect_err("unknown").to_string();
        assert!(
            unknown
                .starts_with("\"speed\" is nothing a layout is judged by; that is: slivers, warnings, tiles")
        );
        let twice = Priorities::named(["tiles", "tiles"]).expect_err("twice").to_string();
        assert_eq!(twice, "tiles stands in the list twice");
    }
}
