-- The lot for the first round at the practice table: who is in it, and the key once it is known; the order follows.
CREATE TABLE practice_draw (
    tryout_id INTEGER PRIMARY KEY REFERENCES tryout (id) ON DELETE CASCADE,
    pool_json TEXT NOT NULL,
    published_at TEXT NOT NULL,
    key TEXT,
    drawn_at TEXT,
    CHECK ((key IS NULL) = (drawn_at IS NULL))
) STRICT;
