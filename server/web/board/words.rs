//! The board's sentences: what stands where, why something must wait, what an entry says.

use std::collections::BTreeMap;

use trade::cure::gate::Refusal;
use trade::cure::{
    Bed, Entry, Instant, Pace, Part, Product, Reason, Scale, Span, StageGraph, StageKind, Temperature,
    WallClock, What, Window, counts_from,
};
use trade::measure::SurfaceId;

use super::product::windows_of;
use crate::store::crew_name;
use crate::texts::{Said, Texts};
use crate::web::times::Times;

/// A clock that differs by less than this from what was counted is not worth a sentence.
const WORTH_SAYING: Span = Span::from_millis(5_000);

/// How the board speaks on one page.
pub struct Words {
    texts: Texts,
    pub times: Times,
    walls: BTreeMap<SurfaceId, String>,
    scale: Scale,
}

/// Why something must wait: the answer, then what else there is to know about it.
#[derive(Default)]
pub struct Because {
    /// The reason, the time, how long it still is: read in this order.
    pub answer: Vec<String>,
    /// Where a time is unsure, why.
    pub notes: Vec<String>,
}

impl Words {
    /// Words for these walls.
    pub fn new(texts: &Texts, times: Times, walls: BTreeMap<SurfaceId, String>, scale: Scale) -> Self {
        Self { texts: texts.clone(), times, walls, scale }
    }

    /// All words.
    pub fn texts(&self) -> &Texts {
        &self.texts
    }

    /// The words for a key.
    pub fn say(&self, key: &str) -> String {
        self.texts.say(key)
    }

    /// The words for a key with values put in.
    pub fn say_with(&self, key: &str, values: &[(&str, &dyn Said)]) -> String {
        self.texts.say_with(key, values)
    }

    /// `Grout`.
    pub fn stage(&self, stage: StageKind) -> String {
        self.say(&format!("stage-{}", stage.name()))
    }

    /// `Set, Clips off`.
    pub fn stages<'a>(&self, stages: impl IntoIterator<Item = &'a StageKind>) -> String {
        stages.into_iter().map(|stage| self.stage(*stage)).collect::<Vec<_>>().join(", ")
    }

    /// What the crew calls it, else its class: `normal cement mortar`.
    pub fn product(&self, product: Option<&Product>) -> String {
        match product {
            Some(product) => crew_name(product).map_or_else(
                || self.say(&format!("product-class-{}", product.class().name())),
                str::to_owned,
            ),
            None => self.say("product-unknown"),
        }
    }

    /// `from the last tile set to grouting`.
    pub fn window(&self, window: Window) -> String {
        self.say(&format!("window-{}", window.name()))
    }

    /// `over a membrane`.
    pub fn bed(&self, bed: Bed) -> String {
        self.say(&format!("bed-{}", bed.name()))
    }

    /// `10 °C`, `10.5 °C`, `50 °F`.
    pub fn degrees(&self, at: Temperature) -> String {
        let (whole, tenths) = (at.tenths().abs() / 10, at.tenths().abs() % 10);
        let sign = if at.tenths() < 0 { "\u{2212}" } else { "" };
        match self.scale {
            Scale::Celsius if tenths == 0 => {
                self.say_with("degrees-c", &[("number", &format!("{sign}{whole}"))])
            }
            Scale::Celsius => self.say_with("degrees-c", &[("number", &format!("{sign}{whole}.{tenths}"))]),
            Scale::Fahrenheit => {
                let number = at.rounded(Scale::Fahrenheit).to_string().replace('-', "\u{2212}");
                self.say_with("degrees-f", &[("number", &number)])
            }
        }
    }

    /// How a temperature is typed.
    pub fn degrees_hint(&self) -> String {
        self.say(match self.scale {
            Scale::Celsius => "temperature-hint-c",
            Scale::Fahrenheit => "temperature-hint-f",
        })
    }

    /// A wall by its name, or the room.
    pub fn surface(&self, surface: Option<&SurfaceId>) -> String {
        match surface {
            Some(wall) => self.part(&Part::whole(wall.clone())),
            None => self.say("temperature-room"),
        }
    }

    /// By how much cold makes a wait longer, and why; nothing where it does not.
    pub fn cold(&self, reason: &Reason) -> Option<String> {
        let (longer, window) = (self.times.span(reason.longer), self.times.span(reason.window));
        match reason.pace {
            Pace::Cold { temperature, whole } => Some(self.say_with(
                "gate-cold",
                &[
                    ("longer", &longer),
                    ("window", &window),
                    ("warm", &self.warm()),
                    ("whole", &self.times.span(whole)),
                    ("degrees", &self.degrees(temperature)),
                ],
            )),
            Pace::Unknown { whole } => {
                let whole = self.times.span(whole);
                Some(self.say_with(
                    "gate-cold-unknown",
                    &[("longer", &longer), ("window", &window), ("whole", &whole)],
                ))
            }
            Pace::Stopped { temperature } => self.stopped(reason, temperature),
            Pace::AsTheBagSays if reason.longer > WORTH_SAYING => {
                Some(self.say_with("gate-cold-before", &[("longer", &longer)]))
            }
            Pace::AsTheBagSays => None,
        }
    }

    /// `At 10 °C it is 62 h.`, or that it stands still.
    pub fn at_pace(&self, pace: Pace, lowest: Temperature) -> Option<String> {
        match pace {
            Pace::AsTheBagSays => None,
            Pace::Cold { temperature, whole } => Some(self.say_with(
                "wait-cold",
                &[("degrees", &self.degrees(temperature)), ("whole", &self.times.span(whole))],
            )),
            Pace::Unknown { whole } => {
                Some(self.say_with("wait-cold-unknown", &[("whole", &self.times.span(whole))]))
            }
            Pace::Stopped { .. } => {
                Some(self.say_with("wait-cold-stopped", &[("lowest", &self.degrees(lowest))]))
            }
        }
    }

    fn stopped(&self, reason: &Reason, temperature: Temperature) -> Option<String> {
        let lowest = self.degrees(reason.lowest?);
        let product = self.product(reason.product.as_ref());
        let left = self.times.span(reason.to_go);
        Some(self.say_with(
            "gate-stopped",
            &[
                ("degrees", &self.degrees(temperature)),
                ("product", &product),
                ("lowest", &lowest),
                ("left", &left),
                ("warm", &self.warm()),
            ],
        ))
    }

    /// From where on a window is as long as the bag says.
    fn warm(&self) -> String {
        self.degrees(trade::cure::ColdRule::default().reference())
    }

    /// `Back wall, courses 1 to 4`. A wall no longer on the job goes by its short name.
    pub fn part(&self, part: &Part) -> String {
        let wall = self.walls.get(&part.surface).map_or(part.surface.as_str(), String::as_str);
        match part.courses {
            None => wall.to_owned(),
            Some(courses) => self.say_with(
                "part-courses",
                &[("wall", &wall), ("first", &courses.first()), ("last", &courses.last())],
            ),
        }
    }

    /// `Back wall was set Tue 3:40 pm with normal cement mortar.`
    pub fn was_done(&self, part: &Part, stage: StageKind, at: Instant, product: Option<&Product>) -> String {
        let (part, when, product) = (self.part(part), self.times.at(at), self.product(product));
        let key = format!("stage-was-{}", stage.name());
        self.say_with(&key, &[("part", &part), ("when", &when), ("product", &product)])
    }

    /// Why `stage` may not start before `at`.
    pub fn because(&self, stage: StageKind, at: Instant, reason: &Reason) -> Because {
        let (stage, at_words) = (self.stage(stage), self.times.at(at));
        let to_go = self.times.span(reason.to_go);
        let answer = vec![
            self.was_done(&reason.part, reason.stage, reason.finished, reason.product.as_ref()),
            self.say_with("gate-not-before", &[("stage", &stage), ("at", &at_words)]),
            self.say_with("gate-to-go", &[("span", &to_go)]),
        ];
        let answer = answer.into_iter().chain(self.cold(reason)).collect();
        let late = self.late(reason.finished, reason.counts_from);
        let uncounted = at - (reason.counts_from + reason.window + reason.longer);
        let unsure = if reason.wall_clock == WallClock::Behind {
            Some(self.clock_behind())
        } else if uncounted > WORTH_SAYING {
            Some(self.say_with("gate-uncounted", &[("span", &self.times.span(uncounted))]))
        } else {
            None
        };
        Because { answer, notes: late.into_iter().chain(unsure).collect() }
    }

    /// Why `stage` may not start, and that nobody can say when it may: the cold has stopped what it waits for.
    pub fn too_cold(&self, reason: &Reason) -> Because {
        let done = self.was_done(&reason.part, reason.stage, reason.finished, reason.product.as_ref());
        let behind = (reason.wall_clock == WallClock::Behind).then(|| self.clock_behind());
        let late = self.late(reason.finished, reason.counts_from);
        Because {
            answer: std::iter::once(done).chain(self.cold(reason)).collect(),
            notes: late.into_iter().chain(behind).collect(),
        }
    }

    /// Why the gate stayed shut.
    pub fn refusal(&self, wall: &str, refusal: &Refusal) -> Because {
        match refusal {
            Refusal::NotBefore { stage, at, because } => self.because(*stage, *at, because),
            Refusal::Missing { stage, stages, running } => {
                let (words, stages) = (self.stage(*stage), self.stages(stages));
                let values: [(&str, &dyn Said); 3] =
                    [("wall", &wall), ("stage", &words), ("stages", &stages)];
                let missing = self.say_with("gate-missing", &values);
                let runs = running.as_ref().map(|running| match running.at {
                    Some(at) => self.because(*stage, at, &running.because),
                    None => self.too_cold(&running.because),
                });
                let Because { mut answer, notes } = runs.unwrap_or_default();
                answer.push(missing);
                Because { answer, notes }
            }
            Refusal::TooCold { because, .. } => self.too_cold(because),
            Refusal::NotOnThisJob { stage } => {
                let says = self.say_with("gate-not-on-job", &[("stage", &self.stage(*stage))]);
                Because { answer: vec![says], notes: Vec::new() }
            }
        }
    }

    /// The clock on the wall cannot be right.
    pub fn clock_behind(&self) -> String {
        self.say_with("gate-clock-behind", &[("now", &self.times.now())])
    }

    /// `Grout finished Tue 3:40 pm with white grout.`
    pub fn entry(&self, entry: &Entry, planned: Option<&Product>) -> String {
        let key = match (entry.what, entry.stage) {
            (What::Started, _) => "entry-started",
            (What::Finished, stage) if windows_of(stage).is_empty() => "entry-finished",
            (What::Finished, _) => "entry-finished-with",
            (What::Withdrawn, _) => "entry-withdrawn",
        };
        let (part, stage) = (self.part(&entry.part), self.stage(entry.stage));
        let product = self.product(entry.product.as_ref().or(planned));
        let when = self.times.at(entry.happened);
        self.say_with(key, &[("part", &part), ("stage", &stage), ("when", &when), ("product", &product)])
    }

    /// That an entry was told late, and from when its windows run.
    pub fn told_late(&self, entry: &Entry) -> Option<String> {
        match entry.what {
            What::Finished => self.late(entry.happened, counts_from(entry)),
            What::Started | What::Withdrawn => None,
        }
    }

    fn late(&self, finished: Instant, counts_from: Instant) -> Option<String> {
        let says = || self.say_with("gate-late", &[("told", &self.times.at(counts_from))]);
        (counts_from != finished).then(says)
    }

    /// What can hurt at this work, and who to believe.
    pub fn cautions(&self, stage: StageKind, graph: &StageGraph) -> Vec<String> {
        let water = if graph.has(StageKind::WaterOn) { "caution-valve" } else { "caution-water" };
        let keys: &[&str] = match stage {
            StageKind::Membrane => &["caution-membrane"],
            StageKind::TestFilled | StageKind::TestPassed => &["caution-test"],
            StageKind::Set => &["caution-cement", "caution-power"],
            StageKind::ClipRemoval => &["caution-clips"],
            StageKind::Grout => &["caution-cement", "caution-joints", water],
            StageKind::Sealant => &["caution-sealant"],
            StageKind::Seal => &["caution-sealer", water],
            StageKind::WalkOn | StageKind::HeavyUse => &["caution-floor"],
            StageKind::WaterOn => &["caution-valve"],
        };
        keys.iter().chain(&["caution-sheet"]).map(|key| self.say(key)).collect()
    }
}
