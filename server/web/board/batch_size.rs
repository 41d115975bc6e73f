//! How much to mix at once: at the pace that the crew's own log shows, where it shows enough, else at a usual one.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::time::Duration;

use trade::cure::{
    Figure, GROUT_DENSITY, GROUT_WASTE_PERCENT, Product, Rate, Span, StageKind, Suggestion, Use, What,
    grout_per_m2, mortar_per_m2, standing, suggest,
};
use trade::measure::{Length, Tile, TileId};
use trade::place::Piece;

use super::batch_words::Amounts;
use super::sight::Sight;
use super::words::Words;
use crate::app::App;
use crate::web::error::PageError;
use crate::work::Planned;

/// A suggestion must never wait for the planner.
const PLAN_WITHIN: Duration = Duration::from_secs(2);

/// A joint is as deep as the tile is thick; where nobody told that, as thick as wall tile is (common practice).
const USUAL_THICKNESS: Length = Length::mm(8);

/// The plan, as far as it lies ready, and what is asked of it.
pub struct Ground {
    planned: Option<Arc<Planned>>,
}

/// What to mix, in words.
pub struct Advised {
    /// How much, with how much water, and how much to spread: one sentence each.
    pub says: Vec<String>,
    /// What that rests on.
    pub basis: Vec<String>,
}

impl Ground {
    /// The job's plan.
    pub async fn of(app: &App, sight: &Sight) -> Result<Self, PageError> {
        let stored = app.store.sheet(sight.job()).await?;
        let planned = tokio::time::timeout(PLAN_WITHIN, app.work.plan(&stored)).await;
        Ok(Self { planned: planned.ok().and_then(Result::ok) })
    }

    /// How much to mix for a stage; `None` where its product is not mixed in bags.
    pub fn advise(&self, words: &Words, sight: &Sight, stage: StageKind) -> Option<Advised> {
        let product = sight.stages.products.get(&stage)?;
        product.figure(Figure::Bag)?;
        let Some(grams_per_m2) = self.grams_per_m2(product, stage) else {
            let says = vec![words.say("batch-size-no-plan")];
            return Some(Advised { says, basis: Vec::new() });
        };
        let measured = self.measured(sight, stage);
        let usual = if stage == StageKind::Grout { Rate::GROUTING } else { Rate::SETTING };
        let temperature = warmest_now(sight);
        let wanted = Use { rate: measured.unwrap_or(usual), grams_per_m2, temperature };
        let suggestion = suggest(product, &wanted)?;
        let amounts = Amounts::of(words, sight);
        Some(Advised {
            says: says(words, amounts, &suggestion),
            basis: basis(words, amounts, product, &wanted, measured.is_some()),
        })
    }

    /// Grams of powder that a square metre takes: what the bag covers, else by the tile that covers most.
    fn grams_per_m2(&self, product: &Product, stage: StageKind) -> Option<i64> {
        if let (Some(covers), Some(bag)) = (product.figure(Figure::Covers), product.figure(Figure::Bag)) {
            return bag.checked_mul(10_000)?.checked_div(covers);
        }
        let planned = self.planned.as_ref()?;
        let tile = main_tile(planned)?;
        Some(match stage {
            StageKind::Grout => {
                let depth = tile.thickness.unwrap_or(USUAL_THICKNESS);
                let size = (tile.width, tile.height);
                let grams = grout_per_m2(size, planned.job.joint, depth, GROUT_DENSITY);
                grams * (100 + GROUT_WASTE_PERCENT) / 100
            }
            _ => mortar_per_m2(tile.width.max(tile.height)),
        })
    }

    /// How fast this crew goes, by its own log.
    fn measured(&self, sight: &Sight, stage: StageKind) -> Option<Rate> {
        let planned = self.planned.as_ref()?;
        match stage {
            StageKind::Set => Rate::measured(&set_course_by_course(planned, sight)),
            StageKind::Grout => Rate::measured(&wall_by_wall(planned, sight, stage)),
            _ => None,
        }
    }
}

/// What was set between one course told to hang and the next by the same person, and how long that took.
fn set_course_by_course(planned: &Planned, sight: &Sight) -> Vec<(i64, Span)> {
    let mut areas: BTreeMap<&str, i64> = BTreeMap::new();
    for piece in &planned.option.pieces {
        let run = piece.id.0.rsplit_once('-').map_or(piece.id.0.as_str(), |(run, _)| run);
        *areas.entry(run).or_default() += area(piece);
    }
    let mut last = BTreeMap::new();
    let mut stretches = Vec::new();
    for laid in &sight.laid {
        if let Some(before) = last.insert(&laid.author, laid.at) {
            stretches.push((areas.get(laid.run.as_str()).copied().unwrap_or(0), laid.at - before));
        }
    }
    stretches
}

/// The parts of walls of which a start and a finish were told, and how long was between.
fn wall_by_wall(planned: &Planned, sight: &Sight, stage: StageKind) -> Vec<(i64, Span)> {
    let standing = standing(&sight.stages.log);
    let of =
        |what: What| standing.iter().copied().filter(move |entry| entry.stage == stage && entry.what == what);
    let stretches = of(What::Finished).filter_map(|finish| {
        let starts = of(What::Started).filter(|start| start.part == finish.part);
        let start =
            starts.filter(|start| start.happened < finish.happened).map(|start| start.happened).max()?;
        let is_of = |piece: &&Piece| {
            let courses = finish.part.courses;
            let within = |course: u32| courses.is_none_or(|of| (of.first()..=of.last()).contains(&course));
            piece.surface == finish.part.surface && within(piece.course)
        };
        let area = planned.option.pieces.iter().filter(is_of).map(area).sum();
        Some((area, finish.happened - start))
    });
    stretches.collect()
}

/// The tile that covers most of the job.
fn main_tile(planned: &Planned) -> Option<&Tile> {
    let mut areas: BTreeMap<&TileId, i64> = BTreeMap::new();
    for piece in &planned.option.pieces {
        *areas.entry(&piece.tile).or_default() += area(piece);
    }
    let (tile, _) = areas.into_iter().max_by_key(|(_, area)| *area)?;
    planned.job.tiles.get(tile)
}

/// The room that a piece takes, in square centimetres: its bounds, which is near enough for a rate.
fn area(piece: &Piece) -> i64 {
    let centimetre = i128::from(Length::mm(10).units());
    let width = i128::from((piece.bounds.right - piece.bounds.left).units());
    let height = i128::from((piece.bounds.top - piece.bounds.bottom).units());
    i64::try_from(width * height / (centimetre * centimetre)).unwrap_or(0)
}

/// The warmest that any wall may be now, by what was read last.
fn warmest_now(sight: &Sight) -> Option<trade::cure::Temperature> {
    let recent = |held: trade::cure::Instant| sight.now() - held <= trade::cure::Climate::APART;
    let readings = sight.stages.temperatures.climate.readings();
    readings.filter(|reading| recent(reading.held_from)).filter_map(|reading| reading.temperature).max()
}

fn says(words: &Words, amounts: Amounts<'_>, suggestion: &Suggestion) -> Vec<String> {
    let powder = amounts.powder(suggestion.powder.grams());
    let (least, most) = (amounts.water(suggestion.water.0), amounts.water(suggestion.water.1));
    let bags = amounts.bags(suggestion.half_bags);
    let (working, area) = (words.times.span(suggestion.working), amounts.area(suggestion.area));
    let key = if suggestion.half_bags > 0 { "batch-size" } else { "batch-size-less" };
    let mix = words.say_with(
        key,
        &[
            ("bags", &bags),
            ("powder", &powder),
            ("least", &least),
            ("most", &most),
            ("working", &working),
            ("area", &area),
        ],
    );
    let spread =
        suggestion.spread.map(|spread| words.say_with("batch-spread", &[("area", &amounts.area(spread))]));
    std::iter::once(mix).chain(spread).collect()
}

fn basis(
    words: &Words,
    amounts: Amounts<'_>,
    product: &Product,
    wanted: &Use,
    measured: bool,
) -> Vec<String> {
    let hourly = amounts.area(wanted.rate.hourly());
    let rate = if measured { "batch-rate-measured" } else { "batch-rate-usual" };
    let covers =
        if product.own_figure(Figure::Covers).is_some() { "batch-use-bag" } else { "batch-use-usual" };
    let water = product.own_figure(Figure::WaterMost).is_none().then(|| words.say("batch-water-usual"));
    let per_m2 = amounts.powder(wanted.grams_per_m2);
    let warm = wanted.temperature.filter(|at| *at > trade::cure::ColdRule::default().reference());
    let warm = warm.map(|at| words.say_with("batch-heat", &[("degrees", &words.degrees(at))]));
    let says = [
        Some(words.say_with(rate, &[("area", &hourly)])),
        Some(words.say_with(covers, &[("powder", &per_m2)])),
        water,
        warm,
    ];
    says.into_iter().flatten().collect()
}
