"""Rules of delivery: tries, sending, the pace of live messages, private rooms, notices after trouble."""
