"""Code names: two harmless words that stand for a student on a public board."""

COLOURS = (
    "Amber", "Azure", "Beige", "Bronze", "Cherry", "Copper", "Coral", "Cream", "Crimson", "Golden", "Green", "Indigo",
    "Ivory", "Jade", "Lemon", "Lilac", "Lime", "Maroon", "Mint", "Navy", "Olive", "Orange", "Peach", "Pearl", "Plum",
    "Purple", "Ruby", "Rusty", "Sandy", "Silver", "Teal", "Violet",
)  # fmt: skip
ANIMALS = (
    "Badger", "Beaver", "Bison", "Camel", "Crane", "Dolphin", "Falcon", "Ferret", "Finch", "Gecko", "Heron", "Ibex",
    "Jackdaw", "Koala", "Lemur", "Llama", "Lynx", "Magpie", "Marten", "Newt", "Ocelot", "Otter", "Panda", "Pelican",
    "Puffin", "Quail", "Raven", "Robin", "Salmon", "Tapir", "Walrus", "Yak",
)  # fmt: skip
STEP = 389
"""Odd, so that 1024 students in a row get 1024 different names."""
LONGEST = 15
"""Letters of the longest code name, with its space."""


def code_name(student_id: int) -> str:
    """The code name of a student; two students whose ids are less than 1024 apart never share one.

    It hides a name from whoever passes by. Whoever knows this program and in which order students came can undo it.
    """
    place = student_id * STEP % (len(COLOURS) * len(ANIMALS))
    return f"{COLOURS[place // len(ANIMALS)]} {ANIMALS[place % len(ANIMALS)]}"
