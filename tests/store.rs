//! What the store promises.

use coursebook::clock::Clock;
use coursebook::store::{
    Appended, Claim, EventKey, JobId, NewEvent, NewJob, OpenError, Sawn, Store, StoreError,
};
use trade::cure::Template;
use trade::measure::Unit;
use trade::place::PieceId;

use crate::support::Crew;

async fn job(crew: &Crew) -> JobId {
    let (name, zone) = ("Alder Court".to_owned(), "UTC".to_owned());
    let new = NewJob { name, unit: Unit::Millimetre, zone, work: Template::TileWork };
    crew.app.store.make_job(EventKey::random(), new).await.unwrap()
}

fn cut(key: &EventKey, job: &JobId, piece: &str) -> NewEvent {
    NewEvent {
        key: key.clone(),
        job: job.clone(),
        part: piece.to_owned(),
        kind: "cut".to_owned(),
        detail: "{}".to_owned(),
        happened: None,
        supersedes: None,
    }
}

#[tokio::test]
async fn an_entry_is_added_once_for_each_key() {
    let crew = Crew::new().await;
    let (job, key, by) = (job(&crew).await, EventKey::random(), crew.app.store.at_the_box().await.unwrap());
    let store = &crew.app.store;
    let first = store.append(cut(&key, &job, "A1-2"), by.clone()).await.unwrap();
    let again = store.append(cut(&key, &job, "A1-2"), by.clone()).await.unwrap();
    assert!(matches!((&first, &again), (Appended::New(_), Appended::Again(_))));
    assert_eq!(first.event(), again.event());
    let other = store.append(cut(&key, &job, "A1-3"), by).await;
    assert!(matches!(other, Err(StoreError::KeyReused)));
    assert_eq!(store.events(&job).await.unwrap().len(), 1);
}

#[tokio::test]
async fn an_entry_refused_leaves_nothing_behind() {
    let crew = Crew::new().await;
    let job = job(&crew).await;
    let new = cut(&EventKey::random(), &job, "A1-2");
    let refused = crew
        .app
        .store
        .append_if(new, crew.app.store.at_the_box().await.unwrap(), |_| Err("not yet"))
        .await
        .unwrap();
    assert_eq!(refused, Err("not yet"));
    assert!(crew.app.store.events(&job).await.unwrap().is_empty());
}

#[tokio::test]
async fn the_log_cannot_be_changed_and_a_change_behind_our_back_is_noticed_at_start() {
    let crew = Crew::new().await;
    let job = job(&crew).await;
    for piece in ["A1-1", "A1-2", "A1-3"] {
        let new = cut(&EventKey::random(), &job, piece);
        crew.app.store.append(new, crew.app.store.at_the_box().await.unwrap()).await.unwrap();
    }
    let crew = crew.restarted().await;
    assert_eq!(crew.app.store.events(&job).await.unwrap().len(), 3);
    let folder = crew.stopped().await;
    let options = sqlx::sqlite::SqliteConnectOptions::new().filename(folder.path().join("coursebook.db"));
    let pool = sqlx::SqlitePool::connect_with(options).await.unwrap();
    for change in
        ["UPDATE event SET part = 'A9-9' WHERE sequence = 2", "DELETE FROM event WHERE sequence = 2"]
    {
        let refused = sqlx::query(change).execute(&pool).await.unwrap_err();
        assert!(refused.to_string().contains("only ever added"), "{refused}");
    }
    sqlx::query("DROP TRIGGER event_is_never_changed").execute(&pool).await.unwrap();
    sqlx::query("UPDATE event SET part = 'A9-9' WHERE sequence = 2").execute(&pool).await.unwrap();
    pool.close().await;

    let opened = Store::open(folder.path(), Clock::system()).await;
    assert!(matches!(opened, Err(OpenError::BrokenChain { sequence: 3 })));
}

#[tokio::test]
async fn two_servers_never_share_a_folder() {
    let crew = Crew::new().await;
    let second = Store::open(crew.folder.path(), Clock::system()).await;
    assert!(matches!(second, Err(OpenError::InUse(_))));
}

#[tokio::test]
async fn of_two_who_reach_for_one_piece_at_once_one_gets_it() {
    let crew = Crew::new().await;
    let (job, lead, helper) = (job(&crew).await, crew.joined("Rui").await, crew.joined("Ines").await);
    let reach = |by: &coursebook::store::Actor| {
        let own = by.device.clone();
        let free = move |_: &Sawn, claims: &[Claim]| {
            if claims.iter().any(|claim| claim.device != own) { Err("taken") } else { Ok(()) }
        };
        let piece = PieceId("A1-1".to_owned());
        crew.app.store.take_in_hand(EventKey::random(), job.clone(), piece, by.clone(), free)
    };
    let (one, other) = tokio::join!(reach(&lead), reach(&helper));
    let mut outcomes = [one.unwrap(), other.unwrap()];
    outcomes.sort_unstable();
    assert_eq!(outcomes, [Ok(()), Err("taken")]);
    assert_eq!(crew.app.store.cut_log(&job).await.unwrap().claims.len(), 1);
}

#[tokio::test]
async fn a_device_has_one_piece_in_hand_and_lets_go_of_its_own_alone() {
    let crew = Crew::new().await;
    let (job, lead, helper) = (job(&crew).await, crew.joined("Rui").await, crew.joined("Ines").await);
    let store = &crew.app.store;
    let (first, second) = (PieceId("A1-1".to_owned()), PieceId("A1-2".to_owned()));
    for piece in [&first, &second] {
        let free = |_: &Sawn, _: &[Claim]| Ok::<(), ()>(());
        let taken = store.take_in_hand(EventKey::random(), job.clone(), piece.clone(), lead.clone(), free);
        taken.await.unwrap().unwrap();
    }
    let held = async || {
        let claims = store.cut_log(&job).await.unwrap().claims;
        claims.into_iter().map(|claim| (claim.piece, claim.device)).collect::<Vec<_>>()
    };
    assert_eq!(held().await, [(second.clone(), lead.device.clone())]);
    store.let_go(EventKey::random(), job.clone(), second.clone(), helper).await.unwrap();
    assert_eq!(held().await.len(), 1);
    store.let_go(EventKey::random(), job.clone(), second, lead).await.unwrap();
    assert!(held().await.is_empty());
}
