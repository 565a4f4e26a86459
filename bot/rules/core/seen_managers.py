"""Students who are seen with the right to manage the class server: for how long that is remembered."""

from datetime import timedelta

NOTED_AGAIN = timedelta(days=1)
"""What was seen is noted anew after this."""
REMEMBERED = timedelta(days=7)
"""How long a note holds unless it is seen again."""
