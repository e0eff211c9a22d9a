-- Plantings that every plan has.
CREATE TABLE keep (
  ord     INTEGER PRIMARY KEY,
  place   TEXT NOT NULL,
  from_cm INTEGER NOT NULL,
  to_cm   INTEGER NOT NULL,
  crop    TEXT NOT NULL,
  route   TEXT NOT NULL, -- empty = as usual
  class   TEXT NOT NULL, -- empty = the middling kind
  start   TEXT NOT NULL  -- empty = every year, when it does best
) STRICT;

-- Which way a place runs from its first end: a compass point; empty = not said.
ALTER TABLE place ADD COLUMN runs_to TEXT NOT NULL DEFAULT '';

-- Plans that others have taken the place of.
CREATE TABLE plan_earlier (
  id           INTEGER PRIMARY KEY AUTOINCREMENT,
  replaced_at  TEXT NOT NULL,
  made_on      TEXT NOT NULL,
  seed         INTEGER NOT NULL,
  problem_hash TEXT NOT NULL,
  json         TEXT NOT NULL
) STRICT;

-- A plan that was shown and is not accepted yet.
CREATE TABLE plan_proposal (
  id      INTEGER PRIMARY KEY CHECK (id = 1),
  made_on TEXT NOT NULL,
  json    TEXT NOT NULL
) STRICT;
