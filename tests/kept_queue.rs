//! The whole queue as a phone keeps it: for whom, for how long, and how large it is.

use axum::body::Body;
use axum::http::{Request, header};

use crate::cuts::Yard;
use crate::support::{Crew, Page, Wall};

#[tokio::test]
async fn a_page_kept_for_one_person_is_not_kept_for_another() {
    let mut yard = Yard::new().await;
    let kept_for = |page: &Page| page.headers["cache-control"].to_str().unwrap().to_owned();
    let ana = yard.crew.helper("Ana").await.cookie().unwrap();
    let ben = yard.crew.helper("Ben").await.cookie().unwrap();
    yard.crew.hand_to(&ana);
    let of_ana = yard.saw().await.attribute("main", "data-kept-at");
    assert_eq!(kept_for(&yard.crew.get(&of_ana).await), "private, max-age=36000");
    yard.crew.hand_to(&ben);
    let of_ben = yard.saw().await.attribute("main", "data-kept-at");
    assert_ne!(of_ben, of_ana);
    assert_eq!(kept_for(&yard.crew.get(&of_ana).await), "no-store");
    assert_eq!(kept_for(&yard.crew.get(&of_ben).await), "private, max-age=36000");
}

#[tokio::test]
async fn a_phone_keeps_the_queue_for_a_shift_and_never_shows_it_after_a_press() {
    let yard = Yard::new().await;
    let kept_for = |page: &Page| page.headers["cache-control"].to_str().unwrap().to_owned();
    let page = yard.saw().await;
    assert_eq!(kept_for(&page), "no-store", "what a page without script links to is always asked for");
    let kept = page.attribute("main", "data-kept-at");
    assert_eq!(page.attribute(".places a[data-kept-at]", "data-kept-at"), kept);
    assert_eq!(kept_for(&yard.crew.get(&kept).await), "private, max-age=36000");
    // The address names the language, since a browser that keeps a page does not look at the cookie.
    let spanish = yard.crew.get_with(&kept, &[(header::COOKIE, "coursebook_language=es")]).await;
    assert_eq!(kept_for(&spanish), "no-store");
    let back = yard.crew.post("/language", &[("language", "es"), ("back", &kept)]).await.leads_to();
    assert_eq!(back, kept.replace("?in=en", "?in=es"));

    let mut seen = std::collections::BTreeSet::new();
    for _ in 0..2 {
        let piece = yard.in_hand().await;
        let next = yard.press(&piece, &yard.print(&piece).await).await.leads_to();
        assert_eq!(kept_for(&yard.crew.get(&next).await), "no-store");
        assert!(seen.insert(next.clone()), "{next} again");
    }
}

impl Yard {
    /// Five walls to the ceiling in small tile, measured in inches: about 300 cut pieces.
    async fn of_small_tile() -> Self {
        let crew = Crew::new().await;
        let job = crew.job("in").await;
        let tile = [("tile-0-width", "6"), ("tile-0-height", "3"), ("tile-0-thickness", "3/8")];
        crew.send_sheet(&job, &tile).await.leads_to();
        let walls = [
            ("left wall", "35 7/8", "47 3/16"),
            ("back wall", "60 1/16", "47 5/16"),
            ("right wall", "35 15/16", "47 3/8"),
            ("window wall", "71 5/8", "47 7/16"),
            ("door wall", "29 3/16", "47 1/8"),
        ];
        for (name, width, drop) in walls {
            let wall = Wall { name, width, base: &[("0", "47 1/4"), (width, drop)], rise: "66", more: &[] };
            crew.send_wall(&job, &wall).await.leads_to();
        }
        Self { crew, job }
    }
}

/// Over a yard's patchy Wi-Fi the whole queue comes at once, or not at all.
const MOST_BYTES: usize = 60_000;

#[tokio::test]
async fn the_whole_queue_of_three_hundred_pieces_is_one_short_answer() {
    let yard = Yard::of_small_tile().await;
    let page = yard.saw().await;
    let pieces = page.texts(".cut").len();
    assert!(pieces >= 300, "{pieces}");
    assert_eq!(page.texts(".cut .operations").len(), pieces);
    let request =
        Request::get(yard.at("")).header("host", "127.0.0.1:8080").header("accept-encoding", "gzip");
    let answer = yard.crew.answer(request.body(Body::empty()).unwrap()).await;
    assert_eq!(answer.headers()["content-encoding"], "gzip");
    let sent = axum::body::to_bytes(answer.into_body(), usize::MAX).await.unwrap().len();
    assert!(sent <= MOST_BYTES, "{sent} bytes for {pieces} pieces");
}
