"""Sending: how often is looked for what waits, how many addresses at a time, how long a request may take."""

from datetime import timedelta

ADDRESSES_AT_ONCE = 4
"""So many addresses (rooms, direct messages) are served at a time."""
LOOKS_APART_S = 0.02
"""Between two looks at the outbox while something is on its way, which commits several times."""
REQUEST_S = 90.0
"""No call of the platform may take longer; what it did by then is looked up."""
CLOCK_SLACK = timedelta(minutes=5)
"""How far the platform's clock may be behind ours."""
LOOKED_THROUGH = 1000
"""How many messages after the claim are looked through for ours, which was posted right after it."""
FINISH_SENDING_S = 2.5
"""How long a message that is on its way may take when we stop."""
