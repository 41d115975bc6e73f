-- What the bag says of mixing, where it replaces what is usual for the class: milliseconds, millilitres, grams or square
-- centimetres, by what the figure is. Batches themselves are entries of the log.
CREATE TABLE product_figure (
    job    TEXT NOT NULL,
    stage  TEXT NOT NULL,
    figure TEXT NOT NULL,
    amount INTEGER NOT NULL CHECK (amount >= 0),
    PRIMARY KEY (job, stage, figure),
    FOREIGN KEY (job, stage) REFERENCES product (job, stage)
) STRICT;

-- Addresses at which a calendar reads the next steps of a job, with nobody signed in. Their tokens are kept as hashes
-- only.
CREATE TABLE calendar_feed (
    token   BLOB NOT NULL PRIMARY KEY CHECK (length(token) = 32),
    job     TEXT NOT NULL REFERENCES job (id),
    made    INTEGER NOT NULL,
    made_by TEXT NOT NULL REFERENCES person (id),
    revoked INTEGER
) STRICT;

CREATE INDEX calendar_feed_by_job ON calendar_feed (job);
