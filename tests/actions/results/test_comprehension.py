"""The questions of a coach, answered from the preview's first message alone, by simple patterns."""

import re

from storage.records.message import Message
from tests.actions.conftest import Asking, Begin
from tests.actions.scored import BUNTING, preview, record, start_surprise, whole
from tests.actions.table_help import add_judges, add_squads, hand_in

QUESTIONS = {
    "complete": r"^\*\*(Complete|NOT COMPLETE)\*\*",
    "winner": r"\*\*Winner:\*\* \*\*(.+?)\*\* with",
    "total": r"\*\*Winner:\*\* .+? with ([\d.]+) points",
    "gap": r"; ([\d.]+) points ahead of",
    "next squad": r"ahead of \*\*(.+?)\*\*\.",
    "why": r"\*\*Why them\*\*, against .+?: (.+) \(points of 100\)\.",
    "how sure": r"\*\*How sure:\*\* (very|fairly|not very|open)",
    "who marks hardest": r"(?:Judge|judge) (\d+) \(.+?\) marks",
    "did it matter": r"(It did not matter|It may have mattered)",
    "provisional": r"\*\*Provisional\*\* until the evening of the (\d)nd school day after you announce",
    "next": r"\*\*Next:?\*\*:? (?:press )?\*\*(.+?)\*\*",
}
ABOUT_A_WINNER = set(QUESTIONS) - {"complete", "next"}


def answers(message: Message) -> dict[str, str]:
    """What the patterns find; a question without an answer is left out."""
    found = {name: re.search(pattern, message.text) for name, pattern in QUESTIONS.items()}
    return {name: match.group(1) for name, match in found.items() if match}


def main_button(message: Message) -> str:
    (label,) = [one.label for row in message.rows if isinstance(row, tuple) for one in row if one.style == "main"]
    return label


async def test_a_complete_preview_answers_every_question_of_a_coach(begin: Begin) -> None:
    asking, _ = await whole(begin)
    message = await preview(asking)
    found = answers(message)
    assert set(found) == set(QUESTIONS)
    assert (found["complete"], found["winner"], found["next squad"]) == ("Complete", "Crooked Spoons", "Muddy Teapots")
    lines = dict(re.findall(r"\\\. \*\*(.+?)\*\* ([\d.]+) =", message.text))
    assert found["total"] == lines["Crooked Spoons"]
    assert abs(float(lines["Crooked Spoons"]) - float(lines["Muddy Teapots"]) - float(found["gap"])) < 0.11
    differences = [float(one) for one in re.findall(r"[+-][\d.]+", found["why"])]
    assert abs(sum(differences) - float(found["gap"])) < 0.16, "the events' differences add up to the gap"
    assert (found["did it matter"], found["provisional"]) == ("It did not matter", "2")
    assert found["next"] == main_button(message) == "Announce"


async def one_owed(begin: Begin) -> Asking:
    """Two squads, one judge, judging closed, and one sheet that is open again."""
    asking = await begin("settled")
    await start_surprise(asking)
    squads = await add_squads(asking, 2)
    await record(asking, squads, [14, 3], [100, 120])
    (judge,) = await add_judges(asking, 1)
    for squad in squads:
        await hand_in(asking, judge, squad, "chain", "team", {"talk": 3})
    await hand_in(asking, judge, squads[0], "bunting", "bunting", BUNTING)
    await hand_in(asking, judge, squads[1], "bunting", "bunting", {})
    return asking


async def test_an_incomplete_preview_says_so_and_what_to_do_and_answers_nothing_about_a_winner(begin: Begin) -> None:
    message = await preview(await one_owed(begin))
    found = answers(message)
    assert found["complete"] == "NOT COMPLETE"
    assert "1 of 2 squads cannot be ranked; judge 1 owes 1 sheet" in message.text.split("\n")[0]
    assert not ABOUT_A_WINNER & set(found)
    assert found["next"] == main_button(message) != "Announce"
