//! A piece does not fit: somebody at the wall measures its place again, and whoever stands at the saw cuts to that.

use axum::http::StatusCode;
use coursebook::store::JobId;

use crate::support::{Crew, Page};

/// A shower measured and laid out, somebody at its saw and somebody at its walls.
pub struct Site {
    pub crew: Crew,
    pub job: JobId,
}

/// What a form says of a place: the clear opening, and the piece that the plan has in it.
pub struct Plan {
    pub opening: i64,
    pub piece: i64,
}

impl Site {
    pub async fn new() -> Self {
        let crew = Crew::new().await;
        let job = crew.measured_job().await;
        Self { crew, job }
    }

    pub fn at(&self, rest: &str) -> String {
        format!("/jobs/{}/cuts{rest}", self.job)
    }

    pub async fn saw(&self) -> Page {
        self.crew.get(&self.at("")).await
    }

    pub async fn piece(&self, piece: &str) -> Page {
        self.crew.get(&self.at(&format!("/{piece}"))).await
    }

    pub async fn form(&self, piece: &str) -> Page {
        let address = self.piece(piece).await.attribute(&format!("a[href$='/{piece}/fit']"), "href");
        self.crew.get(&address).await
    }

    /// Every piece, the one in hand first.
    pub async fn labels(&self) -> Vec<String> {
        self.saw().await.texts(".queue-line .list-name, .queue-line .cut-label")
    }

    /// Width and height of a piece on its own page.
    pub async fn size(&self, piece: &str) -> String {
        let says = self.piece(piece).await.text("h2 + p");
        says.rsplit(" · ").next().unwrap().to_owned()
    }

    /// The piece that closes a course of the back wall and can be cut, with other courses above it.
    pub async fn end(&self) -> String {
        for piece in self.labels().await {
            let page = self.piece(&piece).await;
            if !piece.starts_with('B') || !page.texts(".cut-before").is_empty() {
                continue;
            }
            let form = self.form(&piece).await;
            let into_the_corner =
                form.texts("#across-hint").iter().any(|hint| hint.contains("the corner on the right"));
            if into_the_corner && !form.texts("input[name=across-for][value=above]").is_empty() {
                return piece;
            }
        }
        panic!("no course of the back wall ends in a cut piece");
    }

    /// A piece that is cut in its width and in its height.
    async fn cut_both_ways(&self) -> String {
        for piece in self.labels().await {
            let form = self.form(&piece).await;
            if !form.texts("#across-hint").is_empty() && !form.texts("#up-hint").is_empty() {
                return piece;
            }
        }
        panic!("no piece is cut both ways");
    }

    pub async fn across(&self, piece: &str) -> Plan {
        plan(&self.form(piece).await, "across")
    }

    /// Sends what the tape read, as the form stands.
    pub async fn tape(&self, piece: &str, typed: &[(&str, &str)]) -> Page {
        let form = self.form(piece).await;
        self.send(piece, &form.attribute("input[name=print]", "value"), typed).await
    }

    pub async fn send(&self, piece: &str, print: &str, typed: &[(&str, &str)]) -> Page {
        let fields = [&[("print", print)], typed].concat();
        self.crew.post(&self.at(&format!("/{piece}/fit")), &fields).await
    }

    /// The opening is so much wider than planned, or narrower, for this piece or the courses above too.
    pub async fn finds(&self, piece: &str, wider: i64, reach: &str) -> Page {
        let opening = (self.across(piece).await.opening + wider).to_string();
        let answer = self.tape(piece, &[("across", &opening), ("across-for", reach)]).await;
        self.crew.get(&answer.leads_to()).await
    }

    /// Presses "Not so after all" under that answer.
    pub async fn take_back(&self, answer: &Page) {
        let url = answer.attribute("form[action$=not-measured]", "action");
        let entry = answer.attribute("form[action$=not-measured] input[name=entry]", "value");
        self.crew.post(&url, &[("entry", &entry)]).await.leads_to();
    }

    pub async fn cut(&self, piece: &str) {
        let print = self.piece(piece).await.attribute(".beside input[name=print]", "value");
        self.crew.post(&self.at(&format!("/{piece}")), &[("print", &print)]).await.leads_to();
    }

    /// Cuts what the saw says until that piece is cut.
    pub async fn cut_up_to(&self, piece: &str) {
        for _ in 0..200 {
            let next = self.saw().await.text(".cut-label");
            self.cut(&next).await;
            if next == piece {
                return;
            }
        }
        panic!("{piece} never came up");
    }

    /// What the page of every piece that is still to cut stands for.
    pub async fn prints(&self) -> Vec<(String, String)> {
        let mut prints = Vec::new();
        for piece in self.labels().await {
            let page = self.piece(&piece).await;
            if page.texts("main .state.done, main .state.look").is_empty() {
                prints.push((piece, page.attribute(".beside input[name=print]", "value")));
            }
        }
        prints
    }

    /// One piece's line in the queue.
    pub async fn line(&self, piece: &str) -> String {
        let lines = self.saw().await.texts(".queue-line");
        lines.into_iter().find(|line| line.split(' ').next() == Some(piece)).unwrap_or_default()
    }

    /// Every piece's line in the queue but this one's.
    async fn others(&self, piece: &str) -> Vec<String> {
        let lines = self.saw().await.texts(".queue-line");
        lines.into_iter().filter(|line| line.split(' ').next() != Some(piece)).collect()
    }
}

/// "The plan has 312 mm there: a piece of 306 mm, ..."
pub fn plan(form: &Page, field: &str) -> Plan {
    let hint = form.text(&format!("#{field}-hint"));
    let after = |words: &str| -> i64 {
        let (_, rest) = hint.split_once(words).unwrap_or_else(|| panic!("no {words:?} in {hint}"));
        rest.split(' ').next().unwrap().parse().unwrap()
    };
    Plan { opening: after("The plan has "), piece: after("a piece of ") }
}

fn sizes(lines: &[String]) -> Vec<String> {
    lines.iter().map(|line| line.split(" · ").next().unwrap().to_owned()).collect()
}

#[tokio::test]
async fn the_form_says_where_the_tape_goes_and_what_the_plan_has_there() {
    let site = Site::new().await;
    let end = site.end().await;
    let form = site.form(&end).await;
    assert_eq!(form.text("h1"), format!("Measure {end} again"));
    let hint = form.text("#across-hint");
    assert!(hint.starts_with("From the tile on the left to the corner on the right. "), "{hint}");
    assert!(hint.ends_with(", a joint of 3 mm and a gap of 3 mm."), "{hint}");
    let planned = plan(&form, "across");
    assert_eq!(planned.opening, planned.piece + 6);
    assert_eq!(form.attribute("input[value=piece]", "checked"), "");
    assert!(site.size(&end).await.starts_with(&format!("{} × ", planned.piece)));
    let echo = site
        .crew
        .post(&site.at(&format!("/{end}/fit/echo")), &[("across", &(planned.opening - 4).to_string())])
        .await;
    let wanted = format!("less a joint of 3 mm and a gap of 3 mm: {end} is {} mm wide.", planned.piece - 4);
    assert!(echo.text("[data-echo=across]").ends_with(&wanted), "{}", echo.body);
}

#[tokio::test]
async fn a_narrower_opening_takes_it_off_one_piece_and_every_page_says_so() {
    let site = Site::new().await;
    let end = site.end().await;
    let (planned, before) = (site.across(&end).await, site.others(&end).await);
    let answer = site.finds(&end, -4, "piece").await;
    assert_eq!(answer.text("h1"), format!("{end} has a new size"));
    assert!(answer.text(".fit-cost").starts_with("No extra tile: "), "{}", answer.text(".fit-cost"));
    let (now, was) = (planned.piece - 4, planned.piece);
    assert_eq!(
        answer.texts(".list a"),
        [format!("{end} {now} mm wide, planned {was} mm").replace(&format!("{end} "), &end)]
    );

    assert!(site.size(&end).await.starts_with(&format!("{now} × ")), "{}", site.size(&end).await);
    assert_eq!(sizes(&site.others(&end).await), sizes(&before), "no other piece has another size");
    let cut_list = site.crew.get(&format!("/jobs/{}/layout/cuts", site.job)).await;
    assert!(cut_list.body.contains(&format!("{now} × ")), "{}", cut_list.body);
    let layout = site.crew.get(&format!("/jobs/{}/layout", site.job)).await;
    assert!(layout.body.contains(&format!("{end} {now} mm")), "the layout says the same");
    assert_eq!(site.across(&end).await.opening, planned.opening - 4);
    site.cut(&site.saw().await.text(".cut-label")).await;
}

#[tokio::test]
async fn the_courses_above_take_it_too_where_that_is_said() {
    let site = Site::new().await;
    let end = site.end().await;
    let form = site.form(&end).await;
    let mut labels = form.texts(".fit-for label").into_iter();
    let offered = labels.find(|label| label.starts_with("The courses above too")).unwrap();
    let (_, above) = offered.split_once("cut: ").unwrap();
    let above: Vec<&str> = above.split(", ").collect();
    let mut planned = Vec::new();
    for piece in &above {
        planned.push(site.across(piece).await.piece);
    }
    let answer = site.finds(&end, -3, "above").await;
    assert_eq!(answer.text("h1"), format!("{} pieces have a new size", above.len() + 1));
    assert_eq!(answer.texts(".list .list-name"), [vec![end.as_str()], above.clone()].concat());
    for (piece, planned) in above.iter().zip(planned) {
        let size = site.size(piece).await;
        assert!(size.starts_with(&format!("{} × ", planned - 3)), "{size}");
    }
    let courses =
        |piece: &str| piece.trim_start_matches('B').split('-').next().unwrap().parse::<u32>().unwrap();
    assert!(above.iter().all(|piece| courses(piece) > courses(&end)), "{above:?}");
}

#[tokio::test]
async fn a_piece_that_is_cut_stays_cut_and_is_said_not_to_fit() {
    let site = Site::new().await;
    let end = site.end().await;
    let planned = site.across(&end).await;
    site.cut_up_to(&end).await;
    let (cut, racked) = (site.saw().await.text(".saw-progress strong"), site.others(&end).await);
    let answer = site.finds(&end, -4, "piece").await;
    assert_eq!(answer.text(".list .state.look"), "cut, and now has to be trimmed");
    let now = planned.piece - 4;
    let look = format!("cut at {} mm, the plan now says {now} mm", planned.piece);
    assert!(site.line(&end).await.contains(&look), "{}", site.line(&end).await);
    assert_eq!(site.others(&end).await, racked, "what is open stays planned as it was");
    assert_ne!(site.saw().await.text(".saw-progress strong"), cut, "it does not count as cut");
}

#[tokio::test]
async fn what_no_tile_is_wide_enough_for_is_said_with_the_way_on() {
    let site = Site::new().await;
    let end = site.end().await;
    let larger = site.tape(&end, &[("across", "620")]).await;
    assert_eq!(larger.status, StatusCode::UNPROCESSABLE_ENTITY);
    let says = larger.text("#across-fault");
    assert!(says.starts_with("No tile is as wide as 614 mm"), "{says}");
    assert!(says.contains("the tile is 598 mm") && says.contains("the lead moves the layout"), "{says}");
    assert_eq!(larger.attribute("#across", "value"), "620");
    assert!(larger.text("title").starts_with("Error:"));
    assert_eq!(larger.attribute(".faults a", "href"), "#across");
    assert_eq!(larger.texts(&format!("a[href='/jobs/{}/layout']", site.job)).len(), 1);
    assert!(site.crew.app.store.events(&site.job).await.unwrap().is_empty(), "nothing is kept");
}

#[tokio::test]
async fn what_is_no_opening_comes_back_as_it_was_typed() {
    let site = Site::new().await;
    let end = site.end().await;
    for (typed, says) in [
        ("0", "more than 0"),
        ("-30", "more than 0"),
        ("a hand", "Width of the opening"),
        ("8", "too little to cut"),
        ("5", "too little to cut"),
        ("", "that the tape read"),
    ] {
        let page = site.tape(&end, &[("across", typed)]).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{typed}");
        let fault = page.text("#across-fault");
        assert!(fault.contains(says), "{typed}: {fault}");
        assert_eq!(page.attribute("#across", "value"), typed);
    }
    assert!(site.crew.app.store.events(&site.job).await.unwrap().is_empty());
}

#[tokio::test]
async fn sent_twice_it_is_measured_once() {
    let site = Site::new().await;
    let end = site.end().await;
    let (opening, print) = {
        let form = site.form(&end).await;
        ((plan(&form, "across").opening - 4).to_string(), form.attribute("input[name=print]", "value"))
    };
    let address = site.at(&format!("/{end}/fit"));
    let fields = [("print", print.as_str()), ("across", opening.as_str())];
    let mut answers = Vec::new();
    for _ in 0..2 {
        let answer = site.crew.post_with_key(&address, "0123456789abcdef", &fields).await;
        answers.push(answer.leads_to());
    }
    assert_eq!(answers[0], answers[1]);
    assert_eq!(site.crew.app.store.events(&site.job).await.unwrap().len(), 1);
    let other = [("print", print.as_str()), ("across", "200")];
    let other = site.crew.post_with_key(&address, "0123456789abcdef", &other).await;
    assert_eq!(other.status, StatusCode::UNPROCESSABLE_ENTITY, "another size is not the same form");
    assert_eq!(site.crew.app.store.events(&site.job).await.unwrap().len(), 1);
}

#[tokio::test]
async fn a_size_taken_back_leaves_the_plan_as_it_was() {
    let site = Site::new().await;
    let end = site.end().await;
    let (lines, opening) = (site.saw().await.texts(".queue-line"), site.across(&end).await.opening);
    let answer = site.finds(&end, -4, "piece").await;
    assert_ne!(site.saw().await.texts(".queue-line"), lines);
    let (url, entry) = (
        answer.attribute("form[action$=not-measured]", "action"),
        answer.attribute("form[action$=not-measured] input[name=entry]", "value"),
    );
    site.crew.post(&url, &[("entry", &entry)]).await.leads_to();
    assert_eq!(site.saw().await.texts(".queue-line"), lines);
    assert_eq!(site.across(&end).await.opening, opening);
    let again = site.crew.post(&url, &[("entry", &entry)]).await;
    assert_eq!(
        (again.status, again.text(".refusal-says")),
        (StatusCode::CONFLICT, "This was taken back already.".to_owned())
    );
    let told = site.crew.get(&site.at(&format!("/{end}/fit/{entry}"))).await;
    assert_eq!(told.text("main .state.look"), "Taken back: the plan no longer goes by this.");
    assert_eq!(site.crew.app.store.events(&site.job).await.unwrap().len(), 2, "the log is only added to");
}

#[tokio::test]
async fn a_size_that_was_cut_to_since_is_not_taken_back() {
    let site = Site::new().await;
    let end = site.end().await;
    let answer = site.finds(&end, -4, "piece").await;
    site.cut_up_to(&end).await;
    let url = answer.attribute("form[action$=not-measured]", "action");
    let entry = answer.attribute("form[action$=not-measured] input[name=entry]", "value");
    let refused = site.crew.post(&url, &[("entry", &entry)]).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text(".refusal-says").starts_with(&format!("{end} was cut to this size since.")));
    assert!(site.line(&end).await.contains("cut, lead"), "{}", site.line(&end).await);
}

#[tokio::test]
async fn what_was_measured_last_counts() {
    let site = Site::new().await;
    let end = site.end().await;
    let planned = site.across(&end).await;
    site.finds(&end, -4, "piece").await;
    let answer = site.finds(&end, 1, "piece").await;
    assert!(answer.text(".list a").contains(&format!("{} mm wide", planned.piece - 3)));
    assert!(site.size(&end).await.starts_with(&format!("{} × ", planned.piece - 3)));
    assert_eq!(site.form(&end).await.texts(".saw-last").len(), 2, "both stand on its page");
}

#[tokio::test]
async fn whoever_cuts_from_a_page_drawn_before_is_told_of_the_new_plan() {
    let mut site = Site::new().await;
    let (lead, helper) = (site.crew.at_hand(), site.crew.helper("Ines").await.cookie().unwrap());
    let end = site.end().await;
    let opening = (site.across(&end).await.opening - 4).to_string();
    let print = site.piece(&end).await.attribute(".beside input[name=print]", "value");

    site.crew.hand_to(&helper);
    let answer = site.tape(&end, &[("across", &opening)]).await;
    assert!(answer.leads_to().contains(&format!("/{end}/fit/")));

    site.crew.hand_to(&lead);
    let press = site.crew.post(&site.at(&format!("/{end}")), &[("print", &print)]).await;
    assert_eq!(press.status, StatusCode::CONFLICT);
    assert!(press.text(".refusal").starts_with("The plan has changed since your page was drawn."));
    let standing = site.form(&end).await.text(".saw-last p");
    assert_eq!(standing, format!("{end} measured again: Ines, Tue 3:40 pm"));
    let log = site.crew.get(&format!("/jobs/{}/log", site.job)).await;
    let says = log.texts(".log-says").into_iter().find(|says| says.contains("measured again")).unwrap();
    assert!(says.starts_with(&format!("{end} measured again: ")), "{says}");
    assert!(says.contains(" mm wide, planned ") || says.contains(" mm high, planned "), "{says}");
    site.cut(&end).await;
}

#[tokio::test]
async fn a_form_drawn_before_the_layout_was_moved_comes_back_with_what_was_typed() {
    let site = Site::new().await;
    let end = site.end().await;
    let stale = site.send(&end, "0.0.0.0", &[("across", "200")]).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert!(stale.text(".refusal p").starts_with("The plan has changed since your page was drawn."));
    assert_eq!(stale.attribute("#across", "value"), "200");
    assert!(site.crew.app.store.events(&site.job).await.unwrap().is_empty());
}

#[tokio::test]
async fn the_plan_is_the_same_after_a_restart_whatever_was_cut_between() {
    let site = Site::new().await;
    let end = site.end().await;
    for _ in 0..3 {
        let next = site.saw().await.text(".cut-label");
        site.cut(&next).await;
    }
    site.finds(&end, -4, "above").await;
    for _ in 0..3 {
        let next = site.saw().await.text(".cut-label");
        site.cut(&next).await;
    }
    site.finds(&end, -2, "piece").await;
    let lines = site.saw().await.texts(".queue-line");
    assert!(lines.iter().filter(|line| line.contains("cut, lead")).count() >= 5, "{lines:?}");
    let Site { crew, job } = site;
    let site = Site { crew: crew.restarted().await, job };
    assert_eq!(site.saw().await.texts(".queue-line"), lines);
    // All that is left can be cut in the order that the saw says.
    for _ in 0..lines.len() {
        let page = site.saw().await;
        let Some(next) = page.texts(".cut-label").pop() else { break };
        site.cut(&next).await;
    }
    let page = site.saw().await;
    assert!(page.texts(".cut-label").is_empty());
    assert_eq!(page.texts("#queue .state.done").len() + page.texts("#queue .state.look").len(), lines.len());
}

#[tokio::test]
async fn what_was_taken_back_is_the_same_after_a_restart() {
    let site = Site::new().await;
    let last = site.labels().await.pop().unwrap();
    let mut prints = Vec::new();
    // Until a tile is begun from which more is to come: that is planned anew with the size, and anew without it.
    for _ in 0..30 {
        let next = site.saw().await.text(".cut-label");
        site.cut(&next).await;
        let before = site.prints().await;
        let answer = site.finds(&last, -4, "piece").await;
        site.saw().await;
        site.take_back(&answer).await;
        prints = site.prints().await;
        if prints != before {
            break;
        }
        prints.clear();
    }
    assert!(!prints.is_empty(), "no plan was another one after it was made anew");
    let lines = site.saw().await.texts(".queue-line");
    let Site { crew, job } = site;
    let site = Site { crew: crew.restarted().await, job };
    assert_eq!(site.saw().await.texts(".queue-line"), lines);
    assert_eq!(site.prints().await, prints);
}

#[tokio::test]
async fn a_width_taken_back_leaves_nothing_in_the_height_that_was_found_after_it() {
    let site = Site::new().await;
    let piece = site.cut_both_ways().await;
    let (width, height) = (site.across(&piece).await, plan(&site.form(&piece).await, "up"));
    let first = site.finds(&piece, -4, "piece").await;
    let answer = site.tape(&piece, &[("up", &(height.opening - 3).to_string())]).await;
    let second = site.crew.get(&answer.leads_to()).await;
    let line = format!("{piece}{} mm high, planned {} mm", height.piece - 3, height.piece);
    assert_eq!(second.texts(".list a"), [line], "what this one found");
    let size = site.size(&piece).await;
    assert!(size.starts_with(&format!("{} × {} ", width.piece - 4, height.piece - 3)), "both hold: {size}");

    site.take_back(&first).await;
    let size = site.size(&piece).await;
    assert!(size.starts_with(&format!("{} × {} ", width.piece, height.piece - 3)), "{size}");
    assert_eq!(site.across(&piece).await.opening, width.opening);
}

#[tokio::test]
async fn of_the_courses_above_what_is_cut_keeps_its_size() {
    let site = Site::new().await;
    let end = site.end().await;
    let offered = || async {
        let labels = site.form(&end).await.texts(".fit-for label");
        let above = labels.into_iter().find(|label| label.starts_with("The courses above too")).unwrap();
        let (_, pieces) = above.split_once("cut: ").unwrap();
        pieces.split(", ").map(str::to_owned).collect::<Vec<String>>()
    };
    let mut above = offered().await;
    let mut cut = None;
    for (at, piece) in above.iter().enumerate() {
        if site.piece(piece).await.texts(".cut-before").is_empty() {
            cut = Some(at);
        }
    }
    let cut = above.remove(cut.expect("one above can be cut"));
    site.cut(&cut).await;
    let size = site.size(&cut).await;
    assert_eq!(offered().await, above);

    let answer = site.finds(&end, -3, "above").await;
    assert_eq!(answer.texts(".list .list-name"), [vec![end.clone()], above].concat());
    assert_eq!(site.size(&cut).await, size);
    let page = site.piece(&cut).await;
    assert!(page.texts("main .state.look").is_empty(), "{}", page.text("main"));
    assert_eq!(page.texts("main .state.done").len(), 1);
}

#[tokio::test]
async fn a_piece_that_hangs_is_not_measured_again() {
    let site = Site::new().await;
    let setting = format!("/jobs/{}/setting", site.job);
    let run = site.crew.get(&setting).await.texts("#run-B1 .run-cuts .list-name");
    let mut sent = None;
    for piece in &run {
        let form = site.form(piece).await;
        if !form.texts("#across-hint").is_empty() {
            let opening = plan(&form, "across").opening - 4;
            sent = Some((piece, form.attribute("input[name=print]", "value"), opening.to_string()));
        }
    }
    let (piece, print, opening) = sent.expect("a piece of the first course is cut across");
    for piece in &run {
        if site.piece(piece).await.texts("main .state.done").is_empty() {
            site.cut_up_to(piece).await;
        }
    }
    let shown = site.crew.get(&setting).await.attribute("#run-B1 input[name=print]", "value");
    site.crew.post(&format!("{setting}/B1"), &[("print", &shown)]).await.leads_to();
    let (size, entries) =
        (site.size(piece).await, site.crew.app.store.events(&site.job).await.unwrap().len());
    let refused = site.send(piece, &print, &[("across", &opening)]).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    let says = refused.text(".refusal-says");
    assert!(says.starts_with(&format!("{piece} hangs on the wall, with B1.")), "{says}");
    assert_eq!(site.size(piece).await, size);
    assert_eq!(site.crew.app.store.events(&site.job).await.unwrap().len(), entries, "nothing is kept");
}

#[tokio::test]
async fn when_the_wall_is_measured_anew_the_old_size_is_named_as_not_in_the_plan() {
    let site = Site::new().await;
    let end = site.end().await;
    site.finds(&end, -4, "piece").await;
    assert!(!site.saw().await.texts(".saw-spares").iter().any(|line| line.contains("another layout")));
    let address = format!("/jobs/{}/walls/B", site.job);
    let page = site.crew.get(&address).await;
    let mut fields = page.form_fields();
    fields.retain(|(name, _)| !["key", "width", "do", "base-1-x"].contains(&name.as_str()));
    for (name, typed) in [("width", "1518"), ("base-1-x", "1518"), ("do", "save")] {
        fields.push((name.to_owned(), typed.to_owned()));
    }
    let asked = site.crew.post_form(&address, &fields).await;
    site.crew.agreed(asked).await.leads_to();
    let lines = site.saw().await.texts(".saw-spares");
    let wanted = format!("Measured on the wall for another layout, and not in this plan: {end}.");
    assert!(lines.iter().any(|line| line.starts_with(&wanted)), "{lines:?}");
}

#[tokio::test]
async fn only_who_works_measures_and_only_what_is_there() {
    let mut site = Site::new().await;
    let end = site.end().await;
    let board = site.crew.board("wall").await.cookie().unwrap();
    let none = site.crew.get(&site.at("/Z9-9/fit")).await;
    assert_eq!(none.status, StatusCode::NOT_FOUND);
    let print = site.form(&end).await.attribute("input[name=print]", "value");
    site.crew.hand_to(&board);
    let refused = site.send(&end, &print, &[("across", "200")]).await;
    assert_eq!(refused.status, StatusCode::FORBIDDEN);
}
