"""The first round at the practice table, where the plan has a lot say who chooses first.

With the brief the list of squads and the source of the key are published, and booking waits. Once the key is known and
drawn with, each squad may book one turn from its own moment on, one `STEP` after the squad before it; when the last
one could, the usual rules begin. If nobody draws in time (`WAIT`), booking opens for all without a lot.
"""

import re
from collections.abc import Collection
from datetime import datetime, timedelta

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.random_draw import draw, key_text
from storage.records.plan import Practice
from storage.records.practice import PracticeDraw

STEP = timedelta(minutes=10)
"""So long after the squad before it a squad may book."""
WAIT = timedelta(days=1)
"""So long after the list is published the lot can be drawn; then booking opens for all."""
LONGEST_KEY = 200
"""Characters of a key, as it is typed."""
_VALUE = re.compile(r"[0-9A-Za-z]+")
_KEY = re.compile(r"[0-9A-Za-z\s.,;/-]+")


def read_key(typed: str) -> str:
    """The key that a coach has typed: values apart by spaces, commas or points, sources apart by slashes.

    Raises:
        Refusal: `draw_key`, when there is no value in it, or something else than letters and digits.
    """
    text = typed.strip()
    sources = [found for part in text.split("/") if (found := _VALUE.findall(part))]
    if not sources or len(text) > LONGEST_KEY or not _KEY.fullmatch(text):
        raise Refusal(Reason.DRAW_KEY)
    return key_text(sources)


def order(lot: PracticeDraw) -> tuple[int, ...]:
    """The squads in the order drawn; empty until then."""
    return () if lot.key is None else draw(lot.pool, lot.key)


def opens_for(lot: PracticeDraw, squad: int) -> datetime:
    """From when a squad may book; whoever came later than the list books when the round is over."""
    drawn = order(lot)
    return round_ends(lot) if squad not in drawn else _begins(lot) + STEP * drawn.index(squad)


def round_ends(lot: PracticeDraw) -> datetime:
    """From when the usual rules count for all."""
    return lot.published_at + WAIT if lot.drawn_at is None else _begins(lot) + STEP * len(lot.pool)


def is_wanted(practice: Practice | None) -> bool:
    """Whether the plan has a lot say who chooses first."""
    return practice is not None and practice.first_round == "draw"


def may_draw(lot: PracticeDraw | None, now: datetime) -> bool:
    """Whether there is a lot that can be drawn now."""
    return lot is not None and lot.drawn_at is None and now < round_ends(lot)


def check_draw(lot: PracticeDraw | None, now: datetime) -> PracticeDraw:
    """The lot that may be drawn now. Raises Refusal `no_draw`, `drawn_already`, `draw_too_late`."""
    if lot is None:
        raise Refusal(Reason.NO_DRAW)
    if lot.drawn_at is not None:
        raise Refusal(Reason.DRAWN_ALREADY)
    if now >= round_ends(lot):
        raise Refusal(Reason.DRAW_TOO_LATE)
    return lot


def squads_told(lot: PracticeDraw, taking_part: Collection[int]) -> list[int]:
    """The squads that read in their rooms from when they may book: those on the list that still take part."""
    return [squad for squad in lot.pool if squad in taking_part]


def why_wait(lot: PracticeDraw, squad: int, turns: int, now: datetime) -> Refusal | None:
    """Why a squad that has so many turns must wait, or None: `draw_waits`, `draw_order`, `draw_one_each` (opens)."""
    ends = round_ends(lot)
    if now >= ends:
        return None
    if lot.drawn_at is None:
        return Refusal(Reason.DRAW_WAITS, opens=int(ends.timestamp()))
    if now < opens_for(lot, squad):
        return Refusal(Reason.DRAW_ORDER, opens=int(opens_for(lot, squad).timestamp()))
    return Refusal(Reason.DRAW_ONE_EACH, opens=int(ends.timestamp())) if turns else None


def _begins(lot: PracticeDraw) -> datetime:
    """The minute in which it was drawn: phones show moments without seconds."""
    assert lot.drawn_at is not None
    return lot.drawn_at.replace(second=0, microsecond=0)
