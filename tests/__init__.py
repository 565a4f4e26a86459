"""The checks: one folder per floor, a whole season, and the measurements."""
