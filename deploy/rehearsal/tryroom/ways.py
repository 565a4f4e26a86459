"""The guided ways: who you are, when it begins, and what to press; each step is ticked off by what was done."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta

from deploy.rehearsal.cast import judging, score_table, sign_up, try_out_setup
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER
from deploy.rehearsal.cast.stage import NEWS, OFFICE, SIGN_UP
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import DIRECT_MESSAGES

LONGEST = timedelta(days=90)
Ticked = Callable[[Sequence[Entry], str], bool]
"""Whether a step is done, by what happened since the way was begun, and by whose way it is."""


@dataclass(frozen=True)
class Step:
    """One thing to do, in words, and how it is recognised."""

    text: str
    ticked: Ticked


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
    steps: tuple[Step, ...]


def pressed(*labels: str, times: int = 1) -> Ticked:
    """A button whose label begins so was pressed, so many times."""
    return lambda entries, me: sum(_did(one, me, "press", "label", labels) for one in entries) >= times


def chose(*selects: str) -> Ticked:
    """Something was chosen from a list whose name begins so."""
    return lambda entries, me: any(_did(one, me, "choice", "select", selects) for one in entries)


def typed(*lines: str) -> Ticked:
    """A command that begins so was typed."""
    return lambda entries, me: any(_did(one, me, "command", "line", lines) for one in entries)


def sent(*titles: str) -> Ticked:
    """A form whose title begins so was sent."""
    return lambda entries, me: any(_did(one, me, "form sent", "title", titles) for one in entries)


def marked(squads: int) -> Ticked:
    """Score sheets of so many squads were sent."""

    def ticked(entries: Sequence[Entry], me: str) -> bool:
        titles = {one.body["title"] for one in entries if one.who == me and one.kind == "form sent"}
        return len({str(title).split(" - ", 1)[0] for title in titles if " - " in str(title)}) >= squads

    return ticked


def read(text: str, room: str = "") -> Ticked:
    """Something with this text came to this person, in a room whose name has `room` in it."""

    def ticked(entries: Sequence[Entry], me: str) -> bool:
        return any(
            me in one.seen_by and room in one.room and any(text in str(b.get("text", "")) for b in one.body["blocks"])
            for one in entries
            if one.who != me and "blocks" in one.body
        )

    return ticked


def either(*ways: Ticked) -> Ticked:
    """One of several ways to do the same."""
    return lambda entries, me: any(way(entries, me) for way in ways)


def _did(entry: Entry, me: str, kind: str, key: str, wanted: tuple[str, ...]) -> bool:
    return entry.who == me and entry.kind == kind and str(entry.body[key]).startswith(wanted)


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
        return any(label.startswith(judging.ONWARD) for label in judging.desk(room.stage, me).labels)
    return False


def _all_in(room: TryRoom, _: str) -> bool:
    return room.others.event_day_has_come() and room.others.everything_is_in()


def _has_begun(room: TryRoom) -> bool:
    return any(shown.author != COACH for shown in Phone(room.server, COACH).see(NEWS))


def _announced(room: TryRoom) -> bool:
    return room.others.said(NEWS, "the result") or "closed" in room.others.done


WAYS = (
    Way(
        "squad",
        "Found a squad",
        "You are a student. Sign-up is open, and your friends wait for you.",
        2,
        _captain,
        _sign_up_is_open,
        lambda room: room.others.deadline() is not None,
        (
            Step(f"Open the room **{SIGN_UP}** and press **{sign_up.START}**.", pressed(sign_up.START)),
            Step(
                "Give your squad a name, pick your section, **{section}**, and send the form.",
                read("room of **", " - "),
            ),
            Step(f"Press **{sign_up.MINE}**: this is your own page.", pressed(sign_up.MINE)),
            Step("Let time pass: press **To the next thing** until a friend joins.", read("has joined", " - ")),
        ),
    ),
    Way(
        "judge",
        "Mark three squads",
        "You are a judge. You have score sheets. Only the coach can read who gave which mark, once judging is closed.",
        4,
        lambda room: room.cast.judges[0],
        _sheets_wait,
        lambda room: "closed" in room.others.done,
        (
            Step(f"Open **{DIRECT_MESSAGES}** and press the button **Next: …**", pressed(*judging.ONWARD)),
            Step("Choose a level for each question, and send the form.", marked(1)),
            Step("Mark a second squad.", marked(2)),
            Step("Mark a third one.", marked(3)),
            Step("Changed your mind? **My sheets** lists them all.", pressed("My sheets")),
        ),
    ),
    Way(
        "table",
        "Run the event day",
        "You keep the score at the table. Squads come with their robots, and you count.",
        4,
        lambda _: SCOREKEEPER,
        lambda room, _: room.others.event_day_has_come(),
        lambda room: "table" in room.others.done,
        (
            Step("Type **/my-squad** in any room, and press **Table**.", pressed("Table")),
            Step("Choose what is measured.", chose(score_table.MEASURES)),
            Step("Choose the squad at the table.", chose(score_table.SQUADS)),
            Step("Press **Who is here**, take away who is not, and send.", pressed("Who is here")),
            Step(
                "Press **Run pad**, then **Start the clock**. If you are asked, check the safety lines, and start.",
                pressed("Start the clock"),
            ),
            Step("Press **+1 …** for each thing that is in the basket; **-1** takes one away.", pressed("+1 ")),
            Step("Press **Finish**, read it out, and press **Counted aloud, agreed: save**.", pressed("Counted aloud")),
            Step(
                "Do the same for one more squad. Or type it: **Enter attempt …**, then **Save**.",
                either(pressed("Counted aloud", times=2), pressed("Save")),
            ),
        ),
    ),
    Way(
        "coach",
        "Announce the result",
        "You are the coach. Everybody has marked and counted; the class waits.",
        6,
        lambda _: COACH,
        _all_in,
        _announced,
        (
            Step(f"In **{OFFICE}** type **/office**: it says where the try-out stands.", typed("/office")),
            Step("Press **Judges**, then **Close judging**, and once more to be sure.", read("Judging is closed.")),
            Step(
                "Press **See the standings**: who wins, by how much, and how sure that is.",
                either(pressed("See the standings", "Standings"), typed("/results")),
            ),
            Step("Press **Announce**, and read what the class will read.", read("This will be said")),
            Step("Press **Announce now**.", pressed("Announce now")),
            Step(f"Look into **{NEWS}**: this is what everybody sees.", read("the result", NEWS)),
        ),
    ),
    Way(
        "set-up",
        "Set up a try-out",
        "You are the coach, and nothing is there yet.",
        5,
        lambda _: COACH,
        lambda *_: True,
        _has_begun,
        (
            Step(f"In **{OFFICE}** type **/office**.", typed("/office")),
            Step(
                "Press **Begin a try-out** and fill in the form: {example}. Or use a plan file.",
                either(sent("Begin"), read(try_out_setup.BEGUN)),
            ),
            Step("Press **Choose the channels** and pick the four rooms.", chose("Office")),
            Step("Press **Open sign-up**, read what will be said, and press yes.", pressed("Yes, open sign-up")),
        ),
    ),
)


def _example(room: TryRoom) -> str:
    """What fits the made-up class in the form that begins a try-out."""
    asked = room.script
    return f"{asked.brief:%Y-%m-%d}, {asked.brief:%H:%M}, {asked.zone}, {', '.join(asked.sections)}"


def find(key: str) -> Way:
    """The way of this key; raises `KeyError`."""
    return {way.key: way for way in WAYS}[key]


def shown_ways(room: TryRoom) -> list[Json]:
    """All ways, with whether they can still be begun."""
    return [
        {"key": way.key, "title": way.title, "what": way.what, "minutes": way.minutes, "past": way.past(room)}
        for way in WAYS
    ]


def shown_way(room: TryRoom, name: str) -> Json | None:
    """The way somebody is on, with what is done of it."""
    begun = room.way.get(name)
    if begun is None:
        return None
    way = find(str(begun["key"]))
    entries = room.server.transcript.since(int(begun["from"]))
    ticks = [step.ticked(entries, name) for step in way.steps]
    skipped = int(begun.get("skipped", 0))
    steps = [
        {
            "text": step.text.format(example=_example(room), section=room.cast.students.get(name, "")),
            "done": tick,
            "skipped": not tick and number < skipped,
        }
        for number, (step, tick) in enumerate(zip(way.steps, ticks, strict=True))
    ]
    return {"key": way.key, "title": way.title, "steps": steps}


async def begin(room: TryRoom, key: str) -> str:
    """Let the season come to where a way begins, with everybody played by the cast; returns who you are on it."""
    way = find(key)
    if way.past(room):
        raise CastMistake("The season has gone past that. Begin a new season to walk this way.")
    if way.key == "set-up":
        name = COACH
    else:
        name = way.who(room)
        room.cast_plays_all = True
        try:
            until = room.server.clock.now + LONGEST
            await room.pass_time(
                until, f"To where “{way.title}” begins …", lambda _: way.ready(room, name) or way.past(room)
            )
        finally:
            room.cast_plays_all = False
        name = way.who(room)
        if not way.ready(room, name):
            raise CastMistake("The season did not come to where this way begins; look who waits for what.")
    room.way[name] = {"key": key, "from": len(room.server.transcript.entries)}
    room.changed()
    return name


def skip(room: TryRoom, name: str) -> None:
    """Skip the first step that is not done."""
    shown = shown_way(room, name)
    if shown is not None:
        steps = shown["steps"]
        room.way[name]["skipped"] = 1 + next(
            (number for number, step in enumerate(steps) if not step["done"] and not step["skipped"]), len(steps) - 1
        )
        room.changed()


def leave(room: TryRoom, name: str) -> None:
    """Leave the way."""
    room.way.pop(name, None)
    room.changed()
