"""Run sheets from paper: typed in twice by two people, compared before anything counts; the same day as on pads."""

from decimal import Decimal
from typing import Any

from bot.actions.scoring.score_book import score_book
from bot.rules.scoring.packet import packet_text
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.standings import standings
from storage.records.message import Form, Message, Open, RadioField, SelectField, TextField
from storage.records.plan import Event
from storage.records.plan_measures import Count, Item
from storage.tables import helpers
from tests.actions.conftest import COACH, Asking, Begin
from tests.actions.table_help import NAMES, add_judges, add_squads, at_squad, hand_in, labels, press, select, standing

KEEPER, TYPIST = 801, 802
SOCKS = "run.socks"
ITEMS = tuple(Item(key=f"i{number}", name=f"Kind {number}") for number in range(5))
FIVE_KINDS = Event(
    key="run", name="Sock run", weight=Decimal(1), measures=(Count(key="socks", name="Socks", items=ITEMS),)
)


async def at_the_table(begin: Begin, squads: int = 2, **changes: Any) -> Asking:
    asking = await begin("judging", **changes)
    await add_squads(asking, squads)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, KEEPER, "Mr Reed", "scorekeeper")
        await helpers.add_officer(db, tryout.id, TYPIST, "Ms Dale", "typist")
    return asking


async def opened(asking: Asking, who: int, about: str, squad: int) -> Message:
    """From the table, or a typist's own page, to one squad's sheet."""
    door = await asking.message("table.panel" if who == KEEPER else "paper.enter", who)
    measures = await press(
        asking, door, next(one for one in labels(door) if "heets" in one and "score" not in one), who=who
    )
    squads = await asking.message(select(measures).key, who, values=(about,))
    assert str(squad) in [choice.value for choice in select(squads).choices]
    return await asking.message(select(squads).key, who, values=(str(squad),))


async def form_of(asking: Asking, who: int, message: Message, label: str) -> Form:
    button = next(one for row in message.rows if isinstance(row, tuple) for one in row if one.label.startswith(label))
    answer = await asking.ask(button.key, who)
    assert isinstance(answer, Open), answer
    for field in answer.form.fields:
        if isinstance(field, TextField):
            assert field.value == "", "nothing stands in a form beforehand"
        elif isinstance(field, RadioField | SelectField):
            assert not any(choice.chosen for choice in field.choices)
    return answer.form


async def type_in(asking: Asking, who: int, squad: int, socks: str, off: str = "0", number: int = 1) -> Message:
    sheet = await opened(asking, who, SOCKS, squad)
    form = await form_of(asking, who, sheet, f"Type attempt {number} of 2")
    return await asking.message(form.key, who, fields={"item-sock": socks, "deductions": off})


async def test_an_attempt_counts_only_after_two_people_have_typed_it_in(begin: Begin) -> None:
    asking = await at_the_table(begin)
    once = await type_in(asking, KEEPER, 1, "7")
    assert "Typed in once" in once.text
    assert "7 socks" in once.text
    assert await standing(asking) == []
    saved = await type_in(asking, TYPIST, 1, "7")
    assert "on record" in saved.text
    assert await standing(asking) == ["1 run.socks 1"]
    assert labels(saved)[0] == "Type attempt 2 of 2"


async def test_nobody_types_the_same_attempt_in_twice_and_goes_on_with_the_next_one(begin: Begin) -> None:
    asking = await at_the_table(begin)
    once = await type_in(asking, KEEPER, 1, "7")
    second = await form_of(asking, KEEPER, once, "Type attempt 2 of 2")
    await asking.message(second.key, KEEPER, fields={"item-sock": "8", "deductions": "0"})
    sheet = await opened(asking, KEEPER, SOCKS, 1)
    assert "somebody else types what you have typed in once" in sheet.text
    assert [one for one in labels(sheet) if "attempt" in one] == []
    for key in ("run-sheet.form:run.socks:1:1", "run-sheet.typed:run.socks:1:1:2:0"):
        answer = await asking.message(key, KEEPER, fields={"item-sock": "7", "deductions": "0"})
        assert "Somebody else types it in the second time" in answer.text
    # The other one types both attempts in, one after the other.
    saved = await type_in(asking, TYPIST, 1, "7")
    form = await form_of(asking, TYPIST, saved, "Type attempt 2 of 2 again")
    await asking.message(form.key, TYPIST, fields={"item-sock": "8", "deductions": "0"})
    assert await standing(asking) == ["1 run.socks 1", "1 run.socks 2"]


async def test_differences_are_shown_before_anything_is_saved_and_settled_from_the_paper(begin: Begin) -> None:
    asking = await at_the_table(begin)
    await type_in(asking, KEEPER, 1, "7", "5")
    differ = await type_in(asking, COACH, 1, "1", "5")
    assert "Nothing is saved yet" in differ.text
    assert "- Sock: first 7, then 1" in differ.text
    assert "Points off" not in differ.text
    assert await standing(asking) == []
    # Whoever opens the sheet now is shown the difference.
    again = await asking.message("run-sheet.form:run.socks:1:1", TYPIST)
    assert "The two entries differ" in again.text
    form = await form_of(asking, TYPIST, differ, "Settle it")
    assert [field.label for field in form.fields] == ["Sock"]
    unread = await asking.message(form.key, TYPIST, fields={"item-sock": ""})
    assert "A blank is not a zero" in unread.text
    saved = await asking.message(form.key, TYPIST, fields={"item-sock": "7"})
    assert "Settled from the paper" in saved.text
    assert "7 socks x 10 - 5 = 65 points" in saved.text
    assert await standing(asking) == ["1 run.socks 1"]


async def test_both_entries_can_be_thrown_away(begin: Begin) -> None:
    asking = await at_the_table(begin)
    await type_in(asking, KEEPER, 1, "7")
    differ = await type_in(asking, TYPIST, 1, "1")
    begun = await press(asking, differ, "Type both again", who=KEEPER)
    form = await form_of(asking, KEEPER, begun, "Type it in")
    await asking.message(form.key, KEEPER, fields={"item-sock": "7", "deductions": "0"})
    assert "on record" in (await type_in(asking, TYPIST, 1, "7")).text


async def test_a_run_that_came_on_record_meanwhile_is_not_entered_again(begin: Begin) -> None:
    asking = await at_the_table(begin)
    await type_in(asking, KEEPER, 1, "7")
    form = await form_of(asking, TYPIST, await opened(asking, TYPIST, SOCKS, 1), "Type attempt 1 of 2 again")
    await asking.ask("table.save:run.socks:1:1:7:0")
    answer = await asking.message(form.key, TYPIST, fields={"item-sock": "7", "deductions": "0"})
    assert "has typed this in meanwhile" in answer.text
    assert await standing(asking) == ["1 run.socks 1"]


async def test_a_form_sent_twice_is_one_entry(begin: Begin) -> None:
    asking = await at_the_table(begin)
    form = await form_of(asking, KEEPER, await opened(asking, KEEPER, SOCKS, 1), "Type attempt 1 of 2")
    await asking.message(form.key, KEEPER, fields={"item-sock": "7", "deductions": "0"})
    answer = await asking.message(form.key, KEEPER, fields={"item-sock": "7", "deductions": "0"})
    assert "You typed this in the first time" in answer.text
    assert await standing(asking) == []


async def test_impossible_values_are_refused_at_once_and_leave_nothing(begin: Begin) -> None:
    asking = await at_the_table(begin)
    form = await form_of(asking, KEEPER, await opened(asking, KEEPER, SOCKS, 1), "Type attempt 1 of 2")
    assert "whole number" in (await asking.message(form.key, KEEPER, fields={"item-sock": "x", "deductions": "0"})).text
    assert "Type attempt 1 of 2" in labels(await opened(asking, TYPIST, SOCKS, 1))


async def test_who_was_here_is_typed_in_twice_too_and_nobody_means_absent(begin: Begin) -> None:
    asking = await at_the_table(begin)
    said = Message(text="-")
    for squad, here in ((1, "1 3"), (2, "")):
        for who in (KEEPER, TYPIST):
            form = await form_of(asking, who, await opened(asking, who, SOCKS, squad), "Type who was here")
            said = await asking.message(form.key, who, fields={"here": here})
        assert "on record" in said.text
    assert "Here: **2 of 3**" in (await asking.message("table.squad:run.socks:1")).text
    assert "Absent, which counts 0" in (await asking.message("table.squad:run.socks:2")).text
    measures = await asking.message("run-sheet.measures", KEEPER)
    assert [c.value for c in select(await asking.message(select(measures).key, KEEPER, values=(SOCKS,))).choices] == [
        "1"
    ]


async def test_two_ways_to_write_a_time_are_the_same_time(begin: Begin) -> None:
    asking = await at_the_table(begin)
    await asking.ask("surprise.start:chain")
    said = Message(text="-")
    for who, time in ((KEEPER, "1:32.4"), (TYPIST, "92.40")):
        form = await form_of(asking, who, await opened(asking, who, "chain.time", 1), "Type attempt 1 of 1")
        said = await asking.message(form.key, who, fields={"time": time, "faults": "2", "finished": "yes"})
    assert "on record" in said.text
    assert await standing(asking) == ["1 chain.time 1"]


async def test_with_five_kinds_of_items_points_off_have_a_form_of_their_own(begin: Begin) -> None:
    asking = await at_the_table(begin, events=(FIVE_KINDS,), tie_breaks=())
    said = Message(text="-")
    for who in (KEEPER, TYPIST):
        door = await asking.message("run-sheet.measures", who)
        squads = await asking.message(select(door).key, who, values=(SOCKS,))
        sheet = await asking.message(select(squads).key, who, values=("1",))
        form = await form_of(asking, who, sheet, "Type attempt 1 of 2")
        kept = await asking.message(form.key, who, fields={f"item-i{number}": "2" for number in range(5)})
        assert "Still to type: the points off" in kept.text
        form = await form_of(asking, who, kept, "Go on typing")
        said = await asking.message(form.key, who, fields={"deductions": "3"})
    assert "= 97 points" in said.text


async def test_half_an_entry_of_somebody_else_is_not_gone_on_with(begin: Begin) -> None:
    asking = await at_the_table(begin, events=(FIVE_KINDS,), tie_breaks=())
    forms = []
    for who in (KEEPER, TYPIST):
        squads = await asking.message("run-sheet.measure", who, values=(SOCKS,))
        sheet = await asking.message(select(squads).key, who, values=("1",))
        form = await form_of(asking, who, sheet, "Type attempt 1 of 2")
        forms.append([field.key for field in form.fields])
        await asking.message(form.key, who, fields={f"item-i{number}": "2" for number in range(5)})
    assert forms == [[f"item-i{number}" for number in range(5)]] * 2
    async with asking.store.read() as db:
        entries = await db.rows("SELECT entry, entered_by, fields_json FROM run_entry")
    assert [(row["entry"], row["entered_by"]) for row in entries] == [(1, TYPIST)]


async def test_a_sealed_surprise_is_on_no_list_of_run_sheets(begin: Begin) -> None:
    asking = await at_the_table(begin)
    measures = await asking.message("run-sheet.measures", KEEPER)
    assert "chain" not in measures.model_dump_json()
    for key in ("run-sheet.page:0:chain.time", "run-sheet.open:chain.time:1", "run-sheet.form:chain.time:1:1"):
        assert "no such measure" in (await asking.message(key, KEEPER)).text


async def packet(asking: Asking) -> str:
    """Everything that counts, and nothing of who did it or when."""
    async with asking.store.read() as db:
        book = await score_book(db, await asking.tryout())
    return packet_text(build(book, standings(book)))


RUNS = {1: ("3", "6"), 2: ("5", "4"), 3: None}
"""How many socks in each attempt; the third squad is not there."""
TIMES = {1: ("2:11.5", "1"), 2: ("1:58.25", "0"), 3: ("dnf", "0")}
MARKS = {1: (3, 2), 2: (1, 4), 3: (2, 2)}


async def _by_pads(asking: Asking, judges: list[int]) -> None:
    for squad, counts in RUNS.items():
        if counts is None:
            await asking.filled(f"table.absence:run.socks:{squad}", KEEPER, fields={"state": "absent", "reason": ""})
            continue
        for socks in counts:
            pad = await press(
                asking, await at_squad(asking, SOCKS, f"{squad} {NAMES[squad - 1]}"), "Run pad", who=KEEPER
            )
            pad = await press(asking, pad, "Start the clock", who=KEEPER)
            for _ in range(int(socks)):
                pad = await press(asking, pad, "+1 Sock", who=KEEPER)
            finished = await press(asking, pad, "Finish", who=KEEPER)
            await press(asking, finished, "Counted aloud, agreed: save", who=KEEPER)
    for squad, (time, faults) in TIMES.items():
        fields = {"time": "", "faults": faults, "finished": "no"} if time == "dnf" else {"time": time, "faults": faults}
        read = await asking.message(f"table.typed:chain.time:{squad}:1", KEEPER, fields=fields)
        await press(asking, read, "Save", who=KEEPER)
        await asking.ask(f"table.save:bunting.members:{squad}:1:2", KEEPER)
    for squad, marks in MARKS.items():
        for judge in judges:
            await hand_in(
                asking, judge, squad, "bunting", "bunting", dict(zip(("reasons", "theme"), marks, strict=True))
            )
            await hand_in(asking, judge, squad, "chain", "team", {"talk": marks[0]})


async def _on_paper(asking: Asking) -> None:
    """Every sheet of the day typed in by two people, as it lies on the pile."""
    for who in (KEEPER, TYPIST):
        for squad, counts in RUNS.items():
            if counts is None:
                form = await form_of(asking, who, await opened(asking, who, SOCKS, squad), "Type who was here")
                await asking.message(form.key, who, fields={"here": ""})
                continue
            for number, socks in enumerate(counts, start=1):
                await type_in(asking, who, squad, socks, number=number)
        for squad, (time, faults) in TIMES.items():
            form = await form_of(asking, who, await opened(asking, who, "chain.time", squad), "Type attempt 1 of 1")
            done = {"time": "", "finished": "no"} if time == "dnf" else {"time": time, "finished": "yes"}
            await asking.message(form.key, who, fields={"faults": faults, **done})
            form = await form_of(asking, who, await opened(asking, who, "bunting.members", squad), "Type members who")
            await asking.message(form.key, who, fields={"contributing": "2"})
    async with asking.store.read() as db:
        sheets = await db.rows("SELECT sheet.id, squad_id, event, number FROM sheet JOIN judge ON judge.id = judge_id")
    for who in (TYPIST, COACH):
        for sheet in sheets:
            marks = MARKS[sheet["squad_id"]]
            names = ("reasons", "theme") if sheet["event"] == "bunting" else ("talk",)
            fields = {f"level-{name}": str(mark) for name, mark in zip(names, marks, strict=False)}
            form = await asking.form("paper.entry", who, values=(str(sheet["id"]),))
            await asking.message(form.key, who, fields=fields)


async def test_a_whole_day_on_pads_and_the_same_day_typed_in_from_paper_give_the_same_packet(begin: Begin) -> None:
    asking = await at_the_table(begin, 3)
    judges = await add_judges(asking, 2)
    await asking.ask("judging.open:bunting")
    await asking.ask("surprise.start:chain")
    await _by_pads(asking, judges)
    on_pads = await packet(asking)
    async with asking.store.write() as db:
        for table in ("pad_tap", "pad_run", "attempt", "absence", "presence"):
            await db.run(f"DELETE FROM {table}")
        await db.run("UPDATE sheet SET state = 'open', marks_json = '{}'")
    assert await packet(asking) != on_pads
    await _on_paper(asking)
    assert await packet(asking) == on_pads
    left = await asking.message("day.left")
    assert "3 squads of 3 have everything" in left.text
