-- After the announcement: what a squad questions, decided by a coach and a second one.
CREATE TABLE protest (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    text TEXT NOT NULL,
    filed_at TEXT NOT NULL,
    verdict TEXT CHECK (verdict IN ('upheld', 'rejected')),
    reason TEXT NOT NULL DEFAULT '',
    decided_by INTEGER,                 -- the coach who proposed the verdict
    agreed_at TEXT,                     -- since when it stands, by the word of a second coach
    CHECK (agreed_at IS NULL OR verdict IS NOT NULL)
) STRICT;
CREATE INDEX protest_open ON protest (tryout_id) WHERE agreed_at IS NULL;

-- What happened, for coaches only.
CREATE TABLE incident (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    what TEXT NOT NULL,
    who TEXT NOT NULL,
    decision TEXT NOT NULL,
    happened_at TEXT NOT NULL
) STRICT;
