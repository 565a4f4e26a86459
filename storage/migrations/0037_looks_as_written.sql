-- What a squad's name looks like as it is written, so that its namesakes are found without reading every name.
ALTER TABLE squad ADD COLUMN written_look TEXT;  -- NULL: entered before it was kept
CREATE INDEX squad_written_look ON squad (tryout_id, written_look) WHERE withdrawn = 0;
