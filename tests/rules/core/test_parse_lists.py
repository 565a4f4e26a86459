"""Lists as they are typed."""

from bot.rules.core.parse_lists import read_list


def test_names_are_separated_by_commas_semicolons_or_lines() -> None:
    assert read_list(" 7-A,7-B ;\n8  C\n,") == ("7-A", "7-B", "8 C")
