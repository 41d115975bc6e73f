-- How the lead begins new jobs; the row is made when the lead is set up.
CREATE TABLE crew (
    only INTEGER NOT NULL PRIMARY KEY CHECK (only = 1),
    zone TEXT NOT NULL,
    unit TEXT NOT NULL CHECK (unit IN ('mm', 'in'))
) STRICT;

-- One browser that is in, or waits to be let in. Its token is kept as a hash only. A board has no person: it reads.
CREATE TABLE session (
    device  TEXT NOT NULL PRIMARY KEY REFERENCES device (id),
    token   BLOB NOT NULL UNIQUE CHECK (length(token) = 32),
    person  TEXT REFERENCES person (id),
    role    TEXT NOT NULL CHECK (role IN ('lead', 'helper', 'board')),
    made    INTEGER NOT NULL,
    seen    INTEGER NOT NULL,
    allowed INTEGER,
    ended   INTEGER,
    CHECK ((person IS NULL) = (role = 'board'))
) STRICT;

-- One way in for one device: a lead's is made by the box itself.
CREATE TABLE join_link (
    token   BLOB NOT NULL PRIMARY KEY CHECK (length(token) = 32),
    role    TEXT NOT NULL CHECK (role IN ('lead', 'helper', 'board')),
    made    INTEGER NOT NULL,
    expires INTEGER NOT NULL,
    made_by TEXT REFERENCES person (id),
    used_by TEXT REFERENCES device (id),
    revoked INTEGER,
    CHECK ((made_by IS NULL) = (role = 'lead'))
) STRICT;

CREATE TABLE pin (
    person TEXT NOT NULL PRIMARY KEY REFERENCES person (id),
    hash   TEXT NOT NULL
) STRICT;

-- PINs that were typed wrong since one was right.
CREATE TABLE pin_try (
    place  INTEGER NOT NULL PRIMARY KEY,
    person TEXT NOT NULL REFERENCES person (id),
    at     INTEGER NOT NULL
) STRICT;

CREATE INDEX pin_try_by_person ON pin_try (person, at);
