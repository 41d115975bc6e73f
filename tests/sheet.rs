//! The job's sheet: tile, joint and saw.

use axum::http::StatusCode;
use trade::measure::bare::Floor;
use trade::measure::{Length, TileId};

use crate::support::{Crew, Wall, typed_over};

const TILE: [(&str, &str); 3] =
    [("tile-0-width", "598"), ("tile-0-height", "298"), ("tile-0-thickness", "9")];

async fn tile(crew: &Crew, job: &coursebook::store::JobId, name: &str) -> trade::measure::Tile {
    crew.app.store.sheet(job).await.unwrap().sheet.tiles[&TileId(name.to_owned())].clone()
}

#[tokio::test]
async fn three_numbers_make_a_sheet_and_the_rest_is_usual() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    assert_eq!(crew.send_sheet(&job, &TILE).await.leads_to(), format!("/jobs/{job}"));
    let sheet = crew.app.store.sheet(&job).await.unwrap().sheet;
    assert_eq!(sheet.tiles[&TileId("wall".to_owned())].width, Length::mm(598));
    assert_eq!((sheet.joint, sheet.bed, sheet.floor), (Length::mm(3), Length::mm(4), Floor::AsMeasured));
    let page = crew.get(&format!("/jobs/{job}/sheet")).await;
    assert_eq!(page.attribute("#tile-0-width", "value"), "598");
    assert_eq!(page.text("#tile-0-true-echo"), "One tile: 598 mm (23 9/16 in) wide, 298 mm (11 3/4 in) high");
}

#[tokio::test]
async fn ten_tiles_in_a_row_give_the_true_size() {
    let crew = Crew::new().await;
    let job = crew.job("in").await;
    let row = [
        ("tile-0-width", "12"),
        ("tile-0-height", "12"),
        ("tile-0-row-width", "9' 9 3/4"),
        ("tile-0-row-height", "117 13/16"),
        ("tile-0-thickness", "3/8"),
    ];
    crew.send_sheet(&job, &row).await.leads_to();
    let tile = tile(&crew, &job, "wall").await;
    // 117 13/16 in is 7540 64ths; a tenth of it is 754 64ths, 11 25/32 in.
    assert_eq!(tile.height, Length::sixty_fourths(754));
    assert_eq!(tile.width, Length::from_units(117 * 64 * 30_480 / 10 + 48 * 30_480 / 10));
}

#[tokio::test]
async fn a_row_of_nine_is_noticed() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let nine = [("tile-0-row-width", "5382")];
    let page = crew.send_sheet(&job, &[&TILE[..], &nine[..]].concat()).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let says = page.text(".faults li");
    assert!(says.contains("538.2 mm each") && says.contains("598 mm"), "{says}");
    assert_eq!(page.attribute("#tile-0-row-width", "value"), "5382");
}

#[tokio::test]
async fn every_slip_on_the_sheet_is_named_and_nothing_typed_is_lost() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    for (slip, field, says) in [
        (&[("joint", "300")][..], "joint", "298 mm"),
        (&[("joint", "0")], "joint", "spacer"),
        (&[("kerf", "two")], "kerf", "“two” is not a length"),
        (&[("kerf", "-2")], "kerf", "minus"),
        (&[("gap-corner", "3 m")], "gap-corner", "100 mm"),
        (&[("tile-0-width", "0")], "tile-0-width", "10 mm"),
        (&[("tile-0-thickness", "")], "tile-0-thickness", "Thickness"),
        (&[("tile-0-height", "1,234")], "tile-0-height", "two ways"),
        (&[("tile-0-box", "six")], "tile-0-box", "whole number"),
        (&[("floor", "after")], "floor-thickness", "Floor tile"),
        (&[("tile-1-width", "298")], "tile-1-name", "name"),
    ] {
        let typed: Vec<_> =
            TILE.into_iter().filter(|(name, _)| slip.iter().all(|(over, _)| over != name)).collect();
        let page = crew.send_sheet(&job, &[&typed[..], slip].concat()).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{slip:?}");
        let fault = page.text(&format!("#{field}-fault"));
        assert!(fault.contains(says), "{fault}");
        assert!(page.texts(".faults li").contains(&fault), "{fault}");
        let kept = if slip[0].0 == "tile-0-width" { "tile-0-height" } else { "tile-0-width" };
        assert!(!page.attribute(&format!("#{kept}"), "value").is_empty());
    }
    assert!(crew.app.store.sheet(&job).await.unwrap().sheet.tiles.is_empty());
}

#[tokio::test]
async fn a_strip_is_a_second_tile_and_the_rarely_changed_is_kept() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    crew.send_sheet(&job, &TILE).await.leads_to();
    let more = [
        ("tile-1-name", "strip"),
        ("tile-1-width", "298"),
        ("tile-1-height", "50"),
        ("tile-1-thickness", "8"),
        ("tile-1-directional", "yes"),
        ("floor", "after"),
        ("floor-thickness", "14"),
        ("smallest-width", "100"),
        ("membrane", "yes"),
    ];
    crew.send_sheet(&job, &more).await.leads_to();
    let stored = crew.app.store.sheet(&job).await.unwrap();
    let strip = &stored.sheet.tiles[&TileId("strip".to_owned())];
    assert!(strip.directional && !strip.quarter_turn && stored.membrane);
    assert_eq!(stored.sheet.floor, Floor::TiledAfter { thickness: Length::mm(14) });
    assert_eq!(stored.sheet.smallest_cut.unwrap().height, Length::mm(100));
    // Sent again as it stands, it stays as it is.
    crew.send_sheet(&job, &[]).await.leads_to();
    assert_eq!(crew.app.store.sheet(&job).await.unwrap().sheet, stored.sheet);
}

#[tokio::test]
async fn two_people_on_one_sheet_do_not_overwrite_each_other_unseen() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let address = format!("/jobs/{job}/sheet");
    let mine = crew.get(&address).await;
    crew.send_sheet(&job, &TILE).await.leads_to();
    let typed = [("tile-0-width", "600"), ("tile-0-height", "300"), ("tile-0-thickness", "10")];
    let page = crew.post_form(&address, &typed_over(&mine, &typed)).await;
    assert_eq!(page.status, StatusCode::CONFLICT);
    assert_eq!(page.attribute("#tile-0-width", "value"), "600");
    assert_eq!(tile(&crew, &job, "wall").await.width, Length::mm(598));
    // Having seen it, they may.
    crew.post_form(&address, &typed_over(&page, &[])).await.leads_to();
    assert_eq!(tile(&crew, &job, "wall").await.width, Length::mm(600));
}

#[tokio::test]
async fn a_fault_on_an_old_page_does_not_make_it_a_new_one() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let address = format!("/jobs/{job}/sheet");
    let mine = crew.get(&address).await;
    crew.send_sheet(&job, &TILE).await.leads_to();
    let page = crew.post_form(&address, &typed_over(&mine, &[("joint", "x")])).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let mended = typed_over(
        &page,
        &[("joint", "2"), ("tile-0-width", "600"), ("tile-0-height", "300"), ("tile-0-thickness", "9")],
    );
    assert_eq!(crew.post_form(&address, &mended).await.status, StatusCode::CONFLICT);
}

#[tokio::test]
async fn a_wall_measured_before_the_tile_takes_it_by_itself() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let wall = Wall { name: "back wall", width: "1526", base: &[("", "1200")], rise: "1000", more: &[] };
    crew.send_wall(&job, &wall).await.leads_to();
    assert!(crew.get(&format!("/jobs/{job}")).await.text("#missing").contains("No tile is measured yet"));
    crew.send_sheet(&job, &TILE).await.leads_to();
    let page = crew.get(&format!("/jobs/{job}")).await;
    assert!(page.texts("#missing").is_empty());
    // A slip in the size now would make more tiles than anyone sets.
    let page = crew.send_sheet(&job, &[("tile-0-width", "12"), ("tile-0-height", "12")]).await;
    assert!(
        page.text("#tile-0-width-fault").contains("wall B")
            || page.text("#tile-0-width-fault").contains("wall A")
    );
}

#[tokio::test]
async fn what_was_understood_is_said_as_it_is_typed() {
    let crew = Crew::new().await;
    let job = crew.job("in").await;
    let form = crew.get(&format!("/jobs/{job}/sheet")).await;
    let typed = typed_over(&form, &[("tile-0-width", "11 25/32"), ("tile-0-row-height", "117 13/16")]);
    let page = crew.post_form(&format!("/jobs/{job}/sheet/echo"), &typed).await;
    assert_eq!(page.text("[data-echo=tile-0-width]"), "11 25/32 in (299.2 mm)");
    assert!(page.text("[data-echo=tile-0-true]").contains("11 25/32 in (299.2 mm) high"));
}

#[tokio::test]
async fn a_tile_on_a_wall_keeps_its_name() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let renamed = [("tile-0-name", "white"), ("tile-0-width", "398"), ("tile-0-height", "248")];
    let page = crew.send_sheet(&job, &renamed).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text(".faults").contains("keep it under its name"), "{}", page.text(".faults"));
}

#[tokio::test]
async fn the_membrane_cannot_be_taken_away_under_walls_that_are_set() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    crew.post(&format!("/jobs/{job}/board/A/set/done"), &[("uncut", "999")]).await.leads_to();
    let page = crew.send_sheet(&job, &[("membrane", "")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", page.body);
}

#[tokio::test]
async fn a_joint_as_wide_as_the_tile_is_named_and_nothing_is_planned() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let stored = crew.app.store.sheet(&job).await.unwrap();
    let layout = trade::measure::Layout { joint: Some(Length::mm(298)), ..stored.sheet.layout.clone() };
    let change = coursebook::store::SheetChange::Layout(layout);
    let key = coursebook::store::EventKey::random();
    crew.app.store.change_sheet(key, job.clone(), stored.version, change).await.unwrap();
    let page = crew.get(&format!("/jobs/{job}/layout")).await;
    assert!(page.text("main").contains("Make it narrower"), "{}", page.text("main"));
}

#[tokio::test]
async fn the_joints_a_lead_allows_are_kept_and_stand_round_the_joint() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let address = format!("/jobs/{job}/sheet");
    let range = async || crew.app.store.sheet(&job).await.unwrap().sheet.job().unwrap().joint_range;
    assert_eq!(range().await, (Length::mm(3), Length::mm(3)), "the joint itself where nothing is said");
    crew.send_sheet(&job, &[("joint-least", "2"), ("joint-most", "4")]).await.leads_to();
    assert_eq!(range().await, (Length::mm(2), Length::mm(4)));
    let page = crew.get(&address).await;
    assert_eq!(page.attribute("#joint-least", "value"), "2");
    crew.send_sheet(&job, &[("joint-least", ""), ("joint-most", "5")]).await.leads_to();
    assert_eq!(range().await, (Length::mm(3), Length::mm(5)), "one end alone leaves the other at the joint");
    for (least, most, field, says) in [
        ("4", "5", "joint-least", "wider than the joint of 3 mm"),
        ("4", "2", "joint-least", "the wrong way round: from 4 mm to 2 mm"),
        ("2", "2.5", "joint-most", "narrower than the joint of 3 mm"),
        ("0", "4", "joint-least", "tiles need a joint"),
        ("2", "298", "joint-most", "as wide as the wall tile"),
        ("two", "4", "joint-least", "two"),
    ] {
        let page = crew.send_sheet(&job, &[("joint-least", least), ("joint-most", most)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{least} to {most}");
        let fault = page.text(&format!("#{field}-fault"));
        assert!(fault.contains(says), "{fault}");
        assert_eq!(page.attribute("#joint-least", "value"), least, "what was typed is kept");
    }
    assert_eq!(range().await, (Length::mm(3), Length::mm(5)), "nothing of that was saved");
}

/// What the layout page says under a rule that names this source.
async fn advice(crew: &Crew, job: &coursebook::store::JobId, source: &str) -> Vec<String> {
    let page = crew.get(&format!("/jobs/{job}/layout")).await;
    let sourced = |says: &String| says.ends_with(&format!(" {source}"));
    page.texts("#advice li").into_iter().filter(sourced).collect()
}

/// A joint of 1/8 in and 12 x 24 in tile, stepped by half on one wall.
async fn long_tile_stepped_by_half(crew: &Crew) -> coursebook::store::JobId {
    let job = crew.job("in").await;
    let tile =
        [("tile-0-width", "24"), ("tile-0-height", "12"), ("tile-0-thickness", "3/8"), ("joint", "1/8")];
    crew.send_sheet(&job, &tile).await.leads_to();
    let stepped = [("left-role", "bare"), ("right-role", "bare"), ("pattern", "right"), ("step", "1/2")];
    let wall = Wall { name: "back wall", width: "60", base: &[("", "48")], rise: "36", more: &stepped };
    crew.send_wall(&job, &wall).await.leads_to();
    job
}

/// ANSI A108.02 4.3.8, as quoted at tileletter.com/what-is-minimum-grout-joint/: three times the variation, so that
/// 1/16 in wants 3/16 in.
#[tokio::test]
async fn tiles_that_differ_by_a_16th_want_a_wider_joint_than_an_8th() {
    let crew = Crew::new().await;
    let job = long_tile_stepped_by_half(&crew).await;
    let [before] = &advice(&crew, &job, "ANSI A108.02 4.3.8").await[..] else { panic!("one rule") };
    assert!(before.starts_with("Kept") && before.contains("the least for this tile is 1/16 in"), "{before}");
    crew.send_sheet(&job, &[("tile-0-variation", "1/16")]).await.leads_to();
    let [wider] = &advice(&crew, &job, "ANSI A108.02 4.3.8").await[..] else { panic!("one rule") };
    assert!(
        wider.starts_with("Look at this The joint is 1/8 in; the least for this tile is 3/16 in."),
        "{wider}"
    );
    assert!(wider.contains("three times the 1/16 in by which the tiles differ"), "{wider}");
    crew.send_sheet(&job, &[("joint", "3/16")]).await.leads_to();
    let [kept] = &advice(&crew, &job, "ANSI A108.02 4.3.8").await[..] else { panic!("one rule") };
    assert!(kept.starts_with("Kept"), "{kept}");
}

/// ANSI A108.02 4.3.8.1, as quoted at
/// ctasc.com/expert-answers/what-is-the-allowable-tolerance-for-tile-grout-head-joint-widths/: rectified 12 x 24 in,
/// stepped, 1/8 in and the bow, so that 1/32 in of bow wants 5/32 in. Of lippage, 4.3.7: 1/32 in and the bow.
#[tokio::test]
async fn long_bowed_tile_stepped_by_half_is_spoken_of() {
    let crew = Crew::new().await;
    let job = long_tile_stepped_by_half(&crew).await;
    assert_eq!(advice(&crew, &job, "ANSI A108.02 4.3.7").await, Vec::<String>::new());
    let bowed = [("tile-0-edges", "rectified"), ("tile-0-bow", "1/32")];
    crew.send_sheet(&job, &bowed).await.leads_to();
    for (source, standing, says) in [
        ("ANSI A108.02 4.3.8.1", "Look at this", "the least for this tile is 5/32 in"),
        ("ANSI A108.02 4.3.8.2", "Look at this", "stepped by more than a third"),
        ("ANSI A108.02 4.3.7", "Work to this", "at most 1/16 in above the next: 1/32 in at this joint"),
        ("ANSI A137.1", "Kept", "is bowed by 1/32 in"),
    ] {
        let said = advice(&crew, &job, source).await;
        assert!(said.len() == 1 && said[0].starts_with(standing) && said[0].contains(says), "{said:?}");
    }
    // At most 0.05 in: 1/16 in is over it, and the two are not shown as one.
    crew.send_sheet(&job, &[("tile-0-bow", "1/16")]).await.leads_to();
    let [over] = &advice(&crew, &job, "ANSI A137.1").await[..] else { panic!("one rule") };
    assert!(over.contains("is bowed by 1/16 in; rectified tile of this size may be by 3/64 in"), "{over}");
    crew.send_sheet(&job, &[("tile-0-edges", "as-fired"), ("tile-0-bow", "")]).await.leads_to();
    let said = advice(&crew, &job, "ANSI A108.02 4.3.8.1").await;
    assert!(said.len() == 1 && said[0].contains("the least for this tile is 3/16 in"), "{said:?}");
}

#[tokio::test]
async fn what_is_known_of_a_tile_is_kept_and_goes_into_the_job_file() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let address = format!("/jobs/{job}/sheet");
    assert!(!crew.get(&address).await.body.contains("<details open>"), "nothing is known yet");
    let known = [("tile-0-edges", "as-fired"), ("tile-0-variation", "0.6"), ("tile-0-bow", "0")];
    crew.send_sheet(&job, &known).await.leads_to();
    let crew = crew.restarted().await;
    let wall = tile(&crew, &job, "wall").await;
    assert_eq!(wall.rectified, Some(false));
    assert_eq!(wall.size_variation, Some(Length::from_units(6 * 7680)));
    assert_eq!(wall.warpage, Some(Length::ZERO), "flat is known too");
    let page = crew.get(&address).await;
    assert!(page.body.contains("<details open>"), "what is known is not hidden");
    assert_eq!(page.text("#tile-0-edges option[selected]"), "as fired");
    assert_eq!(page.attribute("#tile-0-variation", "value"), "0.6");
    let file = crew.get(&format!("/jobs/{job}/job.json")).await;
    let read = trade::job_file::read(&file.body).unwrap();
    assert_eq!(read.job.tiles[&TileId("wall".to_owned())], wall);
    let forgotten = [("tile-0-edges", ""), ("tile-0-variation", ""), ("tile-0-bow", "")];
    crew.send_sheet(&job, &forgotten).await.leads_to();
    let wall = tile(&crew, &job, "wall").await;
    assert_eq!((wall.rectified, wall.size_variation, wall.warpage), (None, None, None));
}

#[tokio::test]
async fn what_cannot_be_of_a_tile_is_refused_in_words() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    for (field, typed, says) in [
        ("tile-0-variation", "-1", "cannot be below 0"),
        ("tile-0-variation", "598.5", "more than a tenth of the tile's 598 mm"),
        ("tile-0-variation", "59.9", "Type by how much"),
        ("tile-0-bow", "-0.5", "cannot be below 0"),
        ("tile-0-bow", "700", "more than a tenth of the tile's 598 mm"),
        ("tile-0-bow", "flat", "“flat” is not a length"),
        ("tile-0-edges", "polished", "list"),
    ] {
        let page = crew.send_sheet(&job, &[("tile-0-box", "6"), (field, typed)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{field} {typed}");
        let fault = page.text(&format!("#{field}-fault"));
        assert!(fault.contains(says), "{fault}");
        assert!(page.texts(".faults li").contains(&fault), "{fault}");
        assert!(page.body.contains("<details open>"), "the part with the fault stands open");
        assert_eq!(page.attribute("#tile-0-box", "value"), "6", "what was typed is kept");
    }
    // A slip elsewhere loses nothing of it.
    let known = [("tile-0-edges", "rectified"), ("tile-0-variation", "0.4"), ("tile-0-bow", "0.5")];
    let page = crew.send_sheet(&job, &[&known[..], &[("kerf", "two")]].concat()).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(page.attribute("#tile-0-variation", "value"), "0.4");
    assert_eq!(page.attribute("#tile-0-bow", "value"), "0.5");
    assert_eq!(page.text("#tile-0-edges option[selected]"), "rectified");
    assert_eq!(tile(&crew, &job, "wall").await.size_variation, None, "nothing of that was saved");
}
