"""Random tables of marks for the checks."""

from hypothesis import strategies as st

Table = list[list[int]]


@st.composite
def tables(draw: st.DrawFn, least: int = 2, most: int = 6, levels: int = 5) -> Table:
    """A complete table of marks: a row for each squad, a column for each judge."""
    width = draw(st.integers(least, most))
    row = st.lists(st.integers(1, levels), min_size=width, max_size=width)
    return draw(st.lists(row, min_size=2, max_size=8))
