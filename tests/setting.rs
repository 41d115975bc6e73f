//! A setter at the wall: what to bring up, what hangs, and what can still be undone.

use axum::http::StatusCode;

use crate::cuts::Yard;
use crate::support::Page;

impl Yard {
    async fn setting(&self) -> Page {
        self.crew.get(&format!("/jobs/{}/setting", self.job)).await
    }

    /// Presses that a run is set, as the page by now sends it; where it has no button, as one without print would.
    async fn lay(&self, run: &str) -> Page {
        let button = self.setting().await.texts(&format!("#run-{run} input[name=print]"));
        let print = if button.is_empty() { String::new() } else { self.print_of(run).await };
        self.lay_from(run, &print).await
    }

    /// Presses it on a page that said `print`.
    async fn lay_from(&self, run: &str, print: &str) -> Page {
        self.crew.post(&format!("/jobs/{}/setting/{run}", self.job), &[("print", print)]).await
    }

    async fn print_of(&self, run: &str) -> String {
        self.setting().await.attribute(&format!("#run-{run} input[name=print]"), "value")
    }

    /// Presses that it is not, as the page that shows it would send it.
    async fn take_down(&self, run: &str, entry: &str) -> Page {
        self.crew.post(&format!("/jobs/{}/setting/{run}/not-set", self.job), &[("entry", entry)]).await
    }

    /// Cuts everything that a run needs.
    async fn cut_for(&self, run: &str) -> Vec<String> {
        let cuts = self.setting().await.texts(&format!("#run-{run} .run-cuts .list-name"));
        for piece in &cuts {
            for before in self.piece(piece).await.texts(".cut-before a") {
                self.cut(before.trim_start_matches("To ")).await;
            }
            if self.piece(piece).await.texts("main .state.done").is_empty() {
                self.cut(piece).await;
            }
        }
        cuts
    }

    /// Reports on the board that a wall is set.
    async fn wall_is_set(&self, wall: &str) {
        self.crew
            .post(&format!("/jobs/{}/board/{wall}/set/done", self.job), &[("uncut", "999")])
            .await
            .leads_to();
    }
}

#[tokio::test]
async fn the_setter_reads_what_to_bring_up_and_which_cuts_are_missing() {
    let yard = Yard::new().await;
    let page = yard.setting().await;
    assert_eq!(page.texts("h2"), ["back wall", "left wall", "right wall"]);
    let cuts = page.texts("#run-B1 .run-cuts .list-name");
    let says = page.text("#run-B1 .run-bring-up");
    assert!(says.starts_with("Bring up "), "{says}");
    assert!(says.contains(&format!("{} cut", cuts.len())), "{says}, then {cuts:?}");
    assert!(cuts.iter().all(|cut| cut.starts_with("B1-")), "{cuts:?}");
    let states = page.texts("#run-B1 .run-cuts .state");
    assert_eq!(states, vec!["still to cut"; cuts.len()]);
    assert!(page.texts("#run-B1 button").is_empty(), "nothing to press before they are cut");

    yard.cut(&cuts[0]).await;
    let page = yard.setting().await;
    assert_eq!(page.text("#run-B1 .run-cuts .state"), "cut");
    let missing = page.text("#run-B1 .note");
    assert!(missing.starts_with(&(cuts.len() - 1).to_string()), "{missing}");
    yard.cut_for("B1").await;
    let print = yard.print_of("B1").await;
    yard.take_back(cuts.last().unwrap()).await.leads_to();
    let refused = yard.lay_from("B1", &print).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert_eq!(refused.texts("main .buttons a").len(), 2, "the missing one, and the way back");
}

#[tokio::test]
async fn course_by_course_the_wall_goes_up() {
    let yard = Yard::new().await;
    let cuts = yard.cut_for("B1").await;
    let page = yard.setting().await;
    assert_eq!(page.text("#run-B1 button"), "Course 1 is set");
    assert_eq!(
        page.texts(".setting-wall .run form").len(),
        page.texts(".setting-wall > .run form").len(),
        "later courses are only said"
    );
    yard.lay("B1").await.leads_to();
    let page = yard.setting().await;
    assert_eq!(page.text("#set-B summary"), "1 course set");
    assert!(page.text("#run-B1").contains("set, lead, Tue 3:40 pm"), "{}", page.text("#run-B1"));
    assert!(page.text("#run-B2 .run-bring-up").starts_with("Bring up "), "the next one is offered");
    assert_eq!(yard.lay("B1").await.status, StatusCode::CONFLICT, "nobody sets it twice");
    let log = yard.crew.get(&format!("/jobs/{}/log", yard.job)).await;
    assert_eq!(log.text(".log-says"), "B1 was set.");

    let yard = Yard { crew: yard.crew.restarted().await, job: yard.job };
    assert_eq!(yard.setting().await.text("#set-B summary"), "1 course set");
    assert_eq!(yard.piece(&cuts[0]).await.texts(".cut-back, .cut-broke").len(), 0);
}

#[tokio::test]
async fn a_piece_that_hangs_is_neither_uncut_nor_broken_at_the_saw() {
    let yard = Yard::new().await;
    let cuts = yard.cut_for("B1").await;
    let piece = cuts.last().unwrap();
    let page = yard.piece(piece).await;
    let entry = page.attribute(".cut-back input[name=entry]", "value");
    let print = page.attribute(".cut-broke input[name=print]", "value");
    yard.lay("B1").await.leads_to();
    assert!(yard.piece(piece).await.text(".cut-head").contains("It hangs on the wall, with B1."));
    assert!(yard.saw().await.texts(".saw-last").is_empty(), "the last cut is not offered to be undone");
    let at = |what: &str| format!("/jobs/{}/cuts/{piece}/{what}", yard.job);
    for (what, fields) in
        [("not-cut", vec![("entry", entry.as_str())]), ("broke", vec![("print", &print), ("entry", &entry)])]
    {
        let refused = yard.crew.post(&at(what), &fields).await;
        assert_eq!(refused.status, StatusCode::CONFLICT, "{what}");
        assert!(refused.text(".refusal").starts_with(&format!("{piece} hangs on the wall, with B1.")));
    }

    let entry = yard.setting().await.attribute("#run-B1 input[name=entry]", "value");
    yard.take_down("B1", &entry).await.leads_to();
    assert_eq!(yard.take_down("B1", &entry).await.status, StatusCode::CONFLICT);
    yard.take_back(piece).await.leads_to();
    assert!(yard.setting().await.texts("#set-B").is_empty());
}

#[tokio::test]
async fn once_the_board_says_that_a_wall_is_set_nothing_of_it_is_undone_here() {
    let yard = Yard::new().await;
    yard.cut_for("B1").await;
    yard.lay("B1").await.leads_to();
    let entry = yard.setting().await.attribute("#run-B1 input[name=entry]", "value");
    yard.wall_is_set("B").await;
    let page = yard.setting().await;
    assert!(page.texts("#run-B1 form, #run-B2 form").is_empty());
    assert!(page.text("#run-B2").contains("set, says the board"));
    assert!(!page.texts(".setting-wall > p .state.done").is_empty(), "all of it is set");
    let refused = yard.take_down("B1", &entry).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert_eq!(refused.text(".refusal"), "The board says that B1 is set. Correct it there first.");
    assert_eq!(yard.lay("B2").await.status, StatusCode::CONFLICT);
}

#[tokio::test]
async fn a_board_on_the_wall_shows_it_and_sends_nothing() {
    let mut yard = Yard::new().await;
    yard.cut_for("B1").await;
    let board = yard.crew.board("Hall").await.cookie().unwrap();
    yard.crew.hand_to(&board);
    assert_eq!(yard.setting().await.status, StatusCode::OK);
    assert_eq!(yard.lay("B1").await.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn a_press_kept_across_a_change_of_the_wall_is_refused_in_words() {
    let yard = Yard::new().await;
    let cuts = yard.cut_for("B1").await;
    let print = yard.print_of("B1").await;
    for piece in cuts.iter().rev() {
        yard.take_back(piece).await.leads_to();
    }
    // A hand narrower: the ends are other pieces, and what hangs is not what the page showed.
    yard.measure_back_wall("1420").await;
    yard.cut_for("B1").await;
    let refused = yard.lay_from("B1", &print).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text(".refusal").starts_with("The plan has changed since your page was drawn."));
    assert!(yard.setting().await.texts("#set-B").is_empty(), "nothing is kept");
    yard.lay("B1").await.leads_to();
    // A course that no plan has any more.
    let gone = yard.lay_from("B99", &print).await;
    assert_eq!(gone.status, StatusCode::CONFLICT);
    assert!(gone.text(".refusal").starts_with("The plan has changed since your page was drawn."));
}
