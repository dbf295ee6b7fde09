"""Which folders may be written into, and which files there are ours."""

import errno
import json
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path

import pytest

from namebatch.errors import OutputError
from namebatch.output.target import (
    cannot_write,
    check_target,
    is_plain,
    listed_files,
    read_manifest,
    unchanged_files,
)

THIS = {"template": "tag", "template_digest": "aa", "settings": {"gap_mm": 3.0}}


def put_manifest(folder: Path, content: object) -> None:
    """A job.json with any content."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "job.json").write_text(json.dumps(content), encoding="utf-8")


def test_a_new_folder_is_fine_and_not_made(tmp_path: Path) -> None:
    """Checking writes nothing, whatever is missing above."""
    check_target(tmp_path / "a" / "b", replace=False, identity=THIS)
    assert list(tmp_path.iterdir()) == []


def test_the_same_job_may_be_made_again(tmp_path: Path) -> None:
    """Equal template and settings: the folder is brought up to date."""
    put_manifest(tmp_path, {**THIS, "files": {}})
    check_target(tmp_path, replace=False, identity=THIS)


@pytest.mark.parametrize(
    "other",
    [
        {**THIS, "template": "medal"},
        {**THIS, "settings": {"gap_mm": 4.0}},
        {**THIS, "template_digest": "bb"},
        {},
        [],
        "text",
    ],
)
def test_another_job_is_refused_unless_replaced(tmp_path: Path, other: object) -> None:
    """Nothing of a job is lost by a slip in the folder's name."""
    put_manifest(tmp_path, other)
    with pytest.raises(OutputError, match=r"holds another job.*--replace"):
        check_target(tmp_path, replace=False, identity=THIS)
    check_target(tmp_path, replace=True, identity=THIS)


def test_what_differs_is_said(tmp_path: Path) -> None:
    """A list that was mended is the usual reason, and no other job at all."""
    settings = {"list": {"file": "kites.csv", "sha256": "aa"}}
    now = {**THIS, "settings": settings}
    put_manifest(tmp_path, {**THIS, "settings": {"list": {"file": "kites.csv", "sha256": "bb"}}})
    with pytest.raises(
        OutputError,
        match=r'holds another job \(template "tag"\): the same template, but the list has changed '
        r"since\. Choose another folder, or say --replace to make it anew",
    ):
        check_target(tmp_path, replace=False, identity=now)


@pytest.mark.parametrize("replace", [True, False])
def test_folders_that_the_job_is_made_from_are_kept_out_of(tmp_path: Path, replace: bool) -> None:
    """Neither the template's folder nor one inside it, by whatever way it is named."""
    template = tmp_path / "tag"
    (template / "art").mkdir(parents=True)
    (tmp_path / "alias").symlink_to(template)
    for out, words in (
        (template, "is"),
        (template / "art", "lies inside"),
        (template / "jobs" / "new", "lies inside"),
        (tmp_path / "alias" / "new", "lies inside"),
        (tmp_path / "x" / ".." / "tag", "is"),
    ):
        with pytest.raises(OutputError, match=f"{words} .*tag, which this job is made from"):
            check_target(out, replace, THIS, keep_out=[tmp_path / "other", template])
    check_target(tmp_path / "tag-2", replace, THIS, keep_out=[template])
    check_target(tmp_path, replace, THIS, keep_out=[template])


def test_files_that_only_look_like_ours_are_refused(tmp_path: Path) -> None:
    """A print.pdf without a manifest may be someone's own."""
    (tmp_path / "print.pdf").write_text("mine")
    (tmp_path / "letter.odt").write_text("mine")
    with pytest.raises(OutputError, match=r"already has print\.pdf"):
        check_target(tmp_path, replace=False, identity=THIS)


def test_a_file_in_the_folders_place_is_named(tmp_path: Path) -> None:
    """A file is not a folder, nor is one above the folder."""
    (tmp_path / "job").write_text("x")
    with pytest.raises(OutputError, match="is a file, not a folder"):
        check_target(tmp_path / "job", replace=True, identity=THIS)
    with pytest.raises(OutputError, match=r"is a file, so .* cannot be made"):
        check_target(tmp_path / "job" / "deeper", replace=True, identity=THIS)


@pytest.mark.parametrize("exists", [True, False])
def test_a_folder_without_leave_to_write_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, exists: bool
) -> None:
    """Rights are looked at before the work begins."""
    monkeypatch.setattr("os.access", lambda *_: False)
    with pytest.raises(OutputError, match="cannot be written into"):
        check_target(tmp_path if exists else tmp_path / "new", replace=True, identity=THIS)


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000, '{"files": 3}', "\ufeff", "1" * 5000])
def test_a_broken_manifest_reads_as_none(tmp_path: Path, text: str) -> None:
    """Whatever lies in job.json, reading it never fails and lists nothing."""
    (tmp_path / "job.json").write_text(text, encoding="utf-8")
    assert listed_files(tmp_path, read_manifest(tmp_path)) == {}


def test_a_manifest_behind_a_link_is_not_read(tmp_path: Path) -> None:
    """A link could name any job's manifest as this folder's."""
    put_manifest(tmp_path / "there", {**THIS, "files": {}})
    here = tmp_path / "here"
    here.mkdir()
    (here / "job.json").symlink_to(tmp_path / "there" / "job.json")
    assert read_manifest(here) == {}


@pytest.mark.parametrize(
    "path",
    ["", ".", "..", "../x", "a/../../x", "/etc/passwd", "C:/x", "a\\..\\x", "a\0b", "x" * 2000],
)
def test_paths_that_lead_out_are_not_plain(path: str) -> None:
    """No path of a hostile manifest reaches past its folder, on any system."""
    assert not is_plain(path)


@pytest.mark.parametrize("path", ["print.pdf", "cut/face-001.svg", "previews/L2-1.svg"])
def test_our_own_paths_are_plain(path: str) -> None:
    """The guard lets through what the writers make."""
    assert is_plain(path)


def test_only_unchanged_plain_files_count_as_ours(tmp_path: Path) -> None:
    """Links, files outside, edited files and folders are never removed."""
    out = tmp_path / "job"
    (out / "cut").mkdir(parents=True)
    outside = tmp_path / "outside"
    outside.mkdir()
    contents = {"held.csv": b"ours", "edited.pdf": b"mine now", "cut/a.svg": b"ours too"}
    for name, data in contents.items():
        (out / name).write_bytes(data)
    (outside / "private").write_bytes(b"ours")
    (out / "link.pdf").symlink_to(outside / "private")
    (out / "way").symlink_to(outside)
    ours = sha256(b"ours").hexdigest()
    files: Mapping[str, object] = {
        "held.csv": ours.upper(),
        "edited.pdf": ours,
        "cut/a.svg": sha256(b"ours too").hexdigest(),
        "link.pdf": ours,
        "way/private": ours,
        "../outside/private": ours,
        str(outside / "private"): ours,
        "cut": ours,
        "missing": ours,
        "held": 7,
    }
    assert set(listed_files(out, {"files": files})) == {"held.csv", "edited.pdf", "cut/a.svg"}
    assert unchanged_files(out, {"files": files}) == ("cut/a.svg", "held.csv")


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "disk is full"),
        (errno.EACCES, "may not be written"),
        (errno.EROFS, "only be read"),
        (errno.ENAMETOOLONG, "too long"),
        (errno.EEXIST, "put there meanwhile"),
        (errno.EIO, "Choose another folder"),
    ],
)
def test_the_systems_refusals_are_said_in_plain_words(number: int, words: str) -> None:
    """What, where and what to do, for every usual refusal."""
    error = cannot_write(Path("/somewhere/job"), OSError(number, "words of the system"))
    assert "/somewhere/job" in str(error)
    assert words in str(error)
