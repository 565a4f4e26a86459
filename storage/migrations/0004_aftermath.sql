-- What follows the announcement: the place is offered, and each squad gets its feedback.

CREATE TABLE offer (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL UNIQUE REFERENCES squad (id) ON DELETE CASCADE,
    state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'accepted', 'declined', 'lapsed')),
    what TEXT NOT NULL,                  -- what the place is, in the coach's words
    made_at TEXT NOT NULL,
    answer_by TEXT NOT NULL,
    answered_at TEXT
) STRICT;

CREATE TABLE feedback (
    squad_id INTEGER PRIMARY KEY REFERENCES squad (id) ON DELETE CASCADE,
    text TEXT NOT NULL,                  -- as the coach left it
    edited_at TEXT NOT NULL,
    sent_at TEXT
) STRICT;
