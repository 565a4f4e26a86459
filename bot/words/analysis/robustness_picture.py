"""Pictures of how firm the places are: what each change would do, and which weights keep the place."""

from collections.abc import Sequence
from fractions import Fraction

from bot.rules.analysis.placing_bootstrap import JudgeBootstrap
from bot.rules.analysis.robustness import Firmness, Trial
from bot.words.analysis.robustness import draw_shares, trial_name
from bot.words.core.number_text import percent
from bot.words.scoring.outcome import Outcome
from bot.words.scoring.picture_canvas import FULL, MARGIN, SOFT, TITLE, TRACK, Canvas, Pen, drawable_name
from bot.words.scoring.standings_picture import ALT_LENGTH
from storage.records.message import Attachment

ROW = 0.27
SAME, OTHER = 0, 1
"""Kinds of pieces: dark and plain, bright and hatched; what cannot be told is pale."""
HEAD = Pen(10.5, weight="bold")
WHAT = Pen(9.5, SOFT)
WHO = Pen(9.5)
GROUPS = {"judge": "Without one judge", "criterion": "Without one criterion", "scale": "On another scale"}


def firm_picture(outcome: Outcome, firm: Firmness, drawn: JudgeBootstrap) -> Attachment:
    """Who would hold the place with one thing changed, and with other draws of the judges."""
    groups = [(what, [trial for trial in firm.trials if trial.what == what]) for what in GROUPS]
    groups = [(what, trials) for what, trials in groups if trials]
    shares = [(squad, share, percent(share, not drawn.exact)) for squad, share in draw_shares(outcome, drawn)]
    rows = sum(len(trials) + 1.4 for _, trials in groups) + (len(shares) + 1.4 if shares else 0) + 1.4
    canvas = Canvas(0.6 + ROW * rows)
    canvas.write(MARGIN, canvas.height - 0.3, "How firm is the place?", TITLE, FULL)
    y = _legend(canvas, canvas.height - 0.66)
    for what, trials in groups:
        y = _group(canvas, outcome, y, GROUPS[what], trials)
    if shares:
        _draws(canvas, outcome, y, shares)
    return Attachment(name="firm.png", data=canvas.png(), alt=firm_alt(outcome, groups, shares))


def _legend(canvas: Canvas, y: float) -> float:
    canvas.piece(MARGIN, y - 0.06, 0.14, 0.12, SAME)
    canvas.write(MARGIN + 0.22, y, "same squad as now", WHAT)
    canvas.piece(MARGIN + 1.85, y - 0.06, 0.14, 0.12, OTHER)
    canvas.write(MARGIN + 2.07, y, "another squad, or a tie", WHAT)
    return y - ROW * 1.3


def _group(canvas: Canvas, outcome: Outcome, y: float, title: str, trials: Sequence[Trial]) -> float:
    canvas.write(MARGIN, y, title, HEAD)
    y -= ROW
    for trial in trials:
        canvas.write(MARGIN, y, _label(outcome, trial), WHAT, FULL * 0.46)
        left = MARGIN + FULL * 0.5
        if trial.changed is None:
            canvas.bare(left, y - 0.06, 0.14, 0.12, TRACK)
        else:
            canvas.piece(left, y - 0.06, 0.14, 0.12, OTHER if trial.changed else SAME)
        canvas.write(left + 0.22, y, _who(outcome, trial), WHO, FULL * 0.5 - 0.22)
        y -= ROW
    return y - 0.4 * ROW


def _label(outcome: Outcome, trial: Trial) -> str:
    """The trial's name as a picture and its alt text have it, without markup."""
    if trial.what == "criterion":
        return outcome.criterion(*trial.name.split("."))
    return trial_name(outcome, trial)


def _who(outcome: Outcome, trial: Trial) -> str:
    if trial.changed is None:
        return "cannot be told"
    names = [drawable_name(outcome.squads[squad]) for squad in (*trial.placed, *trial.tied)]
    return f"tie: {', '.join(names)}" if trial.tied else ", ".join(names)


def _draws(canvas: Canvas, outcome: Outcome, y: float, shares: Sequence[tuple[int, Fraction, str]]) -> None:
    canvas.write(MARGIN, y, "With the same judges drawn again by lot", HEAD, FULL)
    left, full = MARGIN + FULL * 0.5, FULL * 0.5 - 1.1
    for squad, share, shown in shares:
        y -= ROW
        canvas.write(MARGIN, y, drawable_name(outcome.squads[squad]), WHAT, FULL * 0.46)
        canvas.bare(left, y - 0.08, full, 0.16)
        kind = SAME if squad in outcome.standings.placed else OTHER
        canvas.piece(left, y - 0.08, full * float(share), 0.16, kind)
        canvas.write(MARGIN + FULL, y, shown, Pen(9.5, align="right"))


def firm_alt(
    outcome: Outcome, groups: Sequence[tuple[str, Sequence[Trial]]], shares: Sequence[tuple[int, Fraction, str]]
) -> str:
    """The picture in words."""
    parts = []
    for what, trials in groups:
        by_holder: dict[str, list[str]] = {}
        for trial in trials:
            by_holder.setdefault(_plain_who(outcome, trial), []).append(_label(outcome, trial))
        said = "; ".join(f"{who} ({', '.join(names)})" for who, names in by_holder.items())
        parts.append(f"{GROUPS[what]}: {said}.")
    if shares:
        said = "; ".join(f"{outcome.squads[squad].name} {shown}" for squad, _, shown in shares)
        parts.append(f"Other draws of the judges: {said}.")
    alt = f"How firm is the place? {' '.join(parts)}"
    return alt if len(alt) <= ALT_LENGTH else alt[: ALT_LENGTH - 1] + "…"


def _plain_who(outcome: Outcome, trial: Trial) -> str:
    if trial.changed is None:
        return "cannot be told"
    names = ", ".join(outcome.squads[squad].name for squad in (*trial.placed, *trial.tied))
    return f"tie of {names}" if trial.tied else names
