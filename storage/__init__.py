"""Everything that is kept: one SQLite file, its tables, and the records they hold."""
