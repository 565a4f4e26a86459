-- What is still to be done is found by an index, so that looking for it takes no longer in a larger class.

-- Whether the name of a squad's room may not be the squad's any more.
ALTER TABLE squad ADD COLUMN room_outdated INTEGER NOT NULL DEFAULT 1 CHECK (room_outdated IN (0, 1));
CREATE INDEX squad_room_open ON squad (id) WHERE (room_id IS NULL AND withdrawn = 0)
    OR (room_id IS NOT NULL AND ((withdrawn = 0 AND room_outdated = 1) OR (withdrawn = 1 AND room_closed = 0)));
CREATE INDEX room_seat_open ON room_seat (squad_id) WHERE wanted <> present AND failed = '';

CREATE INDEX live_message_open ON live_message (tryout_id, address)
    WHERE (stale > 0 OR (message_id IS NOT NULL AND (pin_open = 1 OR old_message_id IS NOT NULL)));
CREATE INDEX live_message_message ON live_message (message_id) WHERE message_id IS NOT NULL;
CREATE INDEX live_message_old ON live_message (old_message_id) WHERE old_message_id IS NOT NULL;

CREATE INDEX outbox_message_failed ON outbox_message (tryout_id) WHERE state = 'failed';
CREATE INDEX scheduled_job_at ON scheduled_job (tryout_id, at);
CREATE INDEX audit_log_action ON audit_log (tryout_id, action);
CREATE INDEX processed_interaction_at ON processed_interaction (at);
CREATE INDEX judge_account ON judge (platform_id);
