-- Trials of the score sheet that a changed plan no longer has are deleted: their ids, which buttons carry, are not
-- given again either.
CREATE TABLE new_calibration (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    measure TEXT NOT NULL,
    sample TEXT NOT NULL,
    picture BLOB,
    picture_name TEXT NOT NULL DEFAULT '',
    opened_at TEXT NOT NULL,
    closed_at TEXT
) STRICT;
INSERT INTO new_calibration SELECT id, tryout_id, event, measure, sample, picture, picture_name, opened_at, closed_at
    FROM calibration;
DROP TABLE calibration;
ALTER TABLE new_calibration RENAME TO calibration;
CREATE UNIQUE INDEX one_open_trial ON calibration (tryout_id) WHERE closed_at IS NULL;
