//! Jobs: their names, tiles, joint, saw and gaps. Walls are in [`super::wall`].

use jiff::tz::TimeZone;
use trade::cure::Template;
use trade::measure::{Length, Unit};

use super::{EventKey, JobId, Store, StoreError};

/// One line of the list of jobs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct JobLine {
    pub id: JobId,
    pub name: String,
    pub walls: i64,
}

/// What is asked of a new job; the rest starts with the usual values of its unit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NewJob {
    pub name: String,
    pub unit: Unit,
    /// An IANA time zone name.
    pub zone: String,
    /// Which stages it starts with.
    pub work: Template,
}

/// What every page of a job needs of it.
#[derive(Clone, Debug)]
pub struct JobHead {
    pub id: JobId,
    pub name: String,
    /// Where its times are shown.
    pub zone: TimeZone,
    pub unit: Unit,
    /// Raised by every change of what was measured or chosen.
    pub version: i64,
}

pub(super) fn unit_of(name: &str) -> Result<Unit, StoreError> {
    match name {
        "mm" => Ok(Unit::Millimetre),
        "in" => Ok(Unit::Inch),
        other => Err(StoreError::Unreadable(format!("unit {other}"))),
    }
}

impl Store {
    /// The head of a job.
    ///
    /// # Errors
    ///
    /// [`StoreError::Missing`] where there is no such job.
    pub async fn job_head(&self, job: &JobId) -> Result<JobHead, StoreError> {
        let row = sqlx::query!("SELECT id, name, zone, unit, version FROM job WHERE id = ?", job)
            .fetch_optional(&self.readers)
            .await?
            .ok_or(StoreError::Missing)?;
        let zone = TimeZone::get(&row.zone)
            .map_err(|_| StoreError::Unreadable(format!("time zone {}", row.zone)))?;
        let unit = unit_of(&row.unit)?;
        Ok(JobHead { id: row.id, name: row.name, zone, unit, version: row.version })
    }

    /// Every job, newest first.
    pub async fn jobs(&self) -> Result<Vec<JobLine>, StoreError> {
        Ok(sqlx::query_as!(
            JobLine,
            r#"SELECT id, name, (SELECT count(*) FROM wall WHERE wall.job = job.id) AS "walls!: i64"
               FROM job ORDER BY made DESC, id"#
        )
        .fetch_all(&self.readers)
        .await?)
    }

    /// Starts a job, once for each form key.
    pub async fn make_job(&self, key: EventKey, new: NewJob) -> Result<JobId, StoreError> {
        self.write(|store| async move {
            let mut transaction = store.begin().await?;
            if let Some(before) = super::form_key::answered(&mut transaction, &key).await? {
                return Ok(JobId::from(before));
            }
            let id = JobId::random();
            let start = StartValues::of(new.unit);
            let unit = super::sheet::unit_name(new.unit);
            let made = store.clock.now().millis();
            sqlx::query!(
                "INSERT INTO job (id, name, unit, zone, joint, kerf, spare, gap_corner, gap_base, gap_ceiling,
                                  gap_trim, gap_mitre, gap_opening, base_gap_max, smallest_width, smallest_height,
                                  bed, membrane, floor, floor_thickness, line_shift, version, made)
                 VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, NULL, NULL, ?, 1, 'as-measured', 0, 0, 1, ?)",
                id,
                new.name,
                unit,
                new.zone,
                start.joint,
                start.kerf,
                start.spare,
                start.gap,
                start.gap,
                start.gap,
                start.gap,
                start.gap,
                start.gap,
                start.base_gap_max,
                start.bed,
                made
            )
            .execute(&mut *transaction)
            .await?;
            super::stage::start(&mut transaction, &id, new.work).await?;
            super::form_key::answer(&mut transaction, &key, id.as_str(), made).await?;
            transaction.commit().await?;
            Ok(id)
        })
        .await
    }
}

/// What a new job starts with, in units of length: common practice, all of it changeable on the job's sheet.
struct StartValues {
    joint: i64,
    kerf: i64,
    spare: i64,
    gap: i64,
    base_gap_max: i64,
    bed: i64,
}

impl StartValues {
    fn of(unit: Unit) -> Self {
        let (joint, kerf, spare, gap, base_gap_max, bed) = match unit {
            Unit::Millimetre => {
                (Length::mm(3), Length::mm(2), Length::mm(1), Length::mm(3), Length::mm(6), Length::mm(4))
            }
            Unit::Inch => (
                Length::sixty_fourths(8),
                Length::sixty_fourths(5),
                Length::sixty_fourths(2),
                Length::sixty_fourths(8),
                Length::sixty_fourths(16),
                Length::sixty_fourths(10),
            ),
        };
        Self {
            joint: joint.units(),
            kerf: kerf.units(),
            spare: spare.units(),
            gap: gap.units(),
            base_gap_max: base_gap_max.units(),
            bed: bed.units(),
        }
    }
}
