"""Labels of a list: they fit, and what stands apart in the plan stands apart in the list."""

from decimal import Decimal

from hypothesis import example, given
from hypothesis import strategies as st

from bot.words.core.choices import LABEL, part_label
from bot.words.core.plain_text import units
from bot.words.scorekeeping.score_table import measure_choices
from storage.records.plan import Event
from storage.records.plan_measures import Number

names = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), min_size=1, max_size=100)


@given(names, names)
@example("x" * 120, "\u200b")
@example("\u200b", "\u200b" * 100)
def test_whole_and_part_fit_into_a_label_and_stand_there_in_full_where_both_are_short(whole: str, part: str) -> None:
    assert units(part_label(whole, part)) <= LABEL
    assert part_label("Sock run", "Socks") == "Sock run: Socks"


def test_measures_of_an_event_with_a_long_name_are_told_apart() -> None:
    measures = tuple(Number(key=name, name=name.upper(), unit="g", highest=Decimal(9)) for name in ("mass", "length"))
    event = Event(key="run", name="Bring as many socks home " * 4, weight=Decimal(1), measures=measures)
    mass, length = (one.label for one in measure_choices([(event, one) for one in measures]))
    assert mass.startswith("Bring as many socks home") and mass.endswith("…: MASS")
    assert length.endswith("…: LENGTH")
