"""What is asked for finds its subject, in a process that has imported no more than it was asked for."""

import subprocess
import sys
from collections.abc import Iterable

import pytest

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.followers import when_judges_change, when_table_changes
from bot.actions.core.live_messages import BOARDS, COMPOSERS
from bot.actions.core.registry import register_all
from bot.actions.core.scheduled_jobs import JOB_TYPES
from bot.actions.core.subject_loading import Change, first_word, keys, kinds
from bot.actions.squads.squads_changed import when_squads_change
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.words.core.refusals import lines

register_all()

FOLLOWERS: dict[Change, Iterable[object]] = {
    "judges": when_judges_change.all,
    "squads": when_squads_change.all,
    "table": when_table_changes.all,
}
AFRESH = """
import sys
from bot.actions.core.registry import begin
begin()
at_first = set(sys.modules)
"""


def folder(function: object) -> str:
    """The folder of actions that a function stands in."""
    return ".".join(function.__module__.split(".")[:3])


def by_folder(found: Iterable[tuple[str, object]]) -> set[tuple[str, str]]:
    """Words, each with the folder of what it leads to."""
    return {(word, folder(function)) for word, function in found}


def pairs(said: Iterable[tuple[str, Iterable[str]]]) -> set[tuple[str, str]]:
    """The same as the folders say it."""
    return {(word, subject) for word, subjects in said for subject in subjects}


def out_of(code: str) -> list[str]:
    """What a new process prints that has just begun."""
    shown = subprocess.run([sys.executable, "-c", AFRESH + code], capture_output=True, text=True, check=True)
    return shown.stdout.split()


def test_each_subject_names_the_first_words_of_its_actions_and_no_others() -> None:
    assert pairs(keys().items()) == by_folder((first_word(key), action.run) for key, action in ACTIONS.items())


def test_each_subject_names_its_live_messages_and_jobs_and_no_others() -> None:
    shown = [*COMPOSERS.items(), *BOARDS.items(), *((kind, job.handle) for kind, job in JOB_TYPES.items())]
    assert pairs(kinds().items()) == by_folder(shown)


@pytest.mark.parametrize("change", FOLLOWERS)
def test_each_subject_names_the_module_that_follows_a_change(change: Change) -> None:
    said = set()
    for subject in {folder(action.run) for action in ACTIONS.values()}:
        follows = getattr(sys.modules[subject], "FOLLOWS", {})
        said |= {f"{subject}.{follows[change]}"} if change in follows else set()
    assert said == {function.__module__ for function in FOLLOWERS[change]}


def test_a_bot_that_begins_holds_sign_up_and_hardly_anything_else() -> None:
    first = set(out_of("print(*at_first)"))
    assert "bot.actions.squads.sign_up" in first
    assert first.isdisjoint(
        {
            "bot.actions.judging.my_sheets",
            "bot.actions.results.announce",
            "bot.actions.squads.merge_squads",
            "bot.rules.calendar.squad_debts",
            "bot.words.office.office",
            "storage.records.judging",
        }
    )


def test_a_bot_that_begins_is_ready_for_a_whole_class_that_signs_up_at_one_instant() -> None:
    found = out_of(
        """
from bot.actions.core.registry import OF_SIGN_UP
from bot.actions.core.subject_loading import learn_followers
learn_followers("squads")
print(len(set(sys.modules) - at_first), all(one.__pydantic_complete__ for one in OF_SIGN_UP))
"""
    )
    assert found == ["0", "True"]


def test_every_action_is_found_when_it_is_first_asked_for() -> None:
    found = out_of(
        """
from bot.actions.core.registry import action_of
from bot.words.core.custom_ids import ALL_KEYS
print(len([action_of(key) for key in sorted(ALL_KEYS)]), len(ALL_KEYS))
"""
    )
    assert found[0] == found[1]


def test_what_follows_a_change_is_there_before_its_subject_is_asked_for_anything() -> None:
    found = out_of(
        """
from bot.actions.core.subject_loading import learn_followers
learn_followers("squads")
from bot.actions.squads.squads_changed import when_squads_change
print(*(one.__module__ for one in when_squads_change.all))
"""
    )
    assert set(found) == {one.__module__ for one in FOLLOWERS["squads"]}


def test_a_refusal_finds_its_line_even_where_its_words_are_not_at_hand() -> None:
    found = out_of(
        """
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.words.core import refusals
words = "bot.words.results.announce"
print(words in at_first, refusals.line(Refusal(ResultReason.NOT_ANNOUNCED)), words in sys.modules)
"""
    )
    assert " ".join(found) == f"False {lines()[ResultReason.NOT_ANNOUNCED]} True"
