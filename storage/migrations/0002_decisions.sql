-- A changed plan that waits for the coach's yes.
CREATE TABLE plan_draft (
    tryout_id INTEGER PRIMARY KEY REFERENCES tryout (id) ON DELETE CASCADE,
    plan_json TEXT NOT NULL,
    reason TEXT NOT NULL DEFAULT ''
) STRICT;

-- What a coach decided beside the plan, and why: shown with the result.
CREATE TABLE decision (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('plan', 'seat', 'small', 'withdrawn')),
    squad_id INTEGER REFERENCES squad (id) ON DELETE SET NULL,
    student_id INTEGER REFERENCES student (id) ON DELETE SET NULL,
    changes_json TEXT NOT NULL DEFAULT '[]',
    sha256 TEXT,
    reason TEXT NOT NULL
) STRICT;
CREATE INDEX decision_tryout ON decision (tryout_id);
