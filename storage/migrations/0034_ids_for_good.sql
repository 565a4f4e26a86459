-- What a button carries is an id, and a button stays on a phone for long: an id whose row is gone names nothing any
-- more, and never what was entered later. (SQLite gives the id of a deleted last row again, unless it is told not to.)
CREATE TABLE new_student (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    platform_id INTEGER,
    name TEXT NOT NULL,
    section TEXT NOT NULL,
    squad_id INTEGER REFERENCES squad (id),      -- one column: nobody is in two squads
    looking INTEGER NOT NULL DEFAULT 0 CHECK (looking IN (0, 1)),
    joined_at TEXT,
    brief_opened_at TEXT,
    link_code TEXT,
    manages_server_at TEXT,      -- when a student in a squad was last seen with the right to manage the class server
    late_at TEXT,                -- when the coach was told that the student came late
    UNIQUE (tryout_id, platform_id),
    CHECK (squad_id IS NULL OR looking = 0)
) STRICT;
INSERT INTO new_student SELECT id, tryout_id, platform_id, name, section, squad_id, looking, joined_at,
    brief_opened_at, link_code, manages_server_at, late_at FROM student;
DROP TABLE student;
ALTER TABLE new_student RENAME TO student;
CREATE INDEX student_squad ON student (squad_id);
CREATE UNIQUE INDEX student_link_code ON student (tryout_id, link_code) WHERE link_code IS NOT NULL;

CREATE TABLE new_sheet (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    judge_id INTEGER NOT NULL REFERENCES judge (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    measure TEXT NOT NULL,
    state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'started', 'submitted', 'recused')),
    marks_json TEXT NOT NULL DEFAULT '{}',
    comments_json TEXT NOT NULL DEFAULT '{}',
    position INTEGER NOT NULL DEFAULT 1,
    version INTEGER NOT NULL DEFAULT 0,
    updated_at TEXT,
    UNIQUE (judge_id, squad_id, event, measure)
) STRICT;
INSERT INTO new_sheet SELECT id, judge_id, squad_id, event, measure, state, marks_json, comments_json, position,
    version, updated_at FROM sheet;
DROP TABLE sheet;
ALTER TABLE new_sheet RENAME TO sheet;
CREATE INDEX sheet_squad ON sheet (squad_id);

CREATE TABLE new_offer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL UNIQUE REFERENCES squad (id) ON DELETE CASCADE,
    state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'accepted', 'declined', 'lapsed')),
    what TEXT NOT NULL,                  -- what the place is, in the coach's words
    made_at TEXT NOT NULL,
    answer_by TEXT NOT NULL,
    answered_at TEXT
) STRICT;
INSERT INTO new_offer SELECT id, tryout_id, squad_id, state, what, made_at, answer_by, answered_at FROM offer;
DROP TABLE offer;
ALTER TABLE new_offer RENAME TO offer;

CREATE TABLE new_incident (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    what TEXT NOT NULL,
    who TEXT NOT NULL,
    decision TEXT NOT NULL,
    happened_at TEXT NOT NULL
) STRICT;
INSERT INTO new_incident SELECT id, tryout_id, what, who, decision, happened_at FROM incident;
DROP TABLE incident;
ALTER TABLE new_incident RENAME TO incident;

CREATE TABLE new_waiting_student (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    platform_id INTEGER NOT NULL,
    name TEXT NOT NULL,
    section TEXT NOT NULL,
    asked_at TEXT NOT NULL,
    UNIQUE (tryout_id, platform_id)
) STRICT;
INSERT INTO new_waiting_student SELECT id, tryout_id, platform_id, name, section, asked_at FROM waiting_student;
DROP TABLE waiting_student;
ALTER TABLE new_waiting_student RENAME TO waiting_student;

CREATE TABLE new_class_list_entry (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES class_list (tryout_id) ON DELETE CASCADE,
    name TEXT NOT NULL,
    folded TEXT NOT NULL,
    section TEXT NOT NULL,
    answers_json TEXT NOT NULL,    -- {"form back": true}
    student_id INTEGER UNIQUE REFERENCES student (id) ON DELETE SET NULL,
    UNIQUE (tryout_id, section, folded)
) STRICT;
INSERT INTO new_class_list_entry SELECT id, tryout_id, name, folded, section, answers_json, student_id
    FROM class_list_entry;
DROP TABLE class_list_entry;
ALTER TABLE new_class_list_entry RENAME TO class_list_entry;

CREATE TABLE new_day_slot (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
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
INSERT INTO new_day_slot SELECT id, squad_id, kind, event, number, table_number, judges_json, begins_at, ends_at,
    misses, called_at, closed_at FROM day_slot;
DROP TABLE day_slot;
ALTER TABLE new_day_slot RENAME TO day_slot;

CREATE TABLE new_decision (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    at TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('plan', 'seat', 'small', 'withdrawn', 'extension', 'merged', 'part', 'grace')),
    squad_id INTEGER REFERENCES squad (id) ON DELETE SET NULL,
    student_id INTEGER REFERENCES student (id) ON DELETE SET NULL,
    changes_json TEXT NOT NULL DEFAULT '[]',
    sha256 TEXT,
    reason TEXT NOT NULL
) STRICT;
INSERT INTO new_decision SELECT id, tryout_id, at, kind, squad_id, student_id, changes_json, sha256, reason
    FROM decision;
DROP TABLE decision;
ALTER TABLE new_decision RENAME TO decision;
CREATE INDEX decision_tryout ON decision (tryout_id);

CREATE TABLE new_correction (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    kind TEXT NOT NULL CHECK (kind IN ('details', 'move', 'join', 'rename')),
    student_id INTEGER REFERENCES student (id) ON DELETE CASCADE,
    squad_id INTEGER REFERENCES squad (id) ON DELETE CASCADE,
    decision_id INTEGER REFERENCES decision (id) ON DELETE SET NULL,
    before_json TEXT NOT NULL,     -- names, sections, seats
    after_json TEXT NOT NULL,
    made_at TEXT NOT NULL,
    undone_at TEXT,
    CHECK (student_id IS NOT NULL OR squad_id IS NOT NULL)
) STRICT;
INSERT INTO new_correction SELECT id, tryout_id, kind, student_id, squad_id, decision_id, before_json, after_json,
    made_at, undone_at FROM correction;
DROP TABLE correction;
ALTER TABLE new_correction RENAME TO correction;
CREATE INDEX correction_student ON correction (student_id);
CREATE INDEX correction_squad ON correction (squad_id);

CREATE TABLE new_officer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    platform_id INTEGER NOT NULL,
    name TEXT NOT NULL,
    role TEXT NOT NULL CHECK (role IN ('coach', 'scorekeeper', 'typist')),
    UNIQUE (tryout_id, platform_id, role)
) STRICT;
INSERT INTO new_officer SELECT id, tryout_id, platform_id, name, role FROM officer;
DROP TABLE officer;
ALTER TABLE new_officer RENAME TO officer;
