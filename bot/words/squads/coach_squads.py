"""A squad that the coach founds."""

from bot.words.core.choices import choice
from bot.words.core.class_keys import ClassKey
from bot.words.core.keys import key
from bot.words.squads.sign_up import NAME_HINT
from storage.records.message import Form, SelectField, TextField
from storage.records.plan import Plan


def found_form(plan: Plan) -> Form:
    """What it is called, and its section."""
    choices = tuple(choice(one, one) for one in plan.sections)
    return Form(
        key=key(ClassKey.COACH_FOUNDED),
        title="Found a squad",
        fields=(
            TextField(key="squad", label="Name of the squad", hint=NAME_HINT, most=80),
            SelectField(key="section", label="Section", choices=choices),
        ),
    )
