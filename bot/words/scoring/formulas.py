"""The page of formulas that goes along with every results packet."""

from importlib.resources import files


def formulas_text() -> str:
    """How every number of a result is made, as a text that a stranger can recompute a packet by."""
    return files("bot.words.scoring").joinpath("formulas.md").read_text("utf-8")
