-- The range of joints that the lead allows; NULL where it is the joint alone.
ALTER TABLE job ADD COLUMN joint_least INTEGER;
ALTER TABLE job ADD COLUMN joint_most INTEGER;

-- The measures of a layout that the lead puts first, by name, parted by commas; the others follow in the usual order.
ALTER TABLE job ADD COLUMN priorities TEXT NOT NULL DEFAULT '';

-- Starts of bands that have one of their own, such as strips: a layout chosen whole has them too.
CREATE TABLE layout_band (
    job   TEXT NOT NULL,
    wall  TEXT NOT NULL,
    band  INTEGER NOT NULL,
    start INTEGER NOT NULL,
    PRIMARY KEY (job, wall, band),
    FOREIGN KEY (job, wall) REFERENCES wall (job, id)
) STRICT;
