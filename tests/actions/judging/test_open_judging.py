"""Events are opened for judging: once, with judges, and no surprise before it has started."""

import pytest

import bot.actions.judging.judge_reminders  # noqa: F401
from tests.actions.conftest import Begin
from tests.actions.event_day.day_cast import made, slots
from tests.actions.judging.test_judge_reminders import told, until_judging
from tests.actions.judging_cast import ADA, BEN, cast, enrol, living


async def test_the_group_piece_can_be_opened_before_the_window_ends(begin: Begin) -> None:
    found = await cast(begin)
    panel = await found.asking.message("judging.open", values=("bunting",))
    assert "Bunting: opened for judging" in panel.text
    assert len(await found.sheets(ADA)) == 3
    await found.open()
    assert len(await found.sheets(ADA)) == 3
    assert "open for judging already" in (await found.asking.message("judging.open", values=("bunting",))).text


async def test_opening_twice_hands_out_no_sheet_twice_and_tells_the_judge_once(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    await found.open()
    judge = await found.judge(ADA)
    assert len(await found.sheets(ADA)) == 3
    assert len(await found.asking.messages_to(f"judge/{judge.id}")) == 1


async def test_without_judges_the_coach_is_told_that_nobody_judges(begin: Begin) -> None:
    found = await cast(begin, people=())
    assert "no judges yet" in (await found.asking.message("judging.open", values=("bunting",))).text
    await found.open()
    assert "there are no judges yet" in (await found.asking.messages_to("office"))[-1]


async def test_the_office_hears_which_judges_have_not_agreed_yet(begin: Begin) -> None:
    found = await cast(begin, people=(ADA,))
    await enrol(found.asking, BEN)
    await found.open()
    assert (
        "2 judges, 3 squads. Not pressed **Start judging** yet: Judge 202."
        in (await found.asking.messages_to("office"))[-1]
    )


async def test_a_surprise_is_never_opened_for_judging_before_it_has_started(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    assert "is a surprise: start it in the office first" in (await found.asking.message("judging.pick-event")).text
    assert "is a surprise" in (await found.asking.message("judging.open", values=("chain",))).text
    assert {sheet.event for sheet in await found.sheets(ADA)} == {"bunting"}


async def test_sheets_go_out_when_the_window_ends(begin: Begin) -> None:
    found = await until_judging(begin)
    assert (await found.asking.tryout()).state == "judging"
    assert "Judging is open: Bunting. You have 3 sheets." in (await told(found, ADA))[-1]


async def test_sheets_of_a_surprise_come_only_when_the_coach_opens_it(begin: Begin) -> None:
    found = await cast(begin)
    await found.open()
    assert {sheet.event for sheet in await found.sheets(ADA)} == {"bunting"}
    assert "Paper chain" not in (await living(found, ADA)).text
    await found.asking.message("surprise.start:chain")
    assert {sheet.event for sheet in await found.sheets(ADA)} == {"bunting", "chain"}
    assert "**0 of 6** done" in (await living(found, ADA)).text


@pytest.mark.parametrize("over", [False, True])
async def test_who_meets_the_squads_later_is_told_to_leave_open_what_is_only_seen_then(
    begin: Begin, over: bool
) -> None:
    asking = await made(begin, 3, judges=2)
    if over:
        asking.now = max(slot.ends_at for slot in await slots(asking, "interview"))
    await asking.ask("sheets.start", 201)
    await asking.ask("judging.open", values=("bunting",))
    (told,) = [text for text in await asking.messages_to("judge/1") if "Judging is open" in text]
    assert ("You meet these squads in interviews: leave open until then" in told) is not over
