-- Typing in paper sheets is a right of its own: a scorekeeper no longer has it.
CREATE TABLE new_officer (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    platform_id INTEGER NOT NULL,
    name TEXT NOT NULL,
    role TEXT NOT NULL CHECK (role IN ('coach', 'scorekeeper', 'typist')),
    UNIQUE (tryout_id, platform_id, role)
) STRICT;
INSERT INTO new_officer (id, tryout_id, platform_id, name, role)
    SELECT id, tryout_id, platform_id, name, role FROM officer;
DROP TABLE officer;
ALTER TABLE new_officer RENAME TO officer;
