"""Judges may type "3" into their direct messages instead of pressing."""

import bot.actions.judging.typed_marks  # noqa: F401
from bot.actions.core.dispatch import ACTIONS, perform
from bot.words.core.action_keys import ActionKey
from storage.records.request import Request
from tests.actions.conftest import Begin, button
from tests.actions.judging_cast import ADA, LEVELS, Cast, cast, living, long_rubric


async def say(found: Cast, text: str, who: int = ADA) -> str:
    return (await found.asking.message("sheets.typed", who, fields={"text": text}, server_id=None)).text


async def opened(begin: Begin) -> Cast:
    found = await cast(begin)
    await found.open()
    return found


async def test_the_list_says_where_the_next_number_goes_and_it_goes_there(begin: Begin) -> None:
    found = await opened(begin)
    first = (await found.sheets(ADA))[0]
    assert "your next number goes to Crooked Spoons, Written reasons (1 to 4)" in (await living(found, ADA)).text
    answer = await say(found, "3")
    assert "Written reasons: **3** of 4: seen often" in answer
    assert "**Fits the theme**\n1 - not seen" in answer
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 3}
    assert (await found.sheets(ADA))[0].id == first.id
    assert "your next number goes to Crooked Spoons, Fits the theme" in (await living(found, ADA)).text


async def test_the_last_number_hands_the_sheet_in_and_the_next_squad_is_named(begin: Begin) -> None:
    found = await opened(begin)
    answer = await say(found, "3 4")
    assert "All 2 marked: this sheet is done." in answer
    assert (await found.sheet(ADA, "Crooked Spoons")).state == "submitted"
    second = (await found.sheets(ADA))[1]
    assert "Now **" in answer
    await say(found, "1")
    assert [sheet.marks for sheet in await found.sheets(ADA) if sheet.id == second.id] == [{"reasons": 1}]


async def test_undo_takes_the_last_change_back_and_once_more_brings_it_again(begin: Begin) -> None:
    found = await opened(begin)
    await say(found, "3 4")
    assert "0 of 2 marked" in await say(found, "undo")
    sheet = await found.sheet(ADA, "Crooked Spoons")
    assert (sheet.state, sheet.marks, sheet.version) == ("started", {}, 2)
    await say(found, "undo")
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 3, "theme": 4}


async def test_too_many_numbers_or_a_level_that_is_none_save_nothing(begin: Begin) -> None:
    found = await opened(begin)
    assert "**Crooked Spoons** has only 2 left to mark. Nothing was saved." in await say(found, "3 4 2")
    assert "has the levels 1 to 4, so 5 cannot be right" in await say(found, "3 5")
    assert "You can mark by typing" in await say(found, "34 and more")
    assert all(not sheet.marks for sheet in await found.sheets(ADA))


async def test_a_comment_goes_to_the_sheet_that_was_marked_last(begin: Begin) -> None:
    found = await opened(begin)
    assert "no sheet to which the comment belongs" in await say(found, "comment: nice")
    await say(found, "3")
    said = await say(found, "comment: say why it is red")
    assert "Comment saved with **Crooked Spoons**." in said and "without your name" in said
    assert (await found.sheet(ADA, "Crooked Spoons")).comments == {"sheet": "say why it is red"}


async def test_nothing_of_a_comment_is_cut_off_and_a_second_one_stands_below_the_first(begin: Begin) -> None:
    found = await opened(begin)
    await say(found, "3 2")
    await say(found, "comment: the colours fit")
    said = await say(found, f"comment: {'x' * 1000}")
    assert "nothing of it was saved: there is room for 984 characters more" in said
    assert "Added to your comment" in await say(found, "comment: one flag says nothing")
    both = {"sheet": "the colours fit\none flag says nothing"}
    assert (await found.sheet(ADA, "Crooked Spoons")).comments == both
    await say(found, "undo")
    assert (await found.sheet(ADA, "Crooked Spoons")).comments == {"sheet": "the colours fit"}


async def test_a_comment_can_belong_to_the_line_that_was_marked_last(begin: Begin) -> None:
    found = await cast(begin, events=(long_rubric(3, "criterion"),))
    await found.open()
    await say(found, "3 2")
    await say(found, "comment: on the back")
    assert (await found.sheet(ADA, "Crooked Spoons")).comments == {"c1": "on the back"}


async def test_next_goes_to_another_squad_and_a_picked_sheet_is_the_one_that_is_typed_into(begin: Begin) -> None:
    found = await opened(begin)
    assert "Now **Crooked Spoons**" not in await say(found, "next")
    snails = await found.sheet(ADA, "Sleepy Turnips")
    page = await found.asking.message("sheets.look", ADA, values=(str(snails.id),), server_id=None)
    asked = await found.asking.message(button(page, "Type the marks").key, ADA, server_id=None)
    assert "Now **Sleepy Turnips**" in asked.text
    await say(found, "2")
    assert (await found.sheet(ADA, "Sleepy Turnips")).marks == {"reasons": 2}


async def test_the_same_message_delivered_twice_marks_once(begin: Begin) -> None:
    found = await opened(begin)
    request = Request(id=9, at=found.asking.now, who=ADA, name="Ada", fields={"text": "3"})
    first = await perform(found.asking.store, ACTIONS[ActionKey.SHEETS_TYPED], request)
    assert await perform(found.asking.store, ACTIONS[ActionKey.SHEETS_TYPED], request) == first
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 3}


async def test_after_the_close_nothing_typed_is_taken(begin: Begin) -> None:
    found = await opened(begin)
    await say(found, "3")
    await found.asking.message("judging.closed")
    assert "no sheet left to mark" in await say(found, "4")
    assert "nothing to take back" in await say(found, "undo")
    assert (await found.sheet(ADA, "Crooked Spoons")).marks == {"reasons": 3}


async def test_a_judge_without_direct_messages_is_not_told_to_type(begin: Begin) -> None:
    found = await opened(begin)
    judge = await found.judge(ADA)
    async with found.asking.store.write() as db:
        await db.run("UPDATE judge SET direct_closed_at = '2027-01-04T15:00:00+00:00' WHERE id = ?", judge.id)
    assert "type" not in (await living(found, ADA)).text
    assert LEVELS[0] not in (await living(found, ADA)).text
