"""Squads, members and judges for the checks at the table and of the results."""

from datetime import timedelta
from typing import Any

from bot.actions.core.audit import append_entry
from bot.actions.judging.judges_admin import enrol
from bot.rules.judging.marks_fingerprint import marks_fingerprint
from bot.rules.squads.names import name_keys
from storage.records.message import Message, Select
from storage.tables import attempts, score_sheets, squads, students
from tests.actions.conftest import START, Asking, button

NAMES = ("Crooked Spoons", "Muddy Teapots", "Sleepy Turnips", "Drowsy Buttons", "Round Rulers", "Inky Sandals")


async def add_squads(asking: Asking, count: int, members: int = 3) -> list[int]:
    """Enter squads with members; their ids."""
    made = []
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        for number in range(1, count + 1):
            name = NAMES[number - 1] if number <= len(NAMES) else f"Squad number {number}"
            squad_id = await squads.add_squad(
                db, tryout.id, name, name_keys(name), "7-A", f"CODE{number}", START + timedelta(seconds=number)
            )
            for place in range(members):
                who = 10_000 + number * 100 + place
                student_id = await students.enter_student(db, tryout.id, who, f"Student {who}", "7-A")
                student = await students.student(db, student_id)
                assert student is not None
                await students.seat(db, student, squad_id, START)
                if place == 0:
                    await squads.set_captain(db, squad_id, student_id)
            made.append(squad_id)
    return made


async def add_judges(asking: Asking, count: int) -> list[int]:
    """Enrol judges with the accounts 201, 202 and so on; their ids."""
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        return [await enrol(db, tryout.id, 200 + number, f"Judge {number}") for number in range(1, count + 1)]


async def hand_in(
    asking: Asking, judge_id: int, squad_id: int, event: str, measure: str, marks: dict[str, int]
) -> None:
    """One judge's whole sheet for a squad; no marks leave it open."""
    tryout_id = (await asking.tryout()).id
    async with asking.store.write() as db:
        await score_sheets.add_sheets(db, [(judge_id, squad_id, event, measure, 1)])
        for sheet in await score_sheets.sheets_of(db, judge_id):
            if marks and (sheet.squad_id, sheet.event, sheet.measure) == (squad_id, event, measure):
                version = await score_sheets.save_sheet(db, sheet, "submitted", marks, {}, asking.now)
                details = {"sheet": sheet.id, "version": version, "seal": marks_fingerprint(sheet.id, version, marks)}
                await append_entry(db, tryout_id, asking.now, "clock", "sheet.save", details)


async def press(asking: Asking, message: Message, label: str, **more: Any) -> Message:
    return await asking.message(button(message, label).key, **more)


def labels(message: Message) -> list[str]:
    return [part.label for row in message.rows if isinstance(row, tuple) for part in row]


def select(message: Message) -> Select:
    return next(row for row in message.rows if isinstance(row, Select))


async def at_squad(asking: Asking, measure: str, squad: str) -> Message:
    """From the command to a squad's live message, as a scorekeeper does it."""
    panel = await asking.message("table.panel")
    squads = await asking.message(select(panel).key, values=(measure,))
    chosen = next(choice for choice in select(squads).choices if choice.label == squad)
    return await asking.message(select(squads).key, values=(chosen.value,))


async def enter(asking: Asking, card: Message, label: str, **fields: str) -> Message:
    form = await asking.form(button(card, label).key)
    return await asking.message(form.key, fields=fields)


async def standing(asking: Asking) -> list[str]:
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        made = await attempts.attempts(db, tryout.id)
    return [f"{one.squad_id} {one.event}.{one.measure} {'r' * one.run_off}{one.number}" for one in made]
