"""The steps of a try-out: asked once with exactly what will be said, then confirmed."""

from collections.abc import Sequence

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.refusal_reasons import Reason
from bot.rules.office.readiness import Lack
from bot.words.calendar.brief import dates_text
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.keys import key, shown_stamp
from bot.words.core.pages import whole_message
from bot.words.core.plain_text import escape, quoted
from bot.words.core.signs import Sign, posted
from bot.words.office.office import lack_lines, worth_knowing
from bot.words.plan.places_text import places_text
from storage.records.message import Button, Message
from storage.records.plan import Plan
from storage.records.tryout import Tryout

REFUSALS = {
    Reason.SIGNUP_FIRST: "Open sign-up first: /office shows the next step.",
}


def _confirm(text: str, yes: Button) -> Message:
    return whole_message(text, ((yes, BACK),))


@posted(Sign.SIGN_UP)
def signup_opens(plan: Plan, schedule: Schedule, signup_room: int) -> Message:
    """The message to the class that sign-up is open."""
    places = "One squad wins a place" if plan.places == 1 else f"{plan.places} squads win a place"
    if plan.place_groups:
        places = f"These places can be won: {places_text(plan)},"
    return Message(
        text=f"**{escape(plan.name)}: sign-up is open!**\n"
        f"Make a squad of your own section in <#{signup_room}>. {places} on the team.\n"
        f"{dates_text(schedule)}"
    )


CHANGED = "**The plan has changed since you looked**, so nothing is done yet. This is what would be said now:\n"
"""Over what is shown anew."""


def sure_to_open(news: Message, lacking: Sequence[Lack], stamp: str, changed: bool = False) -> Message:
    """Ask once before sign-up opens; `stamp` names the plan that is shown; `changed`: another one was shown before."""
    return _confirm(
        f"{CHANGED if changed else ''}**Open sign-up?** The sign-up message with its buttons is posted and "
        "pinned, and the class reads:\n"
        f"{quoted(news.text)}{worth_knowing(lacking)}",
        Button(key=key(ActionKey.SIGNUP_OPEN, stamp), label="Yes, open sign-up", style="main"),
    )


def signup_opened() -> Message:
    """Sign-up is open."""
    on = BACK.model_copy(update={"style": "main"})
    return Message(text="**Sign-up is open.** The brief goes out by itself at its time.", rows=((on,),))


def sure_to_release(
    news: Message, room: Message, lacking: Sequence[Lack], stamp: str, changed: bool = False
) -> Message:
    """Ask once before the brief is released by hand; `stamp` and `changed` as before."""
    return _confirm(
        f"{CHANGED if changed else ''}**Release the brief now?** The plan is then fixed, and the days to the "
        "deadline run from this minute. "
        f"The class reads, with a button to open the brief:\n{quoted(news.text)}\n"
        f"Each squad's room reads:\n{quoted(room.text)}{worth_knowing(lacking)}",
        Button(key=key(ActionKey.BRIEF_RELEASE, stamp), label="Yes, release the brief", style="main"),
    )


def released() -> Message:
    """The brief is out."""
    return Message(text="**The brief is out.** From now on I remind squads of what they still owe.", rows=((BACK,),))


def not_released(lacking: Sequence[Lack]) -> Message:
    """Told in the office when the brief could not go out by itself."""
    lines = lack_lines([lack for lack in lacking if lack.blocks])
    return Message(
        text=f"**The brief did not go out**, because something is missing:\n{lines}\n"
        "Mend it, then release the brief yourself: /office."
    )


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
    return _confirm(
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
