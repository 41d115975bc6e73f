-- Niches and valves that are not built yet: what is wished, from the bare wall's left corner and the first level
-- line. What comes of it depends on the layout and is worked out anew each time.
CREATE TABLE rough_in (
    job          TEXT NOT NULL,
    wall         TEXT NOT NULL,
    place        INTEGER NOT NULL,
    name         TEXT NOT NULL,
    kind         TEXT NOT NULL CHECK (kind IN ('niche', 'valve')),
    -- A niche's finished mouth; a valve's hole both ways.
    width        INTEGER NOT NULL CHECK (width > 0),
    height       INTEGER NOT NULL CHECK (height > 0),
    lining       INTEGER NOT NULL,
    clearance    INTEGER NOT NULL,
    edge         TEXT NOT NULL,
    x_from       INTEGER NOT NULL,
    x_to         INTEGER NOT NULL,
    y_from       INTEGER NOT NULL,
    y_to         INTEGER NOT NULL,
    -- A valve's depth from its back, where it was measured: to the bare wall, and where the finished wall may be.
    to_bare_wall INTEGER,
    window_least INTEGER,
    window_most  INTEGER,
    PRIMARY KEY (job, wall, place),
    FOREIGN KEY (job, wall) REFERENCES wall (job, id)
) STRICT;
