//! A lead who wants another layout when work has begun: the price is said first, the log keeps who changed what, and
//! what hangs stays.

use std::sync::Arc;

use axum::http::{StatusCode, header};
use coursebook::store::{EventKey, JobId, SheetChange, StoreError};
use coursebook::web::{Saw, planned};
use trade::measure::{Layout, LeastSize, Length, SurfaceId};
use trade::place::Piece;

use crate::cuts::Yard;
use crate::fit::Site;
use crate::support::{Crew, Page, Wall, typed_over};

impl Yard {
    fn layout(&self, rest: &str) -> String {
        format!("/jobs/{}/layout{rest}", self.job)
    }

    /// Sends a move from the layout's page as it stands.
    async fn relay(&self, fields: &[(&str, &str)]) -> Page {
        let page = self.crew.get(&self.layout("")).await;
        let version = page.attribute("input[name=version]", "value");
        let fields = [&[("version", version.as_str())], fields].concat();
        self.crew.post(&self.layout(""), &fields).await
    }

    /// Presses the one button of a page that says a price.
    async fn agree(&self, asked: &Page) -> Page {
        assert!(!asked.texts(".price").is_empty(), "{}", asked.body);
        self.crew.agree(asked).await
    }

    /// The list of layouts, once it is done.
    async fn options(&self) -> Page {
        for _ in 0..2000 {
            let page = self.crew.get(&self.layout("/options")).await;
            if !page.headers.contains_key(header::REFRESH) {
                return page;
            }
            tokio::time::sleep(std::time::Duration::from_millis(50)).await;
        }
        panic!("the list is never done");
    }

    async fn log(&self) -> Vec<String> {
        self.crew.get(&format!("/jobs/{}/log", self.job)).await.texts(".log-says")
    }

    /// The pieces of a wall as they are planned.
    async fn planned_on(&self, wall: &str) -> Vec<Piece> {
        let stored = self.crew.app.store.sheet(&self.job).await.unwrap();
        let planned = self.crew.app.work.plan(&stored).await.unwrap();
        let wall = SurfaceId::new(wall).unwrap();
        planned.option.pieces.iter().filter(|piece| piece.surface == wall).cloned().collect()
    }

    async fn is_set(&self, wall: &str) {
        self.crew
            .post(&format!("/jobs/{}/board/{wall}/set/done", self.job), &[("uncut", "999")])
            .await
            .leads_to();
    }
}

const TO_300: [(&str, &str); 3] = [("change", "start"), ("wall", "B"), ("start-B", "300")];

#[tokio::test]
async fn before_anything_is_cut_a_layout_is_moved_at_one_press() {
    let yard = Yard::new().await;
    yard.relay(&TO_300).await.leads_to();
    assert!(yard.log().await.is_empty());
}

#[tokio::test]
async fn once_pieces_are_cut_a_move_says_first_what_it_costs() {
    let yard = Yard::new().await;
    let cut = yard.cut_next(4).await;
    assert!(cut.iter().any(|piece| piece.starts_with('B')), "{cut:?}");
    let before = yard.planned_on("B").await;
    let asked = yard.relay(&TO_300).await;
    assert_eq!(asked.status, StatusCode::CONFLICT);
    assert_eq!(asked.texts("main form").len(), 1, "one way to do it");
    let price = asked.texts(".price");
    let gone = cut.iter().filter(|piece| piece.starts_with('B')).count();
    assert!(price[0].contains("would no longer fit"), "{price:?}");
    assert!(price[1].contains("more"), "cut again out of other tiles: {price:?}");
    assert!(asked.text("main ul").contains("upright joint at 300 mm"), "{}", asked.body);
    assert_eq!(yard.planned_on("B").await, before, "nothing is changed by asking");
    assert_eq!(yard.log().await.len(), cut.len());

    yard.agree(&asked).await.leads_to();
    let misfits = yard.saw().await.texts(".saw-misfits > .misfit").len();
    let told: usize = asked.text(".hint").split(", ").count();
    assert!(
        0 < misfits && misfits <= told && told <= gone,
        "{misfits} misfits, {told} told, {gone} cut there"
    );
    let log = yard.log().await;
    assert!(log[0].starts_with("Another layout. "), "{log:?}");
    assert!(log[0].contains("left wall") || log[0].contains("back wall"), "{log:?}");
    assert!(log[0].contains("300 mm from the left end, before "), "{log:?}");
    let yard = Yard { crew: yard.crew.restarted().await, job: yard.job };
    assert_eq!(yard.log().await, log, "the log is read again as it was kept");
}

#[tokio::test]
async fn a_price_that_has_changed_meanwhile_is_told_again() {
    let yard = Yard::new().await;
    yard.cut_next(2).await;
    let asked = yard.relay(&TO_300).await;
    yard.cut_next(2).await;
    let again = yard.agree(&asked).await;
    assert_eq!(again.status, StatusCode::CONFLICT);
    assert!(again.text(".refusal").starts_with("Somebody worked on"), "{}", again.body);
    yard.agree(&again).await.leads_to();
}

#[tokio::test]
async fn a_layout_of_the_list_has_its_price_too_and_so_has_the_way_back() {
    let yard = Yard::new().await;
    yard.cut_next(3).await;
    let list = yard.options().await;
    let numbers = list.texts(".option form button").len();
    assert!(numbers > 0, "another layout to choose");
    let field = |name: &str| list.attribute(&format!(".option form input[name={name}]"), "value");
    let (version, print) = (field("version"), field("print"));
    let choose = [("version", version.as_str()), ("change", "choose"), ("print", print.as_str())];
    let asked = yard.crew.post(&yard.layout("/options"), &choose).await;
    assert_eq!(asked.status, StatusCode::CONFLICT);
    assert!(!asked.texts(".price").is_empty(), "{}", asked.body);
    yard.agree(&asked).await.leads_to();
    let back = yard.relay(&[("change", "proposal")]).await;
    assert_eq!(back.status, StatusCode::CONFLICT, "{}", back.body);
    yard.agree(&back).await.leads_to();
    assert_eq!(yard.log().await.iter().filter(|says| says.starts_with("Another layout.")).count(), 2);
}

#[tokio::test]
async fn a_wall_that_is_set_stays_as_it_is_whatever_is_moved() {
    let yard = Yard::new().await;
    yard.is_set("B").await;
    let hangs = yard.planned_on("B").await;
    for fields in [&TO_300[..], &[("change", "joint"), ("joint", "5")]] {
        let refused = yard.relay(fields).await;
        assert_eq!(refused.status, StatusCode::CONFLICT);
        let says = refused.text(".refusal-says");
        assert!(says.contains("is set or being set") && says.contains("back wall"), "{says}");
        assert!(refused.texts("main form").is_empty(), "there is no way to do it");
    }
    let other = yard.relay(&[("change", "start"), ("wall", "A"), ("start-A", "300")]).await;
    assert!(other.text(".note").contains("back wall"), "{}", other.body);
    yard.agree(&other).await.leads_to();
    assert_eq!(yard.planned_on("B").await, hangs);
    let back = yard.relay(&[("change", "proposal")]).await;
    yard.agree(&back).await.leads_to();
    assert_eq!(yard.planned_on("B").await, hangs);
}

#[tokio::test]
async fn what_was_chosen_for_a_wall_that_hangs_is_not_given_back() {
    let yard = Yard::new().await;
    yard.relay(&TO_300).await.leads_to();
    yard.is_set("B").await;
    let hangs = yard.planned_on("B").await;
    yard.relay(&[("change", "wall-proposal"), ("wall", "B")]).await;
    assert_eq!(yard.planned_on("B").await, hangs);
}

#[tokio::test]
async fn a_layout_of_the_list_goes_for_the_walls_that_are_not_set() {
    let yard = Yard::new().await;
    yard.is_set("B").await;
    let hangs = yard.planned_on("B").await;
    let list = yard.options().await;
    let version = list.attribute(".option form input[name=version]", "value");
    for print in list.attributes(".option form input[name=print]", "value") {
        let choose = [("version", version.as_str()), ("change", "choose"), ("print", print.as_str())];
        let answer = yard.crew.post(&yard.layout("/options"), &choose).await;
        assert_eq!(answer.status, StatusCode::CONFLICT);
        if answer.texts(".price").is_empty() {
            assert!(answer.text(".refusal-says").contains("is set or being set"), "{}", answer.body);
            continue;
        }
        let notes = answer.texts(".note");
        assert!(notes[0].contains("stays as it is") && notes.len() == 2, "{notes:?}");
        yard.agree(&answer).await.leads_to();
        assert_eq!(yard.planned_on("B").await, hangs);
        return;
    }
    panic!("no layout of the list goes for the other walls");
}

/// Another wall than the one that is cut first.
const OTHER_TO_300: [(&str, &str); 3] = [("change", "start"), ("wall", "C"), ("start-C", "300")];

impl Yard {
    /// The saw by the plan in force.
    async fn planned_saw(&self) -> Saw {
        let app = &self.crew.app;
        let stored = app.store.sheet(&self.job).await.unwrap();
        let first = app.work.plan(&stored).await.unwrap();
        let log = app.store.cut_log(&self.job).await.unwrap();
        Saw::new(planned(app, &stored, &first, &log).await.unwrap(), log.sawn)
    }

    /// Cuts until a piece of this wall is cut, and says what was.
    async fn cut_until_on(&self, wall: &str) -> Vec<String> {
        let mut cut = Vec::new();
        for _ in 0..60 {
            cut.extend(self.cut_next(1).await);
            if cut.iter().any(|piece| piece.starts_with(wall)) {
                return cut;
            }
        }
        panic!("nothing of {wall} is ever cut");
    }

    /// Cuts until offcuts lie on the rack, and says what is written on them.
    async fn cut_until_racked(&self) -> Vec<String> {
        for _ in 0..60 {
            self.cut_next(1).await;
            let rack = self.on_the_rack().await;
            if !rack.is_empty() {
                return rack;
            }
        }
        panic!("nothing is ever racked");
    }

    /// The pieces that come out of these offcuts and are not cut.
    async fn taken_from(&self, rack: &[String]) -> Vec<String> {
        let mut taken = Vec::new();
        for piece in self.labels().await {
            let page = self.piece(&piece).await;
            let take = format!("{} ", page.text(".cut-take"));
            let is_open = page.texts("main .state.done").is_empty();
            if is_open && rack.iter().any(|label| take.starts_with(&format!("Take offcut {label} "))) {
                taken.push(piece);
            }
        }
        taken
    }
}

#[tokio::test]
async fn another_layout_is_cut_from_what_lies_on_the_rack() {
    let yard = Yard::new().await;
    let rack = yard.cut_until_racked().await;
    let asked = yard.relay(&OTHER_TO_300).await;
    let told = asked.texts(".price")[1].clone();
    yard.agree(&asked).await.leads_to();
    assert_eq!(yard.on_the_rack().await, rack, "under the labels that are written on them");
    let taken = yard.taken_from(&rack).await;
    assert!(!taken.is_empty(), "nothing of the new plan comes from {rack:?}");

    let saw = yard.planned_saw().await;
    let tiles: usize = saw.tally.values().map(|tally| tally.needed).sum();
    let in_all = told.split(|c: char| !c.is_ascii_digit()).rfind(|number| !number.is_empty());
    assert_eq!(in_all.unwrap().parse::<usize>().unwrap(), tiles, "{told}");
    let open = saw.planned.option.cutting.values().flat_map(|cutting| &cutting.open);
    let racked: usize = open.map(|open| open.problem.rack().len()).sum();
    assert!(racked > 0, "the proof is about what is open, with the rack");
    // From whole tiles alone it would take no fewer.
    let stored = yard.crew.app.store.sheet(&yard.job).await.unwrap();
    let first = yard.crew.app.work.plan(&stored).await.unwrap();
    let plain = Saw::new(Arc::clone(&first), saw.sawn().clone());
    assert!(tiles <= plain.tally.values().map(|tally| tally.needed).sum());

    let lines = yard.saw().await.texts(".queue-line");
    let yard = Yard { crew: yard.crew.restarted().await, job: yard.job };
    assert_eq!(yard.saw().await.texts(".queue-line"), lines, "a restart shows the same");
    assert_eq!(yard.on_the_rack().await, rack);
    for _ in 0..lines.len() {
        let Some(next) = yard.saw().await.texts(".cut-label").pop() else { break };
        yard.cut(&next).await;
    }
    assert!(
        yard.saw().await.texts(".cut-label").is_empty(),
        "all of it can be cut in the order that the saw says"
    );
}

#[tokio::test]
async fn what_no_longer_fits_is_cut_anew_and_its_offcut_is_good() {
    let yard = Yard::new().await;
    let rack = yard.cut_until_racked().await;
    yard.crew.agreed(yard.relay(&TO_300).await).await.leads_to();
    assert_eq!(yard.on_the_rack().await, rack);
    let misfits = yard.saw().await.texts(".saw-misfits .list-name");
    assert!(!misfits.is_empty());
    for piece in &misfits {
        yard.mend(piece).await.leads_to();
    }
    for _ in 0..yard.labels().await.len() {
        let Some(next) = yard.saw().await.texts(".cut-label").pop() else { break };
        yard.cut(&next).await;
    }
    let page = yard.saw().await;
    assert!(
        page.texts(".cut-label").is_empty() && page.texts(".saw-misfits").is_empty(),
        "{}",
        page.text("main")
    );
}

#[tokio::test]
async fn a_wall_measured_anew_says_first_what_it_costs() {
    let yard = Yard::new().await;
    let cut = yard.cut_until_on("A").await;
    let others = yard.planned_on("A").await;
    let before = yard.planned_on("B").await;
    let logged = yard.log().await.len();
    let asked = yard.send_wall("B", "1518").await;
    assert_eq!(asked.status, StatusCode::CONFLICT);
    assert_eq!(asked.texts("main form").len(), 1, "one way to do it");
    assert_eq!(asked.text("main form button"), "Save what was measured");
    assert!(asked.texts(".price")[0].contains("would no longer fit"), "{:?}", asked.texts(".price"));
    assert!(asked.text("main ul").contains("back wall (B) measured or described anew."), "{}", asked.body);
    let told: Vec<String> = asked.text(".hint").split(", ").map(str::to_owned).collect();
    assert!(told.iter().all(|piece| piece.starts_with('B') && cut.contains(piece)), "{told:?}");
    assert_eq!(yard.planned_on("B").await, before, "nothing is changed by asking");
    assert_eq!(yard.log().await.len(), logged);

    yard.agree(&asked).await.leads_to();
    assert_ne!(yard.planned_on("B").await, before);
    assert_eq!(yard.planned_on("A").await, others, "where anything is cut the joints stay as they are");
    assert_eq!(yard.saw().await.texts(".saw-misfits .list-name"), told);
    let log = yard.log().await;
    assert!(log[0].starts_with("Another layout. "), "{log:?}");
    assert!(log[0].contains("back wall (B) measured or described anew."), "{log:?}");
    let yard = Yard { crew: yard.crew.restarted().await, job: yard.job };
    assert_eq!(yard.log().await, log, "the log is read again as it was kept");
}

#[tokio::test]
async fn a_wall_that_is_set_is_not_measured_anew_and_stays_when_another_is() {
    let yard = Yard::new().await;
    yard.is_set("B").await;
    let hangs = yard.planned_on("B").await;
    let refused = yard.send_wall("B", "1518").await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let says = refused.text(".refusal-says");
    assert!(says.contains("is set or being set") && says.contains("back wall"), "{says}");
    assert!(refused.texts("main form").is_empty(), "there is no way to do it");
    let asked = yard.send_wall("A", "880").await;
    assert!(asked.texts(".note").iter().any(|note| note.contains("back wall")), "{}", asked.body);
    yard.agree(&asked).await.leads_to();
    assert_eq!(yard.planned_on("B").await, hangs);
    // A wall taken off the job is another layout too.
    let wall = yard.crew.get(&format!("/jobs/{}/walls/A", yard.job)).await;
    let version = wall.attribute("input[name=version]", "value");
    let remove = [("version", version.as_str()), ("do", "remove")];
    let asked = yard.crew.post(&format!("/jobs/{}/walls/A", yard.job), &remove).await;
    assert_eq!(asked.status, StatusCode::CONFLICT, "{}", asked.body);
    yard.agree(&asked).await.leads_to();
    assert!(yard.planned_on("A").await.is_empty());
    assert_eq!(yard.planned_on("B").await, hangs);
}

#[tokio::test]
async fn another_saw_has_its_price_and_what_changes_no_piece_has_none() {
    let yard = Yard::new().await;
    yard.cut_next(2).await;
    yard.crew.send_sheet(&yard.job, &[("tile-0-box", "7")]).await.leads_to();
    let logged = yard.log().await.len();
    let asked = yard.crew.send_sheet(&yard.job, &[("kerf", "4")]).await;
    assert_eq!(asked.status, StatusCode::CONFLICT);
    assert_eq!(asked.text("main form button"), "Change the sheet");
    assert_eq!(yard.log().await.len(), logged);
    yard.agree(&asked).await.leads_to();
    let log = yard.log().await;
    assert!(log[0].contains("The sheet is another"), "{log:?}");
    let form = yard.crew.get(&format!("/jobs/{}/sheet", yard.job)).await;
    assert!(form.attribute("input[name=kerf]", "value").starts_with('4'), "{}", form.body);
}

#[tokio::test]
async fn a_price_agreed_to_is_of_one_change_alone() {
    let yard = Yard::new().await;
    yard.cut_next(2).await;
    let asked = yard.crew.send_sheet(&yard.job, &[("kerf", "4")]).await;
    assert!(!asked.texts(".price").is_empty(), "{}", asked.body);
    // The same price, since a box holds no part in it.
    let fields = typed_over(&asked, &[("tile-0-box", "7")]);
    let again = yard.crew.post_form(&asked.attribute("main form", "action"), &fields).await;
    assert_eq!(again.status, StatusCode::CONFLICT);
    assert_eq!(again.texts(".price"), asked.texts(".price"));
    yard.agree(&again).await.leads_to();
}

#[tokio::test]
async fn what_moves_nothing_by_the_joints_that_are_kept_keeps_them() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let tile = [("tile-0-width", "598"), ("tile-0-height", "298"), ("tile-0-thickness", "9")];
    crew.send_sheet(&job, &tile).await.leads_to();
    let wall = Wall {
        name: "back wall",
        width: "1526",
        base: &[("0", "1200"), ("1526", "1202")],
        rise: "1000",
        more: &[("left-role", "bare"), ("right-role", "bare")],
    };
    crew.send_wall(&job, &wall).await.leads_to();
    let yard = Yard { crew, job };
    yard.cut_next(1).await;
    let before = yard.planned_on("A").await;
    let logged = yard.log().await;
    // Proposed anew with that, the wall would be another.
    let least = Length::mm(50);
    let mut anew = yard.crew.app.store.sheet(&yard.job).await.unwrap();
    anew.id = JobId::from("anew".to_owned());
    anew.sheet.smallest_cut = Some(LeastSize { width: least, height: least });
    let anew = yard.crew.app.work.plan_tried(&anew).await.unwrap();
    assert_ne!(anew.option.pieces, before, "the story is about a wall that it would move");

    let typed = [("smallest-width", "50"), ("smallest-height", "50")];
    yard.crew.send_sheet(&yard.job, &typed).await.leads_to();
    let stored = yard.crew.app.store.sheet(&yard.job).await.unwrap();
    assert_eq!(stored.sheet.smallest_cut, Some(LeastSize { width: least, height: least }));
    assert_eq!(yard.planned_on("A").await, before);
    assert_eq!(yard.log().await, logged, "nothing moved, so there was no price");
}

#[tokio::test]
async fn what_is_free_is_free_by_the_log_that_it_was_held_against() {
    let yard = Yard::new().await;
    let store = &yard.crew.app.store;
    let stored = store.sheet(&yard.job).await.unwrap();
    let layout = Layout { joint: Some(Length::mm(4)), ..stored.sheet.layout.clone() };
    let save = async |seen| {
        let (key, change) = (EventKey::random(), SheetChange::Layout(layout.clone()));
        store.change_sheet_as_seen(key, yard.job.clone(), stored.version, change, seen).await
    };
    let seen = store.last_entry(&yard.job).await.unwrap();
    yard.cut_next(1).await;
    assert!(matches!(save(seen).await, Err(StoreError::Stale)), "somebody cut in between");
    assert_eq!(store.sheet(&yard.job).await.unwrap(), stored, "and nothing of it is kept");
    let entries = store.events(&yard.job).await.unwrap();
    assert_eq!(store.last_entry(&yard.job).await.unwrap(), entries.last().unwrap().sequence);
    save(entries.last().unwrap().sequence).await.unwrap();
    assert_eq!(store.sheet(&yard.job).await.unwrap().sheet.layout, layout);
}

#[tokio::test]
async fn a_price_is_agreed_to_once_and_its_key_says_nothing_else() {
    let yard = Yard::new().await;
    yard.cut_next(3).await;
    let asked = yard.relay(&TO_300).await;
    let mut fields: Vec<_> = asked.form_fields().into_iter().filter(|(name, _)| name != "key").collect();
    let address = asked.attribute("main form", "action");
    let send = async |fields: &[(String, String)]| {
        let fields: Vec<_> = fields.iter().map(|(name, typed)| (name.as_str(), typed.as_str())).collect();
        yard.crew.post_with_key(&address, "0123456789abcdef", &fields).await
    };
    let first = send(&fields).await.leads_to();
    assert_eq!(send(&fields).await.leads_to(), first);
    let logged = yard.log().await;
    assert_eq!(logged.iter().filter(|says| says.starts_with("Another layout.")).count(), 1);
    for (_, typed) in fields.iter_mut().filter(|(name, _)| name == "start-B") {
        *typed = "310".to_owned();
    }
    assert_eq!(send(&fields).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(yard.log().await, logged);
}

#[tokio::test]
async fn layouts_that_are_only_asked_about_push_no_plan_off_the_desk() {
    let yard = Yard::new().await;
    yard.cut_next(1).await;
    let work = &yard.crew.app.work;
    let stored = yard.crew.app.store.sheet(&yard.job).await.unwrap();
    let plan = work.plan(&stored).await.unwrap();
    for start in (210..310).step_by(10) {
        let start = start.to_string();
        let asked = yard.relay(&[("change", "start"), ("wall", "B"), ("start-B", &start)]).await;
        assert_eq!(asked.status, StatusCode::CONFLICT, "{}", asked.body);
    }
    assert!(Arc::ptr_eq(&work.plan(&stored).await.unwrap(), &plan), "it was planned once more");
}

#[tokio::test]
async fn what_was_measured_again_is_no_other_layout() {
    let site = Site::new().await;
    let end = site.end().await;
    site.finds(&end, -4, "piece").await;
    site.crew.send_sheet(&site.job, &[("tile-0-box", "7")]).await.leads_to();
    let yard = Yard { crew: site.crew, job: site.job };
    yard.is_set("B").await;
    let asked = yard.relay(&[("change", "start"), ("wall", "A"), ("start-A", "300")]).await;
    assert!(!asked.texts(".price").is_empty(), "the back wall stays as it hangs: {}", asked.body);
}
