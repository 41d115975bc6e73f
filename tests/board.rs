//! The board, the gate and the log, as a crew lives with them. The back wall is over a membrane, where normal cement
//! mortar waits 48 h before grout.

use axum::http::StatusCode;
use coursebook::store::{EventKey, JobId, NewJob};
use trade::cure::{BootId, Instant, Span, Template, WallClock};
use trade::measure::Unit;

use crate::cuts::Yard;
use crate::support::{Crew, Page, START};

/// A job with walls, without the pages that measure them.
pub struct Site {
    pub crew: Crew,
    pub job: JobId,
}

impl Site {
    pub async fn new(walls: &[(&str, &str)]) -> Self {
        Self::of(Template::TileWork, walls).await
    }

    pub async fn of(work: Template, walls: &[(&str, &str)]) -> Self {
        let crew = Crew::new().await;
        let new = NewJob {
            name: "Alder Court".to_owned(),
            unit: Unit::Millimetre,
            zone: "Europe/Lisbon".to_owned(),
            work,
        };
        let job = crew.app.store.make_job(EventKey::random(), new).await.unwrap();
        let options =
            sqlx::sqlite::SqliteConnectOptions::new().filename(crew.folder.path().join("coursebook.db"));
        let pool = sqlx::SqlitePool::connect_with(options).await.unwrap();
        for (place, (id, name)) in (1_i64..).zip(walls) {
            sqlx::query(
                "INSERT INTO wall (job, id, name, place, width, left_role, left_first, right_role, right_first,
                                   base_role, top_role, top_may_move, pattern)
                 VALUES (?, ?, ?, ?, 1, 'corner', 0, 'corner', 0, 'base', 'ceiling', 0, 'straight')",
            )
            .bind(job.as_str())
            .bind(id)
            .bind(name)
            .bind(place)
            .execute(&pool)
            .await
            .unwrap();
        }
        pool.close().await;
        Self { crew, job }
    }

    /// One wall, named "Back wall".
    pub async fn back_wall() -> Self {
        Self::new(&[("back", "Back wall")]).await
    }

    pub async fn restarted(self) -> Self {
        Self { crew: self.crew.restarted().await, job: self.job }
    }

    pub fn at(&self, rest: &str) -> String {
        format!("/jobs/{}/{rest}", self.job)
    }

    pub async fn board(&self) -> Page {
        self.crew.get(&self.at("board")).await
    }

    /// The words of a stage's cell: 0 is set, 1 clips off, 2 grout, 3 seal.
    pub async fn cell(&self, stage: usize) -> String {
        self.board().await.texts(".board-cell").remove(stage)
    }

    pub async fn page(&self, stage: &str) -> Page {
        self.crew.get(&self.at(&format!("board/back/{stage}"))).await
    }

    pub async fn start(&self, stage: &str) -> Page {
        self.crew.post(&self.at(&format!("board/back/{stage}/start")), &[]).await
    }

    pub async fn done(&self, stage: &str, when: &[(&str, &str)]) -> Page {
        self.crew.post(&self.at(&format!("board/back/{stage}/done")), when).await
    }

    /// Set at 3:40 pm on Tuesday, clips off a day later.
    pub async fn set_and_clips_off(&self) {
        self.done("set", &[]).await.leads_to();
        self.crew.pass(Span::from_hours(24));
        self.start("clip_removal").await.leads_to();
        self.done("clip_removal", &[]).await.leads_to();
    }

    pub async fn save_mortar(&self, fields: &[(&str, &str)]) -> Page {
        let mut all = vec![("stage", "set")];
        if !fields.iter().any(|(name, _)| *name == "class") {
            all.push(("class", "cement_mortar"));
        }
        all.extend_from_slice(fields);
        self.crew.post(&self.at("board/products"), &all).await
    }

    /// Corrects the newest entry of a stage.
    pub async fn mend(&self, stage: &str, fields: &[(&str, &str)]) -> Page {
        let address = self.page(stage).await.attribute(".log a", "href");
        self.crew.post(&address, fields).await
    }
}

#[tokio::test]
async fn a_board_without_walls_says_what_to_do_first() {
    let site = Site::new(&[]).await;
    let board = site.board().await;
    assert_eq!(board.status, StatusCode::OK);
    assert!(board.text(".empty").contains("Measure a wall first"));
    assert_eq!(board.attribute("a.action", "href"), site.at("walls/new"));
    assert_eq!(site.crew.get("/jobs/nowhere/board").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_new_wall_may_be_set_and_the_rest_says_what_it_waits_for() {
    let site = Site::new(&[("back", "Back wall"), ("left", "Left wall")]).await;
    let board = site.board().await;
    assert_eq!(board.texts(".board-wall h2"), ["Back wall", "Left wall"]);
    assert_eq!(
        board.texts(".board-cell")[..4],
        ["Set Ready", "Clips off Waits for: Set", "Grout Waits for: Set, Clips off", "Seal Waits for: Grout"]
    );
    assert_eq!(board.text("nav [aria-current]"), "Board");
}

#[tokio::test]
async fn grout_is_refused_with_the_time_and_the_reason_until_its_time_has_come() {
    let site = Site::back_wall().await;
    let refused = site.start("grout").await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let missing = "Back wall is not ready for this: Grout. First finish and log: Set, Clips off.";
    assert_eq!(refused.text(".refusal"), missing);

    site.set_and_clips_off().await;
    site.crew.pass(Span::from_minutes(18 * 60 + 48));
    let refused = site.start("grout").await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let not_yet = "Back wall was set Tue 3:40 pm with normal cement mortar. Grout not before Thu 3:40 pm. \
                   5 h 12 min to go.";
    assert_eq!(refused.text(".refusal"), not_yet);
    assert_eq!(site.cell(2).await, "Grout Not before Thu 3:40 pm 5 h 12 min to go");

    site.crew.pass(Span::from_minutes(5 * 60 + 12) - Span::from_millis(1));
    assert_eq!(site.start("grout").await.status, StatusCode::CONFLICT);
    assert_eq!(site.page("grout").await.texts(".log li").len(), 0, "a refusal leaves nothing behind");
    site.crew.pass(Span::from_millis(1));
    assert_eq!(site.cell(2).await, "Grout Ready since Thu 3:40 pm");
    site.start("grout").await.leads_to();
    assert_eq!(site.cell(2).await, "Grout Under way Thu 3:40 pm, lead");
    site.crew.pass(Span::from_hours(2));
    site.done("grout", &[]).await.leads_to();
    assert_eq!(site.cell(2).await, "Grout Done Thu 5:40 pm, lead");
    assert_eq!(site.cell(3).await, "Seal Not before Sun 5:40 pm 72 h to go");
}

#[tokio::test]
async fn after_a_restart_everything_is_still_there_and_the_gate_still_holds() {
    let site = Site::back_wall().await;
    site.set_and_clips_off().await;
    let site = site.restarted().await;
    assert_eq!(site.cell(0).await, "Set Done Tue 3:40 pm, lead");
    assert_eq!(site.start("grout").await.status, StatusCode::CONFLICT);
    site.crew.pass(Span::from_hours(24));
    let site = site.restarted().await;
    site.start("grout").await.leads_to();
}

#[tokio::test]
async fn a_clock_set_back_keeps_the_gate_closed_and_every_page_says_so() {
    let site = Site::back_wall().await;
    site.set_and_clips_off().await;
    site.crew.pass(Span::from_hours(30));
    assert!(site.cell(2).await.starts_with("Grout Ready"));
    site.crew.app.store.beat().await.unwrap();
    site.crew.time.lock().unwrap().wall = Instant::from_millis(START) + Span::from_hours(49);
    let board = site.board().await;
    assert!(board.text(".note").contains("earlier than a time it has seen already"), "{}", board.body);
    let refused = site.start("grout").await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text(".note").starts_with("The box’s clock says Thu 4:40 pm"));
    site.done("grout", &[]).await.leads_to();
    let log = site.crew.get(&site.at("log")).await;
    assert!(log.text(".log li").contains("clock was behind when this was told"));
}

#[tokio::test]
async fn hours_off_with_an_unsure_clock_are_not_counted_and_the_page_says_so() {
    let site = Site::back_wall().await;
    site.set_and_clips_off().await;
    {
        let mut time = site.crew.time.lock().unwrap();
        time.boot = BootId(2);
        time.wall = time.wall + Span::from_hours(30);
        time.since_boot = Span::from_minutes(1);
        time.wall_clock = WallClock::Unsure;
    }
    let site = site.restarted().await;
    let refused = site.start("grout").await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(
        refused.text(".refusal").contains("Grout not before Fri 9:40 pm. 24 h to go."),
        "{}",
        refused.body
    );
    assert!(refused.text(".note").starts_with("30 h of the wait could not be counted"));
    assert!(site.cell(2).await.contains("The time is unsure"));
}

#[tokio::test]
async fn a_finish_told_late_counts_from_when_it_was_told_until_the_lead_confirms() {
    let site = Site::back_wall().await;
    site.crew.pass(Span::from_hours(18));
    let when = [("day", "2026-03-03"), ("time", "15:40")];
    site.done("set", &when).await.leads_to();
    assert_eq!(site.cell(0).await, "Set Done Tue 3:40 pm, lead");
    let page = site.page("clip_removal").await;
    assert_eq!(page.text(".cell-state"), "Not before Thu 9:40 am");
    assert!(page.text(".note").contains("so the wait counts from Wed 9:40 am"));

    let reason = "I saw the last tile go in";
    site.mend("set", &[("mend", "confirm"), ("reason", reason)]).await.leads_to();
    assert_eq!(site.page("clip_removal").await.text(".cell-state"), "Not before Wed 3:40 pm");
    let log = site.page("set").await;
    assert!(
        log.text(".log li").contains("Time confirmed by lead, Wed 9:40 am. Why: I saw the last tile go in")
    );
}

#[tokio::test]
async fn a_late_time_cannot_be_confirmed_while_nobody_vouches_for_the_clock() {
    let site = Site::back_wall().await;
    site.crew.time.lock().unwrap().wall_clock = WallClock::Unsure;
    site.done("set", &[("minutes", "600")]).await.leads_to();
    let address = site.page("set").await.attribute(".log a", "href");
    let page = site.crew.get(&address).await;
    assert!(!page.body.contains("value=\"confirm\""));
    assert!(page.texts(".note").iter().any(|note| note.contains("only while the box’s clock is checked")));
    let refused = site.crew.post(&address, &[("mend", "confirm"), ("reason", "sure")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn a_finish_of_minutes_ago_is_taken_as_told_and_nonsense_is_asked_for_again() {
    let site = Site::back_wall().await;
    let faulty = site.done("set", &[("minutes", "a while")]).await;
    assert_eq!(faulty.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(faulty.attribute("#minutes", "value"), "a while");
    assert!(faulty.text("title").starts_with("Error:"));
    let to_come = site.done("set", &[("day", "2026-03-03"), ("time", "15:50")]).await;
    assert!(to_come.text(".faults").contains("still to come: the box’s clock says Tue 3:40 pm"));
    site.done("set", &[("minutes", "4")]).await.leads_to();
    let page = site.page("clip_removal").await;
    assert_eq!(page.text(".cell-state"), "Not before Wed 3:36 pm");
}

#[tokio::test]
async fn work_done_early_is_kept_and_marked_and_what_depends_on_it_counts_in_full() {
    let site = Site::back_wall().await;
    site.done("set", &[]).await.leads_to();
    site.crew.pass(Span::from_hours(3));
    site.done("clip_removal", &[]).await.leads_to();
    site.done("grout", &[]).await.leads_to();
    assert_eq!(site.cell(2).await, "Grout Done Tue 6:40 pm, lead Done early");
    assert_eq!(site.cell(3).await, "Seal Not before Fri 6:40 pm 72 h to go");
    assert!(site.page("grout").await.text(".log li").contains("Done early: before its time"));
}

#[tokio::test]
async fn who_corrects_an_entry_is_not_taken_for_who_did_the_work() {
    let mut site = Site::back_wall().await;
    let (lead, ben) = (site.crew.at_hand(), site.crew.helper("Ben").await.cookie().unwrap());
    site.crew.hand_to(&ben);
    site.done("set", &[]).await.leads_to();
    assert_eq!(site.cell(0).await, "Set Done Tue 3:40 pm, Ben");
    site.crew.hand_to(&lead);
    site.crew.pass(Span::from_hours(1));
    let to = |time| [("mend", "time"), ("day", "2026-03-03"), ("time", time), ("reason", "by my watch")];
    site.mend("set", &to("15:30")).await.leads_to();
    site.crew.pass(Span::from_hours(1));
    site.mend("set", &to("15:20")).await.leads_to();
    assert_eq!(site.cell(0).await, "Set Done Tue 3:20 pm, Ben");
    let lines = site.crew.get(&site.at("log")).await.texts(".log-told");
    let last = "Told by Ben. Corrected by lead, Tue 5:40 pm.";
    assert_eq!(lines, [last, "Told by Ben. Corrected by lead, Tue 4:40 pm.", "Told by Ben, Tue 3:40 pm."]);
    site.mend("set", &[("mend", "never"), ("reason", "it was the other job")]).await.leads_to();
    let lines = site.crew.get(&site.at("log")).await.texts(".log-told");
    assert_eq!(lines[0], "Told by Ben. Withdrawn by lead, Tue 5:40 pm.");
}

#[tokio::test]
async fn a_mistake_is_corrected_by_a_further_entry_and_both_stay_readable() {
    let site = Site::back_wall().await;
    site.done("set", &[]).await.leads_to();
    site.crew.pass(Span::from_hours(1));
    let correction = [("mend", "time"), ("day", "2026-03-03"), ("time", "16:10")];
    let faulty = site.mend("set", &correction).await;
    assert_eq!(faulty.status, StatusCode::UNPROCESSABLE_ENTITY, "it asks why");
    assert!(faulty.text(".faults").contains("Say why"));
    let with_reason = [correction.as_slice(), &[("reason", "two tiles were missing")]].concat();
    let first = site.page("set").await.attribute(".log a", "href");
    site.crew.post(&first, &with_reason).await.leads_to();

    let log = site.crew.get(&site.at("log")).await;
    let lines = log.texts(".log li");
    assert!(lines[0].starts_with("Back wall: Set finished Tue 4:10 pm"), "{lines:?}");
    assert!(lines[0].contains("Why: two tiles were missing"));
    assert_eq!(log.text(".log s"), "Back wall: Set finished Tue 3:40 pm with normal cement mortar.");
    assert!(lines[1].contains("Corrected by lead, Tue 4:40 pm: it was Tue 4:10 pm."));
    assert_eq!(site.cell(0).await, "Set Done Tue 4:10 pm, lead");

    let twice = site.crew.post(&first, &with_reason).await;
    assert_eq!(twice.status, StatusCode::CONFLICT, "someone corrected it already");
    site.mend("set", &[("mend", "never"), ("reason", "it was the other job")]).await.leads_to();
    assert_eq!(site.cell(0).await, "Set Ready");
    let lines = site.crew.get(&site.at("log")).await.texts(".log li");
    assert!(lines[0].contains("withdrawn. It never happened.") && lines[0].contains("the other job"));
    assert!(lines[1].contains("Withdrawn by lead"), "{lines:?}");
    assert_eq!(lines.len(), 3);
}

#[tokio::test]
async fn pressing_twice_logs_once_even_when_time_has_passed_between() {
    let site = Site::back_wall().await;
    let address = site.at("board/back/set/done");
    let fields = [("minutes", "3")];
    site.crew.post_with_key(&address, "0123456789abcdef", &fields).await.leads_to();
    site.crew.pass(Span::from_minutes(2));
    site.save_mortar(&[("name", "grey bag")]).await.leads_to();
    site.crew.post_with_key(&address, "0123456789abcdef", &fields).await.leads_to();
    assert_eq!(site.page("set").await.texts(".log li").len(), 1);
    let other = site.crew.post_with_key(&address, "0123456789abcdef", &[("minutes", "9")]).await;
    assert_eq!(other.status, StatusCode::UNPROCESSABLE_ENTITY, "the same key for something else");

    let mend = site.page("set").await.attribute(".log a", "href");
    let fields = [("mend", "never"), ("reason", "wrong wall")];
    site.crew.post_with_key(&mend, "fedcba9876543210", &fields).await.leads_to();
    site.crew.post_with_key(&mend, "fedcba9876543210", &fields).await.leads_to();
    assert_eq!(site.page("set").await.texts(".log li").len(), 2);
}

#[tokio::test]
async fn a_start_answered_once_is_answered_the_same_again() {
    let site = Site::back_wall().await;
    let address = site.at("board/back/set/start");
    let first = site.crew.post_with_key(&address, "0123456789abcdef", &[]).await.leads_to();
    let again = site.crew.post_with_key(&address, "0123456789abcdef", &[]).await.leads_to();
    assert_eq!(first, again);
    assert_eq!(site.page("set").await.texts(".log li").len(), 1);
}

#[tokio::test]
async fn a_finish_told_for_before_its_start_leaves_the_stage_under_way_and_says_so() {
    let site = Site::back_wall().await;
    site.start("set").await.leads_to();
    site.crew.pass(Span::from_minutes(2));
    site.done("set", &[("minutes", "30")]).await.leads_to();
    assert!(site.cell(0).await.starts_with("Set Under way Tue 3:40 pm, lead A finish was told for a time"));
}

#[tokio::test]
async fn a_waiting_time_shorter_than_usual_asks_for_a_reason_and_a_longer_one_does_not() {
    let site = Site::back_wall().await;
    let products = site.crew.get(&site.at("board/products")).await;
    assert!(products.text(".product").contains("grouting 48 h Check the bag. Published: engineerfix.com"));
    let form = site.crew.get(&products.attribute(".product a.button", "href")).await;
    assert_eq!(form.attribute("select#class option[selected]", "value"), "cement_mortar");

    let laxer = site.save_mortar(&[("name", "grey bag"), ("span-set_to_grout", "24 h")]).await;
    assert_eq!(laxer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(laxer.text(".faults").contains("shorter than the usual 48 h: say why"));
    assert_eq!(laxer.attribute("#span-set_to_grout", "value"), "24 h");

    let reason = ("why-set_to_grout", "the bag says 24 h over a membrane");
    site.save_mortar(&[("name", "grey bag"), ("span-set_to_grout", "24 h"), reason]).await.leads_to();
    site.save_mortar(&[("name", "slow bag"), ("span-set_to_grout", "3 days")]).await.leads_to();
    let site = site.restarted().await;
    let log = site.crew.get(&site.at("log")).await.texts(".log li");
    assert!(
        log[0].contains("Set: slow bag from now on, grey bag before. From the last tile set to grouting")
    );
    assert!(
        log[1]
            .contains("24 h by the bag (usual for the class: 48 h). Why: the bag says 24 h over a membrane")
    );
    assert!(log[1].contains("Told by lead, Tue 3:40 pm."));
    let products = site.crew.get(&site.at("board/products")).await;
    assert!(products.text(".product").contains("grouting 72 h From the bag"), "{}", products.body);
}

#[tokio::test]
async fn a_faster_bag_bought_later_does_not_shorten_the_wait_of_a_wall_already_set() {
    let site = Site::back_wall().await;
    site.set_and_clips_off().await;
    site.save_mortar(&[("class", "fast_cement_mortar")]).await.leads_to();
    assert_eq!(site.cell(2).await, "Grout Not before Thu 3:40 pm 24 h to go");
    assert!(site.page("set").await.text(".log li").contains("with normal cement mortar"));
}

#[tokio::test]
async fn what_the_bag_says_counts_for_the_wall_set_with_it() {
    let site = Site::back_wall().await;
    site.save_mortar(&[("name", "grey bag")]).await.leads_to();
    site.set_and_clips_off().await;
    let lax = [("name", "grey bag"), ("span-set_to_grout", "30"), ("why-set_to_grout", "read on the bag")];
    site.save_mortar(&lax).await.leads_to();
    assert_eq!(site.cell(2).await, "Grout Not before Wed 9:40 pm 6 h to go");
    site.save_mortar(&[("name", "grey bag"), ("span-set_to_grout", "72")]).await.leads_to();
    assert_eq!(site.cell(2).await, "Grout Not before Fri 3:40 pm 48 h to go");
}

#[tokio::test]
async fn every_page_of_the_board_has_all_its_words() {
    let site = Site::back_wall().await;
    site.set_and_clips_off().await;
    site.done("grout", &[("minutes", "50")]).await.leads_to();
    let mend = site.page("grout").await.attribute(".log a", "href");
    let pages =
        ["board", "board/products", "board/products?stage=seal", "log", "board/back/set", "board/back/seal"];
    for address in pages.map(|rest| site.at(rest)).iter().chain([&mend]) {
        let page = site.crew.get(address).await;
        assert_eq!(page.status, StatusCode::OK, "{address}");
        let keys = [
            "board-", "cell-", "gate-", "state-", "stage-", "product-", "window-", "entry-", "mend-", "time-",
        ];
        let words = page.text("main");
        for key in keys {
            assert!(!words.contains(key), "{address} lacks words for {key}: {words}");
        }
    }
    for nowhere in ["board/left/set", "board/back/plaster", "board/products?stage=clip_removal"] {
        assert_eq!(site.crew.get(&site.at(nowhere)).await.status, StatusCode::NOT_FOUND, "{nowhere}");
    }
}

/// Losing the layout must not turn part of a wall into the whole of it.
#[tokio::test]
async fn two_courses_set_are_not_a_wall_set_when_the_layout_is_lost() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let done = format!("/jobs/{job}/board/A/set/done");
    // The fields for the courses are in the form that says "just now", not only beside it.
    let page = crew.get(&format!("/jobs/{job}/board/A/set")).await;
    assert_eq!(page.attribute(&format!("form[action='{done}'] input[name=first]"), "inputmode"), "numeric");
    crew.post(&done, &[("first", "1"), ("last", "2"), ("uncut", "999")]).await.leads_to();
    let clips = format!("/jobs/{job}/board/A/clip_removal");
    let with_layout = crew.get(&clips).await.text("main");
    assert!(with_layout.contains("Waits for: Set"), "{with_layout}");

    let stored = crew.app.store.sheet(&job).await.unwrap();
    let mut other = stored.sheet.walls[1].clone();
    other.bands[0].upright = true;
    let change = coursebook::store::SheetChange::Wall(other);
    crew.app.store.change_sheet(EventKey::random(), job.clone(), stored.version, change).await.unwrap();
    let changed = crew.app.store.sheet(&job).await.unwrap();
    assert!(crew.app.work.plan(&changed).await.is_err(), "the layout is not lost");
    let without = crew.get(&clips).await.text("main");
    assert!(without.contains("Waits for: Set"), "{without}");
}

/// A wall that was set tells the hour of its grout, whatever else is still to be done before it.
#[tokio::test]
async fn the_grout_is_refused_with_its_hour_and_with_what_is_missing() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    crew.post(&format!("/jobs/{job}/board/A/set/done"), &[("uncut", "999")]).await.leads_to();
    let refused = crew.post(&format!("/jobs/{job}/board/A/grout/start"), &[]).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let says = refused.text(".refusal");
    assert!(says.contains("not before Thu 3:40 pm") && says.contains("48 h to go"), "{says}");
    assert!(says.contains("First finish and log: Clips off"), "{says}");
}

#[tokio::test]
async fn what_is_done_on_some_courses_is_not_ready_as_if_nothing_were() {
    let yard = Yard::new().await;
    let address = format!("/jobs/{}/board", yard.job);
    let cells = |page: Page| page.texts(".board-wall:first-of-type .board-cell");
    let part = |last| [("first", "1"), ("last", last), ("uncut", "999")];
    yard.crew.post(&format!("{address}/A/set/done"), &part("2")).await.leads_to();
    let set = cells(yard.crew.get(&address).await).remove(0);
    assert!(set.starts_with("Set Being set: 2 of "), "{set}");
    yard.crew.pass(Span::from_hours(48));
    yard.crew.post(&format!("{address}/A/clip_removal/done"), &part("1")).await.leads_to();
    let clips = cells(yard.crew.get(&address).await).remove(1);
    assert!(clips.contains("Waits for: Set") && clips.contains("Done: 1 of "), "{clips}");
}

#[tokio::test]
async fn the_board_says_how_many_courses_hang_until_the_wall_is_set() {
    let yard = Yard::new().await;
    let all = yard.labels().await.len();
    yard.cut_next(all).await;
    let job = &yard.job;
    let set = || async {
        let board = yard.crew.get(&format!("/jobs/{job}/board")).await;
        let cells = board.texts(".board-cell");
        let of_back_wall = |cell: &&String| cell.starts_with("Set ");
        let nth = board.texts(".board-name h2").iter().position(|name| name.contains("left wall")).unwrap();
        cells.iter().filter(of_back_wall).nth(nth).cloned().unwrap_or_default()
    };
    let before = set().await;
    assert!(!before.contains("Being set"), "{before}");
    for run in ["A1", "A2"] {
        let page = yard.crew.get(&format!("/jobs/{job}/setting")).await;
        let print = page.attribute(&format!("#run-{run} input[name=print]"), "value");
        yard.crew.post(&format!("/jobs/{job}/setting/{run}"), &[("print", &print)]).await.leads_to();
    }
    let now = set().await;
    assert!(now.starts_with("Set Being set: 2 of ") && now.contains(" courses"), "{now}");
    yard.crew.post(&format!("/jobs/{job}/board/A/set/done"), &[("uncut", "999")]).await.leads_to();
    let done = set().await;
    assert!(done.starts_with("Set Done") && !done.contains("Being set"), "{done}");
}

#[tokio::test]
async fn a_wall_told_to_be_set_while_its_pieces_are_not_cut_is_asked_about_once() {
    let yard = Yard::new().await;
    let done = format!("/jobs/{}/board/A/set/done", yard.job);
    let of_wall: Vec<String> =
        yard.labels().await.into_iter().filter(|piece| piece.starts_with('A')).collect();
    let asked = yard.crew.post(&done, &[("minutes", "5")]).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(asked.text("h1"), "Is it still done?");
    let says = format!("{} pieces of this are not cut. Nothing was written down yet.", of_wall.len());
    assert_eq!(asked.text("main .faults"), says);
    let board = format!("/jobs/{}/board/A/set", yard.job);
    assert!(!yard.crew.get(&board).await.text(".cell-state").contains("Done"));
    let fields: Vec<_> = asked.form_fields().into_iter().filter(|(name, _)| name != "key").collect();
    assert!(
        fields.contains(&("minutes".to_owned(), "5".to_owned())),
        "what was typed comes back: {fields:?}"
    );
    yard.crew.post_form(&asked.attribute("main form", "action"), &fields).await.leads_to();
    assert!(yard.crew.get(&board).await.text(".cell-state").contains("Done"));
    // Other stages are asked nothing.
    yard.crew.post(&format!("/jobs/{}/board/A/grout/done", yard.job), &[]).await.leads_to();
}
