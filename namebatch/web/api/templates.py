"""Templates to choose from, with a picture and an example list of each."""

from typing import Annotated

from fastapi import APIRouter, Path
from fastapi.responses import Response

from namebatch.desk.offered import TemplateOffered, templates_offered
from namebatch.web.depends import TheDesk
from namebatch.web.problems import REFUSED
from namebatch.web.schemas import LONGEST_NAME, SVG, SampleList

router = APIRouter(tags=["templates"], responses=REFUSED)

FOR_A_WHILE = "private, max-age=60"
"""A template of one's own may be changed; the page shows it again soon after."""

TemplateName = Annotated[str, Path(max_length=LONGEST_NAME, description="name of a template")]


@router.get("/templates")
def all_templates(desk: TheDesk) -> tuple[TemplateOffered, ...]:
    """The bundled templates, then the workshop's own."""
    return templates_offered(desk.own_templates())


@router.get(
    "/templates/{name}/picture.svg",
    response_class=Response,
    responses={200: {"content": {SVG: {}}, "description": "A piece with sample texts."}},
)
def picture(desk: TheDesk, name: TemplateName) -> Response:
    """A piece of a template, made with the sample texts that it names."""
    svg = desk.template_picture(name)
    return Response(svg, media_type=SVG, headers={"Cache-Control": FOR_A_WHILE})


@router.get("/templates/{name}/sample")
def sample(desk: TheDesk, name: TemplateName) -> SampleList:
    """The example list of a bundled template, to be tried as it is or changed before."""
    names = desk.sample(name)
    return SampleList(names.name, names.data.decode("utf-8-sig"))
