"""The tables, version by version. What stands here was on disks and is never changed; add to it."""

from typing import Final

APPLICATION_ID: Final = 0x6E626368
"""Stands in the file's head, so that the database of another program is not taken for ours."""

VERSION_1: Final = """
CREATE TABLE docket (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    title TEXT NOT NULL,
    created TEXT NOT NULL,
    changed TEXT NOT NULL,
    state TEXT NOT NULL,
    done INTEGER NOT NULL DEFAULT 0
);
CREATE TABLE list (
    docket INTEGER PRIMARY KEY REFERENCES docket ON DELETE CASCADE,
    name TEXT NOT NULL,
    pasted INTEGER NOT NULL,
    data BLOB NOT NULL
);
CREATE TABLE kept (
    docket INTEGER NOT NULL REFERENCES docket ON DELETE CASCADE,
    kind TEXT NOT NULL,
    name TEXT NOT NULL,
    value TEXT NOT NULL,
    PRIMARY KEY (docket, kind, name)
);
CREATE TABLE step (
    docket INTEGER NOT NULL REFERENCES docket ON DELETE CASCADE,
    number INTEGER NOT NULL,
    told TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (docket, number)
);
CREATE TABLE part (
    docket INTEGER NOT NULL,
    step INTEGER NOT NULL,
    kind TEXT NOT NULL,
    name TEXT NOT NULL,
    before TEXT,
    after TEXT,
    PRIMARY KEY (docket, step, kind, name),
    FOREIGN KEY (docket, step) REFERENCES step ON DELETE CASCADE
);
CREATE TABLE job (
    docket INTEGER NOT NULL REFERENCES docket ON DELETE CASCADE,
    number INTEGER NOT NULL,
    folder TEXT NOT NULL,
    digest TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (docket, number)
);
CREATE TABLE spoiled (
    docket INTEGER NOT NULL,
    job INTEGER NOT NULL,
    piece TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (docket, job, piece),
    FOREIGN KEY (docket, job) REFERENCES job ON DELETE CASCADE
);
CREATE TABLE measured (
    docket INTEGER NOT NULL,
    job INTEGER NOT NULL,
    sheet TEXT NOT NULL,
    mark TEXT NOT NULL,
    x_mm REAL NOT NULL,
    y_mm REAL NOT NULL,
    PRIMARY KEY (docket, job, sheet, mark),
    FOREIGN KEY (docket, job) REFERENCES job ON DELETE CASCADE
);
CREATE TABLE leaving (
    docket INTEGER PRIMARY KEY
);
"""

VERSION_2: Final = """
ALTER TABLE list RENAME TO list_1;
CREATE TABLE list (
    docket INTEGER NOT NULL REFERENCES docket ON DELETE CASCADE,
    key INTEGER NOT NULL,
    name TEXT NOT NULL,
    pasted INTEGER NOT NULL,
    data BLOB NOT NULL,
    PRIMARY KEY (docket, key)
);
INSERT INTO list SELECT docket, 1, name, pasted, data FROM list_1;
INSERT INTO kept SELECT docket, 'list', '', '1' FROM list_1;
DROP TABLE list_1;
CREATE TABLE counted (
    docket INTEGER PRIMARY KEY REFERENCES docket ON DELETE CASCADE,
    value TEXT NOT NULL
);
"""
"""A docket may have several lists: the one that counts is `kept`, former ones as steps name them.
`counted` is what was known of its pieces when it was looked at last."""

MIGRATIONS: Final = (VERSION_1, VERSION_2)
"""What leads from each version to the next; the version is their number."""
