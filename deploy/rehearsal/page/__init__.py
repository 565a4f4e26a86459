"""One self-contained page with everything people saw in a season, by room and by person; and how messages are drawn."""

from deploy.rehearsal.page.season_page import render_page, write_page
from deploy.rehearsal.page.season_record import Card, Figure, Person, Season
from deploy.rehearsal.page.small_pictures import SmallPictures

__all__ = ["Card", "Figure", "Person", "Season", "SmallPictures", "render_page", "write_page"]
