"""The line that is open: how often we look whether the other side still answers, and when the line counts as dead."""

from typing import Final

BEAT_S: Final = 10.0
"""How often we look whether the other side still answers."""
ECHO_S: Final = 8.0
"""How long its answer may take: a dead line is noticed in 18 s."""
SILENCE_S: Final = 25.0
"""After so long without a frame the line is dead, too."""
CLOSE_S: Final = 0.5
"""How long we wait for the other side to say good-bye."""
