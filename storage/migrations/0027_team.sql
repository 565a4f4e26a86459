-- Places offered to single students of several squads; each answers alone.
CREATE TABLE member_offer (
    student_id INTEGER PRIMARY KEY REFERENCES student (id) ON DELETE CASCADE,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    state TEXT NOT NULL CHECK (state IN ('alternate', 'open', 'accepted', 'declined')),
    made_at TEXT NOT NULL,
    answered_at TEXT
) STRICT;
