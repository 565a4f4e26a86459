"""How many members a squad has, by the plan, in words."""

from storage.records.plan import Plan


def squad_size(plan: Plan) -> str:
    """`3 to 5`, or `4` where the plan takes squads of one size only."""
    few, many = plan.squads.smallest, plan.squads.largest
    return f"{few}" if few == many else f"{few} to {many}"


def members_text(plan: Plan) -> str:
    """`3 to 5 members`, or `1 member`."""
    return f"{squad_size(plan)} {'member' if plan.squads.largest == 1 else 'members'}"
