"""What people try that must not succeed, or that must come to one thing only: roles, forged presses, hostile words.

They act through phones; a forged press is what an altered client could send. Each raises `Noticed` where it succeeds.
"""

import re
from datetime import UTC, datetime, timedelta
from functools import partial
from typing import Any

from deploy.rehearsal.cast.brief_and_build_days import open_brief, squad_room
from deploy.rehearsal.cast.hand_in import HandIn
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER, Cast, Group
from deploy.rehearsal.cast.practice import GIVE, PICK_BACK
from deploy.rehearsal.cast.score_sheets_and_close import ONWARD, my_sheets
from deploy.rehearsal.cast.sign_up import JOIN, panel
from deploy.rehearsal.cast.stage import NEWS, OFFICE, SIGN_UP, Stage
from deploy.rehearsal.cast.try_out_setup import office, press_on
from deploy.rehearsal.phones.user_actions import Act, Outcome
from deploy.rehearsal.wire.interaction_events import COMPONENT, Interaction
from deploy.rehearsal.wire.rendering import Shown
from tests.faults.season_invariants import Noticed

SECOND_COACH = "Mx Ferreira"
MALLORY = "Mal [t](https://evil.example) **evil**"
"""What somebody calls themselves on the platform."""
HOSTILE = (
    "May we look at https://evil.example/x or www.evil.example, [here](https://evil.example), <@&4> @everyone **evil**"
    " z\u200bero \u202eexe.gnp?"
)
LONG = "May a robot have " + "😀" * 200 + "?"
ODD = ("1e9999999", "-1", "\u0663", "9" * 60, "x", "", "1:2:3:4:5:6:7")
MISTAKE = re.compile(r"went wrong on my side")


def must(holds: object, why: str) -> None:
    """Raise `Noticed` where something does not hold."""
    if not holds:
        raise Noticed(why)


async def forged(stage: Stage, name: str, shown: Shown, custom_id: str, values: tuple[str, ...] = ()) -> Outcome:
    """Press something that does not stand on one's own screen."""
    server, person = stage.server, stage.phone(name).person
    room = server.world.rooms[shown.room_id]
    message = room.messages[shown.message_id]
    data: dict[str, Any] = {"custom_id": custom_id, "component_type": 3 if values else 2, "id": 1}
    data |= {"values": list(values)} if values else {}

    def begin() -> Interaction:
        return server.interactions.open(COMPONENT, person, room, data, message)

    await stage.moment()
    return await Act(server, begin)


async def roles(stage: Stage, cast: Cast) -> None:
    """A student, the scorekeeper and a judge ask for what is the coach's; a coach who was added gets it."""
    people = await press_on(stage, await office(stage), "People", "Coaches and helpers")
    await stage.do(partial(stage.coach.choose, people.shown(), "Add a coach", [SECOND_COACH]))
    for name, line in (
        (cast.groups[0].people[0], "/office"),
        (cast.groups[0].people[0], "/table"),
        (SCOREKEEPER, "/office"),
        (cast.judges[0], "/results"),
    ):
        outcome = await _overridden(stage, name, line)
        must("Only a coach" in outcome.text, f"{name} asked for {line} and was told {outcome.text[:80]!r}")
    outcome = await _overridden(stage, SECOND_COACH, "/office")
    must("The office" in outcome.text or "Set-up" in str(outcome.shown().labels) or len(outcome.shown().labels) > 3,
         f"a coach asked for the office and was told {outcome.text[:80]!r}")  # fmt: skip


async def _overridden(stage: Stage, name: str, line: str) -> Outcome:
    """Use a command that an administrator has opened to this person."""
    phone = stage.phone(name)
    return await stage.do(lambda: phone.command(line, room=NEWS, overridden=True))


async def helper_of_before(stage: Stage, name: str) -> None:
    """Somebody in a squad, whom an old file has as a scorekeeper, asks for the table."""
    outcome = await _overridden(stage, name, "/table")
    must(not outcome.shown().selects, f"{name} of a squad keeps score: {outcome.text[:80]!r}")


async def odd_keys(stage: Stage, cast: Cast) -> None:
    """An altered client sends keys that no button ever had."""
    name = cast.groups[0].people[0]
    shown = panel(stage.phone(name))
    for words in ODD:
        for key in ("squad.removed", "offer.accept", "squad.page"):
            outcome = await forged(stage, name, shown, f"{key}:{words}"[:100])
            must(not outcome.failed and not MISTAKE.search(outcome.text),
                 f"{key}:{words[:12]} came to {outcome.text[:80]!r}")  # fmt: skip


async def strange_squads(stage: Stage, cast: Cast, codes: dict[str, str]) -> None:
    """Somebody joins a squad of another section by its code."""
    name, section = cast.last_lonely, cast.lonely[cast.last_lonely]
    other = next(one for one in cast.groups if one.section != section and one.name in codes)
    phone = stage.phone(name)
    outcome = await stage.do(lambda: phone.command("/sign-up", {"code": codes[other.name]}, room=SIGN_UP))
    must("You are in" not in outcome.text, f"{name} of {section} joined a squad of {other.section}")


async def mallory_joins(stage: Stage, squad: Group, code: str) -> None:
    """Somebody whose name on the platform is full of markup takes part, and is then added as a judge by mistake."""
    phone = stage.phone(MALLORY)
    outcome = await stage.do(lambda: phone.press(panel(phone), JOIN))
    form = outcome.opened()
    await stage.do(lambda: phone.fill(form, {"Your name": "Mal P", "Your section": squad.section}))
    outcome = await stage.do(lambda: phone.command("/sign-up", {"code": code}, room=SIGN_UP))
    must("You are in" in outcome.text, f"Mal was told {outcome.text!r}")
    judges = (await press_on(stage, await office(stage), "Judges")).shown()
    outcome = await stage.do(lambda: stage.coach.choose(judges, "Add judges", [MALLORY]))
    must("in **" in outcome.text or "squad" in outcome.text, f"a member became a judge: {outcome.text[:80]!r}")


async def hostile_questions(stage: Stage, cast: Cast) -> None:
    """Two questions full of what the platform would make something of, the second one a very long row of faces."""
    for name, words in ((cast.groups[1].people[0], HOSTILE), (cast.groups[0].people[0], LONG)):
        phone = stage.phone(name)
        form = (await stage.do(partial(phone.command, "/ask", room=NEWS))).opened()
        await stage.do(partial(phone.fill, form, {form.fields[0].label: words}), told="Your coach has the question")
    panel_ = (await press_on(stage, await office(stage), "Rules questions")).shown()
    must(any(select.options for select in panel_.selects), "the questions cannot be picked")


async def everything_done(stage: Stage, squad: Group, parts: HandIn) -> None:
    """One squad does all that it owes: reads, hands in, books."""
    for name in (*squad.people, MALLORY):
        phone = stage.phone(name)
        await open_brief(stage, name, squad_room(phone, squad.name))
        await parts.add(name)


async def give_back_late(stage: Stage, squad: str, name: str) -> bool:
    """A squad whose turn is about to begin tries to give it back, with a list that it opened in time.

    False where it has no turn."""
    phone = stage.phone(name)
    room = squad_room(phone, squad)
    listed = await stage.do(lambda: phone.press(phone.with_button(room, GIVE), GIVE))
    if listed.message is None or not listed.message.selects:
        return False
    shown = listed.message
    option = shown.selects[0].options[0]
    begins = int(option.value)
    await stage.until(datetime.fromtimestamp(begins, UTC) - timedelta(minutes=30))
    outcome = await stage.do(lambda: phone.choose(shown, PICK_BACK, option.label))
    must("Given back" not in outcome.text, f"{squad} gave a turn back half an hour before it began")
    return True


async def advisory(stage: Stage, name: str) -> None:
    """The coach lets a judge's marks be shown only."""
    judges = (await stage.do(lambda: stage.coach.command("/judges", room=OFFICE))).shown()
    one = (await stage.do(lambda: stage.coach.choose(judges, "Look at one judge", name))).shown()
    await stage.do(lambda: stage.coach.press(one, re.compile("Show, do not count|Let marks count")))


async def strange_sheet(stage: Stage, cast: Cast) -> None:
    """A judge presses what leads to another judge's sheet."""
    mine, theirs = (my_sheets(stage, name) for name in cast.judges[:2])
    button = next(button for button in theirs.buttons if button.label.startswith(ONWARD))
    outcome = await forged(stage, cast.judges[0], mine, button.custom_id)
    must(outcome.form is None, f"{cast.judges[0]} opened a sheet of {cast.judges[1]}")
    sheet = button.custom_id.rpartition(":")[2]
    outcome = await forged(stage, cast.judges[0], mine, "sheets.look", (sheet,))
    must("of 4" not in outcome.text and outcome.form is None, f"{cast.judges[0]} looked into a sheet of another")


async def paper_twice(stage: Stage, judge: str) -> None:
    """The coach types a paper sheet in, and wants to type it in a second time."""
    coach = stage.coach
    for again in (False, True):
        paper = (await stage.do(lambda: coach.command("/paper", room=OFFICE))).shown()
        judges = (await stage.do(partial(coach.press, paper, re.compile("Type in (paper|score) sheets")))).shown()
        squads = (await _pick(stage, judges, "Pick the judge", judge)).shown()
        outcome = await _pick(stage, squads, "Pick the squad", "3 - ")
        if again:
            must(outcome.form is None, "one person types the same paper sheet in twice")
        while outcome.form is not None:
            form = outcome.form
            typed = {one.label: one.options[0].label for one in form.fields if one.options}
            outcome = await stage.do(partial(coach.fill, form, typed))
            if "Go on typing" in outcome.shown().labels:
                outcome = await stage.do(partial(coach.press, outcome.shown(), "Go on typing"))


async def _pick(stage: Stage, shown: Shown, prompt: str, begins: str) -> Outcome:
    """The coach picks the first option that begins so; of two with one label, too."""
    select = next(select for select in shown.selects if select.placeholder == prompt)
    option = next(option for option in select.options if option.label.startswith(begins))
    return await forged(stage, COACH, shown, select.custom_id, (option.value,))


async def two_records(stage: Stage, name: str, section: str) -> None:
    """The coach enters somebody by hand who has signed up already, puts the name right, and joins the two records."""
    coach = stage.coach
    form = (await press_on(stage, await office(stage), "People", "Enter a student")).opened()
    values = {field.label: section if field.options else "Twyla Testperson" for field in form.fields}
    await stage.do(partial(coach.fill, form, {k: v for k, v in values.items() if k in ("Name", "Section")}))
    card = await student(stage, "Twyla Testperson")
    form = (await stage.do(partial(coach.press, card, "Correct name or section"))).opened()
    await stage.do(partial(coach.fill, form, {"Name": "Twyla Tester", "Section": section}))
    card = await student(stage, name)
    others = (await stage.do(partial(coach.press, card, "Join two records"))).shown()
    label = next(one.label for one in others.selects[0].options if "Twyla" in one.label)
    sure = (await stage.do(partial(coach.choose, others, 0, label))).shown()
    await stage.do(partial(coach.press, sure, "Yes, they are one"))


async def student(stage: Stage, name: str) -> Shown:
    """The coach opens a student's page."""
    shown = (await press_on(stage, await office(stage), "People", "Students")).shown()
    label = next(option.label for option in shown.selects[0].options if name in option.label)
    return (await stage.do(partial(stage.coach.choose, shown, "Pick a student", label))).shown()


async def erase(stage: Stage, name: str) -> None:
    """The coach erases a student."""
    card = await student(stage, name)
    await press_on(stage, card, "Erase the name", "Yes, erase")


async def stale_announcement(stage: Stage, judge: str) -> None:
    """The coach reads what would be announced; then a judge's marks count; then the coach presses."""
    coach = stage.coach
    shown = (await stage.do(lambda: coach.command("/results", room=OFFICE))).shown()
    if "Announce" not in shown.labels:
        return
    asked = (await stage.do(lambda: coach.press(shown, "Announce"))).shown()
    if "Announce now" not in asked.labels:
        return
    await advisory(stage, judge)
    outcome = await stage.do(lambda: coach.press(asked, "Announce now"))
    must("Announced" not in outcome.text, "what was announced is not what the coach had read")
    await advisory(stage, judge)
