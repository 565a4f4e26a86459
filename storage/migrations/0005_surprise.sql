-- Surprise events that the coach has started: from then on everybody may read what they are.
CREATE TABLE started_event (
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    started_at TEXT NOT NULL,
    PRIMARY KEY (tryout_id, event)
) STRICT;
