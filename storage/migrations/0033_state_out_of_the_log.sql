-- The audit log says what was done; what is so now stands in tables of its own. They are filled from the log once.
CREATE TABLE stopwatch (
    squad_id INTEGER NOT NULL REFERENCES squad (id) ON DELETE CASCADE,
    measure TEXT NOT NULL,               -- event and measure, such as run.socks
    attempt TEXT NOT NULL,               -- its number, or r1 for a run-off
    planning_at TEXT,                    -- since when the squad plans
    started_at TEXT,                     -- since when the clock runs
    PRIMARY KEY (squad_id, measure, attempt)
) STRICT;

CREATE TABLE name_claim (
    entry_id INTEGER NOT NULL REFERENCES class_list_entry (id) ON DELETE CASCADE,
    claimed_by TEXT NOT NULL,            -- a pseudonym, as in the log
    kind TEXT NOT NULL CHECK (kind IN ('has-account', 'picked-twice')),
    PRIMARY KEY (entry_id, claimed_by, kind)
) STRICT;

CREATE TABLE plan_proposal (
    tryout_id INTEGER NOT NULL REFERENCES tryout (id) ON DELETE CASCADE,
    stamp TEXT NOT NULL,                 -- of the plan that was proposed
    proposed_by TEXT NOT NULL,           -- a pseudonym, as in the log
    proposed_at TEXT NOT NULL,
    PRIMARY KEY (tryout_id, stamp, proposed_by)
) STRICT;

ALTER TABLE student ADD COLUMN late_at TEXT;               -- when the coach was told that the student came late
ALTER TABLE judge ADD COLUMN declined_at TEXT;             -- when the coach was told last that the judge cannot
ALTER TABLE tryout ADD COLUMN judges_reminded_at TEXT;     -- by a coach, for the last time
ALTER TABLE tryout ADD COLUMN first_announced_at TEXT;     -- stays when an announcement is taken back
ALTER TABLE reopening_request ADD COLUMN asked_by TEXT NOT NULL DEFAULT '';  -- a pseudonym, as in the log

CREATE TEMP TABLE entry AS
SELECT seq, tryout_id, at, actor, action,
    CASE WHEN json_valid(details_json) THEN details_json ELSE '{}' END AS details
FROM audit_log
WHERE action IN ('table.planning', 'table.start', 'table.save', 'table.cancel', 'student.late', 'judge.decline',
    'judges.remind', 'results.announce', 'judging.ask-again', 'plan.propose', 'class-list.has-account',
    'class-list.picked-twice');

INSERT INTO stopwatch (squad_id, measure, attempt, planning_at, started_at)
WITH clock AS (
    SELECT seq, at, action, json_extract(details, '$.squad') AS squad_id, json_extract(details, '$.measure') AS measure,
        json_extract(details, '$.attempt') AS attempt
    FROM entry WHERE action LIKE 'table.%'
), ended AS (
    SELECT squad_id, measure, attempt, max(seq) AS seq FROM clock
    WHERE action IN ('table.save', 'table.cancel') GROUP BY squad_id, measure, attempt
)
SELECT clock.squad_id, clock.measure, CAST(clock.attempt AS TEXT),
    CASE WHEN max(action = 'table.start') = 0 THEN min(at) END,
    min(CASE WHEN action = 'table.start' THEN at END)
FROM clock LEFT JOIN ended USING (squad_id, measure, attempt)
WHERE clock.seq > coalesce(ended.seq, 0) AND clock.measure IS NOT NULL AND clock.attempt IS NOT NULL
    AND clock.squad_id IN (SELECT id FROM squad)
GROUP BY clock.squad_id, clock.measure, clock.attempt;

INSERT OR IGNORE INTO name_claim (entry_id, claimed_by, kind)
SELECT json_extract(details, '$.entry'), json_extract(details, '$.person'), substr(action, 12) FROM entry
WHERE action LIKE 'class-list.%' AND json_extract(details, '$.person') IS NOT NULL
    AND json_extract(details, '$.entry') IN (SELECT id FROM class_list_entry);

INSERT INTO plan_proposal (tryout_id, stamp, proposed_by, proposed_at)
SELECT tryout_id, json_extract(details, '$.stamp'), actor, min(at) FROM entry
WHERE action = 'plan.propose' AND json_extract(details, '$.stamp') IS NOT NULL AND tryout_id IN (SELECT id FROM tryout)
GROUP BY 1, 2, 3;

UPDATE student SET late_at = (SELECT min(at) FROM entry WHERE action = 'student.late'
    AND entry.tryout_id = student.tryout_id AND json_extract(details, '$.student') = student.id);
UPDATE judge SET declined_at = (SELECT max(at) FROM entry WHERE action = 'judge.decline'
    AND entry.tryout_id = judge.tryout_id AND json_extract(details, '$.judge') = judge.id);
UPDATE tryout SET
    judges_reminded_at = (SELECT max(at) FROM entry WHERE action = 'judges.remind' AND tryout_id = tryout.id),
    first_announced_at = coalesce(announced_at,
        (SELECT min(at) FROM entry WHERE action = 'results.announce' AND tryout_id = tryout.id));
UPDATE reopening_request SET asked_by = coalesce((SELECT min(actor) FROM entry WHERE action = 'judging.ask-again'
    AND entry.tryout_id = reopening_request.tryout_id AND json_extract(details, '$.asked') = reopening_request.id), '');
DROP TABLE entry;
