-- The event days: the order drawn, the timetable that follows from it, safety checks, stops, and surprises by wave.

CREATE TABLE day_draw (
    tryout_id INTEGER PRIMARY KEY REFERENCES tryout (id) ON DELETE CASCADE,
    pool_json TEXT NOT NULL,
    published_at TEXT NOT NULL,
    key TEXT,
    drawn_at TEXT,
    told_at TEXT,                  -- since when squads have read the timetable
    CHECK ((key IS NULL) = (drawn_at IS NULL))
) STRICT;

CREATE TABLE day_slot (
    id INTEGER PRIMARY KEY,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    kind TEXT NOT NULL CHECK (kind IN ('run', 'interview')),
    event TEXT NOT NULL,
    number INTEGER NOT NULL CHECK (number >= 1),   -- which attempt a run is
    table_number INTEGER,
    judges_json TEXT NOT NULL DEFAULT '[]',
    begins_at TEXT NOT NULL,
    ends_at TEXT NOT NULL,
    misses INTEGER NOT NULL DEFAULT 0,             -- how often the squad was not there
    called_at TEXT,
    closed_at TEXT,                                -- it took place without an attempt, or will not take place
    UNIQUE (squad_id, kind, event, number)
) STRICT;

-- Who has checked the safety of an event, before its first run; of a wave also for which squads.
CREATE TABLE safety_check (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    squad_id INTEGER REFERENCES squad (id) ON DELETE CASCADE,
    checked_by INTEGER NOT NULL,
    checked_at TEXT NOT NULL
) STRICT;

-- Somebody pressed stop: nothing of the event starts until a coach lets it go on.
CREATE TABLE safety_stop (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    reason TEXT NOT NULL,
    stopped_by INTEGER NOT NULL,
    stopped_at TEXT NOT NULL,
    lifted_at TEXT
) STRICT;

-- Squads for which a surprise has started before it has for all.
CREATE TABLE surprise_wave (
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    started_at TEXT NOT NULL,
    started_by INTEGER NOT NULL,
    PRIMARY KEY (squad_id, event)
) STRICT;
