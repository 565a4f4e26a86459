"""A try-out is stopped or put away: asked once with exactly what the class will read, then confirmed."""

from collections.abc import Sequence

from bot.rules.calendar.step_facts import Lack
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, confirm_step
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.plain_text import escape, quoted
from bot.words.core.signs import Sign, posted
from bot.words.office.readiness import worth_knowing
from storage.records.message import Button, Message
from storage.records.plan import Plan
from storage.records.tryout import Tryout

GONE_ON = "**The try-out has gone on since you looked**, so nothing is done yet. This is how it is now:\n"


def sure_to_archive(tryout: Tryout, news: Message | None, lacking: Sequence[Lack], changed: bool = False) -> Message:
    """Ask once before a try-out is put away; without an announced result the days to erasing count from now.

    `changed`: what was shown before was another step, or another try-out.
    """
    plan = tryout.plan
    since = "after the result" if tryout.announced_at is not None else "from now"
    said = f" The class reads:\n{quoted(news.text)}" if news else " Nothing is said to students."
    text = (
        f"{GONE_ON if changed else ''}**Put {escape(plan.name)} away?** All buttons of it stop working, and the next "
        "try-out can begin. "
        f"Names and comments are erased {plan.retention_days} days {since}; numbers stay. "
        f"Until then all names can be erased at once in /office, but no longer those of one person.{said}"
    )
    return confirm_step(
        text + worth_knowing(lacking),
        Button(key=key(ActionKey.TRYOUT_ARCHIVE, archive_stamp(tryout)), label="Yes, put it away", style="danger"),
    )


def archive_stamp(tryout: Tryout) -> str:
    """What the button carries: what the class reads, and whether anything is lost, hangs on how far a try-out is."""
    return shown_stamp(tryout.id, tryout.state)


@posted(Sign.CHANGE)
def cancelled(plan: Plan) -> Message:
    """Told in the news when a try-out is stopped before its result."""
    return Message(
        text=f"**{escape(plan.name)} has been called off.** Thank you for all that you have done for it. "
        "Do you have questions? Talk to your coach."
    )


def archived() -> Message:
    """The try-out is put away."""
    return Message(text="**The try-out is put away.** The next one can begin.", rows=((BACK,),))
