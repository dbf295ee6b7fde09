"""Whether pieces can be drawn yet: the first start after installing compiles what draws them."""

from fastapi import APIRouter

from namebatch.web.depends import TheDesk
from namebatch.web.problems import REFUSED
from namebatch.web.schemas import Readiness

router = APIRouter(tags=["ready"], responses=REFUSED)


@router.get("/ready")
def ready(desk: TheDesk) -> Readiness:
    """Whether a request that draws or plans is answered at once; else it waits."""
    return Readiness(desk.ready)
