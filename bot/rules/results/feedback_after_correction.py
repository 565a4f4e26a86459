"""What becomes of feedback that squads have when the result it was written for is corrected."""

from typing import Literal

from storage.records.results import Feedback


def what_becomes_of(kept: Feedback, draft: str | None) -> Literal["stays", "drafted anew", "read again"]:
    """What becomes of a squad's feedback, where `draft` is that of the corrected result.

    A draft that was sent as it was makes way for the new one, or stays where both say the same; what the coach wrote
    is kept as it is, and counts as not sent, so that it is read again.
    """
    as_drafted = kept.sent_at == kept.edited_at
    if kept.sent_at is None or (as_drafted and kept.text == draft):
        return "stays"
    return "drafted anew" if as_drafted else "read again"
