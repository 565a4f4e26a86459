"""A judge's living list of all own score sheets: what is done, started and open (one sheet itself: `score_sheet`)."""

from collections.abc import Sequence
from datetime import datetime
from functools import partial

from bot.rules.calendar.calendar import Schedule
from bot.rules.judging.my_sheets import Entry, Group, go_on, group_of, last_saved, next_open, opened_again
from bot.rules.judging.score_sheet import missing
from bot.rules.results.hidden_until_close import sealed
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import choice, list_page
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import cut, escape
from bot.words.core.signs import Sign, posted
from bot.words.core.times import full
from bot.words.core.who_reads import MARKS
from bot.words.judging.tryout_of_judge import tryout_buttons
from storage.records.judging import Trial
from storage.records.message import BUTTON_LABEL, MESSAGE_LENGTH, Button, Message
from storage.records.tryout import Tryout

EVENT_LABEL = 14
"""Characters of a label that the name of the event may take."""
PAPER = Button(key=key(ActionKey.SHEETS_PAPER), label="Print")
SECRET = f"-# {MARKS}"
GROUPS: dict[Group, str] = {"done": "Done", "started": "Started", "open": "Open"}
"""In the order in which they stand in the list."""
_TRIAL = "**First, please mark one invented entry** (two minutes): press **See the sample**."


@posted(Sign.JUDGING)
def my_sheets(
    tryout: Tryout,
    entries: Sequence[Entry],
    schedule: Schedule,
    page: int = 0,
    typed: Entry | None = None,
    trial: Trial | None = None,
    others: Sequence[Tryout] = (),
) -> Message:
    """The judge's living list: what is done, started and open, the time left, and the next sheet one press away.

    `typed` is the sheet into which typed numbers go, where the judge can type at all; `trial` has still to be marked;
    `others` are the try-outs in which the judge judges besides.
    """
    head = f"**Your score sheets** for {escape(tryout.plan.name)}"
    knows = (Button(key=key(ActionKey.SHEETS_TIE), label="I know someone in a squad"),) if sealed(tryout.state) else ()
    first = () if trial is None else (see_sample(trial),)
    if not entries:
        opens = full(schedule.deadline)
        text = f"There is nothing to mark yet. Your sheets come here when the squads have handed in: {opens}."
        text = "\n".join([head, *([] if trial is None else [_TRIAL]), text, SECRET])
        beside = (*first, *knows)
        return Message(text=text, rows=(*((beside,) if beside else ()), *tryout_buttons(others)))
    lines = [head, *([] if trial is None else [_TRIAL]), progress(entries, schedule.judging_closes)]
    saved = last_saved(entries)
    if saved is not None and not saved.done:
        lines.append(
            f"Saved: **{escape(saved.squad.name)}**, {saved.marked} of {saved.criteria} marked. "
            "Go on now or any other day."
        )
    foot = ["", *([] if typed is None else [_hint(typed)]), SECRET]
    text = "\n".join([*lines, *_states(entries), *foot])
    if len(text) > MESSAGE_LENGTH:
        text = "\n".join([*lines, "", "The list below has every sheet.", *foot])
    choices = [choice(one.sheet.id, one.squad.name, f"{_plain_title(one)}, {state(one)}") for one in entries]
    prompt, turn = "Look at a sheet", partial(key, ActionKey.SHEETS_LIST)
    prompt += ", or change it" if any(one.changeable for one in entries) else ""
    listed = list_page(choices, page, prompt, key(ActionKey.SHEETS_LOOK), turn)
    next_ones = (*first, *onward(entries))
    below = (*to_read(entries), *listed.turns, *knows, PAPER)
    rows = (*((next_ones,) if next_ones else ()), *listed.select, below)
    return Message(text=text, rows=(*rows, *tryout_buttons(others)))


def _hint(entry: Entry) -> str:
    left = missing(entry.rubric, entry.sheet.marks)
    hint = (
        f"-# You can also type in our private messages: your next number goes to {escape(entry.squad.name)}, "
        f"{escape(left[0].name)} (1 to {len(left[0].levels)})."
    )
    if len(left) == 1:
        return hint
    example = " ".join(str(min(2 + place % 2, len(one.levels))) for place, one in enumerate(left))
    lines = "both lines" if len(left) == 2 else f"all {len(left)} lines"
    return f"{hint} Type {len(left)} numbers, such as `{example}`, to mark {lines} at once."


def progress(entries: Sequence[Entry], closes: datetime) -> str:
    """How many sheets are done, started and open, and how much time is left, in one line."""
    mine = [entry for entry in entries if entry.done or entry.owed]
    done = sum(entry.done for entry in mine)
    if not any(entry.changeable and not entry.again for entry in entries):
        again = [escape(entry.squad.name) for entry in entries if entry.again]
        opened = f" Your coach has opened a sheet again: {listing(again)}." if again else " Thank you for judging!"
        return f"**{done} of {len(mine)}** done. Judging is closed.{opened}"
    if done == len(mine):
        return f"**All {done} done.** Thank you! You can change a sheet until your coach closes judging."
    started = sum(entry.sheet.state == "started" for entry in mine)
    parts = [f"**{done} of {len(mine)}** done"]
    parts += [f"{started} started"] if started else []
    parts.append(f"{len(mine) - done - started} open")
    return f"{', '.join(parts)}. Please finish by {full(closes)}."


def _states(entries: Sequence[Entry]) -> list[str]:
    """The squads of each rubric by state."""
    lines = []
    for event, rubric in dict.fromkeys((entry.event.key, entry.rubric.key) for entry in entries):
        mine = [entry for entry in entries if (entry.event.key, entry.rubric.key) == (event, rubric)]
        lines += ["", f"**{title(mine[0])}**"]
        for group, named in GROUPS.items():
            if sheets := [one for one in mine if group_of(one) == group]:
                lines.append(f"{named}: {', '.join(_listed(one, group) for one in sheets)}")
    return lines


def _listed(entry: Entry, group: Group) -> str:
    name = escape(entry.squad.name)
    return f"{name} ({entry.marked} of {entry.criteria})" if group == "started" else name


def title(entry: Entry) -> str:
    """What a sheet is about: the event, and the rubric where its name says more."""
    if len(entry.event.measures) == 1 or entry.rubric.name == entry.event.name:
        return escape(entry.event.name)
    return f"{escape(entry.event.name)}: {escape(entry.rubric.name)}"


def onward(entries: Sequence[Entry]) -> tuple[Button, ...]:
    """Go on with the sheet that was begun, and begin the next one."""
    again, started, fresh = opened_again(entries), go_on(entries), next_open(entries)
    buttons = []
    if again is not None:
        buttons.append(
            Button(key=key(ActionKey.SHEETS_MARK, again.sheet.id), label=label("Look again", again), style="main")
        )
    if started is not None:
        onward = Button(key=key(ActionKey.SHEETS_MARK, started.sheet.id), label=label("Go on", started))
        buttons.append(onward if buttons else onward.model_copy(update={"style": "main"}))
    if fresh is not None:
        onward = Button(
            key=key(ActionKey.SHEETS_MARK, fresh.sheet.id), label=label("Now" if fresh.here else "Next", fresh)
        )
        buttons.append(onward if buttons else onward.model_copy(update={"style": "main"}))
    return tuple(buttons)


def to_read(entries: Sequence[Entry]) -> tuple[Button, ...]:
    """What the squad that comes next has handed in, to be read before it is marked."""
    following = opened_again(entries) or go_on(entries) or next_open(entries)
    if following is None or not following.event.hand_in:
        return ()
    return (see_hand_in(following, cut(f"See their {following.event.name}: {following.squad.name}", BUTTON_LABEL)),)


def see_sample(trial: Trial) -> Button:
    """Read the invented entry of a trial, and mark it."""
    return Button(key=key(ActionKey.TRIALS_LOOK, trial.id), label="See the sample", style="main")


def see_hand_in(entry: Entry, shown: str) -> Button:
    """Read what the squad of a sheet has handed in."""
    return Button(key=key(ActionKey.SHEETS_HAND_IN, 0, entry.sheet.id), label=shown)


def label(word: str, entry: Entry) -> str:
    """A button's label: a word, the squad and the event, as much of both as fits."""
    event = cut(entry.event.name, EVENT_LABEL)
    return f"{cut(f'{word}: {entry.squad.name}', BUTTON_LABEL - len(event) - 2)}, {event}"


def _plain_title(entry: Entry) -> str:
    return entry.event.name if len(entry.event.measures) == 1 else entry.rubric.name


def state(entry: Entry) -> str:
    """How far a sheet is."""
    if entry.sheet.state == "recused":
        return "not yours to mark"
    if entry.done:
        return "done"
    return f"{entry.marked} of {entry.criteria} marked"
