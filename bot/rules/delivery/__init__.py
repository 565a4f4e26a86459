"""Rules of delivery: tries, reaching the platform, the pace of live messages, what counts as late, lost rooms."""
