"""Which way is better: more, or less."""

from storage.records.plan_measures import Count, Measure, Number, Time


def lower_is_better(measure: Measure) -> bool:
    """Whether less is better: always for a time, for a count or number where the plan says so."""
    return isinstance(measure, Time) or (isinstance(measure, Count | Number) and measure.better == "lower")
