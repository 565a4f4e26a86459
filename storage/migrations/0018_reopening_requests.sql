-- Judging, or one sheet of it, is to be opened again after the close: agreed to by a second coach, or after a wait.
CREATE TABLE reopening_request (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    sheet_id INTEGER REFERENCES sheet (id) ON DELETE CASCADE,
    reason TEXT NOT NULL,
    asked_at TEXT NOT NULL,
    agreed_at TEXT
) STRICT;
CREATE INDEX reopening_request_tryout ON reopening_request (tryout_id);
