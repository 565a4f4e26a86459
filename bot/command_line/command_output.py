"""How a command answers whoever typed it: a report, or one sentence on what stands in the way; and its exit code."""

import sys
from collections.abc import Callable
from pathlib import Path

from bot.words.core import file_errors


def complain(sentence: str) -> int:
    """Say what stands in the way; returns the exit code for it."""
    print(sentence, file=sys.stderr)
    return 2


def print_report(about: Path, make: Callable[[], tuple[str, bool]]) -> int:
    """Print a report and return whether all is well, or say in one sentence what stands in the way."""
    from bot.rules.core.refusal import Refusal
    from bot.words.core import refusals
    from bot.words.scoring.command_line_packet import visible
    from storage.file_errors import DamagedDatabase, StorageFault

    try:
        text, good = make()
    except DamagedDatabase:
        return complain(file_errors.database_damaged(str(about)))
    except (StorageFault, OSError) as fault:
        return complain(file_errors.database_unusable(str(about), str(fault)))
    except Refusal as refusal:
        return complain(visible(refusals.line(refusal)))
    print(text)
    return 0 if good else 1
