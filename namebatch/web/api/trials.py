"""Templates made on the page from a picture: drafts that are tried, kept or dropped."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Depends, Path
from fastapi.responses import Response
from pydantic import BaseModel, ConfigDict, Field

from namebatch.desk.own_templates import take_away
from namebatch.desk.trial_ground import Ground
from namebatch.desk.trial_made import Outcome, Sample
from namebatch.desk.trial_spec import TrialSpec
from namebatch.desk.trials import Trial, Trials
from namebatch.errors import TemplateError
from namebatch.finding import Finding
from namebatch.web.depends import MOST_NUMBER, TheDesk, TheUpload
from namebatch.web.problems import REFUSED
from namebatch.web.schemas import WhatIsLeft

router = APIRouter(tags=["templates"], responses=REFUSED)


def _trials(desk: TheDesk) -> Trials:
    return desk.trials


TheTrials = Annotated[Trials, Depends(_trials)]
TrialNumber = Annotated[int, Path(ge=1, le=MOST_NUMBER, description="number of a draft")]
TemplateName = Annotated[str, Path(max_length=200, description="name of an own template")]


class KeepSent(BaseModel):
    """What the template is to be called."""

    model_config = ConfigDict(extra="forbid")

    title: Annotated[str, Field(max_length=120)]


@dataclass(frozen=True, slots=True)
class Tried:
    """What came of trying.

    Attributes:
        problems: why it cannot be a template yet, in sentences.
        findings: about the template.
        ground: the shape with its picture; None where there is none yet.
        samples: the names as they come out.
        room: for another text inside the shape: left, below, width, height in mm.
    """

    problems: tuple[str, ...]
    findings: tuple[Finding, ...]
    ground: Ground | None
    samples: tuple[Sample, ...]
    room: tuple[float, float, float, float] | None


@dataclass(frozen=True, slots=True)
class Kept:
    """The name of a template that was kept, to be asked for by."""

    name: str


@router.get("/trials")
def drafts(trials: TheTrials) -> tuple[Trial, ...]:
    """The drafts, the last one first; whoever asks may begin one."""
    trials.warm()
    return trials.drafts()


@router.post("/trials")
def begin(trials: TheTrials, upload: TheUpload) -> Trial:
    """Begin a draft: a form with one picture (PNG, JPEG or SVG) and, if you like, a title."""
    if upload.data is None:
        raise TemplateError("No picture was sent. Choose a PNG, a JPEG or an SVG.")
    return trials.begin(upload.data, upload.fields.get("title", ""))


@router.get("/trials/{trial}")
def draft(trials: TheTrials, trial: TrialNumber) -> Trial:
    """A draft as it was filled in last."""
    return trials.trial(trial)


@router.put("/trials/{trial}")
def try_out(trials: TheTrials, trial: TrialNumber, spec: TrialSpec) -> Tried:
    """Try a draft with what is filled in now; it is kept with the draft."""
    outcome: Outcome = trials.try_out(trial, spec)
    return Tried(outcome.problems, outcome.findings, outcome.ground, outcome.samples, outcome.room)


@router.post("/trials/{trial}/keep")
def keep(trials: TheTrials, trial: TrialNumber, sent: KeepSent) -> Kept:
    """Keep a draft as a template of the workshop's own, as it was tried last."""
    return Kept(trials.keep(trial, sent.title))


@router.delete("/trials/{trial}")
def drop(trials: TheTrials, trial: TrialNumber) -> WhatIsLeft:
    """Drop a draft with its picture."""
    dropped = trials.drop(trial)
    return WhatIsLeft(dropped.complete, dropped.left)


@router.delete("/templates/{name}", status_code=204, response_class=Response)
def remove(desk: TheDesk, name: TemplateName) -> None:
    """Take an own template away; jobs that were made with it keep their files."""
    take_away(desk.own_templates(), name)
    desk.renew()
