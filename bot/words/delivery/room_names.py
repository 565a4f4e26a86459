"""What private rooms are called."""

ROOM_NAME_LENGTH = 100


def squad_room_name(number: int, name: str) -> str:
    """What the private room of a squad is called."""
    return f"squad {number} - {name}"[:ROOM_NAME_LENGTH].rstrip()


def judge_room_name(name: str) -> str:
    """What the private room is called that stands in for a judge's direct messages."""
    return f"judge {name}"[:ROOM_NAME_LENGTH].rstrip()
