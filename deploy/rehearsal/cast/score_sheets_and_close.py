"""Six judges mark their sheets in private; one forgets, and is reminded; then judging is closed."""

from __future__ import annotations

import re
from contextlib import suppress
from functools import partial

from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, walk
from deploy.rehearsal.cast.stage import OFFICE, Stage, awaited, newest
from deploy.rehearsal.phones.form_answers import named
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome
from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.rendering import Option, Shown
from deploy.rehearsal.world.state import DIRECT_MESSAGES

BEGIN = ("Now: ", "Next: ")
ONWARD = ("Go on: ", *BEGIN)
"""How the button begins that leads to the next sheet."""
LIST, CLOSED = "Your score sheets", "Judging is closed"
COMMENTS = (
    "Every member could say why their part is there.",
    "The drafts show how the idea grew. Next: say more about the robot.",
    "Clear reasons on all flags.",
    "Good teamwork. Next: let the quiet ones go first.",
    "",
    "",
)


async def play(stage: Stage, cast: Cast, *, leave: int = 0) -> None:
    """Let every judge mark what is open; the forgetful one leaves some sheets for later."""
    for name in cast.judges:
        await stage.wait(minutes=stage.random.randint(5, 45))
        await mark_all(stage, cast, name, leave=leave if name == cast.forgetful else 0)


def my_sheets(stage: Stage, name: str) -> Shown:
    """The judge's living list: in the private messages, or where they are closed in a private room."""
    phone = stage.phone(name)
    for room in (DIRECT_MESSAGES, *reversed(phone.rooms)):
        with suppress(CastMistake):
            return newest(phone, room, LIST)
    raise CastMistake(f"{name} sees no list of score sheets")


def is_closed(stage: Stage, name: str) -> bool:
    """Whether a judge reads that judging is closed; an older answer that is still on the phone does not hide it."""
    phone = stage.phone(name)
    for room in (DIRECT_MESSAGES, *reversed(phone.rooms)):
        with suppress(CastMistake):
            lists = [shown for shown in phone.see(room) if LIST in shown.text]
            if lists:
                return any(CLOSED in shown.text for shown in lists)
    return False


async def mark_all(stage: Stage, cast: Cast, name: str, *, leave: int = 0, most: int | None = None) -> None:
    """Press on from sheet to sheet until none is open, only `leave` are left, or `most` forms were filled in."""
    judge = stage.phone(name)
    shown = await awaited(stage, lambda: my_sheets(stage, name))
    forms = 0
    while True:
        onward = next((label for label in shown.labels if label.startswith(ONWARD)), None)
        if onward is None or forms == most:
            return
        if leave and onward.startswith(BEGIN) and _open_sheets(shown) <= leave:
            return
        opened = await stage.do(partial(judge.press, shown, onward))
        if opened.form is None:
            shown = await awaited(stage, lambda: my_sheets(stage, name))
            continue
        outcome = await fill_sheet(stage, cast, name, opened.form)
        forms += 1
        await stage.wait(minutes=stage.random.randint(1, 4))
        if outcome.message is not None and outcome.message.labels:
            shown = outcome.message
        else:
            shown = await awaited(stage, lambda: my_sheets(stage, name))


def _open_sheets(shown: Shown) -> int:
    """How many sheets the message says are still to be done."""
    for word in shown.text.replace("*", "").split("\n"):
        if " of " in word and "done" in word:
            done, _, rest = word.partition(" of ")
            return int(rest.split()[0]) - int(done.split()[-1])
    return 0


async def fill_sheet(stage: Stage, cast: Cast, name: str, form: Form) -> Outcome:
    """Mark one form as this judge would: by how good the squad is, and how strict the judge."""
    skill = cast.skill(form.title) + (cast.judges.index(name) - 2.5) * 0.06
    values: dict[str, Option | str] = {}
    for field in form.fields:
        chance = stage.chance(name, form.title, field.label)
        if field.options:
            level = round(skill * len(field.options) + chance.gauss(0.4, 0.55))
            values[named(form, field)] = field.options[max(1, min(len(field.options), level)) - 1]
        else:
            values[named(form, field)] = chance.choice(COMMENTS)
    outcome = await stage.do(lambda: stage.phone(name).fill(form, values))
    squad = next((one for one in cast.squad_names if one in form.title), form.title)
    if _marked(outcome.text, squad):
        stage.acknowledged += 1
        stage.remember(name, f"the sheet of {squad}", partial(_is_marked, stage, name, squad))
    elif not stage.rough:
        raise CastMistake(f"{name} was told {outcome!r}")
    return outcome


def _marked(text: str, squad: str) -> bool:
    """Whether a list or an answer has the squad among what is done, started or just saved."""
    lines = [line for line in text.split("\n") if squad in line]
    return any(line.startswith(("Done: ", "Started: ", "Saved: ")) for line in lines)


async def _is_marked(stage: Stage, name: str, squad: str) -> bool:
    """Whether the judge's list still has the squad among what is done or started."""
    return _marked((await awaited(stage, lambda: my_sheets(stage, name))).text, squad)


async def mark_again(stage: Stage, cast: Cast, name: str, squad: str, *, parts: int = 9) -> Outcome:
    """A judge looks at a sheet that is done, and fills in its parts once more, or the first of them."""
    sheet = (await walk(stage, name, my_sheets(stage, name), Pick("Look at a sheet", (squad,)))).shown()
    outcome = Outcome("message", sheet)
    for label in [label for label in sheet.labels if label.startswith("Change")][:parts]:
        opened = await walk(stage, name, sheet, label)
        outcome = await fill_sheet(stage, cast, name, opened.opened())
    return outcome


async def remind(stage: Stage) -> None:
    """The coach reminds whoever owes sheets."""
    await in_office(stage, "Remind", line="/results")


async def close(stage: Stage) -> None:
    """The coach sees who owes what, and closes judging."""
    coach = stage.coach
    panel = (await stage.do(lambda: coach.command("/judges", room=OFFICE))).shown()
    status = await stage.do(lambda: coach.press(panel, "Who owes what"))
    counted = re.search(r"\*\*(\d+) of (\d+) sheets\*\*", status.text)
    if counted is not None:
        # Where nothing is judged, there are no sheets to count.
        stage.sheets_done, stage.sheets_due = int(counted[1]), int(counted[2])
    panel = (await stage.do(lambda: coach.command("/judges", room=OFFICE))).shown()
    asked = (await stage.do(lambda: coach.press(panel, "Close judging"))).shown()
    await stage.do(lambda: coach.press(asked, "Close judging"))


async def not_before(stage: Stage, _cast: Cast) -> None:
    """The coach looks what could be judged already, and leaves it: it opens by itself at the deadline."""
    await in_office(stage, "Judges", "Open for judging")
