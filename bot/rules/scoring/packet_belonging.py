"""Whether all that a packet holds belongs to something in it: lines of nobody would be neither counted nor missed."""

from bot.rules.core.reasons import Reason
from bot.rules.core.refusal import Refusal
from bot.rules.scoring.packet import Packet
from storage.records.plan import Checklist, Count, Measure, Plan, Rubric


def check_belonging(packet: Packet, plan: Plan) -> None:
    """Refuse a packet with an attempt, sheet or absence of no squad, judge, event, measure, item or criterion in it.

    Raises Refusal: `packet_foreign` (where) at the first one.
    """
    measures = {(event.key, measure.key): measure for event in plan.events for measure in event.measures}
    squads, judges = set(packet.squads), {line.number for line in packet.judges}
    for attempt in packet.attempts:
        measure = measures.get((attempt.event, attempt.measure))
        known = attempt.squad in squads and measure is not None and not isinstance(measure, Rubric)
        if not known or not attempt.items.keys() <= _items(measure):
            raise Refusal(Reason.PACKET_FOREIGN, where=f"the attempt {attempt.where}")
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


def _items(measure: Measure | None) -> set[str]:
    if isinstance(measure, Count):
        return {item.key for item in measure.items}
    return {line.key for line in measure.lines} if isinstance(measure, Checklist) else set()


def _criteria(measure: Measure | None) -> set[str]:
    return {criterion.key for criterion in measure.criteria} if isinstance(measure, Rubric) else set()
