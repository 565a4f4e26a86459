"""Why a name will not do, and what to type instead."""

REFUSALS = {
    "name_short": "That name is too short. Use {shortest} to {longest} letters.",
    "name_long": "That name is too long. Use {shortest} to {longest} letters.",
    "name_markup": "Please leave out the sign {character} and use letters, digits and spaces.",
    "name_link": "A name cannot hold a link. Please use letters, digits and spaces.",
    "name_hidden": "That name holds a sign that nobody can see. Please type it anew.",
    "name_marks": "That name has too many accents on one letter. Please type it with fewer.",
    "name_letters": "A name needs at least one letter or digit.",
    "name_taken": "**{name}** is taken, or looks too much like **{other}**. Please pick another name.",
}
