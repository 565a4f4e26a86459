"""Sentences are given back below an answer, once and whole; short entries and lists of ticks are not."""

from bot.words.core.text_as_file import WHOLE_TEXT
from bot.words.core.written_given_back import given_back, with_written
from storage.records.message import Message

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
