//! What the bag says of mixing: rest, pot life, open time, first wipe, water, what a bag weighs and covers.
//!
//! As with the windows of a product, its class gives a figure with where it comes from, always to be checked against
//! the bag, and what the crew reads there wins. Where published ranges differ, a figure that closes a window is the
//! short end, and one that opens it the long end.

use std::collections::BTreeMap;

use super::product::{Footing, ProductClass, ProductFault};
use super::{Product, Span};

/// One thing that the bag says of mixing.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Figure {
    /// How long it rests (slakes) before it is stirred again and used.
    Rest,
    /// How long it may be used, from mixing.
    PotLife,
    /// How long it takes tile once it is spread.
    OpenTime,
    /// From when grout is wiped the first time, from spreading.
    WipeFrom,
    /// By when.
    WipeBy,
    /// The least water a bag.
    WaterLeast,
    /// The most water a bag.
    WaterMost,
    /// What is in a bag.
    Bag,
    /// What a bag covers.
    Covers,
}

/// In what a figure is told.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Measure {
    /// Milliseconds.
    Time,
    /// Millilitres.
    Water,
    /// Grams.
    Powder,
    /// Square centimetres.
    Area,
}

/// A class's figure and where it comes from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DefaultFigure {
    /// In the unit of its measure.
    pub amount: i64,
    /// How well founded it is.
    pub footing: Footing,
}

impl Figure {
    /// Every figure, in the order of a bag.
    pub const ALL: [Self; 9] = [
        Self::Rest,
        Self::PotLife,
        Self::OpenTime,
        Self::WipeFrom,
        Self::WipeBy,
        Self::Bag,
        Self::WaterLeast,
        Self::WaterMost,
        Self::Covers,
    ];

    /// The name it is stored by.
    pub fn name(self) -> &'static str {
        match self {
            Self::Rest => "rest",
            Self::PotLife => "pot_life",
            Self::OpenTime => "open_time",
            Self::WipeFrom => "wipe_from",
            Self::WipeBy => "wipe_by",
            Self::WaterLeast => "water_least",
            Self::WaterMost => "water_most",
            Self::Bag => "bag",
            Self::Covers => "covers",
        }
    }

    /// The figure stored by that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|figure| figure.name() == name)
    }

    /// In what it is told.
    pub fn measure(self) -> Measure {
        match self {
            Self::Rest | Self::PotLife | Self::OpenTime | Self::WipeFrom | Self::WipeBy => Measure::Time,
            Self::WaterLeast | Self::WaterMost => Measure::Water,
            Self::Bag => Measure::Powder,
            Self::Covers => Measure::Area,
        }
    }

    /// The least and the most that any bag says of it: rests up to an hour, pot lives from 5 minutes to half a day, bags
    /// from 100 g to 50 kg, a tenth of a square metre to a hundred (common practice).
    fn range(self) -> (i64, i64) {
        const MINUTE: i64 = 60_000;
        match self {
            Self::Rest => (0, 60 * MINUTE),
            Self::PotLife => (5 * MINUTE, 12 * 60 * MINUTE),
            Self::OpenTime | Self::WipeFrom | Self::WipeBy => (MINUTE, 6 * 60 * MINUTE),
            Self::WaterLeast | Self::WaterMost => (10, 40_000),
            Self::Bag => (100, 50_000),
            Self::Covers => (1_000, 1_000_000),
        }
    }
}

/// What must be less than what; the same is no fault but for rest and pot life.
const ORDER: [(Figure, Figure); 3] = [
    (Figure::Rest, Figure::PotLife),
    (Figure::WipeFrom, Figure::WipeBy),
    (Figure::WaterLeast, Figure::WaterMost),
];

impl Product {
    /// The same product with what its bag says of mixing.
    ///
    /// # Errors
    /// A figure that its class does not have, one out of range, or two that contradict each other.
    pub fn with_figures(self, own: BTreeMap<Figure, i64>) -> Result<Self, ProductFault> {
        for (figure, amount) in &own {
            let (least, most) = figure.range();
            // What a bag covers no class states.
            let known = self.class().default_figure(*figure).is_some() || *figure == Figure::Covers;
            if !known || !self.class().is_mixed() {
                return Err(ProductFault::FigureNotOfThisClass { figure: *figure });
            }
            if !(least..=most).contains(amount) {
                return Err(ProductFault::FigureOutOfRange { figure: *figure });
            }
        }
        let mut product = self;
        product.figures = own;
        for (less, more) in ORDER {
            let crossed = match (product.figure(less), product.figure(more)) {
                (Some(less_is), Some(more_is)) if less == Figure::Rest => less_is >= more_is,
                (Some(less_is), Some(more_is)) => less_is > more_is,
                _ => false,
            };
            if crossed {
                return Err(ProductFault::FiguresCross { less, more });
            }
        }
        Ok(product)
    }

    /// Whether it comes as powder or parts that are mixed on site.
    pub fn is_mixed(&self) -> bool {
        self.class().is_mixed()
    }

    /// What holds: what the crew read on the bag, else what is usual for its class.
    pub fn figure(&self, figure: Figure) -> Option<i64> {
        self.own_figure(figure).or_else(|| self.usual(figure))
    }

    /// What is usual for its class; the water a bag for as much powder as is in this one.
    pub fn usual(&self, figure: Figure) -> Option<i64> {
        let usual = self.class().default_figure(figure)?.amount;
        let bags = self.own_figure(Figure::Bag).zip(self.class().default_figure(Figure::Bag));
        match (figure.measure(), bags) {
            (Measure::Water, Some((own, class))) => usual.checked_mul(own)?.checked_div(class.amount),
            _ => Some(usual),
        }
    }

    /// A figure that is a time.
    pub fn span_figure(&self, figure: Figure) -> Option<Span> {
        (figure.measure() == Measure::Time).then(|| self.figure(figure).map(Span::from_millis)).flatten()
    }

    /// What the crew read on the bag.
    pub fn own_figure(&self, figure: Figure) -> Option<i64> {
        self.figures.get(&figure).copied()
    }

    /// All that the crew read on the bag.
    pub fn own_figures(&self) -> impl Iterator<Item = (Figure, i64)> {
        self.figures.iter().map(|(figure, amount)| (*figure, *amount))
    }
}

impl ProductClass {
    /// Whether products of this class are mixed on site.
    pub fn is_mixed(self) -> bool {
        match self {
            Self::CementMortar
            | Self::FastCementMortar
            | Self::EpoxyMortar
            | Self::CementGrout
            | Self::FastCementGrout
            | Self::EpoxyGrout => true,
            Self::Dispersion | Self::PenetratingSealer | Self::SiliconeSealant | Self::LiquidMembrane => {
                false
            }
        }
    }

    /// Whether its powder takes water from the tap.
    pub fn takes_water(self) -> bool {
        self.is_mixed() && self.is_cement()
    }

    /// What is usual for this class, or `None` where it has no such figure.
    pub fn default_figure(self, figure: Figure) -> Option<DefaultFigure> {
        match figure {
            Figure::Rest => self.rest(),
            Figure::PotLife => self.pot_life(),
            Figure::OpenTime => self.open_time(),
            Figure::WipeFrom | Figure::WipeBy => self.wipe(figure),
            Figure::WaterLeast | Figure::WaterMost => self.water(figure),
            Figure::Bag => self.bag(),
            Figure::Covers => None,
        }
    }

    /// Published for cement are 5 to 10 min, of which the long end; what sets fast is given the short one (common
    /// practice). Resin parts need none.
    fn rest(self) -> Option<DefaultFigure> {
        use Footing::{CommonPractice, FromMemory, Published};
        match self {
            Self::CementMortar | Self::CementGrout => Some(DefaultFigure::minutes(
                10,
                Published("engineerfix.com/how-to-mix-thinset-for-tile-the-proper-technique"),
            )),
            Self::FastCementMortar | Self::FastCementGrout => Some(DefaultFigure::minutes(5, CommonPractice)),
            Self::EpoxyMortar | Self::EpoxyGrout => Some(DefaultFigure::minutes(0, FromMemory)),
            Self::Dispersion | Self::PenetratingSealer | Self::SiliconeSealant | Self::LiquidMembrane => None,
        }
    }

    /// Published for mortar are 60 to 90 min (winenfood.com), and for a grout that is used up quickly 15 min
    /// (ceramicinfospot.com): the working time that is left of it after its rest is about ten minutes, as the trade
    /// knows it. Ordinary grout is usable for 30 to 60 min, epoxy for 45, fast mortar for 30 (from memory).
    fn pot_life(self) -> Option<DefaultFigure> {
        use Footing::{FromMemory, Published};
        match self {
            Self::CementMortar => Some(DefaultFigure::minutes(60, Published("winenfood.com"))),
            Self::FastCementMortar | Self::CementGrout => Some(DefaultFigure::minutes(30, FromMemory)),
            Self::FastCementGrout => Some(DefaultFigure::minutes(15, Published("ceramicinfospot.com"))),
            Self::EpoxyMortar | Self::EpoxyGrout => Some(DefaultFigure::minutes(45, FromMemory)),
            Self::Dispersion | Self::PenetratingSealer | Self::SiliconeSealant | Self::LiquidMembrane => None,
        }
    }

    /// EN 12004: 20 min, for F 10 min (from memory).
    fn open_time(self) -> Option<DefaultFigure> {
        match self {
            Self::CementMortar | Self::EpoxyMortar => Some(DefaultFigure::minutes(20, Footing::FromMemory)),
            Self::FastCementMortar => Some(DefaultFigure::minutes(10, Footing::FromMemory)),
            Self::Dispersion
            | Self::CementGrout
            | Self::FastCementGrout
            | Self::EpoxyGrout
            | Self::PenetratingSealer
            | Self::SiliconeSealant
            | Self::LiquidMembrane => None,
        }
    }

    /// The first sponge is published at 15 to 30 min after spreading. Fast grout has its own window, of which only
    /// practice knows; epoxy is washed before it stiffens (from memory).
    fn wipe(self, figure: Figure) -> Option<DefaultFigure> {
        use Footing::{CommonPractice, FromMemory, Published};
        let (from, by, footing) = match self {
            Self::CementGrout => {
                (15, 30, Published("engineerfix.com/how-long-to-let-grout-sit-before-wiping"))
            }
            Self::FastCementGrout => (5, 15, CommonPractice),
            Self::EpoxyGrout => (10, 30, FromMemory),
            Self::CementMortar
            | Self::FastCementMortar
            | Self::Dispersion
            | Self::EpoxyMortar
            | Self::PenetratingSealer
            | Self::SiliconeSealant
            | Self::LiquidMembrane => return None,
        };
        let minutes = if figure == Figure::WipeFrom { from } else { by };
        Some(DefaultFigure::minutes(minutes, footing))
    }

    /// Powder is 78 to 86 % of the weight of a mix (from memory), which leaves 16 to 28 ml of water for 100 g of it.
    fn water(self, figure: Figure) -> Option<DefaultFigure> {
        let bag = self.bag().filter(|_| self.takes_water())?.amount;
        let percent = if figure == Figure::WaterLeast { 16 } else { 28 };
        Some(DefaultFigure { amount: bag * percent / 100, footing: Footing::FromMemory })
    }

    /// Mortar comes in bags of 50 lb, by which published yields are told, and grout in bags of 25 lb (from memory).
    fn bag(self) -> Option<DefaultFigure> {
        match self {
            Self::CementMortar | Self::FastCementMortar => Some(DefaultFigure {
                amount: 22_680,
                footing: Footing::Published("engineerfix.com/how-much-thinset-do-i-need-per-square-foot"),
            }),
            Self::CementGrout | Self::FastCementGrout => {
                Some(DefaultFigure { amount: 11_340, footing: Footing::FromMemory })
            }
            Self::EpoxyMortar
            | Self::EpoxyGrout
            | Self::Dispersion
            | Self::PenetratingSealer
            | Self::SiliconeSealant
            | Self::LiquidMembrane => None,
        }
    }
}

impl DefaultFigure {
    const fn minutes(minutes: i64, footing: Footing) -> Self {
        Self { amount: minutes * 60_000, footing }
    }
}
