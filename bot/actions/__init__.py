"""What is done: one function is one transaction of records, rules and queued messages."""
