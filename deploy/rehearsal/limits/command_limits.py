"""Limits of slash commands as the bot registers them, by the public page on application commands."""

from __future__ import annotations

from typing import Any

from deploy.rehearsal.limits.field_checks import FieldChecks, Place
from deploy.rehearsal.world.api_errors import Json

CHAT, USER, MESSAGE = 1, 2, 3
SUB_COMMAND, GROUP, STRING, INTEGER, BOOLEAN = 1, 2, 3, 4, 5
PERSON, CHANNEL, ROLE, MENTIONABLE, NUMBER, ATTACHMENT = 6, 7, 8, 9, 10, 11
COUNTS = {CHAT: 100, USER: 15, MESSAGE: 15}
BIGGEST = 2**53 - 1
WHOLE_COMMAND = 8000
CREATES_A_DAY = 200
"""New commands of a guild, or of all of them together."""


def check_commands(commands: list[Any]) -> None:
    """Raise `Refused` (50035) if the platform would not register this whole set of commands."""
    checks = FieldChecks()
    seen: set[tuple[int, str]] = set()
    counts = dict.fromkeys(COUNTS, 0)
    for index, command in enumerate(commands):
        place: Place = (index,)
        if not isinstance(command, dict):
            checks.flag(place, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
            continue
        kind = command.get("type") or CHAT
        if kind not in COUNTS:
            checks.choice((*place, "type"), "Value must be one of {1, 2, 3}.")
            continue
        counts[kind] += 1
        key = (kind, str(command.get("name")))
        if key in seen:
            checks.flag(
                (*place, "name"),
                "APPLICATION_COMMANDS_DUPLICATE_NAME",
                "Application command names must be unique",
            )
        seen.add(key)
        _check_command(checks, command, kind, place)
    for kind, count in counts.items():
        if count > COUNTS[kind]:
            checks.flag((), "BASE_TYPE_MAX_LENGTH", f"Must be {COUNTS[kind]} or fewer in length.")
    checks.raise_problems()


def _check_command(checks: FieldChecks, command: Json, kind: int, place: Place) -> None:
    name = checks.text(command, "name", place, least=1, most=32, required=True)
    if kind != CHAT:
        if command.get("description"):
            checks.flag((*place, "description"), "BASE_TYPE_MAX_LENGTH", "Must be 0 or fewer in length.")
        return
    _check_name(checks, name, (*place, "name"))
    checks.text(command, "description", place, least=1, most=100, required=True)
    options = checks.items(command, "options", place, most=25)
    _check_options(checks, options, (*place, "options"), depth=0)
    if _size(command) > WHOLE_COMMAND:
        checks.flag(place, "APPLICATION_COMMAND_TOO_LARGE", "Command exceeds maximum size (8000)")


def _check_options(checks: FieldChecks, options: list[Any], place: Place, *, depth: int) -> None:
    names: set[str] = set()
    optional_seen = False
    kinds = {option.get("type") for option in options if isinstance(option, dict)}
    if kinds & {SUB_COMMAND, GROUP} and kinds - {SUB_COMMAND, GROUP}:
        message = "Sub-command and sub-command group option types are mutually exclusive to all other types"
        checks.flag(place, "APPLICATION_COMMAND_OPTIONS_TYPE_INVALID", message)
    for index, option in enumerate(options):
        here = (*place, index)
        if not isinstance(option, dict):
            checks.flag(here, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
            continue
        name = checks.text(option, "name", here, least=1, most=32, required=True)
        _check_name(checks, name, (*here, "name"))
        checks.text(option, "description", here, least=1, most=100, required=True)
        if name in names:
            checks.flag((*here, "name"), "APPLICATION_COMMAND_OPTIONS_NAME_INVALID", "Option names must be unique")
        names.add(str(name))
        if option.get("required") and optional_seen:
            message = "Required options must be placed before non-required options"
            checks.flag((*here, "required"), "APPLICATION_COMMAND_OPTIONS_REQUIRED_INVALID", message)
        optional_seen = optional_seen or not option.get("required")
        _check_option(checks, option, here, depth)


def _check_option(checks: FieldChecks, option: Json, place: Place, depth: int) -> None:
    kind = option.get("type")
    checks.one_of(option, "type", place, tuple(range(1, 12)), required=True)
    if kind in (SUB_COMMAND, GROUP):
        if depth >= 2 or (kind == GROUP and depth >= 1):
            checks.flag((*place, "type"), "APPLICATION_COMMAND_OPTIONS_TYPE_INVALID", "Nested too deeply")
        nested = checks.items(option, "options", place, most=25, least=1 if kind == GROUP else 0)
        _check_options(checks, nested, (*place, "options"), depth=depth + (1 if kind == GROUP else 2))
        return
    choices = checks.items(option, "choices", place, most=25)
    if choices and option.get("autocomplete"):
        message = "Autocomplete and choices exclude each other"
        checks.flag((*place, "choices"), "APPLICATION_COMMAND_AUTOCOMPLETE_WITH_CHOICES", message)
    check_choices(checks, choices, (*place, "choices"), kind)
    if kind == STRING:
        checks.number(option, "min_length", place, least=0, most=6000)
        checks.number(option, "max_length", place, least=1, most=6000)
    elif kind == INTEGER:
        checks.number(option, "min_value", place, least=-BIGGEST, most=BIGGEST)
        checks.number(option, "max_value", place, least=-BIGGEST, most=BIGGEST)


def check_choices(checks: FieldChecks, choices: list[Any], place: Place, kind: Any) -> None:
    """Note choices (or autocomplete suggestions) with texts, numbers or names that do not fit."""
    names: set[Any] = set()
    for index, choice in enumerate(choices):
        here = (*place, index)
        if not isinstance(choice, dict):
            checks.flag(here, "MODEL_TYPE_CONVERT", "Only dictionaries may be used in a ModelType")
            continue
        name = checks.text(choice, "name", here, least=1, most=100, required=True)
        if kind == STRING:
            checks.text(choice, "value", here, most=100, required=True)
        elif kind == INTEGER:
            checks.number(choice, "value", here, least=-BIGGEST, most=BIGGEST, required=True)
        if name in names:
            message = "Choice names must be unique"
            checks.flag((*here, "name"), "APPLICATION_COMMAND_OPTIONS_CHOICE_NAMES_UNIQUE", message)
        names.add(name)


def _check_name(checks: FieldChecks, name: str | None, place: Place) -> None:
    if name and not all(_allowed(letter) for letter in name):
        checks.flag(place, "APPLICATION_COMMAND_INVALID_NAME", "Command name is invalid")
    elif name and name != name.lower():
        checks.flag(place, "APPLICATION_COMMAND_INVALID_NAME", "Command name must be lower-case")


def _allowed(letter: str) -> bool:
    in_script = "\u0900" <= letter <= "\u097f" or "\u0e00" <= letter <= "\u0e7f"
    return letter.isalnum() or letter in "-_'" or in_script


def _size(item: Json) -> int:
    """Return the characters that count toward a command's size, the longest localisation of each text."""
    total = 0
    for key in ("name", "description"):
        texts = [str(item.get(key) or ""), *map(str, (item.get(f"{key}_localizations") or {}).values())]
        total += max(map(len, texts))
    for choice in item.get("choices") or []:
        total += len(str(choice.get("name", ""))) + len(str(choice.get("value", "")))
    return total + sum(_size(option) for option in item.get("options") or [] if isinstance(option, dict))
