"""The SQL of each table, and the way between its rows and the records."""
