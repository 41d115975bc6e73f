//! A tile runs short: a helper counts what is left, and is told whether it is enough, what to buy and what waits.

use axum::http::StatusCode;

use crate::cuts::Yard;
use crate::support::Page;

impl Yard {
    async fn stock(&self) -> Page {
        self.crew.get(&format!("/jobs/{}/stock", self.job)).await
    }

    async fn count(&self, left: &str) -> Page {
        let tile = self.stock().await.attribute("input[name=tile]", "value");
        self.crew.post(&format!("/jobs/{}/stock", self.job), &[("tile", &tile), ("left", left)]).await
    }

    /// How many are needed, as the page says before anybody counted or after.
    async fn needed(&self) -> usize {
        let says = self.stock().await.text(".stock .huge");
        let needed = says.rsplit(' ').nth(1).unwrap();
        needed.parse().unwrap_or_else(|_| panic!("no figure in {says}"))
    }

    /// How many tiles the layout takes from the first.
    async fn bought(&self) -> usize {
        let stored = self.crew.app.store.sheet(&self.job).await.unwrap();
        self.crew.app.work.plan(&stored).await.unwrap().option.figures.bought
    }
}

#[tokio::test]
async fn before_work_begins_as_many_are_needed_as_the_layout_takes() {
    let yard = Yard::new().await;
    assert_eq!(yard.needed().await, yard.bought().await);
    let proof = yard.stock().await.text(".stock");
    assert!(proof.contains("No way of cutting what is left to do takes fewer"), "{proof}");
    assert!(yard.stock().await.texts(".stock .state").is_empty(), "nobody has counted");
}

#[tokio::test]
async fn a_helper_who_counts_too_few_is_told_what_to_buy_and_what_waits() {
    let mut yard = Yard::new().await;
    let cookie = yard.crew.helper("Marta").await.cookie().unwrap();
    yard.crew.hand_to(&cookie);
    let needed = yard.needed().await;
    yard.count(&(needed - 3).to_string()).await.leads_to();
    let page = yard.stock().await;
    assert_eq!(page.text(".stock .huge"), format!("{} left, {needed} needed", needed - 3));
    assert_eq!(page.text(".stock .state"), "3 tiles short");
    let then = page.texts(".stock-then");
    assert!(then[0].starts_with("Buy 3 tiles"), "{then:?}");
    assert!(then[1].starts_with("With what is there you can finish: "), "{then:?}");
    assert!(then[2].starts_with("Waits for tile: ") && then[2].contains("wall"), "{then:?}");
    let saw = yard.saw().await.text(".saw-spares");
    assert_eq!(saw, format!("{} were left when they were counted, Tue 3:40 pm.", needed - 3));
    let log = yard.crew.get(&format!("/jobs/{}/log", yard.job)).await;
    assert!(log.text(".log-says").contains(&format!("{} left by hand count", needed - 3)), "{}", log.body);
    assert!(log.text(".log-told").contains("Marta"), "{}", log.body);

    yard.count("1").await.leads_to();
    assert!(yard.stock().await.texts(".stock-then")[1].starts_with("What is there finishes no wall."));
    yard.count(&(needed + 2).to_string()).await.leads_to();
    let page = yard.stock().await;
    assert_eq!(page.text(".stock .state"), "Enough: 2 to spare");
    assert!(page.texts(".stock-then").is_empty());
    let yard = Yard { crew: yard.crew.restarted().await, job: yard.job };
    assert_eq!(yard.stock().await.text(".stock .state"), "Enough: 2 to spare");
}

#[tokio::test]
async fn what_is_cut_and_set_after_a_count_is_taken_off_it() {
    let yard = Yard::new().await;
    let needed = yard.needed().await;
    yard.count(&needed.to_string()).await.leads_to();
    yard.cut_next(6).await;
    let now = yard.needed().await;
    assert!(now < needed, "tiles cut into are needed no more");
    let page = yard.stock().await;
    assert_eq!(page.text(".stock .state"), "Just enough");
    assert!(page.text(".stock .huge").starts_with(&format!("{now} left, ")), "{}", page.text(".stock .huge"));
    yard.crew.post(&format!("/jobs/{}/board/B/set/done", yard.job), &[("uncut", "999")]).await.leads_to();
    assert!(yard.needed().await < now, "whole tiles that hang are needed no more");
    let state = yard.stock().await.text(".stock .state");
    assert!(state.starts_with("Enough") || state == "Just enough", "{state}");
}

#[tokio::test]
async fn a_tile_that_broke_is_missing_from_the_count() {
    let yard = Yard::new().await;
    let needed = yard.needed().await;
    yard.count(&needed.to_string()).await.leads_to();
    let piece = yard.saw().await.text(".cut-label");
    let print = yard.print(&piece).await;
    let broke = format!("/jobs/{}/cuts/{piece}/broke", yard.job);
    yard.crew.post(&broke, &[("print", &print)]).await.leads_to();
    assert_eq!(yard.stock().await.text(".stock .state"), "One tile short");
    let cut = yard.cut_next(3).await;
    let sizes = |page: &Page| page.texts(".saw-done .queue-line");
    let before = sizes(&yard.saw().await);
    let left = yard.needed().await;
    yard.count(&left.to_string()).await.leads_to();
    assert_eq!(yard.stock().await.text(".stock .state"), "Just enough");
    assert_eq!(sizes(&yard.saw().await), before, "what is cut stays as it is: {cut:?}");
    yard.cut_next(2).await;
}

#[tokio::test]
async fn a_piece_cut_before_the_count_that_breaks_after_it_costs_one_tile() {
    let yard = Yard::new().await;
    let piece = yard.cut_next(1).await.remove(0);
    let needed = yard.needed().await;
    yard.count(&needed.to_string()).await.leads_to();
    assert_eq!(yard.stock().await.text(".stock .state"), "Just enough");
    let page = yard.crew.get(&format!("/jobs/{}/cuts/{piece}", yard.job)).await;
    let value = |name: &str| page.attribute(&format!(".cut-broke input[name={name}]"), "value");
    let broke = format!("/jobs/{}/cuts/{piece}/broke", yard.job);
    let says = [("print", value("print")), ("entry", value("entry"))];
    yard.crew.post(&broke, &says.each_ref().map(|(name, value)| (*name, value.as_str()))).await.leads_to();
    let missing = yard.needed().await - needed;
    assert!(missing <= 1, "{missing}");
    let says = if missing == 1 { "One tile short" } else { "Just enough" };
    assert_eq!(yard.stock().await.text(".stock .state"), says, "its tile was cut into before");
}

#[tokio::test]
async fn what_is_no_number_of_tiles_comes_back_with_what_was_typed() {
    let yard = Yard::new().await;
    for typed in ["", "-1", "many", "1000000"] {
        let answer = yard.count(typed).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{typed}");
        assert_eq!(answer.attribute(".wrong input", "value"), typed);
        let id = answer.attribute(".wrong input", "id");
        assert_eq!(answer.attribute(".faults a", "href"), format!("#{id}"));
    }
    let forged = [("tile", "of nobody"), ("left", "3")];
    let answer = yard.crew.post(&format!("/jobs/{}/stock", yard.job), &forged).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(yard.crew.get(&format!("/jobs/{}/log", yard.job)).await.texts(".log-says").is_empty());
}

#[tokio::test]
async fn counting_plans_again_what_is_not_cut_where_that_saves_a_tile() {
    let yard = Yard::new().await;
    let all = yard.labels().await.len();
    let cut = yard.cut_next(all).await;
    // Each gets a tile of its own when it breaks; some two of them fit one.
    for piece in &cut {
        let page = yard.piece(piece).await;
        let field = |name: &str| page.attribute(&format!(".cut-broke input[name={name}]"), "value");
        let (print, entry) = (field("print"), field("entry"));
        let broke = format!("/jobs/{}/cuts/{piece}/broke", yard.job);
        yard.crew.post(&broke, &[("print", &print), ("entry", &entry)]).await.leads_to();
    }
    let needed = yard.needed().await;
    yard.count(&needed.to_string()).await.leads_to();
    let page = yard.stock().await;
    let saved = page.text(".stock .note");
    assert!(saved.starts_with("What was not cut yet is planned again: "), "{saved}");
    let spare = page.text(".stock .state");
    assert!(spare.starts_with("Enough: "), "what was saved is to spare: {spare}");
    assert!(yard.needed().await < needed, "the saw goes by the plan that was told");
    let log = yard.crew.get(&format!("/jobs/{}/log", yard.job)).await;
    assert!(log.text(".log-says").contains(&saved), "{}", log.text(".log-says"));
    let queue = yard.labels().await;
    let yard = Yard { crew: yard.crew.restarted().await, job: yard.job };
    assert_eq!(yard.labels().await, queue, "a restarted server goes by the same plan");
    yard.cut_next(3).await;
    assert_eq!(yard.stock().await.text(".stock .state"), spare);
}

#[tokio::test]
async fn whoever_looks_again_waits_for_no_planner() {
    let yard = Yard::new().await;
    let address = format!("/jobs/{}/stock", yard.job);
    let first = yard.crew.get(&address).await.text("main");
    // Somebody has the planner's only place, until this story is told.
    let (began, begins) = tokio::sync::oneshot::channel();
    let (free, held) = std::sync::mpsc::channel::<()>();
    let work = yard.crew.app.work.clone();
    let holds = async move {
        let hold = move || (began.send(()), held.recv());
        work.in_turn(hold).await.is_ok()
    };
    let holder = tokio::spawn(holds);
    begins.await.unwrap();
    let again = tokio::time::timeout(std::time::Duration::from_secs(10), yard.crew.get(&address)).await;
    free.send(()).unwrap();
    assert!(holder.await.unwrap());
    assert_eq!(again.expect("nobody planned it anew").text("main"), first);
    yard.cut_next(1).await;
    assert_ne!(yard.crew.get(&address).await.text("main"), first, "what was cut since counts");
}
