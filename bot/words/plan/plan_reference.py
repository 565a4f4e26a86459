"""The reference of the plan file, made from the models: every key with what it means, may be, is without being said."""

from collections.abc import Iterator
from typing import Any

from bot.rules.plan.plan_key_checks import MEASURES
from bot.words.plan.plan_key_meanings import MEANINGS
from bot.words.plan.plan_key_meanings import TABLES as ABOUT
from bot.words.plan.plan_schema import Schema, plan_schema, tables
from bot.words.plan.plan_value_examples import hint

HEAD = """\
# The plan file

A plan is a text file in [TOML](https://toml.io): `key = value` lines below headings in brackets, remarks behind `#`.

- `tenbell plan new my-plan.toml` asks some questions and writes a plan with remarks that you can change.
- `tenbell plan check my-plan.toml` lists every mistake with its line and mend, or shows what the plan means.
- `tenbell plan schema` writes a JSON Schema, with which many editors complete and check while you type.
- Two whole plans to copy from: `bot/words/plan/builtin_plan.toml` (the plan that is ready to use) and
  `bot/words/plan/bridges_and_debate_plan.toml` (everything that the first one does not show).

This page is printed by `tenbell plan reference`. A key without a default must be there, unless the column says "none".
"""


def plan_reference() -> str:
    """The whole page, in Markdown."""
    schema = plan_schema()
    parts = [HEAD]
    for path in ABOUT:
        parts += ["", f"## {_heading(path)}", "", ABOUT[path], "", *_table(path, schema)]
    return "\n".join(parts) + "\n"


def _heading(path: tuple[str, ...]) -> str:
    if not path:
        return "The top of the file"
    name = ".".join(path)
    listed = path[0] in {"events", "place_groups"} or path[-1] in {"lessons", "breaks"}
    several = listed and path[-1] != "equipment"
    return f"`[[{name}]]`" if several else f"`[{name}]`"


def _table(path: tuple[str, ...], schema: Schema) -> Iterator[str]:
    found = {name: model for where, name in tables() if where == path for model in (_model(name, path, schema),)}
    several = len(found) > 1
    yield f"| Key | Meaning | Write | Bounds | Default |{' For |' if several else ''}"
    yield f"|---|---|---|---|---|{'---|' if several else ''}"
    for key in dict.fromkeys(key for model in found.values() for key in model["properties"]):
        having = {name: model for name, model in found.items() if key in model["properties"]}
        field = next(iter(having.values()))["properties"][key]
        defaults = list(dict.fromkeys(_default(key, model) for model in having.values()))
        cells = [f"`{key}`", MEANINGS[(*path, key)], hint((*path, key)), _bounds(field), " or ".join(defaults)]
        if several:
            kinds = [kind for kind, measure in MEASURES.items() if measure.__name__ in having]
            cells.append("all" if len(kinds) == len(MEASURES) else ", ".join(kinds))
        yield "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _model(name: str, path: tuple[str, ...], schema: Schema) -> Schema:
    return schema if path == () else schema["$defs"][name]


def _default(key: str, model: Schema) -> str:
    field = model["properties"][key]
    if key in model.get("required", ()):
        return "must be there"
    if "default" not in field or field["default"] in ([], {}, ""):
        return "none"
    return f"`{_toml(field['default'])}`"


def _toml(value: Any) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(one)}" for key, one in value.items()) + " }"
    return str(value) if isinstance(value, int | float) or _clock(value) else f'"{value}"'


def _clock(value: object) -> bool:
    return isinstance(value, str) and len(value) == 8 and value[2] == value[5] == ":"


def _bounds(field: Schema) -> str:
    if "enum" in field:
        return ", ".join(f'`"{one}"`' for one in field["enum"])
    said = []
    for low, high, unit in (
        ("minimum", "maximum", ""),
        ("minLength", "maxLength", " characters"),
        ("minItems", "maxItems", " entries"),
    ):
        if high in field:
            above = "above 0, " if "exclusiveMinimum" in field else ""
            low_end = f"{_number(field[low])} to " if low in field else f"{above}at most "
            said.append(f"{low_end}{_number(field[high])}{unit}")
    return ", ".join(said)


def _number(value: float) -> str:
    return f"{value:g}" if value < 100_000 else f"{value:.0f}"
