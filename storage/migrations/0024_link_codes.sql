-- With this code a student whom the coach entered gets the account linked, once.
ALTER TABLE student ADD COLUMN link_code TEXT;
CREATE UNIQUE INDEX student_link_code ON student (tryout_id, link_code) WHERE link_code IS NOT NULL;
