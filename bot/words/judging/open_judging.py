"""Events are opened for judging: which, and what is told to each judge with new sheets, and to the coach."""

from collections.abc import Sequence
from datetime import datetime

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.compute_panel import Obstacle
from bot.rules.judging.my_sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import JUDGES, MY_SHEETS
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import first_few, listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full
from bot.words.judging.judges_overview import HOME, who
from bot.words.judging.my_sheets import onward
from bot.words.judging.panels import Names, obstacle
from storage.records.message import Button, Message, Select
from storage.records.people import Judge, Squad
from storage.records.plan import Event
from storage.records.plan_measures import Rubric

MOST_NAMED = 8
"""So many of the judges who have not agreed yet are named to the coach; the others are counted."""
REFUSALS = {
    Reason.ALL_EVENTS_OPEN: "Every event that is judged has been opened already.",
    Reason.EVENT_OPEN: "**{event}** is open for judging already.",
    Reason.SURPRISE_FIRST: "**{event}** is a surprise: start it in the office first. Judges get the sheets at that "
    "moment.",
    Reason.NO_JUDGES: "There are no judges yet. Add some first: open **Judges** and pick people under **Add judges**.",
}


@posted(Sign.JUDGING)
def sheets_out(entries: Sequence[Entry], opened: Sequence[str], closes: datetime, talks: bool = False) -> Message:
    """Told to a judge when sheets were handed out; `opened` names the events: their sheets come first.

    `talks` is whether the judge is still to meet squads of these in an interview.
    """
    mine = [entry for entry in entries if entry.owed]
    new = [entry for entry in entries if entry.event.name in opened]
    fresh = sum(entry.owed for entry in new)
    sheets = count(fresh, "new sheet") + f", {len(mine)} in all" if 0 < fresh < len(mine) else count(len(mine), "sheet")
    return Message(
        text=f"Judging is open: {listing([escape(name) for name in opened])}. You have {sheets}. "
        f"Please finish by {full(closes)}.\n"
        "Mark one squad at a time, stop whenever you like, go on from any device."
        + "\nYou meet these squads in interviews: leave open until then what you can only see there."
        * talks,
        rows=((*(onward(new) or onward(entries)), MY_SHEETS),),
    )


def told_open(events: Sequence[str], judges: Sequence[Judge], squads: Sequence[Squad]) -> Message:
    """Told to the coach when sheets were handed out."""
    what = listing([escape(one) for one in events])
    rows = ((JUDGES,),)
    if not judges:
        text = f"**{what}** can be judged now, but there are no judges yet. Add some: press **Judges**."
        return Message(text=text, rows=rows)
    text = f"**{what}** can be judged now: {count(len(judges), 'judge')}, {count(len(squads), 'squad')}."
    silent = [who(judge) for judge in judges if judge.opted_in_at is None]
    if silent:
        named = listing(silent) if len(silent) <= MOST_NAMED else first_few(silent, MOST_NAMED)
        text += f" Not pressed **Start judging** yet: {named}."
    return whole_message(text, rows)


def no_sheets(event: Event, rubric: Rubric, found: Obstacle, names: Names) -> Message:
    """Told in the office when judging opens and the panel cannot be computed."""
    text = (
        f"**{escape(event.name)}** is open for judging, but no sheets could be handed out.\nWhy: "
        f"{obstacle(found, names)}"
    )
    button = Button(key=key(ActionKey.PANELS_TABLE, event.key, rubric.key), label="Panels", style="main")
    return whole_message(text, ((button,),))


def pick_event(events: Sequence[Event]) -> Message:
    """Pick an event that shall be judged now."""
    choices = tuple(choice(one.key, one.name) for one in events)
    return Message(
        text="Which event is to be judged now? Every judge gets the sheets at once.",
        rows=(Select(key=key(ActionKey.JUDGING_OPEN), prompt="Pick an event", choices=choices), (HOME,)),
    )
