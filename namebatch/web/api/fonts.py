"""Typefaces to choose from."""

from fastapi import APIRouter

from namebatch.desk.offered import FontOffered, fonts_offered
from namebatch.web.problems import REFUSED

router = APIRouter(tags=["fonts"], responses=REFUSED)


@router.get("/fonts")
def all_fonts() -> tuple[FontOffered, ...]:
    """Every typeface that can be called by name."""
    return fonts_offered()
