//! Framing a niche and setting a valve so that they suit the joints.

use axum::http::StatusCode;
use coursebook::store::{JobId, MOST_WISHES};
use trade::measure::{Length, OpeningShape};
use trade::place::Piece;
use trade::search::{LayoutOption, plan};

use crate::support::{Crew, Page, typed_over};

/// Between two studs of the back wall, 700 mm apart, and as high as an arm reaches.
const BETWEEN_STUDS: [(&str, &str); 6] = [
    ("x-from", "400"),
    ("x-to", "1400"),
    ("y-from", "700"),
    ("y-from-side", "below"),
    ("y-to", "500"),
    ("y-to-side", "above"),
];

fn sheet_of(job: &JobId) -> String {
    format!("/jobs/{job}/walls/B/rough-in")
}

/// Fills in the form for a new niche or valve and sends it.
async fn wish(crew: &Crew, job: &JobId, kind: &str, typed: &[(&str, &str)]) -> Page {
    let address = sheet_of(job);
    let form = crew.get(&format!("{address}?at={kind}")).await;
    let mut typed: Vec<(&str, &str)> = typed.to_vec();
    typed.push(("do", "save"));
    crew.post_form(&address, &typed_over(&form, &typed)).await
}

/// The niche that 598 x 298 mm tile with a 3 mm joint leaves room for: one tile wide, two courses high, less 3 mm all
/// round.
async fn niche_between_studs(crew: &Crew, job: &JobId) -> String {
    let mut typed = vec![("width", "595"), ("height", "596"), ("lining", "22"), ("clearance", "3")];
    typed.extend(BETWEEN_STUDS);
    wish(crew, job, "niche", &typed).await.leads_to()
}

async fn planned(crew: &Crew, job: &JobId) -> LayoutOption {
    plan(&crew.app.store.sheet(job).await.unwrap().sheet.job().unwrap()).unwrap()
}

fn cut_on_the_back_wall(option: &LayoutOption) -> Vec<&Piece> {
    option.pieces.iter().filter(|piece| piece.surface.as_str() == "B" && !piece.full).collect()
}

/// The number of a page's table row, in the first column.
fn number(page: &Page, label: &str) -> String {
    let (labels, numbers) =
        (page.texts(".rough-numbers th[scope=row]"), page.texts(".rough-numbers tbody td"));
    let columns = numbers.len() / labels.len();
    let row =
        labels.iter().position(|found| found == label).unwrap_or_else(|| panic!("{label} in {labels:?}"));
    numbers[row * columns].clone()
}

#[tokio::test]
async fn before_the_studs_are_cut_the_sheet_says_where_the_niche_goes() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let wall = crew.get(&format!("/jobs/{job}/walls/B")).await;
    assert!(wall.body.contains(&format!("href=\"{}\"", sheet_of(&job))));
    let empty = crew.get(&sheet_of(&job)).await;
    assert!(empty.text(".empty").contains("where to frame it"));

    let address = niche_between_studs(&crew, &job).await;
    let page = crew.get(&address).await;
    assert_eq!(page.text(".rough-headline"), "All four edges on joints: no tile is cut at it.");
    assert_eq!(page.texts(".rough-judged .done").len(), 4);
    assert!(page.texts(".rough-judged li").contains(&"No tile is cut at it".to_owned()));
    // 22 mm of lining on each side.
    assert!(page.text(".rough-figures").contains("639 mm × 640 mm 595 mm × 596 mm finished inside"));
    // Places count from the bare wall's corner.
    let left: i64 = number(&page, "Left side from the left corner").trim_end_matches(" mm").parse().unwrap();
    assert!((400..=1400 - 639).contains(&left), "{left}");
    // What it rests on, and who else must be asked.
    assert!(page.text("#caution").contains("local code comes first"));
    assert!(page.text("#caution").contains("larger than the finished niche by 22 mm on each side"));
    assert_eq!(page.texts("#answer svg").len(), 1);
}

#[tokio::test]
async fn the_wish_outlives_a_restart_and_is_changed_in_its_place() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let address = niche_between_studs(&crew, &job).await;
    let crew = crew.restarted().await;
    let page = crew.get(&sheet_of(&job)).await;
    assert_eq!(page.texts(".rough-wishes a"), ["Niche"]);
    assert_eq!(page.attribute("#wish [name=width]", "value"), "595");
    assert_eq!(page.attribute("#wish [name=y-from]", "value"), "700");
    // Half a tile wide: one side can be on a joint.
    let form = the_form(&page);
    let changed = typed_over_fields(form, &[("width", "295"), ("name", "soap niche"), ("do", "save")]);
    assert_eq!(crew.post_form(&sheet_of(&job), &changed).await.leads_to(), address);
    let page = crew.get(&address).await;
    assert_eq!(page.texts(".rough-wishes a"), ["soap niche"]);
    assert_eq!(page.text(".rough-headline"), "Three of four edges on joints.");
    assert!(page.text(".rough-judged .none").contains("off the nearest joint"));
}

/// The fields of the wish's form, which stands after the forms that put it on the wall.
fn the_form(page: &Page) -> Vec<(String, String)> {
    let after = page.body.split("id=\"wish\"").nth(1).unwrap_or_else(|| panic!("no form in\n{}", page.body));
    let alone = Page {
        status: page.status,
        headers: page.headers.clone(),
        body: format!("<main><details {after}</main>"),
    };
    alone.form_fields()
}

fn typed_over_fields(fields: Vec<(String, String)>, typed: &[(&str, &str)]) -> Vec<(String, String)> {
    let mut fields: Vec<(String, String)> = fields
        .into_iter()
        .filter(|(name, _)| name != "key" && typed.iter().all(|(over, _)| over != name))
        .collect();
    fields.extend(typed.iter().map(|(name, typed)| ((*name).to_owned(), (*typed).to_owned())));
    fields
}

#[tokio::test]
async fn put_on_the_wall_it_is_an_opening_and_no_joint_moves() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let before = planned(&crew, &job).await;
    let address = niche_between_studs(&crew, &job).await;
    let page = crew.get(&address).await;
    let mut put = page.form_fields();
    put.retain(|(name, _)| name != "key");
    put.push(("do".to_owned(), "put".to_owned()));
    let fields: Vec<(&str, &str)> = put.iter().map(|(name, typed)| (name.as_str(), typed.as_str())).collect();
    let key = coursebook::store::random_name();
    for _ in 0..2 {
        let answer = crew.post_with_key(&sheet_of(&job), &key, &fields).await;
        assert_eq!(answer.leads_to(), format!("/jobs/{job}/walls/B"));
    }
    let stored = crew.app.store.sheet(&job).await.unwrap();
    let back = stored.sheet.walls.iter().find(|wall| wall.id.as_str() == "B").unwrap();
    let [niche] = back.openings.as_slice() else { panic!("{:?}", back.openings) };
    assert_eq!(niche.name, "Niche");
    let OpeningShape::Rectangle { x, width, height, .. } = niche.shape else { panic!("{niche:?}") };
    assert_eq!((width, height), (Length::mm(595), Length::mm(596)));
    let framed_left: i64 =
        number(&page, "Left side from the left corner").trim_end_matches(" mm").parse().unwrap();
    assert!((x - Length::mm(22) - Length::mm(framed_left)).abs() <= Length::mm(1));
    // The plan with it lays every joint as before, and cuts nothing more.
    let after = planned(&crew, &job).await;
    assert_eq!(after.layout.starts, before.layout.starts);
    assert_eq!(after.layout.course_line, before.layout.course_line);
    assert_eq!(cut_on_the_back_wall(&after).len(), cut_on_the_back_wall(&before).len());
    assert!(after.pieces.len() < before.pieces.len());
    // The wish is one no longer.
    assert_eq!(crew.get(&sheet_of(&job)).await.texts(".rough-wishes a"), Vec::<String>::new());
}

#[tokio::test]
async fn where_the_layout_has_moved_meanwhile_nothing_is_put_on_the_wall() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let page = crew.get(&niche_between_studs(&crew, &job).await).await;
    let moved = [("change", "joint"), ("joint", "5")];
    let layout = crew.get(&format!("/jobs/{job}/layout")).await;
    let version = layout.attribute("input[name=version]", "value");
    let mut fields = vec![("version", version.as_str())];
    fields.extend(moved);
    crew.post(&format!("/jobs/{job}/layout"), &fields).await.leads_to();
    let mut put = page.form_fields();
    put.retain(|(name, _)| name != "key");
    put.push(("do".to_owned(), "put".to_owned()));
    let answer = crew.post_form(&sheet_of(&job), &put).await;
    assert_eq!(answer.status, StatusCode::CONFLICT);
    assert!(answer.text(".refusal").contains("Nothing was put on the wall"));
    let stored = crew.app.store.sheet(&job).await.unwrap();
    assert!(stored.sheet.walls.iter().all(|wall| wall.id.as_str() != "B" || wall.openings.is_empty()));
}

#[tokio::test]
async fn a_valve_is_told_where_to_sit_and_how_deep() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    // A plumb line to keep to, a height that is free, and 50 mm from its back to the bare wall.
    let typed = [
        ("name", "shower valve"),
        ("diameter", "120"),
        ("x-from", "900"),
        ("y-from", "300"),
        ("y-from-side", "below"),
        ("y-to", "100"),
        ("y-to-side", "above"),
        ("to-bare-wall", "50"),
        ("window-least", "70"),
        ("window-most", "95"),
    ];
    let address = wish(&crew, &job, "valve", &typed).await.leads_to();
    let page = crew.get(&address).await;
    assert_eq!(number(&page, "From the left corner"), "900 mm");
    // 9 mm of tile on a 4 mm bed: 63 mm, and the valve's sheet asks for 70 to 95.
    let depth =
        page.texts(".rough-judged li").into_iter().find(|says| says.contains("finished wall")).unwrap();
    let expected = "The finished wall is 63 mm from its back: 50 mm to the bare wall, and 13 mm of bed and tile. That \
                    is nearer than 70 mm: move the valve back into the wall by 7 mm, at most 32 mm.";
    assert_eq!(depth, expected);
    // In the middle of its course, with tile all round.
    assert!(page.text(".rough-headline").contains("tile"));
    assert!(page.texts(".rough-judged li").iter().any(|says| says.contains("between the hole and an edge")));
}

#[tokio::test]
async fn what_cannot_be_is_said_beside_its_field_and_a_range_too_small_by_how_much() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let page = wish(&crew, &job, "niche", &[("width", "wide"), ("height", "600"), ("x-from", "400")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.text("#width-fault").contains("wide"));
    assert_eq!(page.attribute("[name=height]", "value"), "600");
    assert_eq!(
        page.texts(".faults li").len(),
        4,
        "the width, and three ends of the range: {}",
        page.text(".faults")
    );

    let narrow = [
        ("width", "300"),
        ("height", "600"),
        ("lining", "20"),
        ("x-from", "700"),
        ("x-to", "1000"),
        ("y-from", "0"),
        ("y-to", "700"),
    ];
    let address = wish(&crew, &job, "niche", &narrow).await.leads_to();
    let page = crew.get(&address).await;
    let expected = "The hole in the framing is 340 mm × 640 mm, and the range is 40 mm too narrow for it.";
    assert_eq!(page.text("#no-place"), expected);
    assert_eq!(page.texts("#answer").len(), 0);
    assert_eq!(crew.get(&format!("/jobs/{job}/walls/Z/rough-in")).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn after_the_line_has_moved_heights_are_from_todays_line_and_the_niche_stays_where_it_was() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let address = niche_between_studs(&crew, &job).await;
    let before = crew.get(&address).await;
    let list = crew.get(&format!("/jobs/{job}")).await;
    let version = list.attribute("input[name=version]", "value");
    let line = [("version", version.as_str()), ("moved", "7"), ("way", "higher")];
    crew.post(&format!("/jobs/{job}/line"), &line).await.leads_to();
    let after = crew.get(&address).await;
    let label = "Bottom above the base, at its left";
    assert_eq!(number(&after, label), number(&before, label));
    let from_line = |page: &Page| -> i64 {
        let shown = number(page, "Bottom from the line");
        let (size, side) = shown.split_once(" mm ").unwrap();
        let size: i64 = size.parse().unwrap();
        if side == "above the line" { size } else { -size }
    };
    assert_eq!(from_line(&after), from_line(&before) - 7);
    assert_eq!(after.attribute("#wish [name=y-from]", "value"), "707");
}

#[tokio::test]
async fn what_is_not_wanted_any_more_is_dropped_and_a_wall_taken_off_takes_its_wishes_along() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    niche_between_studs(&crew, &job).await;
    niche_between_studs(&crew, &job).await;
    assert_eq!(crew.get(&sheet_of(&job)).await.texts(".rough-wishes a").len(), 2);
    let page = crew.get(&format!("{}?at=1", sheet_of(&job))).await;
    let drop = typed_over_fields(the_form(&page), &[("do", "drop")]);
    assert_eq!(crew.post_form(&sheet_of(&job), &drop).await.leads_to(), sheet_of(&job));
    assert_eq!(crew.get(&sheet_of(&job)).await.texts(".rough-wishes a").len(), 1);
    let version = crew.app.store.sheet(&job).await.unwrap().version.to_string();
    let remove = [("version", version.as_str()), ("do", "remove")];
    assert_eq!(crew.post(&format!("/jobs/{job}/walls/B"), &remove).await.leads_to(), format!("/jobs/{job}"));
    assert_eq!(crew.get(&sheet_of(&job)).await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn of_two_who_change_the_same_wish_the_slower_is_told_and_nothing_of_the_quickers_is_lost() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let page = crew.get(&niche_between_studs(&crew, &job).await).await;
    let named =
        |page: &Page, name: &str| typed_over_fields(the_form(page), &[("name", name), ("do", "save")]);
    crew.post_form(&sheet_of(&job), &named(&page, "soap niche")).await.leads_to();
    let slower = crew.post_form(&sheet_of(&job), &named(&page, "shampoo niche")).await;
    assert_eq!(slower.status, StatusCode::CONFLICT);
    assert!(slower.text(".refusal").contains("was changed meanwhile"));
    assert_eq!(slower.attribute("#wish [name=name]", "value"), "shampoo niche");
    let dropped = typed_over_fields(the_form(&page), &[("do", "drop")]);
    assert_eq!(crew.post_form(&sheet_of(&job), &dropped).await.status, StatusCode::CONFLICT);
    assert_eq!(crew.get(&sheet_of(&job)).await.texts(".rough-wishes a"), ["soap niche"]);
    // Having seen that, they save it over theirs.
    crew.post_form(&sheet_of(&job), &named(&slower, "shampoo niche")).await.leads_to();
    assert_eq!(crew.get(&sheet_of(&job)).await.texts(".rough-wishes a"), ["shampoo niche"]);
}

#[tokio::test]
async fn a_wish_that_was_dropped_does_not_come_back_by_itself_nor_onto_the_wall() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let page = crew.get(&niche_between_studs(&crew, &job).await).await;
    let dropped = typed_over_fields(the_form(&page), &[("do", "drop")]);
    crew.post_form(&sheet_of(&job), &dropped).await.leads_to();
    let saved = typed_over_fields(the_form(&page), &[("do", "save")]);
    let mut put = page.form_fields();
    put.retain(|(name, _)| name != "key");
    put.push(("do".to_owned(), "put".to_owned()));
    for sent in [&dropped, &saved, &put] {
        let answer = crew.post_form(&sheet_of(&job), sent).await;
        assert_eq!(answer.status, StatusCode::CONFLICT);
        assert!(answer.text(".refusal").contains("gone from this wall"), "{}", answer.text(".refusal"));
        assert_eq!(crew.get(&sheet_of(&job)).await.texts(".rough-wishes a"), Vec::<String>::new());
    }
    let stored = crew.app.store.sheet(&job).await.unwrap();
    assert!(stored.sheet.walls.iter().all(|wall| wall.id.as_str() != "B" || wall.openings.is_empty()));
}

#[tokio::test]
async fn numbers_that_no_page_gave_out_and_kinds_that_are_none_are_not_taken() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let page = crew.get(&niche_between_studs(&crew, &job).await).await;
    for place in ["9223372036854775807", "-1", "7"] {
        let sent = typed_over_fields(the_form(&page), &[("place", place), ("do", "save")]);
        assert_eq!(crew.post_form(&sheet_of(&job), &sent).await.status, StatusCode::CONFLICT, "{place}");
    }
    let sent = typed_over_fields(the_form(&page), &[("kind", "drain"), ("do", "save")]);
    assert_eq!(crew.post_form(&sheet_of(&job), &sent).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(crew.get(&sheet_of(&job)).await.texts(".rough-wishes a"), ["Niche"]);
}

#[tokio::test]
async fn as_many_as_may_be_wished_for_are_counted_when_they_are_kept() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let page = crew.get(&niche_between_studs(&crew, &job).await).await;
    let new = typed_over_fields(the_form(&page), &[("place", ""), ("print", ""), ("do", "save")]);
    // Two at a time: none may slip in between the counting and the keeping.
    let (address, mut answers) = (sheet_of(&job), Vec::new());
    for _ in 0..=MOST_WISHES / 2 {
        let (one, other) = tokio::join!(crew.post_form(&address, &new), crew.post_form(&address, &new));
        answers.extend([one, other]);
    }
    let kept = answers.iter().filter(|answer| answer.status == StatusCode::SEE_OTHER).count();
    assert_eq!(kept, MOST_WISHES - 1, "beside the first");
    let refused = answers.iter().find(|answer| answer.status != StatusCode::SEE_OTHER).unwrap();
    assert!(refused.text("#name-fault").contains("20 on this wall already"));
    let wall = trade::measure::SurfaceId::new("B").unwrap();
    assert_eq!(crew.app.store.rough_ins(&job, &wall).await.unwrap().len(), MOST_WISHES);
}

#[tokio::test]
async fn what_is_put_on_a_wall_once_work_has_begun_has_its_price() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let address = niche_between_studs(&crew, &job).await;
    let mut put = crew.get(&address).await.form_fields();
    put.retain(|(name, _)| name != "key");
    put.push(("do".to_owned(), "put".to_owned()));
    crew.post(&format!("/jobs/{job}/board/A/set/done"), &[("uncut", "999")]).await.leads_to();
    let asked = crew.post_form(&sheet_of(&job), &put).await;
    assert_eq!(asked.status, StatusCode::CONFLICT);
    assert_eq!(asked.text("main form button"), "Save what was measured");
    crew.agree(&asked).await.leads_to();
    let stored = crew.app.store.sheet(&job).await.unwrap();
    let back = stored.sheet.walls.iter().find(|wall| wall.id.as_str() == "B").unwrap();
    assert_eq!(back.openings.len(), 1);
    let log = crew.get(&format!("/jobs/{job}/log")).await.texts(".log-says");
    assert!(log[0].contains("back wall (B) measured or described anew."), "{log:?}");
}

/// What runs over a tile's edge does not keep clear of every edge.
#[tokio::test]
async fn a_hole_across_an_edge_is_not_said_to_keep_clear_of_edges() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let option = planned(&crew, &job).await;
    let wall = &option.courses.walls[&trade::measure::SurfaceId::new("B").unwrap()];
    // 60 mm wide, its centre pinned 20 mm over the upper edge of a course well below the line.
    let top = wall.courses.iter().map(|course| course.top).find(|top| *top > Length::mm(-700)).unwrap();
    let below = |up: i64| format!("{:.0}", -(top + Length::mm(up)).to_mm());
    let pinned = below(20);
    let typed = [
        ("diameter", "60"),
        ("x-from", "750"),
        ("x-to", "750"),
        ("y-from", pinned.as_str()),
        ("y-from-side", "below"),
        ("y-to", pinned.as_str()),
        ("y-to-side", "below"),
    ];
    let page = crew.get(&wish(&crew, &job, "valve", &typed).await.leads_to()).await;
    assert!(page.text(".rough-headline").starts_with("Across the edge of a tile."), "{}", page.text("main"));
    let judged = page.texts(".rough-judged li");
    assert!(!judged.iter().any(|says| says.contains("between the hole and an edge")), "{judged:?}");
}
