//! A lead looks at the layout, moves it by hand, and takes the job away as a file.

use std::sync::Arc;

use axum::http::{StatusCode, header};
use coursebook::store::{EventKey, JobId, SheetChange};
use coursebook::work::{Looked, Planned};
use scraper::{ElementRef, Html, Selector};
use trade::job_file;
use trade::measure::{Fraction, Layout, Length, Pattern, SurfaceId};

use crate::support::{Crew, Page, Wall, typed_over};

/// A shower measured whole, and its lead.
struct Site {
    crew: Crew,
    job: JobId,
}

/// A choice on the page: its words, and what pressing it sends.
struct Offer {
    words: String,
    fields: Vec<(String, String)>,
}

impl Site {
    async fn new() -> Self {
        let crew = Crew::new().await;
        let job = crew.measured_job().await;
        Self { crew, job }
    }

    async fn restarted(self) -> Self {
        Self { crew: self.crew.restarted().await, job: self.job }
    }

    fn at(&self, rest: &str) -> String {
        format!("/jobs/{}/layout{rest}", self.job)
    }

    async fn layout(&self) -> Page {
        self.crew.get(&self.at("")).await
    }

    async fn planned(&self) -> Arc<Planned> {
        let stored = self.crew.app.store.sheet(&self.job).await.unwrap();
        self.crew.app.work.plan(&stored).await.unwrap()
    }

    /// Sends a move from the page as it stands.
    async fn send(&self, fields: &[(&str, &str)]) -> Page {
        let version = self.layout().await.attribute("input[name=version]", "value");
        self.send_from(&version, fields).await
    }

    async fn send_from(&self, version: &str, fields: &[(&str, &str)]) -> Page {
        let mut all = vec![("version", version)];
        all.extend_from_slice(fields);
        self.crew.post(&self.at(""), &all).await
    }

    /// Presses an offer that is still on the page, whatever was changed since it was read.
    async fn press(&self, offer: &Offer) -> Page {
        let version = self.layout().await.attribute("input[name=version]", "value");
        let mut fields = offer.fields.clone();
        fields.retain(|(name, _)| name != "version");
        fields.push(("version".to_owned(), version));
        self.crew.post_form(&self.at(""), &fields).await
    }

    /// The offers in one part of the page.
    async fn offers(&self, part: &str) -> Vec<Offer> {
        let page = self.layout().await;
        let html = Html::parse_document(&page.body);
        let (forms, button) = (selector(&format!("{part} form")), selector("button.offer"));
        let read = |form: ElementRef<'_>| {
            let words = spaced(&form.select(&button).next()?.text().collect::<Vec<_>>().join(" "));
            Some(Offer { words, fields: fields(form) })
        };
        html.select(&forms).filter_map(read).collect()
    }

    async fn offer(&self, part: &str, begins: &str) -> Offer {
        let offers = self.offers(part).await;
        let words: Vec<String> = offers.iter().map(|offer| offer.words.clone()).collect();
        let found = offers.into_iter().find(|offer| offer.words.starts_with(begins));
        found.unwrap_or_else(|| panic!("no offer begins with {begins}: {words:?}"))
    }

    /// What the page's table says of a wall's lowest course.
    async fn course_1(&self, wall: &str) -> String {
        self.layout().await.texts(&format!("#wall-{wall} tbody tr")).pop().unwrap()
    }
}

fn selector(of: &str) -> Selector {
    Selector::parse(of).unwrap()
}

fn spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn fields(form: ElementRef<'_>) -> Vec<(String, String)> {
    let value = |input: ElementRef<'_>| {
        Some((input.attr("name")?.to_owned(), input.attr("value").unwrap_or_default().to_owned()))
    };
    form.select(&selector("input")).filter_map(value).filter(|(name, _)| name != "key").collect()
}

fn wall(name: &str) -> SurfaceId {
    SurfaceId::new(name).unwrap()
}

#[tokio::test]
async fn the_page_says_what_to_buy_and_every_wall_is_drawn() {
    let site = Site::new().await;
    let page = site.layout().await;
    assert_eq!(page.status, StatusCode::OK);
    let planned = site.planned().await;
    let cutting = planned.option.cutting.values().next().unwrap();
    assert_eq!(page.text(".total .huge"), format!("{} tiles", cutting.bought()));
    let total = page.text(".total");
    let (whole, cut_into) = (cutting.full, cutting.plan.stock.len());
    assert!(
        total.contains(&format!(
            "{whole} set whole + {cut_into} cut into pieces = {} to buy",
            whole + cut_into
        )),
        "{total}"
    );
    assert_eq!(cutting.bought(), cutting.bound(), "this shower is settled");
    let proved = format!("No plan for this layout can use fewer than {}.", cutting.bound());
    assert!(total.contains(&proved) && !total.contains("not proved"), "{total}");
    assert_eq!(page.texts(".wall-drawing svg title").len(), 3);
    assert_eq!(page.texts("#wall-B path.l-cut").len(), 1, "one element for all cut pieces");
    assert!(!page.body.contains(" style="), "the content security policy allows no style inside");
    let close = site.crew.get(&page.attribute("#wall-B figcaption a", "href")).await;
    assert!(close.text("svg").contains("B1-1"), "every cut piece is labelled");
}

#[tokio::test]
async fn every_piece_of_the_plan_is_in_the_tables() {
    let site = Site::new().await;
    let (page, planned) = (site.layout().await, site.planned().await);
    let rows = page.texts(".wall tbody tr");
    for piece in planned.option.pieces.iter().filter(|piece| !piece.full) {
        assert_eq!(
            rows.iter().filter(|row| row.contains(&format!("{} ", piece.id.0))).count(),
            1,
            "{:?}",
            piece.id
        );
    }
    let whole: usize =
        page.texts(".wall tbody td.number").iter().map(|count| count.parse::<usize>().unwrap()).sum();
    assert_eq!(whole, planned.option.pieces.iter().filter(|piece| piece.full).count());
}

#[tokio::test]
async fn a_joint_put_by_hand_stays_there_until_it_is_given_back() {
    let site = Site::new().await;
    let proposed = site.course_1("B").await;
    let sent = site.send(&[("change", "start"), ("wall", "B"), ("start-B", "300")]).await;
    assert_eq!(sent.leads_to(), site.at("?open=wall-B#wall-B"));
    let site = site.restarted().await;
    // From the 3 mm gap in the corner to 1.5 mm short of the joint's middle.
    let moved = site.course_1("B").await;
    assert!(moved.contains("B1-1 295 mm × "), "{moved}");
    let page = site.layout().await;
    assert_eq!(page.attribute("#start-B", "value"), "300");
    assert!(page.text(".note").contains("moved by hand"));
    site.send(&[("change", "wall-proposal"), ("wall", "B")]).await.leads_to();
    assert_eq!(site.course_1("B").await, proposed);
    assert!(!site.layout().await.text("main").contains("moved by hand"));
}

#[tokio::test]
async fn every_start_offered_gives_what_it_says() {
    let site = Site::new().await;
    let offers = site.offers("#wall-B").await;
    let starts = offers.iter().filter(|offer| offer.words.contains("Course 1 ends"));
    let mut pressed = 0;
    for offer in starts {
        site.press(offer).await.leads_to();
        let says = offer.words.split("Course 1 ends ").nth(1).unwrap();
        let (first, rest) = says.split_once(" and ").unwrap();
        let last = rest.split(';').next().unwrap();
        let planned = site.planned().await;
        let mut row: Vec<_> = planned
            .option
            .pieces
            .iter()
            .filter(|piece| piece.surface == wall("B") && piece.course == 1)
            .collect();
        row.sort_by_key(|piece| piece.bounds.left);
        let shown = |piece: &trade::place::Piece| {
            piece.bounds.width().show(trade::measure::Unit::Millimetre, trade::measure::Rounding::FitsIn)
        };
        assert_eq!(
            (first, last),
            (shown(row[0]).as_str(), shown(row[row.len() - 1]).as_str()),
            "{}",
            offer.words
        );
        let slivers =
            planned.option.pieces.iter().filter(|piece| piece.surface == wall("B") && piece.sliver.is_some());
        let says_slivers = rest.rsplit("; ").next().unwrap();
        let count = slivers.count();
        assert_eq!(says_slivers.starts_with("no"), count == 0, "{}", offer.words);
        assert!(count == 0 || says_slivers.starts_with(&format!("{count} small cut")), "{}", offer.words);
        pressed += 1;
    }
    assert!(pressed >= 4, "only {pressed}");
}

#[tokio::test]
async fn a_joint_centred_leaves_equal_ends_between_two_corners() {
    let site = Site::new().await;
    let offer = site.offers("#wall-B").await.into_iter().find(|offer| offer.words.contains("Joint centred"));
    if let Some(offer) = offer {
        site.press(&offer).await.leads_to();
    }
    let planned = site.planned().await;
    let mut row: Vec<_> = planned
        .option
        .pieces
        .iter()
        .filter(|piece| piece.surface == wall("B") && piece.course == 1)
        .collect();
    row.sort_by_key(|piece| piece.bounds.left);
    assert_eq!(row[0].bounds.width(), row[row.len() - 1].bounds.width());
    assert_eq!(row.len() % 2, 0, "a joint in the middle has as many tiles on both sides");
}

#[tokio::test]
async fn a_whole_tile_asked_for_at_an_end_is_there() {
    let site = Site::new().await;
    for (end, at_left) in [("Whole tile at the left end", true), ("Whole tile at the right end", false)] {
        let offer = site.offers("#wall-B").await.into_iter().find(|offer| offer.words.contains(end)).unwrap();
        site.press(&offer).await.leads_to();
        let planned = site.planned().await;
        let row =
            planned.option.pieces.iter().filter(|piece| piece.surface == wall("B") && piece.course == 1);
        let end = if at_left {
            row.min_by_key(|piece| piece.bounds.left)
        } else {
            row.max_by_key(|piece| piece.bounds.right)
        };
        let end = end.unwrap();
        assert_eq!(end.bounds.width(), Length::mm(598), "{:?}", end.id);
        let width = planned.job.surface(&wall("B")).unwrap().width;
        let gap = if at_left { end.bounds.left } else { width - end.bounds.right };
        assert_eq!(gap, Length::mm(3), "as far from the corner as its gap");
    }
}

#[tokio::test]
async fn courses_typed_or_taken_lie_where_they_were_put() {
    let site = Site::new().await;
    let line = [("change", "line"), ("line", "895.5"), ("way", "below")];
    assert_eq!(site.send(&line).await.leads_to(), site.at("?open=courses#courses"));
    let planned = site.planned().await;
    let lines: Vec<Length> = planned.option.layout.course_line.values().copied().collect();
    assert_eq!(lines, [Length::from_units(-895 * 76_800 - 38_400); 3], "on all walls");
    let page = site.layout().await;
    assert!(page.text("#courses").contains("896 mm below the line"), "{}", page.text("#courses"));
    let offer = site.offers("#courses").await.remove(0);
    let first = offer.words.split("First course ").nth(1).unwrap().split(',').next().unwrap().to_owned();
    site.press(&offer).await.leads_to();
    let planned = site.planned().await;
    let courses = planned.option.courses.walls.values();
    let stations = courses.flat_map(|wall| wall.stations.clone()).filter(|station| station.carries);
    let heights: Vec<Length> = stations.map(|station| station.cut_height).collect();
    let least = heights.iter().min().unwrap();
    if first == "whole" {
        assert_eq!(*least, Length::mm(298));
    } else {
        let shown = least.show(trade::measure::Unit::Millimetre, trade::measure::Rounding::FitsIn);
        assert!(first.starts_with(shown.trim_end_matches(" mm")), "{first} is not {shown}");
    }
}

#[tokio::test]
async fn a_field_sent_back_as_it_was_shown_moves_nothing() {
    let site = Site::new().await;
    let step = Pattern::Running { step: Fraction::new(1, 3).unwrap(), mirror: false };
    let stored = site.crew.app.store.sheet(&site.job).await.unwrap();
    let mut bare = stored.sheet.walls[1].clone();
    bare.pattern = step;
    let store = &site.crew.app.store;
    store
        .change_sheet(EventKey::random(), site.job.clone(), stored.version, SheetChange::Wall(bare))
        .await
        .unwrap();
    // A third of a pitch more: no tenth of a millimetre.
    let exact = Length::from_units(100 * 76_800 + 25_600);
    let layout = Layout { starts: [(wall("B"), exact)].into(), ..Layout::default() };
    store
        .change_sheet(EventKey::random(), site.job.clone(), stored.version + 1, SheetChange::Layout(layout))
        .await
        .unwrap();
    let page = site.layout().await;
    assert_eq!(page.attribute("#start-B", "value"), "100.3");
    let html = Html::parse_document(&page.body);
    let form = html.select(&selector("#wall-B form")).next().unwrap();
    site.crew.post_form(&site.at(""), &fields(form)).await.leads_to();
    assert_eq!(site.planned().await.option.layout.starts[&wall("B")], exact);
}

#[tokio::test]
async fn after_the_line_has_moved_heights_are_from_todays_line() {
    let site = Site::new().await;
    site.send(&[("change", "line"), ("line", "897"), ("way", "below")]).await.leads_to();
    let before = site.planned().await.option.courses.clone();
    let version = site.layout().await.attribute("input[name=version]", "value");
    let moved = [("version", version.as_str()), ("moved", "7"), ("way", "higher")];
    site.crew.post(&format!("/jobs/{}/line", site.job), &moved).await.leads_to();
    let page = site.layout().await;
    assert_eq!(page.attribute("#line", "value"), "904");
    site.send(&[("change", "line"), ("line", "904"), ("way", "below")]).await.leads_to();
    assert_eq!(site.planned().await.option.courses, before);
}

#[tokio::test]
async fn a_step_climbs_the_other_way_and_a_course_is_cut_as_the_lead_says() {
    let site = Site::new().await;
    assert!(
        site.offers("#wall-B").await.iter().all(|offer| !offer.words.starts_with("To the")),
        "no step here"
    );
    let wall_page = site.crew.get(&format!("/jobs/{}/walls/B", site.job)).await;
    let stepped = Wall {
        name: "back wall",
        width: "1526",
        base: &[("0", "1200"), ("1526", "1202")],
        rise: "1000",
        more: &[("pattern", "right"), ("step", "1/3")],
    };
    let address = format!("/jobs/{}/walls/B", site.job);
    site.crew.send_wall_from(&wall_page, &address, &stepped).await.leads_to();
    site.press(&site.offer("#wall-B", "To the left").await).await.leads_to();
    assert!(site.planned().await.option.layout.mirror[&wall("B")]);
    assert!(site.layout().await.texts("#wall-B .now").iter().any(|now| now.starts_with("To the left")));
    let was = site.planned().await.option.courses.walls[&wall("B")].first_course;
    let other = match was {
        trade::measure::FirstCourse::Propped => "Scribed",
        trade::measure::FirstCourse::Scribed => "Propped",
    };
    site.press(&site.offer("#wall-B", other).await).await.leads_to();
    assert_ne!(site.planned().await.option.courses.walls[&wall("B")].first_course, was);
    site.send(&[("change", "proposal")]).await.leads_to();
    let stored = site.crew.app.store.sheet(&site.job).await.unwrap();
    assert_eq!(stored.sheet.layout, Layout::default());
}

#[tokio::test]
async fn a_joint_of_another_width_is_taken_and_given_back() {
    let site = Site::new().await;
    site.send(&[("change", "joint"), ("joint", "5")]).await.leads_to();
    assert!(site.layout().await.text("#joint-width").contains("The joint is 5 mm wide on all walls"));
    let planned = site.planned().await;
    let courses = &planned.option.courses.walls[&wall("A")].courses;
    assert_eq!(courses[1].bottom - courses[0].top, Length::mm(5));
    site.send(&[("change", "joint-proposal")]).await.leads_to();
    assert!(site.layout().await.text("#joint-width").contains("The joint is 3 mm wide."));
}

#[tokio::test]
async fn what_cannot_be_is_said_beside_the_field_and_nothing_typed_is_lost() {
    let site = Site::new().await;
    for (change, field, typed, says) in [
        ("start", "start-B", "three bricks", "three bricks"),
        ("start", "start-B", "5000", "type a place on it"),
        ("start", "start-B", "-1", "type a place on it"),
        ("line", "line", "9 m", "between the base and the top"),
        ("joint", "joint", "0", "wider than 0"),
        ("joint", "joint", "298", "narrower than the tile"),
        ("joint", "joint", "", ""),
    ] {
        let on: &[(&str, &str)] = if change == "start" { &[("wall", "B")] } else { &[("way", "below")] };
        let sent = [&[("change", change), (field, typed)], on].concat();
        let page = site.send(&sent).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{typed}");
        assert_eq!(page.attribute(&format!("#{field}"), "value"), typed);
        assert!(
            page.text(&format!("#{field}-fault")).contains(says),
            "{}",
            page.text(&format!("#{field}-fault"))
        );
        assert_eq!(page.attribute(".faults a", "href"), format!("#{field}"));
        assert!(page.text("title").starts_with("Error:"));
        assert!(page.body.contains("<details open>"), "the part with the fault stands open");
    }
    let stored = site.crew.app.store.sheet(&site.job).await.unwrap();
    assert_eq!(stored.sheet.layout, Layout::default());
}

#[tokio::test]
async fn whoever_comes_second_is_told_and_keeps_what_they_typed() {
    let site = Site::new().await;
    let version = site.layout().await.attribute("input[name=version]", "value");
    site.send_from(&version, &[("change", "joint"), ("joint", "4")]).await.leads_to();
    let late = site.send_from(&version, &[("change", "start"), ("wall", "B"), ("start-B", "250")]).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert_eq!(late.attribute("#start-B", "value"), "250");
    assert!(late.text(".refusal").contains("someone else changed"), "{}", late.text(".refusal"));
    let stored = site.crew.app.store.sheet(&site.job).await.unwrap();
    assert_eq!(stored.sheet.layout.starts.len(), 0);
}

#[tokio::test]
async fn pressing_twice_moves_once() {
    let site = Site::new().await;
    let version = site.layout().await.attribute("input[name=version]", "value");
    let sent = [("version", version.as_str()), ("change", "joint"), ("joint", "4")];
    let key = "0123456789abcdef";
    let first = site.crew.post_with_key(&site.at(""), key, &sent).await.leads_to();
    let again = site.crew.post_with_key(&site.at(""), key, &sent).await.leads_to();
    assert_eq!(first, again);
}

#[tokio::test]
async fn slivers_are_marked_by_shape_and_word() {
    let site = Site::new().await;
    // A left cut of 20 mm.
    site.send(&[("change", "start"), ("wall", "B"), ("start-B", "24.5")]).await.leads_to();
    let page = site.layout().await;
    let count: usize = page.text("#wall-B .figures .look").parse().unwrap();
    assert!(count > 0);
    assert!(
        page.texts("#wall-B tbody td")
            .iter()
            .any(|cell| cell.contains("B1-1 20 mm × ") && cell.contains("(small cut)"))
    );
    let marks = page.attribute("#wall-B path.l-look", "d").matches('Z').count();
    assert_eq!(marks, count, "one triangle for each");
}

#[tokio::test]
async fn before_a_wall_is_measured_the_page_says_what_to_do() {
    let crew = Crew::new().await;
    let job = crew.job("in").await;
    let page = crew.get(&format!("/jobs/{job}/layout")).await;
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.attribute(".no-plan a", "href"), format!("/jobs/{job}/walls/new"));
    assert!(page.texts("svg").is_empty());
}

#[tokio::test]
async fn what_no_form_of_ours_sends_is_not_taken() {
    let site = Site::new().await;
    assert_eq!(site.crew.get(&site.at("/Z")).await.status, StatusCode::NOT_FOUND);
    assert_eq!(site.crew.get("/jobs/none/layout").await.status, StatusCode::NOT_FOUND);
    for sent in [
        [("change", "everything"), ("wall", "B")],
        [("change", "start"), ("wall", "Z")],
        [("change", "climb"), ("wall", "../A")],
    ] {
        assert_eq!(site.send(&sent).await.status, StatusCode::UNPROCESSABLE_ENTITY, "{sent:?}");
    }
}

#[tokio::test]
async fn the_job_as_a_file_reads_back_as_the_same_job() {
    let site = Site::new().await;
    site.send(&[("change", "start"), ("wall", "B"), ("start-B", "300")]).await.leads_to();
    let page = site.layout().await;
    let file = site.crew.get(&page.attribute("a[href$='job.json']", "href")).await;
    assert_eq!(
        file.headers[header::CONTENT_DISPOSITION],
        "attachment; filename=\"alder-court-upstairs-bath.json\""
    );
    let read = job_file::read(&file.body).unwrap();
    let stored = site.crew.app.store.sheet(&site.job).await.unwrap();
    assert_eq!(read.job, stored.sheet.job().unwrap());
    assert!(read.ignored.is_empty());
}

#[tokio::test]
async fn a_misread_wall_is_pointed_out_where_its_layout_is_judged() {
    let site = Site::new().await;
    assert!(site.layout().await.texts("#misread").is_empty());
    let address = format!("/jobs/{}/walls/B", site.job);
    let page = site.crew.get(&address).await;
    let base = [
        ("base-1-x", "450"),
        ("base-1-drop", "1202"),
        ("base-2-x", "900"),
        ("base-2-drop", "1226"),
        ("base-3-x", "1526"),
        ("base-3-drop", "1202"),
        ("do", "save"),
    ];
    site.crew.post_form(&address, &typed_over(&page, &base)).await.leads_to();
    let page = site.layout().await;
    assert_eq!(page.texts("#misread li").len(), 1, "{}", page.text("#misread"));
    assert!(page.text("#misread li").contains("Base reading at 900 mm is 24 mm off what its neighbours say"));
    assert_eq!(page.attribute("#misread a", "href"), address);
    assert_eq!(page.texts(".wall-drawing svg title").len(), 3, "and the layout stands all the same");
}

#[tokio::test]
async fn each_count_of_tiles_says_what_it_counts_and_hard_figures_are_explained() {
    let site = Site::new().await;
    let (page, planned) = (site.layout().await, site.planned().await);
    let bought = planned.option.cutting.values().next().unwrap().bought();
    assert!(page.text(".total").starts_with(&format!("{bought} tiles to buy: ")), "{}", page.text(".total"));
    assert!(page.text(".repeat").starts_with(&format!("{bought} tiles of this kind will do.")));
    let named = page.texts("main > .figures dt");
    for (name, says) in [("Rules to look at", "published rules"), ("Ends of the rows", "from equal")] {
        assert!(named.iter().any(|figure| figure == name), "{named:?}");
        let explained = page.texts(".explained p").into_iter().find(|words| words.starts_with(name));
        assert!(explained.as_ref().is_some_and(|words| words.contains(says)), "{explained:?}");
    }
}

#[tokio::test]
async fn a_quick_suggestion_says_first_of_all_that_it_is_one_until_a_layout_is_chosen() {
    let site = Site::new().await;
    let stored = site.crew.app.store.sheet(&site.job).await.unwrap();
    let listed = loop {
        if let Looked::Done(listed) = site.crew.app.work.options(&stored).await {
            break listed.unwrap();
        }
    };
    let (best, shown) = (listed.options.options[0].figures, site.planned().await.option.figures);
    assert_ne!(
        (best.bought, best.narrowest_cut),
        (shown.bought, shown.narrowest_cut),
        "the search finds another"
    );
    let page = site.layout().await;
    let says = page.text("#quick");
    assert!(says.contains("quick first suggestion") && says.contains("before you cut"), "{says}");
    if best.bought != shown.bought {
        assert!(says.contains(&format!("Tiles {} instead of {}", best.bought, shown.bought)), "{says}");
    }
    assert!(page.body.find("id=\"quick\"") < page.body.find("class=\"totals\""), "before the figures");
    assert_eq!(page.attribute("#quick a", "href"), format!("/jobs/{}/layout/options", site.job));
    let change = SheetChange::Layout(listed.options.options[0].layout.clone());
    let store = &site.crew.app.store;
    store.change_sheet(EventKey::random(), site.job.clone(), stored.version, change).await.unwrap();
    assert!(site.layout().await.texts("#quick").is_empty());
}

#[tokio::test]
async fn a_layout_that_beats_the_first_suggestion_is_named_beside_it() {
    let crew = Crew::new().await;
    coursebook::demo::fill(&crew.app.store).await.unwrap();
    let job = crew.app.store.jobs().await.unwrap().remove(0).id;
    let site = Site { crew, job };
    let store = &site.crew.app.store;
    let version = store.sheet(&site.job).await.unwrap().version;
    let unchosen = SheetChange::Layout(Layout::default());
    store.change_sheet(EventKey::random(), site.job.clone(), version, unchosen).await.unwrap();
    let page = site.layout().await;
    assert!(page.text("main").contains("This is a quick first suggestion."));
    assert!(page.texts("#better").is_empty(), "nothing is known of others before they are looked for");
    let stored = site.crew.app.store.sheet(&site.job).await.unwrap();
    let listed = loop {
        if let Looked::Done(listed) = site.crew.app.work.options(&stored).await {
            break listed.unwrap();
        }
    };
    let (first, shown) = (listed.options.options[0].clone(), site.planned().await.option.figures);
    // As a lead compares them: no figure is worse, and the cuts are wider.
    let (best, opening) = (first.figures, shown.opening_edges_on_joints);
    assert!(best.narrowest_cut > shown.narrowest_cut && best.opening_edges_on_joints >= opening);
    assert!(best.bought <= shown.bought && best.cuts <= shown.cuts && best.slivers <= shown.slivers);
    assert!(best.unequal <= shown.unequal && best.base_gap_largest <= shown.base_gap_largest);
    assert!(best.warnings <= shown.warnings);
    let page = site.layout().await;
    let says = page.text("#better");
    assert!(says.contains("better, and worse in nothing") && says.contains("Narrowest cut"), "{says}");
    let compared = site.crew.get(&page.attribute("#better a", "href")).await;
    assert_eq!(compared.texts(".side h2"), ["As it lies now", "Layout 1"]);
    let better = compared.texts(".compared tbody tr td:nth-child(2) .ready");
    assert!(better.is_empty(), "as it lies now is better in nothing");
    // Once a layout of the list is chosen that is better in something, no other is held up against it.
    let worse_somewhere = listed.options.options[1].layout.clone();
    let change = SheetChange::Layout(worse_somewhere);
    site.crew
        .app
        .store
        .change_sheet(EventKey::random(), site.job.clone(), stored.version, change)
        .await
        .unwrap();
    let page = site.layout().await;
    assert!(page.texts("#better").is_empty() && !page.text("main").contains("quick first suggestion"));
}
