"""The hand-in: members add parts over the days, a few only after the last reminder, and one squad stays incomplete."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from functools import partial
from io import BytesIO
from random import Random

from PIL import Image

from deploy.rehearsal.cast.brief_and_build_days import sleeps, squad_room
from deploy.rehearsal.cast.drawings import drawing
from deploy.rehearsal.cast.people import Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office, walk
from deploy.rehearsal.cast.score_sheets_and_close import my_sheets
from deploy.rehearsal.cast.stage import NEWS, Stage, awaited
from deploy.rehearsal.cast.students_admin import a_student
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome

ADD = re.compile("(Add|Change) my part")
WHY, PHOTO = "What did you make, and why?", "A photo of it"
SEE_PARTS = "See our parts"
THANKS, NOT_KEPT, NOT_HERE = "Thank you, your part is in", "not the photo", "squads hand in nothing"
NO_SQUAD = "not in a squad"
WITH_PICTURE, WITH_DRAWING = 0.35, 0.5
"""The share of parts that come with a picture; and where students are played an hour at a time."""
BY_COMMAND, FORGETFUL = 0.25, 0.1
"""The share of parts that come by the command; of members who hand in after the last reminder only."""
DAYS = 8
"""The parts come on so many days, counted from the brief."""
BEFORE_DEADLINE = timedelta(minutes=50)
"""When those act who have waited for the last reminder."""
SORRY = 2
"""The day on which somebody deletes the own part."""
ALONE = 5
"""The day on which those hand in who came alone and found a squad."""
LAST_DAY = timedelta(hours=24)
_THINGS = (
    "The flag with the robot",
    "The flag with three red socks",
    "The flag with the basket",
    "The flag with our names in a ring",
    "The striped flag at the end",
    "The flag with the little mole in goggles",
    "The flag with the wheel",
    "The flag in block letters",
    "The blue flag",
    "The flag with a gripper that holds a sock",
)
_REASONS = (
    "because our robot carries one sock a trip",
    "because there are three of us who drive",
    "because we go out ten times and always come back to the basket",
    "because we tried five wheels before one held",
    "because everyone in the squad wanted to be on it",
    "because it is what people see first when they come in",
    "because the first draft had nothing about the run",
)


class HandIn:
    """What the members of all squads hand in over the days of the window."""

    def __init__(self, stage: Stage, cast: Cast) -> None:
        self._stage = stage
        members = [(name, group.name) for group in cast.groups for name in group.people]
        self._missing = {cast.groups[-1].people[-1]}
        """Never gets round to it."""
        self._forgetful = [(name, squad) for name, squad in members if self._chance(name).random() < FORGETFUL]
        self._day_of = {
            (name, squad): self._chance(name, "day").randrange(DAYS)
            for name, squad in members
            if name not in self._missing and (name, squad) not in self._forgetful
        }
        self._alone = list(cast.lonely)
        """Came alone, and was placed in a squad or not."""
        self._strange = cast.groups[0].people[0]
        """Sends a kind of file first that nobody can open."""
        self._sorry = False
        """Whether somebody has deleted a part."""

    async def day(self, number: int) -> None:
        """What happens on one day, from 0; on the last one also what happens after the last reminder."""
        if number == 0 and not await self._is_wanted():
            self._day_of.clear()
            self._forgetful.clear()
        for name, squad in [who for who, day in self._day_of.items() if day == number]:
            await self._stage.wait(minutes=self._stage.random.randint(2, 20))
            await self.add(name, squad)
            if number == SORRY and not (self._sorry or self._stage.rough):
                self._sorry = True
                await self._delete(name)
                await self.add(name, squad)
        if number == ALONE and self._day_of:
            for name in self._alone:
                await self.add(name)
        deadline = datetime.fromisoformat(self._stage.facts["deadline"])
        if deadline - self._stage.now > LAST_DAY:
            return
        late, self._forgetful = self._forgetful, []
        if late:
            await self._stage.until(deadline - BEFORE_DEADLINE)
        for name, squad in late:
            if name not in self._missing:
                await self.add(name, squad)

    async def _delete(self, name: str) -> None:
        """Somebody deletes the own part, and makes it anew."""
        shown = await self._parts(name)
        await walk(self._stage, name, shown, "Delete my part", "Yes, delete it")

    def _chance(self, *about: object) -> Random:
        return self._stage.chance("hand-in", *about)

    async def _is_wanted(self) -> bool:
        """Whether squads hand in anything in this try-out."""
        return NOT_HERE not in (await self._parts(next(iter(self._day_of))[0])).text

    async def _parts(self, name: str) -> Outcome:
        """What somebody sees of the parts of the own squad."""
        phone = self._stage.phone(name)
        page = (await self._stage.do(lambda: phone.command("/my-squad", room=NEWS))).shown()
        return await self._stage.do(lambda: phone.press(page, SEE_PARTS))

    async def add(self, name: str, squad: str = "") -> None:
        """Add a part: by the button in the squad's room, or by the command, which needs no room."""
        chance = self._chance(name, "part")
        text = _sentence(chance)
        photo = drawing(chance) if chance.random() < WITH_PICTURE or name == self._strange else None
        if (
            not squad
            or sleeps(self._stage.phone(name), squad)
            or (chance.random() < BY_COMMAND and name != self._strange)
        ):
            outcome = await self._by_command(name, text, photo)
        else:
            if name == self._strange:
                strange = await self._by_form(name, squad, text, ("IMG_0142.HEIC", b"\0\0\0\x18ftypheic" + bytes(64)))
                if NOT_KEPT not in strange.text and not self._stage.rough:
                    raise CastMistake(f"{name} was told {strange.text!r}")
            outcome = await self._by_form(name, squad, text, photo)
        if THANKS in outcome.text:
            self._stage.acknowledged += 1
            kept = None if photo is None or NOT_KEPT in outcome.text else photo[1]
            self._stage.remember(name, f"the part of {name}", partial(self._holds, name, text, kept))
        elif not self._stage.rough and NO_SQUAD not in outcome.text:
            raise CastMistake(f"{name} was told {outcome.text!r}")

    async def _by_form(self, name: str, squad: str, text: str, photo: tuple[str, bytes] | None) -> Outcome:
        phone = self._stage.phone(name)
        card = partial(phone.with_button, squad_room(phone, squad), ADD)
        form = (await self._stage.do(lambda: phone.press(card(), ADD))).opened()
        values = {WHY: text} | ({PHOTO: photo} if photo else {})
        return await self._stage.do(lambda: phone.fill(form, values))

    async def _by_command(self, name: str, text: str, photo: tuple[str, bytes] | None) -> Outcome:
        phone, options = self._stage.phone(name), {"why": text} | ({"photo": photo} if photo else {})
        return await self._stage.do(lambda: phone.command("/hand-in", options, room=NEWS))

    async def _holds(self, name: str, text: str, photo: bytes | None) -> bool:
        """Whether the words are there, and the photo if one was kept: drawn anew, it looks the same dot for dot."""
        seen = await self._parts(name)
        if photo is None or text not in seen.text:
            return text in seen.text
        own = f"Photo of the part of {name}"
        files = [file for file in seen.shown().files if file.description == own]
        return [_dots(file.data) for file in files] == [_dots(photo)]


def part_text(stage: Stage, name: str) -> str:
    """What a student has made, and why, in the student's own words."""
    return _sentence(stage.chance("hand-in", name, "part"))


def _sentence(chance: Random) -> str:
    return f"{chance.choice(_THINGS)}, {chance.choice(_REASONS)}."


async def add_part(stage: Stage, name: str, room: str) -> Outcome:
    """Add one's part in the squad's room by the form, perhaps with a drawing."""
    chance, phone = stage.chance("hand-in", name, "part"), stage.phone(name)
    text = _sentence(chance)
    opened = await stage.do(lambda: phone.press(phone.with_button(room, ADD), ADD))
    if opened.form is None and opened.message is not None and opened.message.labels:
        # There is more than one piece: one after the other.
        piece = chance.choice(opened.message.labels)
        opened = await stage.do(partial(phone.press, opened.message, piece))
    form = opened.opened()
    values = {form.fields[0].label: text} | ({PHOTO: drawing(chance)} if chance.random() < WITH_DRAWING else {})
    return await stage.do(partial(phone.fill, form, values))


async def judges_read(stage: Stage, cast: Cast) -> None:
    """Two judges read what a squad has handed in before they mark it."""
    for name in cast.judges[:2]:
        shown = await awaited(stage, partial(my_sheets, stage, name))
        label = next((label for label in shown.labels if label.startswith("See their ")), None)
        if label is not None:
            read = await stage.do(partial(stage.phone(name).press, shown, label))
            if " in" not in read.text and not stage.rough:
                raise CastMistake(f"{name} read {read.text!r}")


def _dots(picture: bytes) -> tuple[tuple[int, int], bytes]:
    """What a picture looks like: its size and its dots."""
    with Image.open(BytesIO(picture)) as image:
        return image.size, image.convert("RGB").tobytes()


async def dictated_part(stage: Stage, cast: Cast) -> None:
    """The coach hands in for a student, reads all parts of the squad, and takes it out: the student does it alone."""
    name = cast.groups[1].people[-1]
    values = {"What is": "The flag with the bucket, because it was dictated to me."}
    await a_student(stage, name, "Part of the hand-in", "Enter the part", values, "See the part")
    await a_student(stage, name, "Part of the hand-in", "All parts")
    await a_student(stage, name, "Part of the hand-in", "Take it out", "Yes, take it out")


async def more_time(stage: Stage, cast: Cast) -> None:
    """The coach begins to give a squad more time, and sees that the moment is no later than the deadline."""
    squad = Pick("Pick a squad", (cast.groups[0].name,))
    typed = {"Until": "2027-01-12 08:00", "Why": "Two were ill"}
    await in_office(stage, "People", "Squads", squad, "More time", typed)
