"""What was opened, or looked at, before somebody changed it: said when it is sent, chosen or pressed all the same.

A form that opens with a stored text carries a digest of what it opened with. Whoever sends it after somebody else has
changed the text reads what stands now, who changed it last, and gets back what was typed, so that neither is lost.
"""

from collections.abc import Mapping
from datetime import datetime

from bot.rules.core.changed_meanwhile import is_same
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import AnyKey
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.plain_text import escape, quoted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full
from storage.records.message import Button, FileField, Form, FormField, Message, RadioField, SelectField, TextField

REFUSALS = {
    Reason.SOMEONE_WAS_QUICKER: "Someone was quicker and that has just changed. Please look again and retry.",
}
LIST_CHANGED = "**Something has changed after you opened this list**, so nothing was set. Here it is as it is now.\n"
"""Stands above a list that is shown again, because what was chosen was chosen from another one."""
PLAN_CHANGED = "**The plan has changed since you looked**, so nothing is done yet. This is what would be said now:\n"
"""Stands above a step of the try-out that is shown again."""
YOU, YOUR_COACH, SOMEBODY_ELSE = "you", "your coach", "somebody else"
THIS, PLAN = "This", "The plan"
"""What was changed, at the beginning of a sentence."""


def stamped(form: Form) -> Form:
    """The same form, with what it opens with in its key."""
    return form.model_copy(update={"key": f"{form.key}:{stamp_of(form)}"})


def last_changed(what: str, by: str, at: datetime) -> str:
    """Who changed it last; `by` is one of the words above, or a name as `named` writes it."""
    return f"{what} was last changed by {by}, {full(at)}."


def named(name: str) -> str:
    """A person's name within a sentence."""
    return f"**{escape(name)}**"


def both_texts(now: Form, typed: Mapping[str, str], last: str, file: bool, opens: AnyKey, *about: object) -> Message:
    """What stands now, and what was typed.

    `last` says who changed it, `file` whether one came along; `opens`, with `about`, opens the form.
    """
    head = (
        f"**{escape(now.title)}: this was changed after you had opened the form.** So nothing of yours was saved, but "
        "nothing is lost either: what stands now, and what you wrote."
    )
    lines = [f"{head} {last}".rstrip()]
    for one in differing(now, typed):
        lines.append(f"**{escape(one.label)}** says now:\n{_shown(one, _stands(one))}")
        lines.append(f"You wrote:\n{_shown(one, typed.get(one.key, ''))}")
    if file:
        lines.append("Please attach your file again, too: it was not kept.")
    open_again = Button(key=key(opens, *about), label="Open it as it stands now", style="main")
    return whole_message("\n".join(lines), ((open_again,),))


def differing(now: Form, typed: Mapping[str, str]) -> list[FormField]:
    """The fields in which something else was typed than stands now."""
    found = [one for one in now.fields if not isinstance(one, FileField)]
    return [one for one in found if not is_same(typed.get(one.key, ""), _stands(one))]


def stamp_of(form: Form) -> str:
    """A digest of what a form opens with."""
    return shown_stamp([(one.key, _stands(one)) for one in form.fields if _stands(one)])[:12]


def _stands(field: FormField) -> str:
    if isinstance(field, FileField):
        return ""
    if isinstance(field, TextField):
        return field.value
    return " ".join(one.value for one in field.choices if one.chosen)


def _shown(field: FormField, text: str) -> str:
    """As people read it: of a choice its label."""
    if isinstance(field, RadioField | SelectField):
        labels = {one.value: one.label for one in field.choices}
        text = ", ".join(labels.get(value, value) for value in text.split())
    return quoted(escape(text.strip())) if text.strip() else "> (nothing)"
