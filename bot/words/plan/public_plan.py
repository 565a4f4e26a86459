"""The plan as a file for everybody: its name, what stands in it for a surprise, what is said with it, fingerprints."""

from collections.abc import Collection

from bot.rules.plan.public_plan import PublicPlan, without_sealed
from storage.records.message import Attachment, Message
from storage.records.plan import Plan

SEALED = "left out until it starts"
"""What stands in the file instead of the name of a surprise that has not started."""
SURPRISE = "surprise"
"""What stands for it in the order of the tie-breaks."""


def public_plan(plan: Plan, started: Collection[str] = ()) -> PublicPlan:
    """The plan as everybody may have it; `started` are surprises that are out."""
    return without_sealed(plan, started, SEALED, SURPRISE)


def as_file(public: PublicPlan) -> Message:
    """The plan as a file, for one person."""
    return Message(
        text=f"The rules as a file, as the computer reads them.\n-# {fingerprints(public)}", files=(plan_file(public),)
    )


def plan_file(public: PublicPlan) -> Attachment:
    """The file itself."""
    name = "plan.toml" if public.whole else "plan-without-the-surprise.toml"
    return Attachment(name=name, data=public.text.encode())


def fingerprints(public: PublicPlan) -> str:
    """What `sha256sum` shows for the file, and, where a surprise is left out of it, for the whole plan."""
    if public.whole:
        return f"Fingerprint of the plan (SHA-256 of the file): {public.sha256}"
    return (
        f"Fingerprint (SHA-256) of the file without the surprise: {public.sha256}. "
        f"Fingerprint of the whole plan, which you get when the surprise starts: {public.whole_sha256}"
    )
