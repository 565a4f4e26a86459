-- A press on a run pad whose answer did not reach the phone: the tap itself, or the undoing of it.
ALTER TABLE pad_tap ADD COLUMN unseen TEXT CHECK (unseen IN ('tap', 'undo'));
