-- The plan of a year that another year's plan has followed.
CREATE TABLE past_plan (
  year         INTEGER PRIMARY KEY, -- season year in which the plan began
  made_on      TEXT NOT NULL,
  seed         INTEGER NOT NULL,
  problem_hash TEXT NOT NULL,
  json         TEXT NOT NULL
) STRICT;

-- A year that was closed: its reckoning as it was told then.
CREATE TABLE year_end (
  year      INTEGER PRIMARY KEY,
  closed_on TEXT NOT NULL,
  revision  INTEGER NOT NULL, -- the garden before; going back to it opens the year again
  took_plan INTEGER NOT NULL, -- whether the plan was put by into past_plan
  review    TEXT NOT NULL     -- JSON
) STRICT;

-- Phones that may open the pages in the home network. Only a hash of each
-- one's token is kept.
CREATE TABLE phone (
  id           INTEGER PRIMARY KEY AUTOINCREMENT,
  name         TEXT NOT NULL,
  token_sha256 TEXT NOT NULL UNIQUE,
  paired_at    TEXT NOT NULL,
  seen_at      TEXT NOT NULL
) STRICT;
