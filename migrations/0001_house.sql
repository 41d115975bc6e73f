-- Lengths are INTEGER units of 1/76800 mm, times INTEGER milliseconds UTC, ids random text made once.

CREATE TABLE person (
    id   TEXT NOT NULL PRIMARY KEY,
    name TEXT NOT NULL,
    role TEXT NOT NULL CHECK (role IN ('lead', 'helper')),
    made INTEGER NOT NULL
) STRICT;

CREATE TABLE device (
    id   TEXT NOT NULL PRIMARY KEY,
    name TEXT NOT NULL,
    made INTEGER NOT NULL
) STRICT;

-- The first and the last moment this store has seen of each start of the machine.
CREATE TABLE heartbeat (
    place      INTEGER NOT NULL PRIMARY KEY,
    boot       TEXT NOT NULL,
    which      TEXT NOT NULL CHECK (which IN ('first', 'last')),
    wall       INTEGER NOT NULL,
    boot_ms    INTEGER NOT NULL,
    wall_clock TEXT NOT NULL CHECK (wall_clock IN ('trusted', 'unsure', 'behind')),
    UNIQUE (boot, which)
) STRICT;

CREATE TABLE job (
    id              TEXT NOT NULL PRIMARY KEY,
    name            TEXT NOT NULL,
    unit            TEXT NOT NULL CHECK (unit IN ('mm', 'in')),
    zone            TEXT NOT NULL,
    joint           INTEGER NOT NULL,
    kerf            INTEGER NOT NULL,
    spare           INTEGER NOT NULL,
    gap_corner      INTEGER NOT NULL,
    gap_base        INTEGER NOT NULL,
    gap_ceiling     INTEGER NOT NULL,
    gap_trim        INTEGER NOT NULL,
    gap_mitre       INTEGER NOT NULL,
    gap_opening     INTEGER NOT NULL,
    base_gap_max    INTEGER NOT NULL,
    smallest_width  INTEGER,
    smallest_height INTEGER,
    bed             INTEGER NOT NULL,
    membrane        INTEGER NOT NULL CHECK (membrane IN (0, 1)),
    floor           TEXT NOT NULL CHECK (floor IN ('as-measured', 'before', 'after')),
    floor_thickness INTEGER NOT NULL,
    line_shift      INTEGER NOT NULL,
    -- Raised by every change of what was measured or chosen; a form names the version it was drawn from.
    version         INTEGER NOT NULL,
    made            INTEGER NOT NULL
) STRICT;

CREATE TABLE tile (
    job          TEXT NOT NULL REFERENCES job (id),
    id           TEXT NOT NULL,
    width        INTEGER NOT NULL CHECK (width > 0),
    height       INTEGER NOT NULL CHECK (height > 0),
    thickness    INTEGER NOT NULL,
    directional  INTEGER NOT NULL CHECK (directional IN (0, 1)),
    quarter_turn INTEGER NOT NULL CHECK (quarter_turn IN (0, 1)),
    per_box      INTEGER,
    PRIMARY KEY (job, id)
) STRICT;

CREATE TABLE wall (
    job          TEXT NOT NULL REFERENCES job (id),
    id           TEXT NOT NULL,
    name         TEXT NOT NULL,
    place        INTEGER NOT NULL,
    width        INTEGER NOT NULL CHECK (width > 0),
    left_role    TEXT NOT NULL,
    left_meets   TEXT,
    left_first   INTEGER NOT NULL CHECK (left_first IN (0, 1)),
    right_role   TEXT NOT NULL,
    right_meets  TEXT,
    right_first  INTEGER NOT NULL CHECK (right_first IN (0, 1)),
    base_role    TEXT NOT NULL,
    top_role     TEXT NOT NULL,
    top_may_move INTEGER NOT NULL,
    pattern      TEXT NOT NULL,
    PRIMARY KEY (job, id)
) STRICT;

CREATE TABLE base_reading (
    job     TEXT NOT NULL,
    wall    TEXT NOT NULL,
    place   INTEGER NOT NULL,
    x       INTEGER NOT NULL,
    "drop"  INTEGER NOT NULL,
    carries INTEGER NOT NULL CHECK (carries IN (0, 1)),
    PRIMARY KEY (job, wall, place),
    FOREIGN KEY (job, wall) REFERENCES wall (job, id)
) STRICT;

CREATE TABLE top_reading (
    job   TEXT NOT NULL,
    wall  TEXT NOT NULL,
    place INTEGER NOT NULL,
    x     INTEGER NOT NULL,
    rise  INTEGER NOT NULL,
    PRIMARY KEY (job, wall, place),
    FOREIGN KEY (job, wall) REFERENCES wall (job, id)
) STRICT;

CREATE TABLE opening (
    job       TEXT NOT NULL,
    wall      TEXT NOT NULL,
    place     INTEGER NOT NULL,
    name      TEXT NOT NULL,
    kind      TEXT NOT NULL CHECK (kind IN ('rectangle', 'circle')),
    x         INTEGER NOT NULL,
    y         INTEGER NOT NULL,
    width     INTEGER NOT NULL CHECK (width > 0),
    height    INTEGER NOT NULL CHECK (height > 0),
    clearance INTEGER NOT NULL,
    edge      TEXT NOT NULL,
    PRIMARY KEY (job, wall, place),
    FOREIGN KEY (job, wall) REFERENCES wall (job, id)
) STRICT;

CREATE TABLE band (
    job           TEXT NOT NULL,
    wall          TEXT NOT NULL,
    place         INTEGER NOT NULL,
    tile          TEXT NOT NULL,
    upright       INTEGER NOT NULL CHECK (upright IN (0, 1)),
    courses       INTEGER,
    bottom_least  INTEGER,
    bottom_most   INTEGER,
    PRIMARY KEY (job, wall, place),
    FOREIGN KEY (job, wall) REFERENCES wall (job, id),
    FOREIGN KEY (job, tile) REFERENCES tile (job, id)
) STRICT;

-- What the lead chose by hand; what is absent is proposed.
CREATE TABLE layout (
    job   TEXT NOT NULL PRIMARY KEY REFERENCES job (id),
    joint INTEGER
) STRICT;

CREATE TABLE layout_wall (
    job          TEXT NOT NULL,
    wall         TEXT NOT NULL,
    course_line  INTEGER,
    start        INTEGER,
    first_course TEXT CHECK (first_course IN ('propped', 'scribed')),
    mirror       INTEGER CHECK (mirror IN (0, 1)),
    PRIMARY KEY (job, wall),
    FOREIGN KEY (job, wall) REFERENCES wall (job, id)
) STRICT;

-- Stages as a graph a job: which are on it, and what waits for what.
CREATE TABLE stage (
    job    TEXT NOT NULL REFERENCES job (id),
    kind   TEXT NOT NULL,
    place  INTEGER NOT NULL,
    on_job INTEGER NOT NULL CHECK (on_job IN (0, 1)),
    PRIMARY KEY (job, kind)
) STRICT;

CREATE TABLE stage_wait (
    job      TEXT NOT NULL,
    earlier  TEXT NOT NULL,
    later    TEXT NOT NULL,
    wait     TEXT NOT NULL,
    PRIMARY KEY (job, earlier, later, wait),
    FOREIGN KEY (job, earlier) REFERENCES stage (job, kind),
    FOREIGN KEY (job, later) REFERENCES stage (job, kind)
) STRICT;

-- What each stage is done with. A product that the crew has not named goes by the name of its class.
CREATE TABLE product (
    job   TEXT NOT NULL,
    stage TEXT NOT NULL,
    class TEXT NOT NULL,
    name  TEXT NOT NULL,
    PRIMARY KEY (job, stage),
    FOREIGN KEY (job, stage) REFERENCES stage (job, kind)
) STRICT;

-- What the bag says, where it replaces the class's own window; why, where it is shorter than that.
CREATE TABLE product_window (
    job    TEXT NOT NULL,
    stage  TEXT NOT NULL,
    kind   TEXT NOT NULL,
    bed    TEXT NOT NULL CHECK (bed IN ('over_membrane', 'ordinary')),
    span   INTEGER NOT NULL CHECK (span >= 0),
    reason TEXT,
    PRIMARY KEY (job, stage, kind, bed),
    FOREIGN KEY (job, stage) REFERENCES product (job, stage)
) STRICT;

-- Everything that was done: only ever added to.
CREATE TABLE event (
    sequence      INTEGER NOT NULL PRIMARY KEY,
    id            TEXT NOT NULL UNIQUE,
    -- Made by the page or phone that asks, so that asking twice does it once.
    key           TEXT NOT NULL UNIQUE,
    payload_hash  BLOB NOT NULL CHECK (length(payload_hash) = 32),
    previous_hash BLOB NOT NULL CHECK (length(previous_hash) = 32),
    job           TEXT NOT NULL REFERENCES job (id),
    part          TEXT NOT NULL,
    kind          TEXT NOT NULL,
    detail        TEXT NOT NULL,
    happened      INTEGER NOT NULL,
    received      INTEGER NOT NULL,
    boot          TEXT NOT NULL,
    boot_ms       INTEGER NOT NULL,
    -- What was known of the wall clock when this was received.
    wall_clock    TEXT NOT NULL CHECK (wall_clock IN ('trusted', 'unsure', 'behind')),
    author        TEXT NOT NULL REFERENCES person (id),
    device        TEXT NOT NULL REFERENCES device (id),
    supersedes    TEXT REFERENCES event (id)
) STRICT;

CREATE INDEX event_by_job ON event (job, sequence);

CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON event
BEGIN
    SELECT RAISE(ABORT, 'events are only ever added');
END;

CREATE TRIGGER event_is_never_removed BEFORE DELETE ON event
BEGIN
    SELECT RAISE(ABORT, 'events are only ever added');
END;

-- Forms that are not events, by their key and what they were answered with.
CREATE TABLE form_key (
    key      TEXT NOT NULL PRIMARY KEY,
    -- Hash of the form as sent: the same key with another form is not a repeat.
    form     BLOB NOT NULL,
    answer   TEXT NOT NULL,
    received INTEGER NOT NULL
) STRICT;
