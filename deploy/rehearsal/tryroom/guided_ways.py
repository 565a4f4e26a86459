"""The guided ways: who you are, when each begins, and what to press."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field

from deploy.rehearsal.cast import score_sheets_and_close, score_table, sign_up, try_out_setup
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER
from deploy.rehearsal.cast.stage import NEWS, OFFICE, SIGN_UP
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.tryroom.guided_way_ticks import Ticked, chose, either, marked, pressed, read, typed
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.tryroom.season_page_of_room import posted_plan
from deploy.rehearsal.world.state import DIRECT_MESSAGES

NEXT_THING = "**Next thing**"
COUNT = "count"
LABEL = 50
"""So much of a label is compared: what is longer was cut for the platform."""


@dataclass(frozen=True)
class Step:
    """One thing to do, in words, and how it is recognised."""

    text: str
    ticked: Ticked
    fills: Mapping[str, str] = field(default_factory=dict)
    """By label, what fits in the form of this step; a button puts it in."""


@dataclass(frozen=True)
class Way:
    """A guided way."""

    key: str
    title: str
    what: str
    minutes: int
    who: Callable[[TryRoom], str]
    """Who you are on this way."""
    ready: Callable[[TryRoom, str], bool]
    """Whether the season has come to the moment at which it begins."""
    past: Callable[[TryRoom], bool]
    """Whether the season has gone by that moment."""
    steps: Callable[[TryRoom, str], tuple[Step, ...]]
    """What to do, for whoever walks it."""
    then: str
    """What is said when all steps are done."""


def _captain(room: TryRoom) -> str:
    """Somebody who means to start a squad and has none."""
    for group in reversed(room.cast.groups):
        if not any(" - " in place for place in Phone(room.server, group.people[0]).rooms):
            return group.people[0]
    return room.cast.groups[-1].people[0]


def _sign_up_is_open(room: TryRoom, me: str) -> bool:
    with suppress(CastMistake):
        board = " ".join(shown.text for shown in Phone(room.server, me).see(SIGN_UP))
        return sign_up.START in sign_up.panel(Phone(room.server, me)).labels and "(captain)" in board
    return False


def _sheets_wait(room: TryRoom, me: str) -> bool:
    with suppress(CastMistake):
        return any(
            label.startswith(score_sheets_and_close.ONWARD)
            for label in score_sheets_and_close.my_sheets(room.stage, me).labels
        )
    return False


def _all_in(room: TryRoom, _: str = "") -> bool:
    return room.others.event_day_has_come() and room.others.everything_is_in()


def _nothing_to_mark(room: TryRoom) -> bool:
    """Whether judging is closed, or every sheet is in and no more will come."""
    return "closed" in room.others.done or room.others.judging_is_closed() or _all_in(room)


def _has_begun(room: TryRoom) -> bool:
    return any(shown.author != COACH for shown in Phone(room.server, COACH).see(NEWS))


def _announced(room: TryRoom) -> bool:
    return room.others.said(NEWS, "the result") or "closed" in room.others.done


def _set_up(room: TryRoom, _: str) -> tuple[Step, ...]:
    asked = room.script
    fits = {
        "Date of the brief": f"{asked.brief:%Y-%m-%d}",
        "Time of the brief": f"{asked.brief:%H:%M}",
        "Time zone": asked.zone,
        "Sections": ", ".join(asked.sections),
    }
    return (
        Step(f"In **{OFFICE}** type **/office**, and press Send.", typed("/office")),
        Step(
            "Press **Begin a try-out**, and send the form; **Fill in for me** puts in what fits this class. "
            "Or use a plan file.",
            read(try_out_setup.BEGUN),
            fits,
        ),
        Step(
            "Press **Choose the channels**. For each purpose pick the room whose name fits, and press **Choose** "
            "beside it.",
            chose("Sign-up", "News", "Squads", "Office"),
        ),
        Step("Press **Open sign-up**, read what will be said, and press **Yes**.", pressed("Yes, open sign-up")),
    )


def _squad(room: TryRoom, me: str) -> tuple[Step, ...]:
    section = room.cast.students.get(me, "")
    return (
        Step(f"In the room **{SIGN_UP}** press **{sign_up.START}**.", pressed(sign_up.START)),
        Step(
            f"Give your squad a name, pick your section (you are in {section}), and send the form.",
            read("room of **", " - "),
        ),
        Step(f"Press **{sign_up.MINE}**: this is your own page.", pressed(sign_up.MINE)),
        Step(f"Let time pass: press {NEXT_THING} until a friend joins.", read("has joined", " - ")),
    )


def _judge(*_: object) -> tuple[Step, ...]:
    return (
        Step(f"In **{DIRECT_MESSAGES}** press the button **Next: …**", pressed(*score_sheets_and_close.ONWARD)),
        Step(
            "In the form of **Next: …** choose a level for each question. Send it, and **Go on** to its second part.",
            marked(1),
        ),
        Step(
            "**See their …** shows what the next squad has handed in. Mark it: **Next: …**, then **Go on**.", marked(2)
        ),
        Step("Mark a third squad: **Next: …**, then **Go on**.", marked(3)),
        Step("Changed your mind? Press **My sheets**: it lists them all.", pressed("My sheets")),
    )


def _table(room: TryRoom, _: str) -> tuple[Step, ...]:
    counted = _counted(room)
    what = f"**{counted}**" if counted else "something that is counted"
    saved, started = "Counted aloud", read("Started at ")
    return (
        Step(
            f"In **{SIGN_UP}** press **{sign_up.MINE}**: it knows that you keep the score. Then press **Table**.",
            either(pressed("Table"), typed("/table")),
        ),
        Step(
            f"Choose what is measured: {what}.",
            either(chose(score_table.MEASURES, what=counted[:LABEL]), pressed("Run pad")),
        ),
        Step("Choose the squad at the table.", chose(score_table.SQUADS)),
        Step("Press **Who is here**, take away who is not, and send.", read("Here: **")),
        Step("Press **Run pad**, then **Start the clock**.", either(pressed("Start the clock"), started)),
        Step(
            "The safety lines come first: press **Check the safety lines**, read them, and press **Checked by me**.",
            either(pressed("Checked by me"), started),
        ),
        Step("Press **Back to the pad**, and **Start the clock** once more.", started),
        Step("Press **+1 …** for each thing that counts (-1 takes one away).", pressed("+1 ")),
        Step(f"Press **Finish**, read it out, and press **{saved}, agreed: save**.", pressed(saved)),
        Step(
            "Press **Next: …**, and do the same for one more squad. Or type it: **Enter attempt …**, send the form, "
            "then **Save**.",
            either(pressed(saved, times=2), pressed("Save")),
        ),
    )


def _counted(room: TryRoom) -> str:
    """The first thing in the plan that is counted, as the table calls it; empty where nothing is."""
    for event in posted_plan(room).get("events", ()):
        for measure in event.get("measures", ()):
            if measure.get("kind", COUNT) == COUNT and not event.get("surprise"):
                name, own = str(event["name"]), str(measure.get("name", event["name"]))
                return name if name == own else f"{name}: {own}"
    return ""


def _announce(*_: object) -> tuple[Step, ...]:
    return (
        Step(
            f"In **{OFFICE}** type **/office**, and press Send: it says where the try-out stands.",
            either(typed("/office"), pressed("Judges", "Refresh")),
        ),
        Step("Press **Judges**, then **Close judging**, and once more to be sure.", read("Judging is closed.")),
        Step(
            "Press **See the standings**: who wins, by how much, and how sure that is.",
            either(pressed("See the standings", "Standings"), typed("/results")),
        ),
        Step("Press **Announce**, and read what the class will read.", read("This will be said")),
        Step("Press **Announce now**.", pressed("Announce now")),
    )


WAYS = (
    Way(
        "set-up",
        "Set up a try-out",
        "You are the coach, and nothing is there yet.",
        5,
        lambda _: COACH,
        lambda *_: True,
        _has_begun,
        _set_up,
        f"You have done it: sign-up is open. Now look how the squads come: {NEXT_THING}, or **Next morning**.",
    ),
    Way(
        "squad",
        "Found a squad",
        "You are a student. Sign-up is open, and your friends wait for you.",
        2,
        _captain,
        _sign_up_is_open,
        lambda room: room.others.deadline() is not None,
        _squad,
        "You have done it. Your squad has a room of its own: there it says who has joined.",
    ),
    Way(
        "judge",
        "Mark three squads",
        "You are a judge. You have score sheets. Only coaches can read who gave which mark, once judging is closed.",
        4,
        lambda room: room.cast.judges[0],
        _sheets_wait,
        _nothing_to_mark,
        _judge,
        "You have done it. Any sheet can be changed until judging is closed.",
    ),
    Way(
        "table",
        "Run the event day",
        "You keep the score at the table. Squads come with their robots, and you count.",
        4,
        lambda _: SCOREKEEPER,
        lambda room, _: room.others.event_day_has_come(),
        lambda room: room.others.table_is_done,
        _table,
        "You have done it. The other squads are counted as time passes.",
    ),
    Way(
        "coach",
        "Announce the result",
        "You are the coach. Everybody has marked and counted; the class waits.",
        6,
        lambda _: COACH,
        _all_in,
        _announced,
        _announce,
        f"You have done it. Look into **{NEWS}**: this is what everybody sees. Each squad reads its own result "
        "in its room. **The season so far**, under *More*, shows what each person saw.",
    ),
)


def find(key: str) -> Way:
    """The way of this key; raises `KeyError`."""
    return {way.key: way for way in WAYS}[key]
