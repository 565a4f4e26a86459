"""Sign-up is opened: asked once with exactly what the class will read, its dates among it."""

from collections.abc import Sequence

from bot.rules.calendar.calendar import Schedule
from bot.rules.calendar.step_facts import Lack
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, confirm_step
from bot.words.core.changed_meanwhile import PLAN_CHANGED
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import escape, quoted
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.office.readiness import worth_knowing
from bot.words.plan.places_on_team import places_text
from storage.records.message import Button, Message
from storage.records.plan import Plan


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


def sure_to_open(news: Message, lacking: Sequence[Lack], stamp: str, changed: bool = False) -> Message:
    """Ask once before sign-up opens; `stamp` names the plan that is shown; `changed`: another one was shown before."""
    return confirm_step(
        f"{PLAN_CHANGED if changed else ''}**Open sign-up?** The sign-up message with its buttons is posted and "
        "pinned, and the class reads:\n"
        f"{quoted(news.text)}{worth_knowing(lacking)}",
        Button(key=key(ActionKey.SIGNUP_OPEN, stamp), label="Yes, open sign-up", style="main"),
    )


def signup_opened() -> Message:
    """Sign-up is open."""
    on = BACK.model_copy(update={"style": "main"})
    return Message(text="**Sign-up is open.** The brief goes out by itself at its time.", rows=((on,),))


def dates_text(schedule: Schedule) -> str:
    """Until when one can sign up, when the brief comes, and the deadline; no date twice."""
    brief, deadline = full(schedule.brief), full(schedule.deadline)
    if schedule.signup_closes == schedule.brief:
        return f"Sign-up closes when the brief comes, for everyone at once: {brief}. The deadline is {deadline}."
    closes = full(schedule.signup_closes)
    return f"Sign-up closes {closes}. The brief comes {brief}, for everyone at once. The deadline is {deadline}."
