//! Where phones find the server, and what the lead is told when that has changed.

use std::net::SocketAddr;

use coursebook::config::LocalName;
use coursebook::web::{NetworkName, Reached};

use crate::support::Crew;

fn at(address: &str) -> SocketAddr {
    address.parse().unwrap()
}

#[tokio::test]
async fn the_store_knows_where_phones_went_when_it_last_ran() {
    let crew = Crew::new().await;
    assert_eq!(crew.app.store.reached_at(at("192.0.2.7:8080")).await.unwrap(), None);
    assert_eq!(crew.app.store.reached_at(at("192.0.2.7:8080")).await.unwrap(), Some(at("192.0.2.7:8080")));
    let crew = crew.restarted().await;
    assert_eq!(crew.app.store.reached_at(at("192.0.2.9:8080")).await.unwrap(), Some(at("192.0.2.7:8080")));
    assert_eq!(crew.app.store.reached_at(at("192.0.2.9:8080")).await.unwrap(), Some(at("192.0.2.9:8080")));
}

#[tokio::test]
async fn a_lead_whose_box_got_another_address_is_told_on_the_first_page() {
    let mut crew = Crew::new().await;
    assert!(crew.get("/").await.texts(".note").is_empty());
    let name = NetworkName::new("coursebook.local", 8080);
    crew.reached(Reached {
        addresses: vec![at("192.0.2.9:8080"), at("127.0.0.1:8080")],
        name: Some(name.clone()),
        moved_from: Some(at("192.0.2.7:8080")),
    });
    for page in ["/", "/people"] {
        let told = crew.get(page).await.text(".note");
        assert!(told.contains("192.0.2.7:8080") && told.contains("192.0.2.9:8080"), "{told}");
    }
    let ways = crew.get("/people").await.texts(".ways li");
    assert_eq!(ways, ["http://192.0.2.9:8080/", "http://coursebook.local:8080/"]);

    // Another machine on the network had the name before.
    assert!(!name.gives_way("coursebook._http._tcp.local.", "coursebook (2)._http._tcp.local."));
    assert_eq!(crew.get("/people").await.texts(".ways li"), ways, "the service's own name is on no page");
    assert!(name.gives_way("Coursebook.local.", "coursebook-2.local."));
    let ways = crew.get("/people").await.texts(".ways li");
    assert_eq!(ways, ["http://192.0.2.9:8080/", "http://coursebook-2.local:8080/"]);
}

#[test]
fn a_name_is_one_label_of_a_host_name() {
    for good in ["coursebook", "Job-7", "a", "7"] {
        assert_eq!(good.parse::<LocalName>().unwrap().full(), format!("{}.local", good.to_lowercase()));
    }
    for bad in ["", "-a", "a-", "a b", "a.b", "caf\u{e9}", &"a".repeat(64)] {
        assert!(bad.parse::<LocalName>().is_err(), "{bad}");
    }
}
