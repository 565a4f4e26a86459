"""A changed plan that waits for a yes, and who has asked for it."""

from datetime import datetime

from storage.records.base import Record
from storage.records.plan import Plan


class PlanDraft(Record):
    """A changed plan that waits for the coach's yes."""

    tryout_id: int
    plan: Plan
    reason: str = ""


class PlanProposal(Record):
    """A changed plan was proposed; its stamp names the very plan."""

    tryout_id: int
    stamp: str
    proposed_by: str
    """The coach, as a pseudonym."""
    proposed_at: datetime
