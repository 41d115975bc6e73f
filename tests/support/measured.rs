//! Jobs that are measured already, by the forms a lead uses.

use coursebook::store::JobId;

use super::{Crew, Page};

/// A wall of a rectangular room, as typed: name, width, base readings (from the left, down), rise.
pub struct Wall<'a> {
    pub name: &'a str,
    pub width: &'a str,
    pub base: &'a [(&'a str, &'a str)],
    pub rise: &'a str,
    /// Anything else on the form.
    pub more: &'a [(&'a str, &'a str)],
}

impl Crew {
    /// A job with nothing measured yet, in `mm` or `in`.
    pub async fn job(&self, unit: &str) -> JobId {
        let fields = [("name", "Alder Court, upstairs bath"), ("unit", unit), ("zone", "Europe/Lisbon")];
        let address = self.post("/jobs", &fields).await.leads_to();
        JobId::from(address.rsplit('/').next().unwrap().to_owned())
    }

    /// Sends a job's sheet as it stands, with these fields typed over it.
    pub async fn send_sheet(&self, job: &JobId, typed: &[(&str, &str)]) -> Page {
        let address = format!("/jobs/{job}/sheet");
        let page = self.get(&address).await;
        self.post_form(&address, &typed_over(&page, typed)).await
    }

    /// Sends the form of a new wall.
    pub async fn send_wall(&self, job: &JobId, wall: &Wall<'_>) -> Page {
        let address = format!("/jobs/{job}/walls/new");
        let page = self.get(&address).await;
        self.send_wall_from(&page, &address, wall).await
    }

    /// Sends a wall from a form that was opened before.
    pub async fn send_wall_from(&self, form: &Page, address: &str, wall: &Wall<'_>) -> Page {
        let rows: Vec<(String, &str)> = (0..)
            .zip(wall.base)
            .flat_map(|(row, (x, drop)): (usize, _)| {
                [(format!("base-{row}-x"), *x), (format!("base-{row}-drop"), *drop)]
            })
            .collect();
        let mut typed: Vec<(&str, &str)> = rows.iter().map(|(name, typed)| (name.as_str(), *typed)).collect();
        typed.extend([("name", wall.name), ("width", wall.width), ("top-0-rise", wall.rise), ("do", "save")]);
        typed.retain(|(name, _)| wall.more.iter().all(|(over, _)| over != name));
        typed.extend(wall.more);
        self.post_form(address, &typed_over(form, &typed)).await
    }

    /// A three-wall shower of 598 x 298 mm tile, left wall A, back wall B, right wall C with a valve: measured
    /// whole, so that it can be planned.
    pub async fn measured_job(&self) -> JobId {
        let job = self.job("mm").await;
        let tile = [("tile-0-width", "598"), ("tile-0-height", "298"), ("tile-0-thickness", "9")];
        self.send_sheet(&job, &tile).await.leads_to();
        let valve = [
            ("left-meets", "B"),
            ("left-first", "neighbour"),
            ("right-role", "bare"),
            ("opening-0-name", "valve"),
            ("opening-0-kind", "circle"),
            ("opening-0-x", "455"),
            ("opening-0-y", "150"),
            ("opening-0-y-side", "below"),
            ("opening-0-width", "38"),
        ];
        let walls = [
            Wall {
                name: "left wall",
                width: "912",
                base: &[("0", "1202"), ("912", "1200")],
                rise: "1000",
                more: &[("left-role", "bare")],
            },
            Wall {
                name: "back wall",
                width: "1526",
                base: &[("0", "1200"), ("1526", "1202")],
                rise: "1000",
                more: &[("left-meets", "A"), ("left-first", "this")],
            },
            Wall {
                name: "right wall",
                width: "912",
                base: &[("0", "1202"), ("912", "1203")],
                rise: "1000",
                more: &valve,
            },
        ];
        for wall in &walls {
            self.send_wall(&job, wall).await.leads_to();
        }
        job
    }
}

/// The fields of the page's own form, as a browser would send them, with others typed over them. Fields that the
/// page does not have are added.
pub fn typed_over(page: &Page, typed: &[(&str, &str)]) -> Vec<(String, String)> {
    let mut fields = page.form_fields();
    fields.retain(|(name, _)| name != "key" && typed.iter().all(|(over, _)| over != name));
    let typed = typed.iter().filter(|(_, typed)| !typed.is_empty());
    fields.extend(typed.map(|(name, typed)| ((*name).to_owned(), (*typed).to_owned())));
    fields
}
