CREATE TABLE batch (
    code TEXT PRIMARY KEY REFERENCES code (code),
    name TEXT NOT NULL,
    status TEXT NOT NULL,
    started TEXT,
    blended TEXT
) STRICT, WITHOUT ROWID;
CREATE TABLE batch_record (
    sequence INTEGER PRIMARY KEY,
    batch TEXT NOT NULL REFERENCES batch (code),
    what TEXT NOT NULL,
    at TEXT NOT NULL,
    record TEXT NOT NULL
) STRICT;
CREATE INDEX batch_record_batch ON batch_record (batch, what);
CREATE TABLE bottle (
    code TEXT PRIMARY KEY REFERENCES code (code),
    component TEXT NOT NULL,
    name TEXT NOT NULL,
    quality TEXT NOT NULL,
    supplier TEXT,
    supplier_lot TEXT,
    net_g REAL NOT NULL,
    price REAL,
    currency TEXT,
    received TEXT,
    expires TEXT,
    storage TEXT,
    note TEXT,
    dried_from TEXT REFERENCES bottle (code),
    opened TEXT,
    disposed TEXT,
    disposed_because TEXT
) STRICT, WITHOUT ROWID;
CREATE TABLE cell (
    code TEXT PRIMARY KEY REFERENCES code (code),
    sequence INTEGER NOT NULL REFERENCES cell_set (sequence),
    position INTEGER NOT NULL,
    block TEXT,
    retired TEXT,
    cause TEXT,
    note TEXT
) STRICT, WITHOUT ROWID;
CREATE TABLE cell_content (
    cell TEXT NOT NULL REFERENCES cell (code),
    batch TEXT NOT NULL REFERENCES code (code),
    planned_g REAL NOT NULL,
    weighed_g REAL,
    PRIMARY KEY (cell, batch)
) STRICT, WITHOUT ROWID;
CREATE TABLE cell_set (
    sequence INTEGER PRIMARY KEY,
    design TEXT NOT NULL,
    seed TEXT NOT NULL,
    deviations TEXT NOT NULL,
    operator TEXT,
    permit TEXT,
    built TEXT NOT NULL
) STRICT;
CREATE TABLE change (
    sequence INTEGER PRIMARY KEY,
    entry INTEGER NOT NULL,
    what TEXT NOT NULL,
    reason TEXT NOT NULL
) STRICT;
CREATE INDEX change_entry ON change (entry);
CREATE TABLE code (
    code TEXT PRIMARY KEY,
    kind TEXT NOT NULL,
    number INTEGER NOT NULL,
    sequence INTEGER NOT NULL,
    struck INTEGER NOT NULL,
    UNIQUE (kind, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE entry (
    sequence INTEGER PRIMARY KEY,
    book TEXT NOT NULL,
    time TEXT NOT NULL,
    author TEXT NOT NULL,
    kind TEXT NOT NULL,
    version INTEGER NOT NULL,
    payload BLOB NOT NULL,
    previous BLOB NOT NULL CHECK (length(previous) = 32),
    hash BLOB NOT NULL UNIQUE CHECK (length(hash) = 32)
) STRICT;
CREATE TRIGGER entry_follows_the_last BEFORE INSERT ON entry
WHEN NEW.sequence <> (SELECT coalesce(max(sequence), 0) + 1 FROM entry)
BEGIN SELECT RAISE(ABORT, 'an entry follows the last one'); END;
CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;
CREATE TABLE flow (
    sequence INTEGER NOT NULL,
    from_code TEXT NOT NULL,
    to_code TEXT NOT NULL,
    grams REAL
) STRICT;
CREATE INDEX flow_from ON flow (from_code, to_code);
CREATE INDEX flow_to ON flow (to_code, from_code);
CREATE TABLE log (
    sequence INTEGER PRIMARY KEY,
    file TEXT NOT NULL,
    imported TEXT NOT NULL
) STRICT;
CREATE TABLE log_cell (
    sequence INTEGER NOT NULL REFERENCES log (sequence),
    cell TEXT NOT NULL REFERENCES cell (code),
    rows INTEGER NOT NULL,
    first TEXT NOT NULL,
    last TEXT NOT NULL,
    PRIMARY KEY (sequence, cell)
) STRICT, WITHOUT ROWID;
CREATE INDEX log_cell_cell ON log_cell (cell);
CREATE INDEX log_file ON log (file);
CREATE TABLE movement (
    sequence INTEGER NOT NULL,
    code TEXT NOT NULL,
    grams REAL NOT NULL,
    reason TEXT NOT NULL
) STRICT;
CREATE INDEX movement_code ON movement (code);
CREATE TABLE reading (
    sequence INTEGER PRIMARY KEY,
    cell TEXT NOT NULL REFERENCES cell (code),
    what TEXT NOT NULL,
    number REAL NOT NULL,
    at TEXT NOT NULL,
    taken TEXT NOT NULL
) STRICT;
CREATE INDEX reading_cell ON reading (cell);
CREATE TABLE study (
    code TEXT PRIMARY KEY REFERENCES code (code),
    sequence INTEGER NOT NULL,
    planned TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE study_cell (
    study TEXT NOT NULL REFERENCES study (code),
    cell TEXT NOT NULL REFERENCES cell (code),
    sequence INTEGER NOT NULL,
    PRIMARY KEY (study, cell)
) STRICT, WITHOUT ROWID;
CREATE TABLE study_look (
    sequence INTEGER PRIMARY KEY,
    study TEXT NOT NULL REFERENCES study (code),
    looked TEXT NOT NULL
) STRICT;
CREATE TABLE touch (
    sequence INTEGER NOT NULL,
    code TEXT NOT NULL,
    what TEXT NOT NULL,
    spreads INTEGER NOT NULL,
    author TEXT NOT NULL,
    at INTEGER,
    instrument TEXT,
    balance TEXT,
    PRIMARY KEY (sequence, code)
) STRICT, WITHOUT ROWID;
CREATE INDEX touch_at ON touch (at);
CREATE INDEX touch_author ON touch (author);
CREATE INDEX touch_balance ON touch (balance) WHERE balance IS NOT NULL;
CREATE INDEX touch_instrument ON touch (instrument) WHERE instrument IS NOT NULL;
