"""One subject, one name: an action speaks through the words at its own path."""

import ast
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ACTIONS = ROOT / "bot" / "actions"
WORDS = "bot.words."

ELSEWHERE = {
    "delivery/destination": "names places as the trouble messages do",
    "delivery/direct_messages": "tells the coach what goes into a room instead",
    "delivery/lost_rooms": "tells the coach what is undelivered",
    "delivery/outbox_outcome": "tells the coach what is undelivered",
    "delivery/try_again": "answers the button of what is undelivered",
    "event_day/run_sheet_typed_so_far": "hands the typed sheet to the words of its entry",
    "scorekeeping/may_record": "names the measure as the table does",
    "scorekeeping/recorded_so_far": "names the measure as the table does",
    "scoring/score_book": "hands the book to the words as one record",
    "squads/give_up_seat": "tells a squad who went",
    "squads/members": "tells a squad who came",
    "squads/squads_changed": "keeps the roster board up to date",
}
"""Actions that speak through the words of a neighbour, and why."""


def words_of(module: Path) -> set[str]:
    """The words that a module imports, as paths below `bot/words`, without what every subject uses."""
    found = set()
    for node in ast.walk(ast.parse(module.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(WORDS):
            path = str(node.module).removeprefix(WORDS).replace(".", "/")
            found |= {path} if "/" in path else {f"{path}/{alias.name}" for alias in node.names}
    return {path for path in found if not path.startswith("core/")}


def test_an_action_speaks_through_the_words_of_its_own_name() -> None:
    other = {}
    for module in ACTIONS.rglob("*.py"):
        path = module.relative_to(ACTIONS).with_suffix("").as_posix()
        words = words_of(module)
        if words and path not in words and module.name != "__init__.py":
            other[path] = sorted(words)
    assert other.keys() == ELSEWHERE.keys()
