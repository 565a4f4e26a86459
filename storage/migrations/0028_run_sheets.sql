-- Run sheets that were filled in on paper, as they were typed in, the first and the second time.
CREATE TABLE run_entry (
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    measure TEXT NOT NULL,                         -- empty: who was here
    number INTEGER NOT NULL CHECK (number >= 0),   -- of the attempt; 0: who was here
    entry INTEGER NOT NULL CHECK (entry IN (1, 2)),
    fields_json TEXT NOT NULL,
    entered_by INTEGER NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (squad_id, event, measure, number, entry)
) STRICT;
