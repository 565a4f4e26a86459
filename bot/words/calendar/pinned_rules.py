"""The pinned message about the rules, which stands in the news from the brief on."""

from bot.rules.calendar.calendar import Schedule
from bot.rules.plan.public_plan import PublicPlan
from bot.words.calendar.brief import FILE, OPEN
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.plan.public_plan import fingerprints
from bot.words.questions.squad_asks import ASK
from storage.records.message import Message
from storage.records.plan import Plan


@posted(Sign.BRIEF)
def pinned_rules(plan: Plan, schedule: Schedule, public: PublicPlan, may_ask: bool) -> Message:
    """The pinned message about the rules, for as long as the try-out runs; `may_ask` until judging is closed."""
    asking = "ask about the rules, " if may_ask else ""
    return Message(
        text=f"**The rules of {escape(plan.name)}**\n"
        f"Read the brief, {asking}or save the rules as a file.\n"
        f"The deadline is {full(schedule.deadline)}.\n"
        f"-# {fingerprints(public)}",
        rows=((OPEN, *((ASK,) if may_ask else ()), FILE),),
    )
