-- What published rules ask of a tile; NULL where nobody has told. Edges finished after firing; the largest less the
-- smallest of the tiles measured; the bow of the longest edge.
ALTER TABLE tile ADD COLUMN rectified INTEGER CHECK (rectified IN (0, 1));
ALTER TABLE tile ADD COLUMN size_variation INTEGER CHECK (size_variation >= 0);
ALTER TABLE tile ADD COLUMN warpage INTEGER CHECK (warpage >= 0);
