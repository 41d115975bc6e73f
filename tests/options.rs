//! A lead looks at the layouts worth choosing between, reads why, holds two side by side, and chooses.

use std::sync::Arc;

use axum::http::{StatusCode, header};
use coursebook::store::JobId;
use coursebook::work::{Listed, Looked, Planned};
use trade::search::{LayoutOption, Measure};

use crate::support::{Crew, Page};

/// A shower measured whole, and its lead.
struct Site {
    crew: Crew,
    job: JobId,
}

impl Site {
    async fn new() -> Self {
        let crew = Crew::new().await;
        let job = crew.measured_job().await;
        Self { crew, job }
    }

    fn at(&self, rest: &str) -> String {
        format!("/jobs/{}/layout{rest}", self.job)
    }

    /// A page, once its layouts are found.
    async fn page(&self, rest: &str) -> Page {
        loop {
            let page = self.crew.get(&self.at(rest)).await;
            if !page.headers.contains_key(header::REFRESH) {
                return page;
            }
        }
    }

    async fn listed(&self) -> Arc<Listed> {
        let stored = self.crew.app.store.sheet(&self.job).await.unwrap();
        loop {
            if let Looked::Done(listed) = self.crew.app.work.options(&stored).await {
                return listed.unwrap();
            }
        }
    }

    async fn planned(&self) -> Arc<Planned> {
        let stored = self.crew.app.store.sheet(&self.job).await.unwrap();
        self.crew.app.work.plan(&stored).await.unwrap()
    }

    async fn choose(&self, page: &Page, number: usize) -> Page {
        let form = format!("#option-{number} form");
        let field = |name: &str| page.attribute(&format!("{form} input[name={name}]"), "value");
        let (version, print) = (field("version"), field("print"));
        let fields = [("version", version.as_str()), ("change", "choose"), ("print", print.as_str())];
        self.crew.post(&self.at("/options"), &fields).await
    }
}

/// The number of a layout that is not in force; the list always has one here.
fn another(listed: &Listed, now: &Planned) -> usize {
    let same = |option: &LayoutOption| option.pieces == now.option.pieces;
    listed.options.options.iter().position(|option| !same(option)).expect("more than one layout") + 1
}

#[tokio::test]
async fn a_lead_sees_every_layout_drawn_with_its_figures() {
    let site = Site::new().await;
    let page = site.page("/options").await;
    assert_eq!(page.status, StatusCode::OK);
    let listed = site.listed().await;
    let options = &listed.options.options;
    assert_eq!(page.texts(".option").len(), options.len(), "all of them, the first ones before the rest");
    assert_eq!(page.texts("section .option").len(), listed.options.first.len());
    for (index, option) in options.iter().enumerate() {
        let card = format!("#option-{}", index + 1);
        let tiles = page.text(&format!("{card} .option-tiles"));
        assert!(tiles.starts_with(&format!("{} tile", option.figures.bought)), "{tiles}");
        let figures = page.text(&format!("{card} .option-figures"));
        assert!(figures.contains(&format!("Saw cuts {}", option.figures.cuts)), "{figures}");
        let walls = page.texts(&format!("{card} svg text"));
        assert_eq!(walls, ["A", "B", "C"], "every wall is drawn");
        let said = page.text(&format!("{card} svg desc"));
        let cut = option.pieces.iter().filter(|piece| !piece.full).count();
        assert!(said.contains(&format!("{cut} cut pieces")), "{said}");
    }
    assert!(!page.body.contains(" style="), "the content security policy allows no style inside");
}

#[tokio::test]
async fn each_layout_says_what_it_gains_and_what_it_costs() {
    let site = Site::new().await;
    let (page, listed) = (site.page("/options").await, site.listed().await);
    for index in 1..listed.options.options.len() {
        let says = page.text(&format!("#option-{} .differences", index + 1));
        for reason in listed.options.reasons(index) {
            let word = match reason.measure {
                Measure::Tiles => "tile",
                Measure::NarrowestCut => "narrowest cut",
                Measure::Cuts => "saw cut",
                Measure::Slivers => "small cut",
                Measure::Symmetry => "ends of the rows",
                Measure::OpeningEdges => "opening edges",
                Measure::BaseGap => "gap at the base",
                Measure::Warnings => continue,
            };
            let way = if reason.better { "Better:" } else { "Worse:" };
            assert!(says.contains(way) && says.contains(word), "{reason:?} in {says}");
        }
    }
}

#[tokio::test]
async fn a_layout_chosen_is_the_one_in_force_and_the_list_stays() {
    let site = Site::new().await;
    let (listed, now) = (site.listed().await, site.planned().await);
    let number = another(&listed, &now);
    let page = site.page("/options").await;
    assert!(page.texts(".option .now-state").len() <= 1);
    assert_eq!(site.choose(&page, number).await.leads_to(), site.at(""));
    let chosen = &listed.options.options[number - 1];
    assert_eq!(site.planned().await.option.pieces, chosen.pieces, "every tile lies as it was drawn");
    let site = Site { crew: site.crew.restarted().await, job: site.job };
    assert_eq!(site.planned().await.option.layout, chosen.layout);
    let page = site.page("/options").await;
    assert!(page.text(&format!("#option-{number}")).contains("This is how it lies now"));
    assert_eq!(page.texts(".option").len(), listed.options.options.len());
}

#[tokio::test]
async fn a_layout_chosen_from_an_old_page_changes_nothing() {
    let site = Site::new().await;
    let (listed, now) = (site.listed().await, site.planned().await);
    let number = another(&listed, &now);
    let page = site.page("/options").await;
    let before = site.planned().await.option.layout.clone();
    let thinner = [("joint", "2")];
    site.crew.send_sheet(&site.job, &thinner).await.leads_to();
    let answer = loop {
        let answer = site.choose(&page, number).await;
        if !answer.headers.contains_key(header::REFRESH) {
            break answer;
        }
    };
    assert_eq!(answer.status, StatusCode::CONFLICT);
    assert!(answer.text(".refusal").contains("Nothing was changed"), "{}", answer.text(".refusal"));
    let stored = site.crew.app.store.sheet(&site.job).await.unwrap();
    assert!(stored.sheet.layout.starts.is_empty());
    assert_ne!(site.planned().await.option.layout, before, "the joint is another now");
}

#[tokio::test]
async fn two_layouts_are_held_side_by_side_where_they_differ() {
    let site = Site::new().await;
    let listed = site.listed().await;
    let page = site.page("/options?compare=1,2").await;
    assert_eq!(page.texts(".side h2"), ["Layout 1", "Layout 2"]);
    assert_eq!(page.texts(".side svg").len(), 2);
    let [one, other] = [0, 1].map(|index| &listed.options.options[index]);
    let rows = page.texts(".compared tbody tr");
    let differ = Measure::ALL.into_iter().filter(|of| of.of(&one.figures) != of.of(&other.figures)).count();
    assert_eq!(rows.iter().filter(|row| row.contains("better")).count(), differ, "{rows:?}");
    let picked = site.page("/options?compare=2&compare=now").await;
    assert_eq!(picked.texts(".side h2"), ["Layout 2", "As it lies now"]);
    assert_eq!(site.page("/options?compare=1,99").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn what_counts_first_is_kept_and_orders_the_list() {
    let site = Site::new().await;
    let page = site.page("/options").await;
    let version = page.attribute("#ranks input[name=version]", "value");
    let twice = [
        ("version", version.as_str()),
        ("change", "priorities"),
        ("first", "cuts"),
        ("second", "cuts"),
        ("third", "tiles"),
    ];
    let refused = site.crew.post(&site.at("/options"), &twice).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    let says = refused.text("#second-fault");
    assert_eq!(says, "“Saw cuts” stands above already. Choose another here.", "it names which one");
    assert_eq!(refused.texts("#faults li"), [says], "once, and not at the other fields");
    assert_eq!(refused.attribute("#faults a", "href"), "#second");
    let typed = [
        ("version", version.as_str()),
        ("change", "priorities"),
        ("first", "cuts"),
        ("second", "tiles"),
        ("third", "slivers"),
    ];
    assert_eq!(site.crew.post(&site.at("/options"), &typed).await.leads_to(), site.at("/options"));
    let site = Site { crew: site.crew.restarted().await, job: site.job };
    let page = site.page("/options").await;
    assert_eq!(page.attribute("#first option[selected]", "value"), "cuts");
    assert!(page.text("main").contains("What counts first: Saw cuts, Tiles, Small cuts."));
    let listed = site.listed().await;
    let sound = listed.options.options.iter().filter(|option| !option.is_doubtful());
    let cuts = sound.map(|option| option.figures.cuts).collect::<Vec<_>>();
    assert!(cuts.len() > 1, "a choice: {cuts:?}");
    assert_eq!(cuts.iter().min(), cuts.first(), "the fewest saw cuts come first: {cuts:?}");
    let file = site.crew.get(&format!("/jobs/{}/job.json", site.job)).await;
    let read = trade::job_file::read(&file.body).unwrap();
    assert_eq!(read.priorities.in_order()[..3], [Measure::Cuts, Measure::Tiles, Measure::Slivers]);
}

#[tokio::test]
async fn one_layout_is_seen_large_before_it_is_chosen() {
    let site = Site::new().await;
    let page = site.page("/options/2").await;
    assert!(page.text("h1").starts_with("Layout 2"));
    assert_eq!(page.texts(".large-drawing svg").len(), 3);
    assert_eq!(site.page("/options/0").await.status, StatusCode::NOT_FOUND);
    assert_eq!(site.page("/options/99").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn before_anything_is_measured_the_page_says_what_is_missing() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let page = crew.get(&format!("/jobs/{job}/layout/options")).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text("main").contains("No wall is measured yet."));
}

#[tokio::test]
async fn a_lead_can_repeat_the_figure_and_look_behind_it() {
    let site = Site::new().await;
    let (page, planned) = (site.page("").await, site.planned().await);
    let cutting = planned.option.cutting.values().next().unwrap();
    let says = page.text(".repeat");
    assert!(says.starts_with(&format!("{} tiles of this kind will do. ", cutting.bought())), "{says}");
    let in_order = cutting.full + cutting.plan.in_setting_order;
    let order = if in_order > cutting.bought() { in_order.to_string() } else { "as many".to_owned() };
    assert!(says.ends_with(&format!("Cut in the order of setting it would be {order}.")), "{says}");
    let at_least = format!("o plan for this layout can use fewer than {}.", cutting.bound());
    assert!(says.contains(&at_least), "{says}");
    assert_eq!(says.contains("ound, not proved"), cutting.bought() != cutting.bound(), "{says}");
    // Whole labels: A1-1 stands in A1-12 too.
    let told = page.texts(".proof :is(p, li, th, td)").join(" ");
    let told: Vec<&str> = told.split(|c: char| !c.is_alphanumeric() && c != '-').collect();
    for piece in cutting.plan.proof.parts.iter().flat_map(|part| &part.pieces) {
        let label = &cutting.problem.pieces()[*piece].id;
        assert!(told.contains(&label.as_str()), "{label} has no part in {told:?}");
    }
}

#[tokio::test]
async fn the_proof_taken_away_as_a_file_adds_up() {
    let site = Site::new().await;
    let file = site.page("/proof.json").await;
    assert_eq!(file.headers[header::CONTENT_TYPE], "application/json");
    let file: serde_json::Value = serde_json::from_str(&file.body).unwrap();
    let planned = site.planned().await;
    for kind in file["tiles"].as_array().unwrap() {
        let (asked, answer) = (kind["offcuts"].to_string(), &kind["answer"]);
        let read = trade::job_file::read_offcuts(&asked).expect("the pieces are an offcut file");
        assert_eq!(read.problem, planned.option.cutting.values().next().unwrap().problem);
        let one = [serde_json::json!({"tiles": answer["bound"], "proof": answer["proof"]})];
        let parts = answer["proof"]["parts"].as_array().map_or(one.as_slice(), Vec::as_slice);
        let tiles: u64 = parts.iter().map(|part| part["tiles"].as_u64().unwrap()).sum();
        assert_eq!(Some(tiles), answer["bound"].as_u64());
        let mut pieces = 0;
        for part in parts {
            let (proof, prices) = (&part["proof"], part["proof"]["prices"].as_object().unwrap());
            pieces += prices.len();
            if proof["kind"] == "prices" {
                let all: u64 = prices.values().map(|price| price.as_u64().unwrap()).sum();
                let best = proof["best_pattern"].as_u64().unwrap();
                assert!(all.div_ceil(best) >= part["tiles"].as_u64().unwrap(), "{part}");
            }
        }
        assert_eq!(pieces, read.problem.pieces().len(), "each piece is in one part");
    }
    assert_eq!(file["tiles"].as_array().unwrap().len(), planned.option.cutting.len());
}

#[tokio::test]
async fn the_cut_list_says_where_every_piece_comes_from_and_what_lies_on_the_rack() {
    let site = Site::new().await;
    let (page, planned) = (site.page("/cuts").await, site.planned().await);
    let wanted: Vec<&str> =
        planned.option.pieces.iter().filter(|piece| !piece.full).map(|piece| piece.id.0.as_str()).collect();
    assert_eq!(page.texts(".cut-list tbody th a"), wanted, "in the order of setting");
    // Followed with pencil and paper: what is taken from the rack was put there, and the count is right.
    let mut rack: Vec<String> = Vec::new();
    let mut tiles = 0;
    for row in page.texts(".cut-list tbody tr") {
        match row.split("offcut ").nth(1) {
            Some(label) => {
                let label = label.split_whitespace().next().unwrap();
                let taken = label.split("after").next().unwrap().split("from").next().unwrap();
                let place = rack.iter().position(|lying| lying == taken);
                rack.remove(place.unwrap_or_else(|| panic!("{taken} is not on the rack {rack:?}: {row}")));
            }
            None => tiles += 1,
        }
        let kept = row.split_whitespace().zip(row.split_whitespace().skip(1));
        rack.extend(
            kept.filter(|(label, word)| label.contains('K') && (*word == "for" || *word == "which"))
                .map(|(label, _)| label[label.find('K').unwrap()..].trim_end_matches(',').to_owned()),
        );
    }
    assert_eq!(rack, Vec::<String>::new(), "nothing is racked for nothing");
    let cut_into: usize = planned.option.cutting.values().map(|cutting| cutting.plan.tiles()).sum();
    assert_eq!(tiles, cut_into);
    assert!(page.text("main").contains(&format!("{} pieces out of {cut_into} tiles.", wanted.len())));
    assert!(page.text("svg desc").contains("at a time"));
}

#[tokio::test]
async fn the_crew_at_the_saw_and_the_board_sees_no_points() {
    let site = Site::new().await;
    for place in ["cuts", "cuts/A1-1", "board"] {
        let page = site.crew.get(&format!("/jobs/{}/{place}", site.job)).await;
        let words = page.text("main").to_lowercase();
        assert!(!words.contains("points") && !words.contains("proof"), "{place}: {words}");
    }
}

#[tokio::test]
async fn a_joint_put_by_hand_snaps_to_the_next_good_place() {
    let site = Site::new().await;
    let version = site.page("").await.attribute("input[name=version]", "value");
    let put = [("version", version.as_str()), ("change", "start"), ("wall", "B"), ("start-B", "20")];
    site.crew.post(&site.at(""), &put).await.leads_to();
    let page = site.page("").await;
    let offers = page.texts("#wall-B button.offer");
    let next = offers.iter().find(|offer| offer.starts_with("Next good place")).expect("a place to snap to");
    assert!(next.contains("narrowest") && next.contains("away"), "{next}");
    site.page("/options").await;
    let listed = site.listed().await.options.options.len();
    let others = format!("{listed} other layout");
    assert!(site.page("").await.text("main").contains(&others), "the joint lies where none of them has it");
}

#[tokio::test]
async fn a_lead_asks_for_more_and_gets_it_or_is_told_why_not() {
    let site = Site::new().await;
    let form = site.page("/options").await;
    assert_eq!(form.texts(".wish input[value^='top:']").len(), 3, "one box a wall");
    let no = site.page("/wish?least=700").await;
    assert!(
        no.text(".answer")
            .contains("No layout was found without a cut under 700 mm. Of those looked at, the best has"),
        "{}",
        no.body
    );
    let yes = site.page("/wish?want=no-scribe&least=20").await;
    assert!(yes.text(".answer").starts_with("Yes."), "{}", yes.text("main"));
    assert!(yes.text("main").contains("No cut under 20 mm"));
    let field = |name: &str| yes.attribute(&format!("form[method=post] input[name={name}]"), "value");
    let (version, print) = (field("version"), field("print"));
    let chosen =
        [("version", version.as_str()), ("print", print.as_str()), ("want", "no-scribe"), ("least", "20")];
    let forged = [("version", version.as_str()), ("print", "0"), ("want", "no-scribe"), ("least", "20")];
    assert_eq!(site.crew.post(&site.at("/wish"), &forged).await.status, StatusCode::CONFLICT);
    assert_eq!(site.crew.post(&site.at("/wish"), &chosen).await.leads_to(), site.at(""));
    let planned = site.planned().await;
    let narrowest = planned.option.figures.narrowest_cut.unwrap();
    assert!(narrowest >= trade::measure::Length::mm(20), "{narrowest:?}");
    let propped = |first| first == trade::measure::FirstCourse::Propped;
    assert!(planned.option.courses.walls.values().all(|wall| propped(wall.first_course)));
    let nothing = site.page("/wish?least=").await;
    assert_eq!(nothing.status, StatusCode::OK);
    assert_eq!(nothing.text(".answer"), "Tick what you want first, or type the least cut, and ask again.");
    let twice = site.page("/wish?want=top:A&want=top:A&least=").await;
    assert_eq!(twice.texts("section[aria-labelledby=wish-asked] > ul:first-of-type > li").len(), 1);
    let refused = site.page("/wish?want=top:A&least=wide").await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(!refused.text("#least-fault").is_empty());
    assert!(refused.body.contains(r#"value="top:A" checked"#), "what was ticked is kept");
}

#[tokio::test]
async fn an_answer_once_found_is_kept_for_whoever_chooses_it() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let stored = crew.app.store.sheet(&job).await.unwrap();
    let wishes = vec![trade::search::Asked::NoCutUnder(trade::measure::Length::mm(60))];
    let found = crew.app.work.wish(&stored, wishes.clone()).await.unwrap();
    let chosen = crew.app.work.wish_as_answered(&stored, wishes).await.unwrap();
    assert!(Arc::ptr_eq(&found, &chosen), "looked for once");
    let others = vec![trade::search::Asked::NoCutUnder(trade::measure::Length::mm(50))];
    let others = crew.app.work.wish_as_answered(&stored, others).await.unwrap();
    assert!(!Arc::ptr_eq(&found, &others));
}
