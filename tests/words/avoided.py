"""Words that stand too near to things that exist, or that nobody here is meant to read, and what we say instead."""

import re

INSTEAD = {
    r"\bmissions?\b": "event, task",
    r"\bcore[- ]samples?\b": "sock",
    r"\breferees?\b": "scorekeeper, judge",
    r"\badvisory\b": "shown, not counted",
    r"\bsurprise challenges?\b": "surprise task",
    r"(?<!\bat )\bhome\b": "behind the basket line",
}
AVOIDED = re.compile("|".join(INSTEAD), re.IGNORECASE)


def avoided_in(text: str) -> list[str]:
    """The words of a text that are avoided, each as it stands there with its neighbours."""
    return [text[max(0, found.start() - 30) : found.end() + 30] for found in AVOIDED.finditer(text)]
