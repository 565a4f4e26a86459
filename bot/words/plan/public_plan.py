"""The plan as a file for everybody: its name, what is said with it, and its fingerprints."""

from bot.rules.plan.public_plan import PublicPlan
from storage.records.message import Attachment, Message


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
