"""One self-contained page with everything people saw in a season, by room and by person."""

from deploy.rehearsal.page.frame import Figure, Season, render_page, write_page

__all__ = ["Figure", "Season", "render_page", "write_page"]
