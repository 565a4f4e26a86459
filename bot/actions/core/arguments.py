"""What a handler wants to know beside the request: declared by its signature, parsed and checked before it runs.

After `db, tryout, request` come, as positional parameters, the arguments that the pressed key carries, and after a star
`picked`, what was chosen in a select: one value, or a tuple of them (and `prepared`, see `dispatch.act`). A default
makes an argument optional; `*more: str` takes all that follow. A handler that declares nothing is called with nothing,
whatever a key carries. Old and forged messages carry other arguments: they are out of date, never a fault of ours.
"""

import inspect
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, get_args, get_origin, get_type_hints

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason

LONGEST = 100
"""Characters of an argument; the whole key has no more."""
WHOLE = re.compile(r"[0-9]{1,19}", re.ASCII)
LARGEST = 2**63 - 1
"""What the database can hold."""
DECIMAL = re.compile(r"-?[0-9]{1,12}(\.[0-9]{1,9})?", re.ASCII)
SHARED = 3
"""The parameters that every handler has: the database, the try-out, the request."""

T = TypeVar("T")
Parse = Callable[[str], object]


@dataclass(frozen=True)
class Arguments:
    """What one handler takes."""

    names: tuple[str, ...] = ()
    """Of the parameters, in order."""
    anything: bool = False
    """Whether the handler takes anything at all; one that does not is called with nothing, whatever a key carries."""
    required: tuple[Parse, ...] = ()
    optional: tuple[Parse, ...] = ()
    rest: Parse | None = None
    """For each argument that follows."""
    picked: Parse | None = None
    picks_many: bool = False
    may_pick_none: bool = False


def declared(handler: Callable[..., Any]) -> Arguments:
    """What a handler's signature asks for.

    Raises:
        TypeError: a parameter has a type that no key can carry.
    """
    hints = get_type_hints(handler)
    required: list[Parse] = []
    optional: list[Parse] = []
    found: dict[str, Any] = {}
    names: list[str] = []
    for parameter in list(inspect.signature(handler).parameters.values())[SHARED:]:
        hint = hints[parameter.name]
        if parameter.name == "prepared":
            continue
        if parameter.name == "picked":
            many = get_origin(hint) is tuple
            found["picked"] = parse_of(get_args(hint)[0] if many else hint)
            found["picks_many"] = many
            found["may_pick_none"] = many or parameter.default is not parameter.empty
        elif parameter.kind is parameter.VAR_POSITIONAL:
            found["rest"] = parse_of(hint)
        elif parameter.default is parameter.empty:
            names.append(parameter.name)
            required.append(parse_of(hint))
        else:
            names.append(parameter.name)
            optional.append(parse_of(hint))
    return Arguments(tuple(names), any((required, optional, found)), tuple(required), tuple(optional), **found)


def parse_of(hint: Any) -> Parse:
    """How text becomes a value of a type.

    Raises:
        TypeError: no key can carry it.
    """
    kinds = [kind for kind in get_args(hint) if kind is not NoneType] if isinstance(hint, UnionType) else [hint]
    if len(kinds) == 1:
        kind = kinds[0]
        if kind in PARSERS:
            return PARSERS[kind]
        if get_origin(kind) is Literal:
            return partial(_one_of, get_args(kind))
    raise TypeError(f"no key can carry {hint}")


def read(arguments: Arguments, args: Sequence[str], values: Sequence[str]) -> tuple[list[object], dict[str, object]]:
    """The positional arguments and the choice that a handler is called with.

    Raises:
        Refusal: `out_of_date`, when the request carries something else than the handler takes.
    """
    if not arguments.anything:
        return [], {}
    parsers = [*arguments.required, *arguments.optional]
    if len(args) < len(arguments.required) or (arguments.rest is None and len(args) > len(parsers)):
        raise Refusal(Reason.OUT_OF_DATE)
    more = [arguments.rest] * (len(args) - len(parsers)) if arguments.rest else []
    try:
        positional = [parse(text) for parse, text in zip([*parsers, *more], args, strict=False)]
        if arguments.picked is None:
            return positional, {}
        chosen = tuple(arguments.picked(value) for value in values)
    except ValueError:
        raise Refusal(Reason.OUT_OF_DATE) from None
    if arguments.picks_many:
        return positional, {"picked": chosen}
    if not chosen and arguments.may_pick_none:
        return positional, {}
    if len(chosen) != 1:
        raise Refusal(Reason.OUT_OF_DATE)
    return positional, {"picked": chosen[0]}


def given(*ways: T | None) -> T:
    """The value that came, where a handler can be reached in several ways (a list, a button).

    Raises:
        Refusal: `out_of_date`, when none did.
    """
    for value in ways:
        if value is not None:
            return value
    raise Refusal(Reason.OUT_OF_DATE)


def _text(text: str) -> str:
    if len(text) > LONGEST:
        raise ValueError("too long")
    return text


def _whole(text: str) -> int:
    if not WHOLE.fullmatch(text) or int(text) > LARGEST:
        raise ValueError("not a whole number that fits")
    return int(text)


def _decimal(text: str) -> Decimal:
    if not DECIMAL.fullmatch(text):
        raise ValueError("not a number that fits")
    return Decimal(text)


def _truth(text: str) -> bool:
    if text not in ("0", "1", "False", "True"):
        raise ValueError("neither true nor false")
    return text in ("1", "True")


def _one_of(allowed: tuple[str, ...], text: str) -> str:
    return allowed[allowed.index(text)]


PARSERS: dict[Any, Parse] = {str: _text, int: _whole, Decimal: _decimal, bool: _truth}


def takes(arguments: Arguments, args: Sequence[str]) -> bool:
    """Whether a handler takes these positional arguments, whatever is picked."""
    try:
        read(replace(arguments, picked=None), args, ())
    except Refusal:
        return False
    return True
