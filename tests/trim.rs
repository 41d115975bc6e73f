//! A piece that is cut and measured again after: trimmed where it is too large, cut anew where it is too small, and never
//! lost from the count.

use std::convert::Infallible;

use axum::http::StatusCode;
use coursebook::store::{EventId, EventKey, NewTrim, Sawn, StoreError, TRIMMED, Trimmed};
use trade::geometry::Sides;
use trade::measure::Length;
use trade::place::PieceId;

use crate::fit::Site;
use crate::support::Page;

impl Site {
    /// Presses "Trim it" or "Cut it anew" as a page of that piece shows it.
    async fn mend(&self, page: &Page) -> Page {
        let value = |name: &str| page.attribute(&format!(".cut-mend input[name={name}]"), "value");
        let (print, entry) = (value("print"), value("entry"));
        let url = page.attribute(".cut-mend", "action");
        self.crew.post(&url, &[("print", &print), ("entry", &entry)]).await
    }

    /// The saw's line of what is spare, as a number.
    async fn spare(&self) -> i64 {
        let lines = self.saw().await.texts(".saw-spares");
        let says = lines.iter().find(|line| line.contains(" spare")).unwrap_or_else(|| panic!("{lines:?}"));
        let before: Vec<&str> = says.split(' ').collect();
        let at = before.iter().position(|word| word.starts_with("spare")).unwrap();
        before[at - 2].parse().unwrap()
    }

    async fn log(&self) -> Vec<String> {
        self.crew.get(&format!("/jobs/{}/log", self.job)).await.texts(".log-says")
    }
}

#[tokio::test]
async fn a_piece_that_is_too_wide_by_now_is_trimmed_and_stays_the_same_piece_of_the_same_tile() {
    let site = Site::new().await;
    site.crew.send_sheet(&site.job, &[("tile-0-box", "1000")]).await.leads_to();
    let end = site.end().await;
    let planned = site.across(&end).await;
    site.cut_up_to(&end).await;
    let (cut, spare) = (site.saw().await.text(".saw-progress strong"), site.spare().await);
    let answer = site.finds(&end, -4, "piece").await;
    assert!(answer.text(".fit-cost").starts_with("No extra tile: "), "{}", answer.text(".fit-cost"));

    let now = planned.piece - 4;
    let page = site.saw().await;
    let offered = page.text(&format!("#piece-{end} .cut-mend button"));
    assert_eq!(offered, "Trim it", "at the saw itself");
    let page = site.piece(&end).await;
    assert_eq!(page.text(".cut-take"), format!("Take {end} as it is cut"));
    assert_eq!(page.text(".straight .unseen"), format!("{now} mm"), "where the fence is set");
    assert_eq!(page.texts(".operations > li").len(), 1, "one cut");
    assert!(page.text(".drawing").contains(&format!("{now} mm")));
    site.mend(&page).await.leads_to();

    assert!(site.line(&end).await.contains("trimmed, lead, Tue 3:40 pm"), "{}", site.line(&end).await);
    assert_eq!((site.saw().await.text(".saw-progress strong"), site.spare().await), (cut, spare));
    let says = site.log().await.remove(0);
    let (from, to) = says.split_once(" to ").unwrap();
    assert!(from.starts_with(&format!("{end} was trimmed from {} × ", planned.piece)), "{says}");
    assert!(to.starts_with(&format!("{now} × ")), "{says}");

    // Whoever pressed it on another phone hears who was quicker.
    let again = site.mend(&page).await;
    assert_eq!(again.status, StatusCode::CONFLICT);
    assert!(
        again.text(".refusal-says").starts_with(&format!("{end} was trimmed already: lead, Tue 3:40 pm."))
    );
    let (url, entry) = (
        answer.attribute("form[action$=not-measured]", "action"),
        answer.attribute("form[action$=not-measured] input[name=entry]", "value"),
    );
    let stays = site.crew.post(&url, &[("entry", &entry)]).await;
    assert_eq!(stays.status, StatusCode::CONFLICT, "it was trimmed to that size");

    let Site { crew, job } = site;
    let site = Site { crew: crew.restarted().await, job };
    let page = site.piece(&end).await;
    assert_eq!(page.text("main .state.done"), "trimmed, lead, Tue 3:40 pm");
    assert!(page.texts(".fence").is_empty(), "what was sawn before is the wrong size by now");
    assert_eq!(page.text(".cut-back button"), "Not trimmed after all");
    let (url, entry) =
        (page.attribute(".cut-back", "action"), page.attribute(".cut-back input[name=entry]", "value"));
    site.crew.post(&url, &[("entry", &entry)]).await.leads_to();
    assert_eq!(site.piece(&end).await.text(".cut-mend button"), "Trim it");
    assert_eq!(site.log().await[0], format!("{end} was not trimmed after all."));
}

#[tokio::test]
async fn a_piece_trimmed_twice_and_broken_after_is_one_tile_more() {
    let site = Site::new().await;
    site.crew.send_sheet(&site.job, &[("tile-0-box", "1000")]).await.leads_to();
    let end = site.end().await;
    let planned = site.across(&end).await;
    site.cut_up_to(&end).await;
    let spare = site.spare().await;
    for _ in 0..2 {
        site.finds(&end, -4, "piece").await;
        let page = site.piece(&end).await;
        assert_eq!(page.text(".cut-mend button"), "Trim it");
        site.mend(&page).await.leads_to();
    }
    assert!(site.size(&end).await.starts_with(&format!("{} × ", planned.piece - 8)));
    assert!(site.piece(&end).await.texts("main .state.look").is_empty());
    let page = site.piece(&end).await;
    let entry = page.attribute(".cut-broke input[name=entry]", "value");
    let print = page.attribute(".cut-broke input[name=print]", "value");
    let url = page.attribute(".cut-broke", "action");
    site.crew.post(&url, &[("print", &print), ("entry", &entry)]).await.leads_to();
    assert_eq!(site.spare().await, spare - 1);
    assert!(site.piece(&end).await.texts("main .state.done").is_empty(), "it is to be cut");
}

#[tokio::test]
async fn a_piece_that_is_too_narrow_by_now_is_cut_anew_and_the_count_says_what_it_costs() {
    let site = Site::new().await;
    site.crew.send_sheet(&site.job, &[("tile-0-box", "1000")]).await.leads_to();
    let end = site.end().await;
    let planned = site.across(&end).await;
    site.cut_up_to(&end).await;
    let spare = site.spare().await;
    let answer = site.finds(&end, 4, "piece").await;
    assert_eq!(answer.text(".list .state.look"), "cut, and does not fit: it is cut anew");
    assert_eq!(answer.text("a.action"), format!("Cut {end} anew"));
    assert_eq!(answer.attribute("a.action", "href"), site.at(&format!("/{end}")));
    let costs = answer.texts(".fit-cost");
    assert_eq!(costs[0], format!("{end} has to be cut anew."));
    let more = match costs[1].as_str() {
        says if says.starts_with("No extra tile: ") => 0,
        says if says.starts_with("One tile more: ") => 1,
        says => panic!("{says}"),
    };
    let page = site.piece(&end).await;
    assert_eq!(page.text(".cut-mend button"), "Cut it anew");
    assert!(page.text(".cut-anew").contains("cannot be trimmed"));
    assert!(page.texts(".fence").is_empty(), "the figures that it was cut by are the wrong ones");
    site.mend(&page).await.leads_to();
    assert_eq!(site.spare().await, spare - more, "{costs:?}");
    assert_eq!(site.log().await[0], format!("{end} did not fit and is cut anew."));
    let page = site.saw().await;
    assert!(page.text(".saw-lost p").starts_with(&format!("To be cut anew: {end}, lead, Tue 3:40 pm.")));
    assert!(page.text(".saw-spares").contains("1 cut in vain."), "{}", page.text(".saw-spares"));
    assert!(site.size(&end).await.starts_with(&format!("{} × ", planned.piece + 4)));
    site.cut_up_to(&end).await;
    assert!(site.line(&end).await.contains("cut, lead"), "{}", site.line(&end).await);
    assert_eq!(site.spare().await, spare - more);
}

#[tokio::test]
async fn a_piece_found_to_fit_after_all_is_not_cut_anew() {
    let site = Site::new().await;
    let end = site.end().await;
    site.cut_up_to(&end).await;
    site.finds(&end, 4, "piece").await;
    site.mend(&site.piece(&end).await).await.leads_to();
    let page = site.saw().await;
    assert_eq!(page.text(".saw-lost button"), "Keep it as it was cut");
    let (url, entry) =
        (page.attribute(".saw-lost form", "action"), page.attribute(".saw-lost input[name=entry]", "value"));
    site.crew.post(&url, &[("entry", &entry)]).await.leads_to();
    assert_eq!(site.log().await[0], format!("{end} is kept as it was cut after all."));
    assert_eq!(site.piece(&end).await.text(".cut-mend button"), "Cut it anew");
}

#[tokio::test]
async fn what_no_trimming_makes_fit_is_not_taken_for_trimmed() {
    let site = Site::new().await;
    let end = site.end().await;
    site.cut_up_to(&end).await;
    site.finds(&end, -4, "piece").await;
    let page = site.piece(&end).await;
    // Another measurement comes in between: what the page showed is no longer what is wanted.
    site.finds(&end, -2, "piece").await;
    let late = site.mend(&page).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.text(".refusal-says").starts_with("The plan has changed since your page was drawn."));
    assert_eq!(site.piece(&end).await.text(".cut-mend button"), "Trim it");
}

#[tokio::test]
async fn a_trim_is_kept_as_the_log_stands_in_that_moment() {
    let site = Site::new().await;
    let end = site.end().await;
    site.cut_up_to(&end).await;
    let store = &site.crew.app.store;
    let by = store.at_the_box().await.unwrap();
    let record = |sawn: &Sawn| sawn.records.iter().find(|record| record.piece.0 == end).cloned().unwrap();
    let cut = record(&store.cut_log(&site.job).await.unwrap().sawn);
    let new = |key: &EventKey, cut: &EventId| NewTrim {
        key: key.clone(),
        job: site.job.clone(),
        piece: PieceId(end.clone()),
        cut: cut.clone(),
    };
    let a_millimetre_less = |sawn: &Sawn, piece: &str| {
        let cut = sawn.records.iter().find(|record| record.piece.0 == piece).cloned().unwrap();
        let (from, shape) = ((cut.was.width, cut.was.height), cut.was.shape);
        let to = (from.0 - Length::mm(1), from.1);
        Ok::<_, Infallible>(Trimmed { cut: cut.event, from, to, shape, own: Sides::NONE })
    };
    let (one, other) = (EventKey::random(), EventKey::random());
    for key in [&one, &other, &other] {
        let piece = end.clone();
        let look = move |sawn: &Sawn| a_millimetre_less(sawn, &piece);
        let kept = store.append_trim(new(key, &cut.event), by.clone(), look).await;
        assert!(kept.unwrap().is_ok());
    }
    let events = store.events(&site.job).await.unwrap();
    let trims: Vec<Trimmed> = events
        .iter()
        .filter(|event| event.kind == TRIMMED)
        .map(|event| Trimmed::of(event).unwrap())
        .collect();
    assert_eq!(trims.len(), 2, "a key does it once");
    assert_eq!((trims[0].from.0, trims[1].from), (cut.was.width, trims[0].to));
    let elsewhere = new(&other, &EventId::from("another cut".to_owned()));
    let piece = end.clone();
    let again = store.append_trim(elsewhere, by, move |sawn: &Sawn| a_millimetre_less(sawn, &piece)).await;
    assert!(matches!(again, Err(StoreError::KeyReused)), "{again:?}");
}
