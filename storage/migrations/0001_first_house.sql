-- Times are UTC, ISO 8601 with microseconds, so that text order is time order.
-- Columns ending in _json hold one JSON value; decimals are text.

CREATE TABLE database (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    tag TEXT NOT NULL              -- random; makes nonces unique to this file
) STRICT;
INSERT INTO database (id, tag) VALUES (1, lower(hex(randomblob(5))));

CREATE TABLE tryout (
    id INTEGER PRIMARY KEY,
    server_id INTEGER NOT NULL,
    state TEXT NOT NULL CHECK (state IN
        ('drafting', 'signup', 'window', 'judging', 'settled', 'announced', 'archived')),
    plan_json TEXT NOT NULL,
    plan_sha256 TEXT,
    rooms_json TEXT NOT NULL DEFAULT '{}',
    created_at TEXT NOT NULL,
    brief_at TEXT,
    announced_at TEXT
) STRICT;
CREATE UNIQUE INDEX one_running_tryout_a_server ON tryout (server_id) WHERE state <> 'archived';

CREATE TABLE officer (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    platform_id INTEGER NOT NULL,
    name TEXT NOT NULL,
    role TEXT NOT NULL CHECK (role IN ('coach', 'scorekeeper')),
    UNIQUE (tryout_id, platform_id, role)
) STRICT;

CREATE TABLE squad (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    number INTEGER NOT NULL,
    name TEXT NOT NULL,
    folded TEXT NOT NULL,          -- NFKC + case folding
    skeleton TEXT NOT NULL,        -- what it looks like (UTS #39)
    section TEXT NOT NULL,
    captain_id INTEGER REFERENCES student (id) ON DELETE SET NULL DEFERRABLE INITIALLY DEFERRED,
    join_code TEXT NOT NULL,
    room_id INTEGER,
    room_name TEXT NOT NULL DEFAULT '',   -- what the room is called now
    room_closed INTEGER NOT NULL DEFAULT 0 CHECK (room_closed IN (0, 1)),
    withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)),
    created_at TEXT NOT NULL,
    UNIQUE (tryout_id, number),
    UNIQUE (tryout_id, join_code)
) STRICT;
CREATE UNIQUE INDEX squad_name_once ON squad (tryout_id, folded) WHERE withdrawn = 0;
CREATE UNIQUE INDEX squad_look_once ON squad (tryout_id, skeleton) WHERE withdrawn = 0;

CREATE TABLE student (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    platform_id INTEGER,
    name TEXT NOT NULL,
    section TEXT NOT NULL,
    squad_id INTEGER REFERENCES squad (id),      -- one column: nobody is in two squads
    looking INTEGER NOT NULL DEFAULT 0 CHECK (looking IN (0, 1)),
    joined_at TEXT,
    brief_opened_at TEXT,
    UNIQUE (tryout_id, platform_id),
    CHECK (squad_id IS NULL OR looking = 0)
) STRICT;
CREATE INDEX student_squad ON student (squad_id);

-- Who should be, and who is, in a squad's private room.
CREATE TABLE room_seat (
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    platform_id INTEGER NOT NULL,
    wanted INTEGER NOT NULL CHECK (wanted IN (0, 1)),
    present INTEGER NOT NULL DEFAULT 0 CHECK (present IN (0, 1)),
    failed TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (squad_id, platform_id)
) STRICT;

CREATE TABLE judge (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    number INTEGER NOT NULL,
    platform_id INTEGER NOT NULL,
    name TEXT NOT NULL,
    weight TEXT NOT NULL DEFAULT '1',
    direct_id INTEGER,
    direct_closed_at TEXT,         -- takes no direct messages: room_id stands in for them
    room_id INTEGER,
    opted_in_at TEXT,
    removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1)),
    UNIQUE (tryout_id, platform_id),
    UNIQUE (tryout_id, number)
) STRICT;

CREATE TABLE sheet (
    id INTEGER PRIMARY KEY,
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
CREATE INDEX sheet_squad ON sheet (squad_id);

-- Every version of a sheet that was ever saved.
CREATE TABLE sheet_version (
    sheet_id INTEGER NOT NULL REFERENCES sheet (id) ON DELETE CASCADE,
    version INTEGER NOT NULL,
    state TEXT NOT NULL,
    marks_json TEXT NOT NULL,
    comments_json TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (sheet_id, version)
) STRICT;

CREATE TABLE attempt (
    id INTEGER PRIMARY KEY,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    measure TEXT NOT NULL,
    number INTEGER NOT NULL CHECK (number >= 1),
    items_json TEXT NOT NULL DEFAULT '{}',
    deductions TEXT NOT NULL DEFAULT '0',
    seconds TEXT,
    faults INTEGER NOT NULL DEFAULT 0 CHECK (faults >= 0),
    contributing INTEGER CHECK (contributing >= 0),
    members INTEGER CHECK (members >= 1),
    run_off INTEGER NOT NULL DEFAULT 0 CHECK (run_off IN (0, 1)),
    recorded_by INTEGER NOT NULL,
    recorded_at TEXT NOT NULL,
    undone_at TEXT,
    CHECK (contributing IS NULL OR contributing <= members)
) STRICT;
CREATE UNIQUE INDEX attempt_once ON attempt (squad_id, event, measure, run_off, number) WHERE undone_at IS NULL;

CREATE TABLE absence (
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    event TEXT NOT NULL,
    excused INTEGER NOT NULL CHECK (excused IN (0, 1)),
    reason TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (squad_id, event)
) STRICT;

-- A private room is being opened for an address: looked for before it is opened again.
CREATE TABLE room_claim (
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    "to" TEXT NOT NULL,
    name TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (tryout_id, "to")
) STRICT;

-- The outbox.
CREATE TABLE letter (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    "to" TEXT NOT NULL,
    message_json TEXT NOT NULL,
    state TEXT NOT NULL DEFAULT 'queued' CHECK (state IN ('queued', 'claimed', 'sent', 'skipped', 'failed')),
    nonce TEXT NOT NULL UNIQUE CHECK (length(nonce) <= 25),
    not_before TEXT NOT NULL,
    stale_after TEXT,
    tries INTEGER NOT NULL DEFAULT 0,
    room_id INTEGER,               -- where it was, or may have been, posted
    message_id INTEGER,
    claimed_at TEXT,
    why TEXT NOT NULL DEFAULT '',
    queued_at TEXT NOT NULL,
    settled_at TEXT,
    CHECK (state <> 'claimed' OR (claimed_at IS NOT NULL AND room_id IS NOT NULL))
) STRICT;
CREATE INDEX letter_open ON letter (tryout_id, "to", id) WHERE state IN ('queued', 'claimed');
CREATE UNIQUE INDEX letter_message ON letter (message_id) WHERE message_id IS NOT NULL;

-- Living messages, edited in place.
CREATE TABLE card (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    key TEXT NOT NULL,
    "to" TEXT NOT NULL,
    room_id INTEGER,               -- where it stands
    message_id INTEGER,
    pinned INTEGER NOT NULL DEFAULT 0 CHECK (pinned IN (0, 1)),
    pin_open INTEGER NOT NULL DEFAULT 0 CHECK (pin_open IN (0, 1)),
    shown TEXT NOT NULL DEFAULT '',
    stale INTEGER NOT NULL DEFAULT 1 CHECK (stale >= 0),   -- changes not yet shown
    posts INTEGER NOT NULL DEFAULT 0,                      -- how often it was posted anew
    claimed_at TEXT,                                       -- being posted since, with this text
    claimed_text TEXT,
    old_room_id INTEGER,                                   -- the message it takes the place of
    old_message_id INTEGER,
    edited_at TEXT,
    old_edits INTEGER NOT NULL DEFAULT 0,  -- edits since the message was an hour old
    failed TEXT NOT NULL DEFAULT '',
    UNIQUE (tryout_id, key)
) STRICT;

-- What the coach has been told does not get through.
CREATE TABLE trouble (
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    "to" TEXT NOT NULL,
    cause TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (tryout_id, "to", cause)
) STRICT;

-- What happens when.
CREATE TABLE due (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    kind TEXT NOT NULL,
    key TEXT NOT NULL,
    at TEXT NOT NULL,
    stale_after TEXT,
    state TEXT NOT NULL DEFAULT 'waiting' CHECK (state IN ('waiting', 'done', 'skipped', 'cancelled')),
    tries INTEGER NOT NULL DEFAULT 0,
    not_before TEXT,               -- after a fault: when it is tried again
    why TEXT NOT NULL DEFAULT '',
    handled_at TEXT
) STRICT;
CREATE UNIQUE INDEX due_once ON due (tryout_id, kind, key) WHERE state <> 'cancelled';
CREATE INDEX due_next ON due (coalesce(not_before, at)) WHERE state = 'waiting';

-- The first answer to each interaction, given again when the platform delivers it twice.
CREATE TABLE receipt (
    interaction_id INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    answer_json TEXT NOT NULL
) STRICT;

-- What was done, chained by digests; people stand in it by id only.
CREATE TABLE trail (
    seq INTEGER PRIMARY KEY,
    tryout_id INTEGER,
    at TEXT NOT NULL,
    actor TEXT NOT NULL,
    action TEXT NOT NULL,
    details_json TEXT NOT NULL DEFAULT '{}',
    previous TEXT NOT NULL,
    digest TEXT NOT NULL UNIQUE
) STRICT;
