"""A class list is attached, with all that can be wrong with its file."""

from collections.abc import Sequence

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.class_list.class_list_admin import ATTACH
from bot.words.core import refusals
from bot.words.core.buttons import BACK, PEOPLE
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.text_as_file import whole_message
from storage.records.message import FileField, Form, Message

REFUSALS = {
    Reason.LIST_LARGE: "That file is too large for a class list ({most} MB is the most). Keep only the columns name, "
    "section and yes/no in it.",
    Reason.LIST_LOCKED: "That workbook has a password, so I cannot read it. Save a copy without a password, and attach "
    "that.",
    Reason.LIST_OLD_FORMAT: "That is an old spreadsheet file. Save it as .xlsx or as CSV, and attach that.",
    Reason.LIST_BROKEN: "I cannot read that file: it is no spreadsheet (.xlsx) and no complete CSV file. Save it anew "
    "as .xlsx, and attach that.",
    Reason.LIST_ENCODING: "That file is not written in UTF-8, so names with accents would be spoilt. Save it as .xlsx, "
    "or as “CSV UTF-8”, and attach that.",
    Reason.LIST_EMPTY: "I find no names in that file. Attach a CSV file or a workbook (.xlsx). Its first row has the "
    "headings (name, section), each row below one student.",
    Reason.LIST_ROWS: "That list has more than {most} rows. Keep only the students who may sign up here.",
    Reason.LIST_HEADINGS: "There must be a column with the heading “name” and one with the heading “section”.",
    Reason.LIST_COLUMNS: "There are more than {most} columns beside name and section. Keep only what you need.",
    Reason.LIST_HEADING: "The heading “{heading}” is a formula, or longer than {most} letters.",
    Reason.LIST_HEADING_TWICE: "The heading “{heading}” stands there twice.",
    Reason.LIST_TWICE: "**{name}** of section {section} stands in row {other} already. Add a letter to tell them "
    "apart, or take one out.",
    Reason.LIST_FORMULA: "The name is a formula. Type the name itself.",
    Reason.LIST_NO_SECTION: "There is no section in this row. The plan has: {sections}.",
    Reason.LIST_SECTION: "The plan has no section “{section}”. It has: {sections}.",
    Reason.LIST_YES_NO: "The answer “{said}” under “{column}” is neither yes nor no. Write yes, no, or leave it empty.",
}

MOST_MISTAKES_SHOWN = 60
"""Of a file; one with more is easier to make anew."""


def file_form(replaces: bool) -> Form:
    """Attach the file."""
    hint = "Takes the place of the list there is." if replaces else "Spreadsheet (.xlsx) or CSV: name, section, yes/no."
    return Form(
        key=key(ClassKey.LIST_USE),
        title="Attach a class list",
        fields=(FileField(key="list", label="The class list", hint=hint),),
    )


def mistakes(found: Sequence[tuple[int, Refusal]]) -> Message:
    """Everything that is wrong with the file, by row; nothing has been changed."""
    lines = [f"- Row {row}: {refusals.message(refusal).text}" for row, refusal in found[:MOST_MISTAKES_SHOWN]]
    if len(found) > MOST_MISTAKES_SHOWN:
        lines.append(f"- and {len(found) - MOST_MISTAKES_SHOWN} more")
    text = f"**The list was not taken: {count(len(found), 'mistake')}.** Nothing has changed. Correct the file, then "
    return whole_message(f"{text}attach it again.\n" + "\n".join(lines), ((ATTACH, PEOPLE, BACK),))


def taken(names: int, linked: int, strangers: int) -> str:
    """The list counts from now on."""
    before = f" Of those who had signed up before, {linked} on it, {strangers} not." if linked or strangers else ""
    return f"The list is in: {count(names, 'name')}.{before} From now on students pick their own name."
