"""A long digest is cut and says so."""

from bot.rules.calendar.squad_debts import Debt
from bot.words.office import digest
from storage.records.message import MESSAGE_LENGTH
from tests.words.invented import squad


def test_a_long_digest_is_cut_and_says_so() -> None:
    squads = [squad(number, f"Squad {number} {'x' * 30}") for number in range(1, 61)]
    found = digest.lines([(one, (Debt("brief", 3),)) for one in squads], 4, 0, [], [])
    said = digest.digest(found)
    assert said is not None and len(said.text) <= MESSAGE_LENGTH
    assert said.text.endswith("\n- and 57 squads more: their rooms say what is still to do")
    assert len(said.text.split("\n")) == 6
    mixed = digest.digest(digest.lines((), 4, 3, [(f"news {number}", "gone") for number in range(6)], []))
    assert mixed is not None and mixed.text.endswith("\n- and 4 more: /office")
    squads_alone = found[1:]
    before = "\n".join(one.text for one in found)
    assert digest.digest(squads_alone, [before]) is None, "nothing has changed since yesterday"


def test_it_has_six_lines_with_the_head() -> None:
    def said(squads: int) -> list[str]:
        behind = [(squad(number, f"Squad {number}"), (Debt("brief", 3),)) for number in range(1, squads + 1)]
        made = digest.digest(digest.lines(behind, 0, 0, [], []))
        assert made is not None
        return made.text.split("\n")

    assert (len(said(5)), len(said(6))) == (6, 6)
    assert "Squad 5" in said(5)[-1] and said(6)[-1].startswith("- and 2 squads more")


def test_what_a_squad_owes_is_said_in_short() -> None:
    assert [digest.short(debt) for debt in (Debt("members", 1), Debt("slot", 2), Debt("hand-in", 1, "Bunting"))] == [
        "needs 1 more",
        "2 practice turns not booked",
        "1 part of Bunting missing",
    ]
