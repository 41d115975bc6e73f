//! Mixes of mortar and grout: told with one tap, counted down, an alarm past their pot life, and linked to what was set
//! from them.

use std::collections::BTreeSet;

use axum::http::{HeaderName, StatusCode};
use coursebook::store::{EventKey, NewLaid, Run};
use trade::cure::Span;
use trade::measure::SurfaceId;

use crate::board::Site;
use crate::support::{Crew, Page};

const PRESSED_AGO: HeaderName = HeaderName::from_static("pressed-ago");

impl Site {
    async fn batches(&self) -> Page {
        self.crew.get(&self.at("batches")).await
    }

    async fn mix(&self, fields: &[(&str, &str)]) -> Page {
        self.crew.post(&self.at("batches/of/set"), fields).await
    }

    /// What the first mix in use says of itself.
    async fn running(&self) -> String {
        self.board().await.texts(".batches li").into_iter().next().unwrap_or_default()
    }

    /// The entry of the mix told last.
    async fn last_batch(&self) -> String {
        let address = self.batches().await.attribute(".log a", "href");
        address.rsplit('/').next().unwrap().to_owned()
    }
}

fn minutes(minutes: i64) -> Span {
    Span::from_minutes(minutes)
}

#[tokio::test]
async fn one_tap_tells_of_a_mix_and_the_board_counts_it_down_to_its_alarm() {
    let site = Site::back_wall().await;
    let taps = site.board().await.texts(".batch-taps button");
    assert_eq!(taps, ["Mixed now: normal cement mortar", "Mixed now: normal cement grout"]);
    assert_eq!(site.mix(&[]).await.leads_to(), site.at("batches"));
    let resting = site.running().await;
    assert!(resting.starts_with("Batch 1: normal cement mortar Rests until Tue 3:50 pm"), "{resting}");
    assert!(resting.contains("Time left: 1 h") && resting.contains("Use by Tue 4:40 pm"), "{resting}");
    site.crew.pass(minutes(15));
    let good = site.running().await;
    assert!(good.contains("Use by Tue 4:40 pm Time left: 45 min"), "{good}");
    let left = site.board().await.attribute("[data-left]", "data-left");
    assert_eq!(left, (45 * 60_000).to_string(), "script counts on from there");
    site.crew.pass(minutes(44));
    assert!(site.running().await.contains("Time left: 1 min"));
    site.crew.pass(minutes(6));
    let past = site.running().await;
    assert!(
        past.contains("Past its pot life: throw it away. It was good until Tue 4:40 pm, 5 min ago."),
        "{past}"
    );
    assert_eq!(site.board().await.texts(".batches .state.alarm").len(), 1);
    site.done("set", &[]).await.leads_to();
    assert!(site.cell(0).await.contains("Done"), "an alarm is no lock");
    let batch = site.last_batch().await;
    site.crew.post(&site.at(&format!("batches/{batch}/used-up")), &[]).await.leads_to();
    assert_eq!(site.board().await.text(".board-batches .empty"), "Nothing mixed is in use.");
    let log = site.crew.get(&site.at("log")).await.texts(".log-says");
    assert_eq!(log[0], "Used up: Batch 1: normal cement mortar.");
    assert_eq!(log[2], "Batch 1 mixed: normal cement mortar, Tue 3:40 pm.");
}

#[tokio::test]
async fn a_lot_is_typed_once_a_bag_and_the_log_says_which_is_behind_which_wall() {
    let site = Site::back_wall().await;
    site.mix(&[("lot", "A12")]).await.leads_to();
    let board = site.board().await;
    assert_eq!(board.texts(".batch-taps button")[0], "Mixed now: normal cement mortar, lot A12");
    assert_eq!(board.attribute(".batch-taps input[name=lot]", "value"), "A12");
    site.mix(&[("lot", "A12")]).await.leads_to();
    site.mix(&[("lot", "B7")]).await.leads_to();
    let page = site.page("set").await;
    let choices = page.texts("select[name=batches] option");
    assert_eq!(choices[0], "All 3 in use");
    assert_eq!(choices[1], "Batch 3: normal cement mortar, lot B7, mixed Tue 3:40 pm");
    let values = page.attributes("select[name=batches] option", "value");
    let two = format!("{},{}", values[2], values[3]);
    site.done("set", &[("batches", &two)]).await.leads_to();
    assert_eq!(site.page("set").await.text(".log-from"), "From batch 2 (lot A12), batch 1 (lot A12).");
    let batches = site.batches().await;
    assert!(batches.texts(".log li")[2].contains("Behind: Back wall"), "{}", batches.body);
    assert!(!batches.texts(".log li")[0].contains("Behind"), "{}", batches.body);

    let mend = [("mend", "batches"), ("batches", values[1].as_str()), ("reason", "read the wrong bucket")];
    site.mend("set", &mend).await.leads_to();
    let log = site.crew.get(&site.at("log")).await;
    let froms = log.texts(".log-from");
    assert_eq!(froms, ["From batch 3 (lot B7).", "From batch 2 (lot A12), batch 1 (lot A12)."], "both stay");
    assert!(site.batches().await.texts(".log li")[0].contains("Behind: Back wall"));
    let when = site.page("set").await.text(".cell-more");
    assert!(when.contains("Tue 3:40 pm"), "the time of setting stays: {when}");
    site.mend("set", &[("mend", "time"), ("time", "15:30"), ("reason", "looked at the watch")])
        .await
        .leads_to();
    assert_eq!(site.page("set").await.texts(".log-from")[0], "From batch 3 (lot B7).");
}

#[tokio::test]
async fn a_mix_of_another_stage_or_job_is_none_to_choose() {
    let site = Site::back_wall().await;
    site.crew.post(&site.at("batches/of/grout"), &[]).await.leads_to();
    let grout = site.last_batch().await;
    for wrong in [grout.as_str(), "nothing", "a,b"] {
        let page = site.done("set", &[("batches", wrong)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{wrong}");
    }
    assert_eq!(site.cell(0).await, "Set Ready", "nothing was kept");
    for nowhere in ["batches/of/seal", "batches/of/party"] {
        assert_eq!(site.crew.post(&site.at(nowhere), &[]).await.status, StatusCode::NOT_FOUND, "{nowhere}");
    }
    let used = site.crew.post(&site.at("batches/nothing/used-up"), &[]).await;
    assert_eq!(used.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn too_much_water_is_kept_and_flagged_and_an_absurd_figure_is_refused() {
    let site = Site::back_wall().await;
    let bag = [("figure-bag", "20 kg"), ("figure-water-least", "4 l"), ("figure-water-most", "5 l")];
    site.save_mortar(&[&[("name", "grey bag")], &bag[..]].concat()).await.leads_to();
    let absurd = site.mix(&[("powder", "1/2"), ("water", "25 l")]).await;
    assert_eq!(absurd.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(absurd.text("#water").contains("cannot belong to that much powder"), "{}", absurd.body);
    assert_eq!(absurd.attribute("#set-water", "value"), "25 l", "as typed");
    for (field, typed) in [("powder", "a lot"), ("water", "2 cups"), ("degrees", "warm"), ("minutes", "-3")] {
        let page = site.mix(&[(field, typed)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{field}");
    }
    let alone = site.mix(&[("water", "2 l")]).await;
    assert!(alone.text("#powder").contains("Say how much powder too"), "{}", alone.body);
    assert_eq!(site.batches().await.texts(".log li").len(), 0, "nothing was kept");

    site.mix(&[("powder", "1/2"), ("water", "2.5 l")]).await.leads_to();
    assert!(!site.running().await.contains("More water"));
    site.mix(&[("powder", "1/2 bag"), ("water", "3 l"), ("lot", "X1")]).await.leads_to();
    let wet = site.running().await;
    assert!(wet.contains("More water than the bag allows: at most 2.5 l for that much powder."), "{wet}");
    assert!(wet.contains("Powder: 10 kg. Water: 3 l."), "{wet}");
}

#[tokio::test]
async fn what_the_bag_says_of_mixing_holds_and_nonsense_comes_back() {
    let site = Site::back_wall().await;
    let products = site.crew.get(&site.at("board/products")).await;
    assert!(products.text(".product").contains("Pot life 1 h Check the bag. Published: winenfood.com."));
    let faults = [
        (vec![("figure-pot-life", "1 min")], "figure-pot-life", "No bag says that"),
        (vec![("figure-pot-life", "soon")], "figure-pot-life", "24 h"),
        (vec![("figure-rest", "30"), ("figure-pot-life", "20")], "figure-pot-life", "contradict"),
        (
            vec![("figure-water-least", "7 l"), ("figure-water-most", "5 l")],
            "figure-water-most",
            "contradict",
        ),
        (vec![("figure-covers", "some")], "figure-covers", "Write the area"),
    ];
    for (fields, field, says) in faults {
        let page = site.save_mortar(&fields).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        let fault = page.text(&format!("#{field}-fault"));
        assert!(fault.contains(says) || says == "24 h" && !fault.is_empty(), "{fault}");
    }
    site.save_mortar(&[("name", "grey bag"), ("figure-pot-life", "120"), ("figure-rest", "5")])
        .await
        .leads_to();
    let form = site.crew.get(&site.at("board/products?stage=set")).await;
    assert_eq!(form.attribute("#figure-pot-life", "value"), "2 h", "what was typed comes back");
    site.mix(&[]).await.leads_to();
    assert!(site.running().await.contains("Use by Tue 5:40 pm"));
    let site = site.restarted().await;
    assert!(site.running().await.starts_with("Batch 1: grey bag Rests until Tue 3:45 pm"));
}

#[tokio::test]
async fn heat_makes_a_mix_good_for_less_time_whoever_tells_of_it() {
    let site = Site::back_wall().await;
    site.mix(&[("degrees", "29")]).await.leads_to();
    assert!(site.running().await.contains("Use by Tue 4:10 pm"), "{}", site.running().await);
    site.mix(&[]).await.leads_to();
    assert!(site.running().await.contains("Use by Tue 4:40 pm"));
    site.crew.post(&site.at("temperature"), &[("degrees", "29")]).await.leads_to();
    assert!(site.running().await.contains("Use by Tue 4:10 pm"), "what was read on the wall counts too");
    site.mix(&[("degrees", "5")]).await.leads_to();
    assert!(site.running().await.contains("Use by Tue 4:40 pm"), "cold makes nothing longer");
}

#[tokio::test]
async fn a_press_that_a_phone_kept_counts_from_when_it_was_pressed() {
    let site = Site::back_wall().await;
    let address = site.at("batches/of/set");
    let ago = |milliseconds: i64| milliseconds.to_string();
    let kept = [(PRESSED_AGO, ago(50 * 60_000))];
    let headers: Vec<_> = kept.iter().map(|(name, ago)| (name.clone(), ago.as_str())).collect();
    site.crew.post_with(&address, &[], &headers).await.leads_to();
    let late = site.running().await;
    assert!(late.contains("Use by Tue 3:50 pm Time left: 10 min"), "{late}");
    site.crew.post_with(&address, &[("minutes", "15")], &headers).await.leads_to();
    assert!(site.running().await.contains("Past its pot life"), "both are told");
    for nonsense in ["-90000000", "NaN", "soon", "1e300", ""] {
        let answer = site.crew.post_with(&address, &[], &[(PRESSED_AGO, nonsense)]).await;
        answer.leads_to();
    }
    let taken = site.batches().await.texts(".batches li");
    assert!(taken[1..].iter().any(|line| line.contains("Rests until Tue 3:50 pm")), "{taken:?}");
}

#[tokio::test]
async fn a_form_sent_twice_is_one_mix_and_another_with_its_key_is_none() {
    let site = Site::back_wall().await;
    let (key, address) = ("0123456789abcdef0123", site.at("batches/of/set"));
    for _ in 0..2 {
        site.crew.post_with_key(&address, key, &[("lot", "A1")]).await.leads_to();
        site.crew.pass(minutes(1));
    }
    assert_eq!(site.batches().await.texts(".log li").len(), 1);
    let other = site.crew.post_with_key(&address, key, &[("lot", "B2")]).await;
    assert_eq!(other.status, StatusCode::UNPROCESSABLE_ENTITY);
    let batch = site.last_batch().await;
    let over = site.at(&format!("batches/{batch}/used-up"));
    for _ in 0..2 {
        site.crew.post_with_key(&over, "fedcba98765432100123", &[]).await.leads_to();
    }
    let log = site.crew.get(&site.at("log")).await;
    assert_eq!(log.text(".log").matches("Used up").count(), 1);
}

#[tokio::test]
async fn a_mix_told_wrong_is_put_right_by_a_further_entry_and_keeps_its_time_and_links() {
    let site = Site::back_wall().await;
    site.mix(&[("lot", "A12")]).await.leads_to();
    let batch = site.last_batch().await;
    site.done("set", &[("batches", &batch)]).await.leads_to();
    site.crew.pass(minutes(5));
    let address = site.at(&format!("batches/{batch}"));
    let form = site.crew.get(&address).await;
    assert_eq!(form.attribute("#lot", "value"), "A12");
    let unreasoned = site.crew.post(&address, &[("right", "figures"), ("lot", "A13")]).await;
    assert_eq!(unreasoned.status, StatusCode::UNPROCESSABLE_ENTITY);
    let right = [("right", "figures"), ("lot", "A13"), ("reason", "misread the bag")];
    site.crew.post(&address, &right).await.leads_to();
    assert!(
        site.running().await.starts_with("Batch 1: normal cement mortar, lot A13 Rests until Tue 3:50 pm")
    );
    assert_eq!(site.page("set").await.text(".log-from"), "From batch 1 (lot A13).");
    let log = site.crew.get(&site.at("log")).await;
    assert!(log.text(".log").contains("Batch 1 put right: normal cement mortar, lot A13."));
    assert!(log.text(".log").contains("Batch 1 mixed: normal cement mortar, lot A12, Tue 3:40 pm."));
    assert!(log.text(".log").contains("Why: misread the bag"));
    site.crew.post(&address, &[("right", "never"), ("reason", "pressed by a sleeve")]).await.leads_to();
    assert_eq!(site.batches().await.texts(".log s"), ["Batch 1: normal cement mortar, lot A13"]);
    assert_eq!(site.board().await.text(".board-batches .empty"), "Nothing mixed is in use.");
    assert_eq!(site.crew.get(&address).await.status, StatusCode::NOT_FOUND);
    let again = site.crew.post(&address, &right).await;
    assert_eq!(again.status, StatusCode::CONFLICT, "{}", again.body);
}

#[tokio::test]
async fn a_helper_mixes_on_a_phone_and_a_board_only_shows_it() {
    let mut site = Site::back_wall().await;
    let helper = site.crew.helper("Ana").await.cookie();
    let screen = site.crew.board("Screen").await.cookie();
    site.crew.hand_to(&helper.unwrap());
    site.mix(&[("lot", "A12")]).await.leads_to();
    assert!(site.batches().await.text(".log").contains("Mixed Tue 3:40 pm, told by Ana."));
    assert!(site.running().await.contains("Time left: 1 h"));
    site.crew.hand_to(&screen.unwrap());
    let board = site.board().await;
    assert!(board.text(".batches").contains("Time left: 1 h"), "{}", board.body);
    assert_eq!(board.texts(".batch-taps button").len(), 0);
    assert_eq!(site.mix(&[]).await.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn without_a_layout_how_much_to_mix_is_told_once_the_bag_says_what_it_covers() {
    let site = Site::back_wall().await;
    assert!(site.batches().await.text(".mix").contains("How much to mix is told once there is a layout"));
    let bag = [("figure-bag", "20 kg"), ("figure-covers", "5 m²"), ("figure-pot-life", "3 h")];
    site.save_mortar(&bag).await.leads_to();
    let says = site.batches().await.text(".mix");
    // 2 m² an hour for 170 min, of which a square metre takes 4 kg: 22.7 kg, so one bag.
    assert!(says.contains("Mix 1 bag at once (20 kg) with 3.2 l to 5.6 l of water."), "{says}");
    assert!(says.contains("Spread at most 0.67 m² at a time"), "{says}");
    assert!(says.contains("Pace: 2 m² an hour, common practice"), "{says}");
    assert!(says.contains("Powder: 4 kg a square metre, from what the bag covers."), "{says}");
}

#[tokio::test]
async fn how_much_to_mix_follows_the_pace_that_the_crews_own_log_shows() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let address = format!("/jobs/{job}/batches");
    let usual = crew.get(&address).await.text(".mix");
    assert!(usual.contains("Pace: 2 m² an hour, common practice"), "{usual}");
    assert!(usual.contains("from published tables"), "{usual}");
    let by = crew.joined("Ana").await;
    let page = crew.get(&format!("/jobs/{job}/setting")).await;
    let runs: Vec<String> = page.texts(".run-label").into_iter().filter(|run| run.starts_with('A')).collect();
    assert!(runs.len() >= 4, "{runs:?}");
    for (course, run) in (1..).zip(runs.iter().take(4)) {
        let was = Run { wall: SurfaceId::new("A").unwrap(), course, cuts: BTreeSet::new() };
        let new = NewLaid { key: EventKey::random(), job: job.clone(), run: run.clone(), was };
        crew.app.store.append_laid(new, by.clone(), |_, _| Ok::<(), ()>(())).await.unwrap().unwrap();
        crew.pass(minutes(30));
    }
    let paced = crew.get(&address).await.text(".mix");
    assert!(paced.contains("an hour, from this crew’s own log."), "{paced}");
    assert!(!paced.contains("common practice until"), "{paced}");
}
