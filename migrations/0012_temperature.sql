-- How warm it was, in tenths of a degree Celsius. Each row is an entry of the log too, which has who and when; a
-- correction names the entry that it corrects, and both stay.
CREATE TABLE reading (
    event      TEXT NOT NULL PRIMARY KEY REFERENCES event (id),
    job        TEXT NOT NULL REFERENCES job (id),
    -- NULL for the whole job. A wall may be taken off the job after it was read: that is no work on it.
    wall       TEXT,
    holds_from INTEGER NOT NULL,
    -- NULL where what is corrected was never read.
    tenths     INTEGER CHECK (tenths BETWEEN -400 AND 600),
    source     TEXT NOT NULL CHECK (source IN ('hand', 'file', 'sensor')),
    supersedes TEXT REFERENCES reading (event)
) STRICT;

-- One correction each; that one may be corrected in turn.
CREATE UNIQUE INDEX reading_corrected_once ON reading (supersedes) WHERE supersedes IS NOT NULL;

CREATE INDEX reading_by_job ON reading (job);

CREATE TRIGGER reading_is_never_changed BEFORE UPDATE ON reading
BEGIN
    SELECT RAISE(ABORT, 'readings are only ever added');
END;

CREATE TRIGGER reading_is_never_removed BEFORE DELETE ON reading
BEGIN
    SELECT RAISE(ABORT, 'readings are only ever added');
END;

-- The lowest temperature that nights on a job come to, as the lead gave it; the latest holds.
CREATE TABLE night (
    event  TEXT NOT NULL PRIMARY KEY REFERENCES event (id),
    job    TEXT NOT NULL REFERENCES job (id),
    tenths INTEGER NOT NULL CHECK (tenths BETWEEN -400 AND 600)
) STRICT;

CREATE INDEX night_by_job ON night (job);

CREATE TRIGGER night_is_never_changed BEFORE UPDATE ON night
BEGIN
    SELECT RAISE(ABORT, 'night temperatures are only ever added');
END;

CREATE TRIGGER night_is_never_removed BEFORE DELETE ON night
BEGIN
    SELECT RAISE(ABORT, 'night temperatures are only ever added');
END;

-- Below this a product does nothing that counts, as its bag says; NULL for what its class says. Why, where lower.
ALTER TABLE product ADD COLUMN lowest INTEGER CHECK (lowest BETWEEN -400 AND 600);
ALTER TABLE product ADD COLUMN lowest_reason TEXT;
