//! The next steps in a calendar: a file for the crew, and an address that the lead makes and takes back.

use axum::http::StatusCode;
use icalendar::{Calendar, Component, DatePerhapsTime, Event};
use trade::cure::Span;

use crate::board::Site;
use crate::support::Page;

impl Site {
    async fn calendar_file(&self) -> Page {
        self.crew.get(&self.at("calendar.ics")).await
    }

    /// An address just made, as its path.
    async fn feed(&self) -> String {
        let made = self.crew.post(&self.at("calendar"), &[]).await.leads_to();
        let address = self.crew.get(&made).await.text(".address");
        address[address.find("/calendar/").unwrap()..].to_owned()
    }
}

fn read(page: &Page) -> Vec<Event> {
    assert_eq!(page.status, StatusCode::OK);
    assert_eq!(page.headers["content-type"], "text/calendar; charset=utf-8");
    let calendar: Calendar = page.body.parse().unwrap();
    calendar.events().cloned().collect()
}

fn starts(event: &Event) -> String {
    match event.get_start() {
        Some(DatePerhapsTime::DateTime(icalendar::CalendarDateTime::Utc(at))) => at.to_string(),
        other => panic!("{other:?} is no time in UTC"),
    }
}

#[tokio::test]
async fn each_step_that_has_a_time_is_in_the_file_with_its_alarm() {
    let site = Site::back_wall().await;
    assert!(read(&site.calendar_file().await).is_empty(), "nothing has a time yet");
    site.set_and_clips_off().await;
    let file = site.calendar_file().await;
    let events = read(&file);
    assert_eq!(events.len(), 1);
    assert_eq!(events[0].get_summary(), Some("Back wall: Grout may start"));
    assert_eq!(starts(&events[0]), "2026-03-05 15:40:00 UTC");
    let why = events[0].get_description().unwrap();
    assert!(why.starts_with("Back wall was set Tue 3:40 pm with normal cement mortar."), "{why}");
    assert!(file.body.contains("BEGIN:VALARM") && file.body.contains("ACTION:DISPLAY"), "{}", file.body);
    let before = (events[0].get_uid().unwrap().to_owned(), events[0].get_sequence().unwrap());
    assert_eq!(site.calendar_file().await.body, file.body, "asked again it is the same file");

    // A cold night moves it: the same step, told anew.
    site.crew.post(&site.at("temperature/night"), &[("lowest", "13")]).await.leads_to();
    let events = read(&site.calendar_file().await);
    assert_eq!(events[0].get_uid(), Some(before.0.as_str()));
    assert!(events[0].get_sequence().unwrap() > before.1);
    assert_eq!(starts(&events[0]), "2026-03-07 15:40:00 UTC");
    assert_eq!(events[0].get_timestamp().unwrap().to_string(), "2026-03-04 15:40:00 UTC", "when it was told");
    site.crew.pass(Span::from_hours(73));
    let events = read(&site.calendar_file().await);
    assert_eq!(starts(&events[0]), "2026-03-07 15:40:00 UTC", "it stays once it is ready");
    site.start("grout").await.leads_to();
    assert!(read(&site.calendar_file().await).is_empty(), "what is begun is no step to come");
}

#[tokio::test]
async fn a_mix_is_in_it_until_it_is_used_up() {
    let site = Site::back_wall().await;
    site.crew.post(&site.at("batches/of/grout"), &[("lot", "G;1,2")]).await.leads_to();
    let events = read(&site.calendar_file().await);
    let told: Vec<_> = events.iter().map(|event| (event.get_summary().unwrap(), starts(event))).collect();
    let grout = "Batch 1: normal cement grout, lot G;1,2";
    let (wipe, use_by) = (format!("First wipe: {grout}"), format!("Use by now: {grout}"));
    assert_eq!(
        told,
        [
            (wipe.as_str(), "2026-03-03 16:05:00 UTC".to_owned()),
            (use_by.as_str(), "2026-03-03 16:10:00 UTC".to_owned()),
        ]
    );
    let batch = site.crew.get(&site.at("batches")).await.attribute(".log a", "href");
    site.crew.post(&format!("{batch}/used-up"), &[]).await.leads_to();
    assert!(read(&site.calendar_file().await).is_empty());
}

#[tokio::test]
async fn an_address_is_read_without_signing_in_until_the_lead_takes_it_back() {
    let site = Site::back_wall().await;
    site.set_and_clips_off().await;
    let feed = site.feed().await;
    assert!(feed.ends_with("/en.ics") && feed.len() >= "/calendar/".len() + 32, "{feed}");
    let calendar = site.crew.stranger();
    let read_out = calendar.get(&feed).await;
    assert_eq!(read(&read_out), read(&site.calendar_file().await));
    let spanish = read(&calendar.get(&feed.replace("/en.ics", "/es.ics")).await);
    assert_eq!(spanish[0].get_uid(), read(&read_out)[0].get_uid());
    assert!(spanish[0].get_summary().unwrap().contains("ya se puede empezar"));
    let other = feed.replace(['0', '1', '2', '3', '4'], "5");
    for wrong in
        [&other, &feed.replace("en.ics", "xx.ics"), &feed.replace("en.ics", "en"), "/calendar/x/en.ics"]
    {
        if *wrong != feed {
            assert_eq!(calendar.get(wrong).await.status, StatusCode::NOT_FOUND, "{wrong}");
        }
    }
    assert_eq!(calendar.get(&site.at("calendar.ics")).await.status, StatusCode::FORBIDDEN);
    assert!(site.crew.get(&site.at("calendar")).await.text("main").contains("Made by lead, Wed 3:40 pm."));
    site.crew.post(&site.at("calendar/revoke"), &[]).await.leads_to();
    assert_eq!(calendar.get(&feed).await.status, StatusCode::NOT_FOUND);
    assert!(site.crew.get(&site.at("calendar")).await.text("main").contains("No address is in force."));
}

#[tokio::test]
async fn only_the_lead_makes_an_address_and_one_press_makes_one() {
    let mut site = Site::back_wall().await;
    let key = "0123456789abcdef0123";
    let first = site.crew.post_with_key(&site.at("calendar"), key, &[]).await.leads_to();
    assert!(first.contains("/made/"), "{first}");
    let second = site.crew.post_with_key(&site.at("calendar"), key, &[]).await.leads_to();
    assert_eq!(second, site.at("calendar"), "it is shown once");
    assert_eq!(site.crew.app.store.feeds(&site.job).await.unwrap().len(), 1);
    let helper = site.crew.helper("Ana").await.cookie().unwrap();
    site.crew.hand_to(&helper);
    assert_eq!(site.crew.post(&site.at("calendar"), &[]).await.status, StatusCode::FORBIDDEN);
    assert_eq!(site.crew.post(&site.at("calendar/revoke"), &[]).await.status, StatusCode::FORBIDDEN);
    assert_eq!(site.crew.get(&first).await.status, StatusCode::FORBIDDEN);
    assert_eq!(site.calendar_file().await.status, StatusCode::OK, "anyone of the crew may have the file");
    let missing = site.crew.get("/jobs/nowhere/calendar.ics").await;
    assert_eq!(missing.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
#[expect(clippy::disallowed_methods, reason = "the server has stopped, so nobody holds a lock")]
async fn the_database_keeps_no_address() {
    let site = Site::back_wall().await;
    let feed = site.feed().await;
    let token = feed.split('/').nth(2).unwrap().to_owned();
    let folder = site.crew.stopped().await;
    let mut found = 0;
    for file in std::fs::read_dir(folder.path()).unwrap() {
        let path = file.unwrap().path();
        if path.is_file() {
            let bytes = std::fs::read(&path).unwrap();
            found += 1;
            let holds = |needle: &[u8]| bytes.windows(needle.len()).any(|part| part == needle);
            assert!(!holds(token.as_bytes()), "{}", path.display());
        }
    }
    assert!(found > 0);
}
