"""How long somebody waits for an answer: what the platform allows, when one is told to wait, how long sending takes."""

PLATFORM_WAITS_S = 3.0
"""How long the platform waits for an answer; what can wait lets answers go first for so long."""
LATE_S = 1.8
"""After so long without an answer the person is told to wait; the rest of the three seconds is for the way there."""
LATE_FORM_S = 2.3
"""The same where the answer may be a form: one cannot follow a waiting note, so that it is given longer."""
SENDING_S = 15.0
"""So long the platform may be silent to an answer; answers carry files, and the library tries again by itself."""
