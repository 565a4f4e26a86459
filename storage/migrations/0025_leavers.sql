-- The part of somebody who has left stays with the squad's piece, where the coach says so.
ALTER TABLE hand_in ADD COLUMN stays INTEGER NOT NULL DEFAULT 0 CHECK (stays IN (0, 1));
