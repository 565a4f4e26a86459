-- A place that is offered to a single student has a last moment for the answer, as one for a squad has; it may lapse.
-- Offers made before have none: the student was told none.
CREATE TABLE new_member_offer (
    student_id INTEGER PRIMARY KEY REFERENCES student (id) ON DELETE CASCADE,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    state TEXT NOT NULL CHECK (state IN ('alternate', 'open', 'accepted', 'declined', 'lapsed')),
    made_at TEXT NOT NULL,
    answer_by TEXT,
    answered_at TEXT
) STRICT;
INSERT INTO new_member_offer SELECT student_id, tryout_id, state, made_at, NULL, answered_at FROM member_offer;
DROP TABLE member_offer;
ALTER TABLE new_member_offer RENAME TO member_offer;
