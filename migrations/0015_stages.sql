-- Every job lists every stage there is; those that it did not have are not on it.
WITH added (kind, place) AS (
    VALUES ('membrane', 1), ('test_filled', 2), ('test_passed', 3), ('sealant', 7),
           ('walk_on', 9), ('heavy_use', 10), ('water_on', 11)
)
INSERT INTO stage (job, kind, place, on_job)
SELECT job.id, added.kind, added.place, 0 FROM job CROSS JOIN added;

UPDATE stage SET place = CASE kind WHEN 'set' THEN 4 WHEN 'clip_removal' THEN 5 WHEN 'grout' THEN 6 ELSE 8 END
WHERE kind IN ('set', 'clip_removal', 'grout', 'seal');

WITH added (earlier, later, wait) AS (
    VALUES ('membrane', 'test_filled', 'cure membrane_to_test'),
           ('test_filled', 'test_passed', 'fixed 86400000'),
           ('membrane', 'set', 'cure membrane_to_tile'),
           ('test_passed', 'set', 'finished'),
           ('grout', 'sealant', 'cure grout_to_sealant'),
           ('sealant', 'seal', 'cure sealant_to_seal'),
           ('grout', 'walk_on', 'cure grout_to_walk'),
           ('grout', 'heavy_use', 'cure grout_to_heavy_use'),
           ('grout', 'water_on', 'cure grout_to_water'),
           ('sealant', 'water_on', 'cure sealant_to_water'),
           ('seal', 'water_on', 'cure seal_to_water')
)
INSERT INTO stage_wait (job, earlier, later, wait)
SELECT job.id, added.earlier, added.later, added.wait FROM job CROSS JOIN added;

WITH added (stage, class) AS (VALUES ('membrane', 'liquid_membrane'), ('sealant', 'silicone_sealant'))
INSERT INTO product (job, stage, class, name)
SELECT job.id, added.stage, added.class, added.class FROM job CROSS JOIN added;
