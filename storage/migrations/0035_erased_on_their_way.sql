-- What is left of a message once nobody has to look for it by its words: a name in it was erased while it was on its way.
ALTER TABLE outbox_message ADD COLUMN redacted TEXT;
