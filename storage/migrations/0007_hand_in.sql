-- What each member of a squad adds to the group piece: a written reason, and perhaps a photo.
-- A part belongs to one student in one squad: who leaves takes it along, and nobody sees it while it waits.
CREATE TABLE hand_in (
    student_id INTEGER PRIMARY KEY REFERENCES student (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    reason TEXT NOT NULL CHECK (length(reason) BETWEEN 10 AND 500),
    photo BLOB,                          -- drawn anew by us, without place, time or any other note
    photo_sha256 TEXT,
    by_coach INTEGER NOT NULL DEFAULT 0 CHECK (by_coach IN (0, 1)),
    late_reason TEXT NOT NULL DEFAULT '',
    handed_in_at TEXT NOT NULL,
    CHECK ((photo IS NULL) = (photo_sha256 IS NULL))
) STRICT;
CREATE INDEX hand_in_squad ON hand_in (squad_id);
