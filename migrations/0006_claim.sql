-- Who has which piece in hand at the saw. No work is done by it, so it is not in the log: it ends when the piece is
-- cut or let go, and holds no longer than its time.
CREATE TABLE claim (
    job    TEXT NOT NULL REFERENCES job (id),
    piece  TEXT NOT NULL,
    device TEXT NOT NULL REFERENCES device (id),
    person TEXT NOT NULL REFERENCES person (id),
    taken  INTEGER NOT NULL,
    PRIMARY KEY (job, piece),
    -- A device has one piece in hand.
    UNIQUE (job, device)
) STRICT;
