-- Judging: which events are open, who sees whom, ties of interest, reopened sheets, trial sheets, paper.

CREATE TABLE judging (
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    opened_at TEXT NOT NULL,
    closed_at TEXT,
    PRIMARY KEY (tryout_id, event)
) STRICT;

-- How many judges see each squad under one rubric, when the coach chose otherwise than the plan; 0 means all of them.
CREATE TABLE panel_size (
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    measure TEXT NOT NULL,
    judges INTEGER NOT NULL CHECK (judges >= 0),
    PRIMARY KEY (tryout_id, event, measure)
) STRICT;

-- Who sees whom, where not everybody sees everybody.
CREATE TABLE seat (
    judge_id INTEGER NOT NULL REFERENCES judge (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    measure TEXT NOT NULL,
    pinned INTEGER NOT NULL DEFAULT 0 CHECK (pinned IN (0, 1)),
    PRIMARY KEY (judge_id, squad_id, event, measure)
) STRICT;
CREATE INDEX seat_squad ON seat (squad_id);

-- A judge who knows someone in a squad; why is nobody's business.
CREATE TABLE tie_of_interest (
    judge_id INTEGER NOT NULL REFERENCES judge (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    set_by TEXT NOT NULL CHECK (set_by IN ('judge', 'coach')),
    at TEXT NOT NULL,
    PRIMARY KEY (judge_id, squad_id)
) STRICT;

-- Sheets that were still missing when the coach closed judging anyway.
CREATE TABLE let_go (
    sheet_id INTEGER PRIMARY KEY REFERENCES sheet (id) ON DELETE CASCADE,
    at TEXT NOT NULL
) STRICT;

-- A single sheet that the coach opened again after the close.
CREATE TABLE reopening (
    id INTEGER PRIMARY KEY,
    sheet_id INTEGER NOT NULL REFERENCES sheet (id) ON DELETE CASCADE,
    reason TEXT NOT NULL,
    at TEXT NOT NULL,
    done_at TEXT
) STRICT;
CREATE UNIQUE INDEX reopened_once ON reopening (sheet_id) WHERE done_at IS NULL;

-- The sheet into which a judge's typed numbers go.
CREATE TABLE typing (
    judge_id INTEGER PRIMARY KEY REFERENCES judge (id) ON DELETE CASCADE,
    sheet_id INTEGER NOT NULL REFERENCES sheet (id) ON DELETE CASCADE
) STRICT;

-- An invented entry that every judge marks before the real ones; its marks never count.
CREATE TABLE trial (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    measure TEXT NOT NULL,
    sample TEXT NOT NULL,
    picture BLOB,
    picture_name TEXT NOT NULL DEFAULT '',
    opened_at TEXT NOT NULL,
    closed_at TEXT
) STRICT;
CREATE UNIQUE INDEX one_open_trial ON trial (tryout_id) WHERE closed_at IS NULL;

CREATE TABLE trial_sheet (
    trial_id INTEGER NOT NULL REFERENCES trial (id) ON DELETE CASCADE,
    judge_id INTEGER NOT NULL REFERENCES judge (id) ON DELETE CASCADE,
    marks_json TEXT NOT NULL DEFAULT '{}',
    updated_at TEXT NOT NULL,
    PRIMARY KEY (trial_id, judge_id)
) STRICT;

-- A paper sheet as it was typed in, the first and the second time.
CREATE TABLE paper_entry (
    sheet_id INTEGER NOT NULL REFERENCES sheet (id) ON DELETE CASCADE,
    number INTEGER NOT NULL CHECK (number IN (1, 2)),
    entered_by INTEGER NOT NULL,
    marks_json TEXT NOT NULL,
    comments_json TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (sheet_id, number)
) STRICT;
