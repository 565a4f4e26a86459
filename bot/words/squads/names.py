"""Why a name will not do, and what to type instead."""

from bot.rules.core.reasons import Reason

REFUSALS = {
    Reason.NAME_SHORT: "That name is too short. Use {shortest} to {longest} letters.",
    Reason.NAME_LONG: "That name is too long. Use {shortest} to {longest} letters.",
    Reason.NAME_MARKUP: "Please leave out the sign {character} and use letters, digits and spaces.",
    Reason.NAME_LINK: "A name cannot hold a link. Please use letters, digits and spaces.",
    Reason.NAME_HIDDEN: "That name has an invisible letter in it. Please type it again.",
    Reason.NAME_MARKS: "That name has too many accents on one letter. Please type it with fewer.",
    Reason.NAME_LETTERS: "A name needs at least one letter or digit.",
    Reason.NAME_TAKEN: "**{name}** is taken, or looks too much like **{other}**. Please pick another name.",
}
