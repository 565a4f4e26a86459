-- Questions about the rules, and the answers that everyone reads.

CREATE TABLE rules_question (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    student_id INTEGER REFERENCES student (id) ON DELETE SET NULL,
    text TEXT NOT NULL,                  -- as it was asked; emptied as soon as it waits no more
    asked_at TEXT NOT NULL,
    state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'answered', 'merged', 'aside')),
    number INTEGER,                      -- the published answer
    settled_at TEXT,
    CHECK ((number IS NOT NULL) = (state IN ('answered', 'merged'))),
    CHECK ((settled_at IS NULL) = (state = 'open'))
) STRICT;
CREATE INDEX rules_question_open ON rules_question (tryout_id, squad_id) WHERE state = 'open';
CREATE INDEX rules_question_student ON rules_question (student_id);

-- Every wording of every published answer; the highest version counts.
CREATE TABLE rules_answer (
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    number INTEGER NOT NULL CHECK (number >= 1),
    version INTEGER NOT NULL CHECK (version >= 1),
    question TEXT NOT NULL,
    answer TEXT NOT NULL,
    change TEXT NOT NULL DEFAULT '',     -- what a later version changed
    published_at TEXT NOT NULL,
    PRIMARY KEY (tryout_id, number, version)
) STRICT;

-- What the coach has written and not yet published: an answer to a question, a correction of a number, or neither.
-- An id is never given twice, so that a button under an old wording cannot publish a new one.
CREATE TABLE rules_draft (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    question_id INTEGER REFERENCES rules_question (id) ON DELETE CASCADE,
    number INTEGER,
    question TEXT NOT NULL,
    answer TEXT NOT NULL,
    change TEXT NOT NULL DEFAULT '',
    CHECK (question_id IS NULL OR number IS NULL)
) STRICT;
