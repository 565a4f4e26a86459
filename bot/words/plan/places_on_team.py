"""How many places there are, for whom, and what a squad needs to win one."""

from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, exact
from bot.words.core.plain_text import escape
from storage.records.plan import Plan


def places_text(plan: Plan) -> str:
    """As in `2 places`, or `1 place for 7 Ash and 7 Birch, 2 places for 8 Elm` with more groups."""
    if not plan.place_groups:
        return count(plan.places, "place")
    groups = [f"{count(group.places, 'place')} for {sections_text(group.sections)}" for group in plan.place_groups]
    return listing(groups) if len(groups) < 3 else ", ".join(groups)


def sections_text(sections: tuple[str, ...]) -> str:
    """Sections by name."""
    return listing([escape(one) for one in sections])


def minimum_text(plan: Plan) -> str:
    """What a squad needs at least, as a sentence; empty where the plan sets no minimum."""
    if plan.qualify is None:
        return ""
    points = "1 point" if plan.qualify == 1 else f"{exact(plan.qualify)} points"
    return f"A squad needs at least {points} in total to win a place."


def left_open_text(plan: Plan, held: int) -> str:
    """What becomes of places that nobody holds because of the minimum; empty where there are none."""
    left = plan.places - held
    if left <= 0 or plan.qualify is None:
        return ""
    stays = "place stays open" if left == 1 else "places stay open"
    return f"{left} {stays}: no other squad that could win it has {exact(plan.qualify)} points or more."
