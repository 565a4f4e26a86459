-- A number that was measured at the table, such as 12.35 (kg), as text so that it stays exact.

ALTER TABLE attempt ADD COLUMN amount TEXT;
