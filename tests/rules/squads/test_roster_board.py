"""Who counts as needing a squad on the roster board, and when a squad is full."""

from bot.rules.squads.roster_board import missing_or_free, needing_squad, seated, squads_of
from storage.records.people import Student
from tests.rules.plan_samples import plan
from tests.words.invented import squad


def student(number: int, section: str, looking: bool) -> Student:
    return Student(id=number, tryout_id=1, platform_id=number, name="Robin", section=section, looking=looking)


def test_only_who_looks_for_a_squad_and_is_in_none_needs_one() -> None:
    spoons, moles = squad(1, "Crooked Spoons", "6a"), squad(2, "Muddy Teapots", "6b")
    alone = [student(2, "6a", True), student(3, "6a", False), student(4, "6b", False)]
    roster = [(spoons, [student(1, "6a", True)]), (moles, []), (None, alone)]
    assert [needing_squad(roster, section) for section in ("6a", "6b")] == [1, 0]
    assert seated(roster) == (2, 1)
    assert [found for found, _ in squads_of(roster, "6b")] == [moles]


def test_a_squad_needs_members_or_has_seats_or_is_full() -> None:
    size = plan().squads
    members = [student(number, "6a", False) for number in range(1, size.largest + 2)]
    assert missing_or_free(plan(), members[: size.smallest - 1]) == (1, size.largest - size.smallest + 1)
    assert missing_or_free(plan(), members[: size.smallest]) == (0, size.largest - size.smallest)
    assert missing_or_free(plan(), members[: size.largest]) == missing_or_free(plan(), members) == (0, 0)
