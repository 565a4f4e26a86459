"""Files on their way: how large and how many, how long fetching may take, and how many are in memory at once."""

MOST_BYTES = 16 * 1024 * 1024
"""A file larger than this is not fetched at all: some people may send half a gigabyte."""
MOST_FILES = 2
"""No form and no command of ours takes more."""
FETCH_S = 20.0
"""A file server that is silent for so long has failed; what the person wrote is kept all the same."""
UPLOADS_AT_ONCE = 4
"""So many people's files at a time, from the first byte until they are dealt with: pictures are made small one after
the other, and a whole class in the last minute must not wait in the memory."""
CARRIED_AT_ONCE = 3
"""So many answers with files at a time, until the platform has them: one may hold ten photos of two million bytes."""
