-- When a judge of several try-outs chose this one for the private messages; the latest counts.

ALTER TABLE judge ADD COLUMN direct_chosen_at TEXT;
