"""When a form that opened with a stored text comes too late, and who is named then."""

from bot.rules.core.changed_meanwhile import is_overtaken, is_same, read_by_name


def test_a_form_is_overtaken_where_the_text_has_changed_and_something_else_was_typed() -> None:
    assert is_overtaken("a", "b", differs=True)
    assert not is_overtaken("a", "a", differs=True)
    assert not is_overtaken("a", "b", differs=False)


def test_spaces_and_line_breaks_make_no_other_text() -> None:
    assert is_same("Two  socks\n", "Two socks") and not is_same("Two socks", "Two sock")


def test_a_coach_reads_all_by_name_and_a_student_only_the_own_squad() -> None:
    assert read_by_name({"anyone", "coach", "recorder"}) == {"officers", "judges", "students"}
    assert read_by_name({"anyone", "recorder"}) == {"officers"}
    assert read_by_name({"anyone"}) == {"own squad"}
