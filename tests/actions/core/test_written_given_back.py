"""What was written where nothing was kept of it is given back."""

from bot.rules.core.written_given_back import LONG
from bot.words.core.text_as_file import WHOLE_TEXT
from bot.words.core.written_given_back import given_back, with_written
from storage.records.message import Message, TextField
from tests.actions.conftest import Begin
from tests.actions.hand_in_cast import window

NO = Message(text="That is over.")
SENTENCE = "May the robot carry *two* socks?"


def test_sentences_are_given_back_once_and_short_entries_are_not() -> None:
    shown = with_written(
        NO, {"question": SENTENCE, "days": "3", "when": "2027-01-11 15:30", "ticked": "lamp\nwire-end"}
    )
    assert shown.text == "That is over.\nYou wrote:\n> May the robot carry \\*two\\* socks?"
    assert with_written(NO, {"days": "3"}) == NO
    assert with_written(shown, {"question": SENTENCE}) == shown
    before = Message(text=given_back(SENTENCE) + "That is over.")
    assert with_written(before, {"question": SENTENCE}) == before


def test_a_sentence_of_which_only_the_beginning_is_shown_is_given_back_whole() -> None:
    cut = Message(text="This is too long: May the robot carry \\*two…")
    assert "\\*two\\* socks?" in with_written(cut, {"question": SENTENCE}).text


def test_a_long_text_without_spaces_is_given_back_and_a_long_list_of_ticks_is_not() -> None:
    without_spaces = "\u30ed" * 50
    assert without_spaces in with_written(NO, {"reason": without_spaces}).text
    assert with_written(NO, {"here": "\n".join(str(number) for number in range(60))}) == NO


def test_what_is_too_long_for_the_message_is_in_a_file() -> None:
    long = "a word " * 500
    shown = with_written(NO, {"answer": long})
    assert [one.name for one in shown.files] == [WHOLE_TEXT] and long.strip() in shown.files[0].data.decode()


async def test_a_question_that_comes_too_late_is_not_lost(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    for number in range(3):
        await asking.ask("rules.asked", 1, fields={"question": f"Is rule {number} meant like this?"})
    said = await asking.message("rules.asked", 2, fields={"question": SENTENCE})
    assert "wait for an answer already" in said.text and "carry \\*two\\* socks?" in said.text


async def test_nor_is_an_answer_to_a_question_that_another_coach_has_answered(begin: Begin) -> None:
    asking, _, _ = await window(begin)
    await asking.ask("rules.asked", 1, fields={"question": SENTENCE})
    form = await asking.form("rules.answer:1")
    await asking.ask("rules.set-aside:1")
    said = await asking.message(form.key, fields={"question": SENTENCE, "answer": "Yes, two in one go.\nNot three."})
    assert "dealt with already" in said.text and "> Yes, two in one go.\n> Not three." in said.text


async def test_nor_is_a_text_of_the_plan_when_something_else_in_its_form_is_wrong(begin: Begin) -> None:
    asking = await begin("drafting")
    form = await asking.form("plan.event", values=("bunting",))
    typed = {one.key: one.value for one in form.fields if isinstance(one, TextField)}
    assert len(typed["criteria"]) > LONG
    changed = {"cautions": "Nobody stands on a chair to see better.", "name": ""}
    said = await asking.message(form.key, fields={**typed, **changed})
    assert "Nothing was changed yet" in said.text and "> Nobody stands on a chair" in said.text
    assert said.text.count("\n> ") == 1 and not said.files, "what stands in the form when it opens again is not told"
