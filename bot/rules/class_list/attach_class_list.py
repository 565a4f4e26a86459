"""A class list is attached: what a file says, all its mistakes, what is kept of the old list, who is on the new."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from bot.rules.class_list.spreadsheet_or_csv import TableRow
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import check_person_name, is_hidden, name_keys, tidy_name
from storage.records.class_list import ClassListEntry

MOST_COLUMNS = 10
LONGEST_HEADING = 40
NAME_HEADINGS = frozenset(("name", "student", "student name", "full name"))
SECTION_HEADINGS = frozenset(("section", "class", "group", "form"))
YES = frozenset(("yes", "y", "true", "1", "x", "✓", "✔"))
NO = frozenset(("no", "n", "false", "0", "", "-"))


@dataclass(frozen=True)
class Listed:
    """One name of the list, with its yes/no columns by heading."""

    name: str
    section: str
    answers: Mapping[str, bool]

    @property
    def folded(self) -> str:
        """The key under which the name stands once in its section."""
        return name_keys(self.name).folded


@dataclass(frozen=True)
class NewList:
    """A whole list without a mistake."""

    columns: tuple[str, ...]
    names: tuple[Listed, ...]


Row = tuple[str, str, str, Mapping[str, bool]]
"""A name as it is kept: name, folded name, section, and yes or no by column."""


def kept_rows(new: NewList) -> list[Row]:
    """What stands in the place of the list there was: only what the file says.

    Nothing is kept of the earlier list: no name, no column, no yes that the coach has noted.
    """
    return [(one.name, one.folded, one.section, one.answers) for one in new.names]


def on_the_list(name: str, section: str, entries: Iterable[ClassListEntry]) -> ClassListEntry | None:
    """The name on the list that a student is who has signed up: the same name in that section, free yet."""
    folded = name_keys(name).folded
    return next(
        (one for one in entries if one.student_id is None and (one.section, one.folded) == (section, folded)), None
    )


class BadList(Exception):
    """The list has mistakes: all of them, each with the number of its row."""

    def __init__(self, mistakes: Sequence[tuple[int, Refusal]]) -> None:
        super().__init__(f"{len(mistakes)} mistakes")
        self.mistakes = tuple(mistakes)


@dataclass(frozen=True)
class _Heading:
    name: int
    section: int | None
    columns: Mapping[int, str]


def read_class_list(rows: Sequence[TableRow], sections: Sequence[str]) -> NewList:
    """The list in a table whose first row holds the headings; a plan with one section needs no column for it.

    Raises:
        BadList: the list has mistakes.
    """
    heading = _read_heading(rows[0], len(sections) == 1)
    names: list[Listed] = []
    mistakes: list[tuple[int, Refusal]] = []
    first_in: dict[tuple[str, str], int] = {}
    for row in rows[1:]:
        wrong: list[Refusal] = []
        one = _read_row(row, heading, sections, wrong)
        mistakes += [(row.number, refusal) for refusal in wrong]
        if one is None:
            continue
        place = first_in.setdefault((one.section, one.folded), row.number)
        if place != row.number:
            fields = {"name": one.name, "section": one.section, "other": place}
            mistakes.append((row.number, Refusal(Reason.LIST_TWICE, **fields)))
        names.append(one)
    if mistakes:
        raise BadList(mistakes)
    return NewList(tuple(heading.columns.values()), tuple(names))


def _read_heading(row: TableRow, one_section: bool) -> _Heading:
    """Which column is what; every column that is neither name nor section holds yes and no."""
    cells = [_without_hidden(cell) for cell in row.cells]
    words = [cell.casefold() for cell in cells]
    mistakes: list[Refusal] = []
    name = next((place for place, word in enumerate(words) if word in NAME_HEADINGS), None)
    section = next((place for place, word in enumerate(words) if word in SECTION_HEADINGS), None)
    if name is None or (section is None and not one_section):
        mistakes.append(Refusal(Reason.LIST_HEADINGS))
    columns = {place: cell for place, cell in enumerate(cells) if cell and place not in (name, section)}
    if len(columns) > MOST_COLUMNS:
        mistakes.append(Refusal(Reason.LIST_COLUMNS, most=MOST_COLUMNS))
    seen: set[str] = set()
    for place, cell in columns.items():
        if place in row.formulas or len(cell) > LONGEST_HEADING:
            mistakes.append(Refusal(Reason.LIST_HEADING, heading=cell, most=LONGEST_HEADING))
        elif words[place] in seen:
            mistakes.append(Refusal(Reason.LIST_HEADING_TWICE, heading=cell))
        seen.add(words[place])
    if mistakes or name is None:
        raise BadList([(row.number, refusal) for refusal in mistakes])
    return _Heading(name, section, columns)


def _without_hidden(heading: str) -> str:
    """A heading as it is seen: control characters and what turns the direction of writing are no part of it."""
    return "".join(one for place, one in enumerate(heading) if not is_hidden(heading, place)).strip()


def _read_row(row: TableRow, heading: _Heading, sections: Sequence[str], wrong: list[Refusal]) -> Listed | None:
    """One student; what is wrong with the row is added to `wrong`."""
    name = ""
    if heading.name in row.formulas:
        wrong.append(Refusal(Reason.LIST_FORMULA))
    else:
        try:
            name = check_person_name(_at(row, heading.name))
        except Refusal as refusal:
            wrong.append(refusal)
    typed = sections[0] if heading.section is None else _at(row, heading.section)
    known = {tidy_name(section).casefold(): section for section in sections}
    section = known.get(tidy_name(typed).casefold())
    if section is None:
        why = Reason.LIST_SECTION if typed else Reason.LIST_NO_SECTION
        wrong.append(Refusal(why, section=typed, sections=", ".join(sections)))
    answers = {}
    for place, column in heading.columns.items():
        said = _at(row, place).casefold()
        if said not in YES and said not in NO:
            wrong.append(Refusal(Reason.LIST_YES_NO, column=column, said=_at(row, place)))
        answers[column] = said in YES
    return Listed(name, section, answers) if name and section else None


def _at(row: TableRow, place: int) -> str:
    return row.cells[place] if place < len(row.cells) else ""
