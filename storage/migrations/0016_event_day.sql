-- The event day: who of a squad is here, and what is tapped while a run lasts.

CREATE TABLE presence (
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    student_id INTEGER NOT NULL REFERENCES student (id) ON DELETE CASCADE,
    here INTEGER NOT NULL CHECK (here IN (0, 1)),
    noted_by INTEGER NOT NULL,
    noted_at TEXT NOT NULL,
    PRIMARY KEY (squad_id, event, student_id)
) STRICT;

-- One run at a run pad. One that was interrupted through no fault of the squad's stays, and counts nothing.
CREATE TABLE pad_run (
    id INTEGER PRIMARY KEY,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    measure TEXT NOT NULL,
    number INTEGER NOT NULL CHECK (number >= 1),
    run_off INTEGER NOT NULL DEFAULT 0 CHECK (run_off IN (0, 1)),
    state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'saved', 'interrupted')),
    opened_at TEXT NOT NULL,
    started_at TEXT,
    closed_at TEXT,
    attempt_id INTEGER REFERENCES attempt (id) ON DELETE SET NULL
) STRICT;
CREATE UNIQUE INDEX pad_run_open_once ON pad_run (squad_id, event, measure, run_off, number) WHERE state = 'open';

-- Every press of +1 and -1, kept before it is answered.
CREATE TABLE pad_tap (
    id INTEGER PRIMARY KEY,
    run_id INTEGER NOT NULL REFERENCES pad_run (id) ON DELETE CASCADE,
    item TEXT NOT NULL,
    step INTEGER NOT NULL CHECK (step = 1 OR step = -1),
    tapped_by INTEGER NOT NULL,
    tapped_at TEXT NOT NULL,
    undone_at TEXT
) STRICT;
CREATE INDEX pad_tap_run ON pad_tap (run_id);

-- Both times of a timed attempt; `seconds` stays the one that counts.
ALTER TABLE attempt ADD COLUMN press_seconds TEXT;
ALTER TABLE attempt ADD COLUMN hand_seconds TEXT;
