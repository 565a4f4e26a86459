"""Names of squads and people in words: what a form says of them, and why one cannot be taken."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.squads.names import LONGEST, SHORTEST
from storage.records.message import TextField

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
