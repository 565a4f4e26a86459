-- Whom a student would like to be with, or rather not: told to the search for squads, and to coaches where it fails.
CREATE TABLE wish (
    student_id INTEGER NOT NULL REFERENCES student (id) ON DELETE CASCADE,
    other_id INTEGER NOT NULL REFERENCES student (id) ON DELETE CASCADE,
    together INTEGER NOT NULL CHECK (together IN (0, 1)),
    PRIMARY KEY (student_id, other_id)
) STRICT;

-- Squads proposed for students without one: drafted, edited, accepted by the coach, and agreed to one by one.
CREATE TABLE squad_proposal (
    tryout_id INTEGER PRIMARY KEY REFERENCES tryout (id) ON DELETE CASCADE,
    made_at TEXT NOT NULL,
    accepted_at TEXT
) STRICT;

CREATE TABLE proposed_seat (
    student_id INTEGER PRIMARY KEY REFERENCES student (id) ON DELETE CASCADE,
    tryout_id INTEGER NOT NULL REFERENCES squad_proposal (tryout_id) ON DELETE CASCADE,
    squad_id INTEGER REFERENCES squad (id) ON DELETE CASCADE,
    new_squad INTEGER CHECK (new_squad >= 1),      -- the number of a squad that is yet to be founded
    answer TEXT CHECK (answer IN ('yes', 'no')),
    CHECK (squad_id IS NULL OR new_squad IS NULL)
) STRICT;
