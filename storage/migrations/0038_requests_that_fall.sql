-- A request to open judging or a sheet again falls with the announcement, or the close, that comes after it.
ALTER TABLE reopening_request ADD COLUMN shut_at TEXT;
UPDATE reopening_request SET shut_at = (SELECT max(at) FROM audit_log
    WHERE audit_log.tryout_id = reopening_request.tryout_id AND action IN ('results.announce', 'judging.close')
    AND audit_log.at >= reopening_request.asked_at)
WHERE agreed_at IS NULL;
