"""The invitation to judge: who declines it is told to the coach once."""

from bot.actions.core.schedule_cache import schedule_of
from bot.words.judging import invitation as words
from tests.actions.conftest import Begin, button
from tests.actions.judging_cast import ADA, CY, cast, enrol


async def test_a_judge_who_was_asked_can_say_no_and_the_coach_hears_it_once(begin: Begin) -> None:
    found = await cast(begin, people=(ADA,))
    await enrol(found.asking, CY)
    tryout = await found.asking.tryout()
    invited = words.invitation(tryout, schedule_of(tryout), [await found.judge(CY)])
    assert f"<t:{int(schedule_of(tryout).judging_closes.timestamp())}:F>" in invited.text
    for _ in range(2):
        answer = await found.asking.message(button(invited, "Sorry, I can't").key, CY)
        assert "Your coach knows" in answer.text
    said = [text for text in await found.asking.messages_to("office") if "cannot be a judge" in text]
    assert len(said) == 1
    way = words.told_declined(await found.judge(CY))
    assert "Remove" in str(await found.asking.message(button(way, "Take off the judges").key))
