-- The cause of an incident about a live message is called what the message is called.

UPDATE delivery_incident SET cause = 'live-message' WHERE cause = 'card';
