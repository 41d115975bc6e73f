//! The command that finds the fewest tiles for a list of pieces: the real program, as a person or another program
//! runs it.

use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::{Value, json};
use tempfile::TempDir;

/// Files of pieces.
struct Desk {
    folder: TempDir,
}

impl Desk {
    fn new() -> Self {
        Self { folder: TempDir::new().unwrap() }
    }

    fn ask_text(&self, text: &str, more: &[&str]) -> Output {
        let file: PathBuf = self.folder.path().join("offcuts.json");
        std::fs::write(&file, text).unwrap();
        let program = env!("CARGO_BIN_EXE_coursebook");
        Command::new(program).arg("offcuts").arg(file).args(more).output().unwrap()
    }

    fn ask(&self, file: &Value) -> Output {
        self.ask_text(&file.to_string(), &[])
    }
}

/// Four row ends of a third, from tiles of 600 by 300 mm on a saw with a blade of 2 mm.
fn thirds() -> Value {
    json!({
        "unit": "mm", "tile": {"width": 600, "height": 300}, "kerf": 2, "half_turn": true, "quarter_turn": false,
        "pieces": [{"id": "a", "width": 200, "height": 300, "factory": ["left", "top", "bottom"], "alone": false, "count": 4}]
    })
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn answer(output: &Output) -> Value {
    assert!(output.status.success(), "{}", text(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

/// The lines that refuse a file.
fn refusals(output: &Output) -> Vec<String> {
    assert_eq!((output.status.code(), text(&output.stdout).as_str()), (Some(2), ""));
    text(&output.stderr).lines().map(str::to_owned).collect()
}

/// The one line that refuses the thirds after a change.
fn refusal(change: impl FnOnce(&mut Value)) -> String {
    let mut file = thirds();
    change(&mut file);
    let lines = refusals(&Desk::new().ask(&file));
    assert_eq!(lines.len(), 1, "{lines:#?}");
    lines[0].clone()
}

#[test]
fn four_thirds_take_two_tiles_and_the_answer_says_why_not_one() {
    let answer = answer(&Desk::new().ask(&thirds()));
    assert_eq!(
        (&answer["tiles"], &answer["bound"], &answer["optimal"]),
        (&json!(2), &json!(2), &json!(true))
    );
    assert_eq!(answer["proof"], json!({"kind": "prices", "prices": {"a": 1}, "best_pattern": 2}));
    assert_eq!(answer["stock"].as_array().unwrap().len(), 2);
    assert_eq!(
        answer["stock"][0],
        json!({
            "n": 1,
            "pieces": [
                {"id": "a", "x": 0, "y": 0, "width": 200, "height": 300, "turn": 0},
                {"id": "a", "x": 400, "y": 0, "width": 200, "height": 300, "turn": 180}
            ],
            "cuts": [
                {"part": [0, 0, 600, 300], "across": "x", "at": 200},
                {"part": [202, 0, 398, 300], "across": "x", "at": 400}
            ]
        })
    );
}

#[test]
fn the_time_taken_is_told_beside_the_answer() {
    let output = Desk::new().ask(&thirds());
    let told = text(&output.stderr);
    let seconds = told.trim_end().strip_suffix(" s").unwrap_or_else(|| panic!("{told}"));
    assert!(seconds.parse::<f64>().is_ok(), "{told}");
}

#[test]
fn inches_come_back_as_inches() {
    let mut file = thirds();
    file["unit"] = json!("in");
    file["tile"] = json!({"width": 24, "height": "12 in"});
    file["kerf"] = json!("1/8 in");
    file["pieces"][0]["width"] = json!("8 1/16");
    file["pieces"][0]["height"] = json!(12);
    let answer = answer(&Desk::new().ask(&file));
    assert_eq!(answer["stock"][0]["pieces"][1]["x"], json!(15.9375));
    assert_eq!(answer["stock"][0]["cuts"][1]["part"], json!([8.1875, 0, 15.8125, 12]));
}

#[test]
fn an_offcut_on_the_rack_saves_a_tile() {
    let mut file = thirds();
    file["pieces"][0]["count"] = json!(3);
    file["rack"] =
        json!([{"id": "by the door", "width": 250, "height": 300, "factory": ["right", "top", "bottom"]}]);
    let answer = answer(&Desk::new().ask(&file));
    assert_eq!((&answer["tiles"], &answer["bound"]), (&json!(1), &json!(1)));
    let stock = answer["stock"].as_array().unwrap();
    let racked: Vec<&Value> = stock.iter().filter(|stock| stock["rack"] == "by the door").collect();
    assert_eq!((racked.len(), racked[0]["pieces"][0]["turn"].clone()), (1, json!(180)));
    assert_eq!(answer["proof"]["best_of_rack"], json!({"by the door": 1}));
}

#[test]
fn pieces_that_never_mix_are_argued_for_part_by_part() {
    let mut file = thirds();
    let rip = json!({"id": "rip", "width": 600, "height": 100, "factory": ["left", "right", "top"]});
    file["pieces"].as_array_mut().unwrap().push(rip);
    let answer = answer(&Desk::new().ask(&file));
    assert_eq!(answer["proof"]["kind"], json!("parts"));
    let part = |at: usize| answer["proof"]["parts"][at].clone();
    assert_eq!((&part(0)["pieces"], &part(0)["tiles"]), (&json!({"a": 4}), &json!(2)));
    assert_eq!((&part(1)["pieces"], &part(1)["tiles"]), (&json!({"rip": 1}), &json!(1)));
}

#[test]
fn a_piece_larger_than_the_tile_is_refused_in_a_sentence() {
    let line = refusal(|file| file["pieces"][0]["height"] = json!(310));
    let expected = "$.pieces[0]: found what cannot be cut: piece a is larger than the tile, whichever way it may be \
                    turned; expected a piece that fits on the tile";
    assert_eq!(line, expected);
}

#[test]
fn factory_sides_that_no_turn_can_give_are_refused_once_for_all_equal_pieces() {
    let line = refusal(|file| file["pieces"][0]["factory"] = json!(["left", "right"]));
    assert!(
        line.starts_with("$.pieces[0]: found what cannot be cut: piece a needs factory edges on opposite"),
        "{line}"
    );
    let line = refusal(|file| file["pieces"][0]["factory"] = json!(["left", "inside"]));
    assert_eq!(
        line,
        "$.pieces[0].factory[1]: found \"inside\"; expected one of \"left\", \"right\", \"bottom\", \"top\""
    );
}

#[test]
fn ten_thousand_pieces_are_too_many_and_so_are_as_many_kinds() {
    let line = refusal(|file| file["pieces"][0]["count"] = json!(10_000));
    assert_eq!(line, "$.pieces: found 10000 pieces; expected at most 3000 pieces in all: plan room by room");
    let kind = |n: usize| json!({"id": n.to_string(), "width": 100, "height": 100});
    let line = refusal(|file| file["pieces"] = (0..10_000).map(kind).collect());
    assert_eq!(line, "$.pieces: found a list of 10000; expected a list of pieces, at most 3000");
}

#[test]
fn a_name_is_needed_and_no_two_pieces_have_the_same() {
    let line = refusal(|file| file["pieces"][0]["id"] = json!(""));
    assert_eq!(line, "$.pieces[0].id: found \"\"; expected a name of 1 to 200 characters");
    let line = refusal(|file| file["pieces"][0]["id"] = json!(7));
    assert_eq!(line, "$.pieces[0].id: found 7; expected a text of at most 200 characters");
    let line = refusal(|file| {
        let again = file["pieces"][0].clone();
        file["pieces"].as_array_mut().unwrap().push(again);
    });
    assert!(line.starts_with("$.pieces[1].id: found \"a\"; expected a name that no other has"), "{line}");
}

#[test]
fn a_saw_that_loses_nothing_and_one_wider_than_the_tile_both_have_a_plan() {
    let with_kerf = |kerf: i64| {
        let mut file = thirds();
        file["kerf"] = json!(kerf);
        file["pieces"][0]["width"] = json!(300);
        answer(&Desk::new().ask(&file))["tiles"].clone()
    };
    assert_eq!((with_kerf(0), with_kerf(2), with_kerf(601)), (json!(2), json!(4), json!(4)));
}

#[test]
fn every_fault_has_its_line_and_nothing_is_planned() {
    let file = json!({
        "unit": "cubits", "tile": {"width": 0}, "kerf": -1, "half_turn": "yes",
        "pieces": [{"id": "a", "width": "wide", "height": 10, "count": 0}],
        "rack": [{"id": "r", "width": 5}]
    });
    let lines = refusals(&Desk::new().ask(&file));
    let paths: Vec<&str> = lines.iter().map(|line| line.split(':').next().unwrap()).collect();
    let expected = [
        "$.unit",
        "$.tile.width",
        "$.tile.height",
        "$.kerf",
        "$.half_turn",
        "$.pieces[0].width",
        "$.pieces[0].count",
        "$.rack[0].height",
    ];
    assert_eq!(paths, expected);
}

#[test]
fn a_file_that_lists_no_pieces_is_refused_in_one_line() {
    for wrong in ["", "[1, 2", "{}x", &" ".repeat(4_000_001)] {
        let output = Desk::new().ask_text(wrong, &[]);
        assert_eq!(refusals(&output).len(), 1, "{}", text(&output.stderr));
    }
    assert!(
        refusal(|file| file["pieces"] = json!([]))
            .starts_with("$.pieces: found []; expected a list of pieces")
    );
}

#[test]
fn unknown_keys_are_named_and_the_rest_is_planned() {
    let mut file = thirds();
    file["pieces"][0]["colour"] = json!("grey");
    let output = Desk::new().ask(&file);
    assert_eq!(answer(&output)["tiles"], json!(2));
    assert!(text(&output.stderr).starts_with("$.pieces[0].colour: not known, and ignored\n"));
}

#[test]
fn a_key_that_stands_twice_is_refused() {
    let twice = thirds().to_string().replacen("\"kerf\":2", "\"kerf\":2,\"kerf\":3", 1);
    let lines = refusals(&Desk::new().ask_text(&twice, &[]));
    assert_eq!(lines, ["$.kerf: found the key twice; expected it once"]);
}

#[test]
fn the_time_to_look_is_limited_by_whole_seconds() {
    let desk = Desk::new();
    assert_eq!(answer(&desk.ask_text(&thirds().to_string(), &["--seconds", "1"]))["tiles"], json!(2));
    assert_eq!(desk.ask_text(&thirds().to_string(), &["--seconds", "soon"]).status.code(), Some(2));
}
