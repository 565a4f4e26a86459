-- What was recorded or corrected at the table after judging had been closed: it is listed with the result.
CREATE TABLE late_change (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('missing', 'correction')),
    reason TEXT NOT NULL,
    asked_by TEXT NOT NULL,        -- a pseudonym, as in the log
    asked_at TEXT NOT NULL,
    agreed_at TEXT,                -- from then on the squad's attempts in this event may be corrected
    shut_at TEXT                   -- until the result is announced, or judging is closed once more
) STRICT;
CREATE INDEX late_change_tryout ON late_change (tryout_id);
CREATE INDEX late_change_squad ON late_change (squad_id);
