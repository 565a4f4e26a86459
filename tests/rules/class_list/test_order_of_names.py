"""In which order the names of the class list stand wherever they can be picked."""

from bot.rules.class_list.class_list import in_order
from bot.rules.squads.names import name_keys
from storage.records.class_list import ClassListEntry


def entry(number: int, name: str, section: str) -> ClassListEntry:
    folded = name_keys(name).folded
    return ClassListEntry(id=number, tryout_id=1, name=name, folded=folded, section=section, answers={})


def test_names_stand_by_section_and_from_a_to_z_whatever_the_order_of_the_file() -> None:
    rows = ("Zora K", "8 Elm"), ("bea L", "7 Ash"), ("Ada B", "7 Ash"), ("Cleo M", "7 Ash"), ("Ada B", "8 Elm")
    found = in_order(entry(number, *row) for number, row in enumerate(rows))
    assert [(one.section, one.name) for one in found] == [
        ("7 Ash", "Ada B"), ("7 Ash", "bea L"), ("7 Ash", "Cleo M"), ("8 Elm", "Ada B"), ("8 Elm", "Zora K")
    ]  # fmt: skip
