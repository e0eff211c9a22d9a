-- What happened in the garden, a line each. change is 1 + the number of times
-- the line was altered: who writes over a line says which state they saw.
CREATE TABLE diary (
  id       INTEGER PRIMARY KEY AUTOINCREMENT,
  kind     TEXT NOT NULL,
  day      TEXT NOT NULL,
  place    TEXT NOT NULL, -- empty = the whole garden
  crop     TEXT NOT NULL,
  planting TEXT NOT NULL, -- names the planting it speaks of
  amount   REAL NOT NULL,
  unit     TEXT NOT NULL, -- empty = no amount
  cause    TEXT NOT NULL,
  text     TEXT NOT NULL,
  change   INTEGER NOT NULL
) STRICT;

CREATE INDEX diary_day ON diary (day);

CREATE TABLE diary_photo (
  entry INTEGER PRIMARY KEY REFERENCES diary (id) ON DELETE CASCADE,
  mime  TEXT NOT NULL,
  image BLOB NOT NULL
) STRICT;

-- The last deeds, so that they can be undone: what a line was before each, as
-- JSON; empty where there was none.
CREATE TABLE diary_deed (
  id      INTEGER PRIMARY KEY AUTOINCREMENT,
  done_at TEXT NOT NULL,
  entry   INTEGER NOT NULL,
  before  TEXT NOT NULL,
  mime    TEXT NOT NULL, -- of a photo that went with a line taken out
  image   BLOB
) STRICT;
