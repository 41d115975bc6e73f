//! Measuring walls from a level line.

use axum::http::StatusCode;
use coursebook::store::{EventKey, JobId, SheetChange};
use trade::measure::{FirstCourse, Layout, Length, SurfaceId};

use crate::support::{Crew, Wall, typed_over};

const MM_TILE: [(&str, &str); 3] =
    [("tile-0-width", "598"), ("tile-0-height", "298"), ("tile-0-thickness", "9")];

fn back_wall<'a>(base: &'a [(&'a str, &'a str)]) -> Wall<'a> {
    Wall { name: "back wall", width: "1526", base, rise: "1000", more: &[] }
}

async fn job_with_tile(crew: &Crew) -> JobId {
    let job = crew.job("mm").await;
    crew.send_sheet(&job, &MM_TILE).await.leads_to();
    job
}

/// The walls of a shower read in inches: the line stands at the top of the fourth course.
async fn shower_in_inches(crew: &Crew) -> JobId {
    let job = crew.job("in").await;
    let sheet = [
        ("tile-0-row-width", "117 13/16"),
        ("tile-0-row-height", "117 13/16"),
        ("tile-0-thickness", "3/8"),
        ("floor", "after"),
        ("floor-thickness", "3/4"),
    ];
    crew.send_sheet(&job, &sheet).await.leads_to();
    for (name, width, drop, meets, first) in [
        ("left wall", "36", "47 5/8", "", ""),
        ("back wall", "60", "48", "A", "this"),
        ("right wall", "36", "47 7/8", "B", "neighbour"),
    ] {
        let corner = [("left-meets", meets), ("left-first", first)];
        let wall = Wall { name, width, base: &[("", drop)], rise: "48", more: &corner };
        crew.send_wall(&job, &wall).await.leads_to();
    }
    job
}

#[tokio::test]
async fn the_first_page_of_a_job_says_what_to_do_first() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let page = crew.get(&format!("/jobs/{job}")).await;
    assert!(page.text(".empty").starts_with("No walls yet."));
    let missing = page.text("#missing");
    assert!(missing.contains("No wall is measured yet") && missing.contains("No tile is measured yet"));
    assert_eq!(page.attribute("a.action", "href"), format!("/jobs/{job}/walls/new"));
    assert_eq!(crew.get("/jobs/nowhere").await.status, StatusCode::NOT_FOUND);
    assert_eq!(crew.get(&format!("/jobs/{job}/walls/Z")).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn three_walls_are_measured_and_the_page_finds_the_high_point() {
    let crew = Crew::new().await;
    let job = shower_in_inches(&crew).await;
    let page = crew.get(&format!("/jobs/{job}")).await;
    assert_eq!(page.text("#base .huge"), "High point: left wall (A)");
    assert_eq!(page.texts("#base td.gap"), ["1/8 in", "1/2 in", "3/8 in"]);
    assert_eq!(page.texts(".list-name"), ["left wall (A)", "back wall (B)", "right wall (C)"]);
    assert_eq!(page.texts(".walls svg").len(), 3);
}

#[tokio::test]
async fn propped_from_the_high_point_the_line_stands_at_the_top_of_the_fourth_course() {
    let crew = Crew::new().await;
    let job = shower_in_inches(&crew).await;
    let stored = crew.app.store.sheet(&job).await.unwrap();
    let mut layout = Layout::default();
    for wall in ["A", "B", "C"] {
        let wall = SurfaceId::new(wall).unwrap();
        layout.course_line.insert(wall.clone(), Length::sixty_fourths(4));
        layout.first_course.insert(wall, FirstCourse::Propped);
    }
    let store = &crew.app.store;
    store
        .change_sheet(EventKey::random(), job.clone(), stored.version, SheetChange::Layout(layout))
        .await
        .unwrap();
    for (wall, gap, high) in [("A", "1/8 in", true), ("B", "1/2 in", false), ("C", "3/8 in", false)] {
        let page = crew.get(&format!("/jobs/{job}/walls/{wall}")).await;
        assert!(page.texts(".figures dd")[0].starts_with("Propped"), "{wall}");
        let gaps = page.texts(".stations tbody td:nth-child(2)");
        assert!(!gaps.is_empty() && gaps.iter().all(|read| read == gap), "{wall}: {gaps:?}");
        let props = page.texts(".props tbody td:nth-child(2)");
        assert!(props.len() > 3 && props.iter().all(|read| read == gap), "{wall}: {props:?}");
        let figures = page.text(".figures");
        assert!(figures.contains("left wall (A)"), "{figures}");
        assert_eq!(figures.contains("start from this wall"), high, "{figures}");
        let pole = page.texts(".pole td");
        let pole: Vec<Vec<&str>> =
            pole.chunks(3).map(|mark| mark.iter().map(String::as_str).collect()).collect();
        assert!(pole.contains(&vec!["4", "47 5/8 in", "at the line"]), "{pole:?}");
        assert_eq!(pole.last().unwrap(), &["foot of the first", "1/8 in", "47 1/2 in below the line"]);
    }
}

#[tokio::test]
async fn corners_are_said_once_and_the_neighbours_tile_is_taken_off() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let sheet = crew.app.store.sheet(&job).await.unwrap().sheet;
    let widths: Vec<_> = sheet.job().unwrap().surfaces.iter().map(|wall| wall.width).collect();
    // The back wall runs behind; tile of 9 mm on a bed of 4 mm comes off the sides.
    assert_eq!(widths, [Length::mm(899), Length::mm(1526), Length::mm(899)]);
    let page = crew.get(&format!("/jobs/{job}/walls/A")).await;
    assert_eq!(page.attribute("#right-meets option[selected]", "value"), "B");
    assert_eq!(page.attribute("#right-first option[selected]", "value"), "neighbour");

    // Taken away on one wall, it is gone on the other.
    let form = crew.get(&format!("/jobs/{job}/walls/B")).await;
    crew.post_form(&format!("/jobs/{job}/walls/B"), &typed_over(&form, &[("left-meets", "")]))
        .await
        .leads_to();
    let sheet = crew.app.store.sheet(&job).await.unwrap().sheet;
    assert!(sheet.walls[0].right.meets.is_none() && sheet.walls[1].right.meets.is_some());
}

#[tokio::test]
async fn nobody_guesses_which_walls_meet_and_open_corners_are_said_until_they_are_joined() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    let pages = [format!("/jobs/{job}"), format!("/jobs/{job}/layout")];
    let open = async || {
        let [walls, layout] = &pages;
        let said = crew.get(walls).await.texts("#corners li .look");
        assert_eq!(crew.get(layout).await.texts("#corners li .look"), said);
        said
    };
    let measured = async |name, width| {
        let wall = Wall { name, width, base: &[("", "1200")], rise: "1000", more: &[] };
        crew.send_wall(&job, &wall).await.leads_to();
    };
    measured("back wall", "1526").await;
    assert!(open().await.is_empty(), "a lone wall meets walls without tile");
    // In whatever order: the left wall's right end is the back wall's left, the right wall's left its right.
    measured("left wall", "912").await;
    measured("right wall", "912").await;
    let sheet = crew.app.store.sheet(&job).await.unwrap().sheet;
    assert!(sheet.walls.iter().all(|wall| wall.left.meets.is_none() && wall.right.meets.is_none()));
    let said = open().await;
    assert_eq!(said.len(), 6, "{said:?}");
    assert_eq!(
        said[0],
        "back wall (A), left end: an inside corner that meets no wall yet. Say which wall it meets, or its tile \
         thickness is not taken off."
    );
    let leads = crew.get(&pages[0]).await.attributes("#corners a", "href");
    assert_eq!(leads[5], format!("/jobs/{job}/walls/C#right-meets"));

    let back = format!("/jobs/{job}/walls/A");
    let form = crew.get(&back).await;
    assert!(form.text("#left-role-echo").starts_with("Taken to meet no wall of this job"));
    crew.post_form(&back, &typed_over(&form, &[("left-meets", "B")])).await.leads_to();
    assert_eq!(open().await.len(), 4);
    let form = crew.get(&back).await;
    crew.post_form(&back, &typed_over(&form, &[("right-meets", "C")])).await.leads_to();
    assert!(open().await.is_empty(), "the outer ends of three walls in a row cannot meet");
    let form = crew.get(&back).await;
    assert_eq!(
        form.text("#left-role-echo"),
        "Taken to meet the right end of left wall (B), which butts against this wall."
    );
    let side = crew.get(&format!("/jobs/{job}/walls/C")).await;
    let taken = side.text("#left-role-echo");
    assert!(
        taken.ends_with("back wall (A), which runs behind: the thickness of its tile is taken off here.")
    );
    let widths: Vec<_> = crew.app.store.sheet(&job).await.unwrap().sheet.job().unwrap().surfaces;
    let widths: Vec<_> = widths.iter().map(|wall| wall.width).collect();
    assert_eq!(widths, [Length::mm(1526), Length::mm(899), Length::mm(899)]);

    // As it is typed it is said too, and of a bare edge nothing.
    let echo = async |typed: &[(&str, &str)]| {
        let drawn = crew.post_form(&format!("/jobs/{job}/walls/draw"), &typed_over(&form, typed)).await;
        drawn.text("[data-echo=left-role]")
    };
    assert!(echo(&[("left-meets", "C")]).await.contains("the right end of right wall (C)"));
    assert_eq!(echo(&[("left-role", "bare")]).await, "");
}

#[tokio::test]
async fn a_fourth_wall_may_close_the_room() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    for (name, meets) in [("one", ""), ("two", "A"), ("three", "B"), ("four", "C")] {
        let corner = [("left-meets", meets)];
        let wall = Wall { name, width: "1526", base: &[("", "1200")], rise: "1000", more: &corner };
        crew.send_wall(&job, &wall).await.leads_to();
    }
    let said = crew.get(&format!("/jobs/{job}")).await.texts("#corners li .look");
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said[0].starts_with("one (A), left end") && said[1].starts_with("four (D), right end"));
}

#[tokio::test]
async fn a_width_of_nothing_and_a_bad_length_are_said_at_once() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    let wall = Wall { name: "back wall", width: "0", base: &[("", "four feet")], rise: "1000", more: &[] };
    let page = crew.send_wall(&job, &wall).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let faults = page.texts(".faults li");
    assert_eq!(faults.len(), 2, "{faults:?}");
    assert_eq!(faults[0], "Width at the level line: 0 is no width. Type how wide the wall is.");
    assert!(faults[1].contains("four feet"), "{faults:?}");
}

#[tokio::test]
async fn a_wall_sent_again_as_it_stands_stays_as_it_is() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let before = crew.app.store.sheet(&job).await.unwrap().sheet;
    for wall in ["A", "B", "C"] {
        let address = format!("/jobs/{job}/walls/{wall}");
        let form = crew.get(&address).await;
        crew.post_form(&address, &typed_over(&form, &[])).await.leads_to();
    }
    assert_eq!(crew.app.store.sheet(&job).await.unwrap().sheet, before);
    let page = crew.restarted().await.get(&format!("/jobs/{job}/walls/C")).await;
    assert_eq!(page.attribute("#opening-0-y", "value"), "150");
    assert_eq!(page.attribute("#opening-0-y-side option[selected]", "value"), "below");
}

#[tokio::test]
async fn every_slip_on_a_wall_is_named_and_nothing_typed_is_lost() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    let niche = [
        ("opening-0-name", "niche"),
        ("opening-0-x", "2000"),
        ("opening-0-y", "100"),
        ("opening-0-width", "300"),
        ("opening-0-height", "300"),
    ];
    for (slip, field, says) in [
        (
            &[("base-1-drop", "about 1200")][..],
            "base-1-drop",
            "Base reading 2, down to the base: “about 1200” is not",
        ),
        (&[("base-1-drop", "")], "base-1-drop", "type a length"),
        (&[("base-1-x", "-100")], "base-1-x", "not on the wall"),
        (&[("base-1-x", "2000")], "base-1-x", "not on the wall"),
        (&[("base-0-x", "800")], "base-1-x", "left of the reading before it"),
        (&[("width", "0")], "width", "0 is no width. Type how wide"),
        (&[("width", "100 m")], "width", "unit"),
        (&[("width", "")], "width", "type a length"),
        (&[("top-0-rise", "")], "top-0-rise", "level line up"),
        (&[("top-0-rise", "-1300")], "top-0-rise", "not above the base"),
        (&[("name", "")], "name", "name"),
        (&[("id", "back wall")], "id", "letters and digits"),
        (&[("id", "draw")], "id", "Short name"),
        (&[("pattern", "right"), ("step", "other"), ("step-other", "3/2")], "step-other", "between 0 and 1"),
        (&niche, "opening-0-x", "niche lies wholly outside"),
        (&[("left-role", "ladder")], "left-role", "Choose one"),
    ] {
        let form = crew.get(&format!("/jobs/{job}/walls/new")).await;
        let mut typed = vec![
            ("name", "back wall"),
            ("width", "1526"),
            ("base-0-x", "0"),
            ("base-0-drop", "1200"),
            ("base-1-x", "763"),
            ("base-1-drop", "1201"),
            ("top-0-rise", "1000"),
            ("do", "save"),
        ];
        typed.retain(|(name, _)| slip.iter().all(|(over, _)| over != name));
        typed.extend(slip);
        let page = crew.post_form(&format!("/jobs/{job}/walls/new"), &typed_over(&form, &typed)).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{slip:?}");
        let fault = page.text(&format!("#{field}-fault"));
        assert!(fault.contains(says), "{slip:?}: {fault}");
        assert!(page.texts(".faults li").contains(&fault), "{fault}");
        assert!(page.text("title").starts_with("Error:"));
        for (name, typed) in typed.iter().filter(|(name, typed)| name.contains('-') && !typed.is_empty()) {
            let kept = page.form_fields().into_iter().any(|(of, kept)| of == *name && kept == *typed);
            assert!(kept || *typed == "ladder", "{name} {typed}");
        }
    }
    assert!(crew.app.store.sheet(&job).await.unwrap().sheet.walls.is_empty());
}

#[tokio::test]
async fn drawing_shows_what_was_typed_and_saves_nothing() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    let form = crew.get(&format!("/jobs/{job}/walls/new")).await;
    assert!(form.text("#drawn .empty").contains("Type the width"));
    let typed = [("name", "back wall"), ("width", "1526"), ("base-0-drop", "1203"), ("top-0-rise", "98 cm")];
    let draw = typed_over(&form, &[&typed[..], &[("do", "draw")]].concat());
    let page = crew.post_form(&format!("/jobs/{job}/walls/new"), &draw).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text("#drawn svg").contains("1203 mm") && page.text("#drawn svg").contains("980 mm"));
    assert_eq!(page.text("#top-0-rise-echo"), "980 mm (38 9/16 in)");
    let table = page.texts("#drawn td");
    assert_eq!(table[..3], ["Base reading 1, down to the base", "0 mm", "1203 mm below the line"]);
    assert_eq!(table[3..], ["Top reading 1, up to the top", "0 mm", "980 mm above the line"]);
    // What the script fetches is the same, alone, and takes half a form.
    let live = crew.post_form(&format!("/jobs/{job}/walls/draw"), &typed_over(&form, &typed[1..3])).await;
    assert_eq!(live.text("[data-echo=base-0-drop]"), "1203 mm (47 3/8 in)");
    assert!(live.texts("h1").is_empty() && live.text("svg").contains("1203 mm"));
    assert!(crew.app.store.sheet(&job).await.unwrap().sheet.walls.is_empty());
}

#[tokio::test]
async fn more_rows_come_without_script_and_lose_nothing() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    let address = format!("/jobs/{job}/walls/new");
    let form = crew.get(&address).await;
    assert_eq!(form.texts("input[name^=base-][name$=-drop]").len(), 3);
    let typed = [("base-0-drop", "1200"), ("base-2-drop", "abc"), ("do", "more-base")];
    let page = crew.post_form(&address, &typed_over(&form, &typed)).await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.texts("input[name^=base-][name$=-drop]").len(), 9);
    assert_eq!(page.attribute("#base-2-drop", "value"), "abc");
}

#[tokio::test]
async fn a_misreading_is_pointed_out_and_never_blocks() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    let base = [("0", "1200"), ("450", "1202"), ("900", "1226"), ("1200", "1201"), ("1526", "1200")];
    let form = crew.get(&format!("/jobs/{job}/walls/new")).await;
    let mut wall = back_wall(&base);
    wall.more = &[("do", "draw")];
    let drawn = crew.send_wall_from(&form, &format!("/jobs/{job}/walls/new"), &wall).await;
    let says = "Base reading at 900 mm is 25 mm off what its neighbours say (1226 mm against 1201 mm): measure again.";
    assert_eq!(drawn.text("#drawn .look"), says);
    let address = crew.send_wall(&job, &back_wall(&base)).await.leads_to();
    assert_eq!(crew.get(&address).await.text("#drawn .look"), says);
    assert_eq!(crew.get(&format!("/jobs/{job}")).await.text(".walls .look"), says);
}

/// 47 7/8 and 48 1/4 do not quite agree, and the reading between them lost its tens, or got a minus.
#[tokio::test]
async fn a_reading_that_cannot_be_is_pointed_out_among_three() {
    let crew = Crew::new().await;
    let job = crew.job("in").await;
    let said = async |middle: &str| {
        let form = crew.get(&format!("/jobs/{job}/walls/new")).await;
        let wall = Wall {
            name: "left wall",
            width: "36 1/4",
            base: &[("0", "47 7/8"), ("18", middle), ("36", "48 1/4")],
            rise: "48",
            more: &[("do", "draw")],
        };
        crew.send_wall_from(&form, &format!("/jobs/{job}/walls/new"), &wall).await.texts("#drawn .look")
    };
    assert!(said("48").await.is_empty());
    for slip in ["46", "4 7/8"] {
        let says = said(slip).await;
        assert!(says.len() == 1 && says[0].contains(&format!("({slip} in against 48")), "{says:?}");
    }
    let says = said("-4 7/8").await;
    assert!(says.len() == 1 && says[0].contains("would lie above the level line"), "{says:?}");
}

#[tokio::test]
async fn a_wall_feet_off_the_others_is_pointed_out_beside_them() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    crew.send_wall(&job, &back_wall(&[("0", "1200"), ("1526", "1202")])).await.leads_to();
    let wall = Wall { name: "side", ..back_wall(&[("0", "900"), ("1526", "901")]) };
    let address = crew.send_wall(&job, &wall).await.leads_to();
    let says = crew.get(&address).await.texts("#drawn .look");
    assert!(says.len() == 2 && says[0].contains("every base reading of the other walls"), "{says:?}");
}

#[tokio::test]
async fn the_line_moved_7_mm_up_and_everything_follows() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let address = format!("/jobs/{job}");
    let before = crew.get(&format!("{address}/walls/A")).await;
    let pole_before = before.texts(".pole tbody td:nth-child(2)");
    let form = crew.get(&address).await;
    let moved = typed_over(&form, &[("moved", "7"), ("way", "higher")]);
    let key = "0123456789abcdef";
    let fields: Vec<_> = moved.iter().map(|(name, typed)| (name.as_str(), typed.as_str())).collect();
    // Pressed twice it moves once.
    for _ in 0..2 {
        let leads_to = crew.post_with_key(&format!("{address}/line"), key, &fields).await.leads_to();
        assert_eq!(leads_to, format!("{address}#line"));
    }
    let page = crew.get(&address).await;
    assert!(page.text("#line .line-now").starts_with("Today's line is 7 mm higher than the first line."));
    let wall = crew.get(&format!("{address}/walls/A")).await;
    assert_eq!(wall.attribute("#base-0-drop", "value"), "1209");
    assert_eq!(wall.attribute("#top-0-rise", "value"), "993");
    // The courses stay where they are on the wall.
    assert_eq!(wall.texts(".pole tbody td:nth-child(2)"), pole_before);
    assert_ne!(wall.texts(".pole tbody td:nth-child(3)"), before.texts(".pole tbody td:nth-child(3)"));
    let valve = crew.get(&format!("{address}/walls/C")).await;
    assert_eq!(valve.attribute("#opening-0-y", "value"), "157");

    // Sent again from today's line, the stored wall stays; and the next move counts from here.
    crew.post_form(&format!("{address}/walls/A"), &typed_over(&wall, &[])).await.leads_to();
    let drop = crew.app.store.sheet(&job).await.unwrap().sheet.walls[0].base[0].drop;
    assert_eq!(drop, Length::mm(1202));
    let form = crew.get(&address).await;
    crew.post_form(&format!("{address}/line"), &typed_over(&form, &[("moved", "10"), ("way", "lower")]))
        .await
        .leads_to();
    let page = crew.get(&address).await;
    assert!(page.text("#line .line-now").starts_with("Today's line is 3 mm lower"));
}

#[tokio::test]
async fn a_line_that_moved_by_a_slip_is_asked_for_again() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    for slip in ["", "7 or so", "-7", "7 m"] {
        let form = crew.get(&format!("/jobs/{job}")).await;
        let page = crew
            .post_form(&format!("/jobs/{job}/line"), &typed_over(&form, &[("moved", slip), ("way", "lower")]))
            .await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{slip}");
        assert_eq!(page.attribute("#moved", "value"), slip);
        assert!(page.text("#moved-fault").len() > 10);
    }
    assert_eq!(crew.app.store.sheet(&job).await.unwrap().line_shift.0, Length::ZERO);
}

#[tokio::test]
async fn two_people_at_one_wall_do_not_overwrite_each_other_unseen() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let address = format!("/jobs/{job}/walls/B");
    let mine = crew.get(&address).await;
    let theirs = typed_over(&mine, &[("width", "1540")]);
    crew.post_form(&address, &theirs).await.leads_to();
    let page = crew.post_form(&address, &typed_over(&mine, &[("width", "1530")])).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert!(page.text(".refusal").contains("What you typed is still here"));
    assert_eq!(page.attribute("#width", "value"), "1530");
    let width = async || crew.app.store.sheet(&job).await.unwrap().sheet.walls[1].width;
    assert_eq!(width().await, Length::mm(1540));
    crew.post_form(&address, &typed_over(&page, &[])).await.leads_to();
    assert_eq!(width().await, Length::mm(1530));
    let moved = crew.post_form(&format!("/jobs/{job}/line"), &typed_over(&mine, &[("moved", "7")])).await;
    assert_eq!(moved.status, StatusCode::CONFLICT);
}

#[tokio::test]
async fn pressing_twice_measures_one_wall() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    let form = crew.get(&format!("/jobs/{job}/walls/new")).await;
    let typed = [
        ("name", "back wall"),
        ("width", "1526"),
        ("base-0-drop", "1200"),
        ("top-0-rise", "1000"),
        ("do", "save"),
    ];
    let fields = typed_over(&form, &typed);
    let fields: Vec<_> = fields.iter().map(|(name, typed)| (name.as_str(), typed.as_str())).collect();
    let key = "0123456789abcdef";
    let address = format!("/jobs/{job}/walls/new");
    let first = crew.post_with_key(&address, key, &fields).await.leads_to();
    let again = crew.post_with_key(&address, key, &fields).await.leads_to();
    assert_eq!((first.as_str(), again.as_str()), (format!("/jobs/{job}/walls/A").as_str(), first.as_str()));
    assert_eq!(crew.app.store.sheet(&job).await.unwrap().sheet.walls.len(), 1);
    // The name is taken now, by whoever opens the form.
    let page = crew.send_wall(&job, &Wall { more: &[("id", "A")], ..back_wall(&[("", "1200")]) }).await;
    assert!(page.text("#id-fault").contains("there is a wall A already"));
}

#[tokio::test]
async fn a_curb_carries_nothing_and_a_strip_goes_between_its_heights() {
    let crew = Crew::new().await;
    let job = job_with_tile(&crew).await;
    let strip = [
        ("tile-1-name", "strip"),
        ("tile-1-width", "298"),
        ("tile-1-height", "50"),
        ("tile-1-thickness", "9"),
    ];
    crew.send_sheet(&job, &strip).await.leads_to();
    let more = [
        ("base-1-curb", "yes"),
        ("strip-tile", "strip"),
        ("strip-least", "150"),
        ("strip-least-side", "below"),
        ("strip-most", "250"),
        ("pattern", "left"),
        ("step", "1/3"),
    ];
    let base = [("0", "1200"), ("1400", "1200"), ("1400", "1100"), ("1526", "1100")];
    let mut more = more.to_vec();
    more.push(("base-2-curb", "yes"));
    let wall = Wall { more: &more, ..back_wall(&base) };
    let address = crew.send_wall(&job, &wall).await.leads_to();
    let stored = crew.app.store.sheet(&job).await.unwrap().sheet.walls[0].clone();
    assert_eq!(
        stored.base.iter().map(|reading| reading.carries).collect::<Vec<_>>(),
        [true, false, false, true]
    );
    assert_eq!(stored.bands.len(), 3);
    assert_eq!(stored.bands[1].bottom_between, Some((Length::mm(-150), Length::mm(250))));
    assert_eq!(stored.pattern.to_string(), "left 1/3");
    let page = crew.get(&address).await;
    assert!(page.texts(".pole td").contains(&"strip".to_owned()));
    assert!(page.texts(".stations td:nth-child(4)").contains(&"curb".to_owned()));
}

#[tokio::test]
async fn nothing_on_these_pages_breaks_the_policy() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    for address in ["", "/sheet", "/walls/new", "/walls/A", "/walls/C"] {
        let page = crew.get(&format!("/jobs/{job}{address}")).await;
        assert_eq!(page.status, StatusCode::OK, "{address}");
        assert!(
            !page.body.contains(" style=")
                && !page.body.contains("<style")
                && !page.body.contains(" onclick=")
        );
        assert_eq!(
            page.body.matches("<script").count(),
            page.body.matches("<script src=").count(),
            "{address}"
        );
        // No key of the words stands on the page in place of its words.
        let text = page.text("main");
        for beginning in
            ["wall-", "sheet-", "card-", "walls-", "no-plan", "height-", "role-", "edge-", "line-"]
        {
            assert!(!text.contains(beginning), "{beginning} in {text}");
        }
    }
}

#[tokio::test]
async fn a_wall_entered_by_mistake_is_taken_off_and_one_with_work_on_it_stays() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let version = crew.app.store.sheet(&job).await.unwrap().version.to_string();
    let remove = |id: &str| format!("/jobs/{job}/walls/{id}");
    crew.post(&format!("/jobs/{job}/board/A/set/done"), &[("uncut", "999")]).await.leads_to();
    let fields = [("do", "remove"), ("version", version.as_str())];
    assert_eq!(crew.post(&remove("A"), &fields).await.status, StatusCode::CONFLICT);
    // What hangs was cut to the neighbour's tile.
    let neighbour = crew.post(&remove("B"), &fields).await;
    assert!(neighbour.text(".refusal-says").contains("is set or being set"), "{}", neighbour.body);
    let asked = crew.post(&remove("C"), &fields).await;
    crew.agreed(asked).await.leads_to();
    let sheet = crew.app.store.sheet(&job).await.unwrap().sheet;
    let left: Vec<&str> = sheet.walls.iter().map(|wall| wall.id.as_str()).collect();
    assert_eq!(left, ["A", "B"]);
    assert!(sheet.walls[1].left.meets.is_none() || sheet.walls[1].right.meets.is_none());
}

#[tokio::test]
async fn a_reading_in_a_row_past_the_last_is_not_dropped_unseen() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let version = crew.app.store.sheet(&job).await.unwrap().version.to_string();
    let fields = [("do", "save"), ("version", version.as_str()), ("width", "900"), ("base-100-drop", "1200")];
    let page = crew.post(&format!("/jobs/{job}/walls/A"), &fields).await;
    assert_eq!(page.status, StatusCode::PAYLOAD_TOO_LARGE);
}
