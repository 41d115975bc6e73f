-- Where phones reached this server when it last ran, so that it can say when that has changed.
CREATE TABLE reached (
    place   INTEGER NOT NULL PRIMARY KEY CHECK (place = 1),
    address TEXT NOT NULL
) STRICT;
