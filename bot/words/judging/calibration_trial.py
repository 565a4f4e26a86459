"""The trial: an invented entry that every judge marks first; who is how far, and how readings compare."""

from collections.abc import Sequence
from fractions import Fraction

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.calibration_trial import (
    ENOUGH,
    FAR_APART,
    LONGEST_SAMPLE,
    NEAR,
    SHORTEST_SAMPLE,
    Marks,
    Reading,
    enough_have_marked,
    is_near,
    off_by,
)
from bot.rules.judging.score_sheet import Step, steps
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, in_words, percent
from bot.words.core.photos import TAKEN
from bot.words.core.plain_text import cut, escape, quoted
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.who_reads import who_reads
from bot.words.judging.judges_overview import HOME, who
from bot.words.judging.my_sheets import see_sample
from bot.words.judging.score_sheet import levels
from storage.records.judging import Trial
from storage.records.message import (
    FORM_LABEL,
    Attachment,
    Button,
    FileField,
    Form,
    Message,
    Row,
    Select,
    TextField,
)
from storage.records.people import Judge
from storage.records.plan import Event
from storage.records.plan_measures import Rubric

SAMPLE = (
    "The Test Tadpoles (an invented squad) hand in a string of bunting with five flags.\n"
    "- The flags show a robot, three red socks, a basket, a tent and a fish.\n"
    '- Written beside it: "The socks are what we carry, one a trip. The tent is where we practised. Leo likes fish."\n'
    '- There is one draft. It has no basket, and a note says: "Basket added so that you can see where we go."\n'
    '- Mia was picked by lot and says about Leo\'s flag: "That is a fish. He wanted one."'
)
"""An invented string of bunting, ready to use; a coach writes another one for another task."""

BEGIN = Button(key=key(ActionKey.TRIALS_ASK), label="Begin a trial", style="main")
REFUSALS = {
    Reason.TRIAL_RUNS: "A trial is open already. Close it first, then you can begin another one.",
    Reason.TRIAL_OVER: "That trial is over. The real sheets are in your list: press **My sheets**.",
    Reason.TRIAL_DONE: "You have marked the sample already. It stays as you marked it, so that the comparison is fair.",
    Reason.TRIAL_ALONE: "You see how you compare as soon as {enough} judges have marked the sample. Please look later.",
    Reason.TRIAL_FIRST: "Please mark the sample yourself first. Then you can see how you compare.",
    Reason.TRIAL_SEALED: "That is a surprise, and it has not started. Judges would read what is marked in it. Pick "
    "another part for the trial.",
    Reason.TRIAL_EMPTY: "Please write what the judges shall read about the sample entry.",
}


def picture_name(ending: str) -> str:
    """What the file with the picture of the invented entry is called."""
    return f"sample.{ending}"


def picture_refused(why: str, sample: str) -> Message:
    """The picture cannot be used: nothing has begun, and the words are not lost."""
    return whole_message(f"{why}\n**No trial has begun.** You wrote:\n{quoted(escape(sample))}", ((BEGIN, HOME),))


def none_yet() -> Message:
    """What the coach sees before the first trial."""
    return Message(
        text="**Trial.** Before the real sheets, all judges mark one invented entry. Each then sees privately how "
        "they compare with the middle of the panel, and you see where readings lie apart. These marks never count.",
        rows=((BEGIN, HOME),),
    )


def calibration_panel(
    event: Event, trial: Trial, judges: Sequence[Judge], done: int, found: Sequence[Reading], close: Fraction
) -> Message:
    """What the coach sees of a trial: who is how far, and how far the readings lie apart.

    `close` is the share of marks within one level of the middle; `found` is empty until two have marked the sample.
    """
    lines = [
        f"**Trial: {escape(event.name)}**",
        f"{done} of {count(len(judges), 'judge has', 'judges have')} marked the sample.",
    ]
    if found:
        lines += [_spread(reading) for reading in found]
        lines.append(f"Of the marks, {percent(close)} lie within {_levels(NEAR)} of the middle.")
        far = [escape(reading.criterion.name) for reading in found if reading.far_apart]
        lines.append(
            f"**Worth a talk before the real sheets:** {listing(far)}."
            if far
            else f"Nobody is {_levels(FAR_APART)} apart. Well done."
        )
    if trial.closed_at is None:
        buttons: Row = (
            Button(key=key(ActionKey.TRIALS_PANEL), label="Look again"),
            Button(key=key(ActionKey.TRIALS_CLOSE, trial.id), label="Close the trial"),
            HOME,
        )
    else:
        lines.append("The trial is closed.")
        buttons = (Button(key=key(ActionKey.TRIALS_ASK), label="Begin another trial"), HOME)
    return whole_message("\n".join(lines), (buttons,))


def _levels(number: int) -> str:
    return f"{in_words(number)} {'level' if number == 1 else 'levels'}"


def _spread(reading: Reading) -> str:
    name = escape(reading.criterion.name)
    if reading.lowest == reading.highest:
        return f"- {name}: all say {reading.lowest}"
    return f"- {name}: from {reading.lowest} to {reading.highest}, middle {level(reading.middle)}"


def level(middle: Fraction) -> str:
    """A middle level: a whole number, or one and a half."""
    return str(middle.numerator) if middle.denominator == 1 else f"{float(middle):.1f}"


def pick_rubric(rubrics: Sequence[tuple[Event, Rubric]], sealed: bool = False) -> Message:
    """Pick the rubric that is tried out; `sealed`: a surprise is not among them."""
    choices = tuple(choice(f"{event.key}/{rubric.key}", event.name, rubric.name) for event, rubric in rubrics)
    return Message(
        text="Which rubric should the judges try out?" + "\n-# A surprise stands here once it has started." * sealed,
        rows=(Select(key=key(ActionKey.TRIALS_FORM), prompt="Pick a rubric", choices=choices), (HOME,)),
    )


def calibration_form(event: Event, rubric: Rubric) -> Form:
    """The invented entry, in words and perhaps with a picture."""
    return Form(
        key=key(ActionKey.TRIALS_BEGIN, event.key, rubric.key),
        title=cut(f"Trial: {event.name}", FORM_LABEL),
        fields=(
            TextField(
                key="sample",
                label="What the judges read",
                hint="An invented entry. Change this one if it does not fit; never take a real squad.",
                value=SAMPLE,
                long=True,
                least=SHORTEST_SAMPLE,
                most=LONGEST_SAMPLE,
            ),
            FileField(key="picture", label="A picture of it, if there is one", hint=TAKEN, required=False),
        ),
    )


def begun(judges: int) -> Message:
    """The trial is open."""
    return Message(
        text=f"The trial is open. {count(judges, 'judge')} got the sample just now.",
        rows=((Button(key=key(ActionKey.TRIALS_PANEL), label="Trial"), HOME),),
    )


@posted(Sign.JUDGING)
def gone() -> Message:
    """Told in the office when a plan took away what was marked in a running trial."""
    return Message(
        text="The trial has ended: the plan now has other lines to mark there. The judges' lists do not show it any "
        "more. You can begin another one.",
        rows=((BEGIN,),),
    )


@posted(Sign.JUDGING)
def invitation(event: Event, trial: Trial) -> Message:
    """Told to a judge when a trial begins."""
    return Message(
        text=f"Before the real sheets, please mark **one invented entry** for {escape(event.name)}. It takes two "
        f"minutes. Afterwards you see how you compare with the middle of the panel. {who_reads('answer')} These marks "
        "never count.",
        rows=((see_sample(trial),),),
    )


def sample(event: Event, trial: Trial, picture: bytes | None, whole: bool) -> Message:
    """The invented entry, to be marked."""
    files = (
        (Attachment(name=trial.picture_name, data=picture, alt=cut(f"The invented entry: {trial.sample}", 1024)),)
        if picture is not None
        else ()
    )
    button = (
        Button(key=key(ActionKey.TRIALS_COMPARE, trial.id), label="How I compare", style="main")
        if whole
        else Button(key=key(ActionKey.TRIALS_MARK, trial.id), label="Mark the sample", style="main")
    )
    return whole_message(f"**Invented entry for {escape(event.name)}**\n{escape(trial.sample)}", ((button,),), files)


def mark_form(trial: Trial, rubric: Rubric, number: int, marks: Marks, opening: int) -> Form:
    """One step of the sheet for the invented entry."""
    parts = steps(rubric)
    step: Step = parts[number]
    part = f" ({number + 1} of {len(parts)})" if len(parts) > 1 else ""
    return Form(
        key=key(ActionKey.TRIALS_SAVE, trial.id, number, opening),
        title=f"The invented entry{part}",
        fields=tuple(levels(criterion, marks.get(criterion.key)) for criterion in step.criteria),
    )


def half_marked(trial: Trial, left: Sequence[str]) -> Message:
    """Some lines of the invented entry are still open."""
    return Message(
        text=f"Saved. Still to mark: {listing([escape(name) for name in left])}.",
        rows=((Button(key=key(ActionKey.TRIALS_MARK, trial.id), label="Go on with the sample", style="main"),),),
    )


def marked(trial: Trial, done: int) -> Message:
    """The judge has marked the invented entry; the comparison comes when enough have."""
    ready = enough_have_marked(done)
    wait = "" if ready else f" You see how you compare as soon as {ENOUGH} judges have marked it."
    return Message(
        text=f"Thank you! The sample is marked.{wait}",
        rows=(
            (
                Button(
                    key=key(ActionKey.TRIALS_COMPARE, trial.id), label="How I compare", style="main", disabled=not ready
                ),
                MY_SHEETS,
            ),
        ),
    )


def comparison(event: Event, found: Sequence[Reading], mine: Marks, judges: int) -> Message:
    """How one judge compares with the middle of the panel; nobody else sees this."""
    lines = [f"**How you compare: {escape(event.name)}** ({count(judges, 'judge')})"]
    lines += [f"- {escape(reading.criterion.name)}: {_beside(reading, mine)}" for reading in found]
    far = [escape(reading.criterion.name) for reading in found if not is_near(reading, mine)]
    if far:
        lines.append(f"Please read the levels of {listing(far)} once more before the real sheets.")
    else:
        lines.append("You read the levels much as the others do.")
    lines.append(f"-# {who_reads('answer')} Being different is not being wrong; the wording may be unclear.")
    return whole_message("\n".join(lines), ((MY_SHEETS,),))


def _beside(reading: Reading, mine: Marks) -> str:
    own, off = mine[reading.criterion.key], off_by(reading, mine)
    if off == 0:
        return f"you {own}, just as the middle of the panel"
    side = "above" if off > 0 else "below"
    return f"you {own}, middle of the panel {level(reading.middle)} ({level(abs(off))} {side})"


def finished(event: Event, judges: Sequence[Judge]) -> Message:
    """Told in the office when every judge has marked the invented entry."""
    return Message(
        text=f"{'The one judge has' if len(judges) == 1 else f'All {len(judges)} judges have'} "
        f"marked the sample for **{escape(event.name)}**: "
        f"{listing([who(judge) for judge in judges])}.",
        rows=((Button(key=key(ActionKey.TRIALS_PANEL), label="See where readings differ", style="main"),),),
    )
