"""Which weights of the events keep the place: a bar for two events, a triangle for three."""

from collections.abc import Sequence
from fractions import Fraction

from bot.rules.analysis.robustness import Firmness
from bot.rules.analysis.weight_changes import Segment, change_points
from bot.rules.core.rounding import rounded
from bot.words.analysis.weight_changes import held_share, then_whom, weight_points
from bot.words.scoring.picture_canvas import FULL, MARGIN, NOTE, WIDTH, Canvas, Pen, drawable_name
from bot.words.scoring.picture_colours import INK, KEEPS, SOFT, TRACK
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings_picture import ALT_LENGTH, stamp
from storage.records.message import Attachment

SIDE = 2.5
"""Length of the triangle's sides, in inches."""
TALL = SIDE * 0.75**0.5
LEFT = (WIDTH - SIDE) / 2
"""The part that keeps the place: pale enough for the dots on it, darker than the rest for every eye."""
CENTRE = Pen(9.5, INK, "bold", "center")
START = Pen(9.5, INK, "bold")
FINISH = Pen(9.5, INK, "bold", "right")
RANGE = Pen(9, SOFT, align="right")
Spot = tuple[float, float]


def weights_picture(result: ResultView, firm: Firmness) -> Attachment | None:
    """The picture for two or three events; None for another number, while nobody holds the place, and where no weights
    would move it."""
    if firm.hold is None:
        return None
    if firm.hold.exact == 1:
        # One colour all over says less than the sentence beside it.
        return None
    if len(result.standings.weights) == 3 and firm.hold.corners:
        return Attachment(name="weights.png", data=_triangle(result, firm), alt=_alt(result, firm))
    segments = change_points(result.standings)
    if segments is None or len(segments) == 1:
        return None
    return Attachment(name="weights.png", data=_bar(result, segments), alt=_bar_alt(result, segments))


def _triangle(result: ResultView, firm: Firmness) -> bytes:
    canvas = Canvas(0.85 + TALL + 0.5 + 1.25)
    base = 1.6
    canvas.head("Which weights keep the place?", stamp(result))

    def spot(shares: Sequence[Fraction]) -> Spot:
        top, left, right = (float(share) for share in shares)
        del left
        return LEFT + SIDE * (right + top / 2), base + TALL * top

    corners = [spot([Fraction(one == other) for other in range(3)]) for one in range(3)]
    canvas.area(corners, TRACK)
    assert firm.hold is not None
    canvas.area([spot(point) for point in firm.hold.corners], KEEPS)
    names = [result.event(key).name for key in result.standings.weights]
    canvas.write(WIDTH / 2, base + TALL + 0.16, f"only {names[0]}", CENTRE, FULL)
    canvas.write(MARGIN, base - 0.18, f"only {names[1]}", START, FULL / 2 - 0.1)
    canvas.write(MARGIN + FULL, base - 0.18, f"only {names[2]}", FINISH, FULL / 2 - 0.1)
    plan = spot(list(result.standings.weights.values()))
    if firm.weights is not None and firm.weights.shift:
        tie = spot([firm.weights.weights[key] for key in result.standings.weights])
        canvas.line(*plan, *tie, colour=INK, width=1.8)
        canvas.dot(*tie, INK, filled=False)
    canvas.dot(*plan, INK)
    _triangle_key(canvas, result, firm)
    return canvas.png()


def _triangle_key(canvas: Canvas, result: ResultView, firm: Firmness) -> None:
    held = ", ".join(drawable_name(result.squads[squad]) for squad in result.standings.placed)
    canvas.bare(MARGIN, 0.99, 0.2, 0.14, KEEPS)
    canvas.write(MARGIN + 0.3, 1.06, f"{held}; another squad in the pale part", NOTE, FULL - 0.3)
    canvas.dot(MARGIN + 0.1, 0.83, INK)
    canvas.write(MARGIN + 0.3, 0.83, "the plan's own weights", NOTE)
    if firm.weights is not None and firm.weights.shift:
        canvas.dot(MARGIN + 0.1, 0.6, INK, filled=False)
        gains = drawable_name(result.squads[firm.weights.gains])
        points = weight_points(firm.weights.shift)
        then = then_whom(firm.weights, gains)
        canvas.write(MARGIN + 0.3, 0.6, f"nearest change: {points} points of weight,", NOTE, FULL - 0.3)
        canvas.write(MARGIN + 0.3, 0.42, then, NOTE, FULL - 0.3)
    canvas.write(MARGIN, 0.15, "Each point: one set of weights, 100 in all.", NOTE, FULL)


def _bar(result: ResultView, segments: Sequence[Segment]) -> bytes:
    first, second = (result.event(key).name for key in result.standings.weights)
    canvas = Canvas(2.1 + 0.24 * len(segments))
    canvas.head("Which weights keep the place?", stamp(result))
    base = canvas.height - 1.15
    for place, segment in enumerate(segments):
        left, width = MARGIN + FULL * float(segment.start), FULL * float(segment.end - segment.start)
        canvas.piece(left, base, width, 0.3, place)
    plan = MARGIN + FULL * float(next(iter(result.standings.weights.values())))
    canvas.line(plan, base - 0.07, plan, base + 0.4, INK, 2.2)
    canvas.dot(plan, base + 0.4, INK)
    canvas.write(MARGIN, base - 0.2, f"only {second}", START, FULL / 2)
    canvas.write(MARGIN + FULL, base - 0.2, f"only {first}", FINISH, FULL / 2)
    for place, segment in enumerate(segments):
        y = base - 0.5 - 0.24 * place
        canvas.piece(MARGIN, y - 0.07, 0.2, 0.14, place)
        names = ", ".join(drawable_name(result.squads[one]) for one in segment.squads)
        canvas.write(MARGIN + 0.3, y, names, NOTE, FULL - 1.35)
        canvas.write(MARGIN + FULL, y, _range_text(segment), RANGE)
    canvas.write(MARGIN, 0.33, f"Numbers: the weight of {first}, of 100.", NOTE, FULL)
    canvas.write(MARGIN, 0.15, "Dot: the plan's own weights.", NOTE, FULL)
    return canvas.png()


def _range_text(segment: Segment) -> str:
    return f"{rounded(segment.start * 100, 1)} to {rounded(segment.end * 100, 1)}"


def _segment_text(result: ResultView, segment: Segment, first: str) -> str:
    names = ", ".join(result.squads[one].name for one in segment.squads)
    return f"{names}: {first} {_range_text(segment)} of 100"


def _bar_alt(result: ResultView, segments: Sequence[Segment]) -> str:
    first = result.event(next(iter(result.standings.weights))).name
    plan = rounded(next(iter(result.standings.weights.values())) * 100, 1)
    said = "; ".join(_segment_text(result, segment, first) for segment in segments)
    return f"Which weights keep the place? {stamp(result)}. {said}. The plan gives {first} {plan}."[:ALT_LENGTH]


def _alt(result: ResultView, firm: Firmness) -> str:
    assert firm.hold is not None
    held = ", ".join(result.squads[squad].name for squad in result.standings.placed)
    weights = ", ".join(
        f"{result.event(key).name} {rounded(share * 100, 1)}" for key, share in result.standings.weights.items()
    )
    alt = f"{stamp(result)}. A triangle of all weights of the three events. {held} under {held_share(firm)} of them."
    alt += f" Plan: {weights}."
    if firm.weights is not None and firm.weights.shift:
        tie = ", ".join(
            f"{result.event(key).name} {rounded(share * 100, 1)}" for key, share in firm.weights.weights.items()
        )
        then = then_whom(firm.weights, result.squads[firm.weights.gains].name)
        alt += f" Nearest change, {weight_points(firm.weights.shift)} points of weight: {tie}; {then}."
    return alt[:ALT_LENGTH]
