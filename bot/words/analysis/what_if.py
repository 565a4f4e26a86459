"""What if? Other weights or scales, tried privately beside the official standings."""

from collections.abc import Mapping
from decimal import Decimal

from bot.rules.analysis.what_if import LONGEST_WEIGHTS, NONE, PANELS, Wish, at_first, counting_judges
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scoring.scales import SCALES as EVERY_SCALE
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import STANDINGS
from bot.words.core.choices import PAGE, choice
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import exact
from bot.words.core.pages import pages
from bot.words.core.plain_text import escape
from bot.words.core.who_reads import who_reads
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.scales_and_panels import PANELS as PANEL_NAMES
from bot.words.scoring.scales_and_panels import SCALES
from storage.records.message import Button, Choice, Form, FormField, Message, SelectField, TextField
from storage.records.plan import Plan

REFUSALS = {
    Reason.NO_EVENT: "The plan has no event **{key}**. Write one event on each line, such as Sock run: 40.",
    Reason.WEIGHT_LINE: "I cannot read **{line}**. Write one event on each line, such as Sock run: 40.",
    Reason.WEIGHT_NEGATIVE: "A weight of {weight} for {key} will not do. Use 0 or more.",
    Reason.NO_JUDGE_NUMBER: "No judge who counts has the number {number}. Open **What if?** once more.",
    Reason.WEIGHTS_ZERO: "At least one event must have a weight above 0.",
    Reason.NO_CRITERION: "The criterion {key} cannot be left out: it is not there, or the only one of its rubric.",
}


def what_if_form(plan: Plan, result: ResultView) -> Form:
    """Other weights, one scale for everything, or one judge less."""
    first, counting = at_first(plan), counting_judges(result.book)
    lines = "\n".join(f"{event.name}: {exact(first.weights[event.key])}" for event in plan.events)
    as_planned = {NONE: "As in the plan"}
    scales = _choices(as_planned | {scale: SCALES[scale].capitalize() for scale in EVERY_SCALE}, first.scale)
    panels = _choices(as_planned | {rule: PANEL_NAMES[rule].capitalize() for rule in PANELS}, first.panel)
    without = {str(judge.id): f"Without judge {judge.number} ({judge.name})" for judge in counting}
    judges = _choices({NONE: "All judges"} | without, first.judge)
    leave_out: FormField = SelectField(key="judge", label="Judges", choices=tuple(judges[:PAGE]))
    if len(judges) > PAGE:
        hint = "The number of one judge; empty: all judges."
        leave_out = TextField(key="judge-number", label="Without judge number", hint=hint, most=5, required=False)
    return Form(
        key=key(ActionKey.RESULTS_TRIED),
        title="What if?",
        fields=(
            TextField(
                key="weights",
                label="Weights",
                hint=f"One event a line. {who_reads('answer', 'the outcome')} The plan stays as it is.",
                value=lines,
                long=True,
                most=LONGEST_WEIGHTS,
            ),
            SelectField(key="scale", label="Scale of every measure", choices=tuple(scales)),
            SelectField(key="panel", label="From the judges' sheets take", choices=tuple(panels)),
            leave_out,
        ),
    )


def _choices(labels: Mapping[str, str], chosen: str) -> list[Choice]:
    return [choice(value, label, chosen=value == chosen) for value, label in labels.items()]


def tried(official: ResultView, other: ResultView, wish: Wish) -> Message:
    """What would be, beside what is."""
    changed = []
    if any(Decimal(event.weight) != wish.weights[event.key] for event in official.plan.events):
        named = [f"{escape(event.name)} {exact(wish.weights[event.key])}" for event in official.plan.events]
        changed.append(f"weights {', '.join(named)}")
    if wish.scale != NONE:
        changed.append(f"every measure as {SCALES[wish.scale]}")
    if wish.panel != NONE:
        changed.append(PANEL_NAMES[wish.panel])
    if wish.judge != NONE:
        changed.append(f"without {official.judge(int(wish.judge))}")
    head = "**What if?** (private; the plan and the official standings stay as they are)\n"
    head += f"Changed: {listing(changed)}." if changed else "Nothing is changed: all is as in the plan."
    blocks = [head, _places(official, other), _ranks(official, other)]
    lost = [row.squad_id for row in other.standings.unranked if official.standings.row(row.squad_id).rank is not None]
    if lost:
        blocks.append(f"Not ranked then, because something would be missing: {listing(other.names(lost))}.")
    return Message(
        text=pages(["\n\n".join(block for block in blocks if block)])[0],
        rows=(
            (
                Button(key=key(ActionKey.RESULTS_WHAT_IF), label="Try something else", style="main"),
                STANDINGS,
            ),
        ),
    )


def _places(official: ResultView, other: ResultView) -> str:
    now, then = official.standings, other.standings
    if then.straddle is not None:
        return f"{listing(other.names(then.straddle.squads))} would tie for the last place."
    if not then.placed:
        return "Nobody would hold a place."
    verb = "would hold the place" if len(then.placed) == 1 else "would hold the places"
    if set(now.placed) == set(then.placed):
        return f"{listing(other.names(then.placed))} {verb}, as now."
    instead = f", instead of {listing(official.names(now.placed))}" if now.placed else ""
    return f"{listing(other.names(then.placed))} {verb}{instead}."


def _ranks(official: ResultView, other: ResultView) -> str:
    lines = []
    for row in other.standings.rows:
        now = official.standings.row(row.squad_id)
        place = "not ranked" if now.rank is None else f"place {now.rank}, {official.total(now)}"
        lines.append(f"{row.rank}\\. **{other.name(row.squad_id)}** {other.total(row)} (officially {place})")
    return "\n".join(lines)
