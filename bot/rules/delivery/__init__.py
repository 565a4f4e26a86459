"""Rules of delivery: tries, the pace of live messages, what counts as late, lost rooms."""
