"""The picture of how firm the places are: what each change would do, and other draws of the judges."""

from collections.abc import Sequence
from fractions import Fraction

from bot.rules.analysis.placing_bootstrap import JudgeBootstrap
from bot.rules.analysis.robustness import Firmness, Trial
from bot.words.analysis.placing_bootstrap import draw_shares
from bot.words.analysis.single_changes import trial_name
from bot.words.core.number_text import count, percent
from bot.words.scoring.picture_canvas import FULL, MARGIN, Canvas, Pen, drawable_name
from bot.words.scoring.picture_colours import SOFT, TRACK
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings_picture import ALT_LENGTH, stamp
from storage.records.message import Attachment

ROW = 0.24
SAME, OTHER = 0, 1
"""Kinds of pieces: dark and plain, bright and hatched; what cannot be told is pale."""
HEAD = Pen(10.5, weight="bold")
WHAT = Pen(9.5, SOFT)
WHO = Pen(9.5)
SHARE = Pen(9.5, align="right")
OTHERWISE = "another squad, or a tie"
GROUPS = {"judge": "Without one judge", "criterion": "Without one criterion", "scale": "On another scale"}


def firm_picture(result: ResultView, firm: Firmness, drawn: JudgeBootstrap) -> Attachment:
    """Who would hold the place with one thing changed, and with other draws of the judges.

    What changes nothing is told in one line a group; only changes have lines of their own.
    """
    groups = [(what, [trial for trial in firm.trials if trial.what == what]) for what in GROUPS]
    groups = [(what, trials) for what, trials in groups if trials]
    shares = [(squad, share, percent(share, not drawn.exact)) for squad, share in draw_shares(result, drawn)]
    lines = [
        (what, _folded(result, trials), [trial for trial in trials if trial.changed is not False])
        for what, trials in groups
    ]
    rows = sum(len(changed) + bool(folded) + 1.3 for _, folded, changed in lines)
    rows += len(shares) + 1.3 if shares else 0
    canvas = Canvas(1.35 + ROW * rows)
    canvas.head("How firm is the place?", stamp(result))
    every = same_winner(result, [trial for _, trials in groups for trial in trials])
    y = _summary(canvas, canvas.height - 0.74, every)
    for what, folded, changed in lines:
        y = _group(canvas, result, y, GROUPS[what], folded, changed)
    if shares:
        _draws(canvas, result, y, shares)
    return Attachment(name="firm.png", data=canvas.png(), alt=firm_alt(result, groups, shares))


def same_winner(result: ResultView, trials: Sequence[Trial]) -> str:
    """How many of the ways leave everything as it is, such as `19 of 19 ways: the same winner`."""
    same = sum(trial.changed is False for trial in trials)
    return f"{same} of {count(len(trials), 'way')}: {_same(result)}"


def _same(result: ResultView) -> str:
    if result.standings.straddle is not None:
        return "the same tie"
    return "the same winner" if result.standings.places == 1 else "the same winners"


def _folded(result: ResultView, trials: Sequence[Trial]) -> str:
    same = [trial for trial in trials if trial.changed is False]
    return f"{len(same)} of {len(trials)}: {_same(result)}" if same else ""


def _summary(canvas: Canvas, y: float, every: str) -> float:
    canvas.piece(MARGIN, y - 0.06, 0.13, 0.12, SAME)
    canvas.write(MARGIN + 0.2, y, every, HEAD, FULL - 0.2)
    y -= ROW
    canvas.piece(MARGIN, y - 0.06, 0.13, 0.12, OTHER)
    canvas.write(MARGIN + 0.2, y, OTHERWISE, WHAT, FULL - 0.2)
    return y - ROW * 1.3


def _group(canvas: Canvas, result: ResultView, y: float, title: str, folded: str, changed: Sequence[Trial]) -> float:
    canvas.write(MARGIN, y, title, HEAD, FULL)
    y -= ROW
    if folded:
        canvas.piece(MARGIN, y - 0.06, 0.13, 0.12, SAME)
        canvas.write(MARGIN + 0.2, y, folded, WHO, FULL - 0.2)
        y -= ROW
    for trial in changed:
        left = MARGIN + FULL * 0.5
        if trial.changed is None:
            canvas.bare(MARGIN, y - 0.06, 0.13, 0.12, TRACK)
        else:
            canvas.piece(MARGIN, y - 0.06, 0.13, 0.12, OTHER)
        canvas.write(MARGIN + 0.2, y, _label(result, trial), WHAT, FULL * 0.5 - 0.28)
        canvas.write(left, y, _who(result, trial), WHO, FULL * 0.5)
        y -= ROW
    return y - 0.3 * ROW


def _label(result: ResultView, trial: Trial) -> str:
    """The trial's name as a picture and its alt text have it, without markup."""
    if trial.what == "criterion":
        return result.criterion(*trial.name.split("."))
    return trial_name(result, trial)


def _who(result: ResultView, trial: Trial) -> str:
    if trial.changed is None:
        return "cannot be told"
    names = [drawable_name(result.squads[squad]) for squad in (*trial.placed, *trial.tied)]
    return f"tie: {', '.join(names)}" if trial.tied else ", ".join(names)


def _draws(canvas: Canvas, result: ResultView, y: float, shares: Sequence[tuple[int, Fraction, str]]) -> None:
    canvas.write(MARGIN, y, "The same judges drawn again by lot", HEAD, FULL)
    left, full = MARGIN + FULL * 0.5, FULL * 0.5 - 0.85
    for squad, share, shown in shares:
        y -= ROW
        canvas.write(MARGIN, y, drawable_name(result.squads[squad]), WHAT, FULL * 0.47)
        canvas.bare(left, y - 0.08, full, 0.16)
        kind = SAME if squad in result.standings.placed else OTHER
        canvas.piece(left, y - 0.08, full * float(share), 0.16, kind)
        canvas.write(MARGIN + FULL, y, shown, SHARE)


def firm_alt(
    result: ResultView, groups: Sequence[tuple[str, Sequence[Trial]]], shares: Sequence[tuple[int, Fraction, str]]
) -> str:
    """The picture in words."""
    parts = []
    for what, trials in groups:
        by_holder: dict[str, list[str]] = {}
        for trial in trials:
            by_holder.setdefault(_plain_who(result, trial), []).append(_label(result, trial))
        said = "; ".join(f"{who} ({', '.join(names)})" for who, names in by_holder.items())
        parts.append(f"{GROUPS[what]}: {said}.")
    if shares:
        said = "; ".join(f"{result.squads[squad].name} {shown}" for squad, _, shown in shares)
        parts.append(f"Other draws of the judges: {said}.")
    every = [trial for _, trials in groups for trial in trials]
    alt = f"How firm is the place? {stamp(result)}. {same_winner(result, every)}. {' '.join(parts)}"
    return alt if len(alt) <= ALT_LENGTH else alt[: ALT_LENGTH - 1] + "…"


def _plain_who(result: ResultView, trial: Trial) -> str:
    if trial.changed is None:
        return "cannot be told"
    names = ", ".join(result.squads[squad].name for squad in (*trial.placed, *trial.tied))
    return f"tie of {names}" if trial.tied else names
