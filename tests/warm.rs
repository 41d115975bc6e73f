//! How cold it is: what a crew tells, and how much longer the board then makes them wait.

use axum::http::StatusCode;
use trade::cure::Span;

use crate::board::Site;
use crate::support::{Crew, Page};

const HOUR: Span = Span::from_hours(1);

impl Site {
    async fn read(&self, fields: &[(&str, &str)]) -> Page {
        self.crew.post(&self.at("temperature"), fields).await
    }

    async fn degrees(&self, number: &str) {
        self.read(&[("degrees", number)]).await.leads_to();
    }

    async fn night(&self, lowest: &str) {
        self.crew.post(&self.at("temperature/night"), &[("lowest", lowest)]).await.leads_to();
    }

    async fn temperatures(&self) -> Page {
        self.crew.get(&self.at("temperature")).await
    }

    async fn change(&self, statement: &'static str) -> Result<(), sqlx::Error> {
        let file = self.crew.folder.path().join("coursebook.db");
        let options = sqlx::sqlite::SqliteConnectOptions::new().filename(file);
        let pool = sqlx::SqlitePool::connect_with(options).await?;
        let done = sqlx::query(statement).execute(&pool).await.map(|_| ());
        pool.close().await;
        done
    }
}

#[tokio::test]
async fn a_cold_night_pushes_the_grout_back_and_the_board_says_why_and_by_how_much() {
    let site = Site::back_wall().await;
    site.set_and_clips_off().await;
    assert_eq!(site.cell(2).await, "Grout Not before Thu 3:40 pm 24 h to go");
    site.night("13").await;
    assert_eq!(site.cell(2).await, "Grout Not before Sat 3:40 pm 72 h to go 48 h longer for the cold");
    let refused = site.start("grout").await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let why = "Back wall was set Tue 3:40 pm with normal cement mortar. Grout not before Sat 3:40 pm. 72 h to go. \
               Cold makes it 48 h longer: 48 h at 21 °C, and 4 days at 13 °C.";
    assert_eq!(refused.text(".refusal"), why);
    assert!(!refused.body.contains("could not be counted"), "the clock lost nothing");
    let grout = site.page("grout").await;
    assert!(
        grout
            .text(".list")
            .contains("then 48 h: normal cement mortar, over a membrane. At 13 °C it is 4 days")
    );
    assert!(
        grout.text("main").contains("by the curve of concrete it is 17.2 h old, of 48 h"),
        "{}",
        grout.text("main")
    );
    site.crew.pass(Span::from_hours(72) - Span::from_millis(1));
    assert_eq!(site.start("grout").await.status, StatusCode::CONFLICT);
    site.crew.pass(Span::from_millis(1));
    site.start("grout").await.leads_to();
}

#[tokio::test]
async fn one_tap_tells_how_cold_it_is_and_counts_as_the_coldest_that_its_button_says() {
    let site = Site::back_wall().await;
    site.night("25").await;
    let board = site.board().await;
    assert_eq!(
        board.texts(".board-warmth button"),
        ["Cold 5 °C to 12 °C", "Cool 13 °C to 20 °C", "Normal 21 °C and more"]
    );
    assert!(board.text(".board-warmth").contains("25 °C counts now."));
    for (feel, says) in [("cold", "5 °C"), ("cool", "13 °C"), ("normal", "21 °C")] {
        assert_eq!(site.read(&[("feel", feel)]).await.leads_to(), site.at("board"));
        let board = site.board().await;
        assert!(
            board.text(".board-warmth").contains(&format!("{says} counts now.")),
            "{feel}: {}",
            board.body
        );
        site.crew.pass(HOUR);
    }
    let log = site.crew.get(&site.at("log")).await;
    assert!(log.text(".log").contains("Whole room: 13 °C, Tue 4:40 pm. Told by lead, Tue 4:40 pm."));
    assert!(log.text(".log").contains("The nights come down to 25 °C."));
}

#[tokio::test]
async fn a_crew_that_measures_in_inches_reads_fahrenheit() {
    let site = Site::back_wall().await;
    site.change("UPDATE job SET unit = 'in'").await.unwrap();
    site.night("70").await;
    assert!(site.board().await.text(".board-warmth").contains("Cold 41 °F to 54 °F"));
    site.degrees("50").await;
    assert!(site.temperatures().await.text(".log").contains("Whole room: 50 °F"));
    site.degrees("10 C").await;
    let read = site.temperatures().await.texts(".log-says");
    assert_eq!(read, ["Whole room: 50 °F, Tue 3:40 pm.", "Whole room: 50 °F, Tue 3:40 pm."]);
}

#[tokio::test]
async fn what_is_no_temperature_comes_back_as_typed_with_a_sentence() {
    let site = Site::back_wall().await;
    let nonsense = [
        ("400", "Look at the thermometer again."),
        ("warm", "Write a temperature"),
        ("", "Write a temperature"),
    ];
    for (typed, says) in nonsense {
        let page = site.read(&[("degrees", typed)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{typed}");
        assert!(page.text("#degrees-fault").contains(says), "{}", page.body);
        assert_eq!(page.attribute("#degrees", "value"), typed);
        let page = site.crew.post(&site.at("temperature/night"), &[("lowest", typed)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{typed}");
        assert!(page.text("#lowest-fault").contains(says));
    }
    let page = site.read(&[("degrees", "10"), ("wall", "attic")]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = site.read(&[("degrees", "10"), ("time", "4:40 pm")]).await;
    assert!(page.text("#time-fault").contains("still to come"));
    assert!(site.temperatures().await.text("main").contains("Nothing was read yet."));
}

#[tokio::test]
async fn a_form_sent_twice_is_one_reading_and_another_with_its_key_is_none() {
    let site = Site::back_wall().await;
    let (key, address) = ("0123456789abcdef0123", site.at("temperature"));
    for _ in 0..2 {
        site.crew.post_with_key(&address, key, &[("degrees", "10")]).await.leads_to();
        site.crew.pass(HOUR);
    }
    assert_eq!(site.temperatures().await.texts(".log li").len(), 1);
    let other = site.crew.post_with_key(&address, key, &[("degrees", "20")]).await;
    assert_eq!(other.status, StatusCode::UNPROCESSABLE_ENTITY);
    let night = ("fedcba98765432100123", site.at("temperature/night"));
    for _ in 0..2 {
        site.crew.post_with_key(&night.1, night.0, &[("lowest", "10")]).await.leads_to();
    }
    let log = site.crew.get(&site.at("log")).await;
    assert_eq!(log.text(".log").matches("The nights come down to").count(), 1);
}

#[tokio::test]
async fn a_wrong_reading_is_corrected_by_a_further_one_and_both_stay_readable() {
    let site = Site::back_wall().await;
    site.night("21").await;
    site.done("set", &[]).await.leads_to();
    site.degrees("5").await;
    site.crew.pass(HOUR);
    let address = site.temperatures().await.attribute(".log a", "href");
    assert!(site.crew.get(&address).await.text("main").contains("Whole room: 5 °C, Tue 3:40 pm."));
    let faulty = site.crew.post(&address, &[("right", "number"), ("degrees", "x")]).await;
    assert_eq!(faulty.status, StatusCode::UNPROCESSABLE_ENTITY);
    let unreasoned = site.crew.post(&address, &[("right", "number"), ("degrees", "21")]).await;
    assert!(unreasoned.text("#reason-fault").contains("Say why"), "{}", unreasoned.body);
    let reasoned =
        [("right", "number"), ("degrees", "21"), ("reason", "the thermometer lay on a bucket of ice")];
    site.crew.post(&address, &reasoned).await.leads_to();
    let page = site.temperatures().await;
    assert_eq!(page.texts(".log s"), ["Whole room: 5 °C, Tue 3:40 pm."]);
    assert_eq!(page.texts(".log-why"), ["Why: the thermometer lay on a bucket of ice"]);
    assert!(page.text(".log").contains("Corrected by lead, Tue 4:40 pm."));
    assert!(
        page.text(".log").contains("Whole room: 21 °C, Tue 3:40 pm."),
        "it counts from when the first did"
    );
    assert_eq!(site.cell(1).await, "Clips off Not before Wed 3:40 pm 23 h to go");
    assert_eq!(site.crew.get(&address).await.status, StatusCode::CONFLICT, "it was corrected already");
    let again = site.crew.post(&address, &[("right", "never"), ("reason", "x")]).await;
    assert_eq!(again.status, StatusCode::CONFLICT);
    let log = site.crew.get(&site.at("log")).await;
    assert!(log.text(".log").contains("Whole room: corrected to 21 °C."));
    assert_eq!(log.texts(".log-why"), ["Why: the thermometer lay on a bucket of ice"]);

    let address = page.attribute(".log a", "href");
    let unreasoned = site.crew.post(&address, &[("right", "never")]).await;
    assert_eq!(unreasoned.status, StatusCode::UNPROCESSABLE_ENTITY);
    site.crew.post(&address, &[("right", "never"), ("reason", "a joke")]).await.leads_to();
    assert_eq!(site.temperatures().await.texts(".log s").len(), 2);
    for statement in [
        "UPDATE reading SET tenths = 210",
        "DELETE FROM reading",
        "UPDATE night SET tenths = 0",
        "DELETE FROM night",
    ] {
        let refused = site.change(statement).await.unwrap_err().to_string();
        assert!(refused.contains("only ever added"), "{statement}: {refused}");
    }
    let twice = "INSERT INTO reading SELECT (SELECT id FROM event WHERE kind = 'night'), job, wall, holds_from, tenths,
                     source, supersedes FROM reading WHERE supersedes IS NOT NULL LIMIT 1";
    let refused = site.change(twice).await.unwrap_err().to_string();
    assert!(refused.contains("UNIQUE constraint failed: reading.supersedes"), "{refused}");
    let absolute_zero = "INSERT INTO night SELECT id, job, -2730 FROM event WHERE kind = 'reading' LIMIT 1";
    let refused = site.change(absolute_zero).await.unwrap_err().to_string();
    assert!(refused.contains("CHECK constraint failed"), "{refused}");
}

#[tokio::test]
async fn colder_than_the_mortar_works_at_its_time_stands_still_until_the_wall_is_warmed() {
    let site = Site::back_wall().await;
    site.night("21").await;
    site.set_and_clips_off().await;
    site.degrees("22").await;
    site.crew.pass(HOUR);
    site.degrees("4").await;
    assert_eq!(site.cell(2).await, "Grout Not yet: too cold 4 °C; the time stands still below 5 °C");
    site.crew.pass(Span::from_hours(5));
    let refused = site.start("grout").await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let why = "It stands still: at 4 °C normal cement mortar does not harden, it works from 5 °C. Warm the wall; then \
               24 h are left at 21 °C.";
    assert!(refused.text(".refusal").ends_with(why), "{}", refused.text(".refusal"));
    site.degrees("22").await;
    site.crew.pass(Span::from_hours(1));
    site.degrees("22").await;
    // Until the first warm reading nobody knows how long it stayed cold; the hour since is one.
    site.crew.pass(Span::from_hours(23) - Span::from_millis(1));
    assert_eq!(site.start("grout").await.status, StatusCode::CONFLICT);
    site.crew.pass(Span::from_millis(1));
    site.start("grout").await.leads_to();
}

#[tokio::test]
async fn frost_before_the_mortar_was_hard_marks_the_wall() {
    let site = Site::back_wall().await;
    site.night("21").await;
    site.set_and_clips_off().await;
    assert!(!site.cell(0).await.contains("frozen"));
    site.degrees("-1").await;
    site.crew.pass(HOUR);
    assert_eq!(site.cell(0).await, "Set Done Tue 3:40 pm, lead May have frozen: check the bond");
    let log = site.crew.get(&site.at("log")).await;
    assert!(log.text(".log").contains("It may have frozen before it was hard: check the bond."));
    site.degrees("22").await;
    site.crew.pass(Span::from_hours(300));
    assert!(site.cell(0).await.contains("May have frozen"), "it stays marked");
}

#[tokio::test]
async fn on_board_or_render_the_longer_time_counts_until_somebody_says_how_cold_it_is() {
    let site = Site::back_wall().await;
    site.change("UPDATE job SET membrane = 0").await.unwrap();
    site.set_and_clips_off().await;
    let cell = site.cell(2).await;
    assert_eq!(cell, "Grout Not before Thu 3:40 pm 24 h to go 24 h longer: nobody said how cold it is");
    let refused = site.start("grout").await.text(".refusal");
    assert!(refused.contains("it is taken to be 48 h instead of 24 h: 24 h longer."), "{refused}");
    site.night("21").await;
    assert_eq!(site.cell(2).await, "Grout Ready since Wed 3:40 pm");
}

#[tokio::test]
async fn a_reading_of_one_wall_leaves_the_others_alone() {
    let site = Site::new(&[("back", "Back wall"), ("left", "Left wall")]).await;
    site.night("21").await;
    for wall in ["back", "left"] {
        site.crew.post(&site.at(&format!("board/{wall}/set/done")), &[("uncut", "999")]).await.leads_to();
    }
    site.read(&[("degrees", "13"), ("wall", "left")]).await.leads_to();
    assert_eq!(site.cell(1).await, "Clips off Not before Wed 3:40 pm 24 h to go");
    assert_eq!(site.cell(5).await, "Clips off Not before Thu 3:40 pm 48 h to go 24 h longer for the cold");
    let says = site.board().await.text(".board-warmth");
    assert!(says.contains("Back wall: 21 °C counts now. Left wall: 13 °C counts now."), "{says}");
}

#[tokio::test]
async fn a_helper_tells_how_cold_it_is_and_only_the_lead_how_cold_nights_get() {
    let mut site = Site::back_wall().await;
    let helper = site.crew.helper("Ana").await.cookie().unwrap();
    site.crew.hand_to(&helper);
    site.degrees("13").await;
    assert!(site.temperatures().await.text(".log").contains("Told by Ana"));
    assert_eq!(site.temperatures().await.texts("#lowest").len(), 0);
    let refused = site.crew.post(&site.at("temperature/night"), &[("lowest", "21")]).await;
    assert_eq!(refused.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn a_helper_opens_no_gate_by_making_a_reading_warmer_or_taking_it_back() {
    let mut site = Site::back_wall().await;
    site.night("21").await;
    site.done("set", &[]).await.leads_to();
    site.degrees("13").await;
    let (lead, address) = (site.crew.at_hand(), site.temperatures().await.attribute(".log a", "href"));
    let waits = site.cell(1).await;
    assert!(waits.contains("24 h longer for the cold"), "{waits}");

    let helper = site.crew.helper("Ana").await.cookie().unwrap();
    site.crew.hand_to(&helper);
    let form = site.crew.get(&address).await;
    assert_eq!(form.texts("#right option").len(), 1, "{}", form.body);
    assert!(form.text(".note").contains("only the lead"), "{}", form.body);
    let warmer = [("right", "number"), ("degrees", "13.1"), ("reason", "it was warmer")];
    let refused = site.crew.post(&address, &warmer).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text("#degrees-fault").contains("only the lead"), "{}", refused.body);
    let refused = site.crew.post(&address, &[("right", "never"), ("reason", "a slip")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(site.cell(1).await, waits);

    site.crew.post(&address, &[("right", "number"), ("degrees", "5")]).await.leads_to();
    assert!(site.cell(1).await.contains("72 h longer"), "colder may be told by anybody");
    let address = site.temperatures().await.attribute(".log a", "href");
    let back = [("right", "number"), ("degrees", "13"), ("reason", "no, it was not")];
    assert_eq!(site.crew.post(&address, &back).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    site.crew.hand_to(&lead);
    site.crew.post(&address, &back).await.leads_to();
    assert_eq!(site.cell(1).await, waits);
}

#[tokio::test]
async fn a_wall_that_was_only_read_is_taken_off_the_job() {
    let site = Site::new(&[("back", "Back wall"), ("left", "Left wall")]).await;
    site.night("21").await;
    site.read(&[("degrees", "13"), ("wall", "left")]).await.leads_to();
    let page = site.crew.get(&site.at("walls/left")).await;
    let version = page.attribute("input[name=version]", "value");
    let removed = [("do", "remove"), ("version", version.as_str())];
    site.crew.post(&site.at("walls/left"), &removed).await.leads_to();
    assert_eq!(site.board().await.texts(".board-wall h2"), ["Back wall"]);
    let page = site.temperatures().await;
    assert!(page.text(".log").contains("left: 13 °C"), "what was read stays: {}", page.body);
    let slip = [("right", "never"), ("reason", "another wall")];
    site.crew.post(&page.attribute(".log a", "href"), &slip).await.leads_to();
}

#[tokio::test]
async fn frost_on_the_part_that_was_finished_first_marks_the_wall() {
    let crew = Crew::new().await;
    let job = crew.measured_job().await;
    let site = Site { crew, job };
    let (done, cell) = (site.at("board/A/set/done"), site.at("board/A/set"));
    site.night("21").await;
    site.crew.post(&done, &[("first", "1"), ("last", "2"), ("uncut", "999")]).await.leads_to();
    site.crew.pass(HOUR);
    site.degrees("-1").await;
    site.crew.pass(HOUR);
    site.degrees("22").await;
    site.crew.pass(Span::from_hours(48));
    let says = site.crew.get(&cell).await.text("main");
    let (_, most) = says.split_once("from the bottom, 1 to ").unwrap();
    let last = most.split_once('.').unwrap().0.to_owned();
    site.crew.post(&done, &[("first", "3"), ("last", &last), ("uncut", "999")]).await.leads_to();
    let page = site.crew.get(&cell).await;
    let says = page.text("main");
    assert!(says.contains("Done Thu 5:40 pm, lead May have frozen: check the bond"), "{says}");
}

#[tokio::test]
async fn a_lowest_temperature_that_nobody_changed_is_kept_to_the_tenth() {
    let site = Site::back_wall().await;
    site.change("UPDATE job SET unit = 'in'").await.unwrap();
    site.save_mortar(&[("name", "winter bag"), ("lowest", "2.4 C"), ("why-lowest", "the bag")])
        .await
        .leads_to();
    let form = site.crew.get(&site.at("board/products?stage=set")).await;
    let shown = form.attribute("#lowest", "value");
    assert_eq!(shown, "36 °F");
    site.save_mortar(&[("name", "winter bag"), ("lowest", &shown), ("why-lowest", "the bag")])
        .await
        .leads_to();
    site.change("UPDATE job SET unit = 'mm'").await.unwrap();
    let form = site.crew.get(&site.at("board/products?stage=set")).await;
    assert_eq!(form.attribute("#lowest", "value"), "2.4 °C");
}

#[tokio::test]
async fn a_job_has_so_many_readings_and_nights_and_no_more() {
    let site = Site::back_wall().await;
    site.degrees("10").await;
    site.night("10").await;
    let told = "WITH RECURSIVE number (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM number WHERE n < 1998)
                INSERT INTO event SELECT 10000 + n, 'told' || n, 'told' || n, payload_hash, previous_hash, job, part,
                    kind, detail, happened, received, boot, boot_ms, wall_clock, author, device, NULL
                FROM event, number WHERE kind = 'reading'";
    let readings = "INSERT INTO reading SELECT id, job, NULL, happened, 100, 'hand', NULL FROM event
                    WHERE id LIKE 'told%'";
    let nights = "INSERT INTO night SELECT id, job, 100 FROM event WHERE id LIKE 'told%' LIMIT 499";
    for statement in [told, readings, nights] {
        site.change(statement).await.unwrap();
    }
    site.degrees("5").await;
    let page = site.temperatures().await;
    assert_eq!(page.texts(".log li").len(), 50);
    assert!(page.text("main").contains("The latest 50 of 2000."), "{}", page.body);
    assert!(page.texts(".log-says").first().is_some_and(|says| says.contains("5 °C")));
    let refused = site.read(&[("degrees", "21")]).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text("#degrees-fault").contains("has 2000 of these already"), "{}", refused.body);
    let refused = site.crew.post(&site.at("temperature/night"), &[("lowest", "21")]).await;
    assert!(refused.text("#lowest-fault").contains("has 500 of these already"), "{}", refused.body);
}

#[tokio::test]
async fn a_winter_mortar_works_colder_once_somebody_says_what_its_bag_says() {
    let site = Site::back_wall().await;
    site.night("3").await;
    site.done("set", &[]).await.leads_to();
    assert!(site.cell(1).await.contains("too cold"));
    let colder = [("name", "winter bag"), ("lowest", "2")];
    let refused = site.save_mortar(&colder).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text("#why-lowest-fault").contains("colder than the usual 5 °C"));
    let reasoned = [("name", ""), ("lowest", "2"), ("why-lowest", "winter mortar, says the bag")];
    site.save_mortar(&reasoned).await.leads_to();
    let products = site.crew.get(&site.at("board/products")).await;
    assert!(products.text("main").contains("Coldest it works at 2 °C"), "{}", products.text("main"));
    assert!(products.text("main").contains("Why: winter mortar, says the bag"));
    assert!(site.cell(1).await.contains("Not before"), "{}", site.cell(1).await);
    let form = site.crew.get(&site.at("board/products?stage=set")).await;
    assert_eq!(form.attribute("#lowest", "value"), "2 °C");
}

/// Elapsed time over the nights on which clocks are changed: 24 h at 13 °C are 48 h, whatever the clock on the wall does.
#[tokio::test]
async fn a_cold_night_is_as_long_as_it_is_where_clocks_change() {
    // Where and how many hours after Tuesday 3 March 2026, 15:40 UTC the wall is finished; until what time of day the
    // clips stay on. Each is the afternoon before clocks go forward (New York, Lisbon) or back (Sydney).
    let nights = [
        ("America/New_York", 4 * 24 + 5, "Mon 4:40 pm"),
        ("Europe/Lisbon", 25 * 24, "Mon 4:40 pm"),
        ("Australia/Sydney", 32 * 24 - 10, "Mon 3:40 pm"),
    ];
    for (zone, hours, until) in nights {
        let site = Site::back_wall().await;
        let statement = match zone {
            "America/New_York" => "UPDATE job SET zone = 'America/New_York'",
            "Europe/Lisbon" => "UPDATE job SET zone = 'Europe/Lisbon'",
            _ => "UPDATE job SET zone = 'Australia/Sydney'",
        };
        site.change(statement).await.unwrap();
        // A phone that is never used is asked in again.
        for _ in 0..4 {
            site.crew.pass(Span::from_hours(hours / 4));
            site.board().await;
        }
        site.crew.pass(Span::from_hours(hours % 4));
        site.night("13").await;
        site.done("set", &[]).await.leads_to();
        let cell = site.cell(1).await;
        assert_eq!(
            cell,
            format!("Clips off Not before {until} 48 h to go 24 h longer for the cold"),
            "{zone}"
        );
        site.crew.pass(Span::from_hours(48) - Span::from_millis(1));
        assert_eq!(site.start("clip_removal").await.status, StatusCode::CONFLICT, "{zone}");
        site.crew.pass(Span::from_millis(1));
        site.start("clip_removal").await.leads_to();
    }
}

#[tokio::test]
async fn after_a_restart_what_was_told_of_the_cold_still_counts() {
    let site = Site::back_wall().await;
    site.night("13").await;
    site.degrees("21").await;
    site.done("set", &[]).await.leads_to();
    let before = site.cell(1).await;
    let site = site.restarted().await;
    assert_eq!(site.cell(1).await, before);
    assert!(before.contains("24 h longer for the cold"), "{before}");
}
