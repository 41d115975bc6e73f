-- The language that a person chose, by its tag; NULL while nobody chose one on any device of theirs.
ALTER TABLE person ADD COLUMN language TEXT;
