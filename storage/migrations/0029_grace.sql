-- A squad that is too small has until a day to find members; then the coach decides.
CREATE TABLE new_decision (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('plan', 'seat', 'small', 'withdrawn', 'extension', 'merged', 'part', 'grace')),
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

CREATE TABLE grace (
    squad_id INTEGER PRIMARY KEY REFERENCES squad (id) ON DELETE CASCADE,
    until TEXT NOT NULL
) STRICT;
