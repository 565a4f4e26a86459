"""In which line of a TOML file a key stands, which the standard reader does not tell."""

import re
from collections.abc import Iterator

from bot.rules.plan.plan_problems import Path

_PART = r"""(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')"""
_KEY = rf"{_PART}(?:\s*\.\s*{_PART})*"
_TABLE = re.compile(rf"\s*\[\s*({_KEY})\s*\]")
_LIST_ENTRY = re.compile(rf"\s*\[\[\s*({_KEY})\s*\]\]")
_VALUE = re.compile(rf"\s*({_KEY})\s*=")
TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}' r"|'''.*?'{3,5}" r'|"(?:\\.|[^"\\\n])*"' r"|'[^'\n]*'" r"|#[^\n]*|[\[\]{}]|\n",
    re.DOTALL,
)
"""What a TOML file is made of as far as lines and brackets go: texts, remarks, brackets, line ends."""


def line_of(path: Path, lines: dict[Path, int]) -> int | None:
    """The line of `path`, or of what it stands in where the key itself has none."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


def key_lines(toml: str) -> dict[Path, int]:
    """The line, from 1, of each table and key that begins a line of correct TOML; inline tables count as values."""
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    for number, text in _statements(toml):
        if entry := _LIST_ENTRY.match(text):
            listed = _resolve(entry[1], counts)
            counts[listed] = counts.get(listed, -1) + 1
            table = (*listed, counts[listed])
            lines.setdefault(listed, number)
            lines[table] = number
        elif header := _TABLE.match(text):
            table = _resolve(header[1], counts)
            lines.setdefault(table, number)
        elif value := _VALUE.match(text):
            lines[table + _parts(value[1])] = number
    return lines


def _statements(toml: str) -> Iterator[tuple[int, str]]:
    """Each statement with the line it begins on; a string or list may run over several lines."""
    number, begun, start, depth = 1, 1, 0, 0
    for token in TOKEN.finditer(toml + "\n"):
        text = token[0]
        if text in "[{":
            depth += 1
        elif text in "]}":
            depth -= 1
        number += text.count("\n")
        if text == "\n" and depth == 0:
            yield begun, toml[start : token.start()]
            begun, start = number, token.end()


def _resolve(dotted: str, counts: dict[Path, int]) -> Path:
    """The path of a header: a list met on the way stands for its last entry so far."""
    path: Path = ()
    parts = _parts(dotted)
    for place, part in enumerate(parts, start=1):
        path = (*path, part)
        if path in counts and place < len(parts):
            path = (*path, counts[path])
    return path


def _parts(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip("\"'") for part in re.findall(_PART, dotted))
