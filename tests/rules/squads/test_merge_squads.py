"""When two squads can be made one, and which are offered first."""

from datetime import UTC, datetime

import pytest

from bot.rules.core.refusal import Refusal
from bot.rules.squads import merge_squads as rules
from tests.actions.conftest import small_plan
from tests.rules.books import squads


def test_small_squads_of_the_same_section_are_offered_first_and_never_the_squad_itself() -> None:
    goes, one, two, three = squads(4)
    far = one.model_copy(update={"section": "7B"})
    found = rules.in_order(goes, [(goes, 1), (far, 1), (two, 4), (three, 2)])
    assert found == [(three, 2), (two, 4), (far, 1)]


def test_squads_can_be_merged_until_judging_is_closed_and_only_two_of_them() -> None:
    goes, stays = squads(2)
    rules.check_may_merge("judging")
    rules.check_two(goes, stays)
    with pytest.raises(Refusal):
        rules.check_may_merge("settled")
    with pytest.raises(Refusal):
        rules.check_two(goes, goes)


def test_it_is_told_where_the_new_squad_is_too_large_or_has_too_few_judges() -> None:
    largest = small_plan().squads.largest
    assert [rules.too_large(small_plan(), size) for size in (largest, largest + 1)] == [False, True]
    assert rules.lacks_judges(8, 1, 2) and not rules.lacks_judges(8, 2, 2)
    assert not rules.lacks_judges(0, 0, 2) and not rules.lacks_judges(8, 0, None)


def test_the_later_end_of_more_time_counts_for_both() -> None:
    early, late = datetime(2027, 1, 20, tzinfo=UTC), datetime(2027, 1, 21, tzinfo=UTC)
    assert rules.more_time_of(late, early) == rules.more_time_of(early, late) == late
    assert rules.more_time_of(None, early) == early and rules.more_time_of(None, None) is None
