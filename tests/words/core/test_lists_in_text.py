"""Lists in a text: words in a sentence, all or the first few, and as many lines as there is room for."""

from bot.words.core.lists_in_text import first_few, fitting, listing


def test_a_list_that_is_too_long_says_how_many_more_there_are() -> None:
    assert fitting(["aaaa", "bbbb", "cccc"], 100) == ["aaaa", "bbbb", "cccc"]
    assert fitting(["aaaa", "bbbb", "cccc"], 10) == ["aaaa", "bbbb", "- and 1 more"]
    assert fitting([], 10) == []


def test_the_first_few_are_named_and_the_others_counted() -> None:
    assert first_few([], 2) == ""
    assert first_few(["Ann", "Bob"], 2) == "Ann, Bob"
    assert first_few(["Ann", "Bob", "Cleo", "Dan"], 2) == "Ann, Bob and 2 more"


def test_words_are_listed_with_a_link_before_the_last() -> None:
    found = [listing(words) for words in ([], ["a"], ["a", "b"], ["a", "b", "c"])]
    assert found == ["", "a", "a and b", "a, b and c"]
    assert listing(["a", "b"], "or") == "a or b"
