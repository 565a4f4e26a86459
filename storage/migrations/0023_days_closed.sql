-- A coach decides more beside the plan: more time for a squad, two squads made one, whether a leaver's part stays.
CREATE TABLE new_decision (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('plan', 'seat', 'small', 'withdrawn', 'extension', 'merged', 'part')),
    squad_id INTEGER REFERENCES squad (id) ON DELETE SET NULL,
    student_id INTEGER REFERENCES student (id) ON DELETE SET NULL,
    changes_json TEXT NOT NULL DEFAULT '[]',
    sha256 TEXT,
    reason TEXT NOT NULL
) STRICT;
INSERT INTO new_decision SELECT id, tryout_id, at, kind, squad_id, student_id, changes_json, sha256, reason FROM decision;
DROP TABLE decision;
ALTER TABLE new_decision RENAME TO decision;
CREATE INDEX decision_tryout ON decision (tryout_id);

-- More time for the hand-in of one squad.
CREATE TABLE extension (
    squad_id INTEGER PRIMARY KEY REFERENCES squad (id) ON DELETE CASCADE,
    until TEXT NOT NULL,
    given_at TEXT NOT NULL
) STRICT;

-- Turns that a squad has lost because days were closed: it chooses first until then.
CREATE TABLE practice_claim (
    squad_id INTEGER PRIMARY KEY REFERENCES squad (id) ON DELETE CASCADE,
    turns INTEGER NOT NULL CHECK (turns >= 1),
    until TEXT NOT NULL
) STRICT;
