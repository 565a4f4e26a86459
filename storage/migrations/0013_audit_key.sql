-- The key, in hexadecimal, under which people stand in the audit log; deleted with the names of a try-out.

ALTER TABLE tryout ADD COLUMN audit_key TEXT;
UPDATE tryout SET audit_key = lower(hex(randomblob(32))) WHERE state <> 'archived';
