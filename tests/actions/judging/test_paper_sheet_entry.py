"""Score sheets from paper: they count once two people have typed in the same."""

from storage.records.message import Message, RadioField
from storage.tables import helpers
from tests.actions.conftest import COACH, Begin, button
from tests.actions.judging_cast import ADA, BEN, Cast, cast, long_rubric, squad_called
from tests.actions.table_help import labels, select

HELPER = 150
WHOLE = {"reasons": 3, "theme": 2}


async def opened(begin: Begin) -> Cast:
    found = await cast(begin)
    await found.open()
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, HELPER, "Helper", "typist")
    return found


async def pick(found: Cast, who: int, judge: int, squad: str) -> str:
    """Choose whose sheet is typed in, and return the value of the squad's sheet."""
    judges = await found.asking.message("paper.enter", who)
    chosen = str((await found.judge(judge)).id)
    squads = await found.asking.message(select(judges).key, who, values=(chosen,))
    [choice] = [one for one in select(squads).choices if squad in one.label]
    return choice.value


async def type_in(found: Cast, who: int, judge: int, squad: str, levels: dict[str, int], comment: str = "") -> Message:
    sheet = await pick(found, who, judge, squad)
    form = await found.asking.form("paper.entry", who, values=(sheet,))
    assert not any(choice.chosen for field in form.fields if isinstance(field, RadioField) for choice in field.choices)
    return await found.submit_here(who, form, levels, comment)


async def test_a_paper_sheet_counts_only_after_it_was_typed_in_twice(begin: Begin) -> None:
    found = await opened(begin)
    first = await type_in(found, HELPER, ADA, "Crooked Spoons", WHOLE, "Say why it is red.")
    assert "Typed in once: Judge 201, squad 1, **Crooked Spoons**" in first.text
    assert "somebody else has typed it in" in first.text and labels(first) == ["Next paper sheet"]
    assert (await found.sheet(ADA, "Crooked Spoons")).state == "open"
    second = await type_in(found, COACH, ADA, "Crooked Spoons", WHOLE)
    assert "Both entries agree." in second.text
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert (sheet.state, sheet.marks, sheet.comments) == ("submitted", WHOLE, {"sheet": "Say why it is red."})


async def test_the_judge_and_the_office_are_told_of_a_sheet_that_was_typed_in(begin: Begin) -> None:
    found = await opened(begin)
    await type_in(found, HELPER, ADA, "Crooked Spoons", WHOLE)
    await type_in(found, COACH, ADA, "Crooked Spoons", WHOLE)
    ada = await found.judge(ADA)
    assert "If it is not yours, tell your coach" in (await found.asking.messages_to(f"judge/{ada.id}"))[-1]
    assert "was typed in by two people" in (await found.asking.messages_to("office"))[-1]


async def test_nobody_types_the_same_sheet_in_twice(begin: Begin) -> None:
    found = await opened(begin)
    await type_in(found, HELPER, ADA, "Crooked Spoons", WHOLE)
    sheet = (await found.sheet(ADA, "Crooked Spoons")).id
    again = await found.asking.message("paper.entry", HELPER, values=(str(sheet),))
    assert "Somebody else types it in the second time" in again.text
    forged = {f"level-{key}": str(level) for key, level in WHOLE.items()}
    answer = await found.asking.message(f"paper.save:{sheet}:2:0:1", HELPER, fields=forged)
    assert "Somebody else types it in the second time" in answer.text
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {}


async def test_differences_are_shown_before_anything_is_saved_and_settled_from_the_paper(begin: Begin) -> None:
    found = await opened(begin)
    await type_in(found, HELPER, ADA, "Crooked Spoons", {"reasons": 3, "theme": 2})
    differ = await type_in(found, COACH, ADA, "Crooked Spoons", {"reasons": 3, "theme": 4})
    assert "Nothing is saved yet." in differ.text
    assert "- Fits the theme: first 2, then 4" in differ.text
    assert "Written reasons" not in differ.text
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {}
    form = await found.asking.form(button(differ, "Settle it").key)
    assert [field.label for field in form.fields] == ["Fits the theme"]
    unsettled = await found.submit_here(COACH, form, {})
    assert "Nothing is saved yet." in unsettled.text
    # A form of somebody's own making changes nothing of what both have typed alike.
    saved = await found.submit_here(COACH, form, {"theme": 4, "reasons": 1})
    assert saved.text.startswith("Settled from the paper. The sheet of Judge 201") and "agree" not in saved.text
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 3, "theme": 4}


async def test_both_entries_can_be_thrown_away(begin: Begin) -> None:
    found = await opened(begin)
    await type_in(found, HELPER, ADA, "Crooked Spoons", {"reasons": 1, "theme": 1})
    differ = await type_in(found, COACH, ADA, "Crooked Spoons", {"reasons": 4, "theme": 4})
    await found.asking.message(button(differ, "Type both again").key)
    first = await type_in(found, HELPER, ADA, "Crooked Spoons", WHOLE)
    assert "Typed in once" in first.text


async def test_entries_that_differ_in_many_lines_are_of_two_sheets(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(6),))
    await found.open()
    answers = []
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, HELPER, "Helper", "typist")
    for level, who in ((1, HELPER), (4, COACH)):
        levels = {f"c{number}": level for number in range(6)}
        half = await type_in(found, who, ADA, "Crooked Spoons", levels)
        form = await found.asking.form(button(half, "Go on typing").key, who)
        assert form.title.endswith("(2 of 2)")
        answers.append(await found.submit_here(who, form, levels))
    assert "Typed in once" in answers[0].text
    assert button(answers[1], "Settle it").disabled
    assert answers[1].text.count("first 1, then 4") == 6


async def test_nobody_types_in_parts_of_both_entries_nor_reads_what_somebody_else_has_typed(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(6),))
    await found.open()
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, HELPER, "Helper", "typist")
    levels = {f"c{number}": 2 for number in range(6)}
    half = await type_in(found, HELPER, ADA, "Crooked Spoons", levels)
    on = button(half, "Go on typing").key
    form = await found.asking.form(on, COACH)
    assert form.title.endswith("(1 of 2)")
    assert not any(choice.chosen for field in form.fields if isinstance(field, RadioField) for choice in field.choices)
    mine = await found.asking.form(on, HELPER)
    assert mine.title.endswith("(2 of 2)")
    said = await found.submit_here(COACH, mine, levels)
    assert "Typed in once" not in said.text
    form = await found.asking.form(button(said, "Go on typing").key, COACH)
    said = await found.submit_here(COACH, form, levels)
    assert "Typed in once" in said.text
    assert "Somebody else has typed" in (await found.submit_here(HELPER, mine, levels)).text


async def test_a_sheet_the_judge_has_begun_is_not_overwritten(begin: Begin) -> None:
    found = await opened(begin)
    sheet = await pick(found, HELPER, ADA, "Crooked Spoons")
    form = await found.asking.form("paper.entry", HELPER, values=(sheet,))
    await found.fill(ADA, "Crooked Spoons", {"reasons": 4})
    answer = await found.submit_here(HELPER, form, WHOLE)
    assert "has begun to mark **Crooked Spoons** here already (1 of 2 marked)" in answer.text
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 4}


async def test_a_sheet_of_a_squad_that_the_judge_no_longer_marks_is_not_said_to_be_begun(begin: Begin) -> None:
    found = await opened(begin)
    sheet = await pick(found, HELPER, ADA, "Crooked Spoons")
    async with found.asking.store.read() as db:
        squad = await squad_called(db, "Crooked Spoons")
    await found.asking.ask(f"sheets.tied:{squad}", ADA)
    said = (await found.asking.message("paper.entry", HELPER, values=(sheet,))).text
    assert "does not mark **Crooked Spoons**, so the sheet does not count" in said and "begun" not in said


async def test_whoever_also_judges_types_in_only_squads_they_have_marked_themselves(begin: Begin) -> None:
    found = await opened(begin)
    tryout = await found.asking.tryout()
    async with found.asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, BEN, "Ben", "typist")
    sheet = await pick(found, BEN, ADA, "Crooked Spoons")
    refused = await found.asking.message("paper.entry", BEN, values=(sheet,))
    assert "hand in your own sheet for **Crooked Spoons** first" in refused.text
    await found.fill(BEN, "Crooked Spoons", WHOLE)
    assert (await found.asking.form("paper.entry", BEN, values=(sheet,))).title == "Crooked Spoons"
