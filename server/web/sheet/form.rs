//! The job's sheet as it is typed: tiles, joint, saw, gaps, floor.

use std::collections::BTreeMap;
use std::num::NonZeroU32;

use trade::measure::bare::{Floor, true_tile_size};
use trade::measure::{Gaps, LeastSize, Length, Sheet, Tile, TileId};

use crate::store::{StoredSheet, Terms};
use crate::texts::Texts;
use crate::web::form::{Faults, Fields, cell};
use crate::web::tape::{Asked, Tape};
use crate::web::walls;

/// Tiles laid tight in a row to find their true size, ten from three boxes (common practice).
pub const IN_A_ROW: NonZeroU32 = NonZeroU32::new(10).expect("ten is not zero");

/// Tiles smaller than this come on sheets, which are not planned yet, and would make plans without end.
const SMALLEST_TILE: Length = Length::mm(10);

/// A gap or a bed wider than this is a slip of the keyboard: no sealant, trim or mortar fills it.
const WIDEST_GAP: Length = Length::mm(100);

/// A row that says more than this part off the typed size was counted wrong: nine tiles, or eleven.
const COUNTED_WRONG: i64 = 20;

/// Tiles of one kind differ, and their edges bow, by less than this part of the longest side: more is a size typed
/// for the difference, or a slip of the unit.
const FACT_IS_NO_SIZE: i64 = 10;

/// The longest name of a tile.
const LONGEST_NAME: usize = 24;

/// The gaps of the form, with the words for each.
pub const GAPS: [(&str, &str); 6] = [
    ("gap-base", "sheet-gap-base"),
    ("gap-corner", "sheet-gap-corner"),
    ("gap-ceiling", "sheet-gap-ceiling"),
    ("gap-trim", "sheet-gap-trim"),
    ("gap-mitre", "sheet-gap-mitre"),
    ("gap-opening", "sheet-gap-opening"),
];

/// The columns of a tile in which something is typed.
const TILE_COLUMNS: [&str; 9] =
    ["name", "width", "height", "thickness", "row-width", "row-height", "edges", "variation", "bow"];

/// How the edges of a tile are made, as values of the form; the first where nobody knows.
pub const EDGES: [(&str, &str); 3] = [
    ("", "sheet-edges-unknown"),
    ("rectified", "sheet-edges-rectified"),
    ("as-fired", "sheet-edges-as-fired"),
];

/// The form as it stands in the store, with room for one more tile.
pub fn typed(stored: &StoredSheet, texts: &Texts) -> Fields {
    let tape = Tape::new(texts, stored.sheet.unit);
    let sheet = &stored.sheet;
    let mut fields = Fields::default();
    for (row, (id, tile)) in sheet.tiles.iter().enumerate() {
        put_tile(&mut fields, &tape, row, id, tile);
    }
    let next = cell("tile", sheet.tiles.len(), "name");
    fields.put(&next, if sheet.tiles.is_empty() { texts.say("sheet-first-tile") } else { String::new() });
    let gaps = &sheet.gaps;
    for (name, length) in [
        ("joint", sheet.joint),
        ("kerf", sheet.kerf),
        ("spare", sheet.spare),
        ("bed", sheet.bed),
        ("gap-base", gaps.base),
        ("gap-corner", gaps.corner),
        ("gap-ceiling", gaps.ceiling),
        ("gap-trim", gaps.trim),
        ("gap-mitre", gaps.mitre),
        ("gap-opening", gaps.opening),
        ("base-gap-max", sheet.base_gap_max),
    ] {
        fields.put(name, tape.typed(length));
    }
    if let Some((least, most)) = sheet.joint_range {
        fields.put("joint-least", tape.typed(least));
        fields.put("joint-most", tape.typed(most));
    }
    if let Some(least) = sheet.smallest_cut {
        fields.put("smallest-width", tape.typed(least.width));
        fields.put("smallest-height", tape.typed(least.height));
    }
    if stored.membrane {
        fields.put("membrane", "yes");
    }
    let (floor, thickness) = match sheet.floor {
        Floor::AsMeasured => ("as-measured", None),
        Floor::TiledBefore { thickness } => ("before", Some(thickness)),
        Floor::TiledAfter { thickness } => ("after", Some(thickness)),
    };
    fields.put("floor", floor);
    fields.put("floor-thickness", thickness.map(|thickness| tape.typed(thickness)).unwrap_or_default());
    fields
}

fn put_tile(fields: &mut Fields, tape: &Tape, row: usize, id: &TileId, tile: &Tile) {
    let mut put = |column: &str, typed: String| fields.put(&cell("tile", row, column), typed);
    put("name", id.0.clone());
    put("width", tape.typed(tile.width));
    put("height", tape.typed(tile.height));
    put("thickness", tape.typed(tile.thickness.unwrap_or_default()));
    put("directional", if tile.directional { "yes" } else { "" }.to_owned());
    put("quarter", if tile.quarter_turn { "yes" } else { "" }.to_owned());
    put(
        "edges",
        tile.rectified.map_or("", |rectified| if rectified { "rectified" } else { "as-fired" }).to_owned(),
    );
    put("variation", tile.size_variation.map(|differ| tape.typed(differ)).unwrap_or_default());
    put("bow", tile.warpage.map(|bow| tape.typed(bow)).unwrap_or_default());
    put("box", tile.per_box.map(|count| count.to_string()).unwrap_or_default());
}

/// The sheet's terms, or everything to change.
///
/// # Errors
///
/// One sentence for each field that cannot be so.
pub fn read(fields: &Fields, stored: &StoredSheet, texts: &Texts) -> Result<Terms, Faults> {
    let mut reader = Reader {
        fields,
        texts,
        tape: Tape::new(texts, stored.sheet.unit),
        stored: &stored.sheet,
        tiles: BTreeMap::new(),
        faults: Faults::default(),
    };
    let terms = reader.terms();
    if let Some(terms) = &terms {
        reader.not_past_planning(stored, terms);
    }
    match terms {
        Some(terms) if reader.faults.is_empty() => Ok(terms),
        _ => Err(reader.faults),
    }
}

/// A tile's true side from a row of ten, where one was measured, and else as typed.
pub fn true_side(tape: &Tape, fields: &Fields, row: usize, column: &str) -> Option<Length> {
    let read = |name: String| Length::parse(fields.get(&name), tape.unit()).ok();
    let in_a_row = read(cell("tile", row, &format!("row-{column}")));
    in_a_row.map(|length| true_tile_size(length, IN_A_ROW)).or_else(|| read(cell("tile", row, column)))
}

struct Reader<'a> {
    fields: &'a Fields,
    texts: &'a Texts,
    tape: Tape,
    stored: &'a Sheet,
    tiles: BTreeMap<TileId, Tile>,
    faults: Faults,
}

impl Reader<'_> {
    fn terms(&mut self) -> Option<Terms> {
        self.read_tiles();
        let joint = self.joint();
        let joint_range = joint.and_then(|joint| self.joint_range(joint));
        let [base, corner, ceiling, trim, mitre, opening] = GAPS.map(|(name, words)| self.gap(name, words));
        let kerf = self.gap("kerf", "sheet-kerf");
        let spare = self.gap("spare", "sheet-spare");
        let bed = self.gap("bed", "sheet-bed");
        let base_gap_max = self.gap("base-gap-max", "sheet-base-gap-max");
        let smallest_cut = self.smallest_cut();
        let floor = self.floor();
        Some(Terms {
            tiles: std::mem::take(&mut self.tiles),
            joint: joint?,
            joint_range,
            kerf: kerf?,
            spare: spare?,
            gaps: Gaps {
                corner: corner?,
                base: base?,
                ceiling: ceiling?,
                trim: trim?,
                mitre: mitre?,
                opening: opening?,
            },
            base_gap_max: base_gap_max?,
            smallest_cut,
            bed: bed?,
            membrane: self.fields.ticked("membrane"),
            floor: floor?,
        })
    }

    fn read_tiles(&mut self) {
        let mut seen = Vec::new();
        for row in self.fields.filled("tile", &TILE_COLUMNS) {
            let name = self.fields.get(&cell("tile", row, "name")).to_owned();
            // The first tile's usual name stands there before anything is measured.
            let only_named = self.fields.filled("tile", &TILE_COLUMNS[1..]).binary_search(&row).is_err();
            if only_named && self.stored.tiles.is_empty() && row == 0 {
                continue;
            }
            let tile = self.tile(row);
            let Some(id) = self.tile_name(row, &name, &seen) else { continue };
            seen.push(id.clone());
            self.tiles.extend(tile.map(|tile| (id, tile)));
        }
        self.keep_what_is_laid(&seen);
    }

    /// A tile that stands on a wall keeps its name: under another one the wall would go on with the old size.
    fn keep_what_is_laid(&mut self, named: &[TileId]) {
        let mut laid = self.stored.walls.iter().flat_map(|wall| &wall.bands).map(|band| &band.tile);
        if let Some(missing) = laid.find(|tile| !named.contains(tile)) {
            let says = self.texts.say_with("sheet-fault-tile-laid", &[("name", &missing.0)]);
            self.faults.add("tile-0-name", says);
        }
    }

    fn tile_name(&mut self, row: usize, name: &str, seen: &[TileId]) -> Option<TileId> {
        let id = TileId(name.to_owned());
        let says = if name.is_empty() {
            Err(self.texts.say("sheet-fault-tile-name"))
        } else if name.chars().count() > LONGEST_NAME {
            Err(self.texts.say_with("sheet-fault-tile-name-long", &[("most", &LONGEST_NAME)]))
        } else if seen.contains(&id) {
            Err(self.texts.say_with("sheet-fault-tile-twice", &[("name", &name)]))
        } else {
            Ok(id)
        };
        self.faults.take(&cell("tile", row, "name"), says)
    }

    fn tile(&mut self, row: usize) -> Option<Tile> {
        let (width, height) = (self.side(row, "width"), self.side(row, "height"));
        let asked = self.asked(&cell("tile", row, "thickness"), "sheet-tile-thickness");
        let thickness = self.narrow(&asked);
        let longest = width.zip(height).map(|(width, height)| width.max(height));
        let rectified = self.rectified(row);
        let [size_variation, warpage] = ["variation", "bow"].map(|column| self.fact(row, column, longest));
        let per_box = self.per_box(row);
        Some(Tile {
            width: width?,
            height: height?,
            thickness: Some(thickness?),
            rectified,
            directional: self.fields.ticked(&cell("tile", row, "directional")),
            quarter_turn: self.fields.ticked(&cell("tile", row, "quarter")),
            size_variation,
            warpage,
            per_box,
        })
    }

    /// One side of a tile: a row of ten divided by ten, or the typed size; where both are there they must agree.
    fn side(&mut self, row: usize, column: &str) -> Option<Length> {
        let one = self.asked(&cell("tile", row, column), &format!("sheet-tile-{column}"));
        let ten =
            self.asked(&cell("tile", row, &format!("row-{column}")), &format!("sheet-tile-row-{column}"));
        let in_a_row = self.tape.if_any(self.fields, &ten, &mut self.faults);
        if in_a_row.is_none() && !self.fields.get(&ten.name).is_empty() {
            return None;
        }
        let Some(in_a_row) = in_a_row else {
            let side = self.tape.wanted(self.fields, &one, &mut self.faults)?;
            return self.large_enough(&one, side);
        };
        let side = true_tile_size(in_a_row, IN_A_ROW);
        let typed = self.tape.if_any(self.fields, &one, &mut self.faults);
        if let Some(typed) = typed
            && (side - typed).abs() * COUNTED_WRONG > typed.abs()
        {
            let (each, typed) = (self.tape.show_gap(side), self.tape.show_gap(typed));
            let values: [(&str, &dyn crate::texts::Said); 3] =
                [("label", &ten.label), ("each", &each), ("typed", &typed)];
            self.faults.add(&ten.name, self.texts.say_with("sheet-fault-row", &values));
            return None;
        }
        self.large_enough(&ten, side)
    }

    fn large_enough(&mut self, asked: &Asked, side: Length) -> Option<Length> {
        let least = self.tape.show(SMALLEST_TILE);
        let says =
            || self.texts.say_with("sheet-fault-tile-small", &[("label", &asked.label), ("least", &least)]);
        let fits = if side >= SMALLEST_TILE { Ok(side) } else { Err(says()) };
        self.faults.take(&asked.name, fits)
    }

    fn rectified(&mut self, row: usize) -> Option<bool> {
        let name = cell("tile", row, "edges");
        match self.fields.get(&name) {
            "rectified" => Some(true),
            "as-fired" => Some(false),
            "" => None,
            _ => {
                self.faults.add(&name, self.texts.say("fault-choice"));
                None
            }
        }
    }

    /// What was measured on some tiles, if anyone did.
    fn fact(&mut self, row: usize, column: &str, longest: Option<Length>) -> Option<Length> {
        let asked = self.asked(&cell("tile", row, column), &format!("sheet-tile-{column}"));
        if self.fields.get(&asked.name).is_empty() {
            return None;
        }
        let fact = self.tape.size(self.fields, &asked, &mut self.faults)?;
        let fits = match longest {
            Some(longest) if fact * FACT_IS_NO_SIZE > longest => {
                let longest = self.tape.show_gap(longest);
                let values: [(&str, &dyn crate::texts::Said); 2] =
                    [("label", &asked.label), ("side", &longest)];
                Err(self.texts.say_with("sheet-fault-fact", &values))
            }
            _ => Ok(fact),
        };
        self.faults.take(&asked.name, fits)
    }

    fn per_box(&mut self, row: usize) -> Option<u32> {
        let name = cell("tile", row, "box");
        let typed = self.fields.get(&name);
        if typed.is_empty() {
            return None;
        }
        let count = typed.parse().ok().filter(|count| *count > 0);
        self.faults.take(&name, count.ok_or_else(|| self.texts.say("sheet-fault-box")))
    }

    fn joint(&mut self) -> Option<Length> {
        let asked = self.asked("joint", "sheet-joint");
        let joint = self.tape.wanted(self.fields, &asked, &mut self.faults)?;
        self.joint_fits("joint", "sheet-joint", joint)
    }

    /// A joint is wider than nothing and narrower than every tile.
    fn joint_fits(&mut self, name: &str, words: &str, joint: Length) -> Option<Length> {
        let asked = self.asked(name, words);
        let narrowest = self.tiles.iter().min_by_key(|(_, tile)| tile.width.min(tile.height));
        let fits = if joint <= Length::ZERO {
            Err(self.texts.say("sheet-fault-joint-none"))
        } else if let Some((id, tile)) = narrowest
            && joint >= tile.width.min(tile.height)
        {
            let side = self.tape.show_gap(tile.width.min(tile.height));
            Err(self.texts.say_with("sheet-fault-joint-wide", &[("tile", &id.0), ("side", &side)]))
        } else {
            Ok(joint)
        };
        self.faults.take(name, fits).and_then(|joint| self.not_too_wide(&asked, joint))
    }

    /// Empty means that only the joint itself is set; one of the two alone leaves the other at the joint.
    fn joint_range(&mut self, joint: Length) -> Option<(Length, Length)> {
        let mut end = |name: &str| {
            let asked = self.asked(name, &format!("sheet-{name}"));
            self.tape.if_any(self.fields, &asked, &mut self.faults)
        };
        let (least, most) = (end("joint-least"), end("joint-most"));
        if let (Some(least), Some(most)) = (least, most)
            && least > most
            && most > Length::ZERO
        {
            let (least, most) = (self.tape.show_gap(least), self.tape.show_gap(most));
            let says = self.texts.say_with("sheet-fault-joint-turned", &[("least", &least), ("most", &most)]);
            self.faults.add("joint-least", says);
            return None;
        }
        let shown = self.tape.show_gap(joint);
        let says = |key: &str| self.texts.say_with(key, &[("joint", &shown)]);
        let checked_least = match least {
            Some(least) if least <= Length::ZERO => Err(self.texts.say("sheet-fault-joint-least-none")),
            Some(least) if least > joint => Err(says("sheet-fault-joint-least")),
            within => Ok(within),
        };
        let checked_most = match most {
            Some(most) if most < joint => Err(says("sheet-fault-joint-most")),
            within => Ok(within),
        };
        let least = self.faults.take("joint-least", checked_least)?;
        let most = self.faults.take("joint-most", checked_most)?;
        if let Some(most) = most {
            self.joint_fits("joint-most", "sheet-joint-most", most)?;
        }
        let range = (least.unwrap_or(joint), most.unwrap_or(joint));
        (range != (joint, joint)).then_some(range)
    }

    fn gap(&mut self, name: &str, words: &str) -> Option<Length> {
        let asked = self.asked(name, words);
        self.narrow(&asked)
    }

    fn narrow(&mut self, asked: &Asked) -> Option<Length> {
        let length = self.tape.size(self.fields, asked, &mut self.faults)?;
        self.not_too_wide(asked, length)
    }

    fn not_too_wide(&mut self, asked: &Asked, length: Length) -> Option<Length> {
        let most = self.tape.show(WIDEST_GAP);
        let says = || self.texts.say_with("sheet-fault-wide", &[("label", &asked.label), ("most", &most)]);
        let fits = if length <= WIDEST_GAP { Ok(length) } else { Err(says()) };
        self.faults.take(&asked.name, fits)
    }

    /// One of the two stands for both.
    fn smallest_cut(&mut self) -> Option<LeastSize> {
        let [width, height] = ["smallest-width", "smallest-height"].map(|name| {
            let asked = self.asked(name, &format!("sheet-{name}"));
            let typed = !self.fields.get(name).is_empty();
            typed.then(|| self.tape.size(self.fields, &asked, &mut self.faults)).flatten()
        });
        let (width, height) = (width.or(height)?, height.or(width)?);
        Some(LeastSize { width, height })
    }

    fn floor(&mut self) -> Option<Floor> {
        match self.fields.get("floor") {
            "as-measured" | "" => Some(Floor::AsMeasured),
            "before" => Some(Floor::TiledBefore { thickness: self.floor_thickness()? }),
            "after" => Some(Floor::TiledAfter { thickness: self.floor_thickness()? }),
            _ => {
                self.faults.add("floor", self.texts.say("fault-choice"));
                None
            }
        }
    }

    fn floor_thickness(&mut self) -> Option<Length> {
        let asked = self.asked("floor-thickness", "sheet-floor-thickness");
        let thickness = self.narrow(&asked)?;
        let fits = if thickness > Length::ZERO {
            Ok(thickness)
        } else {
            Err(self.texts.say("sheet-fault-floor-thin"))
        };
        self.faults.take(&asked.name, fits)
    }

    /// A slip in the tile's size can make more tiles of a wall than anyone sets.
    fn not_past_planning(&mut self, stored: &StoredSheet, terms: &Terms) {
        let tiles = terms.tiles.clone();
        let sheet = Sheet { tiles, joint: terms.joint, ..stored.sheet.clone() };
        if let Some(wall) = walls::wall_of_too_many_tiles(&sheet) {
            let says = self.texts.say_with("sheet-fault-too-many-tiles", &[("wall", &wall.as_str())]);
            self.faults.add("tile-0-width", says);
        }
    }

    fn asked(&self, name: &str, words: &str) -> Asked {
        Asked::new(name, self.texts.say(words))
    }
}
