"""Whether all that a packet holds belongs to something in it: what does not would be neither counted nor missed."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scoring.packet import RECORDED, AttemptLine, Packet
from storage.records.plan import Plan
from storage.records.plan_measures import AtTable, Checklist, Count, Measure, Rubric


def check_belonging(packet: Packet, plan: Plan) -> None:
    """Refuse a packet with an attempt, sheet or absence of no squad, judge, event, measure, item or criterion in it.

    Or with an attempt that says what is not recorded at such a measure, or a time that was taken neither way.

    Raises Refusal: `packet_foreign` (where) at the first one.
    """
    measures = {(event.key, measure.key): measure for event in plan.events for measure in event.measures}
    squads, judges = set(packet.squads), {line.number for line in packet.judges}
    for attempt in packet.attempts:
        measure = measures.get((attempt.event, attempt.measure))
        known = attempt.squad in squads and attempt.items.keys() <= _items(measure)
        if not known or measure is None or isinstance(measure, Rubric):
            raise Refusal(Reason.PACKET_FOREIGN, where=f"the attempt {attempt.where}")
        for name in _strange(attempt, measure):
            raise Refusal(Reason.PACKET_FOREIGN, where=f"{name} of the attempt {attempt.where}")
    for sheet in packet.sheets:
        rubric = measures.get((sheet.event, sheet.measure))
        known = sheet.squad in squads and sheet.judge in judges and isinstance(rubric, Rubric)
        if not known or not (sheet.marks or {}).keys() <= _criteria(rubric):
            raise Refusal(
                Reason.PACKET_FOREIGN, where=f"the sheet {sheet.squad}/{sheet.event}.{sheet.measure}/{sheet.judge}"
            )
    events = {event.key for event in plan.events}
    for absence in packet.absences:
        if absence.squad not in squads or absence.event not in events:
            raise Refusal(Reason.PACKET_FOREIGN, where=f"the absence {absence.squad}/{absence.event}")


def _strange(attempt: AttemptLine, measure: AtTable) -> list[str]:
    """The fields of an attempt that have no meaning at this measure."""
    others = {name for names in RECORDED.values() for name in names} - set(RECORDED[measure.kind])
    found = [name for name in sorted(others) if getattr(attempt, name) != AttemptLine.model_fields[name].default]
    taken = {time for time in (attempt.press_seconds, attempt.hand_seconds) if time is not None}
    return [*found, "seconds"] if taken and attempt.seconds not in taken else found


def _items(measure: Measure | None) -> set[str]:
    if isinstance(measure, Count):
        return {item.key for item in measure.items}
    return {line.key for line in measure.lines} if isinstance(measure, Checklist) else set()


def _criteria(measure: Measure | None) -> set[str]:
    return {criterion.key for criterion in measure.criteria} if isinstance(measure, Rubric) else set()
