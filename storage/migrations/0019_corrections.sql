-- What the coach has put right by hand, with how it stood before, so that one press undoes it while it still stands so.
CREATE TABLE correction (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    kind TEXT NOT NULL CHECK (kind IN ('details', 'move', 'join', 'rename')),
    student_id INTEGER REFERENCES student (id) ON DELETE CASCADE,
    squad_id INTEGER REFERENCES squad (id) ON DELETE CASCADE,
    decision_id INTEGER REFERENCES decision (id) ON DELETE SET NULL,
    before_json TEXT NOT NULL,     -- names, sections, seats
    after_json TEXT NOT NULL,
    made_at TEXT NOT NULL,
    undone_at TEXT,
    CHECK (student_id IS NOT NULL OR squad_id IS NOT NULL)
) STRICT;
CREATE INDEX correction_student ON correction (student_id);
CREATE INDEX correction_squad ON correction (squad_id);
