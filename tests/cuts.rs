//! A cutter at the saw with a phone: what to cut next, what was cut, and what comes of a plan that changes after.

use axum::http::StatusCode;
use coursebook::store::JobId;
use trade::cure::Span;

use crate::support::{Crew, Page};

/// A job measured and laid out, and somebody at its saw.
pub struct Yard {
    pub crew: Crew,
    pub job: JobId,
}

impl Yard {
    pub async fn new() -> Self {
        let crew = Crew::new().await;
        let job = crew.measured_job().await;
        Self { crew, job }
    }

    pub async fn restarted(self) -> Self {
        Self { crew: self.crew.restarted().await, job: self.job }
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

    /// The label of the piece in hand.
    pub async fn in_hand(&self) -> String {
        self.saw().await.text(".cut-label")
    }

    /// What a piece's own page would send with "Cut".
    pub async fn print(&self, piece: &str) -> String {
        self.piece(piece).await.attribute("input[name=print]", "value")
    }

    pub async fn press(&self, piece: &str, print: &str) -> Page {
        self.crew.post(&self.at(&format!("/{piece}")), &[("print", print)]).await
    }

    pub async fn cut(&self, piece: &str) {
        let print = self.print(piece).await;
        assert!(self.press(piece, &print).await.leads_to().starts_with(&self.at("?v=")));
    }

    /// Cuts what the page says, as often as that.
    pub async fn cut_next(&self, times: usize) -> Vec<String> {
        let mut cut = Vec::new();
        for _ in 0..times {
            let piece = self.in_hand().await;
            self.cut(&piece).await;
            cut.push(piece);
        }
        cut
    }

    pub async fn take_back(&self, piece: &str) -> Page {
        let page = self.piece(piece).await;
        let entry = page.attribute("input[name=entry]", "value");
        self.crew.post(&self.at(&format!("/{piece}/not-cut")), &[("entry", &entry)]).await
    }

    /// Presses "Trim it" or "Cut it anew" on a piece's own page.
    pub async fn mend(&self, piece: &str) -> Page {
        let page = self.piece(piece).await;
        let value = |name: &str| page.attribute(&format!(".cut-mend input[name={name}]"), "value");
        let fields = [("print", value("print")), ("entry", value("entry"))];
        let fields = fields.each_ref().map(|(name, value)| (*name, value.as_str()));
        self.crew.post(&page.attribute(".cut-mend", "action"), &fields).await
    }

    /// One piece's line in the queue: its label, its state and its words.
    pub async fn line(&self, piece: &str) -> String {
        let lines = self.saw().await.texts(".queue-line");
        lines.into_iter().find(|line| line.split(' ').next() == Some(piece)).unwrap_or_default()
    }

    /// Every piece, the one in hand first.
    pub async fn labels(&self) -> Vec<String> {
        self.saw().await.texts(".queue-line .list-name, .queue-line .cut-label")
    }

    /// A piece that comes out of what another leaves, after that one.
    pub async fn pair(&self) -> (String, String) {
        for line in self.labels().await {
            let page = self.piece(&line).await;
            if let Some(wait) = page.texts(".cut-head .button").first() {
                return (wait.trim_start_matches("To ").to_owned(), line);
            }
        }
        panic!("no two pieces of one tile");
    }

    /// Measures the back wall again.
    pub async fn measure_back_wall(&self, width: &str) {
        let answer = self.send_wall("B", width).await;
        self.crew.agreed(answer).await.leads_to();
    }

    /// Sends a wall's form with another width.
    pub async fn send_wall(&self, wall: &str, width: &str) -> Page {
        let address = format!("/jobs/{}/walls/{wall}", self.job);
        let page = self.crew.get(&address).await;
        let mut fields = page.form_fields();
        fields.retain(|(name, _)| !["key", "width", "do", "base-1-x"].contains(&name.as_str()));
        for (name, typed) in [("width", width), ("base-1-x", width), ("do", "save")] {
            fields.push((name.to_owned(), typed.to_owned()));
        }
        self.crew.post_form(&address, &fields).await
    }
}

#[tokio::test]
async fn before_there_is_a_layout_the_saw_says_what_is_missing() {
    let crew = Crew::new().await;
    let job = crew.job("mm").await;
    let page = crew.get(&format!("/jobs/{job}/cuts")).await;
    assert_eq!(page.status, StatusCode::OK);
    assert!(page.text(".empty").starts_with("There is nothing to cut yet."));
    assert_eq!(page.attribute("a.action", "href"), format!("/jobs/{job}/layout"));
    let press = crew.post(&format!("/jobs/{job}/cuts/A1-1"), &[("print", "x")]).await;
    assert_eq!(press.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_piece_in_hand_says_where_to_set_the_fence_and_what_to_take() {
    let yard = Yard::new().await;
    let page = yard.saw().await;
    let piece = yard.in_hand().await;
    assert_eq!(page.text(".cut-take"), "Take a whole tile");
    let fence = page.text(".straight .unseen");
    assert!(fence.ends_with(" mm"), "{fence}");
    assert!(page.text(".straight .measure-says").contains("from the "), "{}", page.body);
    let drawing = page.text(".drawing");
    assert!(drawing.contains(&fence) && drawing.contains(&piece), "{drawing}");
    assert!(page.text(".cut-place").contains("wall, course 1, number "), "{}", page.text(".cut-place"));
    let safety = page.texts(".caution p").join(" ");
    for word in ["Water", "eyes", "ears", "GFCI", "dust", "Local rules"] {
        assert!(safety.contains(word), "{word}");
    }
    let all = page.texts(".queue-line").len();
    assert_eq!(page.text(".saw-progress strong"), format!("Cut 0 of {all}"));
    let brought: Vec<String> = page.texts(".saw-bring-up");
    assert!(
        brought.iter().all(|line| line.starts_with("Bring up ") && line.contains(" cuts")),
        "{brought:?}"
    );
}

#[tokio::test]
async fn three_pieces_are_cut_and_are_still_cut_after_a_restart() {
    let yard = Yard::new().await;
    let cut = yard.cut_next(3).await;
    assert_eq!(cut.iter().collect::<std::collections::BTreeSet<_>>().len(), 3);
    let yard = yard.restarted().await;
    let page = yard.saw().await;
    assert!(page.text(".saw-progress strong").starts_with("Cut 3 of "));
    for piece in &cut {
        assert!(yard.line(piece).await.contains("cut, lead, Tue 3:40 pm"), "{}", yard.line(piece).await);
        assert_eq!(yard.piece(piece).await.text("main .state.done"), "cut, lead, Tue 3:40 pm");
    }
    assert_eq!(page.texts("#queue .state.done").len(), 3);
    assert!(!cut.contains(&yard.in_hand().await));
}

#[tokio::test]
async fn all_of_them_can_be_cut_in_the_order_the_saw_says() {
    let yard = Yard::new().await;
    let all = yard.saw().await.texts(".queue-line").len();
    yard.cut_next(all).await;
    let page = yard.saw().await;
    assert_eq!(page.text(".empty"), "All of them are cut.");
    assert_eq!(page.text(".saw-progress strong"), format!("Cut {all} of {all}"));
}

#[tokio::test]
async fn pressing_twice_cuts_once() {
    let yard = Yard::new().await;
    let piece = yard.in_hand().await;
    let print = yard.print(&piece).await;
    let address = yard.at(&format!("/{piece}"));
    for _ in 0..2 {
        let page = yard.crew.post_with_key(&address, "0123456789abcdef", &[("print", &print)]).await;
        assert!(page.leads_to().starts_with(&yard.at("?v=")));
    }
    assert!(yard.saw().await.text(".saw-progress strong").starts_with("Cut 1 of "));
    assert_eq!(yard.crew.app.store.events(&yard.job).await.unwrap().len(), 1);
}

#[tokio::test]
async fn two_phones_that_cut_the_same_piece_hear_of_it() {
    let yard = Yard::new().await;
    let piece = yard.in_hand().await;
    let print = yard.print(&piece).await;
    let (one, other) = tokio::join!(yard.press(&piece, &print), yard.press(&piece, &print));
    let refused = if one.status == StatusCode::CONFLICT { &one } else { &other };
    let taken = if one.status == StatusCode::CONFLICT { &other } else { &one };
    taken.leads_to();
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text(".refusal").starts_with(&format!("{piece} was cut already: lead, Tue 3:40 pm.")));
    assert!(yard.saw().await.text(".saw-progress strong").starts_with("Cut 1 of "));
}

#[tokio::test]
async fn a_cut_taken_back_is_next_again_and_can_be_cut_anew() {
    let yard = Yard::new().await;
    let piece = yard.in_hand().await;
    yard.cut(&piece).await;
    let page = yard.saw().await;
    assert_eq!(page.text(".saw-last p"), format!("Last cut: {piece}, lead, Tue 3:40 pm"));
    assert_eq!(page.text(".saw-last button"), "Not cut after all");
    let address = page.attribute(".saw-last form", "action");
    let entry = page.attribute(".saw-last input[name=entry]", "value");
    for _ in 0..2 {
        let key = "fedcba9876543210";
        yard.crew.post_with_key(&address, key, &[("entry", &entry)]).await.leads_to();
    }
    let again = yard.crew.post(&address, &[("entry", &entry)]).await;
    assert_eq!(again.status, StatusCode::CONFLICT);
    let yard = yard.restarted().await;
    assert_eq!(yard.in_hand().await, piece);
    assert!(yard.saw().await.text(".saw-progress strong").starts_with("Cut 0 of "));
    yard.crew.pass(Span::from_hours(1));
    yard.cut(&piece).await;
    assert!(yard.line(&piece).await.contains("Tue 4:40 pm"));
}

#[tokio::test]
async fn a_piece_whose_offcut_is_not_there_yet_is_refused_with_the_reason() {
    let yard = Yard::new().await;
    let (first, second) = yard.pair().await;
    let page = yard.piece(&second).await;
    assert!(page.text("main .state.wait").contains(&format!("once {first} is cut")), "{}", page.body);
    yard.cut(&first).await;
    let print = yard.print(&second).await;
    assert_eq!(
        page.attribute("input[name=print]", "value"),
        print,
        "a phone that is out of range sends both cuts from one page"
    );
    yard.take_back(&first).await.leads_to();

    let refused = yard.press(&second, &print).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(
        refused.text(".refusal").contains(&format!("Cut {first} first.")),
        "{}",
        refused.text(".refusal")
    );
    assert_eq!(refused.attribute("main .buttons a", "href"), yard.at(&format!("/{first}")));
    assert!(!yard.line(&second).await.contains("cut, lead"));

    yard.cut(&first).await;
    yard.cut(&second).await;
    let refused = yard.take_back(&first).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text(".refusal").starts_with(&format!("{second} was cut from what {first} left over.")));
    yard.take_back(&second).await.leads_to();
    yard.take_back(&first).await.leads_to();
}

#[tokio::test]
async fn what_is_left_over_is_written_on_and_found_again() {
    let yard = Yard::new().await;
    let (first, second) = yard.pair().await;
    let page = yard.piece(&first).await;
    let racked = page.texts(".cut-leaves li").into_iter().find(|line| line.contains("rack it")).unwrap();
    assert!(racked.contains(&second), "{racked}");
    let numbered = |word: &&str| {
        word.strip_prefix('K').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
    };
    let label = racked.split(' ').find(numbered).unwrap_or_else(|| panic!("no label in {racked}")).to_owned();
    assert!(page.text(".drawing").contains(&label));
    yard.cut(&first).await;
    assert_eq!(yard.piece(&second).await.text(".cut-take"), format!("Take offcut {label}"));
}

#[tokio::test]
async fn a_wall_measured_again_after_cutting_shows_what_no_longer_fits() {
    let yard = Yard::new().await;
    let all = yard.saw().await.texts(".queue-line").len();
    let cut = yard.cut_next(all).await;
    let back: Vec<&String> = cut.iter().filter(|piece| piece.starts_with('B')).collect();
    let left: Vec<&String> = cut.iter().filter(|piece| piece.starts_with('A')).collect();
    yard.measure_back_wall("1518").await;

    let page = yard.saw().await;
    let looks = page.texts("#queue .state.look");
    assert!(!looks.is_empty() && looks.iter().all(|look| look.starts_with("cut at ")), "{looks:?}");
    let names = page.texts(".saw-misfits .list-name");
    let mut lines = names.into_iter().zip(page.texts(".saw-misfits summary"));
    let (piece, look) = lines.find(|(_, line)| line.contains("the plan now says")).unwrap();
    assert!(back.contains(&&piece), "{look}");
    for piece in left {
        assert!(yard.line(piece).await.contains("cut, lead"), "{}", yard.line(piece).await);
    }
    let page = yard.piece(&piece).await;
    let trimmed = page.text(".cut-mend button") == "Trim it";
    yard.mend(&piece).await.leads_to();
    assert!(yard.piece(&piece).await.texts("main .state.look").is_empty());
    if !trimmed {
        yard.cut(&piece).await;
    }
    assert!(yard.piece(&piece).await.texts("main .state.look").is_empty());
}

#[tokio::test]
async fn pieces_that_the_plan_no_longer_has_are_left_over() {
    let yard = Yard::new().await;
    let all = yard.saw().await.texts(".queue-line").len();
    yard.cut_next(all).await;
    yard.measure_back_wall("700").await;
    let page = yard.saw().await;
    let left = page.texts(".saw-left-over li");
    assert!(!left.is_empty() && left.iter().all(|piece| piece.contains(" × ")), "{left:?}");
    assert!(left.iter().all(|piece| piece.starts_with('B')), "{left:?}");
}

#[tokio::test]
async fn a_press_on_a_page_of_another_plan_is_not_taken() {
    let yard = Yard::new().await;
    let lines = yard.labels().await;
    let piece = lines.iter().find(|piece| piece.starts_with('B')).unwrap().clone();
    let waits = yard.piece(&piece).await.texts("main .state.wait");
    assert!(waits.is_empty(), "{waits:?}");
    let print = yard.print(&piece).await;
    yard.measure_back_wall("1518").await;
    let refused = yard.press(&piece, &print).await;
    assert_eq!(refused.status, StatusCode::CONFLICT);
    assert!(refused.text(".refusal").starts_with("The plan has changed since your page was drawn."));
    assert!(yard.saw().await.text(".saw-progress strong").starts_with("Cut 0 of "));
}

#[tokio::test]
async fn an_offcut_of_the_old_plan_is_not_promised_by_the_new_one() {
    let yard = Yard::new().await;
    let (first, second) = yard.pair().await;
    yard.cut(&first).await;
    let label = yard.piece(&second).await.text(".cut-take strong");
    // A wider blade plans every tile anew.
    let asked = yard.crew.send_sheet(&yard.job, &[("kerf", "4")]).await;
    yard.crew.agreed(asked).await.leads_to();
    assert!(yard.line(&first).await.contains("cut, lead"), "{}", yard.line(&first).await);
    let page = yard.saw().await;
    let waiting: Vec<String> =
        page.texts(".queue-line").into_iter().filter(|line| line.contains("offcut K")).collect();
    let number = label.trim_start_matches("offcut ").to_owned();
    let promised = waiting.iter().any(|line| line.ends_with(&format!("offcut {number}")));
    assert!(!promised, "{number} lies on the rack, and a new tile has its number: {waiting:?}");
    let all = page.texts(".queue-line").len();
    yard.cut_next(all - 1).await;
}

#[tokio::test]
async fn a_hole_is_marked_from_two_factory_edges() {
    let yard = Yard::new().await;
    let lines = yard.labels().await;
    for piece in lines.iter().filter(|piece| piece.starts_with('C')) {
        let page = yard.piece(piece).await;
        let titles = page.texts(".operation-title");
        if titles.iter().any(|title| title == "Drill a hole of 44 mm") {
            let measures = page.texts(".operations > li:last-child .measure-says");
            assert_eq!(measures.len(), 2);
            assert!(measures.iter().all(|says| says.starts_with("to the centre, from the ")), "{measures:?}");
            assert!(measures.iter().all(|says| says.contains("factory edge")), "{measures:?}");
            assert!(page.text(".cut-ahead").ends_with("meets the valve"), "{}", page.text(".cut-ahead"));
            return;
        }
    }
    panic!("no piece has the valve");
}

#[tokio::test]
async fn a_piece_that_no_longer_fits_does_not_count_as_cut() {
    let yard = Yard::new().await;
    let all = yard.saw().await.texts(".queue-line").len();
    yard.cut_next(all).await;
    yard.measure_back_wall("1518").await;
    let page = yard.saw().await;
    let misfits = page.texts("#queue .state.look").len();
    assert!(misfits > 0);
    let all = page.texts(".queue-line").len();
    let uncut = page.texts(".cut:not(.misfit)").len();
    assert_eq!(page.text(".saw-progress strong"), format!("Cut {} of {all}", all - misfits - uncut));
}

#[tokio::test]
async fn the_log_says_in_words_what_was_done_at_the_saw() {
    let yard = Yard::new().await;
    let piece = yard.in_hand().await;
    yard.cut(&piece).await;
    yard.take_back(&piece).await.leads_to();
    yard.broke(&piece).await.leads_to();
    let entry = yard.saw().await.attribute(".saw-lost input[name=entry]", "value");
    yard.crew.post(&yard.at(&format!("/{piece}/not-broke")), &[("entry", &entry)]).await.leads_to();
    let log = yard.crew.get(&format!("/jobs/{}/log", yard.job)).await.texts(".log-says");
    let says = ["did not break after all.", "broke.", "was not cut after all.", "was cut."];
    assert_eq!(log, says.map(|says| format!("{piece} {says}")));
}
