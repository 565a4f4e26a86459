-- When a student in a squad was last seen with the right to manage the class server, so that the coaches learn of it.
ALTER TABLE student ADD COLUMN manages_server_at TEXT;
