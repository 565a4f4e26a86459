-- The school's list of who may sign up. Nothing here is shown to students but name and section.
CREATE TABLE class_list (
    tryout_id INTEGER PRIMARY KEY REFERENCES tryout (id) ON DELETE CASCADE,
    columns_json TEXT NOT NULL,    -- headings of the yes/no columns, in the file's order
    loaded_at TEXT NOT NULL
) STRICT;

CREATE TABLE class_list_entry (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES class_list (tryout_id) ON DELETE CASCADE,
    name TEXT NOT NULL,
    folded TEXT NOT NULL,
    section TEXT NOT NULL,
    answers_json TEXT NOT NULL,    -- {"form back": true}
    student_id INTEGER UNIQUE REFERENCES student (id) ON DELETE SET NULL,
    UNIQUE (tryout_id, section, folded)
) STRICT;

-- Who is not on the list and waits until the coach has decided.
CREATE TABLE waiting_student (
    id INTEGER PRIMARY KEY,
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    platform_id INTEGER NOT NULL,
    name TEXT NOT NULL,
    section TEXT NOT NULL,
    asked_at TEXT NOT NULL,
    UNIQUE (tryout_id, platform_id)
) STRICT;
