-- Version 1 of the journal file. Never edited once released: a change is a new file and a new version.

-- One row an entry. `text` is the entry's exact JSON; hash = SHA-256(prev || text).
-- A row carries its own proof, so rows may come in any order and from any file.
CREATE TABLE entry (
    -- the order in which entries came to this file; a cursor for passing on what is new
    arrival INTEGER PRIMARY KEY AUTOINCREMENT,
    device  BLOB NOT NULL CHECK (length(device) = 16),
    seq     INTEGER NOT NULL CHECK (seq >= 1),
    id      BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
    prev    BLOB NOT NULL CHECK (length(prev) = 32),
    hash    BLOB NOT NULL CHECK (length(hash) = 32),
    text    TEXT NOT NULL
) STRICT;

-- Not unique on (device, seq): when one device id was used in two places, both branches are kept
-- and reported. Nothing that was acknowledged is dropped because of a copied file.
CREATE UNIQUE INDEX entry_chain ON entry (device, seq, hash);

CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN
    SELECT RAISE(ABORT, 'entries are never changed; record a correction instead');
END;

-- The last entry of each device, kept apart so that a chain cut off at its end is noticed.
CREATE TABLE head (
    device BLOB PRIMARY KEY CHECK (length(device) = 16),
    seq    INTEGER NOT NULL,
    hash   BLOB NOT NULL CHECK (length(hash) = 32)
) STRICT, WITHOUT ROWID;

-- Who this file is: the device id under which it writes, and where it was when it got that id.
CREATE TABLE here (
    one    INTEGER PRIMARY KEY CHECK (one = 1),
    device BLOB CHECK (length(device) = 16),
    home   TEXT NOT NULL DEFAULT '',
    name   TEXT
) STRICT;

INSERT INTO here (one) VALUES (1);
