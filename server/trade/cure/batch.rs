//! One mix of powder and water: how long it rests, until when it may be used, and how much to mix at once.
//!
//! For a window that closes, the earliest credible instant rules: a mix told late counts from when it was told to have
//! been mixed, and where the clocks differ the larger of what they say has passed. Heat makes its windows shorter and
//! cold makes none longer. Past its pot life a mix is an alarm and no lock, so that no figure here asks for a reason.
//!
//! Deliberately absent: what a mix costs, and what becomes of what is left over.

use super::trust::at_most_elapsed;
use super::{ColdRule, Figure, Instant, Now, Product, Span, Stamp, Temperature};
use crate::measure::Length;

/// A mix as it was told.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Batch {
    mixed: Instant,
    received: Stamp,
    product: Product,
    temperature: Option<Temperature>,
}

/// When the windows of a mix open and close.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct BatchWindows {
    /// It rests (slakes) until then, and is stirred again.
    pub rest_until: Instant,
    /// Its pot life: afterwards nothing of it is used.
    pub use_by: Instant,
    /// From and by when the grout that was spread first is wiped the first time.
    pub wipe: Option<(Instant, Instant)>,
}

/// Where a mix stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum BatchStanding {
    /// It has still to rest.
    Resting {
        /// So long.
        left: Span,
    },
    /// It may be used.
    Good {
        /// For so long yet.
        left: Span,
    },
    /// It is past its pot life.
    Past {
        /// For so long.
        since: Span,
    },
    /// The machine was restarted with clocks that nobody trusted: how old it is cannot be told.
    Unknown,
}

/// How much powder, in grams.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Powder(i64);

/// How much water, in millilitres.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Water(i64);

/// How a crew writes what it weighs and measures out, where it names no unit.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Buckets {
    /// Litres, kilograms, square metres.
    Metric,
    /// US quarts, pounds, square feet.
    Us,
}

/// What keeps something typed from being an amount.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
pub enum AmountFault {
    /// No number, or no unit that anybody knows.
    #[error("Write an amount like 1/2 bag, 5 l or 11 lb.")]
    Unclear,
    /// Nobody mixes that.
    #[error("Nobody mixes that much or that little: look again.")]
    Absurd,
}

/// What a mix's water is, against what the product allows.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Wetness {
    /// No more than allowed.
    Within,
    /// More.
    TooMuch {
        /// The most for so much powder.
        most: Water,
        /// The bag says so; else it is what is usual.
        by_the_bag: bool,
    },
}

/// How fast a crew covers a wall, in square centimetres an hour.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Rate(i64);

/// How much is used and how fast, where a mix is wanted.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Use {
    /// How fast the crew goes.
    pub rate: Rate,
    /// Grams of powder that a square metre takes.
    pub grams_per_m2: i64,
    /// How warm it is, where that is known.
    pub temperature: Option<Temperature>,
}

/// How much to mix at once.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Suggestion {
    /// From the end of its rest to the end of its pot life.
    pub working: Span,
    /// What the crew covers in that time, in square centimetres.
    pub area: i64,
    /// So many half bags, rounded down; none where even one would be too much.
    pub half_bags: i64,
    /// The powder of these; where there are none, what the area takes.
    pub powder: Powder,
    /// The least and the most water for that much powder.
    pub water: (Water, Water),
    /// What to spread at once, in square centimetres: more skins over before tile is on it.
    pub spread: Option<i64>,
}

impl Batch {
    /// A mix; `None` where its product is not mixed with water.
    pub fn new(
        mixed: Instant,
        received: Stamp,
        product: Product,
        temperature: Option<Temperature>,
    ) -> Option<Self> {
        let mixed = mixed.min(received.wall);
        product.is_mixed().then_some(Self { mixed, received, product, temperature })
    }

    /// When it was mixed: as told, and never after its receipt.
    pub fn mixed(&self) -> Instant {
        self.mixed
    }

    /// When it was received, by the server's clocks.
    pub fn received(&self) -> &Stamp {
        &self.received
    }

    /// Of what.
    pub fn product(&self) -> &Product {
        &self.product
    }

    /// How warm it was.
    pub fn temperature(&self) -> Option<Temperature> {
        self.temperature
    }

    /// Its windows by the wall clock.
    pub fn windows(&self) -> BatchWindows {
        let (rest, pot_life) = (self.span(Figure::Rest), self.pot_life());
        let spread = self.mixed + rest;
        let wipe = self.product.span_figure(Figure::WipeFrom).zip(self.product.span_figure(Figure::WipeBy));
        let wipe = wipe.map(|(from, by)| {
            let by = self.in_heat(by);
            (spread + from.min(by), spread + by)
        });
        BatchWindows { rest_until: spread, use_by: self.mixed + pot_life, wipe }
    }

    /// Where it stands, by whichever clock says that more has passed.
    pub fn standing(&self, now: &Now) -> BatchStanding {
        let Some(passed) = at_most_elapsed(&self.received, &now.at) else { return BatchStanding::Unknown };
        let age = passed.max(now.at.wall - self.received.wall) + (self.received.wall - self.mixed);
        let (rest, pot_life) = (self.span(Figure::Rest), self.pot_life());
        if age >= pot_life {
            BatchStanding::Past { since: age - pot_life }
        } else if age < rest {
            BatchStanding::Resting { left: rest - age }
        } else {
            BatchStanding::Good { left: pot_life - age }
        }
    }

    fn pot_life(&self) -> Span {
        self.in_heat(self.span(Figure::PotLife))
    }

    fn span(&self, figure: Figure) -> Span {
        self.product.span_figure(figure).unwrap_or(Span::ZERO)
    }

    fn in_heat(&self, span: Span) -> Span {
        in_heat(span, self.temperature)
    }
}

/// A window that closes, at that temperature: halved for each 8 °C above 21 °C, as the published field rule has it for
/// setting (splash.online/articles/winter-tiling-tips; derived for pot life and open time). Never longer in the cold.
fn in_heat(span: Span, at: Option<Temperature>) -> Span {
    at.map_or(span, |at| ColdRule::default().shortened(span, at))
}

impl Powder {
    /// Less than a cup.
    const LEAST: i64 = 100;
    /// A drum mixer's fill.
    const MOST: i64 = 250_000;

    /// An amount of powder: `1`, `1/2 bag`, `12 kg`, `25 lb`. A bare number is bags, each of so many grams.
    ///
    /// # Errors
    /// What is no amount, or none that anybody mixes.
    pub fn read(typed: &str, bag: i64) -> Result<Self, AmountFault> {
        let (thousandths, unit) = amount(typed).ok_or(AmountFault::Unclear)?;
        let micrograms = match unit.as_str() {
            "" | "bag" | "bags" | "saco" | "sacos" | "bolsa" | "bolsas" => bag.checked_mul(1000),
            "kg" | "kilo" | "kilos" => Some(1_000_000),
            "g" | "gr" => Some(1000),
            "lb" | "lbs" | "libra" | "libras" => Some(GRAMS_PER_POUND_THOUSANDTHS),
            _ => return Err(AmountFault::Unclear),
        };
        let grams = micrograms.and_then(|each| each.checked_mul(thousandths)).map(|all| all / 1_000_000);
        Self::from_grams(grams.unwrap_or(i64::MAX)).ok_or(AmountFault::Absurd)
    }

    /// So many grams; `None` where nobody mixes that.
    pub fn from_grams(grams: i64) -> Option<Self> {
        (Self::LEAST..=Self::MOST).contains(&grams).then_some(Self(grams))
    }

    /// Grams.
    pub fn grams(self) -> i64 {
        self.0
    }
}

/// A pound is 453.592 37 g, to the nearest thousandth.
const GRAMS_PER_POUND_THOUSANDTHS: i64 = 453_592;
/// A US quart is 946.352 946 ml, to the nearest thousandth.
const MILLILITRES_PER_QUART_THOUSANDTHS: i64 = 946_353;

impl Water {
    /// An amount of water: `5`, `4.7 l`, `5 qt`, `1 1/4 gal`. A bare number is litres or quarts.
    ///
    /// # Errors
    /// What is no amount.
    pub fn read(typed: &str, bare: Buckets) -> Result<Self, AmountFault> {
        let (thousandths, unit) = amount(typed).ok_or(AmountFault::Unclear)?;
        let unit = match (unit.as_str(), bare) {
            ("", Buckets::Metric) => "l",
            ("", Buckets::Us) => "qt",
            (unit, _) => unit,
        };
        let each = match unit {
            "l" | "litre" | "litres" | "liter" | "liters" | "litro" | "litros" => 1_000_000,
            "ml" => 1000,
            "qt" | "quart" | "quarts" | "cuarto" | "cuartos" => MILLILITRES_PER_QUART_THOUSANDTHS,
            "gal" | "gallon" | "gallons" | "galón" | "galon" | "galones" => {
                4 * MILLILITRES_PER_QUART_THOUSANDTHS
            }
            _ => return Err(AmountFault::Unclear),
        };
        let all = thousandths.checked_mul(each).map(|all| all / 1_000_000);
        all.and_then(Self::from_millilitres).ok_or(AmountFault::Absurd)
    }

    /// So many millilitres; `None` where nobody carries that.
    pub fn from_millilitres(millilitres: i64) -> Option<Self> {
        (1..=Powder::MOST).contains(&millilitres).then_some(Self(millilitres))
    }

    /// Millilitres.
    pub fn millilitres(self) -> i64 {
        self.0
    }

    /// What so much of it in so much powder is, against what the product allows.
    ///
    /// # Errors
    /// As much water as powder by weight, or a twentieth: no product of these classes is mixed so. Powder is 78 to
    /// 86 % of a mix (from memory), so that water is a sixth to two sevenths of it.
    pub fn check(self, powder: Powder, product: &Product) -> Result<Wetness, AmountFault> {
        if self.0 >= powder.0 || self.0 * 20 < powder.0 {
            return Err(AmountFault::Absurd);
        }
        let Some((_, most)) = product.water_for(powder) else { return Ok(Wetness::Within) };
        let by_the_bag = product.own_figure(Figure::WaterMost).is_some();
        Ok(if self > most { Wetness::TooMuch { most, by_the_bag } } else { Wetness::Within })
    }
}

/// A number (`2`, `2.5`, `2,5`, `1/2`, `1 1/2`, `½`) in thousandths, and the unit after it.
fn amount(typed: &str) -> Option<(i64, String)> {
    let typed = typed.trim().to_lowercase().replace('½', " 1/2").replace('¼', " 1/4").replace('¾', " 3/4");
    let ends = typed
        .find(|c: char| !(c.is_ascii_digit() || c.is_whitespace() || ".,/".contains(c)))
        .unwrap_or(typed.len());
    let (number, unit) = typed.split_at(ends);
    let mut parts = number.split_whitespace();
    let (first, second) = (parts.next()?, parts.next());
    let thousandths = match second {
        None if first.contains('/') => fraction(first)?,
        None => decimal(first)?,
        Some(second) => whole(first)?.checked_mul(1000)?.checked_add(fraction(second)?)?,
    };
    let unit = unit.trim().trim_end_matches('.').to_owned();
    (parts.next().is_none() && thousandths > 0).then_some((thousandths, unit))
}

fn whole(digits: &str) -> Option<i64> {
    let fits = !digits.is_empty() && digits.len() <= 6 && digits.bytes().all(|byte| byte.is_ascii_digit());
    fits.then(|| digits.parse().ok()).flatten()
}

fn fraction(typed: &str) -> Option<i64> {
    let (over, under) = typed.split_once('/')?;
    whole(over)?.checked_mul(1000)?.checked_div(whole(under)?)
}

fn decimal(typed: &str) -> Option<i64> {
    let (units, decimals) = typed.split_once(['.', ',']).unwrap_or((typed, "0"));
    let places = decimals.len();
    let decimals = (1..=3).contains(&places).then(|| whole(decimals)).flatten()?;
    let each = [100, 10, 1].get(places - 1)?;
    Some(whole(units)? * 1000 + decimals * each)
}

impl Rate {
    /// Setting: about 2 m2 of wall an hour (common practice).
    pub const SETTING: Self = Self(20_000);
    /// Grouting: about 6 m2 of wall an hour (common practice).
    pub const GROUTING: Self = Self(60_000);
    /// So many stretches of work tell more than how one of them went.
    const LEAST_STRETCHES: usize = 3;
    /// In less than this a crew has hardly begun.
    const LEAST_TIME: Span = Span::from_hours(1);
    /// A stretch with a longer pause in it, or told long afterwards, says nothing of how fast anybody is.
    pub const LONGEST_STRETCH: Span = Span::from_hours(4);

    /// How fast a crew went, from stretches of work in its own log: square centimetres, and how long they took. `None`
    /// where there are too few to go by.
    pub fn measured(stretches: &[(i64, Span)]) -> Option<Self> {
        let fit =
            |(area, span): &&(i64, Span)| *area > 0 && *span > Span::ZERO && *span <= Self::LONGEST_STRETCH;
        let fit: Vec<&(i64, Span)> = stretches.iter().filter(fit).collect();
        let time: Span = fit.iter().map(|(_, span)| *span).sum();
        let area = fit.iter().map(|(area, _)| i128::from(*area)).sum::<i128>();
        if fit.len() < Self::LEAST_STRETCHES || time < Self::LEAST_TIME {
            return None;
        }
        let hourly = area * i128::from(Span::from_hours(1).millis()) / i128::from(time.millis());
        i64::try_from(hourly).ok().filter(|hourly| *hourly > 0).map(Self)
    }

    /// Square centimetres an hour.
    pub fn hourly(self) -> i64 {
        self.0
    }

    /// Square centimetres in so long.
    fn in_span(self, span: Span) -> i64 {
        let area = i128::from(self.0) * i128::from(span.millis()) / i128::from(Span::from_hours(1).millis());
        i64::try_from(area).unwrap_or(i64::MAX)
    }
}

/// How much of a product to mix at once; `None` where it is not mixed.
///
/// What is mixed has to be used up by the end of its pot life, and what is spread has to be covered within its open
/// time: pot life alone hides mortar that has skinned over.
pub fn suggest(product: &Product, wanted: &Use) -> Option<Suggestion> {
    let heat = |figure: Figure| product.span_figure(figure).map(|span| in_heat(span, wanted.temperature));
    let working = heat(Figure::PotLife)? - product.span_figure(Figure::Rest)?;
    let working = working.max(Span::ZERO);
    let (bag, area) = (product.figure(Figure::Bag)?, wanted.rate.in_span(working));
    let grams = i128::from(area) * i128::from(wanted.grams_per_m2) / 10_000;
    let grams = i64::try_from(grams).unwrap_or(i64::MAX).clamp(Powder::LEAST, Powder::MOST);
    let half_bags = 2 * grams / bag;
    let powder = if half_bags > 0 { half_bags * bag / 2 } else { grams };
    let powder = Powder(powder);
    let spread = heat(Figure::OpenTime).map(|open| wanted.rate.in_span(open));
    let water = product.water_for(powder)?;
    Some(Suggestion { working, area, half_bags, powder, water, spread })
}

impl Product {
    /// The least and the most water for so much powder.
    pub fn water_for(&self, powder: Powder) -> Option<(Water, Water)> {
        let bag = self.figure(Figure::Bag)?;
        let share = |figure: Figure| Some(Water(self.figure(figure)? * powder.0 / bag));
        share(Figure::WaterLeast).zip(share(Figure::WaterMost))
    }
}

/// Grams of mortar powder that a square metre takes under tile of that size, by the trowel that it is usually combed
/// with: 90, 65 and 45 sq ft a bag of 50 lb (engineerfix.com/how-much-thinset-do-i-need-per-square-foot, the middle of
/// several published yields; for 1/4 x 1/4, 1/4 x 3/8 and 1/2 x 1/2 in notches). What the bag says it covers wins.
pub fn mortar_per_m2(longest_side: Length) -> i64 {
    if longest_side <= Length::mm(153) {
        2712
    } else if longest_side <= Length::mm(305) {
        3756
    } else {
        5425
    }
}

/// Grams of grout powder that a square metre takes: (L + W) / (L x W) x joint x depth x density, as tables print it
/// (tilersforums.com/threads/how-to-calculate-your-grout-requirements.39223). The density is in grams a litre.
pub fn grout_per_m2(tile: (Length, Length), joint: Length, depth: Length, density: i64) -> i64 {
    let units = |length: Length| i128::from(length.units());
    let (long, wide) = (units(tile.0), units(tile.1));
    if long <= 0 || wide <= 0 {
        return 0;
    }
    // What is left of the fraction is a length, and so many units make a millimetre.
    let grams = i128::from(density) * (long + wide) * units(joint) * units(depth) / (long * wide);
    i64::try_from(grams / units(Length::mm(1))).unwrap_or(i64::MAX)
}

/// What is spilt, washed out and left in the bucket (custom).
pub const GROUT_WASTE_PERCENT: i64 = 10;
/// Usual densities of cement grout go up to this, in grams a litre.
pub const GROUT_DENSITY: i64 = 1700;

#[cfg(test)]
mod tests;
