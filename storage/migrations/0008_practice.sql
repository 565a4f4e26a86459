-- Turns at the practice table: a row for each that is held, was lost through equipment, or is blocked.
CREATE TABLE turn (
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    begins_at TEXT NOT NULL,
    squad_id INTEGER REFERENCES squad (id) ON DELETE CASCADE,
    state TEXT NOT NULL CHECK (state IN ('held', 'lost', 'blocked')),
    PRIMARY KEY (tryout_id, begins_at),          -- one squad at a time
    CHECK ((state = 'blocked') = (squad_id IS NULL))
) STRICT;
CREATE INDEX turn_squad ON turn (squad_id);
