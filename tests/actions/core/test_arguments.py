"""What a handler declares is what it gets; everything else in a request is out of date."""

from decimal import Decimal
from typing import Any, Literal

import pytest

from bot.actions.core.arguments import LONGEST, declared, given, read
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason


async def page_of(db: Any, tryout: Any, request: Any, squad_id: int, page: int = 0) -> None: ...


async def typed(db: Any, tryout: Any, request: Any, kind: Literal["news", "office"], *rest: str) -> None: ...


async def switched(db: Any, tryout: Any, request: Any, large: bool, points: Decimal) -> None: ...


async def one(db: Any, tryout: Any, request: Any, *, picked: int) -> None: ...


async def one_or_none(db: Any, tryout: Any, request: Any, *, picked: str | None = None) -> None: ...


async def several(db: Any, tryout: Any, request: Any, *, picked: tuple[int, ...]) -> None: ...


async def nothing(db: Any, tryout: Any, request: Any) -> None: ...


async def prepared_only(db: Any, tryout: Any, request: Any, *, prepared: bytes) -> None: ...


async def untypable(db: Any, tryout: Any, request: Any, squad: dict[str, int]) -> None: ...


def test_what_a_key_carries_comes_in_the_types_that_are_declared() -> None:
    assert read(declared(page_of), ("5",), ()) == ([5], {})
    assert read(declared(page_of), ("5", "2"), ()) == ([5, 2], {})
    assert read(declared(typed), ("news", "a", "b"), ()) == (["news", "a", "b"], {})
    assert read(declared(switched), ("1", "-2.50"), ()) == ([True, Decimal("-2.50")], {})
    assert read(declared(switched), ("False", "3"), ()) == ([False, Decimal(3)], {})


def test_what_was_picked_comes_as_one_value_or_as_several() -> None:
    assert read(declared(one), (), ("7",)) == ([], {"picked": 7})
    assert read(declared(one_or_none), (), ()) == ([], {})
    assert read(declared(one_or_none), (), ("x",)) == ([], {"picked": "x"})
    assert read(declared(several), (), ()) == ([], {"picked": ()})
    assert read(declared(several), (), ("1", "2")) == ([], {"picked": (1, 2)})


def test_a_handler_that_declares_nothing_is_called_with_nothing() -> None:
    for handler in (nothing, prepared_only):
        assert read(declared(handler), ("1", "2"), ("3",)) == ([], {})


@pytest.mark.parametrize(
    ("handler", "args", "values"),
    [
        (page_of, (), ()),
        (page_of, ("1", "2", "3"), ()),
        (page_of, ("",), ()),
        (page_of, ("x",), ()),
        (page_of, ("-1",), ()),
        (page_of, ("1.0",), ()),
        (page_of, (" 1",), ()),
        (page_of, ("\N{ARABIC-INDIC DIGIT ONE}",), ()),
        (page_of, (str(2**63),), ()),
        (page_of, ("9" * 5000,), ()),
        (typed, ("elsewhere",), ()),
        (typed, ("news", "a" * (LONGEST + 1)), ()),
        (switched, ("yes", "1"), ()),
        (switched, ("1", "1e9999999"), ()),
        (switched, ("1", "NaN"), ()),
        (one, (), ()),
        (one, (), ("1", "2")),
        (one, (), ("x",)),
        (one_or_none, (), ("a", "b")),
        (several, (), ("1", "x")),
    ],
)
def test_anything_else_is_out_of_date(handler: Any, args: tuple[str, ...], values: tuple[str, ...]) -> None:
    with pytest.raises(Refusal) as refused:
        read(declared(handler), args, values)
    assert refused.value.reason == Reason.OUT_OF_DATE


def test_the_largest_number_that_the_database_holds_is_taken() -> None:
    assert read(declared(page_of), (str(2**63 - 1),), ()) == ([2**63 - 1], {})


def test_a_type_that_no_key_can_carry_is_found_when_the_handler_registers() -> None:
    with pytest.raises(TypeError, match="no key can carry"):
        declared(untypable)


def test_of_several_ways_in_the_first_that_came_counts() -> None:
    assert given(None, 0, 5) == 0
    with pytest.raises(Refusal):
        given(None, None)
