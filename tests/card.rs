//! The wall card, as a helper asks for it twenty times a day.

use axum::http::StatusCode;
use coursebook::store::JobId;
use trade::cure::Span;

use crate::support::{Crew, Wall};

/// The millimetres at the beginning of a text.
fn millimetres(text: &str) -> f64 {
    let number = text.split_whitespace().next().unwrap();
    number.parse().unwrap_or_else(|_| panic!("{text} is no length"))
}

async fn card_of(crew: &Crew, job: &JobId, wall: &str) -> crate::support::Page {
    crew.get(&format!("/jobs/{job}/walls/{wall}/card")).await
}

#[tokio::test]
async fn a_card_says_what_to_strike_and_at_which_heights_the_courses_stand() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let card = card_of(&crew, &job, "B").await;
    assert_eq!(card.status, StatusCode::OK);
    let wall = crew.get(&format!("/jobs/{job}/walls/B")).await;
    let sorted = |mut texts: Vec<String>| {
        texts.sort();
        texts
    };
    let strike = card.texts(".card-strike dd");
    assert_eq!(sorted(strike.clone()), sorted(wall.texts("#card dd")), "the same lines as at the wall");
    assert!(millimetres(&strike[0]) > 0.0 && millimetres(&strike[1]) > 0.0, "numbers first: {strike:?}");
    // Whole tiles of 298 mm with their joint of 3 mm, from the top down.
    let heights: Vec<f64> =
        card.texts(".pole td:first-of-type").iter().map(|said| millimetres(said)).collect();
    assert!(heights.len() > 5, "{heights:?}");
    let joint = millimetres(&card.texts(".card-with dd")[1]);
    // The last course is cut to the ceiling.
    let steps: Vec<f64> = heights[1..].windows(2).map(|pair| pair[0] - pair[1]).collect();
    assert!(steps.iter().all(|step| (step - 298.0 - joint).abs() <= 1.0), "{steps:?}");
    // Every course begins with the piece that the saw cuts for that place.
    let begins = card.texts(".pole th small:not(.cut-to)");
    assert_eq!(begins.len(), heights.len());
    for (course, begins) in (1..).zip(begins.iter().rev()) {
        let Some(width) = begins.strip_prefix("begins with ").and_then(|rest| rest.strip_suffix(" mm"))
        else {
            assert_eq!(begins, "begins with a whole tile");
            continue;
        };
        let piece = crew.get(&format!("/jobs/{job}/cuts/B{course}-1")).await;
        assert!(piece.text("main").contains(&format!("{width} × ")), "course {course} {begins}");
    }
}

#[tokio::test]
async fn no_mark_of_the_pole_lies_above_the_ceiling() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    for place in ["", "/card"] {
        let page = crew.get(&format!("/jobs/{job}/walls/B{place}")).await;
        let from_line = page.texts(".pole tbody tr:first-child td.number:last-child").remove(0);
        // The ceiling is 1000 mm above the line, and the tile keeps 3 mm off it.
        assert_eq!(from_line, "997 mm above the line", "{place}");
        assert_eq!(page.texts(".pole .cut-to"), ["cut to the ceiling"]);
        assert!(page.text(".pole tbody tr:first-child").contains("cut to the ceiling"));
    }
    // A ceiling that falls to the right.
    let fields = [
        ("top-0-x", "0"),
        ("top-0-rise", "1000"),
        ("top-1-x", "1526"),
        ("top-1-rise", "988"),
        ("do", "save"),
    ];
    let address = format!("/jobs/{job}/walls/B");
    let form = crew.get(&address).await;
    crew.post_form(&address, &crate::support::typed_over(&form, &fields)).await.leads_to();
    let card = card_of(&crew, &job, "B").await;
    assert!(card.text(".pole tbody tr:first-child").contains("985 mm to 997 mm"), "{}", card.text(".pole"));
}

#[tokio::test]
async fn the_card_of_a_wall_that_is_set_has_the_mortar_it_was_set_with() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let name = async |name: &str| {
        let named = [("stage", "set"), ("class", "cement_mortar"), ("name", name)];
        let products = crew.get(&format!("/jobs/{job}/board/products?stage=set")).await;
        let fields = crate::support::typed_over(&products, &named);
        crew.post_form(&format!("/jobs/{job}/board/products"), &fields).await.leads_to();
    };
    name("Grey bag").await;
    crew.post(&format!("/jobs/{job}/board/B/set/done"), &[("uncut", "999")]).await.leads_to();
    name("White bag").await;
    let with = card_of(&crew, &job, "B").await.text(".card-with");
    assert!(
        with.contains("Mortar it was set with") && with.contains("Grey bag") && !with.contains("White bag"),
        "{with}"
    );
    let with = card_of(&crew, &job, "A").await.text(".card-with");
    assert!(with.contains("White bag") && !with.contains("Grey bag"), "not set yet: {with}");
}

#[tokio::test]
async fn a_joint_that_the_layout_was_chosen_with_is_named_beside_the_one_on_the_sheet() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let layout = format!("/jobs/{job}/layout");
    assert!(crew.get(&format!("/jobs/{job}/sheet")).await.texts("#joint-in-force").is_empty());
    let version = crew.get(&layout).await.attribute("input[name=version]", "value");
    let taken = [("version", version.as_str()), ("change", "joint"), ("joint", "2")];
    crew.post(&layout, &taken).await.leads_to();
    let with = card_of(&crew, &job, "B").await.text(".card-with");
    assert!(
        with.contains("2 mm spacers of this width") && with.contains("not by the 3 mm on the sheet"),
        "{with}"
    );
    let says = crew.get(&format!("/jobs/{job}/sheet")).await.text("#joint-in-force");
    assert!(says.contains("joint of 2 mm"), "{says}");
    let says = crew.get(&layout).await.text("#joint-width");
    assert!(says.contains("On the sheet it is 3 mm"), "{says}");
}

#[tokio::test]
async fn a_propped_wall_has_the_prop_under_every_corner_on_its_card() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let version = crew.get(&format!("/jobs/{job}/layout")).await.attribute("input[name=version]", "value");
    let propped = [("version", version.as_str()), ("change", "first"), ("wall", "B"), ("way", "propped")];
    crew.post(&format!("/jobs/{job}/layout"), &propped).await.leads_to();
    let card = card_of(&crew, &job, "B").await;
    let (corners, props) = (card.texts(".props tbody th"), card.texts(".props tbody td"));
    let wall = crew.get(&format!("/jobs/{job}/walls/B")).await;
    assert_eq!(corners, wall.texts("#card .props td:first-child"), "under the same corners as at the wall");
    assert!(corners.len() >= 4 && millimetres(&corners[0]) < millimetres(&corners[1]), "{corners:?}");
    let heights = wall.texts("#card .props td.number");
    for (prop, height) in props.iter().zip(&heights) {
        assert!(prop == height || (height == "0 mm" && prop == "on the base"), "{prop}: {height}");
    }
    // The pole stands on the foot of the first course, one tile below its upper edge.
    let heights: Vec<f64> =
        card.texts(".pole td:first-of-type").iter().map(|said| millimetres(said)).collect();
    let [.., first, foot] = heights[..] else { panic!("{heights:?}") };
    assert!((first - foot - 298.0).abs() <= 1.0, "{heights:?}");
    assert!(card.texts(".pole th").iter().any(|said| said == "foot of the first"));
}

#[tokio::test]
async fn a_card_says_where_the_work_stands_and_what_comes_next() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let card = card_of(&crew, &job, "B").await;
    assert!(card.text(".card-stages").starts_with("Nothing is reported of this wall yet."));
    assert_eq!(card.texts(".card-stage .card-name"), ["Set"]);
    crew.post(&format!("/jobs/{job}/board/B/set/done"), &[("uncut", "999")]).await.leads_to();
    let card = card_of(&crew, &job, "B").await;
    assert_eq!(card.texts(".card-stage .card-name"), ["Set", "Clips off"]);
    let next = card.texts(".card-stage")[1].clone();
    let board = crew.get(&format!("/jobs/{job}/board/B/clip_removal")).await.text(".cell-state");
    assert!(board.starts_with("Not before") && next.contains(&board), "{next}: {board}");
    crew.pass(Span::from_hours(24 * 7));
    let card = card_of(&crew, &job, "B").await;
    assert!(card.texts(".card-stage")[1].contains("Ready"), "{}", card.texts(".card-stage")[1]);
    for stage in ["clip_removal", "grout", "seal"] {
        crew.post(&format!("/jobs/{job}/board/B/{stage}/done"), &[]).await.leads_to();
    }
    let card = card_of(&crew, &job, "B").await;
    assert!(card.text(".card-stages").contains("Every stage of this wall is done."));
    assert_eq!(card_of(&crew, &job, "A").await.texts(".card-name"), ["Set"], "the other walls wait still");
}

#[tokio::test]
async fn what_only_the_bag_knows_is_not_made_up() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let card = card_of(&crew, &job, "A").await;
    let with = card.text(".card-with");
    assert!(with.contains("which bag is not told yet") && with.contains("water for a bag"), "{with}");
    let named = [("stage", "set"), ("class", "cement_mortar"), ("name", "Grey bag, flexible")];
    let products = crew.get(&format!("/jobs/{job}/board/products?stage=set")).await;
    let fields = crate::support::typed_over(&products, &named);
    crew.post_form(&format!("/jobs/{job}/board/products"), &fields).await.leads_to();
    let with = card_of(&crew, &job, "A").await.text(".card-with");
    assert!(with.contains("Grey bag, flexible") && !with.contains("which bag is not told yet"), "{with}");
}

#[tokio::test]
async fn a_card_without_a_layout_says_what_is_missing() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let wall = Wall {
        name: "back wall",
        width: "1526",
        base: &[("0", "1200"), ("1526", "1202")],
        rise: "1000",
        more: &[],
    };
    crew.send_wall(&job, &wall).await.leads_to();
    let card = card_of(&crew, &job, "A").await;
    assert_eq!(card.status, StatusCode::OK);
    assert!(card.text("#missing").contains("tile"), "{}", card.text("#missing"));
    assert_eq!(card.texts(".pole").len(), 0);
    assert_eq!(card_of(&crew, &job, "Z").await.status, StatusCode::NOT_FOUND);
    assert_eq!(card_of(&crew, &job, "a/b").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_board_the_walls_and_the_saw_lead_to_the_card() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let card = format!("href=\"/jobs/{job}/walls/B/card\"");
    for place in ["", "/board", "/cuts"] {
        let page = crew.get(&format!("/jobs/{job}{place}")).await;
        assert!(page.body.contains(&card), "{place} leads to the card");
    }
}

/// One wall of the usual tile, cut to its base, with a joint between courses so far below the line.
async fn scribed(base: &[(&str, &str)], line: &str) -> (Crew, String) {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let tile = [("tile-0-width", "598"), ("tile-0-height", "298"), ("tile-0-thickness", "9")];
    crew.send_sheet(&job, &tile).await.leads_to();
    let wall = Wall { name: "wall", width: "1526", base, rise: "1000", more: &[] };
    crew.send_wall(&job, &wall).await.leads_to();
    let layout = format!("/jobs/{job}/layout");
    for fields in [
        [("change", "line"), ("line", line), ("way", "below")],
        [("change", "first"), ("wall", "A"), ("way", "scribed")],
    ] {
        let version = crew.get(&layout).await.attribute("input[name=version]", "value");
        let fields = [&[("version", version.as_str())], &fields[..]].concat();
        crew.post(&layout, &fields).await.leads_to();
    }
    (crew, format!("/jobs/{job}"))
}

#[tokio::test]
async fn the_card_and_the_story_pole_say_the_cut_as_the_saw_does() {
    // The first course is 244.7 mm high at the left: 245 would stand above the line.
    let (crew, job) = scribed(&[("0", "1200"), ("1526", "1210")], "950.8").await;
    let saw = crew.get(&format!("{job}/cuts")).await.text("#piece-A1-1");
    assert!(saw.contains("244 mm") && !saw.contains("245 mm"), "{saw}");
    let card = crew.get(&format!("{job}/walls/A/card")).await;
    let says = card.text("main");
    assert!(says.contains("244 mm to 254 mm high"), "{says}");
    // Its upper edge is 3 mm of gap higher: 247.7 mm above the base and 952.3 mm below the line.
    assert!(says.contains("247 mm") && !says.contains("248 mm"), "{says}");
    assert!(says.contains("953 mm") && !says.contains("952 mm"), "{says}");
    let wall = crew.get(&format!("{job}/walls/A")).await.text("main");
    assert!(wall.contains("244 mm") && !wall.contains("245 mm"), "{wall}");
}

#[tokio::test]
async fn a_first_course_that_comes_out_whole_is_not_called_scribed() {
    let (crew, job) = scribed(&[("0", "1200"), ("1526", "1200")], "897.5").await;
    let card = crew.get(&format!("{job}/walls/A/card")).await.text("main");
    assert!(card.contains("Whole tiles") && !card.contains("Scribed"), "{card}");
}
