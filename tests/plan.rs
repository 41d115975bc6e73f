//! The command that plans a file: the real program, as a person or another program runs it.

use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::{Value, json};
use tempfile::TempDir;

/// Files to plan.
struct Desk {
    folder: TempDir,
}

impl Desk {
    fn new() -> Self {
        Self { folder: TempDir::new().unwrap() }
    }

    fn plan_text(&self, text: &str, more: &[&str]) -> Output {
        let file: PathBuf = self.folder.path().join("job.json");
        std::fs::write(&file, text).unwrap();
        let program = env!("CARGO_BIN_EXE_coursebook");
        Command::new(program).arg("plan").arg(file).args(more).output().unwrap()
    }

    fn plan(&self, job: &Value) -> Output {
        self.plan_text(&job.to_string(), &[])
    }
}

/// A wall 1208 mm wide and four courses high between base and ceiling, of a 600 x 300 mm tile without joints.
fn wall(width: i64) -> Value {
    json!({
        "coursebook": 1, "name": "One wall", "unit": "mm",
        "tiles": {"wall": {"width": 600, "height": 300}},
        "joint": 0, "kerf": 2, "gaps": {"base": 4, "corner": 4, "ceiling": 4},
        "surfaces": [{
            "id": "A", "name": "wall", "kind": "wall", "width": width,
            "base": [{"x": 0, "drop": 604}], "top": [{"x": 0, "rise": 604}],
            "edges": {"left": "corner", "right": "corner", "base": "base", "top": "ceiling"},
            "bands": [{"tile": "wall", "courses": "fill"}],
            "pattern": {"name": "straight"}
        }]
    })
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn option(output: &Output) -> Value {
    assert!(output.status.success(), "{}", text(&output.stderr));
    let plan: Value = serde_json::from_slice(&output.stdout).unwrap();
    plan["options"][0].clone()
}

#[test]
fn a_wall_of_whole_tiles_buys_just_those() {
    let output = Desk::new().plan(&wall(1208));
    let option = option(&output);
    let tiles = &option["tiles"]["wall"];
    assert_eq!((&tiles["bought"], &tiles["bound"], &tiles["cut"]), (&json!(8), &json!(8), &json!(0)));
    assert_eq!(option["surfaces"][0]["pieces"].as_array().unwrap().len(), 8);
    assert_eq!(text(&output.stderr), "");
}

#[test]
fn a_floor_is_reported_in_its_own_axes() {
    let mut job = wall(1208);
    job["surfaces"][0] = json!({
        "id": "floor", "name": "hall floor", "kind": "floor",
        "outline": [[-300, 0], [1500, 0], [1500, 900], [600, 900], [600, 1700], [-300, 1700]],
        "edge_roles": ["perimeter", "perimeter", "perimeter", "perimeter", "perimeter", "perimeter"]
    });
    let desk = Desk::new();
    let planned = option(&desk.plan(&job));
    assert_eq!(planned["layout"]["first_course"], json!({}));
    let said = text(&desk.plan_text(&job.to_string(), &["--format", "report"]).stdout);
    assert!(
        said.contains("hall floor (floor)") && said.contains("A joint between courses is at y = "),
        "{said}"
    );
    assert!(!said.contains("propped") && !said.contains("scribed") && !said.contains("the line"), "{said}");
}

#[test]
fn ends_too_wide_to_share_a_tile_take_one_each() {
    // 2 x 304 mm and 600 mm a course: 304 + 2 + 304 is more than a tile.
    let option = option(&Desk::new().plan(&wall(1216)));
    assert_eq!(option["tiles"]["wall"]["bought"], json!(12));
    assert_eq!(option["narrowest_cut"], json!(304));
}

#[test]
fn the_layout_printed_and_put_back_gives_the_same_plan() {
    let desk = Desk::new();
    let mut job = wall(1450);
    job["surfaces"][0]["pattern"] = json!({"name": "running", "step": "1/3"});
    let first = desk.plan(&job);
    let options: Value = serde_json::from_slice(&first.stdout).unwrap();
    let options = options["options"].as_array().unwrap();
    assert!(options.len() > 1, "layouts to choose between");
    for chosen in options {
        job["layout"] = chosen["layout"].clone();
        let again: Value = serde_json::from_slice(&desk.plan(&job).stdout).unwrap();
        let mut numbered = chosen.clone();
        numbered["id"] = 1.into();
        assert_eq!(again["options"], json!([numbered]));
    }
}

#[test]
fn each_of_forty_faults_has_its_line_and_nothing_is_planned() {
    let mut job = wall(1208);
    let reading = json!({"x": 0, "drop": "deep"});
    job["surfaces"][0]["base"] = Value::Array(vec![reading; 40]);
    let output = Desk::new().plan(&job);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(text(&output.stdout), "");
    let lines = text(&output.stderr);
    let lines: Vec<&str> = lines.lines().collect();
    assert_eq!(lines.len(), 40, "{lines:#?}");
    for (index, line) in lines.iter().enumerate() {
        assert!(
            line.starts_with(&format!("$.surfaces[0].base[{index}].drop: found \"deep\"; expected ")),
            "{line}"
        );
    }
}

#[test]
fn unknown_keys_are_named_and_the_rest_is_planned() {
    let mut job = wall(1208);
    job["weather"] = json!("wet");
    let output = Desk::new().plan(&job);
    assert_eq!(option(&output)["tiles"]["wall"]["bought"], json!(8));
    assert_eq!(text(&output.stderr), "$.weather: not known, and ignored\n");
}

#[test]
fn what_cannot_be_laid_is_a_fault_of_the_file() {
    let mut job = wall(1208);
    job["surfaces"][0]["base"] = json!([{"x": 0, "drop": 604, "carries": false}]);
    let output = Desk::new().plan(&job);
    assert_eq!((output.status.code(), text(&output.stdout).as_str()), (Some(2), ""));
    assert_eq!(text(&output.stderr).lines().count(), 1);
}

#[test]
fn a_file_that_is_no_job_is_refused_in_one_line() {
    let desk = Desk::new();
    for wrong in ["", "[1, 2", "\u{0}\u{1}", &" ".repeat(4_000_001)] {
        let output = desk.plan_text(wrong, &[]);
        assert_eq!((output.status.code(), text(&output.stdout).as_str()), (Some(2), ""));
        assert_eq!(text(&output.stderr).lines().count(), 1, "{}", text(&output.stderr));
    }
}

#[test]
fn a_file_that_is_not_there_is_another_kind_of_failure() {
    let program = env!("CARGO_BIN_EXE_coursebook");
    let output = Command::new(program).args(["plan", "/nowhere/job.json"]).output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).contains("/nowhere/job.json"));
}

#[test]
fn a_person_gets_words() {
    let output = Desk::new().plan_text(&wall(1216).to_string(), &["--format", "report"]);
    let report = text(&output.stdout);
    assert!(report.starts_with("One wall\n"), "{report}");
    for line in [
        "  4 set whole + 8 cut into pieces = 12 to buy",
        "  No plan for this layout can use fewer than 12.",
        "Narrowest cut: 304 mm",
        "Layouts to choose between",
        "  course 1: 1 whole; A1-1 304 mm × 300 mm; A1-3 304 mm × 300 mm",
    ] {
        assert!(report.lines().any(|of| of == line), "no {line:?} in\n{report}");
    }
}

#[test]
fn a_person_gets_words_in_their_language() {
    let report = |language: &str| {
        let output =
            Desk::new().plan_text(&wall(1216).to_string(), &["--format", "report", "--language", language]);
        (output.status.success(), text(&output.stdout), text(&output.stderr))
    };
    let (_, spanish, _) = report("es");
    assert!(spanish.starts_with("One wall\n"), "{spanish}");
    for line in [
        "  Se colocan enteros 4 + se cortan 8 = por comprar 12",
        "  hilada 1: 1 entero; A1-1 304 mm × 300 mm; A1-3 304 mm × 300 mm",
    ] {
        assert!(spanish.lines().any(|of| of == line), "no {line:?} in\n{spanish}");
    }
    for line in spanish.lines().skip(1) {
        assert!(crate::languages::english(line).is_empty(), "{line}");
    }
    assert_eq!(report("es-MX").1, spanish);
    let (went, nothing, says) = report("pt");
    assert!(!went && nothing.is_empty() && says.contains("en, es"), "{says}");
}

#[test]
fn a_first_course_that_is_cut_to_the_base_and_comes_out_whole_is_called_whole() {
    let mut job = wall(1208);
    // 4 mm above the base, so that a joint lies 300 mm above its foot.
    job["layout"] = json!({"course_line": -300, "first_course": {"A": "scribed"}});
    let desk = Desk::new();
    let report = |job: &Value| text(&desk.plan_text(&job.to_string(), &["--format", "report"]).stdout);
    let said = report(&job);
    assert!(said.contains("The first course is whole tiles, with nothing to cut at the base."), "{said}");
    assert!(!said.contains("scribed"), "{said}");
    job["layout"]["course_line"] = json!(-400);
    let said = report(&job);
    assert!(said.contains("The first course is scribed.") && !said.contains("nothing to cut"), "{said}");
}
