"""The way to a scheduler: what is an address, and what is said where nobody is."""

import socket
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from typer.testing import CliRunner

from namebatch.cli import app
from namebatch.cluster import Cluster, cluster_at, connect
from namebatch.cluster.connect import connected, whole_address
from namebatch.errors import ClusterError, SettingsError
from namebatch.pipeline import Settings
from namebatch.summary import make_and_tell


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("192.168.0.5:8786", "tcp://192.168.0.5:8786"),
        (" barn ", "tcp://barn:8786"),
        ("tls://barn.example:9000", "tls://barn.example:9000"),
        ("[::1]:8786", "tcp://[::1]:8786"),
        ("[::1]", "tcp://[::1]:8786"),
    ],
)
def test_an_address_is_made_whole(text: str, whole: str) -> None:
    """Way and port may be left out."""
    assert whole_address(text) == whole


@pytest.mark.parametrize(
    "text",
    ["", "  ", ":8786", "barn:", "barn:0", "barn:65536", "barn:x", "barn:²", "::1", "a b:1"]
    + ["http://barn:8786", "inproc://1", "tcp://", "tcp://barn/x:1", "me@barn:8786"],
)
def test_what_is_no_address(text: str) -> None:
    """It is refused before anything is read, with an example."""
    with pytest.raises(SettingsError, match=r"--cluster takes .* for example 192\.168\.0\.5:8786"):
        cluster_at(text)


def test_without_the_extra(monkeypatch: pytest.MonkeyPatch) -> None:
    """Who has not installed the extra is told how."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(SettingsError, match=r'pip install "namebatch\[cluster\]"'):
        cluster_at("barn:8786")


@pytest.fixture
def listening() -> Iterator[socket.socket]:
    """Something that listens on loopback and never says a word."""
    with closing(socket.create_server(("127.0.0.1", 0))) as server:
        yield server


@pytest.mark.parametrize("closed", [True, False])
def test_nobody_answers(
    monkeypatch: pytest.MonkeyPatch, listening: socket.socket, closed: bool
) -> None:
    """Where nobody listens, and where somebody does who is no scheduler, an error says so."""
    monkeypatch.setattr(connect, "CONNECT_S", 0.5)
    address = f"tcp://127.0.0.1:{listening.getsockname()[1]}"
    if closed:
        listening.close()
    with pytest.raises(ClusterError, match=r"Nobody at tcp://127\.0\.0\.1:\d+ answers as a sched"):
        connected(address)


def test_a_short_list_is_made_here(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A list of one section needs no cluster, and that is told."""
    path = tmp_path / "list.csv"
    path.write_text("name\nWren\nTeal\n", encoding="utf-8")
    crew = Cluster("tcp://127.0.0.1:1")
    settings = Settings("key-fob")
    make_and_tell(path, settings, tmp_path / "job", replace=False, strict=False, crew=crew)
    assert "No more than 2,500 pieces: they are made here" in capsys.readouterr().out
    assert (tmp_path / "job" / "job.json").is_file()


def test_the_command_hands_it_on(tmp_path: Path) -> None:
    """`make --cluster` refuses what is no address before it reads the list."""
    words = ["make", str(tmp_path / "none.csv"), "--template", "key-fob", "--out", str(tmp_path)]
    done = CliRunner().invoke(app, [*words, "--cluster", "http://barn"])
    assert isinstance(done.exception, SettingsError)
    assert 'not "http://barn"' in str(done.exception)
