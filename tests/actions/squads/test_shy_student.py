"""A shy student without a phone and a squad on day 0 ends up on the team list; the coach types nothing twice."""

import io
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import openpyxl
from pypdf import PdfReader

from storage.records.message import Form, Message, Select, SelectField, TextField
from storage.records.request import Upload
from storage.tables import score_sheets
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.hand_in_cast import BRIEF, DEADLINE, handing_in
from tests.actions.office_cast import make_squad, until
from tests.actions.practice_cast import PRACTICE
from tests.actions.table_help import add_judges, at_squad

SHY = "Nell Q"
CLASS = f"name,section\n{SHY},7-A\nAnsel Q,7-A\nBea Q,7-A\n".encode()
SPOKEN = "I sewed the hem of the bunting twice, so that it holds in the wind."


@dataclass
class Coach:
    """The coach's hand: presses what is on the screen, and remembers every word that had to be typed."""

    asking: Asking
    typed: list[str] = field(default_factory=list)
    presses: int = 0

    async def open(self, key: str, **more: object) -> Message:
        """A command, or a message that has come."""
        return await self.asking.message(key, COACH, **more)

    async def press(self, shown: Message, *labels: str) -> Message:
        """Press one button after another."""
        for label in labels:
            shown = await self.asking.message(button(shown, label).key, COACH)
            self.presses += 1
        return shown

    async def choose(self, shown: Message, prompt: str, *labels: str) -> Message:
        """Pick from a list by what it says."""
        menu = next(row for row in shown.rows if isinstance(row, Select) and row.prompt == prompt)
        values = tuple(next(one.value for one in menu.choices if label in one.label) for label in labels)
        self.presses += 1
        return await self.asking.message(menu.key, COACH, values=values)

    async def fill(self, shown: Message, label: str, **fields: str) -> Message:
        """Open a form and send it: what is not given stays as it was filled in."""
        return await self.send(await self.asking.form(button(shown, label).key, COACH), **fields)

    async def send(self, form: Form, **fields: str) -> Message:
        """Send a form that is open: what is not given stays as it was filled in."""
        sent = {}
        for one in form.fields:
            if isinstance(one, TextField):
                sent[one.key] = fields.get(one.key, one.value)
                if sent[one.key] != one.value:
                    self.typed.append(sent[one.key])
            elif isinstance(one, SelectField):
                chosen = [choice.value for choice in one.choices if choice.chosen]
                sent[one.key] = fields.get(one.key, "\n".join(chosen))
        self.presses += 2
        return await self.asking.message(form.key, COACH, fields=sent)


def on_paper(message: Message) -> str:
    reader = PdfReader(io.BytesIO(message.files[0].data))
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


async def day_0(begin: Begin) -> Coach:
    """Sign-up is open; others have found each other on their phones; the class list is attached."""
    asking = await begin("drafting", practice=PRACTICE, **handing_in())
    await asking.confirm("signup.open")
    await make_squad(asking, 1, 3, "Crooked Spoons")
    await add_judges(asking, 2)
    form = await asking.form("class-list.file")
    await asking.ask(form.key, uploads={"list": Upload(name="class.csv", data=CLASS, size=len(CLASS))})
    return Coach(asking)


async def into_a_squad(coach: Coach) -> None:
    """From the list to a proposed squad of three, in presses alone."""
    panel = await coach.press(await coach.open("people.panel"), "Class list", "Not signed up yet")
    await coach.choose(panel, "Enter these students", SHY, "Ansel Q", "Bea Q")
    proposed = await coach.press(await coach.open("people.panel"), "Propose squads", "Look for squads")
    assert SHY in proposed.text
    done = await coach.press(proposed, "Accept: students may answer")
    assert "Everybody of the proposal has a squad now" in done.text


async def squad_page(coach: Coach) -> Message:
    return await coach.choose(await coach.press(await coach.open("people.panel"), "Squads"), "Pick a squad", "Teapots")


async def window(coach: Coach) -> None:
    """The brief on paper, a turn at the table, and the part that the student has told."""
    listed = await coach.press(await coach.open("people.panel"), "Squads")
    page = await coach.choose(listed, "Pick a squad", "New squad 1")
    page = await coach.fill(page, "Rename", squad="Muddy Teapots")
    paper = on_paper(await coach.press(page, "Brief and notices on paper"))
    assert SHY in paper and "Build a robot that brings socks" in paper
    turns = await coach.press(await coach.open("office"), "Practice")
    menu = next(row for row in turns.rows if isinstance(row, Select))
    listed = await coach.press(await coach.choose(turns, menu.prompt, menu.choices[2].label), "Book for a squad")
    assert "Booked" in (await coach.choose(listed, "Pick a squad", "Muddy Teapots")).text
    student = await coach.choose(await squad_page(coach), "Open a member", SHY)
    part = await coach.press(student, "Part of the hand-in")
    assert SHY in (await coach.fill(part, "Enter the part", why=SPOKEN)).text


async def events(coach: Coach) -> None:
    """The event days: who is here is ticked, runs are recorded, judges hand in, and the result is announced."""
    asking = coach.asking
    await asking.ask("surprise.start:chain")
    card = await at_squad(asking, "run.socks", "2 Muddy Teapots")
    form = await asking.form(button(card, "Who is here").key)
    assert isinstance(form.fields[0], SelectField) and SHY in [one.label for one in form.fields[0].choices]
    await coach.fill(card, "Who is here")
    for squad in (1, 2):
        await asking.ask(f"table.save:run.socks:{squad}:1:{5 + squad}:0")
        await asking.ask(f"table.save:chain.time:{squad}:1:{100 - squad}:0")
        await asking.ask(f"table.save:bunting.members:{squad}:1:3")
    async with asking.store.write() as db:
        for sheet in await score_sheets.sheets(db, 1):
            marks = {"talk": 3} if sheet.event == "chain" else {"reasons": 3, "theme": 2}
            await score_sheets.save_sheet(db, sheet, "submitted", marks, {}, asking.now)
    await coach.press(await coach.open("judging.close"), "Close judging")
    await coach.press(await coach.open("results.announce"), "Announce now")


async def team(coach: Coach) -> None:
    """A place is offered, the coach says yes for the student, and after the days for protests it is sure."""
    page = await coach.press(await coach.open("office"), "Records", "Team of several squads")
    menu = next(row for row in page.rows if isinstance(row, Select) and row.prompt == "Offer a place")
    values = tuple(one.value for one in menu.choices if SHY in one.label)
    page = await coach.send(await coach.asking.form(menu.key, COACH, values=values))
    page = await coach.choose(page, "Note an answer, or take an offer back", SHY)
    page = await coach.press(page, "The answer is yes")
    assert f"Said yes (1): {SHY}" in page.text
    await until(coach.asking, coach.asking.now + timedelta(days=5))
    page = await coach.press(await coach.open("office"), "Records", "Team of several squads")
    assert f"In the team (1): {SHY} (Muddy Teapots)" in page.text and "The result is final." in page.text
    assert f"**{SHY}** has a place in the team" in on_paper(
        await coach.press(await squad_page(coach), "Brief and notices on paper")
    ).replace(SHY, f"**{SHY}**")


async def test_from_the_class_list_to_the_team_and_nothing_is_typed_twice(begin: Begin) -> None:
    coach = await day_0(begin)
    await into_a_squad(coach)
    await until(coach.asking, BRIEF)
    await window(coach)
    await until(coach.asking, DEADLINE)
    await events(coach)
    await team(coach)
    records = await coach.press(await coach.open("office"), "Records")
    certificates = on_paper(await coach.press(records, "Certificates"))
    assert SHY in certificates and "took part with the squad Muddy Teapots" in certificates
    book = openpyxl.load_workbook(io.BytesIO((await coach.press(records, "Spreadsheet")).files[0].data))
    assert any(SHY in [cell.value for cell in row] for row in book["Roster"].iter_rows())
    assert SHY not in on_paper(await coach.press(records, "One page without names"))
    assert sorted(coach.typed) == sorted(["Muddy Teapots", SPOKEN]), "a name for the squad, and what the student said"
    assert coach.asking.now > datetime(2027, 1, 21, tzinfo=UTC)
