//! How mixes are said: amounts in the job's own units, what a mix is called, and what was set from which.

use trade::cure::{Figure, Powder, Span, StageKind, Water, Wetness};
use trade::measure::Unit;

use super::sight::Sight;
use super::words::Words;
use crate::store::{EventId, KeptBatch};
use crate::texts::Said;
use crate::web::form::Choice;

pub use trade::cure::Buckets;

/// In what a job's crew weighs and measures out.
pub fn buckets(unit: Unit) -> Buckets {
    match unit {
        Unit::Millimetre => Buckets::Metric,
        Unit::Inch => Buckets::Us,
    }
}

/// So many square centimetres make a square foot, in hundredths.
const SQUARE_FOOT_HUNDREDTHS: i64 = 92_903;

/// A mix stays on offer where a stage is told so long after it was made: the working day (common practice).
const OFFERED_FOR: Span = Span::from_hours(12);

/// Mixes that are offered at most: what a phone shows at once.
const MOST_OFFERED: usize = 8;

/// Mixes that an entry can be put right to: those of the last weeks.
const MOST_TO_MEND: usize = 60;

/// Amounts as one crew says them.
#[derive(Clone, Copy)]
pub struct Amounts<'a> {
    words: &'a Words,
    in_units: Buckets,
}

impl<'a> Amounts<'a> {
    /// Of this job.
    pub fn of(words: &'a Words, sight: &Sight) -> Self {
        Self { words, in_units: buckets(sight.head.unit) }
    }

    /// `6.3 kg`, `14 lb`.
    pub fn powder(&self, grams: i64) -> String {
        match self.in_units {
            Buckets::Metric => self.number("amount-kg", tenths(grams, 100, 1)),
            Buckets::Us => self.number("amount-lb", tenths(grams, 453_592, 10_000)),
        }
    }

    /// `4.7 l`, `5 qt`.
    pub fn water(&self, water: Water) -> String {
        let millilitres = water.millilitres();
        match self.in_units {
            Buckets::Metric => self.number("amount-l", tenths(millilitres, 100, 1)),
            Buckets::Us => self.number("amount-qt", tenths(millilitres, 946_353, 10_000)),
        }
    }

    /// `1.6 m²`, `18 sq ft`.
    pub fn area(&self, square_centimetres: i64) -> String {
        match self.in_units {
            Buckets::Metric => self.number("amount-m2", tenths(square_centimetres, 1000, 1)),
            Buckets::Us => {
                let feet = square_centimetres * 100 / SQUARE_FOOT_HUNDREDTHS;
                self.number("amount-sq-ft", feet.to_string())
            }
        }
    }

    /// `half a bag`, `1 bag`, `1 1/2 bags`.
    pub fn bags(&self, half_bags: i64) -> String {
        match (half_bags / 2, half_bags % 2) {
            (0, _) => self.words.say("amount-half-bag"),
            (1, 0) => self.words.say("amount-one-bag"),
            (whole, 0) => self.number("amount-bags", whole.to_string()),
            (whole, _) => self.number("amount-bags", format!("{whole} 1/2")),
        }
    }

    /// A figure of a bag as it is typed and shown.
    pub fn figure(&self, figure: Figure, amount: i64) -> String {
        match figure {
            Figure::Rest | Figure::PotLife | Figure::OpenTime | Figure::WipeFrom | Figure::WipeBy => {
                self.words.times.span(Span::from_millis(amount))
            }
            Figure::WaterLeast | Figure::WaterMost => {
                Water::from_millilitres(amount).map(|water| self.water(water)).unwrap_or_default()
            }
            Figure::Bag => self.powder(amount),
            Figure::Covers => self.area(amount),
        }
    }

    fn number(&self, key: &str, number: String) -> String {
        self.words.say_with(key, &[("number", &number)])
    }
}

/// `amount` in tenths of a unit, as it is written: a tenth of the unit is `each` over `under`. To the nearest tenth, or
/// to the nearest hundredth where it is less than one.
fn tenths(amount: i64, each: i64, under: i64) -> String {
    let nearest = |parts: i64| (2 * amount * under * parts + each).div_euclid(2 * each);
    let hundredths = nearest(10);
    if hundredths < 100 && hundredths % 10 != 0 {
        return format!("0.{hundredths:02}");
    }
    let tenths = nearest(1);
    let (whole, tenths) = (tenths / 10, tenths % 10);
    if tenths == 0 { whole.to_string() } else { format!("{whole}.{tenths}") }
}

impl Words {
    /// `Batch 3`.
    pub fn batch_number(&self, kept: &KeptBatch) -> String {
        self.say_with("batch-number", &[("number", &kept.number)])
    }

    /// `Batch 3: grey bag, lot A12`.
    pub fn batch(&self, kept: &KeptBatch) -> String {
        let product = self.product(Some(kept.batch.product()));
        let number = self.batch_number(kept);
        let mut values: Vec<(&str, &dyn Said)> = vec![("batch", &number), ("product", &product)];
        match &kept.lot {
            Some(lot) => {
                let lot = lot.as_str();
                values.push(("lot", &lot));
                self.say_with("batch-with-lot", &values)
            }
            None => self.say_with("batch-without-lot", &values),
        }
    }

    /// What else was told of a mix: powder, water, how warm, and what is wrong with the water.
    pub fn batch_told(&self, sight: &Sight, kept: &KeptBatch) -> Vec<String> {
        let amounts = Amounts::of(self, sight);
        let powder = kept
            .powder
            .map(|powder| self.say_with("batch-powder", &[("amount", &amounts.powder(powder.grams()))]));
        let water =
            kept.water.map(|water| self.say_with("batch-water", &[("amount", &amounts.water(water))]));
        let warm = kept.temperature.map(|at| self.say_with("batch-warm", &[("degrees", &self.degrees(at))]));
        [powder, water, warm].into_iter().flatten().collect()
    }

    /// That a mix has more water than it may.
    pub fn too_wet(&self, sight: &Sight, kept: &KeptBatch) -> Option<String> {
        let (powder, water): (Powder, Water) = kept.powder.zip(kept.water)?;
        match water.check(powder, kept.batch.product()) {
            Ok(Wetness::TooMuch { most, by_the_bag }) => {
                let key = if by_the_bag { "batch-too-wet" } else { "batch-too-wet-usual" };
                Some(self.say_with(key, &[("most", &Amounts::of(self, sight).water(most))]))
            }
            Ok(Wetness::Within) | Err(_) => None,
        }
    }

    /// `From batch 2 (lot A12), batch 3.`; nothing where none is named.
    pub fn batches_named(&self, sight: &Sight, named: &[EventId]) -> Option<String> {
        let named = named.iter().filter_map(|id| sight.batch(id));
        let each: Vec<String> = named.map(|kept| self.short_batch(kept)).collect();
        let each = each.join(", ");
        (!each.is_empty()).then(|| self.say_with("entry-batches", &[("batches", &each)]))
    }

    /// `batch 3 (lot A12)`.
    fn short_batch(&self, kept: &KeptBatch) -> String {
        match &kept.lot {
            Some(lot) => {
                let lot = lot.as_str();
                self.say_with("batch-short-lot", &[("number", &kept.number), ("lot", &lot)])
            }
            None => self.say_with("batch-short", &[("number", &kept.number)]),
        }
    }

    /// Every late mix of a stage, each by itself, or none: for putting an entry right, however long ago it was told.
    pub fn any_batch_choices(&self, sight: &Sight, stage: StageKind) -> Vec<Choice> {
        let of_it = |kept: &&KeptBatch| kept.stage == stage && !kept.withdrawn;
        let all = sight.stages.batches.iter().rev().filter(of_it).take(MOST_TO_MEND);
        let each: Vec<Choice> = all.map(|kept| self.batch_choice(kept)).collect();
        let none = (!each.is_empty()).then(|| Choice::new("", self.say("batch-choice-none")));
        each.into_iter().chain(none).collect()
    }

    fn batch_choice(&self, kept: &KeptBatch) -> Choice {
        let (batch, at) = (self.batch(kept), self.times.at(kept.batch.mixed()));
        let words = self.say_with("batch-choice", &[("batch", &batch), ("when", &at)]);
        Choice::new(kept.first.as_str(), words)
    }

    /// The mixes that a stage may have been done from, as one choice: all that are in use, each by itself, or none.
    /// With it the one that is offered first.
    pub fn batch_choices(&self, sight: &Sight, stage: StageKind) -> (String, Vec<Choice>) {
        let now = sight.now();
        let product = sight.stages.products.get(&stage);
        let matches = |kept: &&KeptBatch| {
            let same = product.is_some_and(|product| {
                let of = kept.batch.product();
                product.class() == of.class() && product.name() == of.name()
            });
            let recent = now - kept.batch.mixed() <= OFFERED_FOR;
            kept.stage == stage && !kept.withdrawn && same && recent
        };
        let all: Vec<&KeptBatch> =
            sight.stages.batches.iter().rev().filter(matches).take(MOST_OFFERED).collect();
        if all.is_empty() {
            return (String::new(), Vec::new());
        }
        let value =
            |of: &[&KeptBatch]| of.iter().map(|kept| kept.first.as_str()).collect::<Vec<_>>().join(",");
        let running: Vec<&KeptBatch> = all.iter().copied().filter(|kept| kept.over.is_none()).collect();
        let both = [("batch-choice-running", &running), ("batch-choice-all", &all)].map(|(key, of)| {
            let choice = Choice::new(value(of), self.say_with(key, &[("count", &of.len())]));
            (of.len() > 1).then_some(choice)
        });
        let [in_use, everything] = both;
        let everything = everything.filter(|_| running.len() < all.len());
        let one = |kept: &&KeptBatch| self.batch_choice(kept);
        let none = Choice::new("", self.say("batch-choice-none"));
        let choices: Vec<Choice> =
            in_use.into_iter().chain(all.iter().map(one)).chain(everything).chain([none]).collect();
        let first = if running.is_empty() { String::new() } else { value(&running) };
        (first, choices)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_to_the_tenth_and_small_ones_to_the_hundredth() {
        for (grams, kilograms) in [
            (22_680, "22.7"),
            (20_000, "20"),
            (6250, "6.3"),
            (940, "0.94"),
            (500, "0.5"),
            (84, "0.08"),
            (999, "1"),
        ] {
            assert_eq!(tenths(grams, 100, 1), kilograms, "{grams}");
        }
        assert_eq!(tenths(22_680, 453_592, 10_000), "50");
        assert_eq!(tenths(4731, 946_353, 10_000), "5");
    }

    #[test]
    fn what_is_said_of_an_amount_is_read_back_as_near_as_it_is_said() {
        for grams in [110, 999, 5000, 9072, 22_680, 25_000] {
            let said = format!("{} lb", tenths(grams, 453_592, 10_000));
            let read = Powder::read(&said, 22_680).unwrap().grams();
            assert!((read - grams).abs() <= 23, "{said} is {read}");
        }
    }
}
