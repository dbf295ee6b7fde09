"""`namebatch serve` from the outside: a process that is started and ended."""

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import Thread

import httpx
import pytest

from namebatch.web.alone import alone_in
from namebatch.web.port import open_port

NO_SIGNALS = sys.platform == "win32"
SECONDS = 120


@contextmanager
def serving(
    *options: str, env: Mapping[str, str] | None = None
) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A server in a process of its own and its address; ended in any case."""
    command = [sys.executable, "-m", "namebatch", "serve", "--no-browser", *options]
    with subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, **(env or {})},
    ) as process:
        try:
            assert process.stdout is not None
            first = process.stdout.readline()
            found = re.fullmatch(r"The page is at (http://127\.0\.0\.1:\d+/)\n", first)
            assert found, first
            yield process, found[1]
        finally:
            process.kill()


def told(*options: str) -> subprocess.CompletedProcess[str]:
    """A server that is expected to refuse, and what it says."""
    command = [sys.executable, "-m", "namebatch", "serve", "--no-browser", *options]
    return subprocess.run(command, capture_output=True, text=True, timeout=SECONDS, check=False)


def with_a_docket(address: str) -> None:
    """Make a docket of one name and change it by hand, as the page would."""
    page = httpx.get(address, timeout=SECONDS)
    token = re.search(r'name="namebatch-token" content="([^"]+)"', page.text)
    assert token
    with httpx.Client(headers={"X-Namebatch-Token": token[1]}, timeout=SECONDS) as client:
        form = {"template": "key-fob", "text": "name\nMarlo"}
        assert client.post(f"{address}api/dockets", data=form).status_code == 200
        mend = {"mend": {"quantity": 7}}
        answer = client.put(f"{address}api/dockets/1/rows/2/mend", json=mend)
        assert answer.status_code == 200


def is_kept(address: str) -> bool:
    """Whether that docket is there with its change."""
    row = httpx.get(f"{address}api/dockets/1/rows/2", timeout=SECONDS)
    return bool(row.status_code == 200 and row.json()["quantity"] == 7)


@pytest.mark.skipif(NO_SIGNALS, reason="Ctrl-C is sent as a signal")
@pytest.mark.parametrize("ending", ["SIGINT", "SIGTERM"])
def test_server_answers_until_it_is_ended(tmp_path: Path, ending: str) -> None:
    """It serves the page, and ends in peace while a page listens."""
    data = str(tmp_path / "data")
    with serving("--port", "0", "--data", data) as (process, address):
        with_a_docket(address)
        with httpx.stream("GET", f"{address}api/dockets/1/events", timeout=SECONDS) as news:
            lines = news.iter_lines()
            next(lines)
            process.send_signal(signal.Signals[ending])
            list(lines)  # it ends, rather than breaking off
        out, err = process.communicate(timeout=SECONDS)
    assert process.returncode == 0
    assert "namebatch is closed" in out
    assert not err


@pytest.mark.skipif(NO_SIGNALS, reason="the end is sent as a signal, and rights are the system's")
def test_an_end_in_the_middle_of_a_job_is_quiet(tmp_path: Path) -> None:
    """Nothing is told of what was cleared, or of doors that nobody uses; all is the owner's own."""
    tmp_path.chmod(0o755)
    with serving("--port", "0", "--data", str(tmp_path)) as (process, address):
        page = httpx.get(address, timeout=SECONDS)
        token = re.search(r'name="namebatch-token" content="([^"]+)"', page.text)
        assert token
        with httpx.Client(headers={"X-Namebatch-Token": token[1]}, timeout=SECONDS) as client:
            client.get(address, headers={"Connection": "Upgrade", "Upgrade": "websocket"})
            text = "name\n" + "".join(f"Tern {number}\n" for number in range(400))
            client.post(f"{address}api/dockets", data={"template": "key-fob", "text": text})
            make = f"{address}api/dockets/1/make"
            client.post(make, json={})
            until = time.monotonic() + SECONDS
            while client.get(make).json()["stage"] != "Making the pieces":
                assert time.monotonic() < until
                time.sleep(0.05)
        open_to_others = [
            path
            for path in tmp_path.rglob("*")
            if not path.is_symlink() and path.stat().st_mode & 0o077
        ]
        process.terminate()
        out, err = process.communicate(timeout=SECONDS)
    assert process.returncode == 0
    assert "namebatch is closed" in out
    assert not err
    assert not open_to_others


def test_killed_server_loses_nothing_that_was_saved(tmp_path: Path) -> None:
    """Killed at once after an answer, and started again: what was answered is there."""
    data = str(tmp_path / "data")
    with serving("--port", "0", "--data", data) as (process, address):
        with_a_docket(address)
        process.kill()
        process.wait(SECONDS)
    with serving("--port", "0", "--data", data) as (_, address):
        assert is_kept(address)


def test_busy_port_is_told(tmp_path: Path) -> None:
    """Where another program listens, it says what to do and ends with the status of a refusal."""
    with open_port(0) as taken:
        port = str(taken.getsockname()[1])
        refused = told("--port", port, "--data", str(tmp_path))
    assert refused.returncode == 2
    assert f"Port {port} cannot be used" in refused.stderr
    assert "Traceback" not in refused.stderr


def test_folder_that_is_served_already_is_told(tmp_path: Path) -> None:
    """A second server would not see what the first changes; it says where that is."""
    with alone_in(tmp_path, "http://127.0.0.1:9417/"):
        refused = told("--port", "0", "--data", str(tmp_path))
    assert refused.returncode == 2
    assert "look at http://127.0.0.1:9417/" in refused.stderr


@pytest.mark.parametrize("options", [("--data", " "), ("--port", "70000"), ("--port", "-1")])
def test_options_that_cannot_be_are_told(options: tuple[str, str]) -> None:
    """An empty folder would mean the current one by accident, and ports end at 65535."""
    refused = told(*options)
    assert refused.returncode == 2
    assert options[0] in refused.stderr


@pytest.mark.skipif(NO_SIGNALS, reason="the end is sent as a signal")
def test_an_end_while_a_list_is_planned_waits_for_nothing(tmp_path: Path) -> None:
    """What is planned is left where it is; nothing of the list stays in a temporary folder."""
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    with serving(
        "--port", "0", "--data", str(tmp_path / "data"), env={"TMPDIR": str(temporary)}
    ) as (process, address):
        page = httpx.get(address, timeout=SECONDS)
        token = re.search(r'name="namebatch-token" content="([^"]+)"', page.text)
        assert token
        headers = {"X-Namebatch-Token": token[1]}
        # lines that are blank without being empty are read one by one, for seconds
        names = "name\n" + "".join(f"Tern {n}\n" for n in range(50)) + " ,\n" * 950_000
        files = {"file": ("crew.csv", names.encode())}
        form = {"template": "key-fob"}

        def send() -> None:
            with suppress(httpx.HTTPError):
                httpx.post(
                    f"{address}api/dockets",
                    data=form,
                    files=files,
                    headers=headers,
                    timeout=SECONDS,
                )

        sender = Thread(target=send)
        sender.start()
        until = time.monotonic() + SECONDS
        while not list(temporary.glob("namebatch-*/crew.csv")):
            assert time.monotonic() < until
            time.sleep(0.01)
        process.terminate()
        out, err = process.communicate(timeout=SECONDS)
        sender.join()
    assert process.returncode == 0
    assert "namebatch is closed" in out
    assert not err
    assert not list(temporary.glob("namebatch-*"))


@pytest.mark.skipif(NO_SIGNALS, reason="the end is sent as a signal")
def test_early_ends_are_quiet(tmp_path: Path) -> None:
    """Pieces are being made in the background from the first moment on; none breaks down."""
    for moment in (0.0, 0.1, 0.3, 0.8):
        with serving("--port", "0", "--data", str(tmp_path)) as (process, _):
            time.sleep(moment)
            process.terminate()
            out, err = process.communicate(timeout=SECONDS)
        assert (process.returncode, err) == (0, "")
        assert "namebatch is closed" in out
