"""Names of squads and people, and sections: the fields of forms for them, and why a name cannot be taken."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import LONGEST, SHORTEST
from bot.words.core.choices import choice
from bot.words.core.plain_text import cut
from storage.records.message import SelectField, TextField
from storage.records.plan import Plan

NAME_HINT = f"{SHORTEST} to {LONGEST} letters; kind, and no full names."

NAME = TextField(key="name", label="Your name", hint="As your class knows you.", least=SHORTEST, most=LONGEST)
REFUSALS = {
    Reason.NAME_SHORT: "That name is too short. Use {shortest} to {longest} letters.",
    Reason.NAME_LONG: "That name is too long. Use {shortest} to {longest} letters.",
    Reason.NAME_MARKUP: "Please leave out the sign {character} and use letters, digits and spaces.",
    Reason.NAME_LINK: "A name cannot hold a link. Please use letters, digits and spaces.",
    Reason.NAME_HIDDEN: "That name has an invisible letter in it. Please type it again.",
    Reason.NAME_MARKS: "That name has too many accents on one letter. Please type it with fewer.",
    Reason.NAME_LETTERS: "A name needs at least one letter or digit.",
    Reason.NAME_TAKEN: "**{name}** will not do: there is a squad called **{other}** already, and no two names may be "
    "alike. Please pick another name.",
}


def name_field(proposed: str) -> TextField:
    """Your name, with what is proposed in it."""
    return NAME.model_copy(update={"value": cut(proposed, LONGEST)})


def section_field(plan: Plan, chosen: str = "") -> SelectField:
    """Your section; nothing is chosen at first where `chosen` is none of them."""
    choices = tuple(choice(one, one, chosen=one == chosen) for one in plan.sections)
    return SelectField(key="section", label="Your section", choices=choices)
