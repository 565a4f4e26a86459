-- A try-out may have more than one piece to hand in: a part belongs to a student and an event.

CREATE TABLE hand_in_part (
    student_id INTEGER NOT NULL REFERENCES student (id) ON DELETE CASCADE,
    event TEXT NOT NULL,                 -- the key of the event whose piece it is a part of
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    reason TEXT NOT NULL CHECK (length(reason) BETWEEN 10 AND 500),
    photo BLOB,                          -- drawn anew by us, without place, time or any other note
    photo_sha256 TEXT,
    by_coach INTEGER NOT NULL DEFAULT 0 CHECK (by_coach IN (0, 1)),
    late_reason TEXT NOT NULL DEFAULT '',
    handed_in_at TEXT NOT NULL,
    PRIMARY KEY (student_id, event),
    CHECK ((photo IS NULL) = (photo_sha256 IS NULL))
) STRICT;

CREATE TEMP TABLE piece AS
    SELECT tryout.id AS tryout_id, min(json_extract(event.value, '$.key')) AS event
    FROM tryout, json_each(CASE WHEN json_valid(plan_json) THEN plan_json ELSE '{}' END, '$.events') AS event
    WHERE json_extract(event.value, '$.hand_in')
    GROUP BY tryout.id;                  -- until now a try-out had one at most

INSERT INTO hand_in_part
    SELECT hand_in.student_id, coalesce(piece.event, ''), hand_in.squad_id, reason, photo, photo_sha256, by_coach,
           late_reason, handed_in_at
    FROM hand_in
    JOIN student ON student.id = hand_in.student_id
    LEFT JOIN piece ON piece.tryout_id = student.tryout_id;
DROP TABLE hand_in;
ALTER TABLE hand_in_part RENAME TO hand_in;
CREATE INDEX hand_in_squad ON hand_in (squad_id);

UPDATE live_message
SET key = key || '/' || coalesce((SELECT event FROM piece WHERE piece.tryout_id = live_message.tryout_id), '')
WHERE key GLOB 'hand-in/*';
DROP TABLE piece;
