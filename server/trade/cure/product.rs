//! What a wall is set, grouted and sealed with, and how long each keeps the next step waiting.

use std::collections::BTreeMap;

use super::{Figure, Span, Temperature};

/// A product as the crew knows it: its class gives cautious windows, and what the crew reads on the bag or
/// data sheet replaces them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Product {
    name: String,
    class: ProductClass,
    own: BTreeMap<(Window, Bed), OwnWindow>,
    lowest: Option<OwnLowest>,
    /// What the crew read on the bag of mixing, in the unit of each figure's measure.
    pub(super) figures: BTreeMap<Figure, i64>,
}

/// A window as the crew entered it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OwnWindow {
    /// Which window.
    pub window: Window,
    /// What the tile lies on.
    pub bed: Bed,
    /// How long.
    pub span: Span,
    /// Why it is shorter than the class's own: asked for then, welcome always.
    pub grounds: Option<Grounds>,
}

/// The lowest working temperature as the crew entered it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OwnLowest {
    /// Below it the product does nothing that counts.
    pub temperature: Temperature,
    /// Why it is lower than the class's own: asked for then, welcome always.
    pub grounds: Option<Grounds>,
}

/// Why a person went below a default, in their words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Grounds(String);

/// Kinds of product, told apart by how long they keep people waiting.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum ProductClass {
    /// Cement mortar, ordinary setting (EN 12004 C1 or C2 without F).
    CementMortar,
    /// Cement mortar, fast setting (EN 12004 F).
    FastCementMortar,
    /// Ready-mixed dispersion adhesive, mastic (EN 12004 D): it dries, so dense tile holds it back.
    Dispersion,
    /// Reaction resin mortar (EN 12004 R).
    EpoxyMortar,
    /// Cement grout, ordinary (EN 13888 CG).
    CementGrout,
    /// Cement grout, fast hardening.
    FastCementGrout,
    /// Reaction resin grout (EN 13888 RG).
    EpoxyGrout,
    /// Penetrating sealer.
    PenetratingSealer,
    /// Silicone sealant in movement joints.
    SiliconeSealant,
    /// Waterproofing membrane put on wet.
    LiquidMembrane,
}

/// A wait that a product asks for, from the finish of the stage it is used in.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Window {
    /// From the last coat of waterproofing to filling the pan for the water test.
    MembraneToTest,
    /// From the last coat of waterproofing to setting tile on it.
    MembraneToTile,
    /// From the last tile set to taking off levelling clips.
    SetToClips,
    /// From the last tile set to grouting.
    SetToGrout,
    /// From the end of grouting to sealant beside it.
    GroutToSealant,
    /// From the end of grouting to sealing.
    GroutToSeal,
    /// From the end of grouting to people walking on it.
    GroutToWalk,
    /// From the end of grouting to fixtures and heavy loads on it.
    GroutToHeavyUse,
    /// From the end of grouting to water on it.
    GroutToWater,
    /// From the end of sealing to water on it.
    SealToWater,
    /// From the end of sealant work to sealing beside it.
    SealantToSeal,
    /// From the end of sealant work to water on it.
    SealantToWater,
}

/// What the tile lies on. Between dense tile and a membrane a mortar's water has nowhere to go.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Bed {
    /// A waterproofing membrane, as in every shower.
    OverMembrane,
    /// Board, render or screed that takes up water.
    Ordinary,
}

/// A class's window and where it comes from: always to be checked against the bag.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DefaultWindow {
    /// How long, at 21 to 25 °C.
    pub span: Span,
    /// How well founded it is.
    pub footing: Footing,
    /// What it rests on, by the name of its words.
    pub grounds: &'static str,
}

/// How well founded a default is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Footing {
    /// Published here.
    Published(&'static str),
    /// Worked from a published figure, as told.
    Derived,
    /// What the trade does; nothing published was found.
    CommonPractice,
    /// Known, but not seen in print.
    FromMemory,
}

/// What keeps a product from being kept.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum ProductFault {
    /// Nothing to call it by.
    #[error("Give the product a name of 1 to 80 characters.")]
    Name,
    /// The class states no such window.
    #[error("A product of this class has no such waiting time.")]
    NotOfThisClass { class: ProductClass, window: Window },
    /// Below nothing or beyond [`Product::LONGEST`].
    #[error("A waiting time is at least nothing and at most 90 days.")]
    OutOfRange { window: Window, span: Span },
    /// Shorter than the class's own, and nobody said why.
    #[error(
        "This waiting time is shorter than the usual one for its class: say why, for example what the bag says."
    )]
    LaxerWithoutReason { window: Window, bed: Bed, default: Span, given: Span },
    /// A lower working temperature than the class's own, and nobody said why.
    #[error(
        "This working temperature is lower than the usual one for its class: say why, for example what the bag says."
    )]
    ColderWithoutReason { default: Temperature, given: Temperature },
    /// The same window for the same bed, twice.
    #[error("The same waiting time is given twice.")]
    Twice { window: Window, bed: Bed },
    /// The class is not mixed, or says nothing of this.
    #[error("A product of this class has no such figure.")]
    FigureNotOfThisClass { figure: Figure },
    /// Beyond what any bag says.
    #[error("No bag says that: look at it again.")]
    FigureOutOfRange { figure: Figure },
    /// The one has to be less than the other.
    #[error("These two figures contradict each other.")]
    FiguresCross { less: Figure, more: Figure },
}

impl Product {
    /// The longest window: three times the 30 days that the longest published advice before sealing asks for.
    pub const LONGEST: Span = Span::from_hours(90 * 24);
    /// The longest name: what fits on a line of a phone, twice over.
    pub const MOST_CHARACTERS: usize = 80;

    /// A product with the crew's own windows.
    ///
    /// # Errors
    /// No name, a window that the class does not have or has twice, one out of range, or one shorter than the
    /// class's default with no reason given. A longer one needs none.
    pub fn new(name: &str, class: ProductClass, own: Vec<OwnWindow>) -> Result<Self, ProductFault> {
        let name = name.trim();
        if name.is_empty() || name.chars().count() > Self::MOST_CHARACTERS {
            return Err(ProductFault::Name);
        }
        let mut kept = BTreeMap::new();
        for stated in own {
            stated.check(class)?;
            let (window, bed) = (stated.window, stated.bed);
            if kept.insert((window, bed), stated).is_some() {
                return Err(ProductFault::Twice { window, bed });
            }
        }
        Ok(Self { name: name.to_owned(), class, own: kept, lowest: None, figures: BTreeMap::new() })
    }

    /// The same product with the lowest working temperature that its bag states.
    ///
    /// # Errors
    /// One lower than the class's default with no reason given. A higher one needs none.
    pub fn with_lowest(self, lowest: OwnLowest) -> Result<Self, ProductFault> {
        let (default, given) = (self.class.lowest(), lowest.temperature);
        if given < default && lowest.grounds.is_none() {
            return Err(ProductFault::ColderWithoutReason { default, given });
        }
        Ok(Self { lowest: Some(lowest), ..self })
    }

    /// What the crew calls it.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its class.
    pub fn class(&self) -> ProductClass {
        self.class
    }

    /// The windows that the crew entered, with their reasons.
    pub fn own(&self) -> impl Iterator<Item = &OwnWindow> {
        self.own.values()
    }

    /// The lowest working temperature that the crew entered, with its reason.
    pub fn own_lowest(&self) -> Option<&OwnLowest> {
        self.lowest.as_ref()
    }

    /// Below this nothing hardens or dries that counts: the crew's own value, else the class's.
    pub fn lowest(&self) -> Temperature {
        self.lowest.as_ref().map_or(self.class.lowest(), |own| own.temperature)
    }

    /// How long this window is where nobody knows how cold it is: the longest that the product has on any bed.
    pub fn longer_window(&self, window: Window) -> Option<Span> {
        Bed::ALL.into_iter().filter_map(|bed| self.window(window, bed)).max()
    }

    /// How long this window is: the crew's own value, else the class's; `None` where the class has none.
    pub fn window(&self, window: Window, bed: Bed) -> Option<Span> {
        let own = self.own.get(&(window, bed)).map(|stated| stated.span);
        own.or_else(|| self.class.default_window(window, bed).map(|default| default.span))
    }
}

impl OwnWindow {
    fn check(&self, class: ProductClass) -> Result<(), ProductFault> {
        let Self { window, bed, span, .. } = *self;
        let default =
            class.default_window(window, bed).ok_or(ProductFault::NotOfThisClass { class, window })?.span;
        if span < Span::ZERO || span > Product::LONGEST {
            Err(ProductFault::OutOfRange { window, span })
        } else if span < default && self.grounds.is_none() {
            Err(ProductFault::LaxerWithoutReason { window, bed, default, given: span })
        } else {
            Ok(())
        }
    }
}

impl Grounds {
    /// The longest reason: a few sentences.
    pub const MOST_CHARACTERS: usize = 500;

    /// A reason of 1 to 500 characters; anything else is `None`.
    pub fn new(words: &str) -> Option<Self> {
        let words = words.trim();
        let fits = !words.is_empty() && words.chars().count() <= Self::MOST_CHARACTERS;
        fits.then(|| Self(words.to_owned()))
    }

    /// The words.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Window {
    /// Every window.
    pub const ALL: [Self; 12] = [
        Self::MembraneToTest,
        Self::MembraneToTile,
        Self::SetToClips,
        Self::SetToGrout,
        Self::GroutToSealant,
        Self::GroutToSeal,
        Self::GroutToWalk,
        Self::GroutToHeavyUse,
        Self::GroutToWater,
        Self::SealToWater,
        Self::SealantToSeal,
        Self::SealantToWater,
    ];

    /// The name it is stored by.
    pub fn name(self) -> &'static str {
        match self {
            Self::MembraneToTest => "membrane_to_test",
            Self::MembraneToTile => "membrane_to_tile",
            Self::SetToClips => "set_to_clips",
            Self::SetToGrout => "set_to_grout",
            Self::GroutToSealant => "grout_to_sealant",
            Self::GroutToSeal => "grout_to_seal",
            Self::GroutToWalk => "grout_to_walk",
            Self::GroutToHeavyUse => "grout_to_heavy_use",
            Self::GroutToWater => "grout_to_water",
            Self::SealToWater => "seal_to_water",
            Self::SealantToSeal => "sealant_to_seal",
            Self::SealantToWater => "sealant_to_water",
        }
    }

    /// The window stored by that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|window| window.name() == name)
    }

    /// The longest default of any class: what holds where nobody knows which product was used.
    pub fn longest_default(self, bed: Bed) -> Span {
        let defaults = ProductClass::ALL.into_iter().filter_map(|class| class.default_window(self, bed));
        defaults.map(|default| default.span).max().unwrap_or(Product::LONGEST)
    }
}

impl Bed {
    /// Both.
    pub const ALL: [Self; 2] = [Self::OverMembrane, Self::Ordinary];

    /// The name it is stored by.
    pub fn name(self) -> &'static str {
        match self {
            Self::OverMembrane => "over_membrane",
            Self::Ordinary => "ordinary",
        }
    }

    /// The bed stored by that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|bed| bed.name() == name)
    }
}

impl ProductClass {
    /// Every class.
    pub const ALL: [Self; 10] = [
        Self::CementMortar,
        Self::FastCementMortar,
        Self::Dispersion,
        Self::EpoxyMortar,
        Self::CementGrout,
        Self::FastCementGrout,
        Self::EpoxyGrout,
        Self::PenetratingSealer,
        Self::SiliconeSealant,
        Self::LiquidMembrane,
    ];

    /// The name it is stored by.
    pub fn name(self) -> &'static str {
        match self {
            Self::CementMortar => "cement_mortar",
            Self::FastCementMortar => "fast_cement_mortar",
            Self::Dispersion => "dispersion",
            Self::EpoxyMortar => "epoxy_mortar",
            Self::CementGrout => "cement_grout",
            Self::FastCementGrout => "fast_cement_grout",
            Self::EpoxyGrout => "epoxy_grout",
            Self::PenetratingSealer => "penetrating_sealer",
            Self::SiliconeSealant => "silicone_sealant",
            Self::LiquidMembrane => "liquid_membrane",
        }
    }

    /// The class stored by that name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|class| class.name() == name)
    }

    /// Below this the product's clock stops, until the bag says otherwise (from memory; check the bag). Cement has
    /// no setting below 40 °F, and makers ask for 5 °C in Europe; a dispersion's film and a sealer ask for as much.
    /// Resins stall at 50 °F.
    pub fn lowest(self) -> Temperature {
        match self {
            Self::CementMortar
            | Self::FastCementMortar
            | Self::Dispersion
            | Self::CementGrout
            | Self::FastCementGrout
            | Self::PenetratingSealer
            | Self::SiliconeSealant
            | Self::LiquidMembrane => Temperature::celsius(5),
            Self::EpoxyMortar | Self::EpoxyGrout => Temperature::celsius(10),
        }
    }

    /// The highest lowest working temperature of any class: what holds where nobody knows which product was used.
    pub fn highest_lowest() -> Temperature {
        Self::ALL.into_iter().map(Self::lowest).max().unwrap_or(Temperature::WARMEST)
    }

    /// Whether it hardens as concrete does, so that an equivalent age says something of it.
    pub fn is_cement(self) -> bool {
        match self {
            Self::CementMortar | Self::FastCementMortar | Self::CementGrout | Self::FastCementGrout => true,
            Self::Dispersion
            | Self::EpoxyMortar
            | Self::EpoxyGrout
            | Self::PenetratingSealer
            | Self::SiliconeSealant
            | Self::LiquidMembrane => false,
        }
    }

    /// The cautious window of this class, or `None` where it has no such window. Where published ranges
    /// differ, the long end holds. Where it is published is in the value; what it rests on is said in words elsewhere,
    /// under the name in the value.
    pub fn default_window(self, window: Window, bed: Bed) -> Option<DefaultWindow> {
        match window {
            Window::MembraneToTest | Window::MembraneToTile => self.membrane_cured(),
            Window::SetToClips => self.set_to_clips(bed),
            Window::SetToGrout => self.set_to_grout(bed),
            Window::GroutToSealant => self.grout_to_sealant(),
            Window::GroutToSeal => self.grout_to_seal(),
            Window::GroutToWalk => self.grout_to_walk(),
            Window::GroutToHeavyUse => self.grout_to_heavy_use(),
            Window::GroutToWater => self.grout_to_water(),
            Window::SealToWater => self.seal_to_water(),
            Window::SealantToSeal => self.sealant_to_seal(),
            Window::SealantToWater => self.sealant_to_water(),
        }
    }

    /// A membrane dries before it is tested or tiled on.
    fn membrane_cured(self) -> Option<DefaultWindow> {
        let is_membrane = self == Self::LiquidMembrane;
        is_membrane.then(|| DefaultWindow::hours(24, Footing::FromMemory, "membrane"))
    }

    /// Clips come off the next day (common practice). A fast mortar is given as long as before grouting, and
    /// so is a dispersion, which dries more slowly than cement sets.
    fn set_to_clips(self, bed: Bed) -> Option<DefaultWindow> {
        match self {
            Self::CementMortar | Self::EpoxyMortar => {
                Some(DefaultWindow::hours(24, Footing::CommonPractice, "clips-next-day"))
            }
            Self::FastCementMortar | Self::Dispersion => self.set_to_grout(bed),
            Self::CementGrout
            | Self::FastCementGrout
            | Self::EpoxyGrout
            | Self::PenetratingSealer
            | Self::SiliconeSealant
            | Self::LiquidMembrane => None,
        }
    }

    fn set_to_grout(self, bed: Bed) -> Option<DefaultWindow> {
        use Footing::{Derived, FromMemory, Published};
        let default = match (self, bed) {
            (Self::CementMortar, Bed::Ordinary) => DefaultWindow::hours(
                24,
                Published("engineerfix.com/how-long-do-i-have-to-wait-to-grout-tile"),
                "mortar",
            ),
            (Self::CementMortar, Bed::OverMembrane) => DefaultWindow::hours(
                48,
                Published("engineerfix.com/how-long-should-you-wait-before-grouting-tile-2"),
                "mortar-over-membrane",
            ),
            (Self::FastCementMortar, Bed::Ordinary) => DefaultWindow::hours(
                8,
                Published(
                    "flooringclarity.com/?p=24718, engineerfix.com/how-long-do-i-have-to-wait-to-grout-tile",
                ),
                "fast-mortar",
            ),
            (Self::FastCementMortar, Bed::OverMembrane) => {
                DefaultWindow::hours(16, Derived, "fast-mortar-over-membrane")
            }
            (Self::Dispersion, Bed::Ordinary) => DefaultWindow::hours(
                48,
                Published("flooringclarity.com/?p=24718, NAVEDTRA 14044 p. 7-24"),
                "dispersion",
            ),
            (Self::Dispersion, Bed::OverMembrane) => DefaultWindow::hours(
                72,
                Published("engineerfix.com/how-long-should-you-wait-before-grouting-tile-2"),
                "dispersion-over-membrane",
            ),
            (Self::EpoxyMortar, Bed::Ordinary | Bed::OverMembrane) => {
                DefaultWindow::hours(24, FromMemory, "epoxy-mortar")
            }
            (
                Self::CementGrout
                | Self::FastCementGrout
                | Self::EpoxyGrout
                | Self::PenetratingSealer
                | Self::SiliconeSealant
                | Self::LiquidMembrane,
                _,
            ) => return None,
        };
        Some(default)
    }

    fn is_grout(self) -> bool {
        matches!(self, Self::CementGrout | Self::FastCementGrout | Self::EpoxyGrout)
    }

    fn grout_to_sealant(self) -> Option<DefaultWindow> {
        self.is_grout().then(|| DefaultWindow::hours(24, Footing::CommonPractice, "grout-to-sealant"))
    }

    fn grout_to_walk(self) -> Option<DefaultWindow> {
        self.is_grout().then(|| DefaultWindow::hours(24, Footing::FromMemory, "grout-to-walk"))
    }

    fn grout_to_heavy_use(self) -> Option<DefaultWindow> {
        let published = Footing::Published("ceramicinfospot.com");
        self.is_grout().then(|| DefaultWindow::hours(72, published, "grout-to-heavy-use"))
    }

    fn sealant_to_seal(self) -> Option<DefaultWindow> {
        let is_sealant = self == Self::SiliconeSealant;
        is_sealant.then(|| DefaultWindow::hours(24, Footing::FromMemory, "sealant-to-seal"))
    }

    fn grout_to_seal(self) -> Option<DefaultWindow> {
        match self {
            Self::CementGrout => Some(DefaultWindow::hours(72, Footing::CommonPractice, "grout")),
            Self::FastCementGrout => Some(DefaultWindow::hours(72, Footing::CommonPractice, "fast-grout")),
            Self::EpoxyGrout => Some(DefaultWindow::hours(72, Footing::CommonPractice, "epoxy-grout")),
            Self::CementMortar
            | Self::FastCementMortar
            | Self::Dispersion
            | Self::EpoxyMortar
            | Self::PenetratingSealer
            | Self::SiliconeSealant
            | Self::LiquidMembrane => None,
        }
    }

    fn grout_to_water(self) -> Option<DefaultWindow> {
        match self {
            Self::CementGrout | Self::FastCementGrout => {
                Some(DefaultWindow::hours(72, Footing::Published("ceramicinfospot.com"), "grout-to-water"))
            }
            Self::EpoxyGrout => Some(DefaultWindow::hours(72, Footing::FromMemory, "epoxy-grout-to-water")),
            Self::CementMortar
            | Self::FastCementMortar
            | Self::Dispersion
            | Self::EpoxyMortar
            | Self::PenetratingSealer
            | Self::SiliconeSealant
            | Self::LiquidMembrane => None,
        }
    }

    fn seal_to_water(self) -> Option<DefaultWindow> {
        match self {
            Self::PenetratingSealer => Some(DefaultWindow::hours(72, Footing::FromMemory, "sealer-to-water")),
            Self::CementMortar
            | Self::FastCementMortar
            | Self::Dispersion
            | Self::EpoxyMortar
            | Self::CementGrout
            | Self::FastCementGrout
            | Self::EpoxyGrout
            | Self::SiliconeSealant
            | Self::LiquidMembrane => None,
        }
    }

    fn sealant_to_water(self) -> Option<DefaultWindow> {
        match self {
            Self::SiliconeSealant => Some(DefaultWindow::hours(72, Footing::FromMemory, "silicone-to-water")),
            Self::CementMortar
            | Self::FastCementMortar
            | Self::Dispersion
            | Self::EpoxyMortar
            | Self::CementGrout
            | Self::FastCementGrout
            | Self::EpoxyGrout
            | Self::PenetratingSealer
            | Self::LiquidMembrane => None,
        }
    }
}

impl DefaultWindow {
    const fn hours(hours: i64, footing: Footing, grounds: &'static str) -> Self {
        Self { span: Span::from_hours(hours), footing, grounds }
    }
}

#[cfg(test)]
mod tests;
