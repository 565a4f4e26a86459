"""How a connection to the database is set: the one that writes loses nothing; how long a lock is waited for."""

BUSY_MS = 5000
"""How long a connection waits for a lock that somebody else holds, in milliseconds."""
CACHED_STATEMENTS = 256
"""How many statements a connection keeps prepared."""
PRAGMAS = (
    "journal_mode = WAL",
    "synchronous = FULL",
    "foreign_keys = ON",
    f"busy_timeout = {BUSY_MS}",
    "secure_delete = ON",
    "temp_store = MEMORY",
)
"""How the writer works: nothing acknowledged is lost with the power, nothing erased can be read in the file, and the
pages to which a savepoint could go back are kept in memory: each would cost two more writes, to a temporary file.
"""
