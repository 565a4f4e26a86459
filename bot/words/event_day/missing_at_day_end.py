"""When the day is over: what is missing, squad by squad, and the next step."""

from collections.abc import Mapping, Sequence

from bot.rules.event_day.missing_at_day_end import Missing, NextStep, next_step
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK, JUDGES, RUN_SHEETS, TABLE
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.event_day.event_day_overview import PANEL
from storage.records.message import Button, Message
from storage.records.people import Squad
from storage.records.plan_measures import Rubric, Share


def what_is_missing(squads: Sequence[Squad], found: Mapping[int, Sequence[Missing]], unstarted: int) -> Message:
    """Each squad with what it lacks, and what is done about it next; `unstarted` surprises wait.

    Squads that lack the same share a line, so that a whole class fits one message.
    """
    lacking: dict[str, list[str]] = {}
    for squad in squads:
        if lacks := "; ".join(map(_lack, found[squad.id])):
            lacking.setdefault(lacks, []).append(f"{squad.number} {escape(squad.name)}")
    lines = [f"- **{', '.join(names)}**: {lacks}" for lacks, names in lacking.items()]
    whole = sum(not found[squad.id] for squad in squads)
    following = next_step([one for lacks in found.values() for one in lacks], unstarted)
    head = (
        f"**What is missing.** {count(whole, 'squad')} of {len(squads)} {'has' if whole == 1 else 'have'} everything."
    )
    step, main = _next(following, unstarted)
    others = [one for one in (TABLE, JUDGES) if one.key != main.key]
    sheets_too = (RUN_SHEETS,) if following == "table" else ()
    rows = ((main.model_copy(update={"style": "main"}), *others, *sheets_too), (PANEL, BACK))
    return whole_message("\n".join([head, step, *lines]), rows)


def _lack(one: Missing) -> str:
    name = escape(one.event.name)
    if one.measure.name != one.event.name:
        name += f", {escape(one.measure.name)}"
    if isinstance(one.measure, Rubric):
        return f"{name}: {one.there} of {count(one.of, 'sheet')} in" if one.of else f"{name}: no sheets handed out"
    if isinstance(one.measure, Share):
        return f"{name}: not recorded"
    may = "" if one.needed else " (may still be done)"
    return f"{name}: {one.there} of {count(one.of, 'attempt')}{may}"


def _next(following: NextStep, unstarted: int) -> tuple[str, Button]:
    if following == "table":
        return "**Next:** record what is missing at the table, or note who did not take part.", TABLE
    if following == "surprise":
        ask = Button(key=key(ActionKey.SURPRISE_ASK), label="Start the surprise")
        return f"**Next:** {count(unstarted, 'surprise')} {'waits' if unstarted == 1 else 'wait'} to be started.", ask
    if following == "judges":
        return "**Next:** remind the judges who owe sheets.", JUDGES
    return "**Next:** everything is in. Close judging, then look at the result.", JUDGES
